package drawing

import (
	"math"
	"slices"
)

// Tolerances of hiding, in millimetres of the real thing. What lies less than
// nearer behind a face counts as lying on it; a point less than onEdge beside
// a face's edge counts as covered, which is harmless: the face's own edge is
// drawn there.
const (
	nearer = 0.05
	onEdge = 0.002
)

// pane is a face as the viewer sees it.
type pane struct {
	loops      [][]Pt
	x0, y0     float64
	x1, y1     float64
	far, near  float64
	c0, cx, cy float64 // nearness at (x, y): c0 + cx·x + cy·y
}

// panes projects the faces; those seen edge on hide nothing and are left out.
func panes(faces []facet, c camera) []pane {
	var out []pane
	for _, f := range faces {
		nw := f.n.dot(c.toward)
		if math.Abs(nw) < 1e-6 {
			continue
		}
		p := pane{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1), far: math.Inf(1), near: math.Inf(-1)}
		for _, l := range f.loops {
			flat := make([]Pt, len(l))
			for i, v := range l {
				q, d := c.see(v)
				flat[i] = q
				p.x0, p.x1 = min(p.x0, q.X), max(p.x1, q.X)
				p.y0, p.y1 = min(p.y0, q.Y), max(p.y1, q.Y)
				p.far, p.near = min(p.far, d), max(p.near, d)
			}
			p.loops = append(p.loops, flat)
		}
		if len(p.loops) == 0 || len(f.loops[0]) == 0 {
			continue
		}
		nx, ny := f.n.dot(c.right), f.n.dot(c.up)
		p.cx, p.cy = -nx/nw, -ny/nw
		q, d := c.see(f.loops[0][0])
		p.c0 = d - p.cx*q.X - p.cy*q.Y
		out = append(out, p)
	}
	return out
}

// covers reports whether (x, y) lies in the pane, its edge included.
func (p *pane) covers(q Pt) bool {
	if q.X < p.x0-onEdge || q.X > p.x1+onEdge || q.Y < p.y0-onEdge || q.Y > p.y1+onEdge {
		return false
	}
	in := false
	for _, l := range p.loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	if in {
		return true
	}
	for _, l := range p.loops {
		for i, a := range l {
			if distance(q, a, l[(i+1)%len(l)]) < onEdge {
				return true
			}
		}
	}
	return false
}

// distance is that of q from the segment ab.
func distance(q, a, b Pt) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(1, max(0, ((q.X-a.X)*dx+(q.Y-a.Y)*dy)/l))
	}
	return math.Hypot(q.X-a.X-t*dx, q.Y-a.Y-t*dy)
}

// span is a run of the parameter of an edge.
type span struct{ from, to float64 }

// hiddenBy gives the runs of the edge from a to b, with nearness da and db,
// that lie behind the pane.
func (p *pane) hiddenBy(a, b Pt, da, db float64, out []span) []span {
	if max(a.X, b.X) < p.x0-onEdge || min(a.X, b.X) > p.x1+onEdge || max(a.Y, b.Y) < p.y0-onEdge || min(a.Y, b.Y) > p.y1+onEdge || p.near-nearer < min(da, db) {
		return out
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	long := math.Hypot(dx, dy)
	behind := func(t float64) float64 {
		return p.c0 + p.cx*(a.X+t*dx) + p.cy*(a.Y+t*dy) - (da + t*(db-da)) - nearer
	}
	b0, b1 := behind(0), behind(1)
	if b0 <= 0 && b1 <= 0 {
		return out
	}
	cuts := make([]float64, 0, 16)
	cuts = append(cuts, 0, 1)
	if (b0 > 0) != (b1 > 0) {
		cuts = append(cuts, b0/(b0-b1))
	}
	for _, l := range p.loops {
		for i, q := range l {
			r := l[(i+1)%len(l)]
			cuts = crossing(cuts, a, b, q, r)
		}
	}
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		t0, t1 := cuts[i-1], cuts[i]
		if (t1-t0)*long < 1e-6 {
			continue
		}
		t := (t0 + t1) / 2
		if behind(t) > 0 && p.covers(Pt{a.X + t*dx, a.Y + t*dy}) {
			out = append(out, span{t0, t1})
		}
	}
	return out
}

func appendInside(cuts []float64, t float64) []float64 {
	if t > 0 && t < 1 {
		return append(cuts, t)
	}
	return cuts
}

