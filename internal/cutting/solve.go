package cutting

import (
	"context"
	"slices"
)

// DefaultIterations is the search budget when none is given: it takes well
// under a second for a furniture job that is not proven at once.
const DefaultIterations = 50_000

// Solve lays the job's items out on its sheets. It returns an error only for a
// job that makes no sense; parts that do not fit are told in Result.Short.
// When ctx ends, the best layout so far is returned without an error.
func Solve(ctx context.Context, job Job, budget Budget) (Result, error) {
	if err := job.check(); err != nil {
		return Result{}, err
	}
	if budget.Iterations <= 0 {
		budget.Iterations = DefaultIterations
	}
	p, misfits := newProblem(job)
	a := p.solve(ctx, job.Seed, budget)
	r := Result{Layouts: p.layouts(&job, a.bins), Iterations: a.moves, Value: a.value, Bound: a.bound.value, Why: a.bound.why}
	r.Short = shortfalls(&job, p, misfits, a.left)
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	return r, nil
}

// An answer is the best layout of a problem's pieces.
type answer struct {
	bins  []*bin
	left  []int // pieces of each type without a place
	value int64
	bound bound
	moves int
}

// solve goes from the cheap to the dear: a first layout, bounds by area and by
// dual feasible functions, the pattern model where its tables are small
// enough, then the search with all that is left of the budget.
func (p *problem) solve(ctx context.Context, seed uint64, budget Budget) answer {
	s := newSearch(p, seed)
	a := answer{bound: p.areaBound()}
	tell := func() {
		if budget.Progress != nil {
			budget.Progress(Progress{Iterations: s.iter, Of: budget.Iterations, Value: s.bestPrice, Bound: a.bound.value})
		}
	}
	s.start()
	if !s.met(a.bound) {
		a.bound.raise(p.dualBound())
	}
	if !s.met(a.bound) && s.bestOut == 0 {
		if n := newPlanner(p); n != nil {
			demand := make([]int, len(p.types))
			for i, t := range p.types {
				demand[i] = t.qty
			}
			m := n.relax(ctx, demand, budget.Iterations/3, nil)
			a.bound.raise(n.bound(m))
			if !s.met(a.bound) && (p.flat() || p.pieces() > len(p.types)*3/2) {
				s.offer(n.round(ctx, m, budget.Iterations/3))
			}
			s.iter += n.spent
		}
	}
	if !s.met(a.bound) && s.bestOut == 0 && p.value == LeastPrice {
		a.bound.value = max(a.bound.value, p.nextPrice(a.bound.value))
	}
	if e := newExact(p); e != nil && !s.met(a.bound) && s.bestOut == 0 {
		if bins := e.solve(ctx); bins != nil {
			s.offer(bins)
			a.bound = bound{s.bestPrice, "every way to cut these parts was weighed; none is better"}
		}
	}
	tell()
	if p.flat() && len(p.sheets) == 1 && s.bestOut == 0 {
		s.searchBars(ctx, a.bound, budget.Iterations, tell)
	} else {
		s.run(ctx, a.bound, budget.Iterations, tell)
	}
	a.bins, a.left, a.moves = s.best, s.bestLeft, s.iter
	a.value = s.bestPrice
	return a
}

// met reports whether the best layout is complete and at the bound.
func (s *search) met(b bound) bool { return s.bestOut == 0 && s.bestPrice <= b.value }

// start makes the first layout.
func (s *search) start() {
	s.fill(0)
	s.keep()
}

// keep notes the present layout as the best.
func (s *search) keep() {
	s.best = s.best[:0]
	for _, b := range s.bins {
		c := &bin{}
		c.copyFrom(b)
		s.best = append(s.best, c)
	}
	s.bestLeft = append(s.bestLeft[:0], s.pool...)
	s.bestOut, s.bestPrice = s.out, s.price
	if s.empty() {
		s.bestOut = 0 // free of rounding
	}
}

// offer takes another layout, completes it and goes on from it if it is better.
func (s *search) offer(bins []*bin) {
	o := newSearch(s.p, 0)
	o.rng = s.rng
	for _, b := range bins {
		o.bins = append(o.bins, b)
		o.used[b.sheet]++
		o.price += s.p.sheets[b.sheet].price
		for i := range b.n {
			if t := b.n[i].typ; t >= 0 {
				o.pool[t]--
				o.out -= s.p.types[t].area
			}
		}
	}
	o.stamp = 1
	o.fill(0)
	if o.empty() && o.price < s.bestPrice {
		s.bins, s.used, s.pool = o.bins, o.used, slices.Clone(o.pool)
		s.out, s.price = 0, o.price
		s.keep()
	}
}
