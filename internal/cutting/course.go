package cutting

import (
	"context"
	"math"
)

// A course is the work on a job, from the cheap to the dear.
type course struct {
	p      *problem
	s      *search
	low    bound
	budget Budget

	repeats bool // sizes repeat often enough for whole patterns
	single  bool // sheets of one size: the proof and dives say as much as the pattern model, and more quickly
	ripped  bool // in two stages on several sizes: the trees of lots say more than the pattern model and dives
	whole   bool // the pattern model has its full tables

	ahead *errand[*modelled]
	bars  *lengths
	mixed *panelMix
	dives *sheetDive
	proof *proof
	way   *probe // the proof, on its way
	most  int    // moves that it may take
	lots  *ledger
}

func (p *problem) newCourse(seed uint64, budget Budget) *course {
	c := &course{p: p, s: newSearch(p, seed), low: p.areaBound(), budget: budget, repeats: p.repeats()}
	c.s.dense = newDense(p)
	c.single = len(p.sheets) == 1 && !p.flat() && len(p.types) <= proofTypes && p.value != LeastHeight
	c.most = min(proofMoves, budget.Iterations/3*2)
	none := p.newLedger()
	c.lots = &none
	return c
}

// drop ends what is still under way.
func (c *course) drop() {
	c.ahead.drop()
	c.way.drop()
}

func (c *course) tell() {
	if c.budget.Progress != nil {
		c.budget.Progress(Progress{Iterations: c.s.iter, Of: c.budget.Iterations, Value: c.s.bestValue, Bound: c.low.value})
	}
}

func (c *course) unproven() bool { return c.s.unproven(c.low) }

// quick makes a first layout, the bounds that take no time, and settles small
// jobs and those of strips outright.
func (c *course) quick(ctx context.Context) {
	p, s := c.p, c.s
	s.start()
	if !s.met(c.low) {
		c.low.raise(p.dualBound())
	}
	if c.unproven() && p.manyKinds() {
		c.low.raise(p.lotBound(c.low))
	}
	if e := newExact(p, c.budget.Iterations/2); e != nil && c.unproven() {
		s.iter += e.cost
		if bins := e.solve(ctx); bins != nil {
			s.offer(bins)
			c.low = bound{s.bestValue, whyAll}
		}
	}
	s.noWaste(ctx, &c.low, c.budget.Iterations)
	if len(p.sheets) == 1 {
		s.ripInTurn(ctx, &c.low, c.budget.Iterations, c.tell)
	}
}

// models reports whether the pattern model is of use: unlike parts, many on a
// sheet, leave its answer of no use for a layout.
func (c *course) models() bool {
	return !c.p.flat() && !(c.single && (c.p.divable(c.s) || !c.repeats && c.p.crowded(c.s)))
}

// first is a first search, with the pattern model beside it.
func (c *course) first(ctx context.Context) {
	p, s, most := c.p, c.s, c.budget.Iterations
	if c.unproven() && c.models() && p.depth != 2 && !(len(p.sheets) > 1 && s.mixes()) {
		c.ahead = p.model(ctx, c.budget)
	}
	if p.blockable() && p.crowded(s) {
		s.run(ctx, c.low, min(most, blockFirst), c.tell)
		p.inTurn(ctx, s, c.lots, c.low, min(most, s.iter+most/blockPart), 2, c.tell)
	}
	switch {
	case p.flat() && len(p.sheets) == 1 && s.bestOut == 0:
		s.searchBars(ctx, c.low, min(most, barMoves), c.tell)
	case c.repeats && p.pieces() > manyPieces: // patterns do best, and moves are slow
	case c.repeats:
		s.run(ctx, c.low, min(most, barMoves), c.tell)
	default: // patterns of unlike parts seldom go whole
		s.run(ctx, c.low, min(most, firstMoves), c.tell)
	}
	c.proof = p.newProof(s)
	c.ripped = c.proof != nil && c.proof.strips != nil
}

