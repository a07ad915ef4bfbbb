package check

import (
	"fmt"
	"math"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Figures for legs.
const (
	plateEdge    = unit.Inch // least from the edge of a plate to the edge of the case, common practice
	strengthPart = 5         // share of the bending strength that a leg is trusted with, common practice
	dragShare    = 0.4       // friction of a foot over its load when dragged, common practice
)

// legs looks at what stands under the case: how near plates lie to its edges,
// how legs bend, and what the plates pull on their screws.
func legs(in Input) []finding.Finding {
	b := in.Piece.Base
	if b == nil || b.Kind == "plinth" {
		return nil
	}
	var out []finding.Finding
	for _, e := range []struct {
		path string
		size unit.Length
	}{{"base.inset-side", b.InsetX}, {"base.inset-front", b.InsetY}} {
		if e.size < plateEdge {
			out = append(out, finding.Finding{
				ID: "plate-near-edge", Level: finding.Care, Place: e.path,
				Says:   fmt.Sprintf("The plates of the %s lie %s from the edge of the case; screws so near to it split the panel.", b.Kind, in.Show(e.size)),
				Figure: in.Show(e.size), Limit: in.Show(plateEdge),
				Advice: fmt.Sprintf("Set them in %s more.", in.Show(plateEdge-e.size)), Source: "1 in, common practice, no source",
				Fix: setTo(in, e.path, plateEdge.RoundUp(step(in)), "Set the plates in %s"),
			})
		}
	}
	if b.Kind == "legs" {
		out = append(out, legStrength(in)...)
	}
	return out
}

// legStrength takes one leg of four off the floor, so that a third of all
// stands on each, and drags the piece. A leaning foot stands outside its head
// and bends the leg besides (derived).
func legStrength(in Input) []finding.Finding {
	var leg *build.Part
	for i := range in.Model.Parts {
		if in.Model.Parts[i].Role == build.RoleLeg {
			leg = &in.Model.Parts[i]
		}
	}
	if leg == nil || len(leg.Places) == 0 {
		return nil
	}
	b := in.Piece.Base
	load := (float64(Mass(in.Model, in.Shop)) + in.Piece.Use.LoadKg) / 3 * gravity // N
	head, foot := leg.Places[0].Frame.At(leg.Length.Size, 0, 0), leg.Places[0].Frame.At(0, 0, 0)
	d := head.Sub(foot)
	out, high := math.Hypot(d.X.MM(), d.Y.MM()), d.Z.MM()
	stands := load * out                 // N mm
	dragged := load * (dragShare * high) // N mm
	return append(legBends(in, leg, b.Thick.MM(), stands+dragged), platePulls(in, load, stands, dragged)...)
}

func legBends(in Input, leg *build.Part, thick, moment float64) []finding.Finding {
	s, ok := wood.FindSpecies(in.Shop.Woods[leg.Material].Species)
	if !ok || s.MOR <= 0 || thick <= 0 {
		return nil
	}
	stress := unit.Stress(32 * moment / (math.Pi * cube(thick))) // as if turned round
	limit := s.MOR / strengthPart
	if stress <= limit {
		return nil
	}
	f := finding.Finding{
		ID: "leg-bends", Level: finding.Care, Place: partPlace(leg),
		Says:   fmt.Sprintf("Dragged with one foot off the floor, leg %s takes %.0f MPa at its head; a fifth of the strength of %s is %.0f MPa.", leg.Letter, float64(stress), s.Name, float64(limit)),
		Figure: fmt.Sprintf("%.0f MPa", float64(stress)), Limit: fmt.Sprintf("%.0f MPa", float64(limit)),
		Advice: fmt.Sprintf("Make the head %s thick, or shorten the legs to %s.", up(in, unit.MM(thick*math.Cbrt(float64(stress/limit)))), down(in, in.Piece.Base.Height.Scale(float64(limit/stress)))),
		Source: "bending strength " + s.StrengthBy.String() + "; a fifth of it, common practice",
	}
	f.Fix = setTo(in, "base.thick", unit.MM(thick*math.Cbrt(float64(stress/limit))).RoundUp(step(in)), "Make the legs %s thick")
	if stress > s.MOR {
		f.Level, f.Says = finding.Stop, f.Says+" It breaks."
	}
	return []finding.Finding{f}
}

// platePulls compares what a plate pulls on its two outer screws with the
// design value while it stands, and with the average ultimate while it is
// dragged. Plywood is taken as solid wood of its density (derived).
func platePulls(in Input, load, stands, dragged float64) []finding.Finding {
	h := in.Shop.Hardware[in.Piece.Base.Hardware]
	var use *build.ScrewUse
	for i := range in.Model.Screws {
		if in.Model.Screws[i].Where == "leg plate" {
			use = &in.Model.Screws[i]
		}
	}
	if use == nil || h.Length <= 0 || h.Screws < 2 {
		return nil
	}
	bottom := density(partUnder(in), in.Shop)
	g := float64(bottom) / 1120 // specific gravity at 12 %
	if g <= 0 {
		return nil
	}
	wide := h.Length
	if h.Width > 0 {
		wide = min(h.Length, h.Width)
	}
	arm := wide.MM() * 2 / 3 // between screw rows
	thread := use.Length - h.Thickness
	design := wood.ScrewWithdrawalDesign(wood.SGOvendry(g), use.Diameter, thread)
	ultimate := wood.ScrewWithdrawal(wood.SG12(g), use.Diameter, thread)
	pull := unit.Force(stands / arm / 2)
	drag := unit.Force((stands + dragged) / arm / 2)
	f := finding.Finding{ID: "leg-screws-pull", Level: finding.Care, Place: "screws: leg plate"}
	switch {
	case pull > design:
		f.Says = fmt.Sprintf("A leg that carries %s pulls %s on each outer screw of its plate; %s is the design value.", newtons(in, load), newtons(in, float64(pull)), newtons(in, float64(design)))
		f.Figure, f.Limit = newtons(in, float64(pull)), newtons(in, float64(design))
		f.Source = wood.WithdrawalDesignBy.String() + "; plywood taken by its density, derived"
	case drag > ultimate:
		f.Says = fmt.Sprintf("Dragged over the floor, a leg pulls %s on each outer screw of its plate; %s draws one out on average.", newtons(in, float64(drag)), newtons(in, float64(ultimate)))
		f.Figure, f.Limit = newtons(in, float64(drag)), newtons(in, float64(ultimate))
		f.Source = wood.WithdrawalBy.String() + "; plywood taken by its density, derived"
		pull, design = drag, ultimate
	default:
		return nil
	}
	f.Advice = fmt.Sprintf("Glue a block of %s inside over each plate and take screws with %s of thread in the wood, or a plate %s wide.",
		up(in, thread.Scale(float64(pull/design))), up(in, thread.Scale(float64(pull/design))), up(in, wide.Scale(float64(pull/design))))
	return []finding.Finding{f}
}

// partUnder is the part that plates are screwed to.
func partUnder(in Input) build.Part {
	for _, role := range []build.Role{build.RoleBottom, build.RoleShell} {
		for _, p := range in.Model.Parts {
			if p.Role == role {
				return p
			}
		}
	}
	return build.Part{}
}
