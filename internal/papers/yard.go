package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/drawing"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// yard is what is wanted while buying: the list, the boards by class, and how
// the parts lie on the panels.
func (s *set) yard() {
	s.buying()
	for _, p := range s.p.Panels {
		s.layouts("panels: "+p.Name, p.Name, p.Job, p.Result, p.Letters)
	}
	for _, w := range s.p.Woods {
		if w.Result != nil {
			s.onBoards("boards: "+words(w.Key)+" "+w.Class, words(w.Key)+" "+w.Class, *w.Job, *w.Result, w.Letters)
		}
	}
}

// buying is the buying list and the boards by thickness class.
func (s *set) buying() {
	total := unit.Money(0)
	priced := true
	for _, l := range s.p.Buying {
		total += l.Price
		priced = priced && l.Price > 0
	}
	head := capital(count(len(s.p.Buying), "line")) + " to buy"
	switch {
	case total > 0 && priced:
		head += fmt.Sprintf(", %s in all", s.money(total))
	case total > 0:
		head += fmt.Sprintf(", %s for those with a price", s.money(total))
	}
	if n := s.pieces(); n > 1 {
		head += fmt.Sprintf(", for %d pieces", n)
	}
	f := s.flow(Yard, "what to buy", false, head)
	columns := []drawing.Column{
		{Head: "What", Share: 70},
		{Head: "Buy", Share: 13, Right: true, Bold: true},
		{Head: "", Share: 20},
		{Head: "Needed", Share: 14, Right: true},
		{Head: "Spare", Share: 12, Right: true},
		{Head: "Each", Share: 15, Right: true},
		{Head: "Price", Share: 16, Right: true},
		{Head: "Bought: what, where, lot", Share: 42},
	}
	var rows [][]string
	var why []string
	for _, l := range s.p.Buying {
		n := l.Count
		if l.Unit != "panel" { // the panels' reasons are on their diagrams
			why = appendNew(why, l.Why)
		}
		rows = append(rows, []string{
			capital(l.What), amount(n), plural(l.Unit, n), amount(l.Need), blank(amount(l.Spare)),
			blank(l.Each.Format()), blank(l.Price.Format()), "",
		})
	}
	f.table(columns, rows, drawing.TableStyle{Size: 2.8})
	if total > 0 {
		f.text(fmt.Sprintf("Sum of what has a price: %s.", s.money(total)), 3.2, drawing.Bold)
	}
	if len(why) > 0 {
		f.text("Panels by their layouts; the rest: "+strings.Join(why, "; ")+".", sizeNote, drawing.Regular)
	}
	s.boards(f)
	s.measured(f)
}

// amount is a count without needless decimals.
func amount(v float64) string {
	if v < 10 {
		return decimals(v, 2)
	}
	return decimals(v, 1)
}

// blank leaves a cell empty where there is nothing to say.
func blank(t string) string {
	if t == "0" || t == "0.00" {
		return ""
	}
	return t
}

// plural is a unit of the buying list after a count.
func plural(u string, n float64) string {
	if n == 1 {
		return u
	}
	switch {
	case u == "board foot":
		return "board feet"
	case strings.HasPrefix(u, "pack of"):
		return "packs" + strings.TrimPrefix(u, "pack")
	case u == "m³":
		return u
	}
	return u + "s"
}

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
			capital(words(w.Key)), w.Class, decimals(w.Net, 2), decimals(w.Buy, 1), decimals(float64(w.NetM3), 4), decimals(float64(w.BuyM3), 4),
			w.Longest.Letter + "  " + s.figs(w.Longest.Size), w.Widest.Letter + "  " + s.figs(w.Widest.Size),
			strings.Join(w.Parts, " "), strings.Join(w.Glued, " "),
		})
	}
	f.sub("Solid wood by thickness class", drawing.TableHeight(f.r.W, columns, rows, drawing.TableStyle{Size: 2.8}))
	f.table(columns, rows, drawing.TableStyle{Size: 2.8})
	waste := map[string]bool{}
	for _, w := range s.p.Woods {
		waste[amount(w.Waste)] = true
	}
	t := "Net is finished length and width at the rough thickness. To buy is net over what is left when the shop's waste of purchase is taken off"
	if len(waste) == 1 {
		t += ": " + amount(s.p.Woods[0].Waste) + " %"
	}
	f.text(t+". A board must be as long as the longest part and as wide as the widest that is not glued up.", sizeNote, drawing.Regular)
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
		rows = append(rows, []string{capital(words(w.Key)), "moisture " + decimals(m, 1) + " %, at most " + decimals(m+2, 1) + " %", "", "", "", "", ""})
	}
	if len(rows) == 0 {
		return
	}
	columns := []drawing.Column{
		{Head: "Measured on arrival", Share: 44}, {Head: "", Share: 48}, {Head: "1", Share: 16}, {Head: "2", Share: 16}, {Head: "3", Share: 16}, {Head: "4", Share: 16}, {Head: "Lot, remarks", Share: 32},
	}
	st := drawing.TableStyle{Size: 2.9}
	f.sub("Measure panels with a caliper at four points, boards with a moisture meter; put the figures into the record", drawing.TableHeight(f.r.W, columns, rows, st))
	s.writeIn(f, columns, rows, 2, 5)
	f.text("The limit of two per cent over the shop's moisture is common practice, no source. Let wood lie in the shop until it has come down.", sizeNote, drawing.Regular)
}

