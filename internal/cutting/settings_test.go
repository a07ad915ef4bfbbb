package cutting_test

import (
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
)

// Counted by hand: four parts 497 × 247 fill a panel 997 × 497 with kerfs of
// 3: one rip, then both strips turned and crosscut at one setting.
func TestSettingsAndTurns(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(1017), H: mm(517), Stock: -1, Trim: cutting.Trim{Left: mm(10), Right: mm(10), Bottom: mm(10), Top: mm(10)}}},
		Items:  []cutting.Item{{W: mm(497), H: mm(247), Qty: 4}},
		Kerf:   mm(3),
	}
	r := solve(t, job, 0)
	if r.Settings != 2 || r.Turns != 2 {
		t.Errorf("%d settings, %d turns; want 2 and 2", r.Settings, r.Turns)
	}
}

// Twelve parts of two widths fit two strips or many mixed columns; of layouts
// that leave the same the one with few settings is taken: two rips and one
// crosscut.
func TestFewSettingsAreTaken(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(1200), H: mm(600), Stock: -1}},
		Items: []cutting.Item{
			{W: mm(197), H: mm(297), Qty: 6},
			{W: mm(197), H: mm(147), Qty: 6},
		},
		Kerf: mm(3),
	}
	job.LeastOffcut.W, job.LeastOffcut.H = mm(300), mm(100)
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if r.Value != 1 || r.Settings > 3 || len(r.Layouts[0].Offcuts) != 1 {
		t.Errorf("%d sheets, %d settings, %d turns, offcuts %+v", r.Value, r.Settings, r.Turns, r.Layouts[0].Offcuts)
	}
}
