package check

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
)

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
					Says:   fmt.Sprintf("%d of %s do not come out of the boards of %s %s.", s.Count, it.Label, w.Key, w.Class),
					Figure: fmt.Sprint(s.Count), Advice: "Pick one more board, or list it in the shop.", Source: "layout on the boards of the shop",
				}
				if s.Over > 0 {
					f.Says += fmt.Sprintf(" The best board is short by %s.", in.Show(s.Over))
					f.Figure = in.Show(s.Over)
				}
				out = append(out, f)
			}
		}
		if len(w.Glued) > 0 {
			widest := in.Shop.Woods[w.Key].Widest
			out = append(out, finding.Finding{
				ID: "glued-up", Level: finding.Note, Place: "parts " + strings.Join(w.Glued, ", "),
				Says:   fmt.Sprintf("These parts of %s %s are wider than one board and are glued up from strips.", w.Key, w.Class),
				Figure: in.Show(w.Widest.Size), Limit: in.Show(widest),
				Advice: "Match the strips for colour and grain before cutting.", Source: "widest board, from the shop",
			})
		}
	}
	return out
}
