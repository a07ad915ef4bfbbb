package check

import (
	"fmt"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// clampReach says what clamps have to reach where something is glued inside a
// closed shell: they only come in from its open front and back, and the middle
// of the depth lies farthest.
func clampReach(in Input) []finding.Finding {
	c := in.Piece.Case
	if c.Kind != "shell" || c.Shape != "closed" {
		return nil
	}
	glues := ""
	deep := unit.Length(0)
	for _, j := range in.Model.Joints {
		a, b := partOf(in.Model, j.A), partOf(in.Model, j.B)
		if a == nil || b == nil || a == b || (a.Bent == nil) == (b.Bent == nil) {
			continue
		}
		p := a
		if a.Bent != nil {
			p = b
		}
		if (p.Role == build.RoleDivider || p.Role == build.RoleShelf || p.Role == build.RoleBlock) && p.Width.Size > deep {
			glues, deep = p.Name+" "+p.Letter, p.Width.Size
		}
	}
	need, reach := deep/2, unit.Length(0)
	for _, k := range in.Shop.Clamps {
		reach = max(reach, k.Reach)
	}
	if glues == "" || need <= reach {
		return nil
	}
	f := finding.Finding{
		ID: "clamp-reach", Level: finding.Note, Place: "case",
		Says:   fmt.Sprintf("Clamps come into the closed shell from its two open sides only; the middle of %s lies %s in.", glues, in.Show(need)),
		Figure: in.Show(need), Limit: "reach of the clamps, not said in the shop",
		Advice: "Press the middle with cauls bowed by " + up(in, unit.Inch/16) + " or so and clamped at their ends, or wedge a prop between top and bottom.", Source: "derived",
	}
	if reach > 0 {
		f.Level, f.Limit = finding.Care, in.Show(reach)
		f.Advice = fmt.Sprintf("They are short by %s. %s", in.Show(need-reach), f.Advice)
	}
	return []finding.Finding{f}
}
