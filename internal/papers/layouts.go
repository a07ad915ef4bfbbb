package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/yard"
)

// layouts gives each pattern of cuts its sheet.
func (s *set) layouts(name, key, stock string, job cutting.Job, res cutting.Result, letters []string, yield func(...cutting.Layout) float64) {
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
		r = pg.sheet.Head(r, fmt.Sprintf("%s, %s: %s; yield %s %%", document.Capital(stock), which, s.sizesText(sheet.W, sheet.H), decimals(yield(l), 0)))
		v := s.keep(LayoutFile(key, i+1), s.layoutView(job, l, letters))
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
func (s *set) onBoards(name string, wood yard.Wood, job cutting.Job, res cutting.Result, letters []string, yield func(...cutting.Layout) float64) {
	boards := 0
	for _, l := range res.Layouts {
		boards += l.Copies
	}
	f := s.flow(Yard, name, true, fmt.Sprintf("%s: rough parts on %s", document.Capital(wood.Called()), document.Count(boards, "board")))
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
		facts := fmt.Sprintf("%s, %s%s, yield %s %%. %s", which, s.sizesText(sheet.W, sheet.H), cutSays(l), decimals(yield(l), 0), strings.Join(s.layoutParts(job, l, letters), "; ")+".")
		if t := s.defectsSay(sheet); t != "" {
			facts += " Hatched: " + t + "."
		}
		f.need(high + blockHeight(facts, 2.9, f.r.W, drawing.Regular))
		if f.page != page {
			page.scale, scales, page = scaleText(scales), nil, f.page
		}
		v := s.keep(BoardFile(wood.Key, wood.Class, i+1), s.layoutView(job, l, letters))
		box, _ := f.r.Top(high, 0)
		v.Cuts = nil // boards are cut as their grain and faults allow
		scales = append(scales, s.fitLayout(f.page.sheet, v, box))
		f.r.Y, f.r.H = box.Bottom(), f.r.H-high
		f.text(facts, 2.9, drawing.Regular)
	}
	page.scale = scaleText(scales)
	s.glued(f, yard.GluedPanelsOf(job, res, letters))
	s.shortOf(name, wood.Called(), job, res, letters)
}

// cutSays is the way a board is cut up, where the layout says it.
func cutSays(l cutting.Layout) string {
	if l.Order == cutting.AnyOrder {
		return ""
	}
	return ", " + l.Order.String()
}

// defectsSay are the defects of a board, each with its place from end and edge.
func (s *set) defectsSay(sheet cutting.Sheet) string {
	var out []string
	for _, d := range sheet.Defects {
		what := d.What
		if what == "" {
			what = "defect"
		}
		out = append(out, fmt.Sprintf("%s %s × %s at %s / %s", what, s.size(d.W), s.size(d.H), s.size(d.X), s.size(d.Y)))
	}
	return strings.Join(out, ", ")
}

// glued lists the strips of each panel in their order.
func (s *set) glued(f *flow, panels []yard.GluedPanel) {
	if len(panels) == 0 {
		return
	}
	f.text("Strips of each panel in their order, from light to dark; places are from the end and from the straight edge of the board:", 2.9, drawing.Bold)
	for _, p := range panels {
		t := fmt.Sprintf("%s, %s: %s.", p.Title(), p.Name, p.Says(s.size))
		f.need(blockHeight(t, 2.9, f.r.W, drawing.Regular))
		f.text(t, 2.9, drawing.Regular)
	}
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
	out = append(out, yard.Matched(job, l, letters)...)
	out = append(out, "Kerf "+s.fine(job.Kerf)+" between parts.")
	if first && res.Settings > 0 {
		out = append(out, fmt.Sprintf("All panels: %s of the saw besides those for trimming, %s turned to be cut across.", document.Count(res.Settings, "setting"), document.Count(res.Turns, "piece")))
	}
	if first && res.Why != "" {
		t := "The best found; what is certain: " + res.Because("panel")
		if res.Proven {
			t = "No layout needs less: " + res.Because("panel")
		}
		out = append(out, strings.TrimSuffix(t, ".")+".")
	}
	return out
}

// layoutParts names the parts on a layout.
func (s *set) layoutParts(job cutting.Job, l cutting.Layout, letters []string) []string {
	var out []string
	for _, t := range yard.TallyOf(job, l) {
		m, o := s.sizes(t.W, t.H)
		out = append(out, fmt.Sprintf("%s: %d × %s, %s (%s)", letters[t.Item], t.Count, job.Items[t.Item].Label, m, o))
	}
	return out
}

// shortOf says what found no place.
func (s *set) shortOf(name, stock string, job cutting.Job, res cutting.Result, letters []string) {
	if len(res.Short) == 0 {
		return
	}
	f := s.flow(Yard, name, true, document.Capital(stock)+": what does not come out")
	for _, fd := range (yard.Panel{Name: stock, Job: job, Result: res, Letters: letters}).Findings(s.size) {
		h := findingHeight(fd, f.r.W, sizeFind)
		f.need(h)
		f.took(s.finding(f.page.sheet, f.r, fd, sizeFind))
	}
}
