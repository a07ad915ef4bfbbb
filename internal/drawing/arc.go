package drawing

import "math"

// Arc is the circle of an arc, and how it runs: from angle Start through
// Sweep, in radians, both positive from x towards y.
type Arc struct {
	Centre       Pt
	Radius       float64
	Start, Sweep float64
}

// ArcOf is the arc from a to b with the bulge, which must not be 0.
func ArcOf(a, b Pt, bulge float64) Arc {
	dx, dy := b.X-a.X, b.Y-a.Y
	k := (1 - bulge*bulge) / (4 * bulge) // distance of the centre from the chord's middle, in chords
	c := Pt{(a.X+b.X)/2 - dy*k, (a.Y+b.Y)/2 + dx*k}
	return Arc{
		Centre: c,
		Radius: math.Hypot(a.X-c.X, a.Y-c.Y),
		Start:  math.Atan2(a.Y-c.Y, a.X-c.X),
		Sweep:  4 * math.Atan(bulge),
	}
}

// At is the point of the arc at the fraction t of its sweep.
func (a Arc) At(t float64) Pt {
	sin, cos := math.Sincos(a.Start + t*a.Sweep)
	return Pt{a.Centre.X + a.Radius*cos, a.Centre.Y + a.Radius*sin}
}

// Curves gives the arc as cubic Bézier curves of at most an eighth of a turn:
// two control points and an end for each. They are off the circle by less
// than 5 parts in a million of the radius (handle 4/3 tan(θ/4), the usual
// approximation).
func (a Arc) Curves() [][3]Pt {
	n := max(1, int(math.Ceil(math.Abs(a.Sweep)/(math.Pi/4)-1e-9)))
	step := a.Sweep / float64(n)
	h := 4.0 / 3 * math.Tan(step/4) * a.Radius
	out := make([][3]Pt, n)
	for i := range out {
		s0, c0 := math.Sincos(a.Start + float64(i)*step)
		s1, c1 := math.Sincos(a.Start + float64(i+1)*step)
		p := Pt{a.Centre.X + a.Radius*c0, a.Centre.Y + a.Radius*s0}
		q := Pt{a.Centre.X + a.Radius*c1, a.Centre.Y + a.Radius*s1}
		out[i] = [3]Pt{p.Add(-h*s0, h*c0), q.Add(h*s1, -h*c1), q}
	}
	return out
}

// flat gives the corners of the path with its arcs broken into chords of at
// most the angle step; the first corner is not repeated at the end.
func (p Path) flat(step float64) []Pt {
	var out []Pt
	n := len(p.Nodes)
	for i, a := range p.Nodes {
		out = append(out, a.Pt)
		if a.Bulge == 0 || i+1 == n && !p.Closed {
			continue
		}
		arc := ArcOf(a.Pt, p.Nodes[(i+1)%n].Pt, a.Bulge)
		k := int(math.Ceil(math.Abs(arc.Sweep)/step - 1e-9))
		for j := 1; j < k; j++ {
			out = append(out, arc.At(float64(j)/float64(k)))
		}
	}
	return out
}

// bounds is the least rectangle about the paths, with the bellies of arcs.
func bounds(paths []Path) (Rect, bool) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	grow := func(p Pt) {
		x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
	}
	for _, p := range paths {
		n := len(p.Nodes)
		for i, a := range p.Nodes {
			grow(a.Pt)
			if a.Bulge == 0 || i+1 == n && !p.Closed {
				continue
			}
			arc := ArcOf(a.Pt, p.Nodes[(i+1)%n].Pt, a.Bulge)
			lo, hi := min(arc.Start, arc.Start+arc.Sweep), max(arc.Start, arc.Start+arc.Sweep)
			for q := math.Ceil(lo / (math.Pi / 2)); q*math.Pi/2 <= hi; q++ {
				grow(arc.At((q*math.Pi/2 - arc.Start) / arc.Sweep))
			}
		}
	}
	// Nothing to draw, or what is no number, or 10 km: no drawing of furniture.
	if x0 > x1 || !(x1-x0 < 1e7 && y1-y0 < 1e7) {
		return Rect{}, false
	}
	return Rect{x0, y0, x1 - x0, y1 - y0}, true
}
