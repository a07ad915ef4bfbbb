package check

import (
	"fmt"

	"casewright/internal/finding"
)

// testBends holds what was got on a trial strip against what was planned.
func testBends(in Input) []finding.Finding {
	var out []finding.Finding
	for _, t := range in.Record.TestBends {
		for _, b := range in.Model.Bends {
			part := partOf(in.Model, b.Part)
			if part == nil || part.Material != t.Panel || b.Saw != t.Saw || t.Kerfs < 1 {
				continue
			}
			each := t.Angle.Deg() / float64(t.Kerfs)
			planned := b.Design.Result.ClosingEach.Deg()
			if planned <= 0 {
				continue
			}
			off := (each/planned - 1) * 100
			if off > -1 && off < 1 {
				continue
			}
			out = append(out, finding.Finding{
				ID: "test-bend-differs", Level: finding.Care, Place: "bend " + b.Name,
				Says:   fmt.Sprintf("The test bend closed at %.2f° a kerf, the plan has %.2f°.", each, planned),
				Figure: fmt.Sprintf("%.1f %%", off), Limit: "1 %",
				Advice: fmt.Sprintf("For %.1f° take %.2f kerfs as tested; set the count, or measure skin and kerf again.", b.Design.Result.Turn.Deg(), b.Design.Result.Turn.Deg()/each),
				Source: "test bend in the record",
			})
			break
		}
	}
	return out
}
