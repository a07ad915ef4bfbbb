package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// bench is what is wanted while bending, drilling, fitting and screwing.
func (s *set) bench() {
	for i, k := range s.bendKinds() {
		s.bendCard(k, i)
	}
	s.maps()
	s.fitting()
	s.assembly()
}

// maps shows each part with what is worked into it, two to a sheet.
func (s *set) maps() {
	var parts []build.Part
	for _, p := range s.p.Model.Parts {
		if slices.ContainsFunc(p.Features, func(f build.Feature) bool { return f.Kind != build.Notch }) {
			parts = append(parts, p)
		}
	}
	if len(parts) == 0 {
		return
	}
	f := s.flow(Bench, "drilling and grooving", true, fmt.Sprintf("%s to drill or groove, each seen on its reference face; dashed is worked from the other side", capital(count(len(parts), "part"))))
	ops := []operation{drilling, routing}
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	maps := make([]partMap, len(parts))
	for i, p := range parts {
		maps[i] = s.partMap(p, f.r.W)
	}
	scales := map[*page][]drawing.Scale{}
	for len(maps) > 0 {
		n := mapsOn(f.r.H, maps)
		extra := f.r.H
		for _, m := range maps[:n] {
			extra -= m.height + gap
		}
		extra = min(max((extra+gap)/float64(n), 0), 30)
		for _, m := range maps[:n] {
			pg := f.page
			sc := s.drawMap(f, m, min(m.height+extra, f.r.H))
			scales[pg] = append(scales[pg], sc)
		}
		if maps = maps[n:]; len(maps) > 0 {
			f.next()
		}
	}
	for _, pg := range s.pages {
		if sc := scales[pg]; len(sc) > 0 {
			pg.scale = scaleText(sc)
		}
	}
}

// partMap is a part's drawing and table as they stand on the sheet.
type partMap struct {
	part          build.Part
	head          string
	columns       []drawing.Column
	rows          [][]string
	width, height float64 // of the table; of both at least
}

// leastMap is the least height of a map: more for parts that are nearly
// square, which would come out small.
const leastMap = 46.0

func leastHeight(p build.Part) float64 {
	if p.Length.Size <= 0 {
		return leastMap
	}
	return min(max(leastMap, 28+70*float64(p.Width.Size)/float64(p.Length.Size)), 88)
}

var mapStyle = drawing.TableStyle{Size: 2.7}

func (s *set) partMap(p build.Part, width float64) partMap {
	m := partMap{part: p, head: s.mapHead(p), width: width * 0.5}
	m.columns, m.rows = s.features(p)
	m.height = max(leastHeight(p), blockHeight(m.head, 3.2, m.width, drawing.Bold)+drawing.TableHeight(m.width, m.columns, m.rows, mapStyle))
	return m
}

// mapsOn is how many of the maps go on a page with so much room; one at least.
func mapsOn(room float64, maps []partMap) int {
	n, h := 1, maps[0].height
	for n < len(maps) && h+gap+maps[n].height <= room {
		h += gap + maps[n].height
		n++
	}
	return n
}

func (s *set) drawMap(f *flow, m partMap, height float64) drawing.Scale {
	box, _ := f.r.Top(height, 0)
	left := drawing.Rect{X: box.X, Y: box.Y, W: box.W - m.width - 6, H: box.H}
	right := drawing.Rect{X: box.Right() - m.width, Y: box.Y, W: m.width, H: box.H}
	v := s.keep("part-"+slug(m.part.Letter), s.partView(m.part, left))
	sc := fit(f.page.sheet, v, left, s.draw, s.fineScales())
	right = f.page.sheet.TextBlock(right, m.head, 3.2, drawing.Bold)
	rest, below := f.page.sheet.Table(right, m.columns, m.rows, mapStyle)
	f.took(drawing.Rect{X: box.X, Y: max(box.Bottom(), below.Y), W: box.W})
	if len(rest) > 0 { // a long table goes on over the whole width
		f.next()
		f.text(m.head+" Continued.", 3.2, drawing.Bold)
		f.table(m.columns, rest, mapStyle)
	}
	if f.r.H > leastMap {
		y := f.r.Y - gap/2
		f.page.sheet.Add(drawing.Segment(drawing.PenThin, drawing.Pt{X: f.r.X, Y: y}, drawing.Pt{X: f.r.Right(), Y: y}))
	}
	return sc
}

// partView draws a part with all its dimensions, or, where they would leave
// no room for the part itself, with those over all: the table has the rest.
func (s *set) partView(p build.Part, r drawing.Rect) drawing.View {
	o := s.draw
	o.Dims = true
	full := drawing.PartView(p, o)
	o.Dims = false
	plain := drawing.PartView(p, o)
	plain.Chains = []drawing.Chain{drawing.ChainOf(drawing.Below, 0, p.Length.Size), drawing.ChainOf(drawing.LeftOf, 0, p.Width.Size)}
	a, _ := scaleIn(r, full, s.draw, s.fineScales())
	b, _ := scaleIn(r, plain, s.draw, s.fineScales())
	if a.Ratio() < 0.6*b.Ratio() {
		return plain
	}
	return full
}

