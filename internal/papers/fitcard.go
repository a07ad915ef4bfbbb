package papers

import (
	"fmt"
	"slices"
	"strings"

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
	made := openings.MadeTo(all)
	head := "Measure each opening, then make " + made + " to it"
	if done > 0 {
		head = fmt.Sprintf("%d of %s measured: %s of those are made to them", done, document.Count(len(all), "opening"), made)
	}
	f := s.flow(Bench, "drawers, doors and fronts", true, head)
	s.measures(f, all)
	s.fitToDo(f, all)
	s.setBy(f, all)
	for _, t := range s.howToFit() {
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

// ofPair is where a pair of doors is measured, and how its leaves come out.
const ofPair = "A pair of doors is measured as one: the middle height is taken where the leaves meet, so the left leaf follows the heights at the left and in the middle, the right leaf those in the middle and at the right; each takes half of the widths, less the three gaps."

// howToFit is fitWords, and what holds for a pair of doors where there is one.
func (s *set) howToFit() []string {
	if slices.ContainsFunc(s.p.Fit, func(o openings.Opening) bool { return o.Front != nil && o.Front.Inset && len(o.Front.Leaves) > 0 }) {
		return slices.Insert(slices.Clone(fitWords), 1, ofPair)
	}
	return fitWords
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
	line := func(letter, side string, w, h unit.Length) string {
		m, other := s.sizes(w, h)
		return fmt.Sprintf("%s  %s (%s)%s", letter, m, other, side)
	}
	t := line(fr.Letter, "", fr.Width, fr.Height)
	switch l := fr.Leaves; {
	case len(l) == 0:
	case l[0].Letter == l[1].Letter:
		t += ", left and right"
	default:
		t = line(l[0].Letter, ", "+l[0].Side, l[0].Width, l[0].Height) + "\n" + line(l[1].Letter, ", "+l[1].Side, l[1].Width, l[1].Height)
	}
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
		which := ""
		for i, l := range fr.Leaves { // only one of them may be cut
			if l.Verdict != openings.ToMake && fr.Leaves[1-i].Verdict == openings.ToMake {
				which = l.Letter + " "
			}
		}
		t += "\n" + which + "cut: " + v
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
