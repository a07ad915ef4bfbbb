package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Large jobs are laid out a batch at a time by the pattern model, so that time
// grows with the number of pieces; what does not come out whole goes on to the
// next batch, and at the end where there is room. Then a few sheets at a time
// are laid out anew to save one of them.
const (
	largeJob   = 400 // pieces
	batchOf    = 600 // pieces, of at most so many types
	batchTypes = 180
	batchMoves = 60 // for each piece
	windowOf   = 6  // sheets

	batchMix   = 400_000 // moves
	windowCost = 100     // moves, beside those of the search
	fewTypes   = 150     // the pattern model of the whole job is worth its time
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
	b := &batcher{p: p, rng: newRNG(seed), ctx: ctx, most: p.pieces() * batchMoves * 2}
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
	left := b.lay(slices.Clone(demand))
	if len(p.types) <= fewTypes {
		b.patterns(demand, &left, &a.bound)
	}
	b.mix(&a.bound, left)
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

// patterns lays the job out by the pattern model and takes that if it is
// better.
func (b *batcher) patterns(demand []int, left *[]int, low *bound) {
	n := newPlanner(b.p)
	if n == nil || b.ctx.Err() != nil {
		return
	}
	m := n.relax(b.ctx, demand, modelMoves*4, nil)
	low.raise(n.bound(m))
	o := &batcher{p: b.p, rng: b.rng, ctx: b.ctx, most: b.most, report: b.report}
	for _, s := range b.p.sheets {
		o.stock = append(o.stock, s.stock)
	}
	o.bins = n.round(b.ctx, m, modelMoves*4)
	rest := slices.Clone(demand)
	for _, x := range o.bins {
		o.stock[x.sheet]--
		for _, u := range b.p.pattern(x).use {
			rest[u.typ] -= u.n
		}
	}
	b.moves += n.spent
	o.moves = b.moves
	rest = o.lay(rest)
	if total(rest) < total(*left) || total(rest) == total(*left) && o.value() < b.value() {
		b.bins, b.stock, *left = o.bins, o.stock, rest
	}
	b.moves = o.moves
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

// lay lays out the demand, batch by batch where parts repeat, and returns what
// has no place.
func (b *batcher) lay(demand []int) []int {
	if !b.p.repeats() { // patterns of unlike parts seldom go whole
		return b.complete(demand)
	}
	order := make([]int, 0, len(demand))
	for t, n := range demand {
		if n > 0 {
			order = append(order, t)
		}
	}
	for i := len(order) - 1; i > 0; i-- { // batches alike in their mixture
		j := b.rng.below(i + 1)
		order[i], order[j] = order[j], order[i]
	}
	now, rest := make([]int, len(demand)), make([]int, len(demand))
	for k := 0; k < len(order); {
		n, kinds := total(now), 0
		for _, c := range now {
			kinds += min(c, 1)
		}
		for first := true; k < len(order) && (first || n < batchOf && kinds < batchTypes); kinds++ {
			t := order[k]
			c := max(1, min(demand[t], batchOf-n))
			first = false
			now[t] += c
			demand[t] -= c
			n += c
			if demand[t] == 0 {
				k++
			}
		}
		bins := b.round(now)
		if bins == nil { // no more time, or more types than the model takes
			for ; k < len(order); k++ {
				now[order[k]] += demand[order[k]]
			}
			break
		}
		for _, x := range bins {
			for _, u := range b.p.pattern(x).use {
				now[u.typ] -= u.n
			}
			b.bins = append(b.bins, x)
			b.stock[x.sheet]--
		}
		if total(now) > batchOf/3 { // the model's time was up
			for t, n := range now {
				rest[t] += n
			}
			clear(now)
		}
		b.report(b.value())
	}
	for t, n := range now {
		rest[t] += n
	}
	return b.complete(rest)
}

// complete puts what is left over where there is room, then on further sheets.
func (b *batcher) complete(left []int) []int {
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

// round lays out pieces by the pattern model, as far as that goes.
func (b *batcher) round(demand []int) []*bin {
	sub, back := b.p.part(demand, b.stock)
	n := newPlanner(sub)
	if n == nil || b.ctx.Err() != nil {
		return nil
	}
	want := make([]int, len(sub.types))
	for i, t := range sub.types {
		want[i] = t.qty
	}
	bins := n.round(b.ctx, n.relax(b.ctx, want, 2*modelMoves, nil), 4*modelMoves)
	b.moves += n.spent
	for _, x := range bins {
		for j := range x.n {
			if t := x.n[j].typ; t >= 0 {
				x.n[j].typ = back[t]
			}
		}
	}
	return bins
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

// search lays out some pieces on the sheets left, and ends as soon as it is
// below the value given.
func (b *batcher) search(demand, stock []int, below int64, moves int) (*search, []int32) {
	sub, back := b.p.part(demand, stock)
	if len(sub.types) == 0 {
		return nil, nil
	}
	s := newSearch(sub, b.rng.next())
	s.start()
	low := sub.areaBound()
	if below < math.MaxInt64 {
		low.value = max(low.value, below)
	}
	s.run(b.ctx, low, min(moves, max(0, b.most-b.moves)), func() {})
	b.moves += s.iter
	return s, back
}

// windows lays a few sheets out anew, again and again, the emptiest among
// them most often.
func (b *batcher) windows(low bound, left []int) {
	if total(left) > 0 || len(b.bins) < 2 {
		return
	}
	value := b.value()
	for tries := 0; b.moves < b.most && value > low.value && b.ctx.Err() == nil; tries++ {
		if tries%64 == 0 {
			slices.SortStableFunc(b.bins, func(x, y *bin) int { return cmp.Compare(b.emptiness(y), b.emptiness(x)) })
		}
		var pick []int // the emptiest with one chance in two, then any
		for i := 0; i < len(b.bins) && len(pick) < windowOf/2; i++ {
			if b.rng.below(2) == 0 {
				pick = append(pick, i)
			}
		}
		for len(pick) < min(windowOf, len(b.bins)) {
			if i := b.rng.below(len(b.bins)); !slices.Contains(pick, i) {
				pick = append(pick, i)
			}
		}
		demand, stock := make([]int, len(b.p.types)), slices.Clone(b.stock)
		was := int64(0)
		for _, i := range pick {
			x := b.bins[i]
			was += b.p.sheets[x.sheet].price
			stock[x.sheet]++
			for j := range x.n {
				if t := x.n[j].typ; t >= 0 {
					demand[t]++
				}
			}
		}
		b.moves += windowCost
		s, back := b.search(demand, stock, was-1, total(demand)*batchMoves/2)
		if s == nil || s.bestOut > 0 || s.bestValue >= was {
			continue
		}
		slices.Sort(pick)
		for k := len(pick) - 1; k >= 0; k-- {
			x := b.bins[pick[k]]
			b.stock[x.sheet]++
			b.bins = slices.Delete(b.bins, pick[k], pick[k]+1)
		}
		for _, x := range s.best {
			b.take(x, back)
		}
		value = b.value()
		b.report(value)
	}
}
