package cutting

import (
	"math"

	"casewright/internal/unit"
)

// A need is what lots of sheets must come to: each sheet of kind i gives at
// most gives[i], and all together must give least. A part of a cover knows
// nothing of sheets that its lot has none of, and has +Inf for them; such needs
// are not for nextLot.
type need struct {
	gives []float64
	least float64
}

// rulesOut reports whether a lot of sheets falls short of a need.
func (n need) rulesOut(lot []int) bool {
	if n.gives == nil {
		return false
	}
	sum := 0.0
	for i, c := range lot {
		sum += float64(c) * n.gives[i]
	}
	return sum < n.least*(1-1e-12) // on the safe side of rounding
}

// areaNeed says that sheets must have the area of the parts.
func (p *problem) areaNeed() need {
	n := need{least: p.area() * (1 - 1e-9)} // on the safe side of rounding
	for _, s := range p.sheets {
		n.gives = append(n.gives, float64(s.w)*float64(s.h))
	}
	return n
}

// nextPrice is the least total price, not below low, of a lot of sheets in
// stock that meets all needs, and that lot. No layout costs an amount between.
// Where there are too many lots to look at, it is the next multiple of the
// prices' common divisor, and there is no lot.
func (p *problem) nextPrice(low int64, needs ...need) (int64, []int) {
	price, lot, _ := p.nextLot(low, nil, needs)
	return price, lot
}

// nextLot is nextPrice of lots that are not within one of those out; it tells
// the steps it took.
func (p *problem) nextLot(low int64, out [][]int, needs []need) (price int64, lot []int, steps int) {
	const most = 300_000
	f := lotFinder{p: p, lot: make([]int, len(p.sheets)), best: math.MaxInt64, steps: most, out: out}
	var g int64
	for _, n := range needs {
		f.left = append(f.left, n.least)
	}
	for i, s := range p.sheets {
		if s.price == 0 { // costs nothing: take all
			f.lot[i] = s.stock
			for k, n := range needs {
				f.left[k] -= float64(s.stock) * n.gives[i]
			}
			continue
		}
		f.kinds = append(f.kinds, i)
		for a, b := g, s.price; ; a, b = b, a%b {
			if b == 0 {
				g = a
				break
			}
		}
	}
	if g == 0 {
		return low, nil, 0
	}
	f.next = (low + g - 1) / g * g
	f.needs = needs
	// From kind k on, at most so much of each need for its price.
	f.rate = make([][]float64, len(f.kinds)+1)
	f.rate[len(f.kinds)] = make([]float64, len(needs))
	for k := len(f.kinds) - 1; k >= 0; k-- {
		for n, d := range needs {
			i := f.kinds[k]
			f.rate[k] = append(f.rate[k], max(f.rate[k+1][n], d.gives[i]/float64(p.sheets[i].price)))
		}
	}
	f.try(0, 0)
	if f.steps <= 0 || f.best == math.MaxInt64 {
		return f.next, nil, most - f.steps
	}
	return f.best, f.found, most - f.steps
}

type lotFinder struct {
	p     *problem
	needs []need
	left  []float64 // of each need
	kinds []int     // sheets with a price
	rate  [][]float64
	lot   []int
	next  int64
	best  int64
	found []int
	steps int
	out   [][]int // lots that will not do, nor will less
}

// try adds sheets of kind k and those after it to a lot of the price given.
func (f *lotFinder) try(k int, price int64) {
	if f.steps -= 1 + len(f.left)/4; f.steps <= 0 || f.best == f.next {
		return
	}
	least := max(price, f.next)
	for n, left := range f.left {
		if left > 0 {
			if f.rate[k][n] == 0 {
				return
			}
			least = max(least, price+int64(math.Ceil(left/f.rate[k][n]*(1-1e-9)-1e-9)))
		}
	}
	if least >= f.best {
		return
	}
	if k == len(f.kinds) {
		if price >= f.next && !f.within() {
			f.best = price
			f.found = append(f.found[:0], f.lot...)
		}
		return
	}
	i := f.kinds[k]
	s := f.p.sheets[i]
	from := 0
	if k == len(f.kinds)-1 { // the last kind makes up what is left
		from = int(min(int64(s.stock)+1, max(0, (f.next-price+s.price-1)/s.price)))
		for n, left := range f.left {
			if left > 0 && f.needs[n].gives[i] > 0 {
				from = max(from, int(min(float64(s.stock)+1, math.Ceil(left/f.needs[n].gives[i]*(1-1e-9)-1e-9))))
			}
		}
	}
	save := make([]float64, len(f.left))
	copy(save, f.left)
	for n := from; n <= s.stock; n++ {
		q := price + int64(n)*s.price
		if q >= f.best {
			break
		}
		done := q >= f.next
		for m := range f.left {
			f.left[m] = save[m] - float64(n)*f.needs[m].gives[i]
			done = done && f.left[m] <= 0
		}
		f.lot[i] = n
		f.try(k+1, q)
		if done && !f.within() || f.steps <= 0 {
			break
		}
	}
	f.lot[i] = 0
	copy(f.left, save)
}

// within reports whether the lot is no more than one of those out.
func (f *lotFinder) within() bool {
	for k, o := range f.out {
		less := true
		for i, n := range f.lot {
			less = less && n <= o[i]
		}
		if less {
			f.steps -= k / 4
			return true
		}
	}
	f.steps -= len(f.out) / 4
	return false
}

// leastLot is the least price, not below low, of sheets with enough area.
func (p *problem) leastLot(low int64) int64 {
	v, _ := p.nextPrice(low, p.areaNeed())
	return v
}

// manyKinds reports whether lots of sheets say more than the area alone.
func (p *problem) manyKinds() bool {
	return p.value == LeastPrice || p.value == FewestSheets && len(p.sheets) > 1
}

// lotBound is the least that sheets with enough area can come to, not below
// the bound given.
func (p *problem) lotBound(low bound) bound {
	b := bound{p.leastLot(low.value), low.why}
	if b.value <= low.value {
		return b
	}
	if p.leastLot(1) == b.value {
		b.why = p.whyLots(b.value)
	} else if !p.counted() {
		b.why += "; the next price that sheets add up to is " + unit.Money(b.value).Format()
	}
	return b
}
