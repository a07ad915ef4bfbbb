package check

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// least is a movement not worth a word.
const least = 2 * unit.Millimetre

// slotRoom is added to a movement each way in slots, buttons and grooves (1/16
// in, common practice).
const slotRoom = unit.Inch / 16

// swing is what a width across the grain does between the dry and the damp
// month of the home, and from what it is when it leaves the shop.
type swing struct {
	whole        wood.Move
	dry, damp    wood.Moisture
	grows, falls unit.Length // from the shop's moisture, both 0 or more
}

// swings works out a flat-sawn width; false for a wood without figures.
func swings(in Input, material string, across unit.Length) (swing, bool) {
	w := in.Shop.Woods[material]
	s, ok := wood.FindSpecies(w.Species)
	if !ok {
		return swing{}, false
	}
	out := swing{}
	out.dry, out.damp = in.Piece.Home.Moistures()
	var err error
	if out.whole, err = s.Movement(across, wood.Tangential, out.dry, out.damp); err != nil {
		return swing{}, false
	}
	shop := wood.Moisture(w.Moisture)
	if shop == 0 { // not said
		shop = (out.dry + out.damp) / 2
	}
	if m, err := s.Movement(across, wood.Tangential, shop, out.damp); err == nil {
		out.grows = max(m.Change, 0)
	}
	if m, err := s.Movement(across, wood.Tangential, shop, out.dry); err == nil {
		out.falls = max(-m.Change, 0)
	}
	return out, true
}

// between says the moistures of the home.
func between(dry, damp wood.Moisture) string {
	return fmt.Sprintf("between %g and %g %% moisture", float64(dry), float64(damp))
}

func homeSource(h *piece.Home) string {
	if h == nil {
		return "home 6 to 11 % MC, FPL-GTR-190 ch. 13"
	}
	return fmt.Sprintf("home %g to %g %% humidity at %g °C, FPL-GTR-190 eq. 4-5", h.Dry, h.Damp, h.Temperature)
}

// movement says by how much wide solid parts change across the grain: for
// each role the widest, with the letters of the others. Fronts speak for
// themselves where they are built, beside their gap.
func movement(in Input) []finding.Finding {
	type widest struct {
		part    build.Part
		move    swing
		across  unit.Length
		letters []string
	}
	byRole := map[build.Role]*widest{}
	var order []build.Role
	for _, p := range in.Model.Parts {
		if !p.Solid || p.Role == build.RoleFront || p.Role == build.RoleDoor {
			continue
		}
		across := acrossOf(&p)
		m, ok := swings(in, p.Material, across)
		if !ok || m.whole.Change.Abs() < least {
			continue
		}
		role := p.Role
		switch {
		case role == build.RoleBoxEnd: // boxes move as one
			role = build.RoleBoxSide
		case withSides(in, &p):
			role = movesWithSides
		case p.Name == "shelf":
			role = looseShelf
		}
		w := byRole[role]
		if w == nil {
			w = &widest{}
			byRole[role] = w
			order = append(order, role)
		}
		w.letters = append(w.letters, p.Letter)
		if across > w.across {
			w.part, w.move, w.across = p, m, across
		}
	}
	var out []finding.Finding
	for _, role := range order {
		w := byRole[role]
		m := w.move.whole
		by := fine(in, m.Change)
		f := finding.Finding{
			ID: "moves", Level: finding.Note, Place: "part " + w.part.Letter + ", " + w.part.Name,
			Says:   fmt.Sprintf("%s %s is %s across the grain and moves %s %s.", document.Capital(w.part.Name), w.part.Letter, in.Show(w.across), by, between(m.From, m.To)),
			Figure: by, Advice: advice(in, role, w.move),
			Source: m.Equation.String() + "; coefficient " + m.Figure.String() + ", flat-sawn; " + homeSource(in.Piece.Home),
		}
		if len(w.letters) > 1 {
			f.Place = "parts " + strings.Join(w.letters, ", ")
			f.Says += fmt.Sprintf(" It is the widest of %s.", strings.Join(w.letters, ", "))
		}
		out = append(out, f)
	}
	return out
}

// Solid parts that have advice of their own beside those of their role.
const (
	movesWithSides build.Role = "moves with the sides"
	looseShelf     build.Role = "loose shelf"
)

