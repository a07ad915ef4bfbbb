package drawing

import (
	"math"

	"casewright/internal/unit"
)

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

// PlaneMark shows on a view where a section is taken: a chain line with a
// letter at both ends and arrows the way one looks.
type PlaneMark struct {
	Upright bool    // the plane is seen as an upright line
	At      float64 // its x, or its y when it lies level
	Letter  string
	Look    float64 // +1: one looks toward greater x or y, −1: toward less
}

// MarkPlane shows the plane of a section on a view from the front (planes
// across x and z), from the right (y and z) or from above (x and y).
func (v *View) MarkPlane(p Plane, at unit.Length, seenFrom string, letter string) {
	k := PlaneMark{At: at.MM(), Letter: letter, Upright: p != AcrossZ, Look: -1}
	switch {
	case p == AcrossY && seenFrom == "above":
		k.Upright, k.Look = false, 1
	case p == AcrossY:
		k.Look = 1
	}
	v.Planes = append(v.Planes, k)
}

func (k PlaneMark) draw(m mapping, core Rect) []Item {
	const over = 5.0
	at := m.pt(Pt{k.At, k.At})
	var a, b, look Pt
	if k.Upright {
		a, b, look = Pt{at.X, core.Y - over}, Pt{at.X, core.Bottom() + over}, Pt{k.Look, 0}
	} else {
		a, b, look = Pt{core.X - over, at.Y}, Pt{core.Right() + over, at.Y}, Pt{0, -k.Look}
	}
	out := []Item{Segment(PenCentre, a, b)}
	for _, e := range []Pt{a, b} {
		tip := e.Add(look.X*5, look.Y*5)
		out = append(out, Segment(PenMedium, e, tip), Fill{Black, []Path{pathOf([]Pt{
			tip.Add(look.X*0.2, look.Y*0.2),
			tip.Add(-look.X*1.8-look.Y*0.6, -look.Y*1.8-look.X*0.6),
			tip.Add(-look.X*1.8+look.Y*0.6, -look.Y*1.8+look.X*0.6),
		}, true)}})
		t := Text{At: e.Add(-look.X*2.4, -look.Y*2.4+SizeLarge*CapHeight/2), S: k.Letter, Size: SizeLarge, Weight: Bold, Anchor: Middle, Plain: true}
		out = append(out, t.Knock(0.3), t)
	}
	return out
}
