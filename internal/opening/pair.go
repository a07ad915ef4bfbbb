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
