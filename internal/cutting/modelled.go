package cutting

import "context"

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
