package cutting

import (
	"context"
	"slices"
)

// The search and the proof go side by side: both begin from what is known at
// the time, and tell each other in the end. On one core the one comes after the
// other. What comes of it is the same, for neither sees what the other finds
// meanwhile, with two exceptions that change nothing: a proof ends when its bound
// is at the least value known, and the search when all is proven.

// A probe is a proof under way.
type probe struct {
	r    *proof
	low  bound // its own
	e    *errand[int]
	halt context.Context // ended when the bound is at the least value known
	stop context.CancelFunc
	lots *ledger // for the search beside it

	value       int64 // of the best layout when it set out
	needs, outs int   // in the ledger, then
}

// setOut has the proof go on for so many moves from what the search knows: only
// with the lot at hand, if that is asked for.
func (r *proof) setOut(ctx context.Context, s *search, b bound, moves int, only bool) *probe {
	r.see(s)
	r.only = only
	v := &probe{r: r, low: b, lots: r.ledger.copied(), value: s.bestValue, needs: len(r.needs), outs: len(r.out)}
	v.halt, v.stop = context.WithCancel(ctx)
	s.news = r.aim
	v.e = begin(ctx, r.p.cores, func(ctx context.Context) int {
		n := r.run(ctx, &v.low, moves)
		// Of sheets of one size a proof is dropped when there is a better layout
		// (see again): it ends no search, for one core would not have begun it.
		if known := r.aim.Load(); v.low.value >= known && (known == v.value || len(r.p.sheets) > 1) {
			v.stop()
		}
		return n
	})
	return v
}

// drop ends a proof whose outcome is not wanted any more. It cannot be gone on
// with.
func (v *probe) drop() {
	if v != nil {
		v.stop()
		v.e.drop()
	}
}

// settles reports whether a proof that is at its end leaves nothing to search
// for below a value.
func (v *probe) settles(value int64) bool { return v.low.value >= min(value, v.r.s.bestValue) }

// hear takes in what a proof has come to.
func (s *search) hear(v *probe, b *bound) {
	n := v.e.want()
	v.stop()
	s.news = nil
	if o := v.r.s; o.bestValue < s.bestValue {
		s.offer(copies(o.best))
	}
	b.raise(v.low)
	s.iter += n
}

// beside takes a turn of the search while a proof is under way, or after it
// where there is one core; not when that settles the job. What the turn rules
// out it notes in lots.
func (s *search) beside(v *probe, b *bound, turn func(ctx context.Context, lots *ledger, b *bound)) {
	s.news = nil // what is found from now on is told in the end
	if v.e.claim() {
		v.e.run()
	}
	if value := s.bestValue; !v.e.over() || !v.settles(value) {
		best, left, iter, low := s.best, slices.Clone(s.bestLeft), s.iter, *b
		ctx, stop := context.WithCancel(v.halt)
		watched := make(chan struct{})
		go func() {
			defer close(watched)
			select {
			case <-v.e.done:
				if v.settles(value) {
					stop()
				}
			case <-ctx.Done():
			}
		}()
		turn(ctx, v.lots, &low)
		v.e.want()
		stop()
		<-watched
		if v.settles(value) {
			s.best, s.bestLeft, s.bestValue, s.iter = best, left, value, iter
		} else {
			v.r.ledger.add(v.lots, v.needs, v.outs)
			b.raise(low)
		}
	}
	s.hear(v, b)
}
