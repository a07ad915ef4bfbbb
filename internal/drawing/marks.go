package drawing

import "math"

// EdgeMark is a note just outside an edge of the drawn bounds: the edge's
// name, and the line of a band on it.
type EdgeMark struct {
	Side Side
	Says string
	Band bool
}

// draw sets the mark beside core; its words stand beyond the dimensions, which
// take up used.
func (e EdgeMark) draw(core Rect, used float64) []Item {
	var out []Item
	mid := Pt{core.X + core.W/2, core.Y + core.H/2}
	const gap = 0.9
	off := 3.1 + used
	t := Text{S: e.Says, Size: SizeSmall, Anchor: Middle, Grey: 0.3}
	rise := CapHeight * SizeSmall / 2
	var a, b Pt
	switch e.Side {
	case Above:
		a, b = Pt{core.X, core.Y - gap}, Pt{core.Right(), core.Y - gap}
		t.At = Pt{mid.X, core.Y - off + rise}
	case Below:
		a, b = Pt{core.X, core.Bottom() + gap}, Pt{core.Right(), core.Bottom() + gap}
		t.At = Pt{mid.X, core.Bottom() + off + rise}
	case LeftOf:
		a, b = Pt{core.X - gap, core.Y}, Pt{core.X - gap, core.Bottom()}
		t.At, t.Turn = Pt{core.X - off + rise, mid.Y}, 90
	case RightOf:
		a, b = Pt{core.Right() + gap, core.Y}, Pt{core.Right() + gap, core.Bottom()}
		t.At, t.Turn = Pt{core.Right() + off + rise, mid.Y}, 90
	}
	if e.Band {
		out = append(out, Segment(PenOutline, a, b))
	}
	if e.Says != "" {
		out = append(out, t.Knock(0.3), t)
	}
	return out
}

// GrainMark is the double arrow that shows which way the grain runs.
type GrainMark struct {
	At   Pt
	Way  Pt      // direction in the view
	Most float64 // length at most, in the view's millimetres
}

func (g GrainMark) draw(m mapping) []Item {
	l := math.Hypot(g.Way.X, g.Way.Y)
	if l == 0 {
		return nil
	}
	dx, dy := g.Way.X/l, g.Way.Y/l
	if m.flip {
		dy = -dy
	}
	half := min(11, g.Most*m.k/2)
	c := m.pt(g.At)
	a, b := c.Add(-dx*half, -dy*half), c.Add(dx*half, dy*half)
	const h = 1.6
	arrow := func(p Pt, s float64) Item {
		return Polyline(PenThin, p.Add(-s*h*dx-h*0.45*dy, -s*h*dy+h*0.45*dx), p, p.Add(-s*h*dx+h*0.45*dy, -s*h*dy-h*0.45*dx))
	}
	return []Item{Segment(PenThin, a, b), arrow(a, -1), arrow(b, 1)}
}
