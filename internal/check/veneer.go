package check

import (
	"fmt"
	"slices"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// sanded is what sanding takes off a veneered face in all (0.2 mm, common
// practice).
const sanded = unit.Millimetre / 5

// veneers says where sanding may go through a face, and where a frame trimmed
// flush stands beside one.
func veneers(in Input) []finding.Finding {
	var out []finding.Finding
	var done []string
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Solid || slices.Contains(done, p.Material) || !shows(p.Role) {
			continue
		}
		done = append(done, p.Material)
		face, by := facePly(in, p.Material)
		if face <= 0 || face > 2*sanded {
			continue
		}
		f := finding.Finding{
			ID: "sanded-through", Level: finding.Care, Place: in.Shop.StockCalled(p.Material), Doc: "shop", Path: "panels." + p.Material,
			Says:   fmt.Sprintf("The face of %s is %.2f mm thick and sanding takes about %.1f mm of it.", in.Shop.StockCalled(p.Material), face.MM(), sanded.MM()),
			Figure: fmt.Sprintf("%.1f mm", sanded.MM()), Limit: fmt.Sprintf("%.2f mm", (face / 2).MM()),
			Advice: "Scrape and sand by hand from 150 only, never across the edges; take a panel with a face of 0.5 mm or more.", Source: "0.2 mm in all, common practice, no source; face: " + by,
		}
		if face <= sanded {
			f.Level = finding.Stop
		}
		out = append(out, f)
	}
	return out
}

func shows(r build.Role) bool {
	switch r {
	case build.RoleShell, build.RoleSide, build.RoleTop, build.RoleFront, build.RoleDoor, build.RoleDivider, build.RoleShelf:
		return true
	}
	return false
}

// facePly is how thick the face of a panel is; 0 where it has none or it is
// not known.
func facePly(in Input, material string) (unit.Length, string) {
	s := in.Shop.Panels[material]
	if s.FacePly > 0 {
		return s.FacePly, "from the shop"
	}
	k, _ := wood.FindPanel(s.Kind)
	return k.FacePly, k.FacePlyBy.String()
}