func (s *set) mapHead(p build.Part) string {
	m, o := s.sizes(p.Thickness.Size, p.Width.Size, p.Length.Size)
	return fmt.Sprintf("%s  %s, %s (%s). %s", p.Letter, p.Name, m, o, s.handsText(p))
}

// features are the lines of a part's table: alike ones in a row share one.
func (s *set) features(p build.Part) ([]drawing.Column, [][]string) {
	columns := []drawing.Column{
		{Head: "What", Share: 20},
		{Head: "Side", Share: 27},
		{Head: "From near end", Share: 29, Right: true, Bold: true},
		{Head: "From lower edge", Share: 27, Right: true, Bold: true},
		{Head: "From face", Share: 21, Right: true, Bold: true},
		{Head: "Size", Share: 25, Right: true},
		{Head: "Deep", Share: 22, Right: true},
		{Head: "For", Share: 25},
	}
	var rows [][]string
	for _, g := range gather(p.Features) {
		f := g[0]
		deep := s.figs(f.Depth)
		if f.Through {
			deep = "through"
		}
		if f.Kind == build.Chamfer && f.Angle != 0 {
			deep = strings.TrimSpace(degrees(f.Angle) + " " + deep)
		}
		side := string(f.Face)
		if f.On != "" {
			side = string(f.On)
		}
		if f.Place != "" {
			side += ", only " + f.Place
		}
		what := capital(string(f.Kind))
		if len(g) > 1 {
			what = fmt.Sprintf("%d × %s", len(g), f.Kind)
		}
		at, size := s.where(g)
		if b := f.Region.Bounds(); f.Kind == build.Chamfer && near(b.Width(), p.Length.Size) && near(b.Height(), p.Width.Size) {
			at, size = [3]string{"all round"}, ""
		}
		rows = append(rows, []string{what, capital(side), at[0], at[1], at[2], size, deep, f.For})
	}
	return withoutEmpty(columns, rows, 2)
}

// withoutEmpty drops columns in which nothing stands, and gives their room to
// the column named.
func withoutEmpty(columns []drawing.Column, rows [][]string, to int) ([]drawing.Column, [][]string) {
	columns = slices.Clone(columns)
	for i := len(columns) - 1; i > to; i-- {
		if slices.ContainsFunc(rows, func(r []string) bool { return r[i] != "" }) {
			continue
		}
		columns[to].Share += columns[i].Share
		columns = slices.Delete(columns, i, i+1)
		for j := range rows {
			rows[j] = slices.Delete(rows[j], i, i+1)
		}
	}
	return columns, rows
}

// gather puts alike features that stand in a row together: all at one
// distance from the lower edge, or all at one from the near end.
func gather(fs []build.Feature) [][]build.Feature {
	var out [][]build.Feature
next:
	for _, f := range fs {
		if f.Kind == build.Notch {
			continue
		}
		b := f.Region.Bounds()
		for i, g := range out {
			h, c := g[0], g[0].Region.Bounds()
			if h.Kind != f.Kind || h.Face != f.Face || h.On != f.On || h.For != f.For || h.Depth != f.Depth || h.Through != f.Through ||
				h.Place != f.Place || h.Angle != f.Angle || !near(b.Width(), c.Width()) || !near(b.Height(), c.Height()) {
				continue
			}
			sameY, sameX := near(mid(b).Y, mid(c).Y), near(mid(b).X, mid(c).X)
			if len(g) > 1 { // the row has its way already
				d := mid(g[1].Region.Bounds())
				sameY, sameX = sameY && near(d.Y, mid(c).Y), sameX && near(d.X, mid(c).X)
			}
			if sameX || sameY {
				out[i] = append(g, f)
				continue next
			}
		}
		out = append(out, []build.Feature{f})
	}
	return out
}

func near(a, b unit.Length) bool { return (a - b).Abs() < 10*unit.Micrometre }

// mid is the middle of a feature, free of what half an arc leaves.
func mid(b geom.Bounds) geom.Point {
	return geom.P(((b.Min.X + b.Max.X) / 2).Round(unit.Micrometre/100), ((b.Min.Y + b.Max.Y) / 2).Round(unit.Micrometre/100))
}

