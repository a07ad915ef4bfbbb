package drawing

import (
	"casewright/internal/build"
	"casewright/internal/geom"
)

// inSight is what a viewer sees of a model: its parts and the hardware that
// stands outside the case.
func inSight(m build.Model) []solid { return append(solids(m), fixtureSolids(m)...) }

// fixtureSolids are the blocks and rods of hardware that stands outside the
// case. They have no letter and no part to be picked.
func fixtureSolids(m build.Model) []solid {
	var out []solid
	for i, f := range m.Fixtures {
		if !f.Outside() {
			continue
		}
		p := &build.Part{Name: f.Name}
		for _, b := range f.Blocks {
			w, d, h := (b.Max.X - b.Min.X).MM(), (b.Max.Y - b.Min.Y).MM(), (b.Max.Z - b.Min.Z).MM()
			out = append(out, solid{
				part: p, fixture: f.Kind, place: i, origin: vecOf(b.Min), u: vec{1, 0, 0}, v: vec{0, 1, 0}, n: vec{0, 0, 1},
				base: []Path{RectPath(Rect{0, 0, w, d})}, height: h,
			})
		}
		for _, r := range f.Rods {
			out = append(out, rod(p, f.Kind, i, r.From, r.To, r.Diameter.MM()))
		}
	}
	return out
}

// rod is a round bar, a prism over a circle of two half arcs.
func rod(p *build.Part, kind build.FixtureKind, place int, from, to geom.Vec, diameter float64) solid {
	a, r := vecOf(from), diameter/2
	axis := vecOf(to).sub(a)
	n := axis.unit()
	u := vec{0, 0, 1}
	if n.x == 0 && n.y == 0 {
		u = vec{1, 0, 0}
	}
	u = u.sub(n.times(u.dot(n))).unit()
	circle := Path{Closed: true, Nodes: []Node{{Pt{-r, 0}, 1}, {Pt{r, 0}, 1}}}
	return solid{part: p, fixture: kind, place: place, origin: a, u: u, v: n.cross(u), n: n, base: []Path{circle}, height: axis.len()}
}

// ofParts are the faces of parts, without those of hardware.
func ofParts(all []solid, faces []facet) []facet {
	var out []facet
	for _, f := range faces {
		if all[f.of].fixture == "" {
			out = append(out, f)
		}
	}
	return out
}
