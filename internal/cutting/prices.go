package cutting

import "math"

// nextPrice is the least total price, not below low, of sheets in stock that
// together have at least the area of the parts. No layout costs an amount
// between. Where there are too many mixes of sheets to look at, it is the next
// multiple of the prices' common divisor.
func (p *problem) nextPrice(low int64) int64 {
	var g int64
	need := p.area()
	type kind struct {
		price int64
		area  float64
		most  int
	}
	var kinds []kind
	for _, s := range p.sheets {
		a := float64(s.w) * float64(s.h)
		if s.price == 0 {
			need -= a * float64(s.stock)
			continue
		}
		for g2, b := g, s.price; ; g2, b = b, g2%b {
			if b == 0 {
				g = g2
				break
			}
		}
		kinds = append(kinds, kind{s.price, a, s.stock})
	}
	if g == 0 {
		return low
	}
	next := (low + g - 1) / g * g
	need -= 1e-9 * math.Abs(need) // on the safe side of rounding
	best, steps := int64(math.MaxInt64), 0
	const most = 300_000
	var try func(i int, price int64, area float64)
	try = func(i int, price int64, area float64) {
		if steps++; steps > most || best == next {
			return
		}
		k := kinds[i]
		if i == len(kinds)-1 {
			n := max(0, int64(math.Ceil((need-area)/k.area)), (next-price+k.price-1)/k.price)
			if n <= int64(k.most) {
				best = min(best, price+n*k.price)
			}
			return
		}
		for n := 0; n <= k.most; n++ {
			q := price + int64(n)*k.price
			if q >= best {
				return
			}
			try(i+1, q, area+float64(n)*k.area)
			if steps > most || q >= next && area+float64(n)*k.area >= need {
				return
			}
		}
	}
	try(0, 0, 0)
	if steps > most || best == math.MaxInt64 {
		return next
	}
	return best
}
