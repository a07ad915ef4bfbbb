package drawing

import "math"

// through is how far a face must reach on both sides of another for the two to
// count as going through each other, in millimetres. Faces that only touch
// meet along an edge that is drawn anyway.
const through = 0.5

// meets gives the lines along which faces of different solids go through each
// other: where a bottom stands in its groove or a tenon in its mortise, the
// line seen on the surface is an edge of neither part.
func meets(faces []facet) []rim {
	type extent struct{ lo, hi vec }
	boxes := make([]extent, len(faces))
	for i, f := range faces {
		inf := math.Inf(1)
		e := extent{vec{inf, inf, inf}, vec{-inf, -inf, -inf}}
		for _, l := range f.loops {
			for _, p := range l {
				e.lo = vec{min(e.lo.x, p.x), min(e.lo.y, p.y), min(e.lo.z, p.z)}
				e.hi = vec{max(e.hi.x, p.x), max(e.hi.y, p.y), max(e.hi.z, p.z)}
			}
		}
		boxes[i] = e
	}
	var out []rim
	for i := range faces {
		a := boxes[i]
		for j := range i {
			b := boxes[j]
			if faces[i].of == faces[j].of || a.lo.x > b.hi.x || b.lo.x > a.hi.x || a.lo.y > b.hi.y || b.lo.y > a.hi.y || a.lo.z > b.hi.z || b.lo.z > a.hi.z {
				continue
			}
			out = meet(faces[i], faces[j], out)
		}
	}
	return out
}

// meet adds the line along which f and g go through each other, if they do.
func meet(f, g facet, out []rim) []rim {
	d := f.n.cross(g.n)
	if d.len() < 1e-3 || !straddles(f, g) || !straddles(g, f) {
		return out
	}
	// The point common to both planes and square to d.
	c1, c2 := f.n.dot(f.loops[0][0]), g.n.dot(g.loops[0][0])
	p := g.n.cross(d).times(c1).add(d.cross(f.n).times(c2)).times(1 / d.dot(d))
	d = d.unit()
	for _, r := range f.along(p, d) {
		for _, s := range g.along(p, d) {
			from, to := max(r.from, s.from), min(r.to, s.to)
			if to-from > through {
				out = append(out, rim{a: p.add(d.times(from)), b: p.add(d.times(to)), of: f.of})
			}
		}
	}
	return out
}

// straddles reports whether f reaches on both sides of the plane of g.
func straddles(f, g facet) bool {
	if len(f.loops) == 0 || len(g.loops) == 0 {
		return false
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range f.loops[0] {
		t := p.sub(g.loops[0][0]).dot(g.n)
		lo, hi = min(lo, t), max(hi, t)
	}
	return lo < -through && hi > through
}

// along gives the runs of the line through p in the direction d that lie in
// the face; the line lies in its plane.
func (f facet) along(p, d vec) []span {
	e := f.n.cross(d)
	loops := make([][]Pt, len(f.loops))
	for i, l := range f.loops {
		for _, q := range l {
			loops[i] = append(loops[i], Pt{q.sub(p).dot(d), q.sub(p).dot(e)})
		}
	}
	return crossings(loops, 1, 0, 0)
}
