package fit_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// pair is a case with a pair of inset doors, its opening 800 × 700.
func pair(t *testing.T, gap unit.Length) (piece.Piece, shop.Shop) {
	p, s := drawer(t, sideRunner, 800*mm, gap)
	p.Case.Height = 700*mm + 2*s.Panels["oak-18"].Thickness
	s.Bands = map[string]shop.Band{"veneer": {Thickness: mm / 2}}
	s.Hardware["hinge"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Fixed: new(-2 * mm), Setback: 37 * mm}
	p.Inside = piece.Opening{Door: &piece.Door{Hinge: "hinge", Front: "inset", Hung: "pair", Gap: gap, Thickness: 18 * mm}}
	p.Materials["doors"] = "oak-18"
	return p, s
}

// A pair of doors that is cut, in an opening that came out otherwise (sums
// worked by hand). Planned is 800 × 700, each door 397 × 696, three gaps of 2.
func TestPairThatIsCut(t *testing.T) {
	for _, c := range []struct {
		name    string
		gap     float64
		widths  [3]float64 // top, middle, bottom
		high    float64
		verdict fit.Verdict
		sides   [2]float64 // gap at the left: below, above; the right is its mirror image
		planed  [2]float64 // the same, planed
		between float64
		meet    float64 // planed where they meet, both together
		ends    float64 // planed above
		says    string
	}{
		{"as planned", 2, [3]float64{800, 800, 800}, 700, fit.AsIs, [2]float64{2, 2}, [2]float64{}, 2, 0, 0, ""},
		{"1.5 wider: a third to each gap", 2, [3]float64{801.5, 801.5, 801.5}, 700, fit.AsIs, [2]float64{2.5, 2.5}, [2]float64{}, 2.5, 0, 0, ""},
		{"1 narrower: off where they meet", 2, [3]float64{799, 799, 799}, 700, fit.ToPlane, [2]float64{2, 2}, [2]float64{}, 2, 1, 0, "plane the edges where they meet: 1 mm off both together"},
		{"2 narrower at the top: 1 off each side there", 2, [3]float64{798, 799, 800}, 700, fit.ToPlane, [2]float64{2, 2}, [2]float64{0, 1}, 2, 0, 0, "the left edge of the left door: 0 mm at the bottom, 1 mm at the top"},
		{"1 lower", 2, [3]float64{800, 800, 800}, 699, fit.ToPlane, [2]float64{2, 2}, [2]float64{}, 2, 0, 1, "their upper edges, across both: 1 mm along its whole length"},
		{"6 wider: 4 in each gap", 2, [3]float64{806, 806, 806}, 700, fit.ToRemake, [2]float64{4, 4}, [2]float64{}, 4, 0, 0, "too small here: gaps of 4 mm at the left, 4 mm at the right, 4 mm where they meet"},
		{"gaps of 6 may be 2.5 wider, farther than hinges turn", 6, [3]float64{807.5, 807.5, 807.5}, 700, fit.ToShim, [2]float64{8.5, 8.5}, [2]float64{}, 8.5, 0, 0, "Shim the hinge plates"},
	} {
		p, s := pair(t, unit.MM(c.gap))
		was, _, _ := fits(t, p, s, record.Record{})
		o := square("opening", 800, c.high)
		for i, w := range c.widths {
			o.Widths[i] = unit.MM(w)
		}
		_, all, findings := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)})
		got := of(t, all, "opening")
		f := got.Front
		if f.Verdict != c.verdict || f.Between == nil || len(f.Gaps) != 4 || len(f.Outline) != 0 || len(f.Leaves) != 2 {
			t.Errorf("%s: %+v", c.name, f)
			continue
		}
		near := func(what string, got unit.Length, want float64) {
			if (got - unit.MM(want)).Abs() > unit.MM(0.06) {
				t.Errorf("%s: %s %v, want %v", c.name, what, got, want)
			}
		}
		for i := range 2 {
			for k := range 2 {
				near("gap at the "+f.Gaps[i].Edge, f.Gaps[i].Ends[k], c.sides[k])
				near("planed at the "+f.Gaps[i].Edge, f.Gaps[i].Plane[k], c.planed[k])
			}
		}
		near("between", f.Between.Ends[0], c.between)
		// The leaves end up with these gaps: between them along the middle line.
		l, r := f.Leaves[0].Outline.Bounds(), f.Leaves[1].Outline.Bounds()
		near("from leaf to leaf", r.Min.X-l.Max.X, c.between)
		near("left of the left leaf, below", l.Min.X, c.sides[0])
		near("planed where they meet", f.Between.Plane[1], c.meet)
		near("planed above", f.Gaps[3].Plane[0], c.ends)
		near("planed below", f.Gaps[2].Plane[0], 0)
		if do := strings.Join(got.Do, " "); !strings.Contains(do, c.says) || (c.says == "") != (do == "") {
			t.Errorf("%s: says %q", c.name, do)
		}
		want := map[fit.Verdict]string{fit.ToPlane: "fit-front-plane", fit.ToRemake: "fit-front-small"}[c.verdict]
		if (want != "") != (len(findings) == 1) || want != "" && findings[0].ID != want {
			t.Errorf("%s: findings %+v", c.name, findings)
		}
	}
}

