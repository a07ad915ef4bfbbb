package cutting

import (
	"context"
	"math"
	"slices"
)

// Where many pieces lie on each sheet, and next to nothing may be lost, the
// search over all sheets at one time is slow. There is plenty of choice for the
// first sheets, so these are filled as full as can be one after another, each
// out of all that is left; the last two take what remains together, with more
// room to lose than the whole job has.
const (
	turnMoves = 3_000 // for each sheet but two
	lastMoves = 120_000
	turnShare = 8    // one move of the search for so many of filling in turn
	turnPower = 1.05 // of its area, that a part is worth: small ones are of use on the last sheets
	hopeless  = 0.02 // of a sheet, left over at the least after a quarter of lastMoves: begin anew
)

// crowded reports whether filling sheets in turn is of use: it takes two
// sheets and more, and more pieces on each than dives go through.
func (p *problem) crowded(s *search) bool {
	return !p.flat() && p.value != LeastHeight && len(s.best) >= 3 && p.pieces() > sheetPieces*len(s.best)
}

// inTurn takes turns between filling sheets one after another and the search, so
// many at most. Lots ruled out are not tried.
func (p *problem) inTurn(ctx context.Context, s *search, lots *ledger, b bound, moves, turns int, tell func()) {
	for ; turns > 0 && s.iter < moves && s.unproven(b) && p.crowded(s) && ctx.Err() == nil; turns-- {
		lot := p.cheaperLot(b, s, lots)
		if lot == nil {
			return
		}
		bins, spent := p.turn(ctx, &s.rng, lot, moves-s.iter)
		s.iter += spent
		if bins != nil {
			s.offer(bins)
			tell()
			continue
		}
		if spent == 0 {
			return // no sheet takes what is left
		}
		s.run(ctx, b, min(moves, s.iter+spent/turnShare), tell)
	}
}

// turn fills the sheets of a lot but two one after another, in an order drawn
// by lot, and searches for what is left on the last two. It returns the layout
// when all pieces have a place, or nil, and the moves it took.
func (p *problem) turn(ctx context.Context, rng *rng, lot []int, moves int) (bins []*bin, spent int) {
	demand := make([]int, len(p.types))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	left := slices.Clone(lot)
	var order []int
	for kind, n := range lot {
		for range n {
			order = append(order, kind)
		}
	}
	for i := len(order) - 1; i > 0; i-- {
		k := rng.below(i + 1)
		order[i], order[k] = order[k], order[i]
	}
	for len(order) > 2 && spent < moves && ctx.Err() == nil {
		kind := order[0]
		order = order[1:]
		left[kind]--
		one := make([]int, len(lot))
		one[kind] = 1
		sub, back := p.rest(demand, one)
		s := newSearch(sub, 0)
		s.rng, s.iter = *rng, 1
		s.prize(turnPower)
		top, took := s.fullest(ctx, min(turnMoves, moves-spent))
		*rng = s.rng
		spent += took
		if top != nil {
			named([]*bin{top}, back)
			for i := range top.n {
				if t := top.n[i].typ; t >= 0 {
					demand[t]--
				}
			}
			bins = append(bins, top)
		}
		if done(demand) {
			return bins, spent
		}
	}
	two, took := p.searchLot(ctx, rng, nil, demand, left, min(lastMoves, moves-spent), lastMoves/4, hopeless)
	if spent += took; two == nil {
		return nil, spent
	}
	return append(bins, two...), spent
}

// prize makes parts that wait for a place worth a power of their area.
func (s *search) prize(power float64) {
	s.out = 0
	for t, ty := range s.p.types {
		s.worth[t] = s.unit * math.Pow(ty.area/s.unit, power)
		s.out += s.worth[t] * float64(s.pool[t])
	}
}

// fullest searches for the one sheet that holds the most of what is asked for.
func (s *search) fullest(ctx context.Context, moves int) (top *bin, took int) {
	s.fill(0)
	s.hist = make([]float64, memory)
	s.restart()
	least := s.out
	note := func() {
		if len(s.bins) > 0 {
			top = &bin{}
			top.copyFrom(s.bins[0])
		}
	}
	note()
	for ; took < moves && !s.empty(); took++ {
		if took&63 == 0 && ctx.Err() != nil {
			break
		}
		s.move()
		if s.out < least {
			least = s.out
			note()
		}
	}
	return top, took
}
