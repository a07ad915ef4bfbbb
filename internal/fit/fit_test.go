package fit_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/fit"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

func demo(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	read := func(file string) *bytes.Reader {
		text, err := os.ReadFile("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.NewReader(text)
	}
	p, err := piece.Decode(name, read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, read(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func fits(t fatal, p piece.Piece, s shop.Shop, r record.Record) (build.Model, []fit.Opening, []finding.Finding) {
	m, err := build.Make(p, s, r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	in := fit.Input{Piece: p, Shop: s, Record: r, Model: m, Show: func(l unit.Length) string { return l.Format(unit.TenthMM) }}
	all := fit.Make(in)
	return m, all, fit.Findings(in, all)
}

type fatal interface{ Fatalf(string, ...any) }

func of(t fatal, all []fit.Opening, name string) fit.Opening {
	for _, o := range all {
		if o.Name == name {
			return o
		}
	}
	t.Fatalf("no %s", name)
	return fit.Opening{}
}

// square is an opening that measures the same all through.
func square(name string, w, h float64) record.MeasuredOpening {
	W, H := unit.MM(w), unit.MM(h)
	return record.MeasuredOpening{Opening: name, Widths: []unit.Length{W, W, W}, Heights: []unit.Length{H, H, H}}
}

// drawer is a plain case of one drawer in an opening 500 wide, 15 deep sides.
func drawer(t testing.TB, kind shop.Hardware, wide unit.Length, gap unit.Length) (piece.Piece, shop.Shop) {
	p, s := demo(t, "record-cabinet")
	p.Frame, p.Base, p.Back = nil, nil, nil
	p.Case = piece.Case{Kind: "carcass", Width: wide + 2*s.Panels["oak-18"].Thickness, Height: 236 * mm, Depth: 420 * mm, Through: "sides"}
	s.Hardware["runner"] = kind
	p.Inside = piece.Opening{Drawer: &piece.Drawer{Runner: "runner", Front: "inset", Gap: gap}}
	return p, s
}

var sideRunner = shop.Hardware{Kind: "side-runner", Lengths: []unit.Length{350 * mm}, SideMin: unit.MM(12.9), SideMax: unit.MM(13.2)}

// Boxes from openings: makers' sheets as quoted in trade pages. Side runners
// in 500: 473.6 to 474.2. Under-mounted in 381 mm (15 in): inside 339, with
// sides of 16 mm 371; in 15 in with sides of 5/8: 14.625, of 1/2: 14.375.
func TestBoxesFromOpenings(t *testing.T) {
	p, s := drawer(t, sideRunner, 503*mm, 2*mm)
	_, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{square("opening", 500, 200)}})
	b := of(t, all, "opening").Box
	if b.Least != unit.MM(473.6) || b.Most != unit.MM(474.2) || b.Width < b.Least || b.Width > b.Most || b.Verdict != fit.ToMake {
		t.Errorf("box %+v", b)
	}
	for _, c := range []struct{ less, side, want unit.Length }{
		{42 * mm, 16 * mm, 371 * mm},
		{15*unit.Inch - unit.MM(339), 16 * mm, 371 * mm},
		{15*unit.Inch - 14*unit.Inch + unit.Inch*5/8, unit.Inch * 5 / 8, 14*unit.Inch + unit.Inch*5/8},
		{15*unit.Inch - 14*unit.Inch + unit.Inch*5/8, unit.Inch / 2, 14*unit.Inch + unit.Inch*3/8},
	} {
		p, s := drawer(t, shop.Hardware{Kind: "under-runner", Lengths: []unit.Length{350 * mm}, Inside: c.less, SideMost: 16 * mm}, 385*mm, 2*mm)
		birch := s.Panels["birch-12"]
		birch.Thickness = c.side
		s.Panels["birch-12"] = birch
		_, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{square("opening", 381, 200)}})
		if b := of(t, all, "opening").Box; (b.Width-c.want).Abs() > unit.Micrometre || b.Least != b.Most {
			t.Errorf("inside %v less, sides %v: box %v (%v to %v), want %v", c.less, c.side, b.Width, b.Least, b.Most, c.want)
		}
	}
}

// Front 19 thick, box front 12, tip clearance 3: 12 + 19 − 3 = 28, so 25
// (arithmetic and the metric stock lengths).
func TestScrewFromTheStack(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	oak := s.Panels["oak-18"]
	oak.Thickness = 19 * mm
	s.Panels["oak-18"] = oak
	s.Habits.TipClearance = 3 * mm
	_, all, _ := fits(t, p, s, record.Record{})
	got := all[0].Screws
	if len(got) != 1 || got[0].Stack != 31*mm || got[0].Length != 25*mm || got[0].Clear != 6*mm {
		t.Errorf("%+v", got)
	}
}

// 600 × 450 with diagonals of 751 and 749 leans 1.25 (arithmetic); with a gap
// of 2 that is more than half of it and a finding.
func TestLeaningOpening(t *testing.T) {
	p, s := drawer(t, sideRunner, 600*mm, 2*mm)
	p.Case.Height = 450*mm + 2*s.Panels["oak-18"].Thickness
	o := square("opening", 600, 450)
	o.Diagonals = []unit.Length{751 * mm, 749 * mm}
	m, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}})
	if got := of(t, all, "opening").Lean; (got + unit.MM(1.25)).Abs() > unit.MM(0.01) {
		t.Errorf("leans %v", got)
	}
	if !slices.ContainsFunc(m.Findings, func(f finding.Finding) bool {
		return f.ID == "opening-square" && f.Figure == "1.2 mm" || f.Figure == "1.3 mm"
	}) {
		t.Error("a lean of 1.25 under a gap of 2 is not mentioned")
	}
}

