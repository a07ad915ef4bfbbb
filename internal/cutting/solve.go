package cutting

import (
	"context"
	"slices"
)

// DefaultIterations is the search budget when none is given: it takes about a
// second for a furniture job that is not proven before.
const DefaultIterations = 450_000

// Solve lays the job's items out on its sheets. It returns an error only for a
// job that makes no sense; parts that do not fit are told in Result.Short.
// When ctx ends, the best layout so far is returned without an error.
func Solve(ctx context.Context, job Job, budget Budget) (Result, error) {
	if err := job.check(); err != nil {
		return Result{}, err
	}
	if job.glued() {
		return solveGlued(ctx, job, budget)
	}
	if job.careful() {
		return solveCareful(ctx, job, budget)
	}
	if len(job.Matched) > 0 {
		return solveMatched(ctx, job, budget)
	}
	p, misfits := newProblem(job)
	p.cores = budget.Cores
	large := p.pieces() > largeJob && !p.flat() && p.value != LeastHeight
	if budget.Iterations <= 0 && !large {
		budget.Iterations = DefaultIterations
	}
	var a answer
	if large {
		a = p.batch(ctx, job.Seed, budget)
	} else {
		a = p.solve(ctx, job.Seed, budget)
	}
	of, bins := p, a.bins
	if !budget.valued && !large {
		of, bins = p.tidied(ctx, &job, a, budget.Iterations)
		if p.value != LeastHeight && done(a.left) {
			a.value = of.costs(bins) // tidying may have come upon cheaper sheets
		}
	}
	r := Result{Layouts: of.layouts(&job, bins), Iterations: a.moves, Value: a.value, Bound: a.bound.value, Why: p.inStages(a.bound.why)}
	r.Short = shortfalls(&job, p, misfits, a.left)
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	r.Settings, r.Turns = settings(&job, r.Layouts)
	return r, nil
}

// costs is what sheets cost together.
func (p *problem) costs(bins []*bin) int64 {
	var sum int64
	for _, b := range bins {
		sum += p.sheets[b.sheet].price
	}
	return sum
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
// enough, then the proof and the search side by side with all that is left of
// the budget.
func (p *problem) solve(ctx context.Context, seed uint64, budget Budget) answer {
	c := p.newCourse(seed, budget)
	defer c.drop()
	c.quick(ctx)
	if c.s.iter < budget.Iterations || len(p.sheets) > 1 {
		c.first(ctx)
		c.patterns(ctx)
		c.layouts(ctx)
		c.rest(ctx)
	}
	return c.s.answer(c.low)
}

// answer is the best so far.
func (s *search) answer(b bound) answer {
	return answer{bins: s.best, left: s.bestLeft, value: s.bestValue, bound: b, moves: s.iter}
}

// repeats reports whether sizes repeat often enough for whole patterns.
func (p *problem) repeats() bool { return p.flat() || p.pieces() > len(p.types)*3/2 }

// What the search takes before the pattern model, and the model at most, in
// moves.
const (
	firstMoves  = 30_000
	barMoves    = 20_000
	manyPieces  = 150
	modelMoves  = 30_000
	coarseMoves = 100_000
)

const (
	firstDives = 2  // of unlike parts, before the search goes on
	fewPieces  = 40 // of a job whose lots are settled before the first dive
)

// unproven reports whether all parts have a place but it is not proven the best.
func (s *search) unproven(b bound) bool { return s.bestOut == 0 && !s.met(b) }

// met reports whether the best layout is complete and at the bound.
func (s *search) met(b bound) bool { return s.bestOut == 0 && s.bestValue <= b.value }

// start makes the first layout.
func (s *search) start() {
	s.fill(0)
	s.keep()
}

// keep notes the present layout as the best.
func (s *search) keep() {
	s.best = copies(s.bins)
	s.bestLeft = append(s.bestLeft[:0], s.pool...)
	s.bestOut, s.bestValue = s.out, s.value()
	if s.empty() {
		s.bestOut = 0 // free of rounding
		if s.news != nil {
			s.news.Store(s.bestValue)
		}
	}
}

func copies(bins []*bin) []*bin {
	out := make([]*bin, len(bins))
	for i, b := range bins {
		out[i] = &bin{}
		out[i].copyFrom(b)
	}
	return out
}

// offer takes another layout, completes it and goes on from it if it is better.
func (s *search) offer(bins []*bin) {
	o := newSearch(s.p, 0)
	o.rng = s.rng
	for _, b := range bins {
		b.stamp, b.live = 0, 0 // of another search
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
	for i, n := range o.used {
		if n > s.p.sheets[i].stock {
			return
		}
	}
	o.stamp = 1
	o.fill(0)
	if o.empty() && (s.bestOut > 0 || o.price < s.bestValue) {
		s.bins, s.used, s.pool = o.bins, o.used, slices.Clone(o.pool)
		s.out, s.price = 0, o.price
		s.keep()
	}
}
