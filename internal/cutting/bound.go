package cutting

import (
	"fmt"
	"math"
	"slices"
)

// A bound is a value that no layout can be below, and why.
type bound struct {
	value int64
	why   string
}

// raise takes the better of two bounds.
func (b *bound) raise(o bound) {
	if o.value > b.value {
		*b = o
	}
}

// areaBound compares the parts' area with that of the sheets, each counted
// with one kerf.
func (p *problem) areaBound() bound {
	if len(p.types) == 0 || len(p.sheets) == 0 {
		return bound{why: whyNothing}
	}
	if p.value == LeastHeight {
		return p.heightBound()
	}
	v := p.areaPrice()
	if v == 0 {
		return bound{why: whyFree}
	}
	if len(p.sheets) == 1 { // whole sheets
		return bound{ceilSafe(p.count(v)) * p.sheets[0].price, p.whyArea(v)}
	}
	return bound{ceilSafe(v), p.whyArea(v)}
}

// areaPrice is the price of the parts' area on the sheet that is cheapest for
// its size.
func (p *problem) areaPrice() float64 {
	cheapest := math.Inf(1)
	for _, s := range p.sheets {
		cheapest = min(cheapest, float64(s.price)/(float64(s.w)*float64(s.h)))
	}
	return p.area() * cheapest
}

// A dual feasible function maps sizes (as shares of the sheet's side) to
// shares so that parts that fit the side together never add up to more than
// one after mapping. With one function for each axis, the products of the
// mapped sides add up to no more than one for the parts of a sheet, so their
// sum over all parts bounds the number of sheets (Fekete and Schepers 2004;
// Carlier, Clautiaux and Moukrim 2007). For a part that may turn the lesser of
// its two products counts.
type dff struct {
	name string
	w, h []float64 // of each type: the share of its W and of its H along this axis
}

// maxDFF bounds the functions tried along one axis.
const maxDFF = 160

// dualBound is the best bound by pairs of dual feasible functions for a job
// with one size of sheet.
func (p *problem) dualBound() bound {
	best := bound{value: math.MinInt64}
	if len(p.sheets) != 1 || len(p.types) == 0 || p.value == LeastHeight {
		return best
	}
	s := p.sheets[0]
	fx, fy := p.functions(s.w, true), p.functions(s.h, false)
	top := 0.0
	for _, f := range fx {
		for _, g := range fy {
			sum := 0.0
			for i := range p.types {
				t := &p.types[i]
				v := f.w[i] * g.h[i]
				if t.turn {
					// An orientation that does not fit is not the lesser one.
					switch {
					case t.w > s.w || t.h > s.h:
						v = f.h[i] * g.w[i]
					case t.h <= s.w && t.w <= s.h:
						v = min(v, f.h[i]*g.w[i])
					}
				}
				sum += v * float64(t.qty)
			}
			if sum > top {
				top = sum
				best.why = p.whyCounted(f.name, g.name, sum)
			}
		}
	}
	best.value = ceilSafe(top) * s.price
	return best
}

