package drawing

import (
	"math"
	"slices"

	"casewright/internal/build"
)

// Body is a part where it stands, as a closed surface of triangles in the
// piece's axes, in millimetres. Corners of arcs share their normals, so that
// bends look round.
type Body struct {
	Letter, Name, Place string
	At                  int // index into the part's places
	Role                build.Role
	Solid               bool // a wood, else a panel
	Bent                bool
	Grain               [3]float64 // direction, where the part lies straight
	Pull                [3]float64 // the way it comes out when the piece is pulled apart
	Points, Normals     [][3]float64
	Triangles           [][3]int
}

// Bodies gives all parts of the model as surfaces, in the order of parts and
// places.
func Bodies(m build.Model) []Body {
	var out []Body
	for _, s := range solids(m) {
		b := s.body()
		b.Pull = pull(m, s).array()
		out = append(out, b)
	}
	return out
}

// FixtureBodies gives the hardware that stands outside the case as surfaces.
// They have no letter, role or grain.
func FixtureBodies(m build.Model) []Body {
	var out []Body
	for _, s := range fixtureSolids(m) {
		b := Body{Name: s.part.Name, Pull: pull(m, s).array()}
		s.surface(&b)
		out = append(out, b)
	}
	return out
}

func (a vec) array() [3]float64 { return [3]float64{a.x, a.y, a.z} }

func (s solid) body() Body {
	p := s.part
	b := Body{Letter: p.Letter, Name: p.Name, Place: p.Places[s.place].Name, At: s.place, Role: p.Role, Solid: p.Solid, Bent: s.bent}
	switch {
	case s.bent || p.Grain == build.GrainFree:
	case p.Grain == build.GrainWidth:
		b.Grain = s.v.array()
	default:
		b.Grain = s.u.array()
	}
	s.surface(&b)
	return b
}

// surface gives the body the solid's skin.
func (s solid) surface(b *Body) {
	pts, top := s.ends(0)
	if area(pts) < 0 {
		pts, top = slices.Clone(pts), slices.Clone(top)
		slices.Reverse(pts)
		slices.Reverse(top)
	}
	add := func(p, n vec) int {
		b.Points, b.Normals = append(b.Points, p.array()), append(b.Normals, n.array())
		return len(b.Points) - 1
	}
	tri := func(i, j, k int) { b.Triangles = append(b.Triangles, [3]int{i, j, k}) }

	// The base and the lid.
	caps := triangulate(pts)
	for _, lid := range []bool{false, true} {
		h, n, ring := 0.0, s.n.times(-1), pts
		if lid {
			h, n, ring = s.height, s.n, top
		}
		first := len(b.Points)
		for _, q := range ring {
			add(s.at(q, h), n)
		}
		for _, t := range caps {
			if lid {
				tri(first+t[0], first+t[1], first+t[2])
			} else {
				tri(first+t[0], first+t[2], first+t[1])
			}
		}
	}
	// The sides.
	k := len(pts)
	out := make([]vec, k)
	for i, q := range pts {
		a := s.at(q, 0)
		out[i] = s.at(pts[(i+1)%k], 0).sub(a).cross(s.at(top[i], s.height).sub(a)).unit()
	}
	blend := func(i, j int) vec { // the normal of side i where it meets side j
		if out[i].dot(out[j]) < math.Cos(1.6*arcStep) {
			return out[i]
		}
		return out[i].add(out[j]).unit()
	}
	for i, q := range pts {
		j := (i + 1) % k
		n0, n1 := blend(i, (i+k-1)%k), blend(i, (i+1)%k)
		a, c := add(s.at(q, 0), n0), add(s.at(pts[j], 0), n1)
		d, e := add(s.at(top[j], s.height), n1), add(s.at(top[i], s.height), n0)
		tri(a, c, d)
		tri(a, d, e)
	}
}

// triangulate cuts a simple polygon, running anticlockwise, into triangles by
// clipping ears. A polygon that touches itself still gives n−2 triangles.
func triangulate(pts []Pt) [][3]int {
	idx := make([]int, len(pts))
	for i := range idx {
		idx[i] = i
	}
	var out [][3]int
	cross := func(a, b, c Pt) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	for len(idx) > 3 {
		n, best, bestLong := len(idx), -1, math.Inf(1)
		for i := range idx {
			p, q, r := idx[(i+n-1)%n], idx[i], idx[(i+1)%n]
			a, b, c := pts[p], pts[q], pts[r]
			if cross(a, b, c) <= 0 {
				continue
			}
			ear := true
			for _, j := range idx {
				if j == p || j == q || j == r {
					continue
				}
				t := pts[j]
				if cross(a, b, t) >= 0 && cross(b, c, t) >= 0 && cross(c, a, t) >= 0 && t != a && t != b && t != c {
					ear = false
					break
				}
			}
			// The shortest cut first keeps the triangles of a thin band fat.
			if long := math.Hypot(c.X-a.X, c.Y-a.Y); ear && long < bestLong {
				best, bestLong = i, long
			}
		}
		if best < 0 {
			best = 0 // touching itself: cut anywhere
		}
		out = append(out, [3]int{idx[(best+n-1)%n], idx[best], idx[(best+1)%n]})
		idx = append(idx[:best], idx[best+1:]...)
	}
	if len(idx) == 3 {
		out = append(out, [3]int{idx[0], idx[1], idx[2]})
	}
	return out
}
