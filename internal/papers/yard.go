package papers

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/shop"
	"casewright/internal/yard"
)

// yard is what is wanted while buying: the list, the boards by class, and how
// the parts lie on the panels.
func (s *set) yard() {
	s.buying()
	for _, p := range s.p.Panels {
		s.layouts("panels: "+p.Name, p.Key, p.Name, p.Job, p.Result, p.Letters, p.Yield)
	}
	for _, w := range s.p.Woods {
		if w.Result != nil {
			s.onBoards("boards: "+w.Called(), w, *w.Job, *w.Result, w.Letters, w.Yield)
		}
	}
}

// buying is the buying list and the boards by thickness class.
func (s *set) buying() {
	total, unpriced := yard.Total(s.p.Buying)
	head := document.Count(yard.ToBuy(s.p.Buying), "line") + " to buy"
	switch {
	case total > 0 && unpriced == 0:
		head += fmt.Sprintf(", %s in all", s.money(total))
	case total > 0:
		head += fmt.Sprintf(", %s; %s without a price", s.money(total), document.Count(unpriced, "line"))
	}
	if n := s.pieces(); n > 1 {
		head += fmt.Sprintf(", for %d pieces", n)
	}
	f := s.flow(Yard, "what to buy", false, head)
	columns := []drawing.Column{
		{Head: "What", Share: 66},
		{Head: "Buy", Share: 10, Right: true, Bold: true},
		{Head: "", Share: 29},
		{Head: "Needed", Share: 18, Right: true},
		{Head: "Spare", Share: 12, Right: true},
		{Head: "Each", Share: 15, Right: true},
		{Head: "Price", Share: 16, Right: true},
		{Head: "Bought: what, where, lot", Share: 36},
	}
	var rows [][]string
	var why []string
	for _, l := range s.p.Buying {
		n := l.Count
		if l.Unit != "panel" && l.Sort != yard.SupplyGoods && l.Charged == 0 { // the reasons of panels are on their diagrams, of likely boards below
			why = appendNew(why, l.Why)
		}
		buy, unit := yard.Much(n, l.Unit), plural(l.Unit, n)
		if l.Made { // the spares in it: so many are made
			buy, unit = "", fmt.Sprintf("make %s here", amount(n))
		}
		each := blank(l.Each.Format())
		if l.Free {
			each = "free"
		}
		rows = append(rows, []string{
			document.Capital(l.What), buy, unit, strings.TrimSpace(yard.Much(l.Need, l.Unit) + " " + plural(l.Measure, l.Need)), blank(yard.Much(l.Spare, l.Unit)),
			each, blank(l.Price.Format()), "",
		})
	}
	f.table(columns, rows, drawing.TableStyle{Size: 2.5})
	if len(why) > 0 {
		f.text("Panels by their layouts; glue, finish and abrasive measured from joints, areas, coats and grits; the rest: "+strings.Join(why, "; ")+".", sizeNote, drawing.Regular)
	}
	s.boards(f)
	s.measured(f)
}

// amount is a count without needless decimals.
func amount(v float64) string { return yard.Amount(v) }

// blank leaves a cell empty where there is nothing to say.
func blank(t string) string {
	if t == "0" || t == "0.00" {
		return ""
	}
	return t
}

// plural is a unit of the buying list after a count.
func plural(u string, n float64) string { return yard.Plural(u, n) }

