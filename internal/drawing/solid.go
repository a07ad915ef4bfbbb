package drawing

import (
	"math"

	"casewright/internal/build"
	"casewright/internal/geom"
)

// solid is one part where it stands: a prism. Its base lies in the plane of u
// and v through origin; it rises along n by height. A bent part is the prism
// of its bent edge; a leg that tapers rises to a lid that is not like its base.
type solid struct {
	part     *build.Part
	fixture  build.FixtureKind // of bought hardware; empty for a part
	place    int
	origin   vec
	u, v, n  vec
	base     []Path // outer outline and holes, in the plane
	lid      []Path // with as many corners as the base; nil: like the base
	height   float64
	bent     bool
	mirrored bool
}

// solids gives all parts of the model where they stand, in the order of parts
// and places.
func solids(m build.Model) []solid {
	var out []solid
	for i := range m.Parts {
		p := &m.Parts[i]
		for j := range p.Places {
			if s, ok := solidOf(p, j); ok {
				out = append(out, s)
			}
		}
	}
	return out
}

// solidOf is a part at one of its places. It is false for what has no body.
func solidOf(p *build.Part, place int) (solid, bool) {
	f := p.Places[place].Frame
	s := solid{part: p, place: place, origin: vecOf(f.Origin), u: dirOf(f.U), v: dirOf(f.V), n: dirOf(f.N()), mirrored: f.Mirror}
	if p.Bent != nil {
		s.bent = true
		s.height = p.Width.Size.MM()
		s.base = []Path{bandPath(pathFrom(p.Bent.Profile, false), p.Thickness.Size.MM(), p.Bent.Left)}
		return s, len(p.Bent.Profile) > 1 && s.height > 0
	}
	if taper, ok := s.tapered(); ok {
		return taper, true
	}
	s.height = p.Thickness.Size.MM()
	outline := pathFrom(geom.Path(outlineOf(*p)), true)
	if f.Mirror {
		outline = mirrorY(outline, p.Width.Size.MM())
	}
	s.base = []Path{outline}
	return s, len(outline.Nodes) > 1 && s.height > 0
}

// tapered is the body of a square leg that tapers alike on all sides: its
// outline is a trapezium along x, and its thickness at each end is its width
// there.
func (s solid) tapered() (solid, bool) {
	o := pathFrom(geom.Path(s.part.Outline), true).Nodes
	if s.part.Role != build.RoleLeg || len(o) != 4 || s.part.Width.Size != s.part.Thickness.Size {
		return s, false
	}
	foot, head := math.Abs(o[3].Y-o[0].Y), math.Abs(o[2].Y-o[1].Y)
	if o[0].X != o[3].X || o[1].X != o[2].X || math.Abs(foot-head) < 1e-6 || foot == 0 || head == 0 || o[1].X <= o[0].X {
		return s, false
	}
	square := func(low, side float64) []Path {
		return []Path{RectPath(Rect{low, (s.part.Thickness.Size.MM() - side) / 2, side, side})}
	}
	s.u, s.v, s.n = s.v, s.n, s.u
	s.origin = s.origin.add(s.n.times(o[0].X))
	s.base, s.lid = square(min(o[0].Y, o[3].Y), foot), square(min(o[1].Y, o[2].Y), head)
	s.height = o[1].X - o[0].X
	return s, true
}

// ends are the base and what lies over it, corner by corner.
func (s solid) ends(i int) (base, lid []Pt) {
	base = s.base[i].flat(arcStep)
	if s.lid != nil {
		return base, s.lid[i].flat(arcStep)
	}
	return base, base
}

// outlineOf is the part's outline, or the rectangle of its sizes where it has
// none.
func outlineOf(p build.Part) geom.Outline {
	if len(p.Outline) > 0 {
		return p.Outline
	}
	return geom.Rect(p.Length.Size, p.Width.Size)
}

// OutlinePath is an outline as a path of a View.
func OutlinePath(o geom.Outline) Path { return pathFrom(geom.Path(o), true) }

func pathFrom(vs geom.Path, closed bool) Path {
	p := Path{Closed: closed}
	for _, v := range vs {
		p.Nodes = append(p.Nodes, Node{Pt{v.X.MM(), v.Y.MM()}, v.Bulge})
	}
	return p
}

// mirrorY counts y from the other side of the width and keeps the sense of
// the path.
func mirrorY(p Path, width float64) Path {
	n := len(p.Nodes)
	q := Path{Closed: p.Closed, Nodes: make([]Node, n)}
	for i := range p.Nodes {
		a := p.Nodes[n-1-i]
		q.Nodes[i] = Node{Pt: Pt{a.X, width - a.Y}}
		// The arc that left the next corner now leaves this one; turned
		// about and mirrored, its bulge keeps its sign.
		q.Nodes[i].Bulge = p.Nodes[(2*n-2-i)%n].Bulge
	}
	return q
}

// bandPath is the closed outline of a panel of the thickness whose one face
// runs along the path, to the left of it or to the right.
func bandPath(face Path, thickness float64, left bool) Path {
	other := offsetPath(face, thickness, left)
	n := len(face.Nodes)
	out := Path{Closed: true}
	for i, a := range face.Nodes {
		b := a.Bulge
		if i == n-1 {
			b = 0
		}
		out.Nodes = append(out.Nodes, Node{a.Pt, b})
	}
	for i := n - 1; i >= 0; i-- {
		b := 0.0
		if i > 0 {
			b = -other.Nodes[i-1].Bulge
		}
		out.Nodes = append(out.Nodes, Node{other.Nodes[i].Pt, b})
	}
	return out
}

