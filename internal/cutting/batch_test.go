package cutting_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"
)

// large is a job of n parts of many sizes.
func large(n int) cutting.Job {
	job := cutting.Job{
		Sheets: []cutting.Sheet{
			{ID: "on hand", W: mm(1220), H: mm(1220), Stock: 3, Offcut: true},
			{ID: "panel", W: mm(2440), H: mm(1220), Stock: -1, Price: 5000},
		},
		Kerf: mm(3), Objective: cutting.LeastPrice,
	}
	for i := range n / 3 {
		job.Items = append(job.Items, cutting.Item{W: mm(float64(300 + 37*i%900)), H: mm(float64(90 + 53*i%400)), Qty: 3, Turn: i%3 == 0})
	}
	return job
}

func TestLargeJobs(t *testing.T) {
	job := large(600)
	told := 0
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 20_000, Progress: func(p cutting.Progress) {
		if told++; p.Bound <= 0 || p.Value < 0 {
			t.Errorf("%+v", p)
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if told == 0 || len(r.Short) > 0 || float64(r.Value) > 1.25*float64(r.Bound) {
		t.Errorf("told %d times, %d short, value %d, bound %d", told, len(r.Short), r.Value, r.Bound)
	}
}

// A search that is stopped at once still lays everything out.
func TestLargeJobStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	job := large(600)
	r, err := cutting.Solve(ctx, job, cutting.Budget{})
	if err != nil {
		t.Fatal(err)
	}
	if err := verify.Result(job, r); err != nil || len(r.Short) > 0 {
		t.Fatal(err, len(r.Short))
	}
	// With stock short, what is left is told.
	job.Sheets[1].Stock = 5
	r, err = cutting.Solve(ctx, job, cutting.Budget{})
	if err != nil {
		t.Fatal(err)
	}
	if err := verify.Result(job, r); err != nil || len(r.Short) == 0 || r.Proven {
		t.Fatal(err, len(r.Short), r.Proven)
	}
}

// One part of the largest size and thousands of the smallest.
func TestThousandsOfOnePart(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(2440), H: mm(1220), Stock: -1}},
		Items:  []cutting.Item{{W: mm(2440), H: mm(1220), Qty: 1}, {W: mm(100), H: mm(100), Qty: 5000}},
		Kerf:   mm(4),
	}
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	// 23 × 11 of 104 in 2444 × 1224: 253 each, so 20, and one for the whole.
	if r.Value != 21 {
		t.Errorf("%d panels, bound %d", r.Value, r.Bound)
	}
}

// Large jobs with few large parts on a panel end close to their bound: dives
// through the mix of patterns take the last panels out. (Without them these
// jobs end 0.5 % above it on average.)
func TestLargeJobOfLargeParts(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	const jobs = 4
	above := 0.0
	for range jobs {
		job := cutting.Job{Objective: cutting.LeastPrice, Seed: 1}
		for _, s := range [][3]int{{1000, 1000, 1000}, {1200, 800, 960}, {1100, 900, 990}} {
			job.Sheets = append(job.Sheets, cutting.Sheet{W: mm(float64(s[0])), H: mm(float64(s[1])), Price: unit.Money(s[2]), Stock: -1})
		}
		for range 15 {
			job.Items = append(job.Items, cutting.Item{W: mm(float64(250 + r.IntN(500))), H: mm(float64(250 + r.IntN(500))), Qty: 30 + r.IntN(30), Turn: r.IntN(2) == 0})
		}
		a := solve(t, job, 200_000)
		if err := verify.Result(job, a); err != nil {
			t.Fatal(err)
		}
		above += (float64(a.Value)/float64(a.Bound) - 1) / jobs
	}
	if t.Logf("%.2f %% above the bound on average", 100*above); above > 0.003 {
		t.Errorf("%.2f %% above the bound on average", 100*above)
	}
}

// Hundreds of parts, unlike or of sizes that repeat a few times, on panels of
// one and of several sizes, with and without a limit to the stages: near the
// bound, within the moves given.
func TestLargeJobOfManySizes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, c := range []struct {
		kinds, qty, sheets, stages int
		above                      float64
	}{{500, 1, 4, 0, 0.1}, {500, 1, 1, 2, 0.2}, {250, 2, 4, 0, 0.1}, {250, 2, 1, 0, 0.1}, {160, 3, 4, 3, 0.13}, {125, 4, 4, 0, 0.1}} {
		for _, objective := range []cutting.Objective{cutting.FewestSheets, cutting.LeastPrice} {
			job := cutting.Job{Objective: objective, Kerf: mm(3), Stages: c.stages}
			for _, s := range [][3]int{{2800, 2070, 980}, {2440, 1220, 540}, {3050, 1525, 870}, {1200, 600, 150}}[:c.sheets] {
				job.Sheets = append(job.Sheets, cutting.Sheet{W: mm(float64(s[0])), H: mm(float64(s[1])), Price: unit.Money(s[2]), Stock: -1})
			}
			for range c.kinds {
				job.Items = append(job.Items, cutting.Item{W: mm(float64(100 + r.IntN(700))), H: mm(float64(50 + r.IntN(400))), Qty: c.qty, Turn: r.IntN(2) == 0})
			}
			const budget = 3000
			a := solve(t, job, budget)
			if err := verify.Result(job, a); err != nil {
				t.Fatal(err)
			}
			if float64(a.Value) > (1+c.above)*float64(a.Bound) || a.Iterations > budget+budget/10 {
				t.Errorf("%+v: value %d, bound %d, %d moves", c, a.Value, a.Bound, a.Iterations)
			}
		}
	}
}
