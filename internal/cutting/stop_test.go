package cutting_test

import (
	"context"
	"fmt"
	"testing"

	"casewright/internal/cutting"
)

// A tiring context ends after so many looks at it: at the same place in every
// run.
type tiring struct {
	context.Context
	looks int
}

func (c *tiring) Err() error {
	if c.looks--; c.looks < 0 {
		return context.Canceled
	}
	return nil
}

// stopJobs are jobs that take each way through the solver.
func stopJobs() map[string]cutting.Job {
	panel := cutting.Sheet{ID: "panel", W: mm(2440), H: mm(1220), Stock: -1, Price: 5000}
	small := cutting.Sheet{ID: "half", W: mm(1220), H: mm(1220), Stock: -1, Price: 2700}
	parts := func(kinds, qty int) []cutting.Item {
		var out []cutting.Item
		for i := range kinds {
			out = append(out, cutting.Item{ID: fmt.Sprint("P", i), W: mm(float64(210 + 37*i%900)), H: mm(float64(90 + 53*i%400)), Qty: qty, Turn: i%3 == 0})
		}
		return out
	}
	jobs := map[string]cutting.Job{
		"outright":     {Sheets: []cutting.Sheet{panel}, Items: parts(6, 2)},
		"search":       {Sheets: []cutting.Sheet{panel}, Items: parts(25, 1)},
		"patterns":     {Sheets: []cutting.Sheet{panel}, Items: parts(8, 20)},
		"prices":       {Sheets: []cutting.Sheet{panel, small}, Items: parts(14, 2), Objective: cutting.LeastPrice},
		"strips first": {Sheets: []cutting.Sheet{panel}, Items: parts(12, 3), Stages: 3},
		"height":       {Sheets: []cutting.Sheet{{W: mm(1220), H: mm(9000), Stock: 1}}, Items: parts(15, 1), Objective: cutting.LeastHeight},
		"lengths":      {Sheets: []cutting.Sheet{{W: mm(2440), H: mm(100), Stock: -1}}, Items: parts(20, 3)},
		"batch":        {Sheets: []cutting.Sheet{panel, small}, Items: parts(45, 9), Objective: cutting.LeastPrice},
		"batch of few": {Sheets: []cutting.Sheet{panel}, Items: parts(5, 120)},
	}
	few := cutting.Job{Sheets: []cutting.Sheet{panel, small}, Objective: cutting.LeastPrice} // large parts, so that panels are exchanged
	for i := range 30 {
		few.Items = append(few.Items, cutting.Item{ID: fmt.Sprint("P", i), W: mm(float64(700 + 61*i%800)), H: mm(float64(400 + 47*i%500)), Qty: 1})
	}
	jobs["few on each"] = few
	for name, job := range jobs {
		job.Kerf = mm(3)
		jobs[name] = job
	}
	lengths := jobs["lengths"]
	for i := range lengths.Items {
		lengths.Items[i].H, lengths.Items[i].Turn = mm(100), false
	}
	matched := jobs["search"]
	matched.Matched = []cutting.Matched{{Items: []int{2, 5}, Axis: cutting.Along}, {Items: []int{7, 9, 11}, Axis: cutting.Across}}
	jobs["matched"] = matched
	return jobs
}

// A search that is stopped, wherever that is, gives a layout of all parts.
func TestStoppedAnywhere(t *testing.T) {
	for name, job := range stopJobs() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			stopped := 0
			for looks := 0; looks < 3000; looks = looks*5 + 1 {
				ctx := &tiring{context.Background(), looks}
				r, err := cutting.Solve(ctx, job, cutting.Budget{Iterations: 2000})
				if err != nil {
					t.Fatal(err)
				}
				sound(t, job, r)
				if len(r.Short) > 0 {
					t.Fatalf("after %d looks: %d kinds of parts without a place", looks, len(r.Short))
				}
				if ctx.looks < 0 {
					stopped++
				}
			}
			if stopped == 0 {
				t.Error("never stopped")
			}
		})
	}
}

// Progress goes forward, and what it tells as certain holds at the end; a
// search stopped from the report of it ends soon and whole.
func TestProgressAndStop(t *testing.T) {
	for name, job := range stopJobs() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var told []cutting.Progress
			r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 3000, Progress: func(p cutting.Progress) { told = append(told, p) }})
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range told {
				if p.Bound > r.Value || p.Value < 0 || p.Iterations < 0 || i > 0 && p.Iterations < told[i-1].Iterations {
					t.Fatalf("report %d: %+v after %+v; the value is %d", i+1, p, told[max(0, i-1)], r.Value)
				}
			}
			ctx, stop := context.WithCancel(context.Background())
			defer stop()
			after := 0
			r, err = cutting.Solve(ctx, job, cutting.Budget{Iterations: 3000, Progress: func(cutting.Progress) {
				after++
				stop()
			}})
			if err != nil {
				t.Fatal(err)
			}
			sound(t, job, r)
			if len(r.Short) > 0 || after > 5 {
				t.Errorf("%d kinds of parts without a place; %d reports after the end", len(r.Short), after-1)
			}
		})
	}
}
