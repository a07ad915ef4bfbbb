package route_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const bookcase = `
format: 1
name: bookcase
units: mm
materials: {case: oak-18, inside: oak-18, shelves: oak-18, back: oak-6}
case: {kind: carcass, width: 900, height: 1200, depth: 320, through: THROUGH, joints: {top: dowel, bottom: dowel, dividers: housing, shelves: housing}}
inside:
  columns:
    - {width: 350, shelves: {fixed: [400], joint: housing, on-pins: 1, pin: pin-5}}
    - {shelves: {on-pins: 2, pin: pin-5}}
back: {fit: FIT}
finish: {kind: hardwax-oil}
`

// made is the route of a text in the shop of the record cabinet.
func made(t *testing.T, text string) (route.Route, build.Model) {
	t.Helper()
	p, err := piece.Decode("piece", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	in := input(t, "record-cabinet", func(q *piece.Piece, s *shop.Shop, _ *record.Record) { *q = p })
	return route.Make(in), in.Model
}

func titled(r route.Route, title string) (route.Step, bool) {
	i := slices.IndexFunc(r.Steps, func(s route.Step) bool { return s.Title == title })
	if i < 0 {
		return route.Step{}, false
	}
	return r.Steps[i], true
}

// A divider that stands between top and bottom is caught between them before
// the sides close them; where top and bottom run through, the sides come first
// and the top last. By plain geometry: each part is moved along its own joints.
func TestOrderOfTheCase(t *testing.T) {
	for through, want := range map[string]string{
		"sides":      "First E divider into C bottom, then D top over them. Then F fixed shelf into E divider, then C bottom, D top and F fixed shelf into one side, then the other side over them.",
		"top-bottom": "First F fixed shelf into A side and E divider. Then A side, B side and E divider into C bottom, then D top over them.",
	} {
		r, _ := made(t, strings.NewReplacer("THROUGH", through, "FIT", "grooved").Replace(bookcase))
		s, _ := titled(r, "Glue up the case")
		if !strings.Contains(s.What, want) {
			t.Errorf("%s: %s", through, s.What)
		}
	}
}

const bench = `
format: 1
name: bench
units: mm
materials: {case: oak-18, inside: oak-18, back: oak-6}
case: {kind: shell, shape: u, open: bottom, width: 1200, height: 450, depth: 400, radius: 90, skin: 2, form: true}
inside: {columns: [{}, {}, {}]}
back: {fit: rebated, bottom: yes}
finish: {kind: hardwax-oil}
`

// In one bent strip there is no other side to put over: dividers go in through
// the open side, and what ends at both walls slides in from behind, in housings
// and grooves. Only a joint that was asked for and does not slide has to be
// sprung in.
func TestOrderInOneBentStrip(t *testing.T) {
	r, _ := made(t, bench)
	s, _ := titled(r, "Glue up the case")
	if !strings.Contains(s.What, "First C divider into A shell. Last slide B bottom in from behind, along the grooves.") {
		t.Errorf("%s", s.What)
	}
	level := strings.Replace(bench, "{columns: [{}, {}, {}]}", "{rows: [{}, {}]}", 1)
	r, m := made(t, level)
	s, _ = titled(r, "Glue up the case")
	if !strings.Contains(s.What, "Slide B bottom and C level divider in from behind, along the grooves and housings.") || strings.Contains(s.What, "spring") {
		t.Errorf("%s", s.What)
	}
	housings := 0
	for _, p := range m.Parts {
		for _, f := range p.Features {
			if f.Kind != build.Housing {
				continue
			}
			housings++
			if b := f.Region.Bounds(); p.Bent == nil || b.Max.Y != p.Width.Size && b.Min.Y != 0 {
				t.Errorf("a housing in %s from %v to %v is not open behind", p.Name, b.Min.Y, b.Max.Y)
			}
		}
	}
	if housings != 2 {
		t.Errorf("%d housings for the two ends of a level divider", housings)
	}
	r, _ = made(t, strings.NewReplacer("oak-18, back", "oak-18, shelves: oak-18, back", "{columns: [{}, {}, {}]}", "{shelves: {fixed: [150], joint: dowel}}").Replace(bench))
	s, _ = titled(r, "Glue up the case")
	if !strings.Contains(s.What, " in between two walls of one bent piece: they must spring apart by") || strings.Contains(s.What, "other side over") {
		t.Errorf("%s", s.What)
	}
}

// A part between a divider and the wall of a bent strip is caught between two
// sides as well: it slides in once they are together. A back in grooves closes
// the way from behind, so all that slides goes before it, and it comes up
// behind the bottom last.
func TestWhatSlidesGoesBeforeTheBack(t *testing.T) {
	text := strings.NewReplacer("{columns: [{}, {}, {}]}", "{columns: [{rows: [{}, {}]}, {}]}", "rebated, bottom: yes", "grooved").Replace(bench)
	r, m := made(t, text)
	s, _ := titled(r, "Glue up the case")
	want := "First C divider into A shell. Then slide D level divider in from behind, along the housings. Then slide B bottom in from behind, along the grooves. Last E back up from below in its grooves, behind B bottom, and screw it to the edge of that."
	if !strings.Contains(s.What, want) {
		t.Errorf("%s", s.What)
	}
	for _, j := range m.Joints {
		if j.Kind == "loose tenon" || j.Kind == "dowel" {
			t.Errorf("%s of %s and %s does not slide", j.Kind, j.A, j.B)
		}
	}
}

// In a half of a shell a divider between its two walls slides in before the
// halves close, and so does what stands between the divider and the side; the
// back goes in behind them.
func TestWhatSlidesIntoAHalf(t *testing.T) {
	r, _ := made(t, `
format: 1
name: low case
units: mm
materials: {case: oak-18, inside: oak-18, back: oak-6}
case: {kind: shell, shape: closed, width: 1400, height: 500, depth: 400, radius: 90, skin: 2, form: true, seams: [{at: top, held: spline}, {at: bottom, held: spline}]}
inside: {columns: [{rows: [{}, {}]}, {}, {}]}
back: {fit: grooved}
finish: {kind: hardwax-oil}
`)
	s, _ := titled(r, "Glue up the case")
	slide, close := strings.Index(s.What, "First slide"), strings.Index(s.What, "Then G back into its groove in one half of the shell, then the other half over it and over the splines of the seams.")
	if slide < 0 || close < slide || !strings.Contains(s.What[:close], "level divider in from behind, along the housings.") || strings.Contains(s.What, "spring") {
		t.Errorf("%s", s.What)
	}
}

// A rebated back goes on from behind with its screws, after the finish: it is
// in no glue-up and takes no clamps.
func TestRebatedBackIsScrewedOn(t *testing.T) {
	for _, text := range []string{bench, strings.NewReplacer("THROUGH", "sides", "FIT", "rebated").Replace(bookcase)} {
		r, m := made(t, text)
		back := m.Parts[slices.IndexFunc(m.Parts, func(p build.Part) bool { return p.Role == build.RoleBack })]
		s, ok := titled(r, "Screw on the back")
		if !ok || !slices.Contains(s.Parts, back.Letter) || s.N < lastOf(r, back.Letter, route.FinishOp) {
			t.Errorf("the back is not screwed on after its finish: %+v", s)
		}
		for _, g := range r.Glueups {
			if slices.Contains(g.Letters, back.Letter) || slices.ContainsFunc(g.Clamps, func(c route.ClampLine) bool { return strings.Contains(c.On, back.Name) }) {
				t.Errorf("the back is glued up with the %s", g.Name)
			}
		}
	}
}

// Behind a back in grooves a fixed shelf is finished before it is glued in,
// and loose ones whenever there is time.
func TestFixedShelfIsFinishedBeforeGlueUp(t *testing.T) {
	r, m := made(t, strings.NewReplacer("THROUGH", "sides", "FIT", "grooved").Replace(bookcase))
	up, _ := titled(r, "Glue up the case")
	n := 0
	for _, p := range m.Parts {
		if p.Role != build.RoleShelf {
			continue
		}
		n++
		for _, f := range r.Finishes {
			if fixed := p.Name == "fixed shelf"; slices.Contains(f.Letters, p.Letter) && (f.Name == "insides before glue-up") != fixed {
				t.Errorf("%s %s gets its finish with the %s", p.Name, p.Letter, f.Name)
			}
		}
		if last := lastOf(r, p.Letter, route.FinishOp); p.Name == "fixed shelf" && (last == 0 || last > up.N) {
			t.Errorf("it is coated in step %d, glued in step %d", last, up.N)
		}
	}
	if n < 2 {
		t.Errorf("%d kinds of shelves", n)
	}
}

// Kerfs that stay open are filled with what does not shrink, by its own clock,
// and held a day; those that close take the glue of the rest.
func TestOpenKerfsAreFilled(t *testing.T) {
	for _, open := range []bool{true, false} {
		in := input(t, "record-cabinet", nil)
		for i := range in.Model.Bends {
			x := &in.Model.Bends[i].Design.Result
			if x.Gap = 0; open {
				x.Gap = unit.MM(0.3)
			}
			x.ClosesAt = x.Turn
		}
		r := route.Make(in)
		i := slices.IndexFunc(r.Glueups, func(g route.GlueUp) bool { return g.Name == "bends of the shell" })
		g := r.Glueups[i]
		s := r.Steps[g.Step-1]
		if g.Filler != open || (g.Glue.Class == "epoxy-slow") != open || strings.Contains(s.What, "Thicken") != open {
			t.Errorf("open %v: %s, %s", open, g.Glue.Name, s.What)
		}
		for _, b := range r.Steps { // nobody waits for them to close
			if b.Op == route.BendOp && strings.HasPrefix(b.What, "Bend each corner") && !in.Piece.Case.Form && strings.Contains(b.What, "until the kerfs close") == open {
				t.Errorf("open %v: %s", open, b.What)
			}
		}
		if s.Wait != 24*60 {
			t.Errorf("open %v: held %v min", open, s.Wait)
		}
		for _, g := range r.Glueups {
			if g.Name != "bends of the shell" && g.Filler {
				t.Errorf("%s is filled", g.Name)
			}
		}
	}
}
