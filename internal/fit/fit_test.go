package fit_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

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
