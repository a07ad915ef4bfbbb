package station

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// TestStrip is the strip to cut for a test bend.
type TestStrip struct {
	Kerfs     int      `json:"kerfs"`
	Length    Size     `json:"length"`
	Width     Size     `json:"width"`
	Thickness Size     `json:"thickness" doc:"as planned"`
	Skin      Size     `json:"skin"`
	Kerf      Size     `json:"kerf"`
	Pitch     Size     `json:"pitch"`
	Expect    string   `json:"expect" doc:"the angle at which its kerfs should close"`
	Steps     []string `json:"steps"`
}

// TestReading is what one test bend of the record says.
type TestReading struct {
	Path    string `json:"path" doc:"in the record"`
	Kerfs   int    `json:"kerfs"`
	Angle   string `json:"angle"`
	Skin    Size   `json:"skin"`
	Each    string `json:"each,omitempty" doc:"each kerf closed at"`
	Neutral string `json:"neutral,omitempty" doc:"share of the skin, with its doubt"`
	Says    string `json:"says"`
	Out     bool   `json:"out" doc:"it cannot be and is left out"`
}

// TypedTest is a test bend as it is typed, before anything is saved.
type TypedTest struct {
	Skin      string `json:"skin" maxLength:"60"`
	Kerfs     string `json:"kerfs" maxLength:"60"`
	Angle     string `json:"angle" maxLength:"60"`
	Kerf      string `json:"kerf,omitempty" maxLength:"60" doc:"measured; empty: as planned"`
	Thickness string `json:"thickness,omitempty" maxLength:"60" doc:"measured; empty: as planned"`
}

// TestSays is what a test bend would change, before it is saved.
type TestSays struct {
	Problems []FieldProblem `json:"problems" doc:"what cannot be read or cannot be; nothing else is said then"`
	Says     string         `json:"says,omitempty" doc:"what the next plan would take"`
	Figures  []Figure       `json:"figures"`
	Ways     []string       `json:"ways" doc:"what to mind, and what could be altered instead"`
	Record   []DocChange    `json:"record,omitempty" doc:"the edit of the record that saves it"`
}

// FieldProblem is what is wrong with one field of a form.
type FieldProblem struct {
	Field string `json:"field"`
	Says  string `json:"says"`
}

// testStrip is the strip that would tell most of a bend.
func testStrip(p plan.Plan, b build.Bend) *TestStrip {
	r := b.Design.Result
	if r.Spec.Outside {
		return nil
	}
	n := min(max(r.Count, 5), 10)
	wide, spare := 100*unit.Millimetre, 200*unit.Millimetre
	soften := "Bend it dry, as you will for the job."
	if r.Verdict == bend.SoftenFirst {
		soften = "Soften the skin as you will for the job."
	}
	t := &TestStrip{
		Kerfs: n, Width: sized(p, wide), Length: sized(p, (r.Pitch*unit.Length(n)).RoundUp(10*unit.Millimetre)+spare),
		Thickness: fine(p, r.Spec.Thickness), Skin: fine(p, r.Spec.Skin), Kerf: fine(p, r.Kerf), Pitch: fine(p, r.Pitch),
		Expect: degrees(r.ClosingEach * unit.Angle(n)),
	}
	t.Steps = []string{
		fmt.Sprintf("From an offcut of the same panel, grain the same way, cut a strip %s wide and %s long.", t.Width.Own, t.Length.Own),
		fmt.Sprintf("Cut %d kerfs at a pitch of %s with the saw set as for the job: skin %s.", n, t.Pitch.Own, t.Skin.Own),
		"Measure kerf, skin and thickness with a caliper, the skin at the bottom of a kerf.",
		soften + " Close all kerfs by hand and measure the angle by which it turned; as planned they close at " + t.Expect + ".",
	}
	return t
}

// testsOf are the indices of the record's test bends of a bend's panel on its
// saw.
func testsOf(p plan.Plan, b build.Bend) []int {
	var out []int
	for i, t := range p.Record.TestBends {
		if t.Panel == p.Piece.Materials["case"] && t.Saw == b.Saw {
			out = append(out, i)
		}
	}
	return out
}

// testReadings is what each test bend of a bend's panel and saw says.
func testReadings(p plan.Plan, b build.Bend) []TestReading {
	out := []TestReading{}
	for _, i := range testsOf(p, b) {
		t := p.Record.TestBends[i]
		x := TestReading{Path: fmt.Sprintf("test-bends[%d]", i), Kerfs: t.Kerfs, Angle: degrees(t.Angle), Skin: fine(p, t.Skin)}
		c, err := bend.Calibrate(testOf(t, b.Design.Result), b.Design.Result)
		if err != nil {
			x.Out, x.Says = true, "Left out: "+err.Error()+"."
		} else {
			x.Each, x.Neutral = degrees2(c.AngleEach), neutralWords(c, t.Skin)
			x.Says = fmt.Sprintf("Each kerf closed at %s: %s kerfs for %s, so %d.", x.Each, decimals(c.WantedCount, 2), degrees(b.Design.Result.Turn), c.Count)
			if says := c.Warns(p.Piece.Units); says != "" {
				x.Says += " " + says
			}
		}
		out = append(out, x)
	}
	return out
}

