package cutting

import (
	"context"
	"math"
	"slices"
)

// furtherShort is how many strips more a panel may have where parts have no
// place otherwise.
const furtherShort = 2

// solveGlued lays out parts glued up from strips. It begins with the layout of
// strips of one width, in a quarter of the budget, and looks for a cheaper one
// with strips as the boards give them.
func solveGlued(ctx context.Context, job Job, budget Budget) (Result, error) {
	job = job.within()
	of := budget.Iterations
	if of <= 0 {
		of = DefaultIterations
	}
	inner := budget
	inner.Iterations = max(1, of/4)
	if budget.Progress != nil {
		inner.Progress = func(p Progress) {
			p.Iterations, p.Of, p.Bound = min(p.Iterations, of), of, 0 // strips of unlike widths may cost less
			budget.Progress(p)
		}
	}
	first, err := Solve(ctx, job.even(), inner)
	if err != nil {
		return Result{}, err
	}
	s, misfits := newGlueSearch(&job)
	low, err := s.gluedBound(ctx, &job, max(1, min(of/4, boardClean)), budget.Cores)
	if err != nil {
		return Result{}, err
	}
	tidy := s.adoptPanels(&job, first.Layouts)
	moves := max(1, min(boardMoves, of-first.Iterations))
	if value, lost := s.bestValue, s.bestLost; !s.settled(low) {
		s.lengthen(ctx, low.value, moves-moves/10, func() { // the rest is for tidying
			if budget.Progress != nil {
				budget.Progress(Progress{Iterations: min(of, first.Iterations+s.iter), Of: of, Value: s.bestValue, Bound: low.value})
			}
		})
		tidy = tidy && s.bestValue == value && s.bestLost == lost
	}
	if !budget.valued && !tidy {
		s.order(ctx, min(boardTidy, moves/10))
	}

	left := make([]int, len(s.types))
	for _, t := range s.bestPool {
		left[t]++
	}
	r := Result{Layouts: s.draftBoards(&job, s.best, left), Iterations: first.Iterations + s.iter, Value: s.bestValue, Bound: low.value, Why: low.why}
	r.Short = s.shortPanels(&job, misfits, left)
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	r.Settings, r.Turns = settings(&job, r.Layouts)
	return r, nil
}

// lengthen searches, and where parts have no place lets panels have a few
// strips more, then any number; in the end panels that cannot be made up give
// their wood to other parts.
func (s *boardSearch) lengthen(ctx context.Context, low int64, moves int, tell func()) {
	if len(s.bestPool) == 0 {
		s.run(ctx, low, moves, tell)
		return
	}
	s.run(ctx, low, moves/2, tell)
	for _, further := range [2]int{furtherShort, mostStrips} {
		if len(s.bestPool) > 0 {
			s.allow(further)
		}
		s.run(ctx, low, moves/6, tell)
	}
	for stop := s.iter + moves/6; s.iter < stop && ctx.Err() == nil && s.giveUp(ctx, low, moves/12, tell); {
	}
}

// giveUp leaves the panel that lacks most unmade, and reports whether more
// parts have a place without it.
func (s *boardSearch) giveUp(ctx context.Context, low int64, moves int, tell func()) bool {
	was := *s
	s.stacks = s.best
	s.need, s.strips = slices.Clone(s.need), slices.Clone(s.strips)
	s.recount()
	worst, lacks := int32(-1), 0.0
	for _, t := range s.bestPool {
		if g := s.types[t].glue; g != nil && g.most > 0 {
			if a := float64(s.need[t]) * float64(s.types[t].w); a > lacks {
				worst, lacks = t, a
			}
		}
	}
	if worst < 0 || len(s.bestPool) == 1 {
		s.need, s.strips = was.need, was.strips
		return false
	}
	s.reset(math.MaxInt64)
	s.stamp++
	most := s.types[worst].glue.most
	s.types[worst].glue.most = 0
	for k := len(s.stacks) - 1; k >= 0; k-- {
		st := s.stacks[k]
		if slices.ContainsFunc(st.parts, func(p laid) bool { return p.typ == worst }) {
			s.take(k, func(i int) bool { return st.parts[i].typ != worst })
		}
	}
	s.fill(0, 0)
	s.best = nil
	s.keep()
	s.run(ctx, low, moves, tell)
	if s.unmade(s.bestPool) < was.unmade(was.bestPool)-1e-12 {
		return true
	}
	iter := s.iter
	*s = was
	s.iter = iter
	s.types[worst].glue.most = most
	return false
}

// unmade is what parts that are left out weigh, a panel as a whole.
func (s *boardSearch) unmade(pool []int32) float64 {
	v := 0.0
	for _, t := range pool {
		v += s.types[t].weight
	}
	return v
}