// An opening that came out with a corner of R 12 at its top right: what is cut
// square is rounded on to 12 − 2 there, a single front as the right leaf of a
// pair, and its template shows the corner (arithmetic).
func TestCutCornersAreRoundedOnTheirTemplates(t *testing.T) {
	for _, hung := range []string{"left", "pair"} {
		p, s := pair(t, 2*mm)
		p.Inside.Door.Hung = hung
		was, _, _ := fits(t, p, s, record.Record{})
		o := square("opening", 800, 700)
		o.Corners = []unit.Length{0, 12 * mm, 0, 0}
		_, all, _ := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)})
		got := of(t, all, "opening")
		outline, says := got.Front.Outline, "Round its top right corner on, from R 0 mm to R 10 mm."
		if hung == "pair" {
			outline, says = got.Front.Leaves[1].Outline, "Round the right one's top right corner on, from R 0 mm to R 10 mm."
			if l := got.Front.Leaves; len(l[0].Outline) != 4 || l[1].Corners != [4]unit.Length{0, 10 * mm, 0, 0} {
				t.Errorf("leaves %+v", l)
			}
		}
		if len(outline) != 5 || got.Front.Corners != [4]unit.Length{0, 10 * mm, 0, 0} || got.Front.Verdict != fit.ToPlane {
			t.Errorf("%s: %s, corners %v, template %v", hung, got.Front.Verdict, got.Front.Corners, outline)
		}
		if do := strings.Join(got.Do, " "); !strings.Contains(do, says) {
			t.Errorf("%s: says %q", hung, do)
		}
	}
}

