package papers

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	openings "casewright/internal/fit"
	"casewright/internal/opening"
	"casewright/internal/unit"
)

// fitting is the card on which openings are measured, and that says, for
// those that were, what front, box, packers, spacers and screws they take.
func (s *set) fitting() {
	all := s.p.Fit
	if len(all) == 0 {
		return
	}
	done := 0
	for _, o := range all {
		if o.Measured {
			done++
		}
	}
	head := "Measure each opening, then make the box and fit the front"
	if done > 0 {
		head = fmt.Sprintf("%d of %s measured: front and box of those are made to them", done, document.Count(len(all), "opening"))
	}
	f := s.flow(Bench, "drawers, doors and fronts", true, head)
	s.measures(f, all)
	s.fitToDo(f, all)
	s.setBy(f, all)
	for _, t := range fitWords {
		f.line("• "+t, 2.7, drawing.Regular)
	}
	s.frontCards(f, all)
}

// fitWords say how to measure and how to fit.
var fitWords = []string{
	"Measure widths at top, middle and bottom and heights at left, middle and right, just clear of round corners; diagonals with two sticks slid until they touch both corners, their curves where they are round. Write what you measured into the record under openings: the next plan fills it in here, fits front and box to it, and draws the fronts as templates at full size.",
	"By hand: box, the planned width, plus or less what the narrowest width differs from the planned one, between least and most. Front, each width and height less two gaps. Diagonals d1, d2 in an opening w wide: out of square by (d1 − d2)(d1 + d2)/(4w) over the height.",
	"Hold each thing by its spacers while its screws go in. Before you drill, measure the stack: front screws must not reach the show face.",
}

// measures is the table of what was measured and what it gives; empty places
// are to be written in.
func (s *set) measures(f *flow, all []openings.Opening) {
	columns := []drawing.Column{
		{Head: "Opening, planned", Share: 44, Bold: true},
		{Head: "Wide: top", Share: 17, Bold: true},
		{Head: "middle", Share: 17, Bold: true},
		{Head: "bottom", Share: 17, Bold: true},
		{Head: "High: left", Share: 17, Bold: true},
		{Head: "middle", Share: 17, Bold: true},
		{Head: "right", Share: 17, Bold: true},
		{Head: "Diagonals from top left, right", Share: 26, Bold: true},
		{Head: "Corners R", Share: 20, Bold: true},
		{Head: "Box", Share: 42},
		{Head: "Front", Share: 42},
	}
	var rows [][]string
	for _, o := range all {
		m, other := s.sizes(o.Width, o.Height)
		row := []string{document.Capital(o.Name) + "\n" + m + "\n(" + other + ")", "", "", "", "", "", "", "", "", s.boxText(o), s.frontText(o)}
		at := map[string]string{}
		for _, m := range o.Measures {
			at[m.Name] = s.fig(m.Measured)
		}
		if o.Measured {
			for i := range opening.DiagonalTopLeft {
				row[1+i] = at[opening.Names[i]]
			}
			row[7] = strings.TrimSpace(at[opening.Names[opening.DiagonalTopLeft]] + "\n" + at[opening.Names[opening.DiagonalTopRight]])
		}
		if o.Measured || o.Corners != [4]unit.Length{} {
			row[8] = s.fourRadii(o.Corners)
		}
		rows = append(rows, row)
	}
	s.writeIn(f, columns, rows, 1, 8)
}

// fourRadii are the radii of four corners from top left, clockwise; one where
// all are alike.
func (s *set) fourRadii(r [4]unit.Length) string {
	if r == [4]unit.Length{r[0], r[0], r[0], r[0]} {
		if r[0] == 0 {
			return "square"
		}
		return s.fig(r[0])
	}
	return fmt.Sprintf("%s, %s\n%s, %s", s.fig(r[opening.TopLeft]), s.fig(r[opening.TopRight]), s.fig(r[opening.BottomLeft]), s.fig(r[opening.BottomRight]))
}

