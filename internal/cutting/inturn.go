package cutting

import (
	"context"
	"math"
	"slices"
)

// Where many pieces lie on each sheet, and next to nothing may be lost, the
// search over all sheets at one time is slow. There is plenty of choice for the
// first sheets, so these are filled as full as can be one after another, each
// out of all that is left. They lose so little that the last one, or the last
// two together, may lose nearly all that the whole job may, and are searched for.
const (
	turnMoves   = 3_000 // for each sheet but two, where blocks do not fill it
	crowdPieces = 8     // on a sheet, on average: fewer are no choice
	lastMoves   = 120_000
	turnShare   = 8    // one move of the search for so many of filling in turn
	turnPower   = 1.05 // of its area, that a part is worth: small ones are of use on the last sheets
	hopeless    = 0.02 // of a sheet, left over at the least after a quarter of lastMoves: begin anew
	topShare    = 3    // blocks go on until a sheet loses no more than one part in so many of its share
	wider       = 2    // times at most that the blocks gone on with are doubled, filling after filling
)

// crowded reports whether filling sheets in turn is of use: it takes two
// sheets and more, and many pieces on each. With several sizes of sheet, where
// few pieces are on each, it matters more which are bought, and most where sizes
// repeat.
func (p *problem) crowded(s *search) bool {
	pieces := crowdPieces
	switch {
	case len(p.sheets) == 1:
	case p.repeats():
		pieces = sheetPieces
	default:
		pieces = lotPieces
	}
	return !p.flat() && p.value != LeastHeight && len(s.best) >= 3 && p.pieces() > pieces*len(s.best)
}

// A turn fills the sheets of a lot in turn.
type turn struct {
	p     *problem
	lot   []int
	rng   rng
	try   int // how many were before it
	moves int

	bins  []*bin // nil: some pieces have no place
	spent int
}

// inTurn takes turns between filling sheets one after another and the search, so
// many at most. Lots ruled out are not tried. The filling after the one at hand
// may be begun on another core.
func (p *problem) inTurn(ctx context.Context, s *search, lots *ledger, b bound, moves, turns int, tell func()) {
	var ahead *errand[*turn]
	var next *turn
	defer func() { ahead.drop() }()
	draw := func(lot []int, moves int) *turn {
		s.turns++
		return &turn{p: p, lot: lot, rng: newRNG(s.rng.next()), try: s.turns - 1, moves: moves}
	}
	for ; turns > 0 && s.iter < moves && s.unproven(b) && p.crowded(s) && ctx.Err() == nil; turns-- {
		lot := p.cheaperLot(b, s, lots)
		if lot == nil {
			return
		}
		var t *turn
		if next != nil && slices.Equal(next.lot, lot) {
			t = ahead.want()
			next, ahead = nil, nil
		} else {
			ahead.drop()
			next, ahead = nil, nil
			t = draw(lot, moves-s.iter)
			if len(p.sheets) == 1 && turns > 1 { // else the next lot is not known
				n := draw(lot, (moves-s.iter)/2) // the one at hand will have had some
				next, ahead = n, begin(ctx, p.cores, func(ctx context.Context) *turn { n.fill(ctx); return n })
			}
			t.fill(ctx)
		}
		s.iter += t.spent
		if t.bins != nil {
			s.offer(t.bins)
			tell()
			continue
		}
		if t.spent == 0 {
			return // there are no moves for it
		}
		s.run(ctx, b, min(moves, s.iter+t.spent/turnShare), tell)
	}
}

// fill fills the sheets but one or two one after another, in an order drawn
// by lot, and searches for what is left on the last.
func (t *turn) fill(ctx context.Context) {
	p, lot, rng := t.p, t.lot, &t.rng
	demand := make([]int, len(p.types))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	var bins []*bin
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
	last := 2
	if p.blockable() && t.try%2 == 0 {
		last = 1
	}
	for len(order) > last && t.spent < t.moves && ctx.Err() == nil {
		kind := order[0]
		one := make([]int, len(lot))
		one[kind] = 1
		sub, back := p.rest(demand, one)
		top, took := sub.topSheet(ctx, rng, kind, firstBlocks<<min(t.try/2, wider), p.spare(demand, order), t.moves-t.spent)
		order = order[1:]
		left[kind]--
		t.spent += took
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
			t.bins = bins
			return
		}
	}
	two, took := p.searchLot(ctx, rng, nil, demand, left, min(lastMoves, t.moves-t.spent), lastMoves/4, hopeless)
	if t.spent += took; two != nil {
		t.bins = append(bins, two...)
	}
}

// spare is the share of these sheets that is left over when all that is asked
// for lies on them.
func (p *problem) spare(demand, sheets []int) float64 {
	all := 0.0
	for _, kind := range sheets {
		all += p.size(kind)
	}
	left := all
	for t, n := range demand {
		left -= float64(n) * p.types[t].area
	}
	return max(0, left/all)
}

// topSheet fills one sheet with the most area of what is asked for. A share of
// it may be lost; it is content with a part of that.
func (p *problem) topSheet(ctx context.Context, rng *rng, kind, width int, share float64, moves int) (top *bin, took int) {
	top, took = p.blockFull(ctx, rng, kind, width, share/topShare, moves)
	if top != nil && top.used >= (1-share)*p.size(kind) {
		return top, took
	}
	s := newSearch(p, 0)
	s.rng, s.iter = *rng, 1
	s.prize(turnPower)
	other, more := s.fullest(ctx, min(turnMoves, max(0, moves-took)))
	*rng = s.rng
	if top == nil || other != nil && other.used > top.used {
		top = other
	}
	return top, took + more
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
