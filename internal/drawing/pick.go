package drawing

import (
	"math"
	"slices"

	"casewright/internal/build"
)

// picks are the faces turned to the viewer as areas to pick parts by, those
// farther away before those before them, so that the last one at a point is
// the part that is seen there.
func picks(all []solid, faces []facet, c camera) []Pick {
	var front []facet
	for _, f := range faces {
		if all[f.of].fixture == "" && f.n.dot(c.toward) > 1e-6 && len(f.loops) > 0 && len(f.loops[0]) > 0 {
			front = append(front, f)
		}
	}
	ps := panes(front, c)
	out := make([]Pick, len(ps))
	for i, at := range paintOrder(ps) {
		out[i].Part = all[front[at].of].part.Letter
		for _, l := range ps[at].loops {
			out[i].Paths = append(out[i].Paths, pathOf(l, true))
		}
	}
	return out
}

// paintOrder sorts faces so that each comes after those it hides: the nearness
// of two is compared where they cover each other. Faces that hide each other
// in a ring are broken up by their middles.
func paintOrder(ps []pane) []int {
	n := len(ps)
	behind := make([][]int, n) // for each face those that it hides
	for i := range ps {
		for j := range i {
			switch order(&ps[i], &ps[j]) {
			case 1:
				behind[i] = append(behind[i], j)
			case -1:
				behind[j] = append(behind[j], i)
			}
		}
	}
	start := make([]int, n)
	for i := range start {
		start[i] = i
	}
	mid := func(p *pane) float64 { return p.far + p.near }
	slices.SortStableFunc(start, func(a, b int) int {
		if d := mid(&ps[a]) - mid(&ps[b]); math.Abs(d) > 1e-9 {
			return int(sign(d))
		}
		return 0
	})
	out := make([]int, 0, n)
	state := make([]int8, n) // 1: under way, 2: placed
	var visit func(i int)
	visit = func(i int) {
		if state[i] != 0 {
			return
		}
		state[i] = 1
		for _, j := range behind[i] {
			visit(j)
		}
		state[i] = 2
		out = append(out, i)
	}
	for _, i := range start {
		visit(i)
	}
	return out
}

// order is 1 where p is before q, −1 where it is behind it, and 0 where
// neither covers the other at any point that is tried.
func order(p, q *pane) int {
	x0, x1 := max(p.x0, q.x0), min(p.x1, q.x1)
	y0, y1 := max(p.y0, q.y0), min(p.y1, q.y1)
	if x1-x0 < onEdge || y1-y0 < onEdge {
		return 0
	}
	const n = 5
	for i := range n {
		for j := range n {
			at := Pt{x0 + (x1-x0)*(float64(i)+0.5)/n, y0 + (y1-y0)*(float64(j)+0.5)/n}
			if !p.covers(at) || !q.covers(at) {
				continue
			}
			d := p.c0 + p.cx*at.X + p.cy*at.Y - q.c0 - q.cx*at.X - q.cy*at.Y
			if math.Abs(d) > nearer {
				return int(sign(d))
			}
		}
	}
	return 0
}

// sectionChains are the dimensions of a section on a screen: those of the view
// from the same side.
func sectionChains(m build.Model, plane Plane, o Options) []Chain {
	if !o.Dims {
		return nil
	}
	switch plane {
	case AcrossX:
		return sideChains(m, o)
	case AcrossZ:
		return topChains(m, o)
	}
	return frontChains(m, o)
}

// radii names the radius of one corner for each size of them that the piece
// gives, from the centre of the curve.
func (v *View) radii(m build.Model, o Options) {
	if !o.Live {
		return
	}
	for _, f := range o.Corners {
		v.Items = append(v.Items, Segment(PenDimension, f.Centre, f.On))
		master, other := o.Size(f.Radius)
		if other != "" {
			other = " " + other
		}
		v.Labels = append(v.Labels, Label{At: f.Centre, Variants: [][]string{{"R " + master + other}}, Knock: true, Field: f.Path, Of: f.Radius})
	}
}
