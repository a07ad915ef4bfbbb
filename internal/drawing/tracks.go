package drawing

import "math"

// tracks gathers pieces of lines and arcs by the endless line or the circle on
// which they lie, so that what coincides is drawn once.
type tracks struct {
	order []trackKey
	byKey map[trackKey]*track
}

// trackKey names a line by direction and offset, or a circle by centre and
// radius, rounded.
type trackKey struct {
	circle  bool
	a, b, c int64
}

type track struct {
	// A line: the foot of the origin and the unit direction; runs count
	// millimetres. A circle: centre and radius; runs count radians.
	o, d   Pt
	radius float64
	runs   []span
}

func (t *tracks) init() { t.byKey = map[trackKey]*track{} }

func (t *tracks) at(k trackKey, make func() *track) *track {
	if f, ok := t.byKey[k]; ok {
		return f
	}
	f := make()
	t.byKey[k] = f
	t.order = append(t.order, k)
	return f
}

// add takes the run v of the edge r, projected from a to b.
func (t *tracks) add(r rim, c camera, a, b Pt, v span) {
	if r.arc != nil {
		// Seen along the prism's axis the arc is true.
		if f := r.arc.s.n.dot(c.toward); math.Abs(f) > 1-1e-9 {
			arc := r.arc.arc
			from := r.from + v.from*(r.to-r.from)
			to := r.from + v.to*(r.to-r.from)
			centre := c.pt(r.arc.s.at(arc.Centre, r.arc.h))
			angle := func(f float64) float64 {
				q := c.pt(r.arc.s.at(arc.At(f), r.arc.h))
				return math.Atan2(q.Y-centre.Y, q.X-centre.X)
			}
			t.addArc(centre, arc.Radius, angle(from), angle(to))
			return
		}
	}
	t.addLine(Pt{a.X + v.from*(b.X-a.X), a.Y + v.from*(b.Y-a.Y)}, Pt{a.X + v.to*(b.X-a.X), a.Y + v.to*(b.Y-a.Y)})
}

// addArc takes the shorter way round from angle a to b.
func (t *tracks) addArc(centre Pt, radius, a, b float64) {
	for b-a > math.Pi {
		b -= 2 * math.Pi
	}
	for b-a < -math.Pi {
		b += 2 * math.Pi
	}
	lo, hi := min(a, b), max(a, b)
	k := trackKey{true, micro(centre.X), micro(centre.Y), micro(radius)}
	f := t.at(k, func() *track { return &track{o: centre, radius: radius} })
	for lo < 0 {
		lo, hi = lo+2*math.Pi, hi+2*math.Pi
	}
	if hi > 2*math.Pi {
		f.runs = append(f.runs, span{lo, 2 * math.Pi}, span{0, hi - 2*math.Pi})
		return
	}
	f.runs = append(f.runs, span{lo, hi})
}

func (t *tracks) addLine(a, b Pt) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l < 1e-6 {
		return
	}
	dx, dy = dx/l, dy/l
	if dx < -1e-9 || math.Abs(dx) <= 1e-9 && dy < 0 {
		dx, dy = -dx, -dy
	}
	off := dx*a.Y - dy*a.X
	k := trackKey{false, int64(math.Round(math.Atan2(dy, dx) * 1e5)), micro(off), 0}
	f := t.at(k, func() *track { return &track{o: Pt{-dy * off, dx * off}, d: Pt{dx, dy}} })
	u, v := a.X*f.d.X+a.Y*f.d.Y, b.X*f.d.X+b.Y*f.d.Y
	f.runs = append(f.runs, span{min(u, v), max(u, v)})
}

// micro rounds to a hundredth of a millimetre.
func micro(v float64) int64 { return int64(math.Round(v * 100)) }

// paths gives what was gathered, joined, without what lies on over.
func (t *tracks) paths(over *tracks) []Path {
	var out []Path
	for _, k := range t.order {
		f := t.byKey[k]
		slack := 0.01
		if k.circle {
			slack = 0.01 / max(f.radius, 0.01)
		}
		runs := union(append([]span(nil), f.runs...), slack)
		if over != nil {
			if g, ok := over.byKey[k]; ok {
				runs = without(runs, union(append([]span(nil), g.runs...), slack), slack)
			}
		}
		for _, r := range runs {
			if r.to-r.from < slack {
				continue
			}
			out = append(out, f.path(k.circle, r))
		}
	}
	return out
}

func (f *track) path(circle bool, r span) Path {
	if !circle {
		on := func(t float64) Node { return Node{Pt: Pt{f.o.X + t*f.d.X, f.o.Y + t*f.d.Y}} }
		return Path{Nodes: []Node{on(r.from), on(r.to)}}
	}
	if r.to-r.from > 2*math.Pi-1e-6 {
		return CirclePath(f.o, f.radius)
	}
	on := func(a float64) Pt { return Pt{f.o.X + f.radius*math.Cos(a), f.o.Y + f.radius*math.Sin(a)} }
	return Path{Nodes: []Node{{on(r.from), math.Tan((r.to - r.from) / 4)}, {Pt: on(r.to)}}}
}