// where gives the places from the near end, from the lower edge and from the
// reference face, and the size. Holes go by their centres, all else by its
// nearer and farther side.
func (s *set) where(g []build.Feature) (at [3]string, size string) {
	f, b := g[0], g[0].Region.Bounds()
	hole := f.Kind == build.Hole
	along := func(one, two unit.Length) string {
		if hole {
			return s.fig(((one + two) / 2).Round(unit.Micrometre / 100))
		}
		return s.fig(one) + " – " + s.fig(two)
	}
	var xs, ys []string
	for _, h := range g {
		c := h.Region.Bounds()
		xs = appendNew(xs, along(c.Min.X, c.Max.X))
		ys = appendNew(ys, along(c.Min.Y, c.Max.Y))
	}
	size = "ø " + s.fine2(b.Width())
	if !hole {
		m, o := s.sizes(min(b.Width(), b.Height()), max(b.Width(), b.Height()))
		size = m + "\n(" + o + ")"
	}
	sep := "\n"
	if hole {
		sep = ", "
	}
	x, y := strings.Join(xs, sep), strings.Join(ys, sep)
	switch f.On {
	case "":
		return [3]string{x, y, ""}, size
	case build.EdgeX0, build.EdgeX1:
		return [3]string{"", x, y}, size
	}
	return [3]string{x, "", y}, size
}

func appendNew(list []string, t string) []string {
	if slices.Contains(list, t) {
		return list
	}
	return append(list, t)
}

// fitting is the card on which openings are measured and fronts fitted.
func (s *set) fitting() {
	var ops []build.Opening
	for _, op := range s.p.Model.Openings {
		if op.Front != "" || op.BoxMax > 0 {
			ops = append(ops, op)
		}
	}
	if len(ops) == 0 {
		return
	}
	f := s.flow(Bench, "drawers, doors and fronts", true, "Measure each opening, then make the box and fit the front")
	columns := []drawing.Column{
		{Head: "Opening, planned", Share: 48, Bold: true},
		{Head: "Wide: top", Share: 17},
		{Head: "middle", Share: 17},
		{Head: "bottom", Share: 17},
		{Head: "High: left", Share: 17},
		{Head: "middle", Share: 17},
		{Head: "right", Share: 17},
		{Head: "Diagonals", Share: 26},
		{Head: "Box", Share: 44},
		{Head: "Front, gap", Share: 46},
	}
	var rows [][]string
	for _, op := range ops {
		m, o := s.sizes(op.Width.Size, op.Height.Size)
		what := capital(op.Name) + "\n" + m + "\n(" + o + ")"
		if c := s.corners(op); c != "" {
			what += "\n" + c
		}
		rows = append(rows, []string{what, "", "", "", "", "", "", "", s.boxText(op), s.frontText(op)})
	}
	s.writeIn(f, columns, rows, 1, 7)
	for _, t := range []string{
		"Box from what you measure: planned box width, plus or less what the narrowest of the three widths differs from the planned opening. Keep it between least and most.",
		"Front from what you measure: least width less two gaps, least height less two gaps; where the diagonals differ, plane the front to the opening. Difference of diagonals d1, d2 in an opening of width w: out of square by (d1 − d2)(d1 + d2)/(4w) on the height.",
		"Spacers as thick as the gap under and beside the front while its screws go in. Front screws must not reach the show face: see the screw table.",
		"Write what you measured into the record under openings; the next plan takes it.",
	} {
		f.text("• "+t, 2.9, drawing.Regular)
	}
	s.frontCards(f, ops)
}

// writeIn sets a table whose columns from first to last are to be written in:
// they are ruled off, and the rows stand a page at a time.
func (s *set) writeIn(f *flow, columns []drawing.Column, rows [][]string, first, last int) {
	st := drawing.TableStyle{Size: 2.9}
	total := 0.0
	for _, c := range columns {
		total += c.Share
	}
	for len(rows) > 0 {
		f.need(drawing.TableHeight(f.r.W, columns, rows[:1], st))
		top := f.r.Y + drawing.TableHeight(f.r.W, columns, nil, st)
		rest, below := f.page.sheet.Table(f.r, columns, rows, st)
		x := f.r.X
		for i, c := range columns {
			if i >= first && i <= last+1 {
				f.page.sheet.Add(drawing.Segment(drawing.PenThin, drawing.Pt{X: x, Y: top}, drawing.Pt{X: x, Y: below.Y}))
			}
			x += c.Share / total * f.r.W
		}
		f.took(below)
		if rows = rest; len(rows) > 0 {
			f.next()
		}
	}
}

// boxText says what the box may measure.
func (s *set) boxText(op build.Opening) string {
	switch {
	case op.BoxMin > 0 && op.BoxMax > op.BoxMin:
		return fmt.Sprintf("wide %s to %s %s to %s", s.fig(op.BoxMin), s.fig(op.BoxMax), strings.TrimSuffix(s.other(op.BoxMin), ")"), strings.TrimPrefix(s.other(op.BoxMax), "("))
	case op.BoxMax > 0:
		return "wide " + s.figs(op.BoxMax)
	}
	return op.Box
}

