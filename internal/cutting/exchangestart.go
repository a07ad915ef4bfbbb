package cutting

import (
	"math"
	"slices"
)

// begin goes on from a layout.
func (x *exchange) begin(bins []*bin, value int64) {
	x.now, x.spare, x.price = x.now[:0], nil, value
	for _, s := range x.p.sheets {
		x.spare = append(x.spare, s.stock)
	}
	for _, b := range bins {
		pat := &exchanged{pattern: x.p.pattern(b), set: -1}
		pat.loss = loses(x.p, x.worth, x.scarce, pat.pattern)
		x.now = append(x.now, placed{pat, pat.use, pat.loss})
		x.spare[b.sheet]--
	}
	x.weigh()
	x.least, x.base, x.some = value, slices.Clone(x.now), 1e-6*float64(value+1)
	x.settle()
}

// settle begins the count of changes anew.
func (x *exchange) settle() {
	x.hist = slices.Repeat([]float64{x.loss}, exchangeBack)
	x.lowest, x.stuck = x.loss, 0
}

// anew begins with another layout: at each step the pattern that loses least for
// what it holds of what is left, by lot.
func (x *exchange) anew() {
	was, price, spare := x.now, x.price, slices.Clone(x.spare)
	for i, s := range x.p.sheets {
		x.spare[i] = s.stock
	}
	need := make([]int32, len(x.p.types))
	left := 0
	for t, ty := range x.p.types {
		need[t] = int32(ty.qty)
		left += ty.qty
	}
	for x.now, x.price = nil, 0; left > 0; {
		best := x.cheapest(need)
		if best == nil { // what is in stock holds no more: stay
			x.now, x.price, x.spare = was, price, spare
			break
		}
		s := takeOff(best, x.lost(best, need), need)
		left -= piecesOf(s.use)
		x.now = append(x.now, s)
		x.spare[best.sheet]--
		x.price += x.p.sheets[best.sheet].price
	}
	x.weigh()
	x.settle()
}

// cheapest is the pattern that costs the least for what it holds of what is
// needed, with some luck. Those of a layout hold all parts.
func (x *exchange) cheapest(need []int32) (best *exchanged) {
	least := math.Inf(1)
	look := func(p *exchanged) {
		if x.spare[p.sheet] == 0 {
			return
		}
		held := 0.0
		for _, u := range p.use {
			held += (x.worth[u.typ] + x.some) * float64(min(int32(u.n), need[u.typ]))
		}
		if held > 0 {
			cost := (float64(x.p.sheets[p.sheet].price) + x.scarce[p.sheet]) * (1 + exchangeLot*x.rng.float())
			if v := cost / held; v < least {
				best, least = p, v
			}
		}
	}
	for i := range x.pats {
		look(&x.pats[i])
	}
	for _, s := range x.base {
		look(s.pat)
	}
	x.work += 6 * (len(x.pats) + len(x.base))
	return best
}

// weigh weighs what all sheets lose, and those left in stock.
func (x *exchange) weigh() {
	x.loss = 0
	for _, s := range x.now {
		x.loss += s.loss
	}
	for s, n := range x.spare {
		x.loss += x.scarce[s] * float64(n)
	}
}
