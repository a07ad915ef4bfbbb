package build

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// seasons says by how much a part moves over the year.
func (b *builder) seasons(move unit.Length, how wood.Move) string {
	if move == 0 {
		return ""
	}
	return fmt.Sprintf("moves %s %s (%s)", b.show(move), between(how), how.Equation)
}

// noteGluedTop warns of a solid top that is glued down along its whole depth.
func (b *builder) noteGluedTop(move unit.Length, how wood.Move) {
	if move == 0 {
		return
	}
	b.note(finding.Finding{
		ID: "top-glued", Level: finding.Care, Place: "case.top.held",
		Says:   fmt.Sprintf("The solid top moves %s over the year, and glue holds it fast.", b.show(move)),
		Figure: b.show(move), Advice: "Hold it by buttons or slotted screws, unless the sides are solid with their grain running the same way.",
		Source: how.Equation.String(),
		Fix:    finding.Set("case.top.held", "buttons", "Hold the top by buttons"),
	})
}

// between says the moistures that a movement is worked out for.
func between(how wood.Move) string {
	return fmt.Sprintf("between %g and %g %% moisture", float64(how.From), float64(how.To))
}
