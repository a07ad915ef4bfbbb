package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// glueUps is one card for each glue-up: the clock, large enough to be read at
// arm's length and more, the clamps, and the diagonals.
func (s *set) glueUps() {
	for _, g := range s.p.Route.Glueups {
		s.glueCard(g)
	}
}

// clockSizes are the sizes of type of the clock: the largest with which the
// card is one page is taken.
var clockSizes = []float64{5, 4.6, 4.2, 3.8, 3.4}

func (s *set) glueCard(g route.GlueUp) {
	f := s.flow(Glue, g.Name, false, s.glueHead(g))
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, route.Gluing)), route.Gluing)
	note := func(t string, size float64) {
		f.need(blockHeight(t, size, f.r.W, drawing.Regular))
		f.text(t, size, drawing.Regular)
	}
	head := fmt.Sprintf("Step %d, %s. %s. %s", g.Step, s.p.Route.Calendar.On(s.p.Route.Steps[g.Step-1].Start), document.Capital(s.repeatText(g)), s.partsText(g.Letters))
	note(head, 3.2)
	for _, t := range s.glueStrips(g) {
		note(t, sizeNote)
	}
	timing := fmt.Sprintf("Planned at %s min for a joint. Dry fit took ……… min for all; if that is more than %s, glue in more stages.", decimals(g.PerJoint, 1), decimals(g.Glue.Assembly, 1))
	glue := s.glueText(g)
	clampNote := s.clampNote(g)
	ticks, rows := s.clock(g)
	squareHead, squareRows := s.square(g)
	clampHead, clampRows := s.clampTable(g)
	rest := 6*gap + 10
	for _, t := range []struct {
		text string
		size float64
	}{{timing, 3.2}, {g.Cauls, 3.2}, {clampNote, sizeNote}, {glue, sizeNote}} {
		rest += blockHeight(t.text, t.size, f.r.W, drawing.Regular)
	}
	small := drawing.TableStyle{Size: 2.8}
	rest += drawing.TableHeight(f.r.W, clampHead, clampRows, small)
	if len(squareRows) > 0 {
		rest += drawing.TableHeight(f.r.W, squareHead, squareRows, drawing.TableStyle{Size: 3.4}) + gap
	}
	size := clockSizes[len(clockSizes)-1]
	for _, z := range clockSizes {
		if drawing.TableHeight(f.r.W, ticks, rows, drawing.TableStyle{Size: z})+rest <= f.r.H {
			size = z
			break
		}
	}
	s.writeInSize(f, ticks, rows, 2, 2, size)
	note(timing, 3.2)
	f.need(min(drawing.TableHeight(f.r.W, squareHead, squareRows, drawing.TableStyle{Size: 3.4}), 60))
	f.table(squareHead, squareRows, drawing.TableStyle{Size: 3.4})
	f.table(clampHead, clampRows, small)
	note(g.Cauls, 3.2)
	note(clampNote, sizeNote)
	note(glue, sizeNote)
}

// glueStrips are the panels that a glue-up makes of strips, strip by strip.
func (s *set) glueStrips(g route.GlueUp) []string {
	var out []string
	for _, w := range s.p.Woods {
		if !slices.Equal(w.Glued, g.Letters) {
			continue
		}
		for _, p := range w.GluedPanels() {
			out = append(out, fmt.Sprintf("%s, %s: %s.", p.Title(), p.Name, p.Says(s.size)))
		}
	}
	if len(out) > 0 {
		out = append(out, "Mark a triangle over each panel before gluing. Turning every second strip over, so that the rings alternate, evens out cupping (common practice, no source); the better faces up look better.")
	}
	return out
}

// glueText is the glue with its times.
func (s *set) glueText(g route.GlueUp) string {
	return fmt.Sprintf("Glue: %s, about %s for one. Open %s min, first spread to last clamp %s min, clamps %s min, full strength after %s h (%s; about 20 °C and 50 %% humidity; warmer and drier is shorter). "+
		"Wood at 6 to 10 %% moisture, edges jointed within a day of gluing. The label of the glue comes first.",
		g.Glue.Name, unit.Mass(g.GlueGrams/1000).Small(s.p.Piece.Units), decimals(g.Glue.Open, 1), decimals(g.Glue.Assembly, 1), decimals(g.Glue.Clamp, 0), decimals(g.Glue.Full, 0), g.Glue.Source)
}

func (s *set) glueHead(g route.GlueUp) string {
	t := fmt.Sprintf("%s: %s, %s min, %s", document.Capital(g.Name), document.Count(g.Joints, "joint"), decimals(g.Need, 1), document.Count(g.Count, "clamp"))
	if g.Stages > 1 {
		t += fmt.Sprintf(", in %d stages", g.Stages)
	}
	return t
}

