package cutting

import (
	"context"
	"math"
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
// enough, then the search with all that is left of the budget.
func (p *problem) solve(ctx context.Context, seed uint64, budget Budget) answer {
	s := newSearch(p, seed)
	s.dense = newDense(p)
	a := answer{bound: p.areaBound()}
	tell := func() {
		if budget.Progress != nil {
			budget.Progress(Progress{Iterations: s.iter, Of: budget.Iterations, Value: s.bestValue, Bound: a.bound.value})
		}
	}
	s.start()
	if !s.met(a.bound) {
		a.bound.raise(p.dualBound())
	}
	if s.unproven(a.bound) && p.manyKinds() {
		a.bound.raise(p.lotBound(a.bound))
	}
	if e := newExact(p, budget.Iterations/2); e != nil && s.unproven(a.bound) {
		s.iter += e.cost
		if bins := e.solve(ctx); bins != nil {
			s.offer(bins)
			a.bound = bound{s.bestValue, whyAll}
		}
	}
	s.noWaste(ctx, &a.bound, budget.Iterations)
	if len(p.sheets) == 1 {
		if s.ripInTurn(ctx, &a.bound, budget.Iterations, tell); s.iter >= budget.Iterations {
			return s.answer(a.bound)
		}
	}
	repeats := p.repeats()
	// For sheets of one size the proof by lots and dives say as much as the
	// pattern model, and more quickly; unlike parts, many on a sheet, leave its
	// answer of no use for a layout.
	single := len(p.sheets) == 1 && !p.flat() && len(p.types) <= proofTypes && p.value != LeastHeight
	patterns := func() bool { return !p.flat() && !(single && (p.divable(s) || !repeats && p.crowded(s))) }
	var ahead *errand[*modelled]
	if s.unproven(a.bound) && patterns() && p.depth != 2 && !(len(p.sheets) > 1 && s.mixes()) {
		ahead = p.model(ctx, budget)
		defer ahead.drop()
	}
	switch {
	case p.flat() && len(p.sheets) == 1 && s.bestOut == 0:
		s.searchBars(ctx, a.bound, min(budget.Iterations, barMoves), tell)
	case repeats && p.pieces() > manyPieces: // patterns do best, and moves are slow
	case repeats:
		s.run(ctx, a.bound, min(budget.Iterations, barMoves), tell)
	default: // patterns of unlike parts seldom go whole
		s.run(ctx, a.bound, min(budget.Iterations, firstMoves), tell)
	}
	whole := false // the pattern model has its full tables
	proof := p.newProof(s)
	ripped := proof != nil && proof.strips != nil // the trees of lots say more than the pattern model and dives
	var l *lengths
	var mixed *panelMix
	if len(p.sheets) > 1 {
		mixed = s.newPanelMix(ctx, &a.bound, min(budget.Iterations/3, mixMoves))
	}
	if mixed != nil { // few pieces on a panel: patterns decide
		mixed.dive(a.bound, min(budget.Iterations/3, mixMoves), tell)
		whole = mixed.whole
	}
	switch {
	case !s.unproven(a.bound):
	case p.flat():
		l = s.newLengths(ctx, &a.bound, min(budget.Iterations/2, modelMoves*4))
		whole = l != nil
	case mixed == nil && !ripped && patterns():
		if ahead == nil {
			ahead = p.model(ctx, budget)
		}
		whole = s.model(ctx, ahead.want(), &a.bound)
	}
	coarser := !whole && !ripped && p.value != LeastHeight
	var coarse *errand[coarsely]
	if coarser && !single && s.unproven(a.bound) {
		coarse = p.coarser(ctx, budget)
		defer coarse.drop()
	}
	if mixed == nil && len(p.sheets) > 1 && !p.flat() && p.value != LeastHeight {
		s.contests(ctx, a.bound, budget.Iterations, tell)
	}
	if coarse != nil && s.unproven(a.bound) {
		s.coarse(coarse.want(), &a.bound)
	}
	if s.unproven(a.bound) && p.manyKinds() {
		a.bound.raise(p.lotBound(a.bound))
	}
	most := min(proofMoves, budget.Iterations/3*2)
	var dives *sheetDive
	if !ripped {
		dives = p.newSheetDive(s)
	}
	if single && !repeats {
		// Short looks at the bound first, then layouts: finer proofs take long, and
		// the search has most of a default budget.
		s.iter += proof.look(ctx, &a.bound, most)
		part := min(budget.Iterations, DefaultIterations)
		if dives != nil {
			s.run(ctx, a.bound, part/6, tell)
			dives.look(ctx, s, proof, &a.bound, part/6)
			if p.pieces() <= fewPieces { // the proof decides them
				s.iter += proof.run(ctx, &a.bound, most)
			}
			dives.run(ctx, s, proof, &a.bound, budget.Iterations, firstDives, tell)
		}
		p.inTurn(ctx, s, proof, a.bound, part/6*5, math.MaxInt, tell)
		s.run(ctx, a.bound, part/6*5, tell)
		dives.run(ctx, s, proof, &a.bound, min(budget.Iterations, s.iter+part), math.MaxInt, tell)
	}
	s.iter += proof.run(ctx, &a.bound, most)
	if coarser && single && s.unproven(a.bound) && s.bestValue-a.bound.value > p.sheets[0].price {
		s.coarse(p.coarser(ctx, budget).want(), &a.bound)
	}
	if mixed == nil && dives == nil {
		s.dense = nil // of no more use
	}
	s.decideInTurn(ctx, proof, mixed, dives, &a.bound, budget.Iterations, tell)
	if mixed != nil {
		mixed.run(ctx, a.bound, budget.Iterations, math.MaxInt, tell)
	}
	dives.run(ctx, s, proof, &a.bound, budget.Iterations, math.MaxInt, tell)
	s.dense = nil
	tell()
	switch {
	case l != nil && s.unproven(a.bound):
		l.run(ctx, &a.bound, budget.Iterations, tell)
	case p.flat():
		s.moves(ctx, a.bound, budget.Iterations, tell)
	default:
		p.inTurn(ctx, s, proof, a.bound, budget.Iterations, math.MaxInt, tell)
		s.run(ctx, a.bound, budget.Iterations, tell)
	}
	return s.answer(a.bound)
}

// answer is the best so far.
func (s *search) answer(b bound) answer {
	return answer{bins: s.best, left: s.bestLeft, value: s.bestValue, bound: b, moves: s.iter}
}

// What the pattern model comes to.
type modelled struct {
	n    *planner
	m    *master
	most int // moves that it may take
}

// model is the errand to solve the pattern model; nil where it is too large.
func (p *problem) model(ctx context.Context, budget Budget) *errand[*modelled] {
	return begin(ctx, p.cores, func(ctx context.Context) *modelled {
		n := newPlanner(p)
		if n == nil {
			return nil
		}
		demand := make([]int, len(p.types))
		for i, t := range p.types {
			demand[i] = t.qty
		}
		most := min(budget.Iterations/3, modelMoves)
		if p.repeats() {
			most *= 4
		}
		return &modelled{n, n.relax(ctx, demand, most, nil), most}
	})
}

// model bounds the job by the pattern model and rounds its answer where sizes
// repeat. It reports whether the model has its full tables.
func (s *search) model(ctx context.Context, r *modelled, b *bound) (whole bool) {
	if r == nil {
		return false
	}
	b.raise(r.n.bound(r.m))
	if s.unproven(*b) && s.p.repeats() {
		s.offer(r.n.round(ctx, r.m, r.most))
	}
	s.iter += r.n.spent
	return !r.n.thin
}

// coarsely is a bound by coarse tables, and the moves it took.
type coarsely struct {
	bound bound
	spent int
}

func (p *problem) coarser(ctx context.Context, budget Budget) *errand[coarsely] {
	return begin(ctx, p.cores, func(ctx context.Context) coarsely {
		b, spent := p.coarseBound(ctx, coarseSteps, min(budget.Iterations, coarseMoves))
		return coarsely{b, spent}
	})
}

func (s *search) coarse(c coarsely, b *bound) {
	b.raise(c.bound)
	s.iter += c.spent
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
