package check

import (
	"fmt"

	"casewright/internal/finding"
)

// testBends holds what was got on each trial strip against the plan, which
// goes by all strips of the panel and saw: one that is off disagrees with the
// others.
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
				Says:   fmt.Sprintf("A test bend closed at %.2f° a kerf; by all test bends of this panel and saw the plan has %.2f°.", each, planned),
				Figure: fmt.Sprintf("%.1f %%", off), Limit: "1 %",
				Advice: fmt.Sprintf("By this one alone %.1f° take %.2f kerfs. Strips of one panel and saw should agree: measure skin and angle again, bend one more, and take out the one that is wrong.", b.Design.Result.Turn.Deg(), b.Design.Result.Turn.Deg()/each),
				Source: "test bend in the record",
			})
			break
		}
	}
	return out
}