// patterns bounds the job by a model of patterns.
func (c *course) patterns(ctx context.Context) {
	p, s := c.p, c.s
	if len(p.sheets) > 1 {
		c.mixed = s.newPanelMix(ctx, &c.low, min(c.budget.Iterations/3, mixMoves))
	}
	switch {
	case !c.unproven():
	case p.flat():
		c.bars = s.newLengths(ctx, &c.low, min(c.budget.Iterations/2, modelMoves*4))
		c.whole = c.bars != nil
	case c.mixed == nil && !c.ripped && c.models():
		if c.ahead == nil {
			c.ahead = p.model(ctx, c.budget)
		}
		c.whole = s.model(ctx, c.ahead.want(), &c.low)
	}
	if c.mixed != nil {
		c.whole = c.mixed.whole
	}
}

// setOut has the proof set out, if there is one and something to prove.
func (c *course) setOut(ctx context.Context) {
	if c.proof != nil && c.unproven() {
		c.way = c.proof.setOut(ctx, c.s, c.low, c.most, false)
	}
}

// again has the proof of sheets of one size set out, which asks whether a sheet
// less will do: anew where there is a better layout. What it returns ends when
// that is ruled out.
func (c *course) again(ctx context.Context) context.Context {
	if c.unproven() && (c.way == nil || c.way.value != c.s.bestValue) {
		if c.way != nil {
			c.way.drop()
			c.proof = c.p.newProof(c.s)
		}
		c.setOut(ctx)
	}
	return c.halt(ctx)
}

func (c *course) halt(ctx context.Context) context.Context {
	if c.way != nil {
		return c.way.halt
	}
	return ctx
}

// layouts looks for layouts in the ways that suit the job, while the proof is
// under way.
func (c *course) layouts(ctx context.Context) {
	p, s, most := c.p, c.s, c.budget.Iterations
	if !c.single {
		c.setOut(ctx)
	}
	if c.mixed != nil { // few pieces on a panel: patterns decide
		c.mixed.exchangeFirst(ctx, c.low, min(most/6, swapFirst), c.tell)
		c.mixed.dive(c.low, min(most/3, mixMoves), c.tell)
	} else if len(p.sheets) > 1 && !p.flat() && p.value != LeastHeight {
		s.contests(c.halt(ctx), c.low, most, c.tell)
	}
	if c.proof == nil && !c.whole && p.value != LeastHeight && c.unproven() {
		c.coarse(ctx)
	}
	if c.unproven() && p.manyKinds() {
		c.low.raise(p.lotBound(c.low))
	}
	if !c.ripped {
		c.dives = p.newSheetDive(s)
	}
	if c.single && !c.repeats {
		c.unlike(ctx)
	} else if c.way == nil {
		c.setOut(ctx)
	}
}

// unlike takes sheets of one size and unlike parts. Short looks at the bound come
// first, then layouts: finer proofs take long, and the search has most of a
// default budget.
func (c *course) unlike(ctx context.Context) {
	p, s := c.p, c.s
	s.iter += c.proof.look(ctx, &c.low, c.most)
	part := min(c.budget.Iterations, DefaultIterations)
	if c.dives != nil {
		s.run(ctx, c.low, part/6, c.tell)
		c.dives.look(ctx, s, c.lots, &c.low, part/6)
		if p.pieces() <= fewPieces && c.unproven() { // the proof decides them
			s.hear(c.proof.setOut(ctx, s, c.low, c.most, false), &c.low)
		}
	}
	c.dives.run(c.again(ctx), s, c.lots, &c.low, c.budget.Iterations, firstDives, c.tell)
	p.inTurn(c.again(ctx), s, c.lots, c.low, part/6*5, math.MaxInt, c.tell)
	s.run(c.again(ctx), c.low, part/6*5, c.tell)
	c.dives.run(c.again(ctx), s, c.lots, &c.low, min(c.budget.Iterations, s.iter+part), math.MaxInt, c.tell)
	c.again(ctx)
}

