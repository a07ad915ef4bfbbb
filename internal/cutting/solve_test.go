package cutting_test

import (
	"context"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

func mm(v float64) unit.Length { return unit.MM(v) }

func solve(t testing.TB, job cutting.Job, iterations int) cutting.Result {
	t.Helper()
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: iterations})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A low case bent from two half shells: panel 2440 x 1220, trims of 10, kerf
// 2.2; strips of 420. Derived: 1200 - 2*420 - 2*2.2 = 355.6 is left of the
// width, 2420 - 1838.19 - 2.2 = 579.61 of the length.
func TestTwoHalfShellsFromOnePanel(t *testing.T) {
	ten := mm(10)
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "oak ply", W: mm(2440), H: mm(1220), Stock: -1, Trim: cutting.Trim{Left: ten, Right: ten, Bottom: ten, Top: ten}}},
		Items:  []cutting.Item{{ID: "half shell", W: mm(1838.19), H: mm(420), Qty: 2}},
		Kerf:   mm(2.2),
	}
	job.LeastOffcut.W, job.LeastOffcut.H = mm(300), mm(300)
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if r.Value != 1 || !r.Proven || len(r.Layouts) != 1 {
		t.Fatalf("got %+v", r)
	}
	widths, lengths := map[unit.Length]bool{}, map[unit.Length]bool{}
	for _, o := range r.Layouts[0].Offcuts {
		widths[o.H], lengths[o.W] = true, true
	}
	if !widths[mm(355.6)] || !lengths[mm(579.61)] {
		t.Errorf("offcuts %+v", r.Layouts[0].Offcuts)
	}
	job.Items[0].Qty = 3
	if r = solve(t, job, 0); r.Value != 2 || !r.Proven {
		t.Errorf("three half shells: %d sheets, proven %t", r.Value, r.Proven)
	}
	job.Items[0].Qty = 2
	job.Sheets[0] = cutting.Sheet{ID: "short", W: mm(1000), H: mm(1220), Stock: -1}
	r = solve(t, job, 0)
	if len(r.Short) != 1 || r.Short[0].Over != mm(838.19) || r.Short[0].Axis != cutting.Along {
		t.Errorf("panel 1000 long: %+v", r.Short)
	}
}

// Any job gives a layout that the verifier passes.
func TestAnyJobIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 60})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%v\n%+v\n%+v", err, job, r)
		}
	})
}

func drawJob(t *rapid.T) cutting.Job {
	length := func(lo, hi int, what string) unit.Length {
		return unit.Length(rapid.IntRange(lo, hi).Draw(t, what)) * unit.Millimetre / 10
	}
	job := cutting.Job{Kerf: length(0, 40, "kerf"), Seed: rapid.Uint64().Draw(t, "seed")}
	job.Objective = cutting.Objective(rapid.IntRange(0, 1).Draw(t, "objective"))
	job.StripsFirst = rapid.Bool().Draw(t, "strips")
	job.LeastOffcut.W, job.LeastOffcut.H = mm(30), mm(10)
	for range rapid.IntRange(1, 3).Draw(t, "sheets") {
		s := cutting.Sheet{ID: "s", W: length(500, 3000, "W"), H: length(500, 2000, "H"), Stock: -1}
		s.Price = unit.Money(rapid.IntRange(0, 100).Draw(t, "price"))
		s.Stock = rapid.IntRange(-1, 3).Draw(t, "stock")
		s.Trim = cutting.Trim{Left: length(0, 60, "l"), Right: length(0, 60, "r"), Bottom: length(0, 60, "b"), Top: length(0, 60, "t")}
		job.Sheets = append(job.Sheets, s)
	}
	for range rapid.IntRange(0, 8).Draw(t, "items") {
		job.Items = append(job.Items, cutting.Item{
			ID: "p", W: length(20, 1500, "w"), H: length(20, 1500, "h"),
			Qty: rapid.IntRange(0, 4).Draw(t, "qty"), Turn: rapid.Bool().Draw(t, "turn"),
		})
	}
	return job
}