// withSides says that a part is joined to solid sides or dividers only, or as
// a divider to top and bottom, and moves the same way as they do: grain runs
// upward or from side to side, so the widths of all run from front to back and
// no grain crosses. A slab that lies on the case is not meant.
func withSides(in Input, p *build.Part) bool {
	to := []build.Role{build.RoleSide, build.RoleDivider, build.RoleShell}
	if p.Role == build.RoleDivider {
		to = append(to, build.RoleTop, build.RoleBottom)
	}
	switch {
	case p.Role == build.RoleTop && in.Piece.Case.Top == nil, p.Role == build.RoleBottom, p.Name == "fixed shelf", p.Role == build.RoleDivider:
	default:
		return false
	}
	met := false
	for _, j := range in.Model.Joints {
		other := j.A
		if other == p.Letter {
			other = j.B
		} else if j.B != p.Letter {
			continue
		}
		s := partOf(in.Model, other)
		if s == nil || !slices.Contains(to, s.Role) {
			continue
		}
		if !s.Solid || len(s.Places) == 0 || len(p.Places) == 0 || !along(acrossDir(p, p.Places[0]), acrossDir(s, s.Places[0])) {
			return false
		}
		met = true
	}
	return met
}

// solidSides are the sides of a case, if all of them are solid.
func solidSides(in Input) []*build.Part {
	var out []*build.Part
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleSide || len(p.Places) == 0 {
			continue
		}
		if !p.Solid {
			return nil
		}
		out = append(out, p)
	}
	return out
}

// acrossDir is the way across the grain of a part, in its plane.
func acrossDir(p *build.Part, at build.Place) geom.Dir {
	if p.Grain == build.GrainWidth {
		return at.Frame.U
	}
	return at.Frame.V
}

// acrossOf is the size of a part across its grain.
func acrossOf(p *build.Part) unit.Length {
	if p.Grain == build.GrainWidth {
		return p.Length.Size
	}
	return p.Width.Size
}

func advice(in Input, r build.Role, m swing) string {
	by, grows, falls := fine(in, m.whole.Change), fine(in, m.grows), fine(in, m.falls)
	slot := fine(in, m.whole.Change+2*slotRoom)
	switch r {
	case movesWithSides:
		return fmt.Sprintf("The solid parts it is joined to move with it, for the widths of all run from front to back: it may be glued to them over its whole width. What runs from front to back under it and does not move so, such as a runner or the side of a plinth, is held at the front only; screws behind sit in slots %s longer than they are thick.", slot)
	case looseShelf:
		if len(solidSides(in)) > 0 {
			return fmt.Sprintf("It lies loose, and the solid sides grow from front to back as it does: it needs no more room behind it than it has, %s. Make it of wood as dry as theirs.", fine(in, build.BackPlay))
		}
		if m.grows <= build.BackPlay {
			return fmt.Sprintf("It lies loose; of the %s it has behind it, it takes %s in the damp month.", fine(in, build.BackPlay), grows)
		}
		return fmt.Sprintf("It lies loose %s clear of the back and grows %s into the damp month: set it back or make it %s narrower.", fine(in, build.BackPlay), grows, fine(in, m.grows-build.BackPlay))
	case build.RoleTop:
		more := ""
		if len(solidSides(in)) > 0 {
			more = " Solid sides move with it: then the play is more than it needs."
		}
		return fmt.Sprintf("Hold it with buttons or in slots, fixed only along the front. At the back a slot is %s longer than the screw is thick; a button stands %s off its shoulder and reaches %s into its groove.",
			slot, fine(in, m.falls+slotRoom), fine(in, m.whole.Change+2*slotRoom)) + more
	case build.RoleSide:
		if !slices.ContainsFunc(in.Model.Openings, func(o build.Opening) bool { return o.Fill == "drawer" }) {
			return fmt.Sprintf("Whatever is fixed to it from front to back and does not move so is held at the front only, in slots %s longer than the screw is thick behind. From the shop it grows %s and shrinks %s.", slot, grows, falls)
		}
		return fmt.Sprintf("Let runner frames float: glue them at the front only, slot the rest, %s of play at the back. From the shop it grows %s and shrinks %s.", by, grows, falls)
	case build.RoleBoxSide:
		return "The boxes grow in height by " + grows + " from the shop: the runner's space above must take it."
	case build.RoleBoxBottom, build.RoleBack:
		return fmt.Sprintf("Glue it to nothing. Leave %s of play in its grooves, or fix its middle and slot the other screws by %s.", fine(in, m.grows+slotRoom), slot)
	}
	return fmt.Sprintf("Do not glue it across the grain of what it meets; leave it %s of play, or slots %s longer than the screw is thick.", by, slot)
}