// One leaf of a pair is cut: it stays 397 × 696 as planned and hangs at its
// side, the other takes what is left of an opening that came out otherwise
// (sums by hand, three gaps of 2). Two that are cut are a pair that is cut.
func TestOneLeafThatIsCut(t *testing.T) {
	for _, c := range []struct {
		name        string
		top, bottom float64
		right       float64 // width of the other, as the rectangle about it
		verdict     fit.Verdict
	}{
		{"as planned", 800, 800, 397, fit.AsIs},
		{"2 narrower", 798, 798, 395, fit.AsIs},
		{"6 wider", 806, 806, 403, fit.AsIs},
	} {
		p, s := pair(t, 2*mm)
		was, _, _ := fits(t, p, s, record.Record{})
		o := square("opening", 800, 700)
		o.Widths = []unit.Length{unit.MM(c.top), unit.MM((c.top + c.bottom) / 2), unit.MM(c.bottom)}
		r := record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)}
		r.Cut[0].Count = 1
		m, all, findings := fits(t, p, s, r)
		f := of(t, all, "opening").Front
		if f.Verdict != c.verdict || len(f.Leaves) != 2 || len(findings) != 0 {
			t.Errorf("%s: %+v, findings %+v", c.name, f, findings)
			continue
		}
		l, rt := f.Leaves[0], f.Leaves[1]
		if c.top != 800 && (l.Verdict != fit.AsIs || rt.Verdict != fit.ToMake) {
			t.Errorf("%s: %s the cut leaf, %s the other", c.name, l.Verdict, rt.Verdict)
		}
		near := func(what string, got unit.Length, want float64) {
			if (got - unit.MM(want)).Abs() > unit.MM(0.02) {
				t.Errorf("%s: %s %v, want %v", c.name, what, got, want)
			}
		}
		near("the cut leaf", l.Width, 397)
		near("the cut leaf, high", l.Height, 696)
		near("the other leaf", rt.Width, c.right)
		near("left of the cut leaf", l.Outline.Bounds().Min.X, 2)
		near("from leaf to leaf", rt.Outline.Bounds().Min.X-l.Outline.Bounds().Max.X, 2)
		near("right of the other", unit.MM(c.top)-rt.Outline.Bounds().Max.X, 2)
		doors := 0
		for _, part := range m.Parts {
			if part.Role == build.RoleDoor {
				doors += part.Count
				if part.Letter == r.Cut[0].Part && part.Width.Size != 397*mm {
					t.Errorf("%s: what is cut is listed as %v wide", c.name, part.Width.Size)
				}
			}
		}
		if same := l.Letter == rt.Letter; doors != 2 || l.Letter != r.Cut[0].Part || same != (c.top == 800) {
			t.Errorf("%s: %d doors, letters %s and %s", c.name, doors, l.Letter, rt.Letter)
		}
		if do := strings.Join(of(t, all, "opening").Do, " "); c.top != 800 && !strings.Contains(do, "to what the cut one leaves") {
			t.Errorf("%s: says %q", c.name, do)
		}
	}
}

// The opening came out 3 mm lower: the leaf that is cut loses them at its top,
// the other is made 697 − 4 high.
func TestOneLeafThatIsPlaned(t *testing.T) {
	p, s := pair(t, 2*mm)
	was, _, _ := fits(t, p, s, record.Record{})
	o := square("opening", 800, 697)
	r := record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)}
	r.Cut[0].Count = 1
	_, all, findings := fits(t, p, s, r)
	f := of(t, all, "opening").Front
	if f.Verdict != fit.ToPlane || len(findings) != 1 || findings[0].ID != "fit-front-plane" {
		t.Fatalf("%+v, %+v", f, findings)
	}
	do := strings.Join(of(t, all, "opening").Do, " ")
	if !strings.Contains(do, "Door "+r.Cut[0].Part+" at the left is cut. Plane its top edge: 3 mm along its whole length.") || (f.Leaves[1].Height-693*mm).Abs() > unit.MM(0.02) {
		t.Errorf("says %q, the other is %v high", do, f.Leaves[1].Height)
	}
}

// Its side tapers by 1.6 over the door's height: 0.8 is planed off the end that
// stands in, 0.8 more than the gap is left at the other, and that is not seen.
func TestOneLeafAtASideThatTapers(t *testing.T) {
	p, s := pair(t, 2*mm)
	was, _, _ := fits(t, p, s, record.Record{})
	o := square("opening", 800, 700)
	o.Widths = []unit.Length{unit.MM(798.4), 800 * mm, unit.MM(801.6)}
	r := record.Record{Openings: []record.MeasuredOpening{o}, Cut: cutOf(was, build.RoleDoor)}
	r.Cut[0].Count = 1
	_, all, _ := fits(t, p, s, r)
	f := of(t, all, "opening").Front
	g := f.Gaps[0]
	if f.Verdict != fit.ToPlane || g.Plane[0] != 0 || (g.Plane[1]-unit.MM(0.8)).Abs() > unit.MM(0.11) || (g.Ends[0]-unit.MM(2.8)).Abs() > unit.MM(0.11) {
		t.Errorf("%s, %+v", f.Verdict, g)
	}
}

