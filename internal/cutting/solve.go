package cutting

import (
	"context"
)

// DefaultIterations is the search budget when none is given: it takes well
// under a second for a furniture job that is not proven at once.
const DefaultIterations = 20_000

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
	b := p.areaBound()
	b.raise(p.dualBound())
	s := newSearch(p, job.Seed)
	tell := func(value int64, iter int) {
		if budget.Progress != nil {
			budget.Progress(Progress{Iterations: iter, Of: budget.Iterations, Value: value, Bound: b.value})
		}
	}
	bins, left := s.run(ctx, b.value, budget.Iterations, tell)
	r := Result{Layouts: p.layouts(&job, bins), Iterations: s.iter, Bound: b.value, Why: b.why}
	for _, l := range bins {
		r.Value += p.sheets[l.sheet].price
	}
	r.Short = shortfalls(&job, p, misfits, left)
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	return r, nil
}
