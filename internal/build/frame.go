package build

import (
	"cmp"
	"fmt"
	"math"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// LeastStrip is the least width of a face frame, with a square inner corner,
// that still covers a panel of thickness t bent to the outside radius r:
// [r(√2 − 1) + t] / √2. On the diagonal of the corner the panel's inner face
// lies r(√2 − 1) + t from the sharp outer corner, the frame's at w√2. Derived.
func LeastStrip(r, t unit.Length) unit.Length {
	return unit.MM((r.MM()*(math.Sqrt2-1) + t.MM()) / math.Sqrt2)
}

// end is one end of a stile, with the corner of the frame there.
type end struct {
	rail  unit.Length // width of the rail that meets it
	outer unit.Length // radius of the frame's outer corner
	inner unit.Length // radius of its inner corner
}

// joint is how far from the outer edge the rail begins.
func (e end) joint(stile unit.Length) unit.Length { return stile + e.inner }

// seat is how much of the rail's width meets the stile: less than all of it
// where the round of the outer corner runs on into the rail.
func (e end) seat(stile unit.Length) unit.Length {
	return e.rail - e.outer + e.lift(stile)
}

// lift is how far the outer round has risen, of its radius, at the joint.
func (e end) lift(stile unit.Length) unit.Length {
	d := (e.outer - e.joint(stile)).MM()
	if d <= 0 {
		return e.outer
	}
	r := e.outer.MM()
	return unit.MM(math.Sqrt(max(r*r-d*d, 0)))
}

// left is what the outer round leaves of the frame at a square inner corner,
// measured from the corner to the round.
func (e end) left(stile unit.Length) unit.Length {
	if e.inner > 0 || stile >= e.outer || e.rail >= e.outer {
		return min(stile, e.rail)
	}
	return e.outer - unit.MM(math.Hypot((e.outer-stile).MM(), (e.outer-e.rail).MM()))
}

// frame makes the outer stiles and the top and bottom rail. Stiles run
// through. Where the inner corner follows a bent corner, the stile sweeps
// round it: it is shaped from a wider board, and the rail meets it square
// where the curve ends, end grain to long grain as at a straight corner.
func (b *builder) frame() {
	f := b.piece.Frame
	if f == nil || b.failed() {
		return
	}
	h, s := b.hull, b.material("frame")
	stile, top := f.Stile, given(f.TopRail, f.Stile)
	bottom := given(f.BottomRail, f.Stile)
	if !b.frameFits(stile, top, bottom) {
		return
	}
	down := unit.Length(0)
	if f.ToFloorBase && b.piece.Base != nil {
		down = h.under
		h.corner[bottomLeft], h.corner[bottomRight] = 0, 0
	}
	corner := func(i int, rail unit.Length) end {
		e := end{rail: rail, outer: h.corner[i]}
		if f.Inner == "follow" {
			e.inner = max(0, e.outer-max(stile, rail))
		}
		return e
	}
	ends := [4]end{corner(topLeft, top), corner(topRight, top), corner(bottomRight, bottom), corner(bottomLeft, bottom)}
	if !b.frameCovers(ends, stile) {
		return
	}
	height := From("outside height", h.height).Plus(1, "down over the base", down)
	if b.slabThick > 0 {
		height = From("outside height", h.height+b.slabThick).Less(1, "top", b.slabThick).Plus(1, "down over the base", down)
	}
	z0 := h.under - down
	stileAt := func(name string, lower, upper end, mirror bool, right unit.Length) *Part {
		blank := stile + max(lower.inner, upper.inner)
		width := From("stile", stile)
		note := ""
		if blank > stile {
			width = width.Plus(1, "inner radius it sweeps round", blank-stile)
			note = fmt.Sprintf("Shaped from a board %s wide; %s wide between the corners.", b.show(blank), b.show(stile))
		}
		o := stileOutline(stile, blank, height.Size, lower, upper, down)
		if mirror {
			o = turned{y: true}.outline(o, height.Size, blank)
		} else {
			right = blank
		}
		return b.add(Part{
			Name: "outer stile", Role: RoleStile, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
			Length: height, Width: width, Thickness: From("frame", f.Thickness), Outline: o, Note: note,
			Oversize: Oversize{Length: 2 * f.Oversize, Width: f.Oversize, Why: b.proud(f.Oversize)},
			Places:   []Place{{Frame: facingUp(right, h.front, z0), Name: name}},
		})
	}
	left := stileAt("left", ends[bottomLeft], ends[topLeft], false, 0)
	right := stileAt("right", ends[bottomRight], ends[topRight], true, h.width)
	b.rail("top rail", left, right, ends[topLeft], ends[topRight], stile, h.over()-top, z0, true)
	b.rail("bottom rail", left, right, ends[bottomLeft], ends[bottomRight], stile, h.under, z0, false)

	b.space.opening = rect{
		x: stile, z: h.under + bottom,
		w: From("outside width", h.width).Less(2, "stile", stile),
		h: height.Less(1, "down over the base", down).Less(1, "top rail", top).Less(1, "bottom rail", bottom),
	}
	for i, e := range ends {
		b.space.opening.corner[i] = e.inner
	}
}

func (b *builder) proud(o unit.Length) string {
	if o == 0 {
		return ""
	}
	return fmt.Sprintf("left %s proud all round, trimmed flush after glue-up", b.show(o))
}

// frameFits checks the frame against the case.
func (b *builder) frameFits(stile, top, bottom unit.Length) bool {
	h, f := b.hull, b.piece.Frame
	ok := true
	for _, x := range []struct {
		path string
		l    unit.Length
	}{{"frame.stile", stile}, {"frame.top-rail", top}, {"frame.bottom-rail", bottom}, {"frame.thickness", f.Thickness}} {
		if x.l <= 0 || x.l > most {
			b.problem(x.path, "%s is %s. Give a size over 0.", x.path, b.show(x.l))
			ok = false
		}
	}
	if ok && 2*stile >= h.width {
		b.problem("frame.stile", "frame.stile is %s: two of them take %s of the outside width of %s, and nothing is left to open. Make the stiles narrower.", b.show(stile), b.show(2*stile), b.show(h.width))
		ok = false
	}
	if ok && top+bottom >= h.height {
		b.problem("frame.top-rail", "the top rail of %s and the bottom rail of %s take all of the height of %s. Make the rails narrower.", b.show(top), b.show(bottom), b.show(h.height))
		ok = false
	}
	if ok && f.Oversize < 0 {
		b.problem("frame.oversize", "frame.oversize is %s. Give 0 or more.", b.show(f.Oversize))
		ok = false
	}
	if b.material("frame").key == "" {
		b.problem("materials.frame", "the piece has a frame, but no material for it. Name a wood under materials.frame.")
		ok = false
	}
	return ok
}

// frameCovers checks each rounded corner: that the frame holds together there,
// and that it covers the panel behind.
func (b *builder) frameCovers(ends [4]end, stile unit.Length) bool {
	t, follow := b.hull.thick, b.piece.Frame.Inner == "follow"
	ok, said := true, false
	for i, e := range ends {
		if e.outer == 0 {
			continue
		}
		if left := e.left(stile); left < behind {
			b.problem("frame.stile", "at the %s corner the outer radius of %s leaves %s of a frame of %s and %s. Make the frame wider, or set inner-corner: follow.",
				words(cornerKeys[i]), b.show(e.outer), b.show(max(left, 0)), b.show(stile), b.show(e.rail))
			ok = false
			continue
		}
		least, strip := LeastStrip(e.outer, t), min(stile, e.rail)
		advice := fmt.Sprintf("Make it %s wide, or let the inner corner follow the curve (inner-corner: follow).", b.show(least.RoundUp(tenth)))
		if follow {
			least, advice = t, fmt.Sprintf("Make it %s wide.", b.show(t))
		}
		if strip < least && !said {
			said = true
			b.note(finding.Finding{
				ID: "frame-covers", Level: finding.Care, Place: "frame",
				Says:   fmt.Sprintf("A frame %s wide does not cover the bent corner: outer radius %s, panel %s.", b.show(strip), b.show(e.outer), b.show(t)),
				Figure: b.show(strip), Limit: b.show(least), Advice: advice, Source: "derived: [R(√2 − 1) + T] / √2",
			})
		}
	}
	if t := b.hull.thick; stile < t && !said {
		b.note(finding.Finding{
			ID: "frame-covers", Level: finding.Care, Place: "frame.stile",
			Says:   fmt.Sprintf("The stile is %s wide, the panel behind it %s thick.", b.show(stile), b.show(t)),
			Figure: b.show(stile), Limit: b.show(t), Advice: fmt.Sprintf("Make it %s wide at least.", b.show(t)), Source: "derived",
			Fix: finding.SetSize("frame.stile", b.rounded(t), b.piece.Units, fmt.Sprintf("Make the stile %s wide", b.show(b.rounded(t)))),
		})
	}
	return ok
}

// stileOutline is the left stile, drawn with x upward and y from the right
// edge of its board: blank wide, stile wide between the corners. down is what
// it runs below the frame's lower edge.
func stileOutline(stile, blank, length unit.Length, lower, upper end, down unit.Length) geom.Outline {
	at := func(x, z unit.Length, bulge float64) geom.Vertex {
		return geom.Vertex{Point: geom.P(z, blank-x), Bulge: bulge}
	}
	var o geom.Outline
	// From the lower left corner anticlockwise, as seen from the front.
	r, j := lower.outer, lower.joint(stile)
	if r > 0 {
		o = append(o, at(0, r, roundBulge(r, 0, min(j, r))))
		o = append(o, at(min(j, r), r-lower.lift(stile), 0))
	} else {
		o = append(o, at(0, 0, 0))
	}
	if j > r {
		o = append(o, at(j, 0, 0))
	}
	if lower.inner > 0 {
		o = append(o, at(j, down+lower.rail, -geom.QuarterBulge), at(stile, down+lower.rail+lower.inner, 0))
	}
	r, j = upper.outer, upper.joint(stile)
	if upper.inner > 0 {
		o = append(o, at(stile, length-upper.rail-upper.inner, -geom.QuarterBulge), at(j, length-upper.rail, 0))
	}
	if j > r {
		o = append(o, at(j, length, 0))
	}
	if r > 0 {
		o = append(o, at(min(j, r), length-r+upper.lift(stile), roundBulge(r, 0, min(j, r))))
		o = append(o, at(0, length-r, 0))
	} else {
		o = append(o, at(0, length, 0))
	}
	return tidyOutline(o)
}

// roundBulge is the bulge of the part of a rounded corner of radius r between
// the distances a and b from the edge it starts at.
func roundBulge(r, a, b unit.Length) float64 {
	angle := func(x unit.Length) float64 { return math.Acos(min(max(1-x.MM()/r.MM(), -1), 1)) }
	return math.Tan((angle(b) - angle(a)) / 4)
}

// tidyOutline drops vertices that stand on the one before.
func tidyOutline(o geom.Outline) geom.Outline {
	var out geom.Outline
	for _, v := range o {
		if n := len(out); n > 0 && out[n-1].Point == v.Point {
			out[n-1] = v
			continue
		}
		out = append(out, v)
	}
	if n := len(out); n > 1 && out[0].Point == out[n-1].Point {
		out = out[:n-1]
	}
	return out
}

// rail makes the top or bottom rail and joins it to the stiles.
func (b *builder) rail(name string, left, right *Part, l, r end, stile, z, z0 unit.Length, top bool) {
	h, f, s := b.hull, b.piece.Frame, b.material("frame")
	length := From("outside width", h.width).Less(2, "stile", stile)
	if l.inner == r.inner {
		length = length.Less(2, "inner radius", l.inner)
	} else {
		length = length.Less(1, "inner radius", l.inner).Less(1, "inner radius", r.inner)
	}
	if length.Size <= 0 {
		b.problem("frame", "no length is left for the %s: stiles and inner corners take %s of %s. Make the frame wider or the radius smaller.", name, b.show(h.width-length.Size), b.show(h.width))
		return
	}
	o := railOutline(length.Size, l, r, stile)
	if !top {
		o = turned{y: true}.outline(o, length.Size, l.rail)
	}
	tenon := unit.Length(0)
	joint := cmp.Or(f.Joint, "loose-tenon")
	if joint == "mortise-tenon" {
		tenon = b.tidy(max(min(f.Thickness*4/3, stile-behind-glueRoom), 0))
	}
	p := Part{
		Name: name, Role: RoleRail, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: length, Width: From("rail", l.rail), Thickness: From("frame", f.Thickness), Outline: o,
		Oversize: Oversize{Width: f.Oversize, Why: b.proud(f.Oversize)},
		Places:   []Place{{Frame: facingAcross(l.joint(stile), h.front, z)}},
	}
	seats := [2]unit.Length{l.seat(stile), r.seat(stile)}
	if tenon > 0 {
		p = b.tenoned(p, tenon, seats, top)
	}
	rail := b.add(p)
	for i, st := range []*Part{left, right} {
		from := unit.Length(0) // of the joint, up the rail's end
		if !top {
			from = l.rail - seats[i]
		}
		end, inner := EdgeX0, EdgeY0
		if i == 1 {
			end, inner = EdgeX1, EdgeY1
		}
		if tenon > 0 {
			t, wide := b.tenonSize(f.Thickness, seats[i])
			c := geom.P(z-z0+from+seats[i]/2, f.Thickness/2)
			st.feature(Feature{Kind: Mortise, On: inner, Region: slot(c.X, c.Y, wide, t), Depth: tenon + glueRoom, For: name})
			b.joint(Joint{Kind: "mortise and tenon", A: rail.Letter, B: st.Letter, Depth: tenon, With: fmt.Sprintf("tenon %s × %s × %s", b.show(t), b.show(wide), b.show(tenon))})
			continue
		}
		b.hold(joint, butted{part: rail, edge: end, from: geom.P(from, 0), reach: length.Size/2 - behind},
			butted{part: st, edge: inner, from: geom.P(z-z0+from, 0), reach: stile - behind}, seats[i], f.Thickness, name+" to stile")
	}
}

// railOutline is the top rail, its lower edge at y = 0.
func railOutline(length unit.Length, l, r end, stile unit.Length) geom.Outline {
	w := l.rail
	o := geom.Outline{{Point: geom.P(0, 0)}, {Point: geom.P(length, 0)}}
	round := func(e end) (unit.Length, float64) { // how far the outer round runs into the rail
		j := e.joint(stile)
		if e.outer <= j {
			return 0, 0
		}
		return e.outer - j, roundBulge(e.outer, j, e.outer)
	}
	if in, bulge := round(r); in > 0 {
		o = append(o, geom.Vertex{Point: geom.P(length, r.seat(stile)), Bulge: bulge}, geom.Vertex{Point: geom.P(length-in, w)})
	} else {
		o = append(o, geom.Vertex{Point: geom.P(length, w)})
	}
	if in, bulge := round(l); in > 0 {
		o = append(o, geom.Vertex{Point: geom.P(in, w), Bulge: bulge}, geom.Vertex{Point: geom.P(0, l.seat(stile))})
	} else {
		o = append(o, geom.Vertex{Point: geom.P(0, w)})
	}
	return o
}

// tenonSize is a tenon's thickness and width: of the stock a third, by the
// nearest cutter, and of what meets the stile two thirds.
func (b *builder) tenonSize(stock, seat unit.Length) (thick, wide unit.Length) {
	thick = stock / 3
	best := unit.Length(0)
	for _, cutter := range b.sizesSold() {
		if cutter <= stock/2 && (best == 0 || (cutter-thick).Abs() < (best-thick).Abs()) {
			best = cutter
		}
	}
	return given(best, thick), given(b.tidy(2*seat/3), 2*seat/3)
}

// tenoned puts a tenon on both ends of a rail, in the middle of what meets
// the stile.
func (b *builder) tenoned(p Part, tenon unit.Length, seats [2]unit.Length, top bool) Part {
	w, l := p.Width.Size, p.Length.Size
	var t unit.Length
	span := func(seat unit.Length) (unit.Length, unit.Length) {
		from := unit.Length(0)
		if !top {
			from = w - seat
		}
		var wide unit.Length
		t, wide = b.tenonSize(p.Thickness.Size, seat)
		return from + (seat-wide)/2, from + (seat-wide)/2 + wide
	}
	l0, l1 := span(seats[0])
	r0, r1 := span(seats[1])
	var o geom.Outline
	for i, v := range p.Outline {
		next := p.Outline[(i+1)%len(p.Outline)]
		o = append(o, v)
		if v.X == l && next.X == l && v.Y < next.Y {
			o = append(o, vertex(l, r0), vertex(l+tenon, r0), vertex(l+tenon, r1), vertex(l, r1))
		}
		if v.X == 0 && next.X == 0 && v.Y > next.Y {
			o = append(o, vertex(0, l1), vertex(-tenon, l1), vertex(-tenon, l0), vertex(0, l0))
		}
	}
	p.Outline = moved(o, tenon, 0)
	p.Length = p.Length.Plus(2, "tenon", tenon)
	y := (p.Thickness.Size - t) / 2
	p.Features = append(p.Features,
		Feature{Kind: Tenon, On: EdgeX0, Region: box(geom.P(l0, y), geom.P(l1, y+t)), Depth: tenon, For: "stile"},
		Feature{Kind: Tenon, On: EdgeX1, Region: box(geom.P(r0, y), geom.P(r1, y+t)), Depth: tenon, For: "stile"})
	f := &p.Places[0].Frame
	f.Origin = f.At(-tenon, 0, 0)
	return p
}

func vertex(x, y unit.Length) geom.Vertex { return geom.Vertex{Point: geom.P(x, y)} }
