package cutting

import (
	"cmp"
	"context"
	"slices"
)

// Which panels are bought matters more than how the parts lie on them, and the
// search changes it slowly. So lots of panels that cost less than the best
// layout are tried as such: a search on each, short at first; those that leave
// the most area over are dropped, and the rest go on for longer.

const (
	contestMoves = 30_000
	leastContest = 2_000
	lotEntries   = 100   // lots that parts are laid out on once
	lotFinal     = 8     // and of those the ones searched
	lotDraws     = 300   // lots drawn where there are too many to list
	fillToMove   = 8     // pieces laid out afresh for one move
	lotsMoves    = 300   // that listing the lots is worth
	lotTurn      = 1_000 // moves for each at first
	lotFilled    = 4     // lots filled sheet by sheet before that
	lotPieces    = 10    // on a sheet of theirs, on average, at least
)

// An entrant is a search on one lot.
type entrant struct {
	o    *search
	left float64 // the least area it left over
	told int     // its moves that are counted
}

// contests go on while they find cheaper layouts, and their moves are at most
// half of those given. The first of each aims well below the best layout, the
// next just below.
func (s *search) contests(ctx context.Context, b bound, moves int, tell func()) {
	step := s.p.priceStep()
	part := min(contestMoves, moves/8)
	for found := true; found && part >= leastContest; {
		found = false
		for _, share := range []float64{0.25, 0} {
			if !s.unproven(b) || s.iter >= moves/2 || ctx.Err() != nil {
				return
			}
			low := int64(share*float64(s.bestValue-b.value)) / step * step
			if found = s.contest(ctx, min(s.bestValue-step, s.bestValue-low), part); found {
				tell()
				break
			}
		}
	}
}

// contest tries lots that cost at most limit and reports whether one of them
// holds all parts. It uses about as many moves as given.
func (s *search) contest(ctx context.Context, limit int64, moves int) bool {
	var list []entrant
	for _, lot := range s.likelyLots(limit, moves) {
		q := *s.p
		q.sheets = slices.Clone(s.p.sheets)
		for i := range q.sheets {
			q.sheets[i].stock = lot[i]
		}
		o := newSearch(&q, s.rng.next())
		o.dense = s.dense.like()
		o.fill(0)
		o.iter = 1
		o.hist = make([]float64, memory)
		o.bestOut = 0 // not asked for: what waits may be worth more
		o.restart()
		list = append(list, entrant{o, o.out, o.iter})
	}
	s.iter += lotsMoves + len(list)*s.p.pieces()/fillToMove
	if len(list) == 0 {
		return false
	}
	least := func() {
		slices.SortStableFunc(list, func(a, b entrant) int { return cmp.Compare(a.left, b.left) })
	}
	least()
	list = list[:min(len(list), lotFinal)]
	for i := range list[:min(len(list), lotFilled)] {
		if s.fillLot(ctx, list[i].o.p, moves/2) {
			return true
		}
	}
	turn := lotTurn
	for stop := s.iter + moves; s.iter < stop && ctx.Err() == nil; turn *= 2 {
		s.p.cores.First(len(list), func(i int, past func() bool) bool { return list[i].run(ctx, turn, past) })
		for i := range list {
			e := &list[i]
			s.iter += e.o.iter - e.told
			e.told = e.o.iter
			s.dense.merge(e.o.dense)
			if e.o.empty() {
				value := s.bestValue
				s.offer(e.o.bins)
				return s.bestValue < value
			}
		}
		least()
		list = list[:max(1, len(list)/2)]
	}
	return false
}

// fillLot fills the sheets of a lot in turn, which often takes no time where many
// unlike pieces lie on each. It reports whether that makes a cheaper layout.
func (s *search) fillLot(ctx context.Context, lot *problem, moves int) bool {
	p, sheets := s.p, 0
	for _, sh := range lot.sheets {
		sheets += sh.stock
	}
	if !p.blockable() || p.repeats() || sheets < 2 || p.pieces() < lotPieces*sheets || ctx.Err() != nil {
		return false
	}
	t := &turn{p: p, lot: lot.stocks(), rng: newRNG(s.rng.next()), moves: moves}
	t.fill(ctx)
	s.iter += t.spent
	if t.bins == nil {
		return false
	}
	value := s.bestValue
	s.offer(t.bins)
	return s.bestValue < value
}

// run searches for so many moves, and reports whether there is a layout.
func (e *entrant) run(ctx context.Context, moves int, past func() bool) bool {
	for k := 0; k < moves && !e.o.empty(); k++ {
		if k&63 == 0 && (ctx.Err() != nil || past()) {
			return false
		}
		e.o.move()
		e.o.weigh()
		e.left = min(e.left, e.o.lacks())
	}
	return e.o.empty()
}

// lacks is the area of what has no place.
func (s *search) lacks() (area float64) {
	for t, n := range s.pool {
		area += float64(n) * s.p.types[t].area
	}
	return area
}

// likelyLots are the lots at most at the limit that promise most: of much area
// and few panels.
func (s *search) likelyLots(limit int64, moves int) [][]int {
	list, whole := s.p.lots(limit)
	if !whole {
		list = s.drawnLots(limit)
	}
	rank := func(lot []int) (area float64, n int) {
		for i, k := range lot {
			area += float64(k) * float64(s.p.sheets[i].w) * float64(s.p.sheets[i].h)
			n += k
		}
		return area, n
	}
	slices.SortStableFunc(list, func(a, b []int) int {
		x, m := rank(a)
		y, n := rank(b)
		return cmp.Or(cmp.Compare(y, x), m-n)
	})
	most := moves * fillToMove / 4 / s.p.pieces() // a quarter of the moves
	return list[:min(len(list), lotEntries, max(1, most))]
}

// drawnLots draws lots that have the area and to which no panel can be added.
func (s *search) drawnLots(limit int64) [][]int {
	p := s.p
	need := p.area() * (1 - 1e-9)
	seen := map[string]bool{}
	var list [][]int
	order := make([]int, len(p.sheets))
	for i := range order {
		order[i] = i
	}
	for range lotDraws {
		lot := make([]int, len(p.sheets))
		left, area := limit, 0.0
		put := func(i, n int) {
			sh := p.sheets[i]
			lot[i] += n
			left -= int64(n) * sh.price
			area += float64(n) * float64(sh.w) * float64(sh.h)
		}
		most := func(i int) int {
			sh := p.sheets[i]
			n := sh.stock - lot[i]
			if sh.price > 0 {
				n = int(min(int64(n), left/sh.price))
			}
			return n
		}
		for i := len(order) - 1; i > 0; i-- {
			j := s.rng.below(i + 1)
			order[i], order[j] = order[j], order[i]
		}
		for _, i := range order {
			if n := most(i); p.sheets[i].price == 0 {
				put(i, n)
			} else {
				put(i, s.rng.below(n+1))
			}
		}
		for _, i := range order {
			put(i, most(i))
		}
		if k := lotKey(lot); area >= need && !seen[k] {
			seen[k] = true
			list = append(list, lot)
		}
	}
	return list
}

func lotKey(lot []int) string {
	var k []byte
	for _, n := range lot {
		k = append(k, byte(n), byte(n>>8), byte(n>>16))
	}
	return string(k)
}
