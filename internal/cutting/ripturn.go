package cutting

import (
	"context"
	"slices"
)

const (
	ripFirst = 5_000  // moves of the search before the first tree
	ripTurn  = 30_000 // of the tree at first; the search has half as many
	ripLot   = 70_000 // of the tree of a lot, in one turn
)

// ripInTurn takes turns between a tree of strips and the search, longer and
// longer ones.
func (s *search) ripInTurn(ctx context.Context, b *bound, moves int, tell func()) {
	if !s.unproven(*b) {
		return
	}
	l := s.p.newRipping(s.rng)
	if l == nil {
		return
	}
	s.run(ctx, *b, min(moves, ripFirst), tell)
	if !s.unproven(*b) {
		return
	}
	l.recall(s.best)
	t := l.tree(s.bestValue)
	for turn := ripTurn; len(t.open) > 0 && s.unproven(*b) && s.iter < moves && ctx.Err() == nil; turn *= 2 {
		t.best = s.bestValue
		at := *l.work
		stop := at + min(turn, moves-s.iter)*moveWork
		for bins := t.run(ctx, stop); bins != nil; bins = t.run(ctx, stop) {
			s.offer(bins)
			t.best = s.bestValue
			tell()
		}
		s.iter += 1 + (*l.work-at)/moveWork
		low := t.low()
		b.raise(bound{low, s.p.whyStrips(low)})
		s.run(ctx, *b, min(moves, s.iter+turn/2), tell)
	}
}

// rip asks a tree of strips whether the lot at hand can hold all parts, or goes
// on asking.
func (r *proof) rip(ctx context.Context, stop int) (bins []*bin, too bool) {
	l := r.strips
	if r.tree == nil || !slices.Equal(r.ripped, r.lot) {
		l.recall(r.s.best)
		var price int64
		for i, n := range r.lot {
			price += int64(n) * r.p.sheets[i].price
		}
		r.ripped, l.stock = r.lot, slices.Clone(r.lot)
		r.tree = l.tree(price + l.unit)
	}
	t, at := r.tree, *l.work
	bins = t.run(ctx, at+min(ripLot, stop-r.spent)*moveWork)
	r.spent += 1 + (*l.work-at)/moveWork
	if bins != nil {
		r.tree = nil // the next lot is cheaper
		return bins, false
	}
	if too = t.low() >= t.best; too && t.need.rulesOut(r.lot) {
		r.needs = append(r.needs, t.need)
	}
	return nil, too
}

// ripping reports whether a lot is asked about that is not settled yet.
func (r *proof) ripping() bool { return r.tree != nil && len(r.tree.open) > 0 }
