package papers

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// bendKind is one design with all bends made by it.
type bendKind struct {
	bends []int // indices into Model.Bends
	first build.Bend
}

// bendKinds gathers bends that are cut alike.
func (s *set) bendKinds() []bendKind {
	type key struct {
		count                        int
		pitch, kerf, skin, thickness unit.Length
		radius                       unit.Length
		angle                        unit.Angle
		outside                      bool
		material                     string
	}
	at := map[key]int{}
	var out []bendKind
	for i, b := range s.p.Model.Bends {
		r := b.Design.Result
		k := key{r.Count, r.Pitch, r.Kerf, r.Spec.Skin, r.Spec.Thickness, r.FaceRadius, r.Turn, r.Spec.Outside, r.Spec.Material.Key}
		j, ok := at[k]
		if !ok {
			j = len(out)
			at[k] = j
			out = append(out, bendKind{first: b})
		}
		out[j].bends = append(out[j].bends, i)
	}
	return out
}

// names are the bends made by a design.
func (s *set) bendNames(k bendKind) string {
	var names []string
	for _, i := range k.bends {
		names = append(names, s.p.Model.Bends[i].Name)
	}
	return strings.Join(names, "; ")
}

// bendCard is the card for one design: what to cut, what it will do, and what
// a test bend says.
func (s *set) bendCard(k bendKind, n int) {
	r := k.first.Design.Result
	name := "bend card"
	if len(s.bendKinds()) > 1 {
		name = fmt.Sprintf("bend card %d", n+1)
	}
	f := s.flow(Bench, name, false, s.bendHead(k))
	f.text("For: "+s.bendNames(k)+".", 3.4, drawing.Regular)
	ops := []route.Work{route.Bending}
	if r.Verdict == bend.SoftenFirst {
		ops = append(ops, route.WetSkin)
	}
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	s.bendDrawings(f, k, n)
	s.bendFigures(f, r, k)
	s.bendPlaces(f, k)
	s.bendOthers(f, k, f.r.H-s.testRoom(r, f.r.W)-gap)
	s.testBend(f, r)
}

func (s *set) bendHead(k bendKind) string {
	r := k.first.Design.Result
	t := fmt.Sprintf("%s at a pitch of %s", document.Count(r.Count, "kerf"), s.fine(r.Pitch))
	if r.Spec.Outside {
		return t + fmt.Sprintf(", opening, turn %s", degrees(r.Turn))
	}
	return t + fmt.Sprintf(" close at %s; %s wanted", degrees(r.ClosesAt), degrees(r.Turn))
}

// bendDrawings shows the panel bent and flat.
func (s *set) bendDrawings(f *flow, k bendKind, n int) {
	r := k.first.Design.Result
	o := s.draw
	leg := r.Zone.Scale(0.22)
	bent := s.keep(fmt.Sprintf("bend-%d", n+1), drawing.BendSection(k.first, leg, o))
	flat := s.keep(fmt.Sprintf("kerfs-%d", n+1), drawing.FlatSection(k.first, leg.Scale(0.6), o))
	bent.Title, flat.Title = "Bent to "+degrees(r.Turn), "Flat, kerfed side up"
	const high = 50
	box, _ := f.r.Top(high, 0)
	left, right := box.Left(box.W*0.42, 6)
	scales := []drawing.Scale{
		fit(f.page.sheet, bent, left, o, s.fineScales()),
		fit(f.page.sheet, flat, drawing.Rect{X: right.X, Y: right.Y, W: right.W, H: high * 0.55}, o, s.fineScales()),
	}
	f.page.scale = scaleText(scales)
	low := drawing.Rect{X: right.X, Y: right.Y + high*0.55 + 2, W: right.W, H: high*0.45 - 2}
	f.page.sheet.TextBlock(low, s.bendWords(r), 2.9, drawing.Regular)
	f.took(drawing.Rect{Y: box.Bottom()})
}

// bendWords says how to trust the figures.
func (s *set) bendWords(r bend.Result) string {
	if r.Spec.Outside {
		return "The kerfs lie outside and open; the least number is set by what the skin stands."
	}
	return fmt.Sprintf("The bench rule (angle × depth / kerf) gives %s kerfs; it takes the bottom of the kerf for the hinge and so counts too few. "+
		"Lifted board: cut one kerf, clamp the board on one side of it, lift the other until the kerf closes; %s from the kerf it stands %s off the bench. At that pitch the kerfs would close with nothing to spare.",
		decimals(r.BenchCount, 1), s.dual(r.FaceRadius), s.fine(r.Lift))
}