func (s *set) repeatText(g route.GlueUp) string {
	if g.Repeat == 1 {
		return "once"
	}
	if g.Rounds == 1 {
		return fmt.Sprintf("%d such, all in the clamps together", g.Repeat)
	}
	return fmt.Sprintf("%d such, %d times in the clamps", g.Repeat, g.Rounds)
}

func (s *set) partsText(letters []string) string {
	var out []string
	for _, l := range letters {
		out = append(out, s.named(l))
	}
	if len(out) > 8 {
		return "Parts " + s.letters(letters) + "."
	}
	return strings.Join(out, "; ") + "."
}

// clock is the ticks, and a column for the clock on the wall.
func (s *set) clock(g route.GlueUp) ([]drawing.Column, [][]string) {
	columns := []drawing.Column{{Head: "After", Share: 24, Right: true, Bold: true}, {Head: "What", Share: 128}, {Head: "By the clock", Share: 30}}
	var rows [][]string
	for _, t := range g.Clock {
		rows = append(rows, []string{tickText(t.At), t.What, ""})
	}
	return columns, rows
}

// tickText is minutes, or hours from two hours on.
func tickText(m float64) string {
	if m >= 120 {
		return decimals(m/60, 1) + " h"
	}
	return decimals(m, 1) + " min"
}

// clampTable is what is pressed where, and by how many clamps.
func (s *set) clampTable(g route.GlueUp) ([]drawing.Column, [][]string) {
	columns := []drawing.Column{
		{Head: "Clamps on", Share: 60, Bold: true},
		{Head: "Lines", Share: 10, Right: true},
		{Head: "Each long", Share: 26, Right: true},
		{Head: "Force on each", Share: 34, Right: true},
		{Head: "Apart at most", Share: 26, Right: true},
		{Head: "Opens to", Share: 28, Right: true},
		{Head: "Clamps", Share: 13, Right: true, Bold: true},
	}
	var rows [][]string
	for _, c := range g.Clamps {
		force := "contact"
		if c.Total > 0 {
			force = fmt.Sprintf("%s kN (%s lbf)", decimals(float64(c.Total)/1000, 1), decimals(float64(c.Total/unit.PoundForce), 0))
			if s.p.Piece.Units == unit.Imperial {
				force = fmt.Sprintf("%s lbf (%s kN)", decimals(float64(c.Total/unit.PoundForce), 0), decimals(float64(c.Total)/1000, 1))
			}
		}
		apart := ""
		if c.Each > 1 {
			apart = s.figs(c.Spacing)
		}
		rows = append(rows, []string{document.Capital(c.On), fmt.Sprint(c.Lines), s.figs(c.Length.Round(unit.Millimetre / 10)), force, apart, s.figs(c.Opens.RoundUp(unit.Millimetre)), fmt.Sprint(c.Count)})
	}
	return columns, rows
}

// clampNote says how the clamps were counted.
func (s *set) clampNote(g route.GlueUp) string {
	var sources []string
	for _, c := range g.Clamps {
		if c.Total > 0 {
			sources = appendNew(sources, c.Source)
		}
	}
	note := "Clamps: pressure × area over the force of one, and one to each spacing: pressure spreads at 45° from pad to glue, with a caul of " + s.dual(route.Caul) + " between."
	if len(sources) > 0 {
		note += " Pressure after " + strings.Join(sources, "; ") + ". It is advice: enough is when the joint is closed and a bead of glue shows."
	}
	return note
}

// square is the check by diagonals; no rows where there is no rectangle.
func (s *set) square(g route.GlueUp) ([]drawing.Column, [][]string) {
	columns := []drawing.Column{{Head: "Diagonals", Share: 44, Bold: true}, {Head: "", Share: 66}, {Head: "Measured, d1 and d2", Share: 72}}
	switch {
	case g.Diagonal == 0 && g.Between == "":
		return columns, nil
	case g.Diagonal == 0:
		return columns, [][]string{{"Check", g.Between, "…………………   …………………"}}
	}
	return columns, [][]string{
		{"Between", pick(g.Between, "the outside corners"), ""},
		{"Both measure", s.dual(g.Diagonal.Round(unit.Millimetre / 10)), "…………………   …………………"},
		{"May differ by", s.dual(g.Limit.Round(unit.Millimetre / 10)), "…………………"},
		{"Out of square", fmt.Sprintf("(d1 − d2)(d1 + d2) / (4 × %s)", s.size(g.Width)), fmt.Sprintf("at most %s: %s", s.dual(g.Rack), g.RackWhy)},
	}
}
