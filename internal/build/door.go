package build

import (
	"cmp"
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// hung is one door while it is worked out.
type hung struct {
	piece.Door
	cell     cell
	hardware shop.Hardware
	thick    Dim
	f        facing // of this leaf
	was      facing // the same as planned: the plates are bored before the opening is measured
	side     int    // the wall it is hung on
	overlay  unit.Length
	boring   unit.Length
	shelves  *piece.Shelves
}

// door closes an opening with one door or a pair.
func (b *builder) door(d piece.Door, s *piece.Shelves, c cell, m measured, out *Opening) {
	path := c.path + ".door"
	h, ok := b.hardware(d.Hinge, path+".hinge")
	if !ok {
		return
	}
	if h.Kind != "cup-hinge" {
		b.cannot(path+".hinge", "%q is a %s, not a cup hinge. Name a cup hinge of the shop.", d.Hinge, h.Kind)
		return
	}
	t, what := b.doorThickness(d)
	if t <= 0 {
		b.cannot(path+".thickness", "how thick the door is, is not known. Give it, such as %s.", b.show(19*unit.Millimetre))
		return
	}
	if t < thinnest {
		b.cannot(path+".thickness", "the door is %s thick. Give at least %s.", b.exact(t), b.show(thinnest))
		return
	}
	front := cmp.Or(d.Front, "overlaid")
	b.checkOpening(c, m, d.Gap, 0)
	k := b.kept[c.name]
	out.Kept = k.letters
	if k.front {
		m = planned(c)
	}
	whole := b.facing(c, m, front, d.Gap, d.Overlay, t)
	out.Inset = front == "inset"
	doors := unit.Length(1)
	if d.Hung == "pair" {
		doors = 2
	}
	if whole.w.Size < doors*leastDoor || whole.h.Size < leastDoor {
		b.cannot(path, "the opening takes %s × %s of door, too small to hang on cup hinges. Make it larger.", b.show(whole.w.Size), b.show(whole.h.Size))
		return
	}
	was := b.facing(c, planned(c), front, d.Gap, d.Overlay, t)
	leaves := []hung{{Door: d, cell: c, hardware: h, thick: From(what, t), f: whole, was: was, side: atLeft, shelves: s}}
	switch d.Hung {
	case "right":
		leaves[0].side = atRight
	case "pair":
		left, right := leaves[0], leaves[0]
		left.f, right.f = halves(whole, m.shape, d.Gap)
		left.was, right.was = halves(was, opening.Shape{}, d.Gap)
		switch {
		case k.front:
		case k.leaves[0]:
			left.f, right.f = besideCut(whole, m.shape, opening.Left, left.was, d.Gap)
		case k.leaves[1]:
			right.f, left.f = besideCut(whole, m.shape, opening.Right, right.was, d.Gap)
		}
		right.side = atRight
		leaves = []hung{left, right}
	}
	for i := range leaves {
		l := &leaves[i]
		l.overlay = -d.Gap
		if front == "overlaid" {
			l.overlay = c.x - whole.x
			if l.side == atRight {
				l.overlay = whole.x + whole.w.Size - c.x - c.w.Size
			}
		}
		b.bore(l)
		p := b.leaf(*l, front)
		if i == 0 {
			out.Front, out.Gap = p.Letter, d.Gap
		}
	}
}

// halves are the leaves of a pair that together take the place of one door.
// Where that was fitted to an opening as measured, each is fitted to its own
// part of it.
func halves(whole facing, shape opening.Shape, gap unit.Length) (left, right facing) {
	if whole.outline != nil {
		if leaves, ok := shape.Pair(gap); ok {
			return whole.leaf(leaves[0], shape, gap), whole.leaf(leaves[1], shape, gap)
		}
	}
	left = whole
	left.outline = nil
	left.w = whole.w.Less(1, "gap between the pair", gap).Over(2, "doors")
	right = left
	right.x = whole.x + whole.w.Size - left.w.Size
	left.corner[topRight], left.corner[bottomRight] = 0, 0
	right.corner[topLeft], right.corner[bottomLeft] = 0, 0
	return left, right
}

// leaf is one leaf of a pair that is fitted to its part of an opening, which
// lies in the plane of the shape.
func (whole facing) leaf(o geom.Outline, shape opening.Shape, gap unit.Length) facing {
	front, _ := shape.Front(gap)
	from, r := front.Bounds().Min, o.Bounds()
	return facing{
		x: whole.x + r.Min.X - from.X, y: whole.y, z: whole.z + r.Min.Y - from.Y,
		w:       From("fitted to its part of the opening as measured", r.Width()),
		h:       From("fitted to its part of the opening as measured", r.Height()),
		outline: moved(o, -r.Min.X, -r.Min.Y),
	}
}

// besideCut are the leaves of a pair of which one is cut: that stays as it was
// planned and hangs at its side of the opening as measured, the other takes
// what is left.
func besideCut(whole facing, shape opening.Shape, side int, cut facing, gap unit.Length) (stays, made facing) {
	o, at, ok := shape.Beside(gap, side, cut.w.Size, cut.h.Size)
	if whole.outline == nil || !ok { // a rectangle
		left, right := halves(whole, opening.Shape{}, gap)
		rest := whole.w.Less(1, "gap between the pair", gap).Less(1, "the leaf that is cut", cut.w.Size)
		if rest.Size < leastDoor { // beside what is of no use here, the other takes its half
			rest = left.w
		}
		if side == opening.Left {
			right.w, right.x = rest, whole.x+whole.w.Size-rest.Size
			return cut, right
		}
		left.w, cut.x = rest, whole.x+whole.w.Size-cut.w.Size
		return cut, left
	}
	front, _ := shape.Front(gap)
	cut.x = whole.x + at.X - front.Bounds().Min.X
	return cut, whole.leaf(o, shape, gap)
}

func (b *builder) doorThickness(d piece.Door) (unit.Length, string) {
	s := b.material("doors")
	switch {
	case s.thickness > 0 && !s.solid:
		return s.thickness, "panel"
	case d.Thickness > 0:
		return d.Thickness, "given"
	case s.thickness > 0:
		return s.thickness, "given"
	case b.piece.Frame != nil:
		return b.piece.Frame.Thickness, "as the frame"
	}
	return 0, ""
}

// thickestPlate is that of the plates sold for cup hinges (common practice, no
// source); what would want more wants another arm.
const thickestPlate = 10 * unit.Millimetre

// bore finds the boring distance that gives the wanted overlay, measured
// from the panel the plate sits on, and says so where none does.
func (b *builder) bore(l *hung) {
	h := l.hardware
	fixed, own := stated(h.Fixed, usualFixed), given(h.Boring, usualBoring)
	// The plate sits on a packer flush with the edge of the opening, or on
	// the panel where that is the edge.
	wanted := l.overlay
	l.boring = wanted - fixed + h.Plate
	place := l.cell.name
	reach := Overlay(fixed, own, h.Plate)
	low, high := min(boringLeast, own), max(boringMost, own)
	if l.boring >= low && l.boring <= high {
		if (l.boring - own).Abs() > boringNear {
			b.once(finding.Finding{
				ID: "hinge-boring", Level: finding.Note, Place: place,
				Says:   fmt.Sprintf("for an overlay of %s bore the cups %s from the edge of the door, not %s", b.show(wanted), b.show(l.boring), b.show(own)),
				Figure: b.show(l.boring), Limit: b.show(own), Source: "overlay = fixed + boring − plate, from the hinge's entry in the shop",
				Advice: "Set the fence of the drill to it and try one on an offcut.",
			})
		}
		return
	}
	plate := fixed + own - wanted
	advice, or := "Take a hinge made for that overlay", ""
	if reach > 0 {
		advice = "Give the door an overlay of " + b.show(reach)
		or = ", or give the door an overlay of " + b.show(reach)
	}
	if plate >= 0 {
		advice = fmt.Sprintf("Take a plate of %s (from %s to %s, with a boring of %s to %s)%s",
			b.show(plate), b.show(max(fixed+low-wanted, 0)), b.show(fixed+high-wanted), b.show(low), b.show(high), or)
	}
	if straight := wanted - own + h.Plate; plate < 0 && straight > 0 {
		advice = fmt.Sprintf("Take a hinge with a straighter arm, of a fixed distance of %s%s", b.show(straight), or)
	}
	if wanted < 0 && plate > thickestPlate {
		advice = fmt.Sprintf("Take a hinge with a crank for inset doors, whose fixed distance is about %s less, with the plate to suit", b.show(b.metric(15*unit.Millimetre, 5*unit.Inch/8)))
	}
	var fix *finding.Fix
	if wanted >= 0 && reach > 0 {
		fix = finding.SetSize(l.cell.path+".door.overlay", reach, b.piece.Units, fmt.Sprintf("Give the door an overlay of %s", b.show(reach)))
	}
	b.once(finding.Finding{
		ID: "hinge-overlay", Level: finding.Stop, Place: place,
		Says:   fmt.Sprintf("the hinge gives an overlay of %s; the door asks for %s, for which the cups would lie %s from its edge", b.show(reach), b.show(wanted), b.show(l.boring)),
		Figure: b.show(reach), Limit: b.show(wanted), Advice: advice + ".", Fix: fix,
		Source: "overlay = fixed + boring − plate, from the hinge's entry in the shop",
	})
	l.boring = min(max(l.boring, low), high)
}

// leaf adds one door with its cups, plates and pull.
func (b *builder) leaf(l hung, front string) *Part {
	s := b.material("doors")
	f := l.f
	// A band that stands on the core makes the door grow when bands are
	// worked out, so the core is made that much smaller here.
	band := unit.Length(0)
	if kind, ok := b.shop.Bands[l.Edges]; ok && !kind.Before {
		band = kind.Thickness
	}
	core := [4]unit.Length{f.corner[bottomRight], f.corner[topRight], f.corner[topLeft], f.corner[bottomLeft]}
	for i := range core {
		core[i] = max(0, core[i]-band)
	}
	name := l.cell.name
	if l.Hung == "pair" {
		name += " " + wallNames[l.side]
	}
	length, width := f.h.Less(2, "edge band", band), f.w.Less(2, "edge band", band)
	outline := rounded(length.Size, width.Size, core) // from the lower right corner up
	if f.outline != nil {
		// The same from the front: length upward, y from the right edge.
		if o, ok := f.outline.Rotate(-unit.Right).Translate(geom.P(0, f.w.Size)).Offset(-band); ok {
			outline = moved(o, -band, -band)
		}
	}
	p := b.add(Part{
		Name: "door", Role: RoleDoor, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: length, Width: width, Thickness: l.thick,
		Outline: outline,
		Places:  []Place{{facingUp(f.x+f.w.Size-band, f.y, f.z+band), name}},
	})
	p.edged(l.Edges, EdgeX0, EdgeX1, EdgeY0, EdgeY1)
	b.cups(l, p, front, band)
	b.doorMoves(l, p, s, front)
	// The pull stands at the free edge, upright, in the middle of the height.
	y := 40*unit.Millimetre - band
	if l.side == atRight {
		y = width.Size - 40*unit.Millimetre + band
	}
	b.pull(l.Pull, l.cell.path+".door.pull", p, length.Size/2, y, true, nil, 0, 0, "doors")
	return p
}

// cups bores a door for its hinges and the case for their plates.
func (b *builder) cups(l hung, p *Part, front string, band unit.Length) {
	h, f := l.hardware, l.f
	cup, deep := given(h.Cup, usualCup), given(h.CupDepth, usualCupDepth)
	if left := l.thick.Size - deep; left < cupSkin {
		var fix *finding.Fix
		if thick := b.rounded(deep + cupSkin); b.material("doors").solid {
			fix = finding.SetSize(l.cell.path+".door.thickness", thick, b.piece.Units, fmt.Sprintf("Make the door %s thick", b.show(thick)))
		}
		b.once(finding.Finding{
			ID: "cup-depth", Level: finding.Stop, Place: l.cell.name,
			Says:   fmt.Sprintf("the hinge cups are %s deep and leave %s of the door", b.show(deep), b.show(left)),
			Figure: b.show(left), Limit: b.show(cupSkin), Source: "common practice, no source",
			Advice: fmt.Sprintf("Make the door %s thick at least, or take a hinge with a shallow cup.", b.show(deep+cupSkin)), Fix: fix,
		})
	}
	heights := b.hingeHeights(l.Door, l.shelves, l.cell, l.was, l.thick.Size)
	n := len(heights)
	if span := heights[n-1] - heights[0]; span < f.w.Size {
		advice := "Set them as near to the ends as they go, or hang a pair."
		if l.Hung == "pair" {
			advice = "Set them as near to the ends as they go, or divide the opening."
		}
		b.once(finding.Finding{
			ID: "hinge-spread", Level: finding.Note, Place: l.cell.name,
			Says:   fmt.Sprintf("the hinges are %s apart on a door %s wide", b.show(span), b.show(f.w.Size)),
			Figure: b.show(span), Limit: b.show(f.w.Size), Source: "common practice, no source",
			Advice: advice,
		})
	}
	// The centre of a cup, from the edge the door is hung on; y of the door's
	// drawing counts from its right edge.
	in := l.boring + cup/2
	y := f.w.Size - in
	x0 := f.x + in
	if l.side == atRight {
		y = in
		x0 = f.x + f.w.Size - in
	}
	setback := given(h.Setback, usualSetback)
	plateY := b.sideEdge() + setback
	if front == "inset" {
		plateY = b.hingeLine(l) + setback
	}
	stands := b.stepIn(l.cell, l.side)
	wallX := l.cell.walls[l.side].at
	var at []geom.Vec
	missing := false
	for _, above := range heights { // the bottom of the opening
		z := above + l.cell.z - f.z // of the door
		p.feature(Feature{
			Kind: Hole, Face: FaceReference, Depth: deep, For: "hinge cup; its screw holes as its sheet shows",
			Region: disc(geom.P(z-band, y-band), cup),
		})
		at = append(at, geom.Vec{X: x0, Y: f.y, Z: f.z + z})
		for _, dz := range []unit.Length{-plateApart / 2, plateApart / 2} {
			if stands > flush || !l.cell.walls[l.side].panel {
				continue
			}
			q := geom.Vec{X: wallX, Y: plateY, Z: f.z + z + dz}
			if s, ok := b.spotAt(q, into[l.side]); ok {
				d, what := plateHole, "hinge plate"
				if pilot := b.hingePilot(h, s.part.Material); pilot > 0 {
					d, what = pilot, "pilot for the hinge plate"
				}
				s.bore(d, min(plateDepth, s.part.Thickness.Size-cupSkin), what)
			} else {
				missing = true
			}
		}
	}
	switch {
	case stands > flush:
		b.hingePackers(l, at, stands)
	case missing || !l.cell.walls[l.side].panel:
		b.once(finding.Finding{
			ID: "hinge-plate", Level: finding.Stop, Place: l.cell.name,
			Says:   fmt.Sprintf("at the %s of %s there is no flat panel for the hinge plates", wallNames[l.side], l.cell.name),
			Advice: "Hang the door on the other side, or put a panel there.", Source: "derived",
		})
	}
	b.fit(Fitting{Key: l.Hinge, Name: shop.Called(h.Name, l.Hinge), Count: n, At: at, For: "doors"})
	b.hingeScrews(l, n, max(stands, 0))
}

type size2 struct{ long, high unit.Length }

// packerSize is that of a packer under a hinge plate.
func (b *builder) packerSize() size2 {
	return size2{b.metric(80*unit.Millimetre, 3*unit.Inch), b.metric(70*unit.Millimetre, 11*unit.Inch/4)}
}

// hingeLine is where the setback of an inset door's plates counts from: as
// far behind the front of the side as the door is thick. Behind a frame the
// door already lies in the frame's thickness.
func (b *builder) hingeLine(l hung) unit.Length {
	return max(b.sideEdge(), l.thick.Size)
}

// hingePackers fill up from the panel to the edge of the frame's opening
// behind each hinge.
func (b *builder) hingePackers(l hung, at []geom.Vec, stands unit.Length) {
	m := b.packerStock(stands)
	size := b.packerSize()
	long, high := size.long, size.high
	for _, v := range at {
		z := max(min(v.Z-high/2, l.cell.z+l.cell.h.Size-high), l.cell.z)
		p := b.add(Part{
			Name: "hinge packer", Role: RolePacker, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
			Length: From("under the plate", long), Width: From("under the plate", min(high, l.cell.h.Size)),
			Thickness: From("edge of the opening in from the panel", stands),
			Places:    []Place{{beside(l.side, l.cell.walls[l.side].at, b.space.front, long, z), l.cell.name + " " + wallNames[l.side]}},
		})
		b.fixToSide(p, l.cell, l.side, stands)
	}
}

// doorMoves looks at a solid door that would swell beyond its gap.
func (b *builder) doorMoves(l hung, p *Part, s stock, front string) {
	move, how := b.moves(s, l.f.w.Size)
	// Between a pair, two leaves share three gaps.
	moves, n, gaps := move, unit.Length(2), "both gaps together are"
	who := p.named() + " of " + l.cell.name + ": " + b.show(l.f.w.Size) + " wide, it moves"
	if l.Hung == "pair" {
		moves, n, gaps = 2*move, 3, "their three gaps together are"
		who = p.named() + " of " + l.cell.name + ": a pair, each " + b.show(l.f.w.Size) + " wide; together they move"
	}
	room := n * l.Gap
	if front != "inset" || moves <= room || l.Hung == "pair" && l.side == atRight { // the left one says it for both
		return
	}
	b.once(finding.Finding{
		ID: "door-swells", Level: finding.Care, Place: l.cell.name,
		Says:   fmt.Sprintf("%s %s %s; %s %s", who, b.fine(moves), between(how), gaps, b.fine(room)),
		Figure: b.fine(moves), Limit: b.fine(room), Source: how.Equation.String() + "; " + how.Figure.String(),
		Advice: "Make it frame and panel or veneered, or leave wider gaps.",
		Fix:    b.widerGap(l.cell.path+".door.gap", moves/n),
	})
}
