package check

import (
	"fmt"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// The home is taken to swing between these moisture contents; with the
// shop's own they span the worst case. FPL-GTR-190 ch. 13: interiors average
// 8 %, 6 in the dry south-west, 11 on the humid south-east coast.
const homeDry, homeDamp = 6, 11

// least is a movement not worth a word.
const least = unit.Millimetre

// movement says by how much wide solid parts change across the grain. Fronts
// speak for themselves where they are built, beside their gap.
func movement(in Input) []finding.Finding {
	var out []finding.Finding
	for _, p := range in.Model.Parts {
		if !p.Solid || p.Role == build.RoleFront || p.Role == build.RoleDoor {
			continue
		}
		across := p.Width.Size
		if p.Grain == build.GrainWidth {
			across = p.Length.Size
		}
		s, ok := wood.FindSpecies(in.Shop.Woods[p.Material].Species)
		if !ok {
			continue
		}
		m, err := s.Movement(across, wood.Tangential, homeDry, homeDamp)
		if err != nil || m.Change.Abs() < least {
			continue
		}
		out = append(out, finding.Finding{
			ID: "moves", Level: finding.Note, Place: "part " + p.Letter + ", " + p.Name,
			Says:   fmt.Sprintf("%s is %s wide across the grain and moves %s between %d and %d %% moisture.", p.Name, in.Show(across), fine(in, m.Change), homeDry, homeDamp),
			Figure: fine(in, m.Change),
			Advice: advice(p.Role, fine(in, m.Change)),
			Source: m.Equation.String() + "; coefficient " + m.Figure.String() + ", flat-sawn",
		})
	}
	return out
}

// fine prints small movements finer than sizes.
func fine(in Input, l unit.Length) string {
	if in.Piece.Units.String() == "in" {
		return fmt.Sprintf("%.3f in", l.In())
	}
	return fmt.Sprintf("%.1f mm", l.MM())
}

func advice(r build.Role, by string) string {
	switch r {
	case build.RoleTop:
		return "Hold it with buttons or in slots, fixed only along the front; leave " + by + " of play behind."
	case build.RoleSide:
		return "Let runner frames float: glue them at the front only, slot the rest, " + by + " of play at the back."
	case build.RoleBoxBottom:
		return "Grain side to side, glued to nothing, slotted screw at the back."
	}
	return "Do not glue it across the grain of what it meets; leave it " + by + " of play."
}
