package cutting

import (
	"context"
	"slices"
)

// searchLot searches for a layout of the demand on a lot of sheets, from the
// sheets given on. It gives up when its patience is over, in moves, while all it
// found leaves out more worth than hope, a share of a sheet. It returns all its
// sheets, or nil, and the moves it took.
func (p *problem) searchLot(ctx context.Context, rng *rng, from []*bin, demand, lot []int, moves, patience int, hope float64) (bins []*bin, took int) {
	sub, back := p.rest(demand, lot)
	to := make([]int32, len(p.types))
	for i, t := range back {
		to[t] = int32(i)
	}
	s := newSearch(sub, 0)
	s.rng, s.iter, s.limit = *rng, 1, 0
	for i, n := range lot {
		s.limit += int64(n) * sub.sheets[i].price
	}
	var begin []*bin
	for _, b := range from {
		c := &bin{}
		c.copyFrom(b)
		for i := range c.n {
			if t := c.n[i].typ; t >= 0 {
				c.n[i].typ = to[t]
			}
		}
		begin = append(begin, c)
	}
	s.load(begin)
	for _, b := range begin {
		for i := range b.n {
			if t := b.n[i].typ; t >= 0 {
				s.pool[t]--
			}
		}
	}
	for i, t := range sub.types {
		s.pool[i] += t.qty
		s.out += t.area * float64(s.pool[i])
	}
	s.fill(0)
	s.hist = make([]float64, memory)
	s.restart()
	least := s.out
	for ; took < moves && !s.empty(); took++ {
		if took&63 == 0 && ctx.Err() != nil || took == patience && least > hope*s.unit {
			break
		}
		s.move()
		s.weigh()
		least = min(least, s.out)
	}
	*rng = s.rng
	if !s.empty() {
		return nil, took
	}
	named(s.bins, back)
	return s.bins, took
}

// named gives the parts of sheets of what was left the numbers of the whole job.
func named(bins []*bin, back []int) {
	for _, b := range bins {
		for i := range b.n {
			if t := b.n[i].typ; t >= 0 {
				b.n[i].typ = int32(back[t])
			}
		}
	}
}

// rest is the problem of what is left, and which type of p each of its types is.
func (p *problem) rest(demand, lot []int) (*problem, []int) {
	sub := &problem{value: p.value, unitX: p.unitX, unitY: p.unitY, kerf: p.kerf, depth: p.depth, run: p.run, cores: p.cores, sheets: slices.Clone(p.sheets)}
	var back []int
	for i, t := range p.types {
		if demand[i] > 0 {
			back = append(back, i)
			t.qty = demand[i]
			sub.types = append(sub.types, t)
		}
	}
	for i := range sub.sheets {
		sub.sheets[i].stock = lot[i]
	}
	return sub, back
}
