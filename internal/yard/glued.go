package yard

import (
	"cmp"
	"fmt"
	"maps"
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
	Width    unit.Length // as sawn
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
			strips[k] = append(strips[k], placed{p.Strip, Strip{board, p.X, p.Y, p.H, job.Sheets[l.Sheet].Tone}})
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

// Even reports whether all strips are of one width.
func (p GluedPanel) Even() bool {
	for _, s := range p.Strips {
		if s.Width != p.Strips[0].Width {
			return false
		}
	}
	return true
}

// Says is the order of the strips, how wide they are where they are not alike,
// and where each lies on its board: strip 1, 120 mm wide, from board 2, 25 mm
// from the end and 6 mm from the edge.
func (p GluedPanel) Says(show func(unit.Length) string) string {
	one := len(p.Boards()) == 1
	var list []string
	for i, s := range p.Strips {
		t := fmt.Sprintf("%d ", i+1)
		if !p.Even() {
			t = fmt.Sprintf("%d, %s wide, ", i+1, show(s.Width))
		}
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

// StripSize is how many strips of one width are sawn.
type StripSize struct {
	Width unit.Length
	Count int
}

// Strips are the strips that a part is glued up from on the boards that are
// known, the widest first; none where it is not, or where boards are lacking.
func (w Wood) Strips(letter string) []StripSize {
	n := map[unit.Length]int{}
	for _, p := range w.GluedPanels() {
		if p.Letter != letter {
			continue
		}
		for _, s := range p.Strips {
			n[s.Width]++
		}
	}
	if w.Result == nil || slices.ContainsFunc(w.Result.Short, func(s cutting.Shortfall) bool { return w.Letters[s.Item] == letter }) {
		return nil
	}
	var out []StripSize
	for _, width := range slices.Backward(slices.Sorted(maps.Keys(n))) {
		out = append(out, StripSize{width, n[width]})
	}
	return out
}

// Tally is how many pieces of one size lie on a layout.
type Tally struct {
	Item, Count int
	W, H        unit.Length // as asked for, of strips as sawn
}

// TallyOf counts what lies on a layout, in its order.
func TallyOf(job cutting.Job, l cutting.Layout) []Tally {
	var out []Tally
	for _, p := range l.Parts {
		t := Tally{p.Item, 1, job.Items[p.Item].W, job.Items[p.Item].H}
		if job.Items[p.Item].Glue != nil {
			t.H = p.H
		}
		k := slices.IndexFunc(out, func(o Tally) bool { return o.Item == t.Item && o.H == t.H })
		if k < 0 {
			out = append(out, t)
			continue
		}
		out[k].Count++
	}
	return out
}

// MostStrips is how many strips of a part are in one panel, at most; 0 where no
// boards are known.
func (w Wood) MostStrips(letter string) int {
	n := 0
	for _, p := range w.GluedPanels() {
		if p.Letter == letter {
			n = max(n, len(p.Strips))
		}
	}
	return n
}
