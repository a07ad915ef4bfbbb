package cutting

import (
	"context"
	"slices"
)

// Large jobs are laid out by filling sheets in turn (see batchturn.go), so that
// time grows with the number of pieces. Where sizes repeat often the pattern
// model is tried as well. Then a few sheets at a time are laid out anew to save
// one of them.
const (
	largeJob   = 400 // pieces
	batchMoves = 50  // for each piece, where no budget is given
	batchLeast = 100_000
	quickMoves = 8 // for each piece, the first time
	morePart   = 4 // times the moves from one time to the next
	oftenAlike = 8 // pieces of a type and more: patterns are better than filling in turn

	batchMix = 400_000 // moves

	patternTypes = 150 // of the pattern model of the whole job
	modelLooks   = 3   // pricings for each type that it takes at least
)

type batcher struct {
	p      *problem
	rng    rng
	stock  []int // of each sheet, left
	bins   []*bin
	moves  int
	most   int
	report func(value int64)
	ctx    context.Context
}

// part is the problem of some pieces and the sheets left, and which type of p
// each of its types is.
func (p *problem) part(demand, stock []int) (*problem, []int32) {
	sub := *p
	sub.sheets, sub.types = slices.Clone(p.sheets), nil
	var back []int32
	n := 0
	for i, t := range p.types {
		if t.qty = demand[i]; t.qty > 0 {
			back = append(back, int32(i))
			sub.types = append(sub.types, t)
			n += t.qty
		}
	}
	for i := range sub.sheets {
		sub.sheets[i].stock = min(stock[i], n)
	}
	return &sub, back
}

// batch solves a large job.
func (p *problem) batch(ctx context.Context, seed uint64, budget Budget) answer {
	a := answer{bound: p.areaBound()}
	a.bound.raise(p.dualBound())
	if p.manyKinds() {
		a.bound.raise(p.lotBound(a.bound))
	}
	b := &batcher{p: p, rng: newRNG(seed), ctx: ctx, most: max(batchLeast, p.pieces()*batchMoves)}
	if p.fewTypes() {
		b.most += 12 * modelMoves
	}
	if budget.Iterations > 0 {
		b.most = budget.Iterations
	}
	b.report = func(value int64) {
		if budget.Progress != nil {
			budget.Progress(Progress{Iterations: b.moves, Of: b.most, Value: value, Bound: a.bound.value})
		}
	}
	demand := make([]int, len(p.types))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	for _, s := range p.sheets {
		b.stock = append(b.stock, s.stock)
	}
	few := p.fewTypes()
	left, whole := demand, false
	if few {
		left, whole = b.patterns(demand, &a.bound)
	}
	last := 0
	if !whole { // quickly at first: there may be little time
		last = min(int(fillPart*float64(b.most)), p.pieces()*quickMoves)
		left = b.turn(left, last)
	}
	b.mix(&a.bound, left)
	best := whole && p.pieces() > oftenAlike*len(p.types) // by patterns
	for moves := p.pieces() * batchMoves; !best && ctx.Err() == nil && (total(left) > 0 || b.value() > a.bound.value); moves *= morePart {
		part := int(fillPart * float64(b.most-b.moves))
		if part > morePart*moves {
			part = moves
		}
		if part < 2*last || last > fillMost*len(b.bins) || !b.again(demand, &left, part) && whole {
			break
		}
		last = part
	}
	b.windows(a.bound, left)
	a.bins, a.left, a.moves = b.bins, left, b.moves
	a.value = b.value()
	return a
}

func (b *batcher) value() int64 {
	v := int64(0)
	for _, x := range b.bins {
		v += b.p.sheets[x.sheet].price
	}
	return v
}

// fewTypes reports whether the pattern model of the whole job is worth its time.
func (p *problem) fewTypes() bool { return len(p.types) <= patternTypes && p.repeats() }

