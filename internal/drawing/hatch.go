package drawing

import (
	"math"
	"slices"
)

// Stuff says how a cut face is hatched.
type Stuff int

// The hatchings.
const (
	PanelUp   Stuff = iota // sheet goods: lines at 45°
	PanelDown              // sheet goods beside sheet goods: at 135°
	LongGrain              // solid wood cut along its grain
	EndGrain               // solid wood cut across its grain
)

// Hatch is a cut face.
type Hatch struct {
	Paths []Path
	Stuff Stuff
	Grain Pt // direction of the grain in the view, for LongGrain
}

const (
	hatchGap  = 1.3 // between lines, on paper
	hatchThin = 1.0 // faces thinner than this are filled, as is usual
)

// draw lays the face down: white, hatched, outlined.
func (h Hatch) draw(m mapping) []Item {
	paths := m.paths(h.Paths)
	box, ok := bounds(paths)
	if !ok {
		return nil
	}
	var loops [][]Pt
	for _, p := range paths {
		loops = append(loops, p.flat(arcStep))
	}
	if thickness(loops) < hatchThin {
		return []Item{Fill{Mid, paths}, Stroke{PenMedium, paths}}
	}
	var lines []Path
	switch h.Stuff {
	case PanelUp:
		lines = hatchLines(loops, Pt{1, -1}, func(int) float64 { return hatchGap })
	case PanelDown:
		lines = hatchLines(loops, Pt{1, 1}, func(int) float64 { return hatchGap })
	case LongGrain:
		g := h.Grain
		if g == (Pt{}) {
			g = Pt{1, 0}
		}
		// Uneven, as grain is: the gaps repeat after five.
		lines = hatchLines(loops, Pt{g.X, -g.Y}, func(i int) float64 {
			return hatchGap * [5]float64{0.8, 1.3, 0.6, 1.5, 0.9}[(i%5+5)%5]
		})
	case EndGrain:
		lines = rings(loops, box)
	}
	out := []Item{Fill{White, paths}}
	if len(lines) > 0 {
		out = append(out, Stroke{PenHatch, lines})
	}
	return append(out, Stroke{PenOutline, paths})
}

// thickness is a measure of the thinness of an area: four times its surface
// over its girth is twice the thickness of a thin strip and the side of a
// square, so half of it never says too much.
func thickness(loops [][]Pt) float64 {
	surface, girth := 0.0, 0.0
	for _, l := range loops {
		surface += math.Abs(area(l)) / 2
		for i, p := range l {
			q := l[(i+1)%len(l)]
			girth += math.Hypot(p.X-q.X, p.Y-q.Y)
		}
	}
	if girth == 0 {
		return 0
	}
	return 2 * surface / girth
}

// hatchLines are parallel lines in the direction dir, kept within the loops
// (even-odd). Lines are counted from the origin of the paper frame, so that
// faces of one part hatch alike.
func hatchLines(loops [][]Pt, dir Pt, gap func(i int) float64) []Path {
	l := math.Hypot(dir.X, dir.Y)
	dx, dy := dir.X/l, dir.Y/l
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, loop := range loops {
		for _, p := range loop {
			s := dx*p.Y - dy*p.X
			lo, hi = min(lo, s), max(hi, s)
		}
	}
	var out []Path
	if hi-lo > 2000 {
		return nil // no sheet is so large
	}
	s := math.Floor(lo/(5*hatchGap)) * 5 * hatchGap
	for i := 0; s < hi; i++ {
		if s > lo {
			for _, r := range crossings(loops, dx, dy, s) {
				out = append(out, pathOf([]Pt{{-dy*s + dx*r.from, dx*s + dy*r.from}, {-dy*s + dx*r.to, dx*s + dy*r.to}}, false))
			}
		}
		s += gap(i)
	}
	return out
}

// crossings are the runs within the loops of the line at the signed distance s
// from the origin, counted along (dx, dy).
func crossings(loops [][]Pt, dx, dy, s float64) []span {
	var at []float64
	for _, l := range loops {
		for i, p := range l {
			q := l[(i+1)%len(l)]
			sp, sq := dx*p.Y-dy*p.X-s, dx*q.Y-dy*q.X-s
			if (sp > 0) != (sq > 0) {
				k := sp / (sp - sq)
				at = append(at, dx*(p.X+k*(q.X-p.X))+dy*(p.Y+k*(q.Y-p.Y)))
			}
		}
	}
	slices.Sort(at)
	var out []span
	for i := 1; i < len(at); i += 2 {
		out = append(out, span{at[i-1], at[i]})
	}
	return out
}

// rings are the growth rings of an end: circles about a point under the face.
func rings(loops [][]Pt, box Rect) []Path {
	// The pith lies off the long side, as in a flat-sawn board.
	c := Pt{box.X + box.W*0.4, box.Bottom() + box.H*0.4 + box.W*0.25 + 2}
	if box.H > box.W {
		c = Pt{box.Right() + box.W*0.4 + box.H*0.25 + 2, box.Y + box.H*0.4}
	}
	far := math.Hypot(max(c.X-box.X, box.Right()-c.X), max(c.Y-box.Y, box.Bottom()-c.Y))
	inside := func(p Pt) bool {
		in := false
		for _, l := range loops {
			for i, a := range l {
				b := l[(i+1)%len(l)]
				if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
					in = !in
				}
			}
		}
		return in
	}
	var out []Path
	if far > 2000 {
		return nil
	}
	for i, r := 0, hatchGap; r < far; i++ {
		step := math.Min(0.1, 0.4/r)
		var run []Pt
		flush := func() {
			if len(run) > 1 {
				out = append(out, arcThrough(c, r, run[0], run[len(run)-1]))
			}
			run = nil
		}
		for a := -math.Pi; a <= math.Pi/2; a += step {
			p := Pt{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)}
			if inside(p) {
				run = append(run, p)
			} else {
				flush()
			}
		}
		flush()
		r += hatchGap * [3]float64{0.7, 1.1, 0.9}[i%3]
	}
	return out
}

// arcThrough is the arc about c from a to b the positive way.
func arcThrough(c Pt, r float64, a, b Pt) Path {
	t := math.Atan2(b.Y-c.Y, b.X-c.X) - math.Atan2(a.Y-c.Y, a.X-c.X)
	for t < 0 {
		t += 2 * math.Pi
	}
	return Path{Nodes: []Node{{a, math.Tan(t / 4)}, {Pt: b}}}
}