// Measured as planned is the planned front, exactly, in every demo.
func TestMeasuredAsPlannedIsThePlan(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, s := demo(t, name)
		_, plain, _ := fits(t, p, s, record.Record{})
		var r record.Record
		for _, o := range plain {
			w, h := o.Width, o.Height
			r.Openings = append(r.Openings, record.MeasuredOpening{
				Opening: o.Name, Widths: []unit.Length{w, w, w}, Heights: []unit.Length{h, h, h}, Corners: o.Corners[:],
				Diagonals: []unit.Length{o.Shape.Fitted[6], o.Shape.Fitted[7]},
			})
		}
		_, got, findings := fits(t, p, s, r)
		if len(got) != len(plain) || len(findings) > 0 {
			t.Fatalf("%s: %d openings, %v", name, len(got), findings)
		}
		for i, o := range plain {
			g := got[i]
			g.Measured, g.Measures, g.Shape = false, nil, o.Shape
			if text(t, g) != text(t, o) {
				t.Errorf("%s, %s: measured as planned differs:\n%s\n%s", name, o.Name, text(t, g), text(t, o))
			}
		}
	}
}

func text(t testing.TB, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// cutOf lists parts of a role as cut.
func cutOf(m build.Model, roles ...build.Role) []record.Cut {
	var out []record.Cut
	for _, p := range m.Parts {
		if slices.Contains(roles, p.Role) {
			out = append(out, record.Cut{Part: p.Letter, Count: p.Count})
		}
	}
	return out
}

// A front that is cut, in an opening that came out otherwise: by hand.
func TestFrontsThatAreCut(t *testing.T) {
	for _, c := range []struct {
		name    string
		w, h    float64 // measured; planned is 500 × 200, front 496 × 196, gap 2
		verdict fit.Verdict
		plane   [4]float64 // left, right, bottom, top
		gaps    [4]float64
	}{
		{"as planned", 500, 200, fit.AsIs, [4]float64{}, [4]float64{2, 2, 2, 2}},
		{"1 narrower", 499, 200, fit.ToPlane, [4]float64{0.5, 0.5, 0, 0}, [4]float64{2, 2, 2, 2}},
		{"1 lower", 500, 199, fit.ToPlane, [4]float64{0, 0, 0, 1}, [4]float64{2, 2, 2, 2}},
		{"a hair", 499.9, 200, fit.AsIs, [4]float64{}, [4]float64{2, 2, 2, 2}},
		{"1 wider", 501, 200, fit.AsIs, [4]float64{}, [4]float64{2.5, 2.5, 2, 2}},
		{"4 wider", 504, 200, fit.ToRemake, [4]float64{}, [4]float64{4, 4, 2, 2}},
		{"1 higher", 500, 201, fit.AsIs, [4]float64{}, [4]float64{2, 2, 2.5, 2.5}},
	} {
		p, s := drawer(t, sideRunner, 500*mm, 2*mm)
		was, _, _ := fits(t, p, s, record.Record{})
		r := record.Record{Openings: []record.MeasuredOpening{square("opening", c.w, c.h)}, Cut: cutOf(was, build.RoleFront)}
		_, all, findings := fits(t, p, s, r)
		f := of(t, all, "opening").Front
		if f.Verdict != c.verdict || f.Width != 496*mm || f.Height != 196*mm {
			t.Errorf("%s: %s, %v × %v", c.name, f.Verdict, f.Width, f.Height)
		}
		for i, g := range f.Gaps {
			for k := range g.Ends {
				if g.Plane[k] != unit.MM(c.plane[i]) || (g.Ends[k]-unit.MM(c.gaps[i])).Abs() > unit.MM(0.06) {
					t.Errorf("%s: at the %s gaps %v, plane %v; want %v and %v", c.name, g.Edge, g.Ends, g.Plane, c.gaps[i], c.plane[i])
				}
			}
		}
		if want := map[fit.Verdict]string{fit.ToPlane: "fit-front-plane", fit.ToRemake: "fit-front-small"}[c.verdict]; want != "" && (len(findings) != 1 || findings[0].ID != want || findings[0].Advice == "") {
			t.Errorf("%s: findings %+v", c.name, findings)
		}
	}
}

// A tapering opening: only one end is planed. 500 at the bottom, 499 at the
// top, upright in the middle: half a millimetre at each side of the top.
func TestTaperingOpening(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	was, _, _ := fits(t, p, s, record.Record{})
	o := square("opening", 500, 200)
	o.Widths = []unit.Length{499 * mm, unit.MM(499.5), 500 * mm}
	_, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleFront)})
	got := of(t, all, "opening")
	for i := range 2 {
		if g := got.Front.Gaps[i]; g.Plane != [2]unit.Length{0, unit.MM(0.5)} {
			t.Errorf("at the %s plane %v, want 0 below and 0.5 above", g.Edge, g.Plane)
		}
	}
	if do := strings.Join(got.Do, " "); !strings.Contains(do, "Plane its left edge: 0 mm at the bottom, 0.5 mm at the top.") {
		t.Errorf("says %q", do)
	}
}