// layouts gives each pattern of cuts its sheet.
func (s *set) layouts(name, stock string, job cutting.Job, res cutting.Result, letters []string) {
	n := 1
	for i, l := range res.Layouts {
		sheet := job.Sheets[l.Sheet]
		which := fmt.Sprintf("panel %d", n)
		if l.Copies > 1 {
			which = fmt.Sprintf("panels %d to %d, all alike", n, n+l.Copies-1)
		}
		if sheet.Offcut {
			which = "offcut on hand " + sheet.ID
		} else {
			n += l.Copies
		}
		pg, r := s.add(Yard, name, true)
		used := partArea(l) / float64(unit.AreaOf(sheet.W, sheet.H))
		r = pg.sheet.Head(r, fmt.Sprintf("%s, %s: %s; %s of it becomes parts", capital(stock), which, s.sizesText(sheet.W, sheet.H), decimals(100*used, 0)+" %"))
		v := s.keep(fmt.Sprintf("layout-%s-%d", slug(stock), i+1), s.layoutView(job, l, letters))
		facts := s.layoutFacts(job, res, l, letters, i == 0)
		// Beside a square panel there is room for words, under a long one too.
		const side, low = 62, 33
		beside, right := r, drawing.Rect{}
		beside.W -= side + 6
		right = drawing.Rect{X: beside.Right() + 6, Y: r.Y, W: side, H: r.H}
		above, under := r.Top(r.H-low-3, 3)
		a, _ := scaleIn(beside, v, s.draw, s.fineScales())
		b, _ := scaleIn(above, v, s.draw, s.fineScales())
		var sc drawing.Scale
		if a.Ratio() >= b.Ratio() {
			sc = s.fitLayout(pg.sheet, v, beside)
			s.facts(pg.sheet, right, facts, 1)
		} else {
			sc = s.fitLayout(pg.sheet, v, above)
			s.facts(pg.sheet, under, facts, 3)
		}
		pg.scale = sc.String()
	}
	s.shortOf(name, stock, job, res, letters)
}

// onBoards shows the parts on boards, which are long and low, several to a
// sheet.
func (s *set) onBoards(name, stock string, job cutting.Job, res cutting.Result, letters []string) {
	boards := 0
	for _, l := range res.Layouts {
		boards += l.Copies
	}
	f := s.flow(Yard, name, true, fmt.Sprintf("%s: rough parts on %s", capital(stock), count(boards, "board")))
	const high = 36
	var scales []drawing.Scale
	n, page := 1, f.page
	for i, l := range res.Layouts {
		which := fmt.Sprintf("Board %d", n)
		if l.Copies > 1 {
			which = fmt.Sprintf("Boards %d to %d, alike", n, n+l.Copies-1)
		}
		n += l.Copies
		sheet := job.Sheets[l.Sheet]
		facts := fmt.Sprintf("%s, %s. %s", which, s.sizesText(sheet.W, sheet.H), strings.Join(s.layoutParts(job, l, letters), "; ")+".")
		f.need(high + blockHeight(facts, 2.9, f.r.W, drawing.Regular))
		if f.page != page {
			page.scale, scales, page = scaleText(scales), nil, f.page
		}
		v := s.keep(fmt.Sprintf("layout-%s-%d", slug(stock), i+1), s.layoutView(job, l, letters))
		box, _ := f.r.Top(high, 0)
		v.Cuts = nil // boards are cut as their grain and faults allow
		scales = append(scales, s.fitLayout(f.page.sheet, v, box))
		f.r.Y, f.r.H = box.Bottom(), f.r.H-high
		f.text(facts, 2.9, drawing.Regular)
	}
	page.scale = scaleText(scales)
	s.shortOf(name, stock, job, res, letters)
}