// union sorts runs and joins those that touch.
func union(s []span, slack float64) []span {
	if len(s) == 0 {
		return s
	}
	slices.SortFunc(s, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	out := s[:1]
	for _, r := range s[1:] {
		if last := &out[len(out)-1]; r.from <= last.to+slack {
			last.to = max(last.to, r.to)
		} else {
			out = append(out, r)
		}
	}
	return out
}

// without is the runs of s outside those of t; both are in order.
func without(s, t []span, slack float64) []span {
	var out []span
	for _, r := range s {
		from := r.from
		for _, c := range t {
			if c.to <= from || c.from >= r.to {
				continue
			}
			if c.from-from > slack {
				out = append(out, span{from, c.from})
			}
			from = max(from, c.to)
		}
		if r.to-from > slack {
			out = append(out, span{from, r.to})
		}
	}
	return out
}

// sight is what a viewer sees of solids: the lines in sight, weighed by
// whether they bound the whole, and the lines that are hidden.
type sight struct {
	outer, inner, hidden []Path
}

// seeLines works out what is seen. Lines that fall on each other are drawn
// once; a hidden line under a seen one is not drawn.
func seeLines(faces []facet, rims []rim, c camera, wantHidden bool) sight {
	ps := panes(faces, c)
	var seen, hidden tracks
	seen.init()
	hidden.init()
	var spans []span
	for _, r := range rims {
		a, da := c.see(r.a)
		b, db := c.see(r.b)
		if math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-4 {
			continue
		}
		spans = spans[:0]
		for i := range ps {
			spans = ps[i].hiddenBy(a, b, da, db, spans)
		}
		spans = union(spans, 1e-9)
		for _, v := range without([]span{{0, 1}}, spans, 1e-9) {
			seen.add(r, c, a, b, v)
		}
		if wantHidden {
			for _, v := range spans {
				hidden.add(r, c, a, b, v)
			}
		}
	}
	var out sight
	for _, p := range seen.paths(nil) {
		for _, piece := range weigh(p, ps) {
			if atRim(piece, ps) {
				out.outer = append(out.outer, piece)
			} else {
				out.inner = append(out.inner, piece)
			}
		}
	}
	if wantHidden {
		out.hidden = hidden.paths(&seen)
	}
	return out
}

// weigh breaks a straight line where its weight changes: where it bounds the
// whole on one stretch and not on the next. Arcs are weighed as one.
func weigh(p Path, ps []pane) []Path {
	a, b := p.Nodes[0].Pt, p.Nodes[1].Pt
	if p.Closed || p.Nodes[0].Bulge != 0 {
		return []Path{p}
	}
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	cuts := []float64{0, 1}
	for i := range ps {
		q := &ps[i]
		if max(a.X, b.X) < q.x0 || min(a.X, b.X) > q.x1 || max(a.Y, b.Y) < q.y0 || min(a.Y, b.Y) > q.y1 {
			continue
		}
		for _, l := range q.loops {
			for j, v := range l {
				cuts = crossing(cuts, a, b, v, l[(j+1)%len(l)])
			}
		}
	}
	slices.Sort(cuts)
	on := func(t float64) Pt { return Pt{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
	var out []Path
	from, was, first := 0.0, false, true
	for i := 1; i < len(cuts); i++ {
		if (cuts[i]-cuts[i-1])*long < weightStep {
			continue
		}
		is := atRim(pathOf([]Pt{on(cuts[i-1]), on(cuts[i])}, false), ps)
		if first {
			was, first = is, false
		}
		if is != was {
			out = append(out, pathOf([]Pt{on(from), on(cuts[i-1])}, false))
			from, was = cuts[i-1], is
		}
	}
	return append(out, pathOf([]Pt{on(from), b}, false))
}

// weightStep is the least stretch of a line, in millimetres of the real thing,
// that is weighed by itself.
const weightStep = 1.0

// crossing adds where the line ab, as a fraction of it, meets the segment vw or
// comes to an end of it.
func crossing(cuts []float64, a, b, v, w Pt) []float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := math.Hypot(dx, dy)
	sv := (dx*(v.Y-a.Y) - dy*(v.X-a.X)) / long
	sw := (dx*(w.Y-a.Y) - dy*(w.X-a.X)) / long
	if math.Abs(sv) < onEdge {
		cuts = appendInside(cuts, ((v.X-a.X)*dx+(v.Y-a.Y)*dy)/(long*long))
	}
	if (sv > 0) != (sw > 0) {
		k := sv / (sv - sw)
		x, y := v.X+k*(w.X-v.X), v.Y+k*(w.Y-v.Y)
		cuts = appendInside(cuts, ((x-a.X)*dx+(y-a.Y)*dy)/(long*long))
	}
	return cuts
}

// atRim reports whether there is nothing on one side of the line.
func atRim(p Path, ps []pane) bool {
	a, b := p.Nodes[0], p.Nodes[1].Pt
	m := Pt{(a.X + b.X) / 2, (a.Y + b.Y) / 2}
	dir, _ := tangents(Node{Pt: a.Pt}, b)
	if a.Bulge != 0 {
		arc := ArcOf(a.Pt, b, a.Bulge)
		m = arc.At(0.5)
	}
	for _, side := range []float64{0.3, -0.3} {
		q := Pt{m.X - dir.Y*side, m.Y + dir.X*side}
		covered := false
		for i := range ps {
			if ps[i].covers(q) {
				covered = true
				break
			}
		}
		if !covered {
			return true
		}
	}
	return false
}