// A box that is cut. Planned 500: box 473.9 (between 473.6 and 474.2), sides
// of 12.
func TestBoxesThatAreCut(t *testing.T) {
	for _, c := range []struct {
		name        string
		w           float64
		verdict     fit.Verdict
		proud, side float64
	}{
		{"as planned", 500, fit.AsIs, 0, 13.1},
		{"1 narrower: 472.6 to 473.2 go in", 499, fit.ToPlane, 0, 13.0},
		{"3 narrower: at most 471.2", 497, fit.ToRemake, 0, 12.9},
		{"2 wider: 475.6 at least", 502, fit.ToShim, 1, 13.1},
	} {
		p, s := drawer(t, sideRunner, 500*mm, 2*mm)
		was, _, _ := fits(t, p, s, record.Record{})
		r := record.Record{Openings: []record.MeasuredOpening{square("opening", c.w, 200)}, Cut: cutOf(was, build.RoleBoxEnd, build.RoleBoxSide, build.RoleBoxBottom)}
		_, all, _ := fits(t, p, s, r)
		o := of(t, all, "opening")
		if o.Box.Verdict != c.verdict || (o.Box.Width-unit.MM(473.9)).Abs() > unit.MM(0.05) {
			t.Errorf("%s: %s, box %v", c.name, o.Box.Verdict, o.Box.Width)
		}
		proud := unit.Length(0)
		for _, k := range o.Packers {
			proud = k.Proud
		}
		if proud != unit.MM(c.proud) || (o.Box.Side-unit.MM(c.side)).Abs() > unit.MM(0.06) {
			t.Errorf("%s: runners %v beyond the edge, side space %v", c.name, proud, o.Box.Side)
		}
	}
}

