package drawing

import (
	"math"
	"sort"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// Plane names a plane of section.
type Plane int

// The planes: upright from front to back at an x, seen from the right; level
// at a z, seen from above; upright across the piece at a y, seen from the
// front.
const (
	AcrossX Plane = iota
	AcrossZ
	AcrossY
)

// Section is the model cut at the place along the plane's axis; what stands
// toward the viewer is taken away. Cut faces are hatched by what they are of.
// Bought hardware is not cut: what the plane meets is drawn whole.
func Section(m build.Model, plane Plane, at unit.Length, o Options) View {
	c, depth := fromRight, at.MM()
	switch plane {
	case AcrossZ:
		c = fromAbove
	case AcrossY:
		c, depth = fromFront, -at.MM()
	}
	all := inSight(m)
	var faces []facet
	var rims []rim
	var v View
	var whole []facet
	for i, s := range all {
		var sf []facet
		var sr []rim
		sf, sr = s.shape(i, c.toward, sf, sr)
		if s.fixture != "" {
			if near, _ := s.along(c.toward); near < depth-1e-6 {
				faces, rims = append(faces, sf...), append(rims, sr...)
			}
			continue
		}
		whole = append(whole, sf...)
		loops := s.cut(c, depth)
		for _, f := range sf {
			if f = clipFacet(f, c.toward, depth); len(f.loops) > 0 {
				faces = append(faces, f)
			}
		}
		for _, r := range sr {
			if r, ok := clipRim(r, c.toward, depth); ok {
				rims = append(rims, r)
			}
		}
		for _, loop := range loops {
			lid := facet{n: c.toward, of: i}
			var corners []vec
			for _, p := range loop.flat(arcStep) {
				corners = append(corners, c.right.times(p.X).add(c.up.times(p.Y)).add(c.toward.times(depth)))
			}
			lid.loops = append(lid.loops, corners)
			faces = append(faces, lid)
		}
		if len(loops) > 0 {
			v.Hatches = append(v.Hatches, s.hatch(c, loops))
		}
	}
	for _, r := range meets(whole) {
		if r, ok := clipRim(r, c.toward, depth); ok {
			rims = append(rims, r)
		}
	}
	alternate(v.Hatches)
	v.Items = seeLines(faces, rims, c, o.Hidden).items(PenThin, PenThin)
	if o.Live {
		v.Picks = picks(all, faces, c)
		v.Chains = sectionChains(m, plane, o)
	}
	return v
}

// items draws what is seen.
func (s sight) items(outer, inner Pen) []Item {
	var out []Item
	for _, g := range []struct {
		pen   Pen
		paths []Path
	}{{PenHidden, s.hidden}, {inner, s.inner}, {outer, s.outer}} {
		if len(g.paths) > 0 {
			out = append(out, Stroke{g.pen, g.paths})
		}
	}
	return out
}

// clipFacet keeps what of the face lies no nearer the viewer than depth.
func clipFacet(f facet, toward vec, depth float64) facet {
	out := facet{n: f.n, of: f.of}
	for _, l := range f.loops {
		var kept []vec
		for i, a := range l {
			b := l[(i+1)%len(l)]
			da, db := a.dot(toward)-depth, b.dot(toward)-depth
			if da <= 0 {
				kept = append(kept, a)
			}
			if (da < 0) != (db < 0) && da != 0 && db != 0 {
				kept = append(kept, a.to(b, da/(da-db)))
			}
		}
		if len(kept) > 2 {
			out.loops = append(out.loops, kept)
		}
	}
	return out
}

func clipRim(r rim, toward vec, depth float64) (rim, bool) {
	da, db := r.a.dot(toward)-depth, r.b.dot(toward)-depth
	if da > -1e-6 && db > -1e-6 {
		return r, false // before the plane, or in it: the cut face draws that
	}
	if da <= 0 && db <= 0 {
		return r, true
	}
	t := da / (da - db)
	p, f := r.a.to(r.b, t), r.from+t*(r.to-r.from)
	if da > 0 {
		r.a, r.from = p, f
	} else {
		r.b, r.to = p, f
	}
	return r, true
}

// cut is the solid's cross-section at nearness depth, as paths of the view.
func (s solid) cut(c camera, depth float64) []Path {
	along := s.n.dot(c.toward)
	switch {
	case s.lid != nil:
		return s.cutAskew(c, depth)
	case math.Abs(along) > 1-1e-9:
		return s.cutAcross(c, (depth-s.origin.dot(c.toward))/along)
	case math.Abs(along) < 1e-9:
		return s.cutAlong(c, depth)
	}
	return s.cutAskew(c, depth)
}

// cutAcross cuts across the prism's axis at height h: its base as it is, less
// what is worked away there.
func (s solid) cutAcross(c camera, h float64) []Path {
	if h <= 1e-6 || h >= s.height-1e-6 {
		return nil
	}
	if s.bent {
		return []Path{s.project(c, s.bandAt(h), h)}
	}
	out := []Path{s.project(c, s.base[0], h)}
	for _, f := range s.part.Features {
		deep := f.Depth.MM()
		inside := f.Through || f.Face != build.FaceOther && h < deep || f.Face == build.FaceOther && h > s.height-deep
		if f.On != "" || f.Kind != build.Hole && f.Kind != build.Mortise || !inside || !atPlace(f, s.part, s.place) {
			continue
		}
		p := OutlinePath(f.Region)
		if s.mirrored {
			p = mirrorY(p, s.part.Width.Size.MM())
		}
		out = append(out, s.project(c, p, h))
	}
	return out
}

// bandAt is the bent edge at the distance h along the axis: where a groove or
// rebate runs the whole length it is thinner by its depth.
func (s solid) bandAt(h float64) Path {
	y := h
	if s.mirrored {
		y = s.height - h
	}
	t, from := s.part.Thickness.Size.MM(), 0.0
	long := s.part.Length.Size.MM()
	for _, p := range pocketsAcross(s.part, s.place, 1, 0, y) {
		if p.to-p.from < 0.95*long || math.IsInf(p.depth, 1) {
			continue
		}
		if p.other == uncutOther(s.part) {
			from = max(from, p.depth) // worked into the uncut face
		} else {
			t = min(t, s.part.Thickness.Size.MM()-p.depth)
		}
	}
	face := pathFrom(s.part.Bent.Profile, false)
	if from > 0 {
		face = offsetPath(face, from, s.part.Bent.Left)
	}
	return bandPath(face, t-from, s.part.Bent.Left)
}

// project takes a path of the base at height h to the view; its arcs are seen
// true.
func (s solid) project(c camera, p Path, h float64) Path {
	turn := 1.0
	if s.n.dot(c.toward) < 0 {
		turn = -1
	}
	q := Path{Closed: p.Closed}
	for _, n := range p.Nodes {
		q.Nodes = append(q.Nodes, Node{c.pt(s.at(n.Pt, h)), n.Bulge * turn})
	}
	return q
}

// cutAlong cuts along the prism's axis: strips across the base, less pockets.
func (s solid) cutAlong(c camera, depth float64) []Path {
	// In the base's plane the cut is the line with the normal (nu, nv).
	nu, nv := s.u.dot(c.toward), s.v.dot(c.toward)
	d := depth - s.origin.dot(c.toward)
	dx, dy := nv, -nu // along the line, which lies at the distance d from the origin
	sdist := d
	var loops [][]Pt
	for _, p := range s.base {
		loops = append(loops, p.flat(arcStep/4))
	}
	var out []Path
	for _, r := range crossings(loops, dx, dy, sdist) {
		on := func(t float64) Pt { return Pt{-dy*sdist + dx*t, dx*sdist + dy*t} }
		var cuts [][]Pt
		if s.bent {
			cuts = s.wall(on, r)
		} else {
			cuts = s.flatCut(dx, dy, sdist, r)
		}
		for _, l := range cuts {
			q := Path{Closed: true}
			for _, p := range l {
				q.Nodes = append(q.Nodes, Node{Pt: c.pt(s.at(on(p.X), p.Y))})
			}
			out = append(out, q)
		}
	}
	return out
}

// flatCut is the section of a flat part along one crossing of its outline.
func (s solid) flatCut(dx, dy, sdist float64, r span) [][]Pt {
	pockets := pocketsAcross(s.part, s.place, dx, dy, sdist)
	if s.mirrored {
		// Features are drawn with y the other way: find the line there.
		w := s.part.Width.Size.MM()
		q := Pt{-dy * sdist, w - dx*sdist}
		pockets = pocketsAcross(s.part, s.place, dx, -dy, dx*q.Y+dy*q.X)
		// Places along the mirrored line count from another foot.
		shift := -(dx*q.X - dy*q.Y)
		for i := range pockets {
			pockets[i].from += shift
			pockets[i].to += shift
		}
	}
	return notched(r.from, r.to, s.height, pockets)
}

// wall is the section of a bent part where the cut goes through its thickness
// along a crossing: a strip of its width, less pockets.
func (s solid) wall(on func(float64) Pt, r span) [][]Pt {
	plain := [][]Pt{{{r.from, 0}, {r.to, 0}, {r.to, s.height}, {r.from, s.height}}}
	fm := flatMap(s.part)
	x, atFrom := fm.find(on(r.from))
	if !atFrom {
		var ok bool
		if x, ok = fm.find(on(r.to)); !ok {
			return plain
		}
	}
	t := r.to - r.from
	if math.Abs(t-s.part.Thickness.Size.MM()) > 0.01 {
		return plain
	}
	pockets := pocketsAcross(s.part, s.place, 0, 1, -x)
	if s.mirrored {
		for i, p := range pockets {
			pockets[i].from, pockets[i].to = s.height-p.to, s.height-p.from
		}
	}
	var out [][]Pt
	for _, l := range notched(0, s.height, t, pockets) {
		// l is (along the axis, above the reference face); turn it into
		// (along the crossing, along the axis).
		q := make([]Pt, len(l))
		for i, p := range l {
			z := p.Y // from the reference face
			if uncutOther(s.part) == atFrom {
				z = t - z
			}
			q[i] = Pt{r.from + z, p.X}
		}
		out = append(out, q)
	}
	return out
}

// cutAskew cuts a prism that stands at a slant, as a splayed leg does: the hull
// of where its edges meet the plane. Exact for convex parts.
func (s solid) cutAskew(c camera, depth float64) []Path {
	_, rims := s.shape(0, c.toward, nil, nil)
	var pts []Pt
	for i := range s.base {
		base, lid := s.ends(i)
		for j := range base {
			rims = append(rims, rim{a: s.at(base[j], 0), b: s.at(lid[j], s.height)})
		}
	}
	for _, r := range rims {
		da, db := r.a.dot(c.toward)-depth, r.b.dot(c.toward)-depth
		if (da < 0) != (db < 0) {
			pts = append(pts, c.pt(r.a.to(r.b, da/(da-db))))
		}
	}
	if pts = hull(pts); len(pts) < 3 {
		return nil
	}
	return []Path{pathOf(pts, true)}
}

// hull is the convex hull (Andrew's monotone chain), anticlockwise.
func hull(pts []Pt) []Pt {
	sort.Slice(pts, func(i, j int) bool {
		return pts[i].X < pts[j].X || pts[i].X == pts[j].X && pts[i].Y < pts[j].Y
	})
	var out []Pt
	grow := func(p Pt, base int) {
		for len(out) >= base+2 {
			a, b := out[len(out)-2], out[len(out)-1]
			if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 1e-9 {
				break
			}
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	for _, p := range pts {
		grow(p, 0)
	}
	base := len(out) - 1
	for i := len(pts) - 2; i >= 0; i-- {
		grow(pts[i], max(base, 0))
	}
	if len(out) > 0 {
		out = out[:len(out)-1]
	}
	return out
}

// hatch says how the cut faces of the solid are hatched.
func (s solid) hatch(c camera, loops []Path) Hatch {
	h := Hatch{Paths: loops}
	if !s.part.Solid {
		return h
	}
	grain := s.u
	if s.part.Grain == build.GrainWidth {
		grain = s.v
	}
	if math.Abs(grain.dot(c.toward)) > 0.7 {
		h.Stuff = EndGrain
		return h
	}
	h.Stuff, h.Grain = LongGrain, c.pt(grain)
	return h
}

// alternate hatches panels that touch the other way.
func alternate(hs []Hatch) {
	boxes := make([]Rect, len(hs))
	for i, h := range hs {
		boxes[i], _ = bounds(h.Paths)
	}
	for i := range hs {
		if hs[i].Stuff != PanelUp {
			continue
		}
		for j := range i {
			if hs[j].Stuff == PanelUp && boxes[i].Inset(-1).Overlaps(boxes[j]) {
				hs[i].Stuff = PanelDown
				break
			}
		}
	}
}
