package build

import (
	"cmp"
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// drawerBox is a drawer box as built.
type drawerBox struct {
	front, back *Part
	x           unit.Length // left outer face
	inset       unit.Length // of the ends' near end from the outer face of the side
	inW, inD    Dim         // clear inside
}

// Customs of drawer boxes; common practice, no source.
const (
	bottomPlay = unit.Inch32        // a panel bottom is smaller than its grooves by this, 1 mm in metric
	wideBottom = 24 * unit.Inch     // over this a bottom should be thicker than 1/4 in
	notchWide  = unit.Inch * 11 / 8 // rear notch of an under-mounted runner, from the side
	narrowPin  = unit.Inch / 8
	pinSlope   = 8 // 1:8 in hardwood
)

// box adds the parts of a drawer box and how they are joined.
func (b *builder) box(w drawing) drawerBox {
	boxes := b.material("boxes")
	W, D, H := w.width, w.depth, w.height
	x := w.cell.x + (w.cell.w.Size-W.Size)/2
	out := drawerBox{x: x}

	rebate := unit.Length(0) // how far an end is let into the side
	corner := cmp.Or(w.Corner, "rebate")
	endLength := W.Less(2, "side", w.side)
	switch corner {
	case "rebate":
		rebate = b.tidy(w.side / 2)
		endLength = endLength.Plus(2, "rebate", rebate)
	case "dovetail", "finger":
		endLength, rebate = W, w.side
	}
	out.inset = w.side - rebate
	out.inW = W.Less(2, "side", w.side)
	out.inD = D.Less(2, "end", w.side)

	groove := b.tidy(min(w.side/2, b.metric(6*unit.Millimetre, unit.Inch/4)))
	t := w.bottom.thickness
	b.noteNominal(w.bottom.key, t)

	name := w.cell.name
	side := Part{
		Name: "box side", Role: RoleBoxSide, Material: boxes.key, Solid: boxes.solid, Grain: boxes.grain(GrainLength),
		Length: D, Width: H, Thickness: From("box side", w.side),
	}
	end := side
	end.Role, end.Length = RoleBoxEnd, endLength
	comb := b.comb(corner, w, H.Size)
	side.Outline = comb.side(D.Size, H.Size)
	end.Outline = comb.end(endLength.Size, H.Size)

	left, right, front, back := side, side, end, end
	front.Name, back.Name = "box front", "box back"
	left.Places = []Place{{geom.Frame{Origin: geom.Vec{X: x, Y: w.y, Z: w.z}, U: geom.Back, V: geom.Up}, name + " left"}}
	right.Places = []Place{{geom.Frame{Origin: geom.Vec{X: x + W.Size, Y: w.y + D.Size, Z: w.z}, U: geom.Front, V: geom.Up}, name + " right"}}
	front.Places = []Place{{rearAcross(x+W.Size-out.inset, w.y, w.z), name}}

	// A bottom of solid wood moves: it slides in under the back and is held
	// there by one screw in a slot. A panel is let in all round.
	slides := w.bottom.solid
	backZ := w.z
	if slides {
		back.Width = H.Less(1, "under the bottom", w.up).Less(1, "bottom", t)
		back.Outline = nil
		backZ += w.up + t
	}
	back.Places = []Place{{facingAcross(x+out.inset, w.y+D.Size, backZ), name}}
	if w.hardware.Kind == "under-runner" && !slides {
		back.Note = "notch for the runner's hook: check size and place on its sheet"
		if comb.kind == "" {
			back.Outline = notched(endLength.Size, H.Size, w.side-out.inset+notchWide, w.up)
		}
	}

	var made [4]*Part
	for i, p := range []Part{left, right, front, back} {
		made[i] = b.add(p)
	}
	out.front, out.back = made[2], made[3]
	for i, p := range made {
		if i < 2 {
			b.boxCorners(p, corner, rebate, w.side, comb)
		}
		if i == 3 && slides {
			continue
		}
		p.feature(Feature{
			Kind: Groove, Face: FaceOther, Depth: groove, For: "bottom",
			Region: box(geom.P(0, w.up), geom.P(p.Length.Size, w.up+t)),
		})
	}
	if w.hardware.Kind == "under-runner" && !slides {
		wide := min(w.side-out.inset+notchWide, endLength.Size/2)
		for _, at := range []unit.Length{0, endLength.Size - wide} {
			out.back.feature(Feature{
				Kind: Notch, Face: FaceReference, Depth: w.side, Through: true, For: "hook of the runner",
				Region: box(geom.P(at, 0), geom.P(at+wide, w.up)),
			})
		}
	}
	for _, s := range made[:2] {
		for _, e := range made[2:] {
			b.joint(Joint{Kind: comb.word, A: e.Letter, B: s.Letter, Depth: rebate, With: comb.with})
		}
	}
	b.boxBottom(w, out, groove, slides, made)
	return out
}

// boxBottom adds the bottom in its grooves.
func (b *builder) boxBottom(w drawing, out drawerBox, groove unit.Length, slides bool, made [4]*Part) {
	m := w.bottom
	play := min(b.metric(unit.Millimetre, bottomPlay), groove)
	length := out.inW.Plus(2, "in the groove", groove).Less(1, "play", play)
	width := out.inD.Plus(2, "in the groove", groove).Less(1, "play", play)
	gapInFront := play / 2
	if slides {
		gapInFront = 0
		width = out.inD.Plus(1, "in the groove", groove).Plus(1, "under the back", w.side)
	}
	p := b.add(Part{
		Name: "box bottom", Role: RoleBoxBottom, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: length, Width: width, Thickness: From("bottom", m.thickness),
		Places: []Place{{upward(w.cell.x+(w.cell.w.Size-length.Size)/2, w.y+w.side-groove+gapInFront, w.z+w.up), w.cell.name}},
	})
	for i, e := range made {
		if i == 3 && slides {
			continue
		}
		b.joint(Joint{Kind: "groove", A: p.Letter, B: e.Letter, Depth: groove, Note: "no glue: it lies loose"})
	}
	if slides {
		b.slotted(p, w, made[3])
	}
	thick := b.metric(9*unit.Millimetre, 3*unit.Inch/8)
	if length.Size > wideBottom && m.thickness < min(thick, 9*unit.Millimetre) {
		b.once(finding.Finding{
			ID: "thin-bottom", Level: finding.Note, Place: w.cell.name,
			Says:   fmt.Sprintf("a drawer bottom %s thick spans %s and will sag", b.show(m.thickness), b.show(length.Size)),
			Figure: b.show(m.thickness), Limit: b.show(thick), Source: "common practice, no source",
			Advice: fmt.Sprintf("Take %s or more, or a muntin in the middle.", b.show(thick)),
		})
	}
}

// slotted holds a solid bottom to the back by a screw in a slot as long as
// the wood moves.
func (b *builder) slotted(p *Part, w drawing, back *Part) {
	move, _ := b.moves(w.bottom, p.Width.Size)
	d := b.metric(4*unit.Millimetre, unit.Inch*11/64)
	p.feature(Feature{
		Kind: Hole, Face: FaceReference, Depth: w.bottom.thickness, Through: true, For: "slotted screw into the back",
		Region: slot(p.Length.Size/2, p.Width.Size-w.side/2, d, d+move+unit.Inch/8),
	})
	b.screws(screwing{
		where: "drawer bottoms to backs", count: 1, fastened: From("bottom", w.bottom.thickness),
		holding: back.Width.Size, into: EdgeWood, material: back.Material, hidden: true, most: 25 * unit.Millimetre, gauge: 6,
	})
}

// boxCorners works what joins the ends into a side.
func (b *builder) boxCorners(p *Part, corner string, rebate, t unit.Length, c comb) {
	l, h := p.Length.Size, p.Width.Size
	switch corner {
	case "rebate":
		for _, at := range []unit.Length{0, l - t} {
			p.feature(Feature{Kind: Rebate, Face: FaceOther, Depth: rebate, For: "box end", Region: box(geom.P(at, 0), geom.P(at+t, h))})
		}
	case "dovetail", "finger":
		for _, s := range c.sockets {
			for _, at := range []unit.Length{0, l - t} {
				p.feature(Feature{
					Kind: Notch, Face: FaceReference, Depth: p.Thickness.Size, Through: true, For: c.word,
					Region: box(geom.P(at, max(s[0]-c.flare, 0)), geom.P(at+t, min(s[1]+c.flare, h))),
				})
			}
		}
	}
}

// comb is how the corners of a box interlock: sockets are what is cut out of
// the ends of a side, from the lower edge; flare is by how much a socket is
// wider, each way, at its bottom.
type comb struct {
	kind, word, with string
	deep, flare      unit.Length
	sockets          [][2]unit.Length
	fingers          [][2]unit.Length // cut out of an end
}

// comb lays out dovetails or fingers over the height of a box.
func (b *builder) comb(corner string, w drawing, h unit.Length) comb {
	t := w.side
	switch corner {
	case "finger":
		n := int(h / t)
		if n%2 == 0 {
			n--
		}
		n = max(n, 3)
		c := comb{kind: corner, word: "finger joint", deep: t}
		for i := range n {
			span := [2]unit.Length{h * unit.Length(i) / unit.Length(n), h * unit.Length(i+1) / unit.Length(n)}
			if i%2 == 1 {
				c.sockets = append(c.sockets, span)
			} else {
				c.fingers = append(c.fingers, span)
			}
		}
		c.with = fmt.Sprintf("%d fingers of %s", n, b.show(h/unit.Length(n)))
		return c
	case "dovetail":
		c := comb{kind: corner, word: "dovetail", deep: t, flare: t / pinSlope}
		pin := max(narrowPin, t/3)
		n := max(int((h+t)/(3*t)), 2) // tails
		tail := (h - unit.Length(n)*pin) / unit.Length(n)
		c.sockets = append(c.sockets, [2]unit.Length{0, pin / 2})
		for i := 1; i < n; i++ {
			at := pin/2 + unit.Length(i)*tail + unit.Length(i-1)*pin
			c.sockets = append(c.sockets, [2]unit.Length{at, at + pin})
		}
		c.sockets = append(c.sockets, [2]unit.Length{h - pin/2, h})
		c.with = fmt.Sprintf("%d tails, pins %s at the narrow side, slope 1:%d; mark the pins from the tails", n, b.show(pin), pinSlope)
		return c
	case "butt":
		return comb{word: "butt", with: "glue and screws"}
	}
	return comb{word: "rebate", with: "glue"}
}

// side is the outline of a side: sockets cut into both ends.
func (c comb) side(l, h unit.Length) geom.Outline { return combed(l, h, c.deep, c.flare, c.sockets) }

// end is the outline of an end. Pins taper through the thickness, so only
// fingers show in it.
func (c comb) end(l, h unit.Length) geom.Outline { return combed(l, h, c.deep, 0, c.fingers) }

// combed is a rectangle with the spans cut out of both its ends.
func combed(l, h, deep, flare unit.Length, spans [][2]unit.Length) geom.Outline {
	if len(spans) == 0 {
		return nil // the plain rectangle
	}
	var up []geom.Point // the near end, from y = 0 upward
	add := func(x, y unit.Length) {
		p := geom.P(x, y)
		if len(up) == 0 || up[len(up)-1] != p {
			up = append(up, p)
		}
	}
	if spans[0][0] > 0 {
		add(0, 0)
	}
	for _, s := range spans {
		if s[0] <= 0 {
			add(deep, 0)
		} else {
			add(0, s[0])
			add(deep, max(s[0]-flare, 0))
		}
		if s[1] >= h {
			add(deep, h)
		} else {
			add(deep, min(s[1]+flare, h))
			add(0, s[1])
		}
	}
	if spans[len(spans)-1][1] < h {
		add(0, h)
	}
	var out geom.Outline
	for _, p := range up {
		out = append(out, geom.Vertex{Point: geom.P(l-p.X, p.Y)})
	}
	for i := len(up) - 1; i >= 0; i-- {
		out = append(out, geom.Vertex{Point: up[i]})
	}
	return out
}

// notched is a rectangle without its two lower corners.
func notched(l, h, wide, high unit.Length) geom.Outline {
	if 2*wide >= l || high >= h || high <= 0 {
		return nil
	}
	pts := []geom.Point{
		geom.P(wide, 0), geom.P(l-wide, 0), geom.P(l-wide, high), geom.P(l, high),
		geom.P(l, h), geom.P(0, h), geom.P(0, high), geom.P(wide, high),
	}
	out := make(geom.Outline, len(pts))
	for i, p := range pts {
		out[i].Point = p
	}
	return out
}
