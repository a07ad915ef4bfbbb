// Package check holds what a master would say over the maker's shoulder: one
// file for each check, every finding with its figure, its limit, where the
// limit comes from, and by how much to change what.
package check

import (
	"slices"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Input is all that the checks look at.
type Input struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Record record.Record
	Model  build.Model
	Panels []yard.Panel
	Woods  []yard.Wood
	Setups []saw.Sequence
	Fit    []finding.Finding        // from fitting the openings as measured
	Show   func(unit.Length) string // prints a length in the piece's units
}

// each is every check, in the order of the work: building, buying, sawing,
// milling, assembling, use.
var each = []func(Input) []finding.Finding{
	testBends, panels, boards, settings, machines,
	movement, acrossGrain, frameGrain, joints, screws, clampReach, veneers,
	shelves, overhangs, rails, bottoms, runners, sizes, caseSags, legs, casters, racking, tipping, hanging,
	neighbours, wayIn, lifting, clothing, inUse,
}

// All runs every check. The gravest findings come first; within a level those
// of building and fitting stand before the others.
func All(in Input) []finding.Finding {
	out := append(slices.Clone(in.Model.Findings), in.Fit...)
	for _, check := range each {
		out = append(out, check(in)...)
	}
	// A bottom whose sag is worked out needs no rule of thumb.
	if slices.ContainsFunc(out, func(f finding.Finding) bool { return f.ID == "drawer-bottom-sags" }) {
		out = slices.DeleteFunc(out, func(f finding.Finding) bool { return f.ID == "thin-bottom" })
	}
	finding.Sort(out)
	return out
}

func panels(in Input) []finding.Finding {
	var out []finding.Finding
	for _, p := range in.Panels {
		out = append(out, p.Findings(in.Show)...)
	}
	return out
}
