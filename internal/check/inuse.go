package check

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// tall is the height from which a piece is fixed to the wall whatever it
// holds; pieces with drawers are from any (common practice).
const tall = 600 * unit.Millimetre

// inUse is what whoever lives with the piece must know of this one; what holds
// for any piece stands on the delivery note. It defers to local rules and
// never says that the piece is safe.
func inUse(in Input) []finding.Finding {
	var out []finding.Finding
	say := func(id, says, advice, source string) {
		out = append(out, finding.Finding{ID: id, Level: finding.Note, Place: in.Piece.Name, Says: says, Advice: advice, Source: source})
	}
	drawers := false
	for _, o := range in.Model.Openings {
		drawers = drawers || o.Fill == "drawer"
	}
	fix := "Fix it to the wall with an anchor that suits the wall."
	switch {
	case in.Piece.Use.Free():
		fix = "It is to stand free, so nothing holds it: tell whoever lives with it. Where children are about, better write against: wall and fix it there."
	case in.Piece.Use.Anchor:
		fix = "It is to be fixed to the wall: leave it so, and see now and then that the anchor is tight."
	}
	advice := fix + " Heavy things low, nothing to climb for on top."
	if drawers {
		advice += " One drawer open at a time."
	}
	switch {
	case in.Piece.Use.Hung(): // what holds it up is said with its fixings
	case in.Piece.Base != nil && in.Piece.Base.Kind == "casters":
		say("in-use-casters", "On casters it cannot be fixed to a wall.", "Lock the casters where it stands. Push it low, never with a drawer or door open; let no child ride on it.", "common practice; local rules go before it")
	case drawers || in.Model.Outside.Z >= tall:
		say("in-use-anchor", fmt.Sprintf("It is %s high and can be pulled over.", in.Show(in.Model.Outside.Z)), advice, "common practice; local rules and the anchor's own sheet go before it")
	}
	for i := range in.Model.Parts {
		if p := &in.Model.Parts[i]; p.Solid && acrossOf(p) > 6*unit.Inch {
			dry, damp := in.Piece.Home.Moistures()
			say("in-use-climate", fmt.Sprintf("Its solid wood is made to move between %g and %g %% moisture.", float64(dry), float64(damp)), "Keep it off radiators and stoves and out of damp rooms; gaps that change with the season are no fault.", homeSource(in.Piece.Home))
			break
		}
	}
	return out
}