// offsetPath moves an open path sideways by d. Arcs keep their angle; at
// corners the sides are mitred.
func offsetPath(p Path, d float64, left bool) Path {
	if !left {
		d = -d
	}
	n := len(p.Nodes)
	out := Path{Nodes: make([]Node, n)}
	for i, a := range p.Nodes {
		var in, leave Pt
		if i > 0 {
			_, in = tangents(p.Nodes[i-1], a.Pt)
		}
		if i < n-1 {
			leave, _ = tangents(a, p.Nodes[i+1].Pt)
		}
		if i == 0 {
			in = leave
		}
		if i == n-1 {
			leave = in
		}
		// Both unit normals point left; their sum, over 1 + cos of the
		// turn, is the mitre.
		nx, ny := -in.Y-leave.Y, in.X+leave.X
		k := 1 + in.X*leave.X + in.Y*leave.Y
		if k < 0.1 {
			k = 2
		}
		out.Nodes[i] = Node{Pt{a.X + d*nx/k, a.Y + d*ny/k}, a.Bulge}
	}
	return out
}

// tangents are the unit directions at the start and end of the segment from a.
func tangents(a Node, b Pt) (start, end Pt) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return Pt{1, 0}, Pt{1, 0}
	}
	turn := 2 * math.Atan(a.Bulge) // half the arc's angle
	rot := func(t float64) Pt {
		s, c := math.Sincos(t)
		return Pt{(dx*c - dy*s) / l, (dx*s + dy*c) / l}
	}
	return rot(-turn), rot(turn)
}

// at is the place in space of a point of the base, at height h.
func (s solid) at(p Pt, h float64) vec {
	return s.origin.add(s.u.times(p.X)).add(s.v.times(p.Y)).add(s.n.times(h))
}

// middle is the middle of the solid's extent.
func (s solid) middle() vec {
	r, _ := bounds(s.base)
	return s.at(Pt{r.X + r.W/2, r.Y + r.H/2}, s.height/2)
}

// arcStep is the greatest angle of a facet that stands for a part of an arc
// when it is decided what hides what. Arcs that are seen true are drawn true.
const arcStep = 7.5 * math.Pi / 180

// facet is a plane face: loops of corners, and the direction out of the solid.
type facet struct {
	loops [][]vec
	n     vec
	of    int // index of the solid
}

// rim is an edge of a solid, or a chord of a curved one. from and to are the
// chord's place on the arc, as fractions of its sweep.
type rim struct {
	a, b     vec
	of       int
	arc      *rimArc
	from, to float64
}

// rimArc is the arc that chords belong to.
type rimArc struct {
	s   solid
	arc Arc
	h   float64
}

// shape adds the solid's faces and its edges as seen from the direction:
// sharp ones, and those where a curved side turns away.
func (s solid) shape(of int, toward vec, faces []facet, rims []rim) ([]facet, []rim) {
	lo, hi := facet{n: s.n.times(-1), of: of}, facet{n: s.n, of: of}
	for k, p := range s.base {
		pts, top := s.ends(k)
		n := len(pts)
		if n < 2 {
			continue
		}
		a := area(pts)
		normals := make([]vec, n)
		low, high := make([]vec, n), make([]vec, n)
		for i, q := range pts {
			low[i], high[i] = s.at(q, 0), s.at(top[i], s.height)
			// Right of the run: out, when it turns left.
			d := s.at(pts[(i+1)%n], 0).sub(low[i]).cross(high[i].sub(low[i])).unit()
			if a < 0 {
				d = d.times(-1)
			}
			normals[i] = d
		}
		lo.loops, hi.loops = append(lo.loops, low), append(hi.loops, high)
		for i := range pts {
			j := (i + 1) % n
			faces = append(faces, facet{[][]vec{{low[i], low[j], high[j], high[i]}}, normals[i], of})
			before := normals[(i+n-1)%n]
			sharp := before.dot(normals[i]) < math.Cos(1.6*arcStep)
			x, y := before.dot(toward), normals[i].dot(toward)
			turns := x*y < 1e-9 && math.Abs(x)+math.Abs(y) > 1e-6
			if sharp || turns {
				rims = append(rims, rim{a: low[i], b: high[i], of: of})
			}
		}
		rims = s.ring(of, p, 0, rims)
		if s.lid != nil {
			p = s.lid[k]
		}
		rims = s.ring(of, p, s.height, rims)
	}
	return append(faces, lo, hi), rims
}

// ring adds the edges round the base at height h.
func (s solid) ring(of int, p Path, h float64, rims []rim) []rim {
	n := len(p.Nodes)
	for i, a := range p.Nodes {
		b := p.Nodes[(i+1)%n].Pt
		if a.Bulge == 0 {
			rims = append(rims, rim{a: s.at(a.Pt, h), b: s.at(b, h), of: of})
			continue
		}
		arc := &rimArc{s: s, arc: ArcOf(a.Pt, b, a.Bulge), h: h}
		k := max(1, int(math.Ceil(math.Abs(arc.arc.Sweep)/arcStep-1e-9)))
		for j := range k {
			t0, t1 := float64(j)/float64(k), float64(j+1)/float64(k)
			rims = append(rims, rim{a: s.at(arc.arc.At(t0), h), b: s.at(arc.arc.At(t1), h), of: of, arc: arc, from: t0, to: t1})
		}
	}
	return rims
}

// area is twice the signed area of the polygon.
func area(pts []Pt) float64 {
	a := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		a += p.X*q.Y - q.X*p.Y
	}
	return a
}
