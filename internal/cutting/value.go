package cutting

import "context"

// Draft is Solve for a first look: only the value counts, how the layouts lie
// is not tidied.
func Draft(ctx context.Context, job Job, budget Budget) (Result, error) {
	budget.valued = true
	return Solve(ctx, job, budget)
}
