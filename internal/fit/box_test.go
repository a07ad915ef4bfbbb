package fit_test

import (
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/fit"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

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