// bendFigures is the table of what is set and what comes of it.
func (s *set) bendFigures(f *flow, r bend.Result, k bendKind) {
	set := [][2]string{
		{"Blade, kerf", strings.TrimSpace(k.first.Design.Blade + " " + s.fine(r.Kerf))},
		{"Skin left", s.fine(r.Spec.Skin)},
		{"Depth of cut", s.fine(r.Depth)},
		{"Kerfs", fmt.Sprint(r.Count)},
		{"Pitch", s.fine(r.Pitch)},
		{"Wood between kerfs", s.fine(r.Land)},
		{"Kerfed zone", s.dual(r.Zone)},
		{"Radius of the show face", s.dual(r.FaceRadius)},
		{"Radius of the kerfed side", s.dual(r.KerfedRadius)},
	}
	if len(r.Spec.Passes) > 0 {
		set = append(set, [2]string{"Passes at each kerf", fmt.Sprint(len(r.Spec.Passes) + 1)})
	}
	got := [][2]string{
		{"Each kerf turns", decimals(r.AngleEach.Deg(), 2) + "°"},
		{"Strain of the skin", percent(r.Strain) + "; it stands " + percent(max(r.AllowDry, r.AllowWet)) + wetWord(r)},
		{"Verdict", r.Verdict.String() + borderline(r)},
		{"Flats under the crests", decimals(r.Facet.MM(), 3) + " mm"},
		{"Springs back unglued", degrees(r.Springback)},
	}
	if !r.Spec.Outside {
		got = append([][2]string{
			{"Closes at", degrees(r.ClosesAt) + fmt.Sprintf("; 90 in 100 between %s and %s", degrees(r.Band.AngleP05), degrees(r.Band.AngleP95))},
			{"Gap left in each kerf", s.fine(max(r.Gap, 0))},
		}, got...)
	}
	if r.Force > 0 {
		got = append(got, [2]string{"Force at " + s.size(r.Spec.Lever), "about " + r.Force.Both(s.p.Piece.Units)})
	}
	if r.Glue > 0 {
		got = append(got, [2]string{"Filler to mix", fmt.Sprintf("about %s ml for one bend", decimals(r.Glue, 0))})
	}
	columns := []drawing.Column{{Head: "Set", Share: 40}, {Head: "", Share: 46, Bold: true}, {Head: "Comes of it", Share: 38}, {Head: "", Share: 64, Bold: true}}
	var rows [][]string
	for i := range max(len(set), len(got)) {
		row := make([]string, 4)
		if i < len(set) {
			row[0], row[1] = set[i][0], set[i][1]
		}
		if i < len(got) {
			row[2], row[3] = got[i][0], got[i][1]
		}
		rows = append(rows, row)
	}
	f.table(columns, rows, drawing.TableStyle{Size: 2.65})
}

func wetWord(r bend.Result) string {
	if r.AllowWet > r.AllowDry {
		return " soaked hot, " + percent(r.AllowDry) + " dry"
	}
	return ""
}

func borderline(r bend.Result) string {
	if r.Borderline {
		return ", close to call: bend a coupon"
	}
	return ""
}

// bendPlaces lists the kerf centres from one end of each part.
func (s *set) bendPlaces(f *flow, k bendKind) {
	in := map[int]bool{}
	for _, b := range k.bends {
		in[b] = true
	}
	columns := []drawing.Column{{Head: "Part", Share: 12, Bold: true}, {Head: "Bend", Share: 26}, {Head: "Bend begins", Share: 22, Right: true}, {Head: "Kerf centres from the near end, " + s.draw.Units.String(), Share: 128}}
	var rows [][]string
	for _, p := range s.p.Model.Parts {
		for _, g := range p.Kerfs {
			if !in[g.Bend] {
				continue
			}
			var at []string
			for _, c := range g.Positions {
				at = append(at, s.fig(c))
			}
			rows = append(rows, []string{p.Letter, s.p.Model.Bends[g.Bend].Name, s.fig(g.Start), strings.Join(at, "  ")})
		}
	}
	if len(rows) > 0 {
		f.table(columns, rows, drawing.TableStyle{Size: 2.6})
	}
}

