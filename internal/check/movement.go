package check

import (
	"fmt"
	"strings"

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
const least = 2 * unit.Millimetre

// movement says by how much wide solid parts change across the grain: for
// each role the widest, with the letters of the others. Fronts speak for
// themselves where they are built, beside their gap.
func movement(in Input) []finding.Finding {
	type widest struct {
		part    build.Part
		move    wood.Move
		across  unit.Length
		letters []string
	}
	byRole := map[build.Role]*widest{}
	var order []build.Role
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
		w := byRole[p.Role]
		if w == nil {
			w = &widest{}
			byRole[p.Role] = w
			order = append(order, p.Role)
		}
		w.letters = append(w.letters, p.Letter)
		if across > w.across {
			w.part, w.move, w.across = p, m, across
		}
	}
	var out []finding.Finding
	for _, role := range order {
		w := byRole[role]
		by := fine(in, w.move.Change)
		f := finding.Finding{
			ID: "moves", Level: finding.Note, Place: "part " + w.part.Letter + ", " + w.part.Name,
			Says:   fmt.Sprintf("%s %s is %s across the grain and moves %s between %d and %d %% moisture.", capital(w.part.Name), w.part.Letter, in.Show(w.across), by, homeDry, homeDamp),
			Figure: by, Advice: advice(role, by),
			Source: w.move.Equation.String() + "; coefficient " + w.move.Figure.String() + ", flat-sawn",
		}
		if len(w.letters) > 1 {
			f.Place = "parts " + strings.Join(w.letters, ", ")
			f.Says += fmt.Sprintf(" It is the widest of %s.", strings.Join(w.letters, ", "))
		}
		out = append(out, f)
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
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
	case build.RoleBoxSide, build.RoleBoxEnd:
		return "The boxes grow in height by " + by + ": the runner's space above must take it."
	case build.RoleBoxBottom:
		return "Grain side to side, glued to nothing, slotted screw at the back."
	}
	return "Do not glue it across the grain of what it meets; leave it " + by + " of play."
}
