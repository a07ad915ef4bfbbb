package cutting

import (
	"context"
	"slices"
)

// Bars of several prices: which lots of bars at most at the limit's price are
// there, and does one of them hold all pieces? Only lots matter to which no
// bar can be added. The program over patterns, with the bars of the lot and
// pieces left out at a price, rules a lot out when pieces are left out; else
// a dive with just these bars tries to cut them all.

// Limits of the lots looked at.
const (
	lotKinds = 40 // of bars
	mostLots = 400
	lotWork  = 60_000_000 // for each lot, first
	lotDive  = 30_000_000
)

// lots lists the lots in stock that cost at most limit, have room for
// all pieces by area, and to which no bar can be added. It is not whole when there are
// too many.
func (p *problem) lots(limit int64) (list [][]int, whole bool) {
	area := p.area() * (1 - 1e-9)
	lot := make([]int, len(p.sheets))
	steps := 0
	var try func(k int, left int64)
	try = func(k int, left int64) {
		if steps++; steps > 1000*mostLots || len(list) > mostLots {
			return
		}
		if k < len(lot) {
			s := p.sheets[k]
			most := s.stock
			if s.price > 0 {
				most = int(min(int64(s.stock), left/s.price))
			}
			least := 0
			if k == len(lot)-1 || s.price == 0 {
				least = most // more is never worse
			}
			for n := most; n >= least; n-- {
				lot[k] = n
				try(k+1, left-int64(n)*s.price)
			}
			return
		}
		sum := 0.0
		for i, n := range lot {
			if s := p.sheets[i]; n < s.stock && s.price <= left {
				return
			}
			sum += float64(n) * float64(p.sheets[i].w) * float64(p.sheets[i].h)
		}
		if sum >= area {
			list = append(list, slices.Clone(lot))
		}
	}
	try(0, limit)
	return list, steps <= 1000*mostLots && len(list) <= mostLots
}

// tryLots looks at the lots that cost less than the best layout, until one of
// them holds all pieces or all are ruled out. Then the best layout is proven.
func (l *lengths) tryLots(ctx context.Context, b *bound, moves int) {
	s, p := l.s, l.s.p
	if len(p.sheets) < 2 || len(p.sheets) > lotKinds {
		return
	}
	work := moves * moveWork
	for work > 0 && s.unproven(*b) {
		list, whole := p.lots(s.bestValue - l.unit)
		better := false
		for _, lot := range list {
			q := *p
			q.sheets = slices.Clone(p.sheets)
			for i := range q.sheets {
				q.sheets[i].price, q.sheets[i].stock = 0, lot[i]
			}
			m := newMix(ctx, &q, newFiller(&q))
			for _, c := range l.m.cols {
				if c.sheet >= 0 {
					m.learn(pattern{sheet: c.sheet, use: c.use})
				}
			}
			const none = 1e-6
			m.relax(func() bool {
				return *m.work > min(lotWork, work) || m.bound > none || m.value() < none
			})
			if m.bound <= none {
				whole = false
				d := &dive{m: m, rng: s.rng}
				found := d.find(0, *m.work+min(lotDive, work))
				s.rng = d.rng
				if found != nil {
					value := s.bestValue
					s.offer(p.bins(found))
					better = s.bestValue < value
				}
			}
			for _, c := range m.cols {
				if c.sheet >= 0 {
					l.m.learn(pattern{sheet: c.sheet, use: c.use})
				}
			}
			work -= *m.work
			s.iter += *m.work / moveWork
			if better || work <= 0 || ctx.Err() != nil {
				whole = false
				break
			}
		}
		if whole {
			b.raise(bound{s.bestValue, p.whyMixes(s.bestValue)})
		}
		if !better {
			return
		}
	}
}
