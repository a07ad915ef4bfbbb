package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// A GluedPanel is one part glued up from strips, in their order.
type GluedPanel struct {
	Letter string
	Name   string
	N, Of  int // which of the pieces of this part
	Strips []Strip
}

// A Strip is where one strip of a panel comes from.
type Strip struct {
	Board    int         // number of the board among the layouts
	FromEnd  unit.Length // of the board as bought
	FromEdge unit.Length // from the straight edge
	Tone     int
}

// GluedPanels are the panels that the boards give, strip by strip; none where
// no boards are known.
func (w Wood) GluedPanels() []GluedPanel {
	if w.Result == nil {
		return nil
	}
	return GluedPanelsOf(*w.Job, *w.Result, w.Letters)
}

// GluedPanelsOf are the panels glued up from the strips of a layout.
func GluedPanelsOf(job cutting.Job, r cutting.Result, letters []string) []GluedPanel {
	type key struct{ item, n int }
	at := map[key]int{}
	type placed struct {
		strip int
		Strip
	}
	strips := map[key][]placed{}
	var out []GluedPanel
	var keys []key
	board := 1
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			if p.Panel == 0 {
				continue
			}
			k := key{p.Item, p.Panel}
			if _, ok := at[k]; !ok {
				at[k] = len(out)
				it := job.Items[p.Item]
				out = append(out, GluedPanel{Letter: letters[p.Item], Name: it.Label, N: p.Panel, Of: it.Qty / max(it.Strips, 1)})
				keys = append(keys, k)
			}
			strips[k] = append(strips[k], placed{p.Strip, Strip{board, p.X, p.Y, job.Sheets[l.Sheet].Tone}})
		}
		board += l.Copies
	}
	for i, k := range keys {
		slices.SortFunc(strips[k], func(a, b placed) int { return cmp.Compare(a.strip, b.strip) })
		for _, s := range strips[k] {
			out[i].Strips = append(out[i].Strips, s.Strip)
		}
	}
	slices.SortStableFunc(out, func(a, b GluedPanel) int {
		return cmp.Or(cmp.Compare(slices.Index(letters, a.Letter), slices.Index(letters, b.Letter)), cmp.Compare(a.N, b.N))
	})
	return out
}

// Title names the panel: D 2 of 4; the only one of its kind by its letter.
func (p GluedPanel) Title() string {
	if p.Of > 1 {
		return fmt.Sprintf("%s %d of %d", p.Letter, p.N, p.Of)
	}
	return p.Letter
}

// Boards are the boards that the strips come from, each once.
func (p GluedPanel) Boards() []int {
	var out []int
	for _, s := range p.Strips {
		if !slices.Contains(out, s.Board) {
			out = append(out, s.Board)
		}
	}
	return out
}

// Says is the order of the strips, and where each lies on its board: strip 1
// from board 2, 25 mm from the end and 6 mm from the edge.
func (p GluedPanel) Says(show func(unit.Length) string) string {
	one := len(p.Boards()) == 1
	var list []string
	for i, s := range p.Strips {
		t := fmt.Sprintf("%d ", i+1)
		if !one {
			t += fmt.Sprintf("from board %d ", s.Board)
		}
		list = append(list, t+fmt.Sprintf("at %s / %s", show(s.FromEnd), show(s.FromEdge)))
	}
	from := "strips in this order: "
	if one {
		from = fmt.Sprintf("all from board %d, in this order: ", p.Strips[0].Board)
	}
	return from + strings.Join(list, "; ")
}
