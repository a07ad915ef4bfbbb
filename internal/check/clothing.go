package check

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Where clothing storage begins to be in scope: all three reached. ASTM
// F2057-23 scope 1.1, made mandatory in the US by 16 CFR 1261.
const (
	scopeHeight             = 27 * unit.Inch
	scopeMass               = 30 * unit.Pound
	scopeVolume unit.Volume = 3.2 * 0.3048 * 0.3048 * 0.3048
)

// InScope reports whether height, mass and enclosed volume all reach the
// limits of the scope.
func InScope(height unit.Length, mass unit.Mass, volume unit.Volume) bool {
	return height >= scopeHeight && mass >= scopeMass && volume >= scopeVolume
}

// ClosedVolume is what the space behind a door counts for: half of what it is
// (regulator's guidance, as quoted elsewhere).
func ClosedVolume(width, height, depth unit.Length) unit.Volume {
	return unit.VolumeOf(width, height, depth) / 2
}

// clothing says whether a piece for clothing is of the size that the US rule
// on tip-over is about. It never says that a piece passes: the test is
// physical.
func clothing(in Input) []finding.Finding {
	if in.Piece.Use.For != "clothing" || in.Piece.Use.Hung() { // the rule is about what stands free on the floor
		return nil
	}
	var volume unit.Volume
	for _, o := range in.Model.Openings {
		volume += o.Storage
		if o.Fill == "door" {
			volume += ClosedVolume(o.Width.Size, o.Height.Size, in.Piece.Case.Depth)
		}
	}
	mass := Mass(in.Model, in.Shop)
	if !InScope(in.Model.Outside.Z, mass, volume) {
		return nil
	}
	fix := "tell the customer to fix it to the wall"
	switch {
	case in.Piece.Base != nil && in.Piece.Base.Kind == "casters":
		fix = "set it on feet, legs or a plinth: on casters it cannot be fixed to the wall"
	case in.Piece.Use.Anchor:
		fix = "tell the customer never to take it off the wall"
	}
	return []finding.Finding{{
		ID: "clothing-storage", Level: finding.Care, Place: in.Piece.Name,
		Says: fmt.Sprintf("At %s high, about %.0f lb and %.2f ft³ it is of the size that the US rule on clothing storage covers. Estimate only; nothing here shows that it passes.",
			in.Show(in.Model.Outside.Z), float64(mass/unit.Pound), float64(volume)/(0.3048*0.3048*0.3048)),
		Figure: fmt.Sprintf("%.2f ft³", float64(volume)/(0.3048*0.3048*0.3048)), Limit: "27 in, 30 lb and 3.2 ft³",
		Advice: "Have it tested. Buy an interlock for the drawers, a wall restraint and the warning label, and " + fix + ".",
		Source: "ASTM F2057-23 scope, 16 CFR 1261",
	}}
}
