package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
)

// bends passes on what the bends themselves have to say. Bends that say the
// same are named together; corners made alike are read once.
func bends(in Input) []finding.Finding {
	type said struct{ id, says string }
	at := map[said]int{}
	var out []finding.Finding
	for _, b := range in.Model.Bends {
		for _, f := range b.Design.Findings {
			k := said{f.ID, f.Says}
			if i, ok := at[k]; ok {
				if !strings.Contains(out[i].Place, b.Name) {
					out[i].Place += ", " + b.Name
				}
				continue
			}
			f.Place = "bend " + b.Name
			at[k] = len(out)
			out = append(out, f)
		}
	}
	return append(out, testBends(in)...)
}

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
			planned := b.Design.ClosingEach.Deg()
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
				Advice: fmt.Sprintf("For %.1f° take %.2f kerfs as tested; set the count, or measure skin and kerf again.", b.Design.Turn.Deg(), b.Design.Turn.Deg()/each),
				Source: "test bend in the record",
			})
			break
		}
	}
	return out
}

func partOf(m build.Model, letter string) *build.Part {
	for i := range m.Parts {
		if m.Parts[i].Letter == letter {
			return &m.Parts[i]
		}
	}
	return nil
}
