package fit_test

import (
	"math"
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

// An inset door that is cut and banded, in an opening that narrows to the top
// by 2: 1 mm is planed off each side at the top, through bands of 0.5, and
// nothing off its ends.
func TestDoorThatIsCut(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	p.Case.Height = 700 * mm
	s.Bands = map[string]shop.Band{"veneer": {Thickness: mm / 2}}
	s.Hardware["hinge"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Fixed: new(-2 * mm), Setback: 37 * mm}
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