// rest hears what the proof has come to, with a turn of the search beside it,
// goes on with lots that may be decided, and searches with what is left of the
// budget.
func (c *course) rest(ctx context.Context) {
	p, s, most := c.p, c.s, c.budget.Iterations
	if c.mixed == nil && c.dives == nil {
		s.dense = nil // of no more use
	}
	switch {
	case c.way == nil || !c.unproven():
	case c.single && !c.repeats || p.flat(): // the search has had its moves, or is of no use
		s.hear(c.way, &c.low)
	case !c.single && c.mixed == nil && c.dives != nil: // or would dive on lots that it rules out
		s.hear(c.way, &c.low)
	default:
		part := min(most-s.iter-c.most, c.most)
		if !c.single {
			part /= 4 // lots may be gone on with
		}
		s.beside(c.way, &c.low, func(ctx context.Context, lots *ledger, b *bound) {
			for from, stop := -1, s.iter+part; from < s.iter && s.iter < stop && s.unproven(*b) && ctx.Err() == nil; {
				from = s.iter
				c.turn(ctx, lots, b, stop)
			}
		})
	}
	if c.proof != nil {
		c.lots = &c.proof.ledger
	}
	if c.unproven() { // else the proof may be under way
		c.dives.take(c.proof)
	}
	if c.single && !c.whole && c.unproven() && s.bestValue-c.low.value > p.sheets[0].price {
		c.coarse(ctx)
	}
	c.decideInTurn(ctx)
	if c.mixed != nil {
		c.mixed.run(ctx, c.low, most, math.MaxInt, c.tell)
	}
	c.dives.run(ctx, s, c.lots, &c.low, most, math.MaxInt, c.tell)
	s.dense = nil
	c.tell()
	switch {
	case c.bars != nil && c.unproven():
		c.bars.run(ctx, &c.low, most, c.tell)
	case p.flat():
		s.moves(ctx, c.low, most, c.tell)
	default:
		p.inTurn(ctx, s, c.lots, c.low, most, math.MaxInt, c.tell)
		s.run(ctx, c.low, most, c.tell)
	}
}

const (
	blockFirst = 3_000  // moves before sheets are filled in turn
	blockPart  = 3      // of the budget, that goes for that at first: one in so many
	decideTurn = 30_000 // moves for a lot, and for the search beside it, at first
	turnDives  = 2      // or so many dives, or fillings in turn
	leastTurn  = 1_000  // moves of a turn that was of use
)

// turn searches until so many moves are used up, in the ways that there are.
func (c *course) turn(ctx context.Context, lots *ledger, b *bound, moves int) {
	s, from := c.s, c.s.iter
	switch {
	case c.mixed != nil:
		c.mixed.run(ctx, *b, moves, 1, c.tell)
	case c.dives != nil:
		c.dives.run(ctx, s, lots, b, moves, turnDives, c.tell)
	case s.p.crowded(s):
		s.p.inTurn(ctx, s, lots, *b, moves, turnDives, c.tell)
	}
	if s.iter < from+leastTurn { // they are of no use
		s.run(ctx, *b, moves, c.tell)
	}
}

// decideInTurn takes turns of the lot at hand and the search, longer and longer
// ones, as long as that lot may be decided.
func (c *course) decideInTurn(ctx context.Context) {
	s, most := c.s, c.budget.Iterations
	from := -1
	for turn := decideTurn; c.unproven() && c.proof.near() && from < s.iter && s.iter < most && ctx.Err() == nil; turn *= 2 {
		from = s.iter
		part := min(most-s.iter, turn)
		c.dives.take(c.proof)
		v := c.proof.setOut(ctx, s, c.low, part, true)
		s.beside(v, &c.low, func(ctx context.Context, lots *ledger, b *bound) {
			c.turn(ctx, lots, b, min(most-part, from+turn))
			turn = max(turn, (s.iter-from)/2)
		})
	}
}

// coarse bounds the job by the pattern model with larger steps.
func (c *course) coarse(ctx context.Context) {
	low, spent := c.p.coarseBound(ctx, coarseSteps, min(c.budget.Iterations, coarseMoves))
	c.low.raise(low)
	c.s.iter += spent
}
