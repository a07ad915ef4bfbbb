package yard

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"casewright/internal/cutting"
)

// layOut lays out material by material. The materials share nothing but the
// cores, so the layouts are the same on one; a material alone has all of them.
func layOut(ctx context.Context, panels []Panel, budget cutting.Budget) error {
	errs := make([]error, len(panels))
	sideBySide(len(panels), budget, func(i int, mine cutting.Budget) { errs[i] = panels[i].layOut(ctx, mine) })
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("panel %s: %w", panels[i].Key, err)
		}
	}
	return nil
}

// sideBySide does n searches, on the cores that the budget says, or on all that there
// are. Progress is told of all together.
func sideBySide(n int, budget cutting.Budget, do func(i int, mine cutting.Budget)) {
	if budget.Cores == nil {
		budget.Cores = cutting.NewCores(runtime.GOMAXPROCS(0) - 1)
	}
	tell := together(n, budget.Progress)
	budget.Cores.Each(n, func(i int) {
		mine := budget
		mine.Progress = tell(i)
		do(i, mine)
	})
}

func (p *Panel) layOut(ctx context.Context, budget cutting.Budget) (err error) {
	if p.Result, err = cutting.Solve(ctx, p.Job, budget); err == nil {
		p.Saving, err = cutting.Saving(ctx, p.Job, p.Result, budget)
	}
	return err
}

// together adds up the progress of n searches.
func together(n int, report func(cutting.Progress)) func(i int) func(cutting.Progress) {
	if report == nil {
		return func(int) func(cutting.Progress) { return nil }
	}
	var one sync.Mutex
	now := make([]cutting.Progress, n)
	return func(i int) func(cutting.Progress) {
		return func(p cutting.Progress) {
			one.Lock()
			defer one.Unlock()
			now[i] = p
			var sum cutting.Progress
			for _, p := range now {
				sum.Iterations += p.Iterations
				sum.Of += p.Of
				sum.Value += p.Value
				sum.Bound += p.Bound
			}
			report(sum)
		}
	}
}
