package build

import (
	"fmt"
	"math"
	"slices"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// shellParts makes a part of every length between two seams, with its kerf
// groups and the shape it takes, and joins them.
func (b *builder) shellParts(s *shell) {
	for i, c := range s.cuts() {
		p := b.shellPart(s, c)
		if len(s.cuts()) > 1 {
			p.Places[0].Name = fmt.Sprintf("part %d", i+1)
		}
		s.parts = append(s.parts, p)
	}
	for i := range s.seams {
		b.join(s, i)
	}
}

// shellPart is one part, from the flat panel's point of view.
func (b *builder) shellPart(s *shell, c cut) *Part {
	h := b.hull
	p := Part{
		Name: "shell", Role: RoleShell, Material: s.stock.key,
		Width: From("case depth", h.depth), Thickness: From("panel as measured", s.stock.thickness),
		Grain: s.stock.grain(GrainLength), Bent: &Bent{Left: true},
	}
	if b.piece.Case.Grain == "along" {
		p.Grain = s.stock.grain(GrainWidth)
	}
	at := spotOn{} // in the part's own profile: from 0,0 to the right
	var start *spotOn
	for _, r := range append(slices.Clone(s.runs), s.again()...) {
		from, to := max(r.at, c.from), min(r.at+r.length, c.to)
		if r.bends() {
			if r.at < c.from || r.at+r.length > c.to || r.length == 0 {
				continue
			}
		} else if from >= to {
			continue
		}
		if start == nil {
			spot := r.from
			if !r.bends() {
				spot = r.from.ahead((from - r.at).MM())
			}
			start = &spot
		}
		v := geom.Vertex{Point: at.point()}
		if r.bends() {
			v.Bulge = math.Tan(r.angle / 4)
			p.Kerfs = append(p.Kerfs, b.kerfGroup(r, r.at-c.from))
			p.Length = p.Length.Plus(1, r.called()+", along the neutral line", r.length)
			at = at.round(r.angle, r.radius.MM())
		} else {
			what := r.called()
			if to-from < r.length {
				what += " to the seam"
			}
			p.Length = p.Length.Plus(1, what, to-from)
			at = at.ahead((to - from).MM())
		}
		p.Bent.Profile = append(p.Bent.Profile, v)
	}
	p.Bent.Profile = append(p.Bent.Profile, geom.Vertex{Point: at.point()})
	if start == nil {
		start = &spotOn{}
	}
	p.Places = []Place{{Frame: frontFrame(*start, h.rear())}}
	part := b.add(p)
	part.edged(b.frontEdge(), EdgeY1)
	for i := range part.Kerfs {
		b.m.Bends[part.Kerfs[i].Bend].Part = part.Letter
	}
	return part
}

// frontEdge is the key of the band on the case's front edges: none behind a
// frame.
func (b *builder) frontEdge() string {
	if b.piece.Frame != nil {
		return ""
	}
	return b.piece.Case.Edges
}

// frontFrame stands in the plane of the front at depth y: u along the spot's
// heading, v to its left, the normal towards the front.
func frontFrame(s spotOn, y unit.Length) geom.Frame {
	sin, cos := math.Sincos(s.heading)
	sin, cos = whole(sin), whole(cos)
	return geom.Frame{
		Origin: geom.Vec{X: unit.MM(s.x), Y: y, Z: unit.MM(s.z)},
		U:      geom.Dir{X: cos, Z: sin}, V: geom.Dir{X: 0 - sin, Z: cos},
	}
}

// whole puts right what the sine of a quarter turn misses by.
func whole(v float64) float64 {
	if r := math.Round(v); math.Abs(v-r) < 1e-12 {
		return r + 0 // no negative zero
	}
	return v
}

// join works the joint of a seam into the two parts it joins, and adds the
// strip or spline.
func (b *builder) join(s *shell, i int) {
	m := s.seams[i]
	var before, after *Part
	for k, c := range s.cuts() {
		if c.last == i {
			before = s.parts[k]
		}
		if c.first == i {
			after = s.parts[k]
		}
	}
	if before == nil || after == nil {
		return
	}
	t, depth := s.stock.thickness, b.hull.depth
	r := s.runs[m.run]
	mid := r.from.ahead((m.at - r.at).MM())
	switch m.joint {
	case "strip":
		b.strip(s, m, mid, before, after)
	case "scarf":
		lap := m.lap(t)
		angle := unit.Angle(math.Atan2(1, float64(m.slope)))
		l := before.Length.Size
		before.feature(Feature{Kind: Chamfer, Face: FaceReference, Region: box(geom.P(l-lap, 0), geom.P(l, depth)), Depth: t, Angle: angle, For: "scarf"})
		after.feature(Feature{Kind: Chamfer, Face: FaceOther, Region: box(geom.P(0, 0), geom.P(lap, depth)), Depth: t, Angle: angle, For: "scarf"})
		b.joint(Joint{Kind: "scarf", A: before.Letter, B: after.Letter, Depth: lap, Note: fmt.Sprintf("1 in %d, %s long", m.slope, b.show(lap))})
	default:
		if m.held == "spline" {
			b.spline(s, mid, t/2, butted{part: before, edge: EdgeX1}, butted{part: after, edge: EdgeX0})
			return
		}
		b.hold(m.held, butted{part: before, edge: EdgeX1}, butted{part: after, edge: EdgeX0}, depth, t, "seam")
	}
}

// strip lets a strip into the shell at mid; its width was taken from the
// length of the parts.
func (b *builder) strip(s *shell, m seam, mid spotOn, before, after *Part) {
	t, depth := s.stock.thickness, b.hull.depth
	st := b.material("strip")
	if !st.solid && st.key != "" && (st.thickness-t).Abs() > tenth {
		b.problem("materials.strip", "materials.strip is %q, %s thick, but the shell is %s. Name a wood, or a panel as thick as the shell.", st.key, b.show(st.thickness), b.show(t))
		return
	}
	if st.key == "" {
		st = s.stock
	}
	from := mid.ahead(-m.strip.MM() / 2)
	p := b.add(Part{
		Name: "let-in strip", Role: RoleStrip, Material: st.key, Solid: st.solid, Grain: st.grain(GrainLength),
		Length: From("case depth", depth), Width: From("width given", m.strip), Thickness: From("as the shell", t),
		Places: []Place{{Frame: b.lyingOn(from, t)}},
	})
	s.strips = append(s.strips, p)
	for i, ends := range [2][2]butted{
		{{part: before, edge: EdgeX1}, {part: p, edge: EdgeY0}}, {{part: p, edge: EdgeY1}, {part: after, edge: EdgeX0}},
	} {
		if m.held == "spline" {
			b.spline(s, from.ahead(float64(i)*m.strip.MM()), min(t/2, m.strip/4), ends[0], ends[1])
			continue
		}
		ends[i^1].reach = m.strip/2 - glueRoom // the other joint comes from the far side
		b.hold(m.held, ends[0], ends[1], depth, t, "let-in strip")
	}
}

// lyingOn is a frame on the inner face of a flat at a spot of its path, in
// from the path by t: x from front to back, y along the run, thickness
// outward.
func (b *builder) lyingOn(at spotOn, in unit.Length) geom.Frame {
	sin, cos := math.Sincos(at.heading)
	return geom.Frame{
		Origin: geom.Vec{X: unit.MM(at.x - in.MM()*sin), Y: b.hull.front, Z: unit.MM(at.z + in.MM()*cos)},
		U:      geom.Back, V: geom.Dir{X: whole(cos), Z: whole(sin)},
	}
}

// spline joins two edges by a loose tongue in grooves, in deep in each: a
// third of the panel thick, let in by half its thickness where there is room.
func (b *builder) spline(s *shell, mid spotOn, in unit.Length, before, after butted) {
	t := s.stock.thickness
	st := b.splineStock(t)
	long := b.splineLength((t - given(st.thickness, t/3)) / 2)
	depth := long.Size
	if st.key == "" {
		b.fit(Fitting{Name: fmt.Sprintf("spline %s thick, %s wide", b.show(t/3), b.show(2*in-unit.Millimetre)), Count: 1, Length: depth, For: "seam of the shell", Stock: [3]unit.Length{t / 3, 2*in - unit.Millimetre, depth}})
		st.thickness = t / 3
	}
	width := From("depth of both grooves", 2*in).Less(1, "room for glue", min(unit.Millimetre, in))
	for _, e := range []butted{before, after} {
		from := unit.Length(0) // at the front of a strip, and behind on a shell
		if e.part.Bent != nil {
			from = b.hull.depth - depth
		}
		y := box(geom.P(from, (t-st.thickness)/2), geom.P(from+depth, (t+st.thickness)/2))
		e.part.feature(Feature{Kind: Groove, On: e.edge, Region: y, Depth: in, For: "spline"})
	}
	b.joint(Joint{Kind: "butt with spline", A: before.part.Letter, B: after.part.Letter, With: fmt.Sprintf("spline %s × %s", b.show(st.thickness), b.show(width.Size))})
	if st.key == "" {
		return
	}
	p := b.add(Part{
		Name: "spline", Role: RoleLoose, Material: st.key, Solid: st.solid, Grain: st.grain(GrainWidth),
		Length: long, Width: width, Thickness: From("a third of the panel, or the sheet at hand", st.thickness),
		Places: []Place{{Frame: b.lyingOn(mid.ahead(-width.Size.MM()/2), (t+st.thickness)/2)}},
	})
	b.joint(Joint{Kind: "spline", A: p.Letter, B: before.part.Letter, Depth: in})
	b.joint(Joint{Kind: "spline", A: p.Letter, B: after.part.Letter, Depth: in})
}

// splineLength is that of a spline which lies so far in from the inner face of
// the shell: through the case, or up to the back whose edges reach that far.
func (b *builder) splineLength(in unit.Length) Dim {
	d := From("case depth", b.hull.depth)
	slip := map[string]unit.Length{"grooved": slipGroove, "rebated": SlipRebate}
	if k := b.piece.Back; k != nil && slip[k.Fit] > 0 && b.backDepth()-slip[k.Fit] > in {
		d = d.Less(1, "up to the back", b.hull.rear()-b.backFront())
	}
	return d
}

// splineStock is what splines are cut from: a thin panel of the piece, up to
// half as thick as the shell, else solid wood a third as thick, its grain
// across the joint.
func (b *builder) splineStock(t unit.Length) stock {
	for _, role := range []string{"strip", "back", "bottoms"} {
		if st := b.material(role); st.key != "" && !st.solid && st.thickness <= t/2 && st.thickness >= t/6 {
			return st
		}
	}
	for _, role := range []string{"strip", "frame", "base", "fronts"} {
		if st := b.material(role); st.solid {
			st.thickness = t / 3
			return st
		}
	}
	return stock{} // bought, or cut from what lies about
}