// Demo piece A: packers of 12 behind the outer stiles make the opening flush;
// an opening 1 mm narrower stands half a millimetre further in at each side.
func TestPackers(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	r := record.Record{Openings: []record.MeasuredOpening{square("column 1 row 1", 463, 165)}}
	m, all, _ := fits(t, p, s, r)
	packers := map[string]unit.Length{}
	for _, part := range m.Parts {
		for _, at := range part.Places {
			if part.Role == build.RolePacker {
				packers[at.Name] = part.Thickness.Size
			}
		}
	}
	for name, want := range map[string][2]float64{"column 1 row 1": {12.5, 3.5}, "column 1 row 2": {12, 3}, "column 3 row 1": {3, 12}} {
		o := of(t, all, name)
		if len(o.Packers) != 2 || o.Packers[0].Thickness != unit.MM(want[0]) || o.Packers[1].Thickness != unit.MM(want[1]) || o.Packers[0].Proud != 0 {
			t.Errorf("%s: %+v, want %v", name, o.Packers, want)
		}
		if packers[name+" left"] != unit.MM(want[0]) || packers[name+" right"] != unit.MM(want[1]) {
			t.Errorf("%s: the parts list has packers of %v and %v, want %v", name, packers[name+" left"], packers[name+" right"], want)
		}
	}
	// Cut as planned, they take a shim.
	was, _, _ := fits(t, p, s, record.Record{})
	r.Cut = cutOf(was, build.RolePacker)
	_, all, _ = fits(t, p, s, r)
	if do := strings.Join(of(t, all, "column 1 row 1").Do, " "); !strings.Contains(do, "cut 12 mm thick; 12.5 mm make it flush with the edge. Shim it by 0.5 mm.") {
		t.Errorf("says %q", do)
	}
}

func drawMeasured(t *rapid.T, name string, w, h unit.Length, off float64) record.MeasuredOpening {
	o := square(name, w.MM(), h.MM())
	d := func(l *unit.Length) { *l += unit.MM(rapid.Float64Range(-off, off).Draw(t, "off")) }
	for i := range 3 {
		d(&o.Widths[i])
		d(&o.Heights[i])
	}
	return o
}