// testOf is a test bend as package bend takes it; what was not measured is as
// planned.
func testOf(t record.TestBend, r bend.Result) bend.TestBend {
	out := bend.TestBend{Count: t.Kerfs, Turned: t.Angle, Skin: t.Skin, Thickness: t.Thickness, Kerf: t.Kerf}
	if out.Thickness == 0 {
		out.Thickness = r.Spec.Thickness
	}
	if out.Kerf == 0 {
		out.Kerf = r.Spec.Kerf
	}
	return out
}

func neutralWords(c bend.Calibration, skin unit.Length) string {
	doubt := c.Doubt.MM() / math.Max(skin.MM(), 0.01)
	return fmt.Sprintf("%s ± %s of the skin", strings.Replace(decimals(c.NeutralRatio, 2), "-", "−", 1), decimals(doubt, 2))
}

// TryTest says what a test bend would change in the plan, for the bend of the
// page with the number kind. Nothing is kept.
func TryTest(p plan.Plan, kind int, typed TypedTest) TestSays {
	out := TestSays{Problems: []FieldProblem{}, Figures: []Figure{}, Ways: []string{}}
	kinds := bendKinds(p.Model.Bends)
	if kind < 0 || kind >= len(kinds) {
		out.Problems = append(out.Problems, FieldProblem{"", "The piece has no such bend any more. Load the page again."})
		return out
	}
	b := p.Model.Bends[kinds[kind][0]]
	t := out.read(p, b, typed)
	if len(out.Problems) > 0 {
		return out
	}
	r := b.Design.Result
	c, err := bend.Calibrate(testOf(t, r), r)
	if err != nil {
		out.Problems = append(out.Problems, FieldProblem{"angle", document.Capital(err.Error()) + "."})
		return out
	}
	out.reckon(p, b, t, c)
	out.Record = []DocChange{{Path: fmt.Sprintf("test-bends[%d]", len(p.Record.TestBends)), Do: "insert", Value: testYAML(t)}}
	return out
}

// read takes the typed figures in the units of the piece.
func (out *TestSays) read(p plan.Plan, b build.Bend, typed TypedTest) record.TestBend {
	t := record.TestBend{Panel: p.Piece.Materials["case"], Saw: b.Saw}
	wrong := func(field, format string, a ...any) {
		out.Problems = append(out.Problems, FieldProblem{field, fmt.Sprintf(format, a...)})
	}
	length := func(field, text, missing string, least, most unit.Length) unit.Length {
		if strings.TrimSpace(text) == "" {
			if missing != "" {
				wrong(field, "%s", missing)
			}
			return 0
		}
		l, err := unit.ParseLength(text, p.Piece.Units)
		switch {
		case err != nil:
			wrong(field, "%s.", document.Capital(err.Error()))
		case l < least || l > most:
			wrong(field, "%s is not between %s and %s. Measure it again.", fine(p, l).Own, fine(p, least).Own, fine(p, most).Own)
		}
		return l
	}
	const mm = unit.Millimetre
	t.Skin = length("skin", typed.Skin, "The skin is missing. Measure it with a caliper at the bottom of a kerf.", mm/10, 20*mm)
	t.Kerf = length("kerf", typed.Kerf, "", 3*mm/10, 20*mm)
	t.Thickness = length("thickness", typed.Thickness, "", 4*mm/10, 200*mm)
	n, err := strconv.Atoi(strings.TrimSpace(typed.Kerfs))
	if err != nil || n < 1 || n > 500 {
		wrong("kerfs", "Write how many kerfs the strip has, a whole number from 1 to 500.")
	}
	t.Kerfs = n
	a, err := unit.ParseAngle(strings.TrimSpace(typed.Angle))
	switch {
	case strings.TrimSpace(typed.Angle) == "":
		wrong("angle", "The angle is missing. Write by how much the strip turned with all kerfs closed, such as 59.3.")
	case err != nil:
		wrong("angle", "%s.", document.Capital(err.Error()))
	case a.Deg() < 1 || a.Deg() > 360:
		wrong("angle", "An angle of %s cannot be; it lies between 1° and 360°.", degrees(a))
	}
	t.Angle = a
	if thick := testOf(t, b.Design.Result).Thickness; t.Skin >= thick && t.Skin <= 20*mm {
		wrong("skin", "A skin of %s is not less than the panel of %s. Measure it at the bottom of a kerf.", fine(p, t.Skin).Own, fine(p, thick).Own)
	}
	return t
}