// layoutView is the diagram of one panel; the head says which.
func (s *set) layoutView(job cutting.Job, l cutting.Layout, letters []string) drawing.View {
	o := s.draw
	o.Dims = true
	v := drawing.LayoutView(job, l, letters, o)
	v.Title = ""
	return v
}

// fitLayout draws a layout. Letters of parts too slim for them are staggered
// along the parts, so that those of neighbours do not stand on each other.
func (s *set) fitLayout(sheet *drawing.Sheet, v drawing.View, r drawing.Rect) drawing.Scale {
	sc, _ := scaleIn(r, v, s.draw, s.fineScales())
	v.Labels = slices.Clone(v.Labels)
	const slim = 3.0
	n := 0
	for i, l := range v.Labels {
		last := l.Variants[len(l.Variants)-1]
		if min(l.Room.W, l.Room.H)*sc.Ratio() >= slim || last[0] == "" {
			continue
		}
		share := 0.15 + 0.175*float64(n%5)
		if l.Turn == 0 {
			l.At.X = l.Room.X + share*l.Room.W
		} else {
			l.At.Y = l.Room.Y + share*l.Room.H
		}
		l.Knock, l.Variants = true, [][]string{last}
		v.Labels[i] = l
		n++
	}
	return fit(sheet, v, r, s.draw, s.fineScales())
}

func partArea(l cutting.Layout) float64 {
	sum := unit.Area(0)
	for _, p := range l.Parts {
		sum += unit.AreaOf(p.W, p.H)
	}
	return float64(sum)
}

// facts sets lines of facts in columns.
func (s *set) facts(sheet *drawing.Sheet, r drawing.Rect, facts []string, columns int) {
	const space = 6
	w := (r.W - space*float64(columns-1)) / float64(columns)
	heights := make([]float64, len(facts))
	total := 0.0
	for i, t := range facts {
		heights[i] = blockHeight(t, 2.9, w, drawing.Regular) + 1.4
		total += heights[i]
	}
	x, y := r.X, r.Y
	for i, t := range facts {
		if y > r.Y && y+heights[i] > r.Y+max(total/float64(columns)+3, 0) && columns > 1 && x+w+space < r.Right() {
			x, y = x+w+space, r.Y
		}
		sheet.TextBlock(drawing.Rect{X: x, Y: y, W: w, H: heights[i]}, t, 2.9, drawing.Regular)
		y += heights[i]
	}
}

// layoutFacts says what a diagram cannot.
func (s *set) layoutFacts(job cutting.Job, res cutting.Result, l cutting.Layout, letters []string, first bool) []string {
	out := s.layoutParts(job, l, letters)
	for _, c := range l.Offcuts {
		m, o := s.sizes(c.W, c.H)
		out = append(out, fmt.Sprintf("Keep the offcut %s (%s).", m, o))
	}
	if t := job.Sheets[l.Sheet].Trim; t != (cutting.Trim{}) {
		out = append(out, "Dashed: edges trimmed off. Grey: worth keeping. Crossed: waste. Figures in rings: the order of cuts.")
	}
	out = append(out, "Kerf "+s.fine(job.Kerf)+" between parts.")
	if first && res.Why != "" {
		t := "Bound: " + res.Why
		if res.Proven {
			t = "No layout needs less: " + res.Why
		}
		out = append(out, strings.TrimSuffix(t, ".")+".")
	}
	return out
}

// layoutParts names the parts on a layout.
func (s *set) layoutParts(job cutting.Job, l cutting.Layout, letters []string) []string {
	var out []string
	n := map[int]int{}
	var order []int
	for _, p := range l.Parts {
		if n[p.Item] == 0 {
			order = append(order, p.Item)
		}
		n[p.Item]++
	}
	for _, it := range order {
		item := job.Items[it]
		m, o := s.sizes(item.W, item.H)
		out = append(out, fmt.Sprintf("%s: %d × %s, %s (%s)", letters[it], n[it], item.Label, m, o))
	}
	return out
}

// shortOf says what found no place.
func (s *set) shortOf(name, stock string, job cutting.Job, res cutting.Result, letters []string) {
	if len(res.Short) == 0 {
		return
	}
	f := s.flow(Yard, name, true, capital(stock)+": what does not come out")
	for _, fd := range (yard.Panel{Name: stock, Job: job, Result: res, Letters: letters}).Findings(s.size) {
		h := findingHeight(fd, f.r.W, sizeFind)
		f.need(h)
		f.took(s.finding(f.page.sheet, f.r, fd, sizeFind))
	}
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