// Planing a pair where it meets goes through the bands there, and a pair that
// is not cut is told to be planed when it hangs.
func TestPairThroughItsBands(t *testing.T) {
	p, s := pair(t, 2*mm)
	p.Inside.Door.Edges = "veneer"
	was, _, _ := fits(t, p, s, record.Record{})
	r := record.Record{Openings: []record.MeasuredOpening{square("opening", 798, 700)}, Cut: cutOf(was, build.RoleDoor)}
	_, all, _ := fits(t, p, s, r)
	if do := strings.Join(of(t, all, "opening").Do, " "); strings.Count(do, "goes through the band") != 2 || !strings.Contains(do, "at the right of front") || !strings.Contains(do, "at the left of front") {
		t.Errorf("says %q", do)
	}
	r.Cut = nil
	_, all, _ = fits(t, p, s, r)
	if got := of(t, all, "opening"); got.Front.Verdict != fit.ToMake || got.Front.Between == nil || got.Front.Between.Plane != [2]unit.Length{} || len(got.Do) != 1 {
		t.Errorf("%s, says %q", got.Front.Verdict, got.Do)
	}
}

// A pair that is not cut, in an opening 800 wide, 704 high at the left,
// 702 in the middle and 700 at the right (by hand, three gaps of 2): the left
// leaf is 704 − 4 high at its outer edge and 702 − 4 where they meet, the right
// one 698 and 696; each is (800 − 6) / 2 wide. Both have their cups at one
// height, that of the plates, which are bored before the opening is measured.
func TestPairIsMadeToItsOpening(t *testing.T) {
	p, s := pair(t, 2*mm)
	planned, plain, _ := fits(t, p, s, record.Record{})
	if f := plain[0].Front; len(f.Leaves) != 2 || f.Leaves[0].Letter != f.Leaves[1].Letter || f.Leaves[1].Width != 397*mm || f.Leaves[1].Height != 696*mm {
		t.Errorf("as planned: %+v", f.Leaves)
	}
	o := square("opening", 800, 702)
	o.Heights = []unit.Length{704 * mm, 702 * mm, 700 * mm}
	o.Diagonals = []unit.Length{unit.MM(math.Hypot(800, 704)), unit.MM(math.Hypot(800, 700))} // its sides are upright
	m, all, findings := fits(t, p, s, record.Record{Openings: []record.MeasuredOpening{o}})
	got := of(t, all, "opening")
	f := got.Front
	if f.Verdict != fit.ToMake || len(f.Leaves) != 2 || f.Leaves[0].Letter == f.Leaves[1].Letter || len(findings) != 0 {
		t.Fatalf("%+v, findings %+v", f, findings)
	}
	near := func(what string, got unit.Length, want float64) {
		if (got - unit.MM(want)).Abs() > unit.MM(0.02) {
			t.Errorf("%s %v, want %v", what, got, want)
		}
	}
	for i, want := range [2][2]float64{{700, 698}, {698, 696}} { // at its left, at its right
		l := f.Leaves[i]
		near(l.Side+" leaf wide", l.Width, 397)
		near(l.Side+" leaf high", l.Height, want[0])
		b := l.Outline.Bounds()
		for k, x := range [2]unit.Length{b.Min.X, b.Max.X} {
			high := unit.Length(0)
			for _, v := range l.Outline {
				if (v.X-x).Abs() < mm && v.Y > high {
					high = v.Y
				}
			}
			near(l.Side+" leaf high at an edge", high-b.Min.Y, want[k])
		}
		part := m.Parts[slices.IndexFunc(m.Parts, func(p build.Part) bool { return p.Letter == l.Letter })]
		near(l.Side+" door as built, long", part.Length.Size, want[0])
		near(l.Side+" door as built, wide", part.Width.Size, 397)
	}
	near("from leaf to leaf", f.Leaves[1].Outline.Bounds().Min.X-f.Leaves[0].Outline.Bounds().Max.X, 2)
	if do := strings.Join(got.Do, " "); !strings.Contains(do, "left leaf 397 mm × 700 mm and the right one 397 mm × 698 mm") || !strings.Contains(do, "in the middle, where the leaves meet") {
		t.Errorf("says %q", do)
	}
	if a, b := plates(planned), plates(m); len(a) == 0 || !slices.Equal(a, b) {
		t.Errorf("the plates were bored at %v, now at %v", a, b)
	}
}

// plates are the heights at which hinges sit.
func plates(m build.Model) (out []unit.Length) {
	for _, h := range m.Hardware {
		if h.Key == "hinge" {
			for _, at := range h.At {
				out = append(out, at.Z)
			}
		}
	}
	slices.Sort(out)
	return out
}