func (s *set) frontText(op build.Opening) string {
	p, ok := s.part(op.Front)
	if !ok {
		return ""
	}
	b := p.Outline.Bounds()
	if len(p.Outline) == 0 {
		b = geom.Rect(p.Length.Size, p.Width.Size).Bounds()
	}
	m, o := s.sizes(b.Width(), b.Height())
	t := fmt.Sprintf("%s  %s (%s)", op.Front, m, o)
	if op.Gap > 0 {
		t += "\ngap and spacer " + s.figs(op.Gap)
	}
	if s.rounded(op) {
		var rs []string
		for _, c := range op.Corners {
			rs = append(rs, s.fig(max(c-op.Gap, 0)))
		}
		t += "\ncorners R " + same(rs)
	}
	return t
}

func (s *set) rounded(op build.Opening) bool { return op.Corners != [4]unit.Length{} }

func (s *set) corners(op build.Opening) string {
	if !s.rounded(op) {
		return ""
	}
	var rs []string
	for _, c := range op.Corners {
		rs = append(rs, s.fig(c))
	}
	return "corners R " + same(rs)
}

// same shortens four alike words to one.
func same(rs []string) string {
	for _, r := range rs {
		if r != rs[0] {
			return strings.Join(rs, ", ") + " (from top left, clockwise)"
		}
	}
	return rs[0]
}

// frontCards draws each kind of opening with its front.
func (s *set) frontCards(f *flow, ops []build.Opening) {
	type kind struct {
		front   string
		w, h    unit.Length
		corners [4]unit.Length
	}
	seen := map[kind]bool{}
	var views []drawing.View
	for _, op := range ops {
		k := kind{op.Front, op.Width.Size, op.Height.Size, op.Corners}
		p, ok := s.part(op.Front)
		if !ok || seen[k] || op.Gap <= 0 {
			continue
		}
		seen[k] = true
		o := s.draw
		o.Dims = true
		v := drawing.FrontCard(op, p, o)
		views = append(views, s.keep("front-"+slug(op.Front+" "+op.Name), v))
	}
	if len(views) == 0 {
		return
	}
	o := s.draw
	o.Dims = true
	columns := min(3, len(views))
	const space, least = 6.0, 48.0
	var scales []drawing.Scale
	for i := 0; i < len(views); i += columns {
		f.need(least)
		left := (len(views) - i + columns - 1) / columns
		h := f.r.H / float64(min(left, max(1, int(f.r.H/(least+gap)))))
		h = min(h, 85)
		w := (f.r.W - space*float64(columns-1)) / float64(columns)
		for j, v := range views[i:min(i+columns, len(views))] {
			scales = append(scales, fit(f.page.sheet, v, drawing.Rect{X: f.r.X + float64(j)*(w+space), Y: f.r.Y, W: w, H: h - gap}, o, s.fineScales()))
		}
		f.page.scale = scaleText(scales)
		f.took(drawing.Rect{X: f.r.X, Y: f.r.Y + h - gap, W: f.r.W})
	}
}

// assembly lists how parts meet and the screws that hold them.
func (s *set) assembly() {
	js, us := s.p.Model.Joints, s.p.Model.Screws
	if len(js)+len(us) == 0 {
		return
	}
	var head []string
	if len(js) > 0 {
		head = append(head, count(len(js), "joint"))
	}
	if len(us) > 0 {
		n := 0
		for _, u := range us {
			n += u.Count * s.pieces()
		}
		head = append(head, count(n, "screw")+" in "+count(len(us), "place"))
	}
	f := s.flow(Bench, "joints and screws", true, capital(list(head)))
	ops := []operation{drilling}
	if len(us) > 0 {
		ops = []operation{screwing, drilling}
	}
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	s.joints(f)
	s.screws(f)
}

// joints lists how parts meet.
func (s *set) joints(f *flow) {
	columns := []drawing.Column{
		{Head: "Joint", Share: 34, Bold: true}, {Head: "Part", Share: 44}, {Head: "with part", Share: 44}, {Head: "Deep", Share: 26}, {Head: "Held by", Share: 54}, {Head: "Note", Share: 54}, {Head: "Done", Share: 12},
	}
	n := map[string]int{}
	var rows [][]string
	for _, j := range s.p.Model.Joints {
		row := []string{capital(j.Kind), s.named(j.A), s.named(j.B), s.figs(j.Depth), j.With, j.Note, ""}
		k := strings.Join(row, "\x00")
		if n[k] == 0 {
			rows = append(rows, row)
		}
		n[k]++
	}
	for _, row := range rows {
		if c := n[strings.Join(row, "\x00")]; c > 1 {
			row[0] = fmt.Sprintf("%d × %s", c, strings.ToLower(row[0][:1])+row[0][1:])
		}
	}
	f.table(columns, rows, drawing.TableStyle{Size: 2.9})
}
