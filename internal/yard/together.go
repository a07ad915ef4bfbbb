package yard

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"casewright/internal/cutting"
)

// layOut lays out material by material, on as many cores as there are: the
// materials share nothing, so the layouts are the same on one core.
func layOut(ctx context.Context, panels []Panel, budget cutting.Budget) error {
	errs := make([]error, len(panels))
	tell := together(len(panels), budget.Progress)
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var all sync.WaitGroup
	for i := range panels {
		free <- struct{}{}
		all.Go(func() {
			defer func() { <-free }()
			mine := budget
			mine.Progress = tell(i)
			errs[i] = panels[i].layOut(ctx, mine)
		})
	}
	all.Wait()
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("panel %s: %w", panels[i].Key, err)
		}
	}
	return nil
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