// bendOthers lists other workable designs, as many as leave room for the test
// bend on the same sheet; one at least.
func (s *set) bendOthers(f *flow, k bendKind, room float64) {
	if len(k.first.Others) == 0 {
		return
	}
	columns := []drawing.Column{
		{Head: "Other ways", Share: 34, Bold: true},
		{Head: "Kerfs", Share: 11, Right: true},
		{Head: "Kerf", Share: 22},
		{Head: "Skin", Share: 20},
		{Head: "Pitch", Share: 20},
		{Head: "Verdict", Share: 24},
		{Head: "For and against", Share: 74},
	}
	bare := func(l unit.Length) string { // in the leading unit, which the head names
		if s.draw.Units == unit.Imperial {
			return decimals(l.In(), 3)
		}
		return decimals(l.MM(), 2)
	}
	var rows [][]string
	for _, d := range k.first.Others {
		if len(rows) == 3 {
			break
		}
		r := d.Result
		rows = append(rows, []string{
			d.Name, fmt.Sprint(r.Count), strings.TrimSpace(d.Blade + " " + bare(r.Kerf)), bare(r.Spec.Skin), bare(r.Pitch),
			r.Verdict.String(), strings.Join(d.Reasons[:min(1, len(d.Reasons))], " "),
		})
	}
	for i := 2; i <= 4; i++ {
		columns[i].Head += ", " + s.draw.Units.String()
	}
	st := drawing.TableStyle{Size: 2.5}
	for len(rows) > 1 && drawing.TableHeight(f.r.W, columns, rows, st)+gap > room {
		rows = rows[:len(rows)-1]
	}
	f.table(columns, rows, st)
}

// testWords are the way to try a bend, and the rule by which its plan is put
// right.
func (s *set) testWords(r bend.Result) (steps, rule string) {
	n := min(max(r.Count, 5), 10)
	steps = fmt.Sprintf("Test bend. From an offcut of the same panel, grain the same way, cut a strip 100 mm (4 in) wide and %s long with %d kerfs at this setting. "+
		"Measure kerf, skin and thickness with a caliper. %s Close all kerfs by hand and measure the angle.", s.size((r.Pitch*unit.Length(n)).RoundUp(10*unit.Millimetre)+200*unit.Millimetre), n, soak(r))
	rule = fmt.Sprintf("Each kerf closes at angle got / kerfs. Kerfs to cut = %s × kerfs / angle got, rounded up. Pitch = %s × %s / kerfs to cut. "+
		"Put the figures into the record; the next plan takes them.", degrees(r.Turn), s.fine(r.NeutralRadius), decimals(r.Turn.Rad(), 4))
	return steps, rule
}

func (s *set) testRoom(r bend.Result, width float64) float64 {
	steps, rule := s.testWords(r)
	return testHeight(steps, rule, width)
}

// testHeight is the height of the box about them with the lines to write on.
func testHeight(steps, rule string, width float64) float64 {
	return blockHeight(steps, sizeTest, width-4, drawing.Regular) + blockHeight(rule, sizeTest, width-4, drawing.Bold) + 21
}

// testBend is how to try it, the place to write what was got, and the rule by
// which the plan is put right.
func (s *set) testBend(f *flow, r bend.Result) {
	if r.Spec.Outside {
		return
	}
	steps, rule := s.testWords(r)
	blanks := []string{"Thickness, 4 points", "", "Kerf", "", "Skin", "", "Kerfs", "", "Angle got", "", "Radius got", ""}
	h := testHeight(steps, rule, f.r.W)
	f.need(h)
	box, _ := f.r.Top(h, 0)
	f.page.sheet.Add(drawing.Box(drawing.PenThin, box))
	in := f.page.sheet.TextBlock(box.Inset(2), steps, sizeTest, drawing.Regular)
	w := in.W / 3
	for i := 0; i < len(blanks); i += 2 {
		x, y := in.X+w*float64((i/2)%3), in.Y+7*math.Floor(float64(i/2)/3)
		t := drawing.Text{At: drawing.Pt{X: x, Y: y + 6}, S: blanks[i], Size: 3}
		f.page.sheet.Add(t, drawing.Segment(drawing.PenThin, drawing.Pt{X: x + t.Width() + 1.5, Y: y + 6.6}, drawing.Pt{X: x + w - 4, Y: y + 6.6}))
	}
	in.Y += 16
	f.page.sheet.TextBlock(in, rule, sizeTest, drawing.Bold)
	f.took(drawing.Rect{Y: box.Bottom()})
}

const sizeTest = 2.7

func soak(r bend.Result) string {
	if r.Verdict == bend.SoftenFirst {
		return "Soften the skin as you will for the job."
	}
	return "Bend it dry, as you will for the job."
}
