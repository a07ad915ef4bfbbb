package cutting_test

import (
	"context"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// The height told is the height used: the sheet is cut down and searched on
// again and again, and what is taken out of it between is not lost sight of.
func TestHeightIsUsed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := cutting.Job{Kerf: 3, Objective: cutting.LeastHeight, Sheets: []cutting.Sheet{{ID: "s", W: 400, H: 3000, Stock: 1}}, Seed: rapid.Uint64().Draw(t, "seed")}
		for range rapid.IntRange(4, 17).Draw(t, "parts") {
			job.Items = append(job.Items, cutting.Item{
				W: unit.Length(rapid.IntRange(10, 159).Draw(t, "w")), H: unit.Length(rapid.IntRange(10, 159).Draw(t, "h")),
				Qty: rapid.IntRange(1, 2).Draw(t, "qty"), Turn: rapid.Bool().Draw(t, "turn"),
			})
		}
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 3000})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatal(err)
		}
	})
}
