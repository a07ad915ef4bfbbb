package plan

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// revision marks the papers, so that two printed sets can be told apart. It is
// made of what was typed into piece and shop, and of what was measured and cut
// since, which changes sizes; a record without any of these counts as none, be
// there a file of it or not. Hours, bills and agreed changes, and the units in
// which a plan is shown, change no part and leave the mark as it is.
func revision(p piece.Piece, s shop.Shop, r record.Record) string {
	p.Units = unit.Metric // lengths are exact whatever they were typed in
	in := []any{p, s}
	add := func(what string, n int, v any) {
		if n > 0 {
			in = append(in, what, v)
		}
	}
	add("thicknesses", len(r.Thicknesses), r.Thicknesses)
	add("kerfs", len(r.Kerfs), r.Kerfs)
	add("test bends", len(r.TestBends), r.TestBends)
	add("openings", len(r.Openings), r.Openings)
	add("cut", len(r.Cut), r.Cut)
	add("blanks", len(r.Blanks), r.Blanks)
	add("left", len(r.Left), r.Left)
	text, err := json.Marshal(in)
	if err != nil {
		return "unmarked" // a NaN typed by hand; validation refuses those
	}
	sum := sha256.Sum256(text)
	return fmt.Sprintf("%x", sum[:4])
}