// Parts that are cut are never changed, whatever is measured. (Which of two
// mirror images is drawn may change.)
func TestCutPartsAreNeverChanged(t *testing.T) {
	p, s := drawer(t, sideRunner, 2000*mm, 2*mm)
	d := *p.Inside.Drawer
	p.Inside = piece.Opening{}
	for range 4 {
		p.Inside.Columns = append(p.Inside.Columns, piece.Opening{Drawer: &d})
	}
	was, _, _ := fits(t, p, s, record.Record{})
	rapid.Check(t, func(t *rapid.T) {
		var r record.Record
		for _, o := range was.Openings {
			if o.Drawer != nil && rapid.Bool().Draw(t, "measured") {
				r.Openings = append(r.Openings, drawMeasured(t, o.Name, o.Width.Size, o.Height.Size, 1.5))
			}
		}
		for _, part := range was.Parts {
			if rapid.Bool().Draw(t, "cut") {
				r.Cut = append(r.Cut, record.Cut{Part: part.Letter, Count: rapid.IntRange(1, part.Count).Draw(t, "count")})
			}
		}
		is, _, _ := fits(t, p, s, r)
		for _, c := range r.Cut {
			at := func(m build.Model) build.Part {
				i := slices.IndexFunc(m.Parts, func(q build.Part) bool { return q.Letter == c.Part })
				if i < 0 {
					t.Fatalf("%s, of which %d are cut, is gone", c.Part, c.Count)
				}
				return m.Parts[i]
			}
			a, b := at(was), at(is)
			if a.Length.Size != b.Length.Size || a.Width.Size != b.Width.Size || a.Thickness.Size != b.Thickness.Size || (a.Outline.Length()-b.Outline.Length()).Abs() > 10 || b.Count < min(c.Count, a.Count) {
				t.Fatalf("%s %s: %d cut; now %d of %v × %v", a.Letter, a.Name, c.Count, b.Count, b.Length.Size, b.Width.Size)
			}
		}
	})
}

// The front ends up inside the opening by its gap at every point, cut or not.
func TestFrontKeepsItsGap(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	was, _, _ := fits(t, p, s, record.Record{})
	rapid.Check(t, func(t *rapid.T) {
		o := drawMeasured(t, "opening", 500*mm, 200*mm, 0.8)
		o.Corners = []unit.Length{0, 0, 0, 0}
		for i := range o.Corners {
			o.Corners[i] = unit.MM(rapid.Float64Range(0, 40).Draw(t, "r"))
		}
		r := record.Record{Openings: []record.MeasuredOpening{o}}
		kept := rapid.Bool().Draw(t, "cut")
		if kept {
			r.Cut = cutOf(was, build.RoleFront)
			o.Corners = nil // square, as planned
			r.Openings[0] = o
		}
		_, all, _ := fits(t, p, s, r)
		got := of(t, all, "opening")
		if got.Doubt != "" {
			t.Skip(got.Doubt)
		}
		around := got.Outline.Flatten(unit.Micrometre)
		for _, q := range got.Front.Outline.Flatten(50 * unit.Micrometre) {
			if d := margin(q, around); d < 2-0.101 { // a cut front is left where it is a tenth short
				t.Fatalf("%v is %v from the opening (cut: %v)", q, d, kept)
			}
		}
	})
}

// margin is how far inside a convex polygon, run anticlockwise, a point lies.
func margin(q geom.Point, around []geom.Point) float64 {
	best := 1e9
	for i, a := range around {
		b := around[(i+1)%len(around)]
		dx, dy := (b.X - a.X).MM(), (b.Y - a.Y).MM()
		l := dx*dx + dy*dy
		if l < 1e-10 {
			continue
		}
		best = min(best, (dx*(q.Y-a.Y).MM()-dy*(q.X-a.X).MM())/math.Sqrt(l))
	}
	return best
}

func TestUnknownOpening(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	_, _, findings := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{square("colum 1 row 1", 464, 165)}})
	if len(findings) != 1 || findings[0].ID != "opening-unknown" || !strings.Contains(findings[0].Advice, "column 1 row 1") {
		t.Errorf("%+v", findings)
	}
}

