// Package yard works out what to buy and how it is laid out: panels with
// their layouts, boards by thickness class, and the buying list.
package yard

import (
	"context"
	"fmt"
	"sort"
	"strings"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Panel is how the parts of one panel material are cut. The items of Job
// stand in the order of Letters.
type Panel struct {
	Key     string         `json:"key"`
	Name    string         `json:"name"`
	Saw     string         `json:"saw"` // key of the saw that breaks it down
	Job     cutting.Job    `json:"job"`
	Letters []string       `json:"letters"`
	Result  cutting.Result `json:"result"`
	// Saving is a small change of one size that would save a panel; nil when
	// none was found.
	Saving *cutting.Change `json:"saving,omitempty"`
}

// Default size below which a rest is waste (common practice, no source).
var leastOffcut = [2]unit.Length{unit.MM(300), unit.MM(150)}

// Breaker is the saw that breaks panels down: the one marked so, else a track
// saw, else a table saw, else whatever there is; ties by key. The key is
// empty when the shop has no saw.
func Breaker(s shop.Shop, r record.Record) (string, shop.Saw) {
	rank := func(w shop.Saw) int {
		switch {
		case w.Breaks:
			return 0
		case w.Kind == "track":
			return 1
		case w.Kind == "table":
			return 2
		}
		return 3
	}
	best := ""
	for _, key := range sorted(s.Saws) {
		if best == "" || rank(s.Saws[key]) < rank(s.Saws[best]) {
			best = key
		}
	}
	return best, measured(best, s, r)
}

// measured is a saw with the kerf as it was measured last.
func measured(key string, s shop.Shop, r record.Record) shop.Saw {
	w := s.Saws[key]
	if k := r.Kerfs[key]; k > 0 {
		w.Kerf = k
	}
	return w
}

// Panels lays the parts of so many pieces out, material by material in the
// order of their keys. Of doc it takes which parts are matched. The error is
// that of the search: sizes out of its range. Progress is told of all
// materials together, by one goroutine at a time.
func Panels(ctx context.Context, m build.Model, doc piece.Piece, pieces int, s shop.Shop, r record.Record, budget cutting.Budget) ([]Panel, error) {
	cut := map[string]int{}
	for _, c := range r.Cut {
		cut[c.Part] += c.Count
	}
	byKey := map[string]*Panel{}
	for _, p := range m.Parts {
		if p.Solid {
			continue
		}
		n := p.Count*pieces - cut[p.Letter]
		if p.OffSaw != nil {
			n -= p.OffSaw.Count
		}
		if n <= 0 {
			continue
		}
		panel := byKey[p.Material]
		if panel == nil {
			panel = newPanel(p.Material, s, r)
			byKey[p.Material] = panel
		}
		it := cutting.Item{ID: p.Letter, W: p.CutLength(), H: p.CutWidth(), Qty: n, Label: p.Name}
		if p.Grain == build.GrainWidth {
			it.W, it.H = it.H, it.W
		}
		it.Turn = p.Grain == build.GrainFree || s.Panels[p.Material].NoGrain
		panel.Job.Items = append(panel.Job.Items, it)
		panel.Letters = append(panel.Letters, p.Letter)
	}
	var out []Panel
	for _, key := range sorted(byKey) {
		p := byKey[key]
		p.match(&m, doc.Grain, pieces, doc.Pair)
		out = append(out, *p)
	}
	return out, layOut(ctx, out, budget)
}

// stages is how many stages of cuts a panel may take, 0: any number, and which
// way the strips of the first run.
func stages(h shop.Habits) (int, cutting.Run) {
	if !h.StripsFirst {
		return 0, cutting.EitherWay
	}
	n := h.StripStages
	if n == 0 {
		n = 3
	}
	switch h.StripsRun {
	case "lengthwise":
		return n, cutting.Lengthwise
	case "crosswise":
		return n, cutting.Crosswise
	}
	return n, cutting.EitherWay
}

func newPanel(key string, s shop.Shop, r record.Record) *Panel {
	saw, w := Breaker(s, r)
	stock := s.Panels[key]
	p := &Panel{Key: key, Name: s.StockCalled(key), Saw: saw}
	p.Job = cutting.Job{Kerf: w.Kerf, Objective: cutting.LeastPrice}
	p.Job.Stages, p.Job.Run = stages(s.Habits)
	least := s.Habits.LeastOffcut
	if least == [2]unit.Length{} {
		least = leastOffcut
	}
	p.Job.LeastOffcut.W, p.Job.LeastOffcut.H = least[0], least[1]
	for i, sheet := range stock.Sheets {
		trim := stock.TrimOf(sheet)
		cs := cutting.Sheet{
			W: sheet.Length, H: sheet.Width, Offcut: sheet.Offcut, Label: p.Name,
			Trim: cutting.Trim{Left: trim, Right: trim, Bottom: trim, Top: trim},
		}
		if sheet.OnHand > 0 || sheet.Offcut {
			cs.ID, cs.Stock = fmt.Sprintf("%d on hand", i+1), sheet.OnHand
			p.Job.Sheets = append(p.Job.Sheets, cs)
		}
		if !sheet.Offcut {
			cs.ID, cs.Stock, cs.Price = fmt.Sprint(i+1), -1, Money(sheet.Price)
			p.Job.Sheets = append(p.Job.Sheets, cs)
			if cs.Price == 0 { // without all prices, fewer panels is the best that can be said
				p.Job.Objective = cutting.FewestSheets
			}
		}
	}
	for i, left := range r.Left { // clean on all edges: no trim
		if left.Panel == key {
			p.Job.Sheets = append(p.Job.Sheets, cutting.Sheet{
				ID: fmt.Sprintf("left %d", i+1), W: left.Length, H: left.Width, Stock: max(left.Count, 1), Offcut: true, Label: p.Name,
			})
		}
	}
	return p
}

// Used is how many sheets of Job.Sheets[i] the layouts take.
func (p Panel) Used(i int) int {
	n := 0
	for _, l := range p.Result.Layouts {
		if l.Sheet == i {
			n += l.Copies
		}
	}
	return n
}

// Bought is how many sheets must be bought in all.
func (p Panel) Bought() int {
	n := 0
	for i, s := range p.Job.Sheets {
		if s.Stock < 0 {
			n += p.Used(i)
		}
	}
	return n
}

// Findings says what does not come out of the panels: short by how much, and
// what would make it fit. show prints a length in the piece's units.
func (p Panel) Findings(show func(unit.Length) string) []finding.Finding {
	out := p.Result.Findings(p.Job, show)
	for i, short := range p.Result.Short {
		out[i].Place = "part " + p.Letters[short.Item] + ", " + p.Job.Items[short.Item].Label
		out[i].Source = "layout on the panels of the shop"
	}
	if c := p.Saving; c != nil {
		it := p.Job.Items[c.Item]
		side := "length"
		if c.Axis == cutting.Across {
			side = "width"
		}
		out = append(out, finding.Finding{
			ID: "panel-saved", Level: finding.Note, Place: "part " + p.Letters[c.Item] + ", " + it.Label,
			Says:   fmt.Sprintf("%s less on the %s of %s %s.", show(c.By), side, p.changed(it.Label), p.saves()),
			Figure: show(c.By), Advice: fmt.Sprintf("Make it %s.", show(c.To)), Source: "layout on the panels of the shop",
		})
	}
	return out
}

// saves says what the smaller size does.
func (p Panel) saves() string {
	switch c := p.Saving; {
	case c.Short < short(p.Result):
		return "brings more of the parts out of " + p.Name
	case c.Saves == 0:
		return "makes the panels of " + p.Name + " cheaper"
	case c.Saves > 1:
		return fmt.Sprintf("saves %d panels of %s", c.Saves, p.Name)
	}
	return "saves a panel of " + p.Name
}

// short is the number of pieces without a place.
func short(r cutting.Result) int {
	n := 0
	for _, s := range r.Short {
		n += s.Count
	}
	return n
}

// changed names the part that is made smaller and those matched with it.
func (p Panel) changed(name string) string {
	var more []string
	for _, i := range p.Saving.With {
		more = append(more, p.Letters[i])
	}
	if len(more) == 0 {
		return name
	}
	return fmt.Sprintf("%s and of %s, which are matched with it,", name, strings.Join(more, ", "))
}

func sorted[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
