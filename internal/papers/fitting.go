package papers

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

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
	switch {
	case overlaid(op, p):
		t += "\nlies over the edges of the opening"
	case op.Gap > 0:
		t += "\ngap and spacer " + s.figs(op.Gap)
	}
	if rs := radii(p.Outline); len(rs) > 0 {
		var figs []string
		for _, r := range rs {
			figs = append(figs, s.fig(r))
		}
		t += "\ncorners R " + strings.Join(figs, ", ")
	}
	return t
}

// overlaid reports whether a front is larger than its opening. A front is
// drawn with its grain along x; in the opening it may stand up.
func overlaid(op build.Opening, front build.Part) bool {
	b := front.Outline.Bounds()
	return unit.AreaOf(b.Width(), b.Height()) > unit.AreaOf(op.Width.Size, op.Height.Size)
}

// radii are the different radii of an outline's arcs, largest first.
func radii(o geom.Outline) []unit.Length {
	var out []unit.Length
	for i, v := range o {
		if v.Bulge == 0 {
			continue
		}
		next := o[(i+1)%len(o)].Point
		chord := math.Hypot((next.X - v.X).MM(), (next.Y - v.Y).MM())
		r := unit.MM(chord * (1 + v.Bulge*v.Bulge) / (4 * math.Abs(v.Bulge))).Round(10 * unit.Micrometre)
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b unit.Length) int { return cmp.Compare(b, a) })
	return out
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