// Raw measures, however absurd, never end in a panic; what they give is
// printable.
func FuzzMake(f *testing.F) {
	p, s := demo(f, "record-cabinet")
	was, _, _ := fits(f, p, s, record.Record{})
	cut := cutOf(was, build.RoleFront, build.RoleBoxEnd, build.RolePacker)
	f.Add(int64(464e6), int64(464e6), int64(464e6), int64(165e6), int64(165e6), int64(165e6), int64(0), int64(0), int64(50e6), uint8(15), true)
	f.Add(int64(463e6), int64(464e6), int64(465e6), int64(165e6), int64(164e6), int64(165e6), int64(492e6), int64(493e6), int64(0), uint8(15), true)
	f.Add(int64(1e6), int64(1e13), int64(-5), int64(0), int64(165e6), int64(165e6), int64(1), int64(2), int64(1e12), uint8(3), false)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i, r int64, lists uint8, keep bool) {
		l := func(on uint8, v ...int64) []unit.Length {
			if lists&on == 0 {
				return nil
			}
			var out []unit.Length
			for _, x := range v {
				out = append(out, unit.Length(x))
			}
			return out
		}
		rec := record.Record{Openings: []record.MeasuredOpening{{
			Opening: "column 1 row 1", Widths: l(1, a, b, c), Heights: l(2, d, e, g), Diagonals: l(4, h, i), Corners: l(8, r, 0, r/2, r),
		}}}
		if keep {
			rec.Cut = cut
		}
		m, err := build.Make(p, s, rec)
		if err != nil {
			return // a sentence says why it cannot be built
		}
		in := fit.Input{Piece: p, Shop: s, Record: rec, Model: m, Show: unit.Length.String}
		all := fit.Make(in)
		fit.Findings(in, all)
		if _, err := json.Marshal(all); err != nil {
			t.Fatal(err)
		}
	})
}

// The card and the screw table say the same, in every demo.
func TestScrewsAgreeWithTheTable(t *testing.T) {
	rows := map[string]string{"front, from inside the box": "drawer fronts from inside the box", "pull, machine screw": "machine screws, pulls of "}
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, s := demo(t, name)
		m, all, _ := fits(t, p, s, record.Record{})
		for _, o := range all {
			for _, k := range o.Screws {
				if !slices.ContainsFunc(m.Screws, func(u build.ScrewUse) bool {
					return strings.HasPrefix(u.Where, rows[k.For]) && u.Stack == k.Stack && u.Length == k.Length
				}) {
					t.Errorf("%s, %s: %s of %v in %v is not in the screw table", name, o.Name, k.For, k.Length, k.Stack)
				}
			}
		}
	}
}

// An inset door that is cut and banded, in an opening that narrows to the top
// by 2: 1 mm is planed off each side at the top, through bands of 0.5, and
// nothing off its ends.
func TestDoorThatIsCut(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	p.Case.Height = 700 * mm
	s.Bands = map[string]shop.Band{"veneer": {Thickness: mm / 2}}
	s.Hardware["hinge"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Fixed: -2 * mm, Setback: 37 * mm}
	p.Inside = piece.Opening{Door: &piece.Door{Hinge: "hinge", Front: "inset", Gap: 2 * mm, Thickness: 18 * mm, Edges: "veneer"}}
	p.Materials["doors"] = "oak-18"
	was, plain, _ := fits(t, p, s, record.Record{})
	o := square("opening", plain[0].Width.MM(), plain[0].Height.MM())
	for i, less := range []unit.Length{2 * mm, mm, 0} {
		o.Widths[i] -= less
	}
	_, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)})
	got := of(t, all, "opening")
	if f := got.Front; f.Verdict != fit.ToPlane || f.Width != plain[0].Front.Width || f.Height != plain[0].Front.Height || f.Width != plain[0].Width-4*mm {
		t.Errorf("door %+v", f)
	}
	for i, want := range [4][2]unit.Length{{0, mm}, {0, mm}, {}, {}} {
		if g := got.Front.Gaps[i]; (g.Plane[0]-want[0]).Abs() > mm/10 || (g.Plane[1]-want[1]).Abs() > mm/10 {
			t.Errorf("at the %s plane %v, want %v", g.Edge, g.Plane, want)
		}
	}
	n := 0
	for _, do := range got.Do {
		if strings.Contains(do, "goes through the band of 0.5 mm") {
			n++
		}
	}
	if n != 2 {
		t.Errorf("the bands of both sides are planed through; said: %q", got.Do)
	}
}
