package papers

import (
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
	openings "casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/unit"
)

// Words says what the papers of a plan say, for pages that show the same, so
// that page and paper never differ by a word.
type Words struct{ s *set }

// WordsOf are those of a plan, in the piece's own units.
func WordsOf(p plan.Plan) Words {
	s, err := newSet(p, Options{Paper: "a4"})
	if err != nil { // only for options that are none
		s = &set{p: p}
	}
	return Words{s}
}

// Named is a letter with the name of its part.
func (w Words) Named(letter string) string { return w.s.named(letter) }

// Letters lists letters of parts, the first of many.
func (w Words) Letters(of []string) string { return w.s.letters(of) }

// Machine says what saw a sequence is for.
func (w Words) Machine(q saw.Sequence) string { return w.s.machineLine(q) }

// Kerfing says what holds for all kerfs of a part: how many, how deep, and
// how they are set; the last line says which letter stands for which bend.
// Short makes a13 of the thirteenth kerf of the first bend.
func (w Words) Kerfing(q saw.Sequence) (lines []string, short func(kerf string) string) {
	p, _ := w.s.part(q.Part)
	short, legend := w.s.kerfNames(p)
	return []string{w.s.kerfLine(p, q), w.s.sameLine(q), legend}, short
}

// AfterMeasuring is said of a sequence that waits for the openings.
func (w Words) AfterMeasuring() string { return afterMeasuring }

// SawWorks are the kinds of work whose cautions hold for a sequence.
func (w Words) SawWorks(q saw.Sequence) []route.Work { return w.s.operations(q) }

// OutOfTrue says how an opening stands, a line each.
func (w Words) OutOfTrue(o openings.Opening) string { return w.s.outOfTrue(o) }

// Fitting says how openings are measured and things fitted.
func (w Words) Fitting() []string { return w.s.howToFit() }

// FrontView is an opening with the front that goes into it, with its sizes.
func (w Words) FrontView(o openings.Opening) (drawing.View, drawing.Options, bool) {
	opt := w.s.draw
	opt.Dims = true
	v, ok := w.s.frontView(o, opt)
	return v, opt, ok
}

// Joint says how two parts meet: what it is, what with what, how deep, held by
// what, and a note.
func (w Words) Joint(j build.Joint) []string { return w.s.jointRow(j) }

// Wait says what is waited for after a step, and how long.
func (w Words) Wait(st route.Step) string { return waitText(st) }

// Day is the day of a moment.
func (w Words) Day(m route.Moment) string { return w.s.p.Route.Calendar.On(m) }

// Calendar says what the days of the work rest on.
func (w Words) Calendar() string { return w.s.calendarLine() }

// GlueHead is the answer of a glue-up card.
func (w Words) GlueHead(g route.GlueUp) string { return w.s.glueHead(g) }

// GlueStrips are the panels of a glue-up with their strips in order; none where
// it glues no strips, or no boards are known.
func (w Words) GlueStrips(g route.GlueUp) []string { return w.s.glueStrips(g) }

// GlueRepeat says how many such there are.
func (w Words) GlueRepeat(g route.GlueUp) string { return w.s.repeatText(g) }

// Glue is the glue with its times.
func (w Words) Glue(g route.GlueUp) string { return w.s.glueText(g) }

// Clamps is the table of clamps: its heads, and a row for each kind of joint.
func (w Words) Clamps(g route.GlueUp) (heads []string, rows [][]string) {
	columns, rows := w.s.clampTable(g)
	for _, c := range columns {
		heads = append(heads, c.Head)
	}
	return heads, rows
}

// ClampNote says how the clamps were counted.
func (w Words) ClampNote(g route.GlueUp) string { return w.s.clampNote(g) }

// Square is what the diagonals have to be, with what each is; none where
// there is no rectangle.
func (w Words) Square(g route.GlueUp) [][2]string {
	var out [][2]string
	_, rows := w.s.square(g)
	for _, r := range rows {
		says := r[1]
		if r[2] != "" && !strings.HasPrefix(r[2], "…") { // else a place to write in
			says += ", " + r[2]
		}
		out = append(out, [2]string{r[0], says})
	}
	return out
}

// Finish is the answer of the finish card; empty where there is no finish.
func (w Words) Finish() string {
	all := w.s.p.Route.Finishes
	if len(all) == 0 {
		return ""
	}
	return w.s.finishHead(all[len(all)-1])
}

// FinishGroup says of a group of surfaces how much, which parts, and with
// what it cleans.
func (w Words) FinishGroup(x route.Schedule) string { return w.s.groupText(x) }

// Grits are those of a group.
func (w Words) Grits(x route.Schedule) string { return gritText(x) }

// Coat says what is done for the coat of index k.
func (w Words) Coat(x route.Schedule, k int) string { return w.s.coatText(x, k) }

// CoatNote stands under the coats of a group.
func (w Words) CoatNote(x route.Schedule) string { return coatNote(x) }

// Cure says when the piece may be used; Conditions, on what the hours rest.
func (w Words) Cure() string { return w.s.cureText() }

// Conditions says on what the hours of the finish rest.
func (w Words) Conditions() string { return conditions }

// FinishWorks are the kinds of work whose cautions hold for the finish.
func (w Words) FinishWorks() []route.Work { return finishWorks(w.s.p.Route.Finishes) }

// Point is lines of the delivery note under a head, and where they come from.
type Point struct {
	Head   string
	Lines  []string
	Source string
}

// Delivery is the delivery note; without a customer, as far as it goes.
func (w Words) Delivery(mass unit.Mass) (handed [][]string, points []Point) {
	s := *w.s
	if s.p.Piece.Customer == nil {
		s.p.Piece.Customer = &piece.Customer{}
	}
	c := s.p.Piece.Customer
	points = []Point{
		{Head: "Carrying", Lines: s.carrying(mass)},
		{Head: "What it carries", Lines: append(s.limits(), c.Limits...), Source: untested},
		{Head: "Fixing to the wall", Lines: s.anchoring(), Source: s.anchorSource()},
		{Head: "Care", Lines: s.care()},
	}
	if declared := s.declared(); len(declared) > 0 {
		points = append(points, Point{Head: "Materials, as entered", Lines: declared, Source: repeated})
	}
	return append(s.handed(), []string{"With it", s.withIt()}), points
}

// Mass is that of one piece without its fittings, in both units.
func (w Words) Mass(m unit.Mass) string {
	return "about " + m.Both(w.s.p.Piece.Units, 0)
}