// patterns lays the job out by the pattern model; it reports whether there was
// time for that. What does not come out whole is filled in turn.
func (b *batcher) patterns(demand []int, low *bound) (left []int, ok bool) {
	n := newPlanner(b.p)
	if n == nil || b.ctx.Err() != nil {
		return demand, false
	}
	part := min(modelMoves*4, b.most/3)
	if part < modelLooks*len(b.p.types)*n.cost {
		return demand, false // it would not come to an answer
	}
	m := n.relax(b.ctx, demand, part, nil)
	low.raise(n.bound(m))
	rest := slices.Clone(demand)
	for _, x := range n.round(b.ctx, m, part) {
		b.bins = append(b.bins, x)
		b.stock[x.sheet]--
		for _, u := range b.p.pattern(x).use {
			rest[u.typ] -= u.n
		}
	}
	b.moves += n.spent
	b.report(b.value())
	return b.turn(rest, min((b.most-b.moves)/2, total(rest)*batchMoves)), true
}

// again fills the sheets of the whole job in turn, and takes that if it is
// better, which it reports.
func (b *batcher) again(demand []int, left *[]int, moves int) bool {
	o := &batcher{p: b.p, rng: b.rng, ctx: b.ctx, moves: b.moves, most: b.most}
	o.report = func(int64) { b.moves = o.moves; b.report(b.value()) }
	for _, s := range b.p.sheets {
		o.stock = append(o.stock, s.stock)
	}
	rest := o.turn(demand, moves)
	b.rng, b.moves = o.rng, o.moves
	better := total(rest) < total(*left) || total(rest) == total(*left) && o.value() < b.value()
	if better {
		b.bins, b.stock, *left = o.bins, o.stock, rest
	}
	b.report(b.value())
	return better
}

// mix dives through the mix of patterns for a better layout, where few pieces
// lie on a sheet.
func (b *batcher) mix(low *bound, left []int) {
	if total(left) > 0 || b.ctx.Err() != nil {
		return
	}
	s := newSearch(b.p, b.rng.next())
	for _, x := range b.bins {
		s.bins = append(s.bins, x)
		s.used[x.sheet]++
		s.price += b.p.sheets[x.sheet].price
	}
	clear(s.pool)
	s.out = 0
	s.keep()
	part := min(batchMix, (b.most-b.moves)/2)
	l := s.newPanelMix(b.ctx, low, part/2)
	if l == nil {
		return
	}
	l.dive(*low, part/2, func() { b.report(s.bestValue) })
	b.moves += s.iter
	b.bins = s.best
	for i, sh := range b.p.sheets {
		b.stock[i] = sh.stock
	}
	for _, x := range b.bins {
		b.stock[x.sheet]--
	}
}

func total(n []int) int {
	sum := 0
	for _, k := range n {
		sum += k
	}
	return sum
}

// complete puts what is left over where there is room, then on further sheets.
func (b *batcher) complete(left []int) []int {
	if b.ctx.Err() != nil {
		left = b.hurry(left)
	}
	s := newSearch(b.p, b.rng.next())
	s.bins, s.pool = b.bins, left
	s.out, s.stamp = 0, 1
	for t, n := range left {
		s.out += float64(n) * b.p.types[t].area
	}
	for _, x := range b.bins {
		s.used[x.sheet]++
		s.price += b.p.sheets[x.sheet].price
	}
	s.fill(0)
	b.bins = s.bins
	for i, sh := range b.p.sheets {
		b.stock[i] = sh.stock - s.used[i]
	}
	return s.pool
}

// emptiness is the share of a sheet that is not parts.
func (b *batcher) emptiness(x *bin) float64 {
	s := b.p.sheets[x.sheet]
	return 1 - x.used/(float64(s.w)*float64(s.h))
}

// take makes a sheet of a part of the problem one of the whole.
func (b *batcher) take(x *bin, back []int32) {
	for j := range x.n {
		if t := x.n[j].typ; t >= 0 {
			x.n[j].typ = back[t]
		}
	}
	b.bins = append(b.bins, x)
	b.stock[x.sheet]--
}
