package cutting

import (
	"context"
	"fmt"
	"math"
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

// A bound is a value that no layout can be below, and why.
type bound struct {
	value int64
	why   string
}

// areaBound compares the parts' area with that of the sheets, each counted
// with one kerf.
func (p *problem) areaBound() bound {
	cheapest := math.Inf(1)
	for _, s := range p.sheets {
		cheapest = min(cheapest, float64(s.price)/(float64(s.w)*float64(s.h)))
	}
	if len(p.types) == 0 || math.IsInf(cheapest, 1) {
		return bound{why: "there is nothing to cut"}
	}
	v := ceilSafe(p.area() * cheapest)
	return bound{v, fmt.Sprintf("the parts and their kerfs fill the area of %.2f sheets", p.area()*cheapest)}
}
