package opening

import (
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// Pair are the outlines of the left and the right leaf of a pair of doors that
// leave the gap to the opening and to each other everywhere. They lie in the
// figure's own plane and share the front of Front: they meet along the line
// from the middle of its lower edge to the middle of its upper edge, so each
// takes half of what the opening tapers. False where the gap leaves nothing.
func (s Shape) Pair(gap unit.Length) (leaves [2]geom.Outline, ok bool) {
	if s.Empty() {
		return leaves, false
	}
	e := s.edges(s.Setback(gap))
	var low, high xy
	for i, edge := range [2]int{Left, Right} {
		bottom, found := e[edge].meet(e[Bottom])
		top, also := e[edge].meet(e[Top])
		if !found || !also {
			return leaves, false
		}
		share := 1 / float64(i+1) // the second half way from the first
		low, high = low.to(bottom, share), high.to(top, share)
	}
	r := s.FrontRadius(gap)
	left, right := e, e
	left[Right], right[Left] = along(low, high, gap/2), along(high, low, gap-gap/2)
	a, ok := within(left, [4]unit.Length{TopLeft: r[TopLeft], BottomLeft: r[BottomLeft]})
	b, also := within(right, [4]unit.Length{TopRight: r[TopRight], BottomRight: r[BottomRight]})
	return [2]geom.Outline{a, b}, ok && also
}

// Beside is the outline of the leaf that is made beside one of w × h that is
// cut and hangs at the side, Left or Right: it leaves the gap to the opening
// and to the cut one. That stands upright with its lower left corner at the
// point, the gap below it and at its side: where that stands in most, or where
// it tapers by more than half a gap, in the middle, so that half of it is planed
// off at one end and half is left at the other. False where nothing is left.
func (s Shape) Beside(gap unit.Length, side int, w, h unit.Length) (leaf geom.Outline, at geom.Point, ok bool) {
	if s.Empty() {
		return nil, at, false
	}
	e := s.edges(s.Setback(gap))
	at.Y = s.Setback(gap)[Bottom]
	low, high := e[side].x(at.Y), e[side].x(at.Y+h)
	tapers := (low - high).Abs() > gap/2
	r := s.FrontRadius(gap)
	if side == Left {
		if at.X = max(low, high); tapers {
			at.X = (low + high) / 2
		}
		e[Left] = upright(at.X+w+gap, -1)
		r[TopLeft], r[BottomLeft] = 0, 0
	} else {
		if at.X = min(low, high) - w; tapers {
			at.X = (low+high)/2 - w
		}
		e[Right] = upright(at.X-gap, 1)
		r[TopRight], r[BottomRight] = 0, 0
	}
	leaf, ok = within(e, r)
	return leaf, at, ok
}

// upright is a line that runs upward (1) or downward (-1).
func upright(x unit.Length, way float64) line { return line{xy{x.MM(), 0}, xy{0, way}} }

// x is where an upright edge stands at a height.
func (l line) x(y unit.Length) unit.Length {
	return unit.MM(l.at.x + (y.MM()-l.at.y)/l.way.y*l.way.x)
}