// reckon sets the test against the plan: what it says itself, and what the
// next plan makes of it beside the tests there are.
func (out *TestSays) reckon(p plan.Plan, b build.Bend, t record.TestBend, c bend.Calibration) {
	r := b.Design.Result
	add := func(name, value, why string, a ...any) {
		out.Figures = append(out.Figures, Figure{Name: name, Value: value, Why: fmt.Sprintf(why, a...)})
	}
	w := bendWhy{p, r}
	used := testOf(t, r)
	add("Each kerf closes at", degrees2(c.AngleEach), "%s ÷ %d; planned was %s", degrees(t.Angle), t.Kerfs, degrees2(r.ClosingEach))
	add("Kerfs by this test", fmt.Sprint(c.Count), "%s ÷ %s = %s, rounded up", degrees(r.Turn), degrees2(c.AngleEach), decimals(c.WantedCount, 2))
	add("The skin bends about a line at", neutralWords(c, t.Skin), "under the show face: thickness %s − kerf %s ÷ %s rad = %s; planned was %s of the skin", w.n(used.Thickness), w.n(used.Kerf), decimals(c.AngleEach.Rad(), 4), strings.Replace(w.n(c.Neutral), "-", "−", 1), decimals(r.NeutralDepth.MM()/r.Spec.Skin.MM(), 2))
	add(fmt.Sprintf("The %s planned would close at", document.Count(r.Count, "kerf")), degrees(c.PlannedClosesAt), "%d × %s", r.Count, degrees2(c.AngleEach))
	for _, ch := range c.Changes {
		out.Ways = append(out.Ways, ch.Says)
	}
	rec := p.Record
	rec.TestBends = append(slices.Clone(rec.TestBends), t)
	m, err := build.Make(p.Piece, p.Shop, rec)
	if err != nil {
		out.Says = "With this test the piece could not be built any more: " + err.Error()
		return
	}
	i := slices.IndexFunc(m.Bends, func(x build.Bend) bool { return x.Name == b.Name })
	if i < 0 {
		return
	}
	now := m.Bends[i].Design.Result
	add("Pitch then", fine(p, now.Pitch).Own, "now %s", fine(p, r.Pitch).Own)
	add("Closes then at", degrees(now.ClosesAt), "5 in 100 before %s; now %s", degrees(now.Band.AngleP05), degrees(r.ClosesAt))
	out.Says = testAnswer(p, r, now)
	if says := c.Warns(p.Piece.Units); says != "" {
		out.Ways = append([]string{says}, out.Ways...)
	}
	if earlier := len(testsOf(p, b)); earlier > 0 {
		out.Says += fmt.Sprintf(" That is the mean with the %s there already.", document.Count(earlier, "test"))
	}
}

// testAnswer is what the next plan would take.
func testAnswer(p plan.Plan, was, now bend.Result) string {
	switch {
	case p.Piece.Case.Kerfs > 0 && now.ClosesAt < now.Turn:
		return fmt.Sprintf("The piece fixes %s; they would close at %s, short of %s. Take case.kerfs out to have the count follow.", document.Count(was.Count, "kerf"), degrees(now.ClosesAt), degrees(now.Turn))
	case p.Piece.Case.Kerfs > 0:
		return fmt.Sprintf("The piece fixes %s; they would close at %s instead of %s.", document.Count(was.Count, "kerf"), degrees(now.ClosesAt), degrees(was.ClosesAt))
	case now.Count != was.Count:
		return fmt.Sprintf("Would ask for %s instead of %d.", document.Count(now.Count, "kerf"), was.Count)
	}
	return fmt.Sprintf("Would keep %s, which then close at %s instead of %s.", document.Count(was.Count, "kerf"), degrees(now.ClosesAt), degrees(was.ClosesAt))
}

// testYAML is a test bend as the record keeps it.
func testYAML(t record.TestBend) string {
	said := fmt.Sprintf("{panel: %s, saw: %s, skin: %s, kerfs: %d, angle: %s deg", strconv.Quote(t.Panel), strconv.Quote(t.Saw), t.Skin.Exact(unit.Metric), t.Kerfs, decimals(t.Angle.Deg(), 4))
	if t.Kerf > 0 {
		said += ", kerf: " + t.Kerf.Exact(unit.Metric)
	}
	if t.Thickness > 0 {
		said += ", thickness: " + t.Thickness.Exact(unit.Metric)
	}
	return said + "}"
}
