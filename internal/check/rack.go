package check

import (
	"fmt"
	"math"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// cornerGives is by how much the corner of a case without a back may open or
// close before doors and drawers bind: a degree (common practice, no source).
const cornerGives unit.Angle = math.Pi / 180

// racking says what a case without a back does when it is pushed sideways.
func racking(in Input) []finding.Finding {
	if in.Piece.Back != nil {
		return nil
	}
	out := in.Model.Outside
	move := out.Z.Scale(math.Tan(cornerGives.Rad()))
	f := finding.Finding{
		ID: "racks", Level: finding.Care, Place: "back",
		Says:   fmt.Sprintf("Without a back nothing keeps the case square: one degree at its corners moves the top %s sideways and makes its diagonals differ by %s.", fine(in, move), fine(in, Rack(out.X, out.Z, move))),
		Figure: fine(in, move), Limit: "a back glued, or screwed every 150 to 200 mm",
		Advice: "Give it a back, or corner blocks of 100 mm behind, or a rail across the top at the back.", Source: "common practice, no source; diagonals: geometry",
	}
	if in.Piece.Frame != nil || in.Piece.Case.Shape == "closed" {
		f.Level = finding.Note
	}
	return []finding.Finding{f}
}

// Rack is the difference of the diagonals of a frame whose top is pushed
// sideways by so much: √((w+x)² + h²) − √((w−x)² + h²). Exact geometry.
func Rack(width, height, x unit.Length) unit.Length {
	w, h, m := width.MM(), height.MM(), x.MM()
	return unit.MM(math.Hypot(w+m, h) - math.Hypot(w-m, h))
}

// RackOf is the push that belongs to two measured diagonals:
// (d1 − d2)(d1 + d2) / 4w. Exact for a frame of width w.
func RackOf(d1, d2, width unit.Length) unit.Length {
	if width <= 0 {
		return 0
	}
	a, b := d1.MM(), d2.MM()
	return unit.MM((a - b) * (a + b) / (4 * width.MM()))
}
