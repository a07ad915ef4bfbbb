package check

import (
	"fmt"

	"casewright/internal/build"
	"casewright/internal/finding"
)

// frameGrain: stiles run through with their grain upright, rails lie between
// them with their grain level (ANSI/AWI 1235-2024 3.4.1 b). A stile taken for a
// rail shows here, and in lengths that no longer fit.
func frameGrain(in Input) []finding.Finding {
	var out []finding.Finding
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if !p.Solid || p.Role != build.RoleStile && p.Role != build.RoleRail {
			continue
		}
		for _, at := range p.Places {
			upright := along(grainDir(p, at), up3)
			if upright == (p.Role == build.RoleStile) {
				continue
			}
			is, must := "level", "upright"
			if upright {
				is, must = must, is
			}
			out = append(out, finding.Finding{
				ID: "frame-grain", Level: finding.Stop, Place: partPlace(p),
				Says:   fmt.Sprintf("The grain of %s %s runs %s; that of a %s must run %s.", p.Name, p.Letter, is, p.Role, must),
				Figure: is, Limit: must, Advice: fmt.Sprintf("Turn it by 90°: its %s are cut along the grain. See that stile and rail are not swapped.", in.Show(max(p.Length.Size, p.Width.Size))),
				Source: "ANSI/AWI 1235-2024 3.4.1 b",
			})
			break
		}
	}
	return out
}
