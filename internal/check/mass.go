package check

import (
	"fmt"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Mass is what the wood of one piece weighs, from the outlines of its parts
// and the densities of the shop or the tables. Hardware is not in it.
func Mass(m build.Model, s shop.Shop) unit.Mass {
	var sum unit.Mass
	for _, p := range m.Parts {
		sum += PartMass(p, s) * unit.Mass(p.Count)
	}
	return sum
}

// PartMass is what one such part weighs. Kerfs, grooves and holes are taken
// as full: the glue that fills them weighs about as much.
func PartMass(p build.Part, s shop.Shop) unit.Mass {
	return density(p, s).Of(unit.Volume(float64(p.Outline.Area()) * p.Thickness.Size.Metres()))
}

func density(p build.Part, s shop.Shop) unit.Density {
	if p.Solid {
		w, _ := wood.FindSpecies(s.Woods[p.Material].Species)
		return w.Density
	}
	if d := s.Panels[p.Material].Density; d > 0 {
		return unit.Density(d)
	}
	k, _ := wood.FindPanel(s.Panels[p.Material].Kind)
	return k.Density
}

// One person lifts no more than this under the best conditions. NIOSH load
// constant, from memory; health and safety guidance differs by country.
const liftAlone unit.Mass = 23

// lifting says when a piece is no load for one.
func lifting(in Input) []finding.Finding {
	m := Mass(in.Model, in.Shop)
	if m <= liftAlone {
		return nil
	}
	return []finding.Finding{{
		ID: "lifting", Level: finding.Note, Place: in.Piece.Name,
		Says:   fmt.Sprintf("The wood of one piece weighs about %s, without hardware.", m.Both(in.Piece.Units, 0)),
		Figure: kg(in, float64(m)), Limit: kg(in, float64(liftAlone)),
		Advice: lightened(in), Source: "NIOSH load constant 23 kg, from memory",
	}}
}

// lightened says how two people, or one with less to lift, move it: what comes
// out of it first, if anything does.
func lightened(in Input) string {
	drawers, doors := false, false
	for _, o := range in.Model.Openings {
		drawers, doors = drawers || o.Fill == "drawer", doors || o.Fill == "door"
	}
	switch {
	case drawers && doors:
		return "Two people, or take drawers and doors out first."
	case drawers:
		return "Two people, or take the drawers out first."
	case doors:
		return "Two people, or take the doors off first."
	}
	return "Two people, or a cart."
}

// casters compares the rating of each caster with a third of what it may
// carry: of four, one may be off the floor (common practice, no source).
func casters(in Input) []finding.Finding {
	b := in.Piece.Base
	if b == nil || b.Kind != "casters" {
		return nil
	}
	need := (float64(Mass(in.Model, in.Shop)) + in.Piece.Use.LoadKg) / 3
	h := in.Shop.Hardware[b.Hardware]
	f := finding.Finding{
		ID: "casters", Level: finding.Note, Place: "base", Figure: kg(in, need), Limit: unit.Mass(h.RatedKg).Stated(in.Piece.Units),
		Says:   fmt.Sprintf("Each caster may have to carry %s; it is rated for %s.", kg(in, need), unit.Mass(h.RatedKg).Stated(in.Piece.Units)),
		Advice: "Two of them with brakes.", Source: "(piece + load) / 3, common practice, no source",
	}
	if need > h.RatedKg {
		f.Level = finding.Stop
		f.Advice = fmt.Sprintf("Take casters rated for at least %s each.", kg(in, float64(unit.Mass(need).RoundedUp(in.Piece.Units))))
	}
	return []finding.Finding{f}
}
