package geom

import (
	"cmp"
	"math/bits"
	"slices"

	"casewright/internal/unit"
)

// IsSimple says that the outline neither crosses nor touches itself and has no
// edge without length. Lines are judged exactly, arcs to a micrometre.
func (o Outline) IsSimple() bool {
	for i, v := range o {
		if v.Point == o[(i+1)%len(o)].Point {
			return false
		}
	}
	return simplePolygon(o.Flatten(unit.Micrometre))
}

// simplePolygon says that the closed polygon neither crosses nor touches
// itself. Exact.
func simplePolygon(ps []Point) bool {
	n := len(ps)
	if n < 3 {
		return false
	}
	next := func(i int) int { return (i + 1) % n }
	left := func(i int) unit.Length { return min(ps[i].X, ps[next(i)].X) }
	right := func(i int) unit.Length { return max(ps[i].X, ps[next(i)].X) }
	order := make([]int, n) // sides by their left ends
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(left(i), left(j)), cmp.Compare(i, j)) })
	for k, i := range order {
		for _, j := range order[k+1:] {
			if left(j) > right(i) {
				break
			}
			a, b, c, d := ps[i], ps[next(i)], ps[j], ps[next(j)]
			switch {
			case next(i) == j: // b is c
				if onSegment(d, a, b) || onSegment(a, c, d) {
					return false
				}
			case next(j) == i: // d is a
				if onSegment(c, a, b) || onSegment(b, c, d) {
					return false
				}
			case segmentsMeet(a, b, c, d):
				return false
			}
		}
	}
	return true
}

// orient is 1 when c lies to the left of the line from a to b, -1 to the right
// and 0 on it. Exact.
func orient(a, b, c Point) int {
	return compareProducts(int64(b.X-a.X), int64(c.Y-a.Y), int64(b.Y-a.Y), int64(c.X-a.X))
}

// compareProducts compares a·b with c·d without overflow.
func compareProducts(a, b, c, d int64) int {
	s1, h1, l1 := product(a, b)
	s2, h2, l2 := product(c, d)
	if s1 != s2 || s1 == 0 {
		return cmp.Compare(s1, s2)
	}
	return s1 * cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}

// product is a·b as a sign and 128 bits.
func product(a, b int64) (sign int, hi, lo uint64) {
	sign = cmp.Compare(a, 0) * cmp.Compare(b, 0)
	hi, lo = bits.Mul64(absolute(a), absolute(b))
	return sign, hi, lo
}

func absolute(a int64) uint64 {
	if a < 0 {
		return -uint64(a)
	}
	return uint64(a)
}

// onSegment says that p lies on the segment from a to b, its ends included.
func onSegment(p, a, b Point) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) &&
		min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y) && orient(a, b, p) == 0
}

// segmentsMeet says that the segments ab and cd have a point in common.
func segmentsMeet(a, b, c, d Point) bool {
	if max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
		return false
	}
	if orient(a, b, c)*orient(a, b, d) < 0 && orient(c, d, a)*orient(c, d, b) < 0 {
		return true
	}
	return onSegment(c, a, b) || onSegment(d, a, b) || onSegment(a, c, d) || onSegment(b, c, d)
}