// functions lists dual feasible functions for a side of c steps.
func (p *problem) functions(c int64, along bool) []dff {
	var sizes []int64
	fixed := true
	for _, t := range p.types {
		if t.turn {
			fixed = false
			sizes = append(sizes, t.w, t.h)
		} else if along {
			sizes = append(sizes, t.w)
		} else {
			sizes = append(sizes, t.h)
		}
	}
	var cuts []int64
	for _, x := range sizes {
		if x > c {
			continue
		}
		for _, k := range []int64{x, x + 1, c - x, c - x + 1} {
			if k > 0 && 2*k <= c {
				cuts = append(cuts, k)
			}
		}
	}
	for q := int64(2); q <= 12; q++ {
		cuts = append(cuts, c/q, c/q+1)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []dff
	seen := map[string]bool{}
	add := func(name string, f func(x int64) float64) {
		d := dff{name: name, w: make([]float64, len(p.types)), h: make([]float64, len(p.types))}
		k := make([]byte, 0, 16*len(p.types))
		for i, t := range p.types {
			if t.w <= c {
				d.w[i] = f(t.w)
			}
			if t.h <= c {
				d.h[i] = f(t.h)
			}
			if along || t.turn {
				k = fmt.Appendf(k, "%x,", math.Float64bits(d.w[i]))
			}
			if !along || t.turn {
				k = fmt.Appendf(k, "%x,", math.Float64bits(d.h[i]))
			}
		}
		if !seen[string(k)] {
			seen[string(k)] = true
			out = append(out, d)
		}
	}
	full := float64(c)
	add(asTheyAre, func(x int64) float64 { return float64(x) / full })
	every := 1 + 3*len(cuts)/maxDFF
	for n, k := range cuts {
		if n%every != 0 || k <= 0 || 2*k > c {
			continue
		}
		add(asWhole, func(x int64) float64 {
			switch {
			case x > c-k:
				return 1
			case x < k:
				return 0
			}
			return float64(x) / full
		})
		m := c / k
		add(inARow, func(x int64) float64 {
			switch {
			case 2*x > c:
				return float64(m-(c-x)/k) / float64(m)
			case 2*x == c:
				return 0.5
			}
			return float64(x/k) / float64(m)
		})
		if fixed {
			if f := p.countFunction(c, k, along); f != nil {
				add(inARow, f)
			}
		}
	}
	for k := int64(1); k <= 8; k++ {
		add(inARow, func(x int64) float64 {
			if x*(k+1)%c == 0 {
				return float64(x) / full
			}
			return float64(x*(k+1)/c) / float64(k)
		})
	}
	if len(out) > maxDFF {
		out = out[:maxDFF]
	}
	return out
}

// countFunction is the data-dependent function: a part over half the side
// counts for the small parts it displaces, a small part for one.
func (p *problem) countFunction(c, k int64, along bool) func(int64) float64 {
	var small []int64 // the small parts' sizes, least first
	total := 0
	for _, t := range p.types {
		x := t.h
		if along {
			x = t.w
		}
		if x >= k && 2*x <= c {
			for range min(t.qty, int(c/x)) {
				small = append(small, x)
			}
		}
		if total += t.qty; len(small) > 400 {
			return nil
		}
	}
	slices.Sort(small)
	sum := make([]int64, 0, len(small)+1)
	sum = append(sum, 0)
	for _, x := range small {
		sum = append(sum, sum[len(sum)-1]+x)
	}
	fit := func(room int64) int { // how many of the small parts fit at most
		n, _ := slices.BinarySearch(sum, room+1)
		return n - 1
	}
	m := fit(c)
	if m == 0 {
		return nil
	}
	return func(x int64) float64 {
		switch {
		case 2*x > c:
			return float64(m-fit(c-x)) / float64(m)
		case x >= k:
			return 1 / float64(m)
		}
		return 0
	}
}

// heightBound is the least height by area, by the highest part, and by parts
// too wide to lie side by side.
func (p *problem) heightBound() bound {
	s := p.sheets[0]
	steps := ceilSafe(p.area() / float64(s.w))
	why := whyHeight
	var wide int64
	for _, t := range p.types {
		w, h := t.w, t.h
		if t.turn {
			// Turned when it must be, or the way that asks less.
			switch {
			case w > s.w || h > s.h:
				w, h = h, w
			case h <= s.w && w <= s.h:
				h = min(w, h)
				w = min(t.w, t.h)
			}
		}
		if h > steps {
			steps, why = h, whyHighest
		}
		if 2*w > s.w {
			wide += h * int64(t.qty)
		}
	}
	if wide > steps {
		steps, why = wide, whyStacked
	}
	return bound{steps*int64(p.unitY) - int64(p.kerf), why}
}
