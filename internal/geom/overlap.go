package geom

import (
	"cmp"
	"math"
	"slices"

	"casewright/internal/unit"
)

// Region is a face with holes: a place belongs to it when it is inside an odd
// number of its outlines. The outlines may not cross.
type Region []Outline

// Area is the area of the region, provided that its outer outlines run
// anticlockwise and its holes clockwise.
func (r Region) Area() unit.Area {
	var sum unit.Area
	for _, o := range r {
		sum += o.Area()
	}
	return sum
}

// Bounds is the smallest upright rectangle round the region.
func (r Region) Bounds() Bounds {
	var b Bounds
	first := true
	for _, o := range r {
		if len(o) == 0 {
			continue
		}
		c := o.Bounds()
		if first {
			b, first = c, false
			continue
		}
		b.Min = P(min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y))
		b.Max = P(max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y))
	}
	return b
}

// overlapTol is how closely OverlapArea follows an arc.
const overlapTol = 10 * unit.Micrometre

// side is one straight side of a region, running to the right.
type side struct {
	a, b  pt
	owner int // 0 or 1: of the first or second region
}

// height is y on the side's line at x.
func (s side) height(x float64) float64 {
	return s.a.y + (s.b.y-s.a.y)*((x-s.a.x)/(s.b.x-s.a.x))
}

// OverlapArea is the area common to both regions. Arcs are followed to 0.01
// mm; otherwise its error is that of float64. Faces that only touch have none.
//
// The plane is cut into upright slabs at every corner and at every crossing of
// the two regions, so that within a slab no side crosses another and what both
// share is a row of trapezia.
func OverlapArea(a, b Region) unit.Area {
	ba, bb := a.Bounds(), b.Bounds()
	if !ba.Meets(bb) {
		return 0
	}
	from := math.Max(ba.Min.pt().x, bb.Min.pt().x)
	to := math.Min(ba.Max.pt().x, bb.Max.pt().x)
	sides := append(a.sides(0, from, to), b.sides(1, from, to)...)
	slices.SortFunc(sides, func(s, t side) int { return cmp.Compare(s.a.x, t.a.x) })
	xs := []float64{from, to}
	for i, s := range sides {
		xs = append(xs, s.a.x, s.b.x)
		for _, t := range sides[i+1:] {
			if t.a.x >= s.b.x {
				break
			}
			if x, ok := s.crossing(t); ok {
				xs = append(xs, x)
			}
		}
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	sum := 0.0
	var over []side // the sides over the slab
	for i := 1; i < len(xs); i++ {
		x0, x1 := xs[i-1], xs[i]
		over = slices.DeleteFunc(over, func(s side) bool { return s.b.x < x1 })
		for len(sides) > 0 && sides[0].a.x <= x0 {
			if sides[0].b.x >= x1 {
				over = append(over, sides[0])
			}
			sides = sides[1:]
		}
		if x0 >= from && x1 <= to {
			sum += slab(over, x0, x1)
		}
	}
	return unit.Area(sum * 1e-18)
}

// slab is the area common to both regions between x0 and x1, which all sides
// pass over.
func slab(over []side, x0, x1 float64) float64 {
	type cut struct {
		y     float64 // in the middle of the slab
		owner int
	}
	middle := x0 + (x1-x0)/2
	cuts := make([]cut, len(over))
	for i, s := range over {
		cuts[i] = cut{s.height(middle), s.owner}
	}
	slices.SortFunc(cuts, func(a, b cut) int { return cmp.Compare(a.y, b.y) })
	// The sides are straight, so a trapezium is its width in the middle times
	// the width of the slab.
	var inside [2]bool
	sum := 0.0
	for i, c := range cuts {
		if i > 0 && inside[0] && inside[1] {
			sum += c.y - cuts[i-1].y
		}
		inside[c.owner] = !inside[c.owner]
	}
	return sum * (x1 - x0)
}

// sides are the straight sides of the region that reach into from..to;
// upright ones bound no slab and are left out.
func (r Region) sides(owner int, from, to float64) []side {
	var out []side
	for _, o := range r {
		ps := o.Flatten(overlapTol)
		for i, p := range ps {
			a, b := p.pt(), ps[(i+1)%len(ps)].pt()
			if a.x > b.x {
				a, b = b, a
			}
			if a.x < b.x && a.x < to && b.x > from {
				out = append(out, side{a, b, owner})
			}
		}
	}
	return out
}

// crossing is the x where sides of the two regions cross; false when they do
// not.
func (s side) crossing(t side) (float64, bool) {
	if s.owner == t.owner {
		return 0, false
	}
	from, to := math.Max(s.a.x, t.a.x), math.Min(s.b.x, t.b.x)
	if from >= to {
		return 0, false
	}
	before, after := s.height(from)-t.height(from), s.height(to)-t.height(to)
	if before*after >= 0 {
		return 0, false
	}
	return from + (to-from)*(before/(before-after)), true
}