// boards lists solid wood by thickness class.
func (s *set) boards(f *flow) {
	if len(s.p.Woods) == 0 {
		return
	}
	columns := []drawing.Column{
		{Head: "Wood", Share: 19},
		{Head: "Class", Share: 13, Bold: true},
		{Head: "Net bf", Share: 12, Right: true},
		{Head: "Buy bf", Share: 12, Right: true, Bold: true},
		{Head: "Net m³", Share: 14, Right: true},
		{Head: "Buy m³", Share: 14, Right: true, Bold: true},
		{Head: "Longest, rough", Share: 30},
		{Head: "Widest, rough", Share: 30},
		{Head: "For parts", Share: 30},
		{Head: "Glued up", Share: 20},
	}
	var rows [][]string
	for _, w := range s.p.Woods {
		rows = append(rows, []string{
			document.Capital(shop.Words(w.Key)), w.Class, amount(w.Net), amount(w.Feet()), decimals(float64(w.NetM3), 4), yard.Much(w.Cubic(), "m³"),
			w.Longest.Letter + "  " + s.figs(w.Longest.Size), w.Widest.Letter + "  " + s.figs(w.Widest.Size),
			strings.Join(w.Parts, " "), strings.Join(w.Glued, " "),
		})
	}
	f.sub("Solid wood by thickness class", drawing.TableHeight(f.r.W, columns, rows, drawing.TableStyle{Size: 2.8}))
	f.table(columns, rows, drawing.TableStyle{Size: 2.8})
	var waste []string
	for _, w := range s.p.Woods {
		switch k := w.Likely; {
		case k != nil:
			t := fmt.Sprintf("%s: %s, yield %s %% when clear", w.Called(), k.Says(k.Boards, s.size), decimals(k.Yield, 0))
			if k.Buy > k.Boards {
				t += fmt.Sprintf("; the shop's waste makes it %d", k.Buy)
			}
			waste = appendNew(waste, t)
		case w.WasteOf == "boards":
			waste = appendNew(waste, fmt.Sprintf("%s: %s as laid out, yield %s %%", w.Called(), document.Count(w.Boards, "whole board"), decimals(100-w.Waste, 0)))
		case w.WasteOf == "net":
			waste = appendNew(waste, fmt.Sprintf("%s: %s %% added to the net for waste", shop.Words(w.Key), amount(w.Waste)))
		default:
			waste = appendNew(waste, fmt.Sprintf("%s: %s %% of the purchase is lost, so net over %s", shop.Words(w.Key), amount(w.Waste), decimals(1-w.Waste/100, 3)))
		}
	}
	t := "Net is finished length and width at the rough thickness; yield is net over bought. To buy: " + strings.Join(waste, "; ")
	f.text(t+". A board must be as long as the longest part and as wide as the widest part or strip. Moisture at most two per cent over the shop's, common practice, no source: let wood lie in the shop until it has come down.", sizeNote, drawing.Regular)
}

// measured is the place to write what the goods were when they came.
func (s *set) measured(f *flow) {
	var rows [][]string
	for _, p := range s.p.Panels {
		rows = append(rows, []string{p.Name, "planned " + s.dual(s.p.Shop.Panels[p.Key].Thickness), "", "", "", "", ""})
	}
	seen := map[string]bool{}
	for _, w := range s.p.Woods {
		if seen[w.Key] {
			continue
		}
		seen[w.Key] = true
		m := s.p.Shop.Woods[w.Key].Moisture
		rows = append(rows, []string{document.Capital(shop.Words(w.Key)), "moisture " + decimals(m, 1) + " %, at most " + decimals(m+2, 1) + " %", "", "", "", "", ""})
	}
	if len(rows) == 0 {
		return
	}
	columns := []drawing.Column{
		{Head: "Measured on arrival", Share: 58}, {Head: "", Share: 44}, {Head: "1", Share: 16}, {Head: "2", Share: 16}, {Head: "3", Share: 16}, {Head: "4", Share: 16}, {Head: "Lot, remarks", Share: 32},
	}
	st := drawing.TableStyle{Size: 2.8}
	f.sub("On arrival: caliper at four points, moisture meter; put the figures into the record", drawing.TableHeight(f.r.W, columns, rows, st))
	s.writeInSize(f, columns, rows, 2, 5, st.Size)
}

// LayoutFile names the files of the n-th layout of a panel, counted from 1,
// without folder and ending.
func LayoutFile(key string, n int) string { return fmt.Sprintf("layout-%s-%d", slug(key), n) }

// BoardFile names those of the n-th layout on boards of a wood and class.
func BoardFile(key, class string, n int) string {
	return fmt.Sprintf("board-%s-%s-%d", slug(key), slug(class), n)
}

// slug is a name as part of a file name.
func slug(t string) string {
	var b strings.Builder
	dash := false
	for _, c := range strings.ToLower(t) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			if dash && b.Len() > 0 {
				b.WriteByte('-')
			}
			dash = false
			b.WriteRune(c)
			continue
		}
		dash = true
	}
	return b.String()
}