func (s *set) boxText(o openings.Opening) string {
	b := o.Box
	if b == nil {
		return ""
	}
	wide := s.figs(b.Width)
	if b.Most > b.Least {
		wide = fmt.Sprintf("%s to %s %s to %s", s.fig(b.Least), s.fig(b.Most), strings.TrimSuffix(s.other(b.Least), ")"), strings.TrimPrefix(s.other(b.Most), "("))
	} else if b.Verdict != openings.ToMake {
		wide = s.figs(b.Most)
	}
	t := "wide " + wide + "\nhigh " + s.figs(b.Height)
	if b.Verdict != openings.ToMake {
		t += "\ncut " + s.figs(b.Width) + ": " + verdicts[b.Verdict]
	}
	return t
}

// verdicts are what becomes of parts that are cut.
var verdicts = map[openings.Verdict]string{openings.AsIs: "leave it", openings.ToPlane: "plane it", openings.ToShim: "shim it", openings.ToRemake: "make a new one"}

func (s *set) frontText(o openings.Opening) string {
	fr := o.Front
	if fr == nil {
		return ""
	}
	m, other := s.sizes(fr.Width, fr.Height)
	t := fmt.Sprintf("%s  %s (%s)", fr.Letter, m, other)
	switch {
	case !fr.Inset:
		t += "\nlies over the edges of the opening"
	case o.Measured && !o.Shape.Squared && fr.Verdict == openings.ToMake:
		t += "\nas its template"
	}
	if fr.Inset && fr.Corners != [4]unit.Length{} {
		t += "\ncorners R " + strings.ReplaceAll(s.fourRadii(fr.Corners), "\n", " / ")
	}
	if v, ok := verdicts[fr.Verdict]; ok {
		t += "\ncut: " + v
	}
	return t
}

// setBy is the table of what things are set by.
func (s *set) setBy(f *flow, all []openings.Opening) {
	columns := []drawing.Column{
		{Head: "Opening", Share: 30, Bold: true},
		{Head: "Out of true", Share: 46},
		{Head: "Gap and spacer: left, right", Share: 34, Bold: true},
		{Head: "below, above", Share: 26, Bold: true},
		{Head: "Packers", Share: 36, Bold: true},
		{Head: "Spacers", Share: 72},
		{Head: "Screws", Share: 74},
	}
	var rows [][]string
	for _, o := range all {
		if o.Doubt != "" {
			continue
		}
		var gaps [4]string
		between := ""
		if o.Front != nil && len(o.Front.Gaps) == len(gaps) {
			for i, g := range o.Front.Gaps {
				gaps[i] = s.figs(g.Ends[0])
				if s.fig(g.Ends[0]) != s.fig(g.Ends[1]) {
					gaps[i] = s.fig(g.Ends[0]) + " – " + s.fig(g.Ends[1])
				}
			}
		}
		if o.Front != nil && o.Front.Between != nil {
			between = ", " + s.figs(o.Front.Between.Ends[0]) + " where they meet"
		}
		rows = append(rows, []string{
			document.Capital(o.Name), s.outOfTrue(o), join2(gaps[0], gaps[1]) + between, join2(gaps[2], gaps[3]),
			s.packersText(o), s.spacersText(o), s.screwsText(o),
		})
	}
	if len(rows) > 0 {
		f.table(columns, rows, drawing.TableStyle{Size: 2.9})
	}
}

func join2(a, b string) string {
	if a == b {
		return a
	}
	return a + "\n" + b
}

func (s *set) outOfTrue(o openings.Opening) string {
	if !o.Measured {
		return "not measured yet: as planned"
	}
	var out []string
	say := func(l unit.Length, more, less string) {
		switch l = l.Round(unit.Millimetre / 10); {
		case l > 0:
			out = append(out, more+" "+s.fig(l))
		case l < 0:
			out = append(out, less+" "+s.fig(-l))
		}
	}
	say(o.Taper, "wider at the top by", "wider at the bottom by")
	say(o.Slope, "higher at the right by", "higher at the left by")
	say(o.Lean, "leans right", "leans left")
	if len(out) == 0 {
		out = append(out, "true")
	}
	if o.Shape.Assumed {
		out = append(out, "no diagonals taken")
	}
	return strings.Join(out, "\n")
}

func (s *set) packersText(o openings.Opening) string {
	var out []string
	for _, k := range o.Packers {
		t := k.Side + " "
		if k.Thickness > 0 {
			t += s.figs(k.Thickness)
		} else {
			t += "none"
		}
		switch {
		case k.Proud > 0:
			t += ", runner shimmed out " + s.figs(k.Proud)
		case k.Proud < 0:
			t += ", runner set back " + s.figs(-k.Proud)
		}
		out = append(out, t)
	}
	return strings.Join(out, "\n")
}

