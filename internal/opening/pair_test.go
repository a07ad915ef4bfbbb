package opening

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// Both leaves keep the gap to the opening at every point, and to each other;
// together with the gap between them they are the front of one door, so none
// is needlessly small. Distances by schoolbook geometry.
func TestPairKeepsItsGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		for i := range q.r {
			q.r[i] /= 3 // no corner wider than a leaf
		}
		v, _ := q.measure()
		s, d := Fit(measuresOf(v, q.r))
		if d != nil {
			t.Skip("doubted")
		}
		gap := unit.MM(rapid.Float64Range(0.5, 5).Draw(t, "gap"))
		leaves, ok := s.Pair(gap)
		front, _ := s.Front(gap)
		if !ok {
			t.Fatalf("no pair with a gap of %v in %+v", gap, s.Corner)
		}
		edge, other := s.Outline().Flatten(unit.Micrometre), leaves[1].Flatten(unit.Micrometre)
		apart := math.Inf(1)
		for i, l := range leaves {
			for _, p := range l.Flatten(20 * unit.Micrometre) {
				if got := toPolygon(p, edge); got < gap.MM()-0.003 {
					t.Fatalf("leaf %d: %v is %v mm from the opening, the gap is %v", i, p, got, gap)
				}
				if i == 0 {
					apart = math.Min(apart, toPolygon(p, other))
				}
			}
		}
		if math.Abs(apart-gap.MM()) > 0.003 {
			t.Fatalf("the leaves are %v mm apart, the gap is %v", apart, gap)
		}
		// The line where they meet is as long as the front is high about there.
		high := (front.Bounds().Height() + s.Fitted[HeightMiddle] - 2*gap) / 2
		is := leaves[0].Area() + leaves[1].Area()
		want := front.Area() - unit.AreaOf(gap, high)
		if math.Abs(float64(is-want)/float64(unit.AreaOf(unit.Millimetre, unit.Millimetre))) > 40 {
			t.Fatalf("both leaves are %v, of %v", is, want)
		}
	})
}

// Upright sides 720 apart, 563 high at the left, 561 in the middle and 559 at the right, with
// gaps of 2: by hand, leaves of 357 whose upper edges fall from 559 to 557 and
// on to 555.
func TestPairInAnOpeningThatSlopes(t *testing.T) {
	diagonal := func(high float64) unit.Length { return unit.MM(math.Hypot(720, high)) }
	s, d := Fit(Measures{Diagonals: [2]unit.Length{diagonal(563), diagonal(559)}, Widths: [3]unit.Length{720 * mm, 720 * mm, 720 * mm}, Heights: [3]unit.Length{563 * mm, 561 * mm, 559 * mm}})
	leaves, ok := s.Pair(2 * mm)
	if d != nil || !ok {
		t.Fatal(d, ok)
	}
	for i, high := range []float64{559, 557} {
		b := leaves[i].Bounds()
		near(t, "high", b.Height(), unit.MM(high), 0.02)
		near(t, "wide", b.Width(), 357*mm, 0.02)
	}
}

// The leaf beside one that is cut keeps the gap to the opening and to that one
// at every point, and the cut one stands the gap off its own side: at the end
// where that stands in most, or on average where it tapers by more than half of
// it. Distances by schoolbook geometry.
func TestLeafBesideOneThatIsCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		q.r = [4]float64{}
		v, _ := q.measure()
		s, d := Fit(measuresOf(v, q.r))
		if d != nil {
			t.Skip("doubted")
		}
		gap, side := unit.MM(rapid.Float64Range(0.5, 5).Draw(t, "gap")), rapid.IntRange(Left, Right).Draw(t, "side")
		b := s.Outline().Bounds()
		w := b.Width().Scale(rapid.Float64Range(0.3, 0.6).Draw(t, "share"))
		h := b.Height().Scale(0.8)
		leaf, at, ok := s.Beside(gap, side, w, h)
		if !ok {
			t.Fatalf("nothing is left beside %v of %v", w, b.Width())
		}
		edge := s.Outline().Flatten(unit.Micrometre)
		cut := geom.Rect(w, h).Translate(at)
		edgeOf := []geom.Point{geom.P(at.X, at.Y), geom.P(at.X, at.Y+h)}
		if side == Right {
			edgeOf = []geom.Point{geom.P(at.X+w, at.Y), geom.P(at.X+w, at.Y+h)}
		}
		a, c := s.Margin(side, edgeOf[0]).MM(), s.Margin(side, edgeOf[1]).MM()
		stands := math.Min(a, c)
		if math.Abs(a-c) > gap.MM()/2+0.003 {
			stands = (a + c) / 2
		}
		if want := s.Setback(gap)[side].MM(); math.Abs(a-c) < gap.MM()/2-0.003 && math.Abs(stands-want) > 0.01 || math.Abs(stands-want) > gap.MM()/4+0.01 {
			t.Fatalf("the cut leaf stands %v and %v off its side, the gap is %v", a, c, want)
		}
		apart := math.Inf(1)
		for _, p := range leaf.Flatten(20 * unit.Micrometre) {
			if got := toPolygon(p, edge); got < gap.MM()-0.003 {
				t.Fatalf("%v is %v mm from the opening, the gap is %v", p, got, gap)
			}
			apart = math.Min(apart, toPolygon(p, cut.Flatten(unit.Micrometre)))
		}
		if math.Abs(apart-gap.MM()) > 0.003 {
			t.Fatalf("the leaves are %v apart, the gap is %v", apart, gap)
		}
	})
}
