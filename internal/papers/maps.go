package papers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/geom"
	"casewright/internal/route"
	"casewright/internal/unit"
)

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
	f := s.flow(Bench, "drilling and grooving", true, fmt.Sprintf("%s to drill or groove, each seen on its reference face; dashed is worked from the other side", document.Count(len(parts), "part")))
	ops := []route.Work{route.Drilling, route.Routing}
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
	drawn, told   float64 // heights of the drawing of a long part and of the table under it; 0: beside it
}

// leastMap is the least height of a map: more for parts that are nearly
// square, which would come out small.
const leastMap = 44.0

func leastHeight(p build.Part) float64 {
	if p.Length.Size <= 0 {
		return leastMap
	}
	return min(max(leastMap, 26+58*float64(p.Width.Size)/float64(p.Length.Size)), 88)
}

var mapStyle = drawing.TableStyle{Size: 2.7}

func (s *set) partMap(p build.Part, width float64) partMap {
	m := partMap{part: p, head: s.mapHead(p), width: width * 0.5}
	m.columns, m.rows = s.features(p)
	told := func(width float64) float64 {
		return blockHeight(m.head, 3.2, width, drawing.Bold) + drawing.TableHeight(width, m.columns, m.rows, mapStyle)
	}
	m.height = max(leastHeight(p), told(m.width))
	if p.Length.Size > longMap*p.Width.Size && told(m.width) > longTable {
		m.width, m.drawn, m.told = width, longDrawing+width*float64(p.Width.Size)/float64(p.Length.Size), told(width)
		m.height = m.drawn + m.told + gap
	}
	return m
}

// A part longer than so many times its width, of which more is told than has
// room beside it, is drawn over the whole width with its table below: beside
// the table it would come out small, and its columns would be narrow.
const (
	longMap     = 3
	longTable   = 70.0
	longDrawing = 44.0 // of dimensions and caption
)

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
	if m.drawn > 0 {
		left, right = box.Top(min(m.drawn, max(leastMap, f.r.H-m.told-gap)), gap)
	}
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
		{Head: "What", Share: 19},
		{Head: "Side", Share: 26},
		{Head: "From near end", Share: 27, Right: true, Bold: true},
		{Head: "From lower edge", Share: 25, Right: true, Bold: true},
		{Head: "From face", Share: 18, Right: true, Bold: true},
		{Head: "Size", Share: 25, Right: true},
		{Head: "Deep", Share: 19, Right: true},
		{Head: "For", Share: 36},
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
		what := document.Capital(string(f.Kind))
		if len(g) > 1 {
			what = fmt.Sprintf("%d × %s", len(g), f.Kind)
		}
		at, size := s.where(g)
		if b := f.Region.Bounds(); f.Kind == build.Chamfer && near(b.Width(), p.Length.Size) && near(b.Height(), p.Width.Size) {
			at, size = [3]string{"all round"}, ""
		}
		rows = append(rows, []string{what, document.Capital(side), at[0], at[1], at[2], size, deep, f.For})
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
	g = slices.Clone(g)
	slices.SortStableFunc(g, func(a, b build.Feature) int {
		p, q := mid(a.Region.Bounds()), mid(b.Region.Bounds())
		return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
	})
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
