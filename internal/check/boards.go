package check

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// comesNot says how many of so many parts are short.
func comesNot(short, all int) string {
	switch {
	case all == 1:
		return "it does not come"
	case short == 1:
		return fmt.Sprintf("one of %d does not come", all)
	case short == all:
		return fmt.Sprintf("none of %d come", all)
	}
	return fmt.Sprintf("%d of %d do not come", short, all)
}

// boards says which solid parts do not come out of the boards listed, and
// which are wider than any board and so glued up.
func boards(in Input) []finding.Finding {
	var out []finding.Finding
	for _, w := range in.Woods {
		if w.Result != nil {
			for _, s := range w.Result.Short {
				it := w.Job.Items[s.Item]
				f := finding.Finding{
					ID: "board-short", Level: finding.Stop, Place: "part " + it.ID + ", " + it.Label,
					Says:   fmt.Sprintf("%s %s: %s out of the boards of %s.", it.ID, it.Label, comesNot(s.Count, it.Qty), w.Called()),
					Figure: fmt.Sprint(s.Count), Advice: "Pick one more board, or list it in the shop.", Source: "layout on the boards of the shop",
				}
				if s.Over > 0 {
					f.Says += fmt.Sprintf(" The best board is short by %s.", in.Show(s.Over))
					f.Figure = in.Show(s.Over)
				}
				if s.Lacks > 0 {
					f.Says += fmt.Sprintf(" Of the width of their strips %s is lacking.", in.Show(s.Lacks))
				}
				if s.Marred {
					f.Says += " They fit the size of a board, but on none clear of its defects."
					f.Advice = "Pick a board with a longer clear stretch, or glue the part up from narrower strips."
				}
				out = append(out, f)
			}
		}
		if len(w.Glued) > 0 {
			widest := in.Shop.Woods[w.Key].Widest
			var whole unit.Length
			for _, p := range in.Model.Parts {
				if slices.Contains(w.Glued, p.Letter) {
					whole = max(whole, p.Rough.Width)
				}
			}
			advice := "Match the strips for colour and grain before cutting."
			if w.Result != nil {
				advice = "The layouts on the boards say which strips make which panel, and in which order."
			}
			out = append(out, finding.Finding{
				ID: "glued-up", Level: finding.Note, Place: "parts " + strings.Join(w.Glued, ", "),
				Says:   fmt.Sprintf("These parts of %s are wider than one board and are glued up from strips.", w.Called()),
				Figure: in.Show(whole), Limit: in.Show(widest),
				Advice: advice, Source: "widest board, from the shop",
			})
		}
	}
	return out
}
