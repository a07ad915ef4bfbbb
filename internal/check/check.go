// Package check holds what a master would say over the maker's shoulder: one
// file for each check, every finding with its figure, its limit, where the
// limit comes from, and by how much to change what.
package check

import (
	"cmp"
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
	Show   func(unit.Length) string // prints a length in the piece's units
}

// All runs every check. The gravest findings come first; within a level they
// keep the order of the work: building, bending, buying, sawing, use.
func All(in Input) []finding.Finding {
	out := slices.Clone(in.Model.Findings)
	out = append(out, testBends(in)...)
	for _, p := range in.Panels {
		out = append(out, p.Findings(in.Show)...)
	}
	out = append(out, boards(in)...)
	out = append(out, settings(in)...)
	out = append(out, movement(in)...)
	out = append(out, casters(in)...)
	out = append(out, lifting(in)...)
	out = append(out, clothing(in)...)
	slices.SortStableFunc(out, func(a, b finding.Finding) int { return cmp.Compare(b.Level, a.Level) })
	return out
}