func (s *set) spacersText(o openings.Opening) string {
	var out []string
	for _, k := range o.Spacers {
		if strings.Contains(k.For, "front") {
			continue // they are the gaps
		}
		out = append(out, k.For+" "+s.figs(k.Size))
	}
	return strings.Join(out, "\n")
}

func (s *set) screwsText(o openings.Opening) string {
	var out []string
	for _, k := range o.Screws {
		out = append(out, fmt.Sprintf("%s: %s in %s", k.For, s.figs(k.Length), s.fig(k.Stack)))
	}
	return strings.Join(out, "\n")
}

// fitToDo is what to measure again, and what to do with parts that are cut.
func (s *set) fitToDo(f *flow, all []openings.Opening) {
	for _, o := range all {
		if o.Doubt != "" {
			f.line("• "+document.Capital(o.Name)+": "+o.Doubt, 3.2, drawing.Bold)
		}
		for _, t := range o.Do {
			f.line("• "+document.Capital(o.Name)+": "+t, 3.2, drawing.Bold)
		}
	}
}

// line sets a text whole, on the next page where there is no room.
func (f *flow) line(t string, size float64, w drawing.Weight) {
	f.need(blockHeight(t, size, f.r.W, w))
	f.text(t, size, w)
	f.r.Y, f.r.H = f.r.Y-gap/2, f.r.H+gap/2
}

// frontCards draws each kind of opening with its front: as measured, each by
// itself; as planned, alike ones once.
func (s *set) frontCards(f *flow, all []openings.Opening) {
	type kind struct {
		front   string
		w, h    unit.Length
		corners [4]unit.Length
	}
	seen := map[kind]bool{}
	var views []drawing.View
	o := s.draw
	o.Dims = true
	for _, op := range all {
		if op.Front == nil {
			continue
		}
		k := kind{op.Front.Letter, op.Width, op.Height, op.Corners}
		v, ok := s.frontView(op, o)
		if !ok || !op.Measured && seen[k] {
			continue
		}
		seen[k] = seen[k] || !op.Measured
		views = append(views, s.keep("front-"+slug(op.Front.Letter+" "+op.Name), v))
	}
	if len(views) == 0 {
		return
	}
	f.need(leastCard)
	columns := s.cardColumns(f.r, views, o)
	var scales []drawing.Scale
	for i := 0; i < len(views); i += columns {
		f.need(leastCard)
		w, h := cardSize(f.r, len(views)-i, columns)
		for j, v := range views[i:min(i+columns, len(views))] {
			scales = append(scales, fit(f.page.sheet, v, drawing.Rect{X: f.r.X + float64(j)*(w+cardSpace), Y: f.r.Y, W: w, H: h}, o, s.fineScales()))
		}
		f.page.scale = scaleText(scales)
		f.took(drawing.Rect{X: f.r.X, Y: f.r.Y + h, W: f.r.W})
	}
}

// Millimetres on paper: of the room for a front card, and between two of them.
const (
	leastCard, mostCard = 36.0, 85.0
	cardSpace           = 6.0
	mostColumns         = 4
)

// cardSize is the room of each of so many cards in so many columns.
func cardSize(r drawing.Rect, cards, columns int) (w, h float64) {
	rows := min((cards+columns-1)/columns, max(1, int(r.H/(leastCard+gap))))
	return (r.W - cardSpace*float64(columns-1)) / float64(columns), min(r.H/float64(rows), mostCard) - gap
}

// cardColumns is in how many columns the cards come out largest; of several the
// most, which takes the fewest rows.
func (s *set) cardColumns(r drawing.Rect, views []drawing.View, o drawing.Options) int {
	best, scale := 1, 0.0
	for columns := 1; columns <= min(mostColumns, len(views)); columns++ {
		w, h := cardSize(r, len(views), columns)
		least := math.Inf(1)
		for _, v := range views {
			sc, box := scaleIn(drawing.Rect{W: w, H: h}, v, o, s.fineScales())
			if box.W > w { // no scale is small enough
				least = 0
			}
			least = min(least, sc.Ratio())
		}
		if least >= scale {
			best, scale = columns, least
		}
	}
	return best
}

// frontView is an opening with its front: as measured, else as planned; false
// where there is none to show.
func (s *set) frontView(op openings.Opening, o drawing.Options) (drawing.View, bool) {
	if op.Front == nil || op.Front.Gap <= 0 || op.Doubt != "" {
		return drawing.View{}, false
	}
	p, ok := s.part(op.Front.Letter)
	if !ok {
		return drawing.View{}, false
	}
	if len(op.Front.Outline) == 0 {
		return drawing.FrontCard(s.planned(op.Name), p, o), true
	}
	v := s.measuredFront(op)
	if !op.Measured {
		b := op.Outline.Bounds()
		v.Title = op.Front.Letter + " in " + op.Name
		v.Labels[0].Variants = drawing.FrontWords(op.Front.Letter, "gap "+s.figs(op.Front.Gap)+" all round")
		v.Chains = append(v.Chains, drawing.ChainOf(drawing.Below, 0, b.Width()), drawing.ChainOf(drawing.LeftOf, 0, b.Height()))
	}
	return v, true
}

// planned is the opening of a name.
func (s *set) planned(name string) build.Opening {
	for _, op := range s.p.Model.Openings {
		if op.Name == name {
			return op
		}
	}
	return build.Opening{}
}

// measuredFront shows an opening as it was measured with the front that goes
// into it.
func (s *set) measuredFront(o openings.Opening) drawing.View {
	front := drawing.OutlinePath(o.Front.Outline)
	b := o.Front.Outline.Bounds()
	x0, x1, y0, y1 := b.Min.X.MM(), b.Max.X.MM(), b.Min.Y.MM(), b.Max.Y.MM()
	return drawing.View{
		Title: o.Front.Letter + " in " + o.Name + ", as measured",
		Items: []drawing.Item{
			drawing.Stroke{Pen: drawing.PenMedium, Paths: []drawing.Path{drawing.OutlinePath(o.Outline)}},
			drawing.Fill{Tone: drawing.Pale, Paths: []drawing.Path{front}},
			drawing.Stroke{Pen: drawing.PenOutline, Paths: []drawing.Path{front}},
		},
		Labels: []drawing.Label{{
			At: drawing.Pt{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}, Room: drawing.Rect{X: x0, Y: y0, W: x1 - x0, H: y1 - y0},
			Weight: drawing.Bold, Size: drawing.SizeLarge, Variants: drawing.FrontWords(o.Front.Letter, "seen from the front"),
		}},
		Chains: []drawing.Chain{
			{Side: drawing.Below, Dims: []drawing.Dim{{From: x0, To: x1, Size: b.Width().Round(unit.Micrometre)}}},
			{Side: drawing.LeftOf, Dims: []drawing.Dim{{From: y0, To: y1, Size: b.Height().Round(unit.Micrometre)}}},
		},
	}
}

// largestTemplate is the longest front that is drawn at full size on paper.
const largestTemplate = 2 * unit.Metre

// fronts are the templates of fronts that are made or planed to openings as
// measured, where these are not plain rectangles.
func (s *set) fronts() []template {
	var out []template
	for _, o := range s.p.Fit {
		if !o.Measured || o.Front == nil || len(o.Front.Outline) == 0 || o.Front.Verdict == openings.ToRemake ||
			o.Shape.Squared && o.Front.Corners == [4]unit.Length{} || max(o.Front.Width, o.Front.Height) > largestTemplate {
			continue
		}
		v := s.measuredFront(o)
		v.Title = ""
		v.Items = []drawing.Item{
			drawing.Stroke{Pen: drawing.PenGhost, Paths: []drawing.Path{drawing.OutlinePath(o.Outline)}},
			drawing.Stroke{Pen: drawing.PenOutline, Paths: []drawing.Path{drawing.OutlinePath(o.Front.Outline)}},
		}
		v.Labels[0].Variants = [][]string{{o.Front.Letter, o.Name, "show face, this way up", "faint line: the opening"}, {o.Front.Letter}}
		out = append(out, template{"front " + o.Front.Letter + ", " + o.Name, "the front as the opening was measured, gap " + s.fig(o.Front.Gap) + "; cut it out and lay it on the show face", v})
	}
	return out
}
