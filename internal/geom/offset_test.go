package geom

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

func TestOffsetKnown(t *testing.T) {
	got, ok := Rect(600*mm, 400*mm).Offset(-3 * mm / 2)
	if want := Rect(597*mm, 397*mm).Translate(P(3*mm/2, 3*mm/2)); !ok || !sameOutline(got, want) {
		t.Errorf("rectangle inward: %v, %v; want %v", got, ok, want)
	}
	got, ok = circle(P(0, 0), 50*mm).Offset(10 * mm)
	if want := circle(P(0, 0), 60*mm); !ok || !sameOutline(got, want) {
		t.Errorf("circle outward: %v, %v; want %v", got, ok, want)
	}
	got, ok = circle(P(0, 0), 50*mm).Reverse().Offset(10 * mm) // a hole in growing material
	if want := circle(P(0, 0), 40*mm).Reverse(); !ok || !sameOutline(got, want) {
		t.Errorf("hole: %v, %v; want %v", got, ok, want)
	}
	outer, _ := roundRect(600*mm, 400*mm, [4]unit.Length{60 * mm, 60 * mm, 30 * mm, 0})
	inner, _ := roundRect(560*mm, 360*mm, [4]unit.Length{40 * mm, 40 * mm, 10 * mm, 0})
	got, ok = outer.Offset(-20 * mm)
	if want := inner.Translate(P(20*mm, 20*mm)); !ok || !sameOutline(got, want) {
		t.Errorf("rounded rectangle inward: %v, %v; want %v", got, ok, want)
	}
	// A quarter disc of 100 moved 10 inward: the arc, now of 90, ends where it
	// meets the moved sides, at √(90² − 10²) from the other one.
	quarter := Outline{{P(0, 0), 0}, {P(100*mm, 0), QuarterBulge}, {P(0, 100*mm), 0}}
	got, ok = quarter.Offset(-10 * mm)
	if !ok {
		t.Fatal("quarter disc collapses")
	}
	near(t, "x of the arc's start", got[1].X.MM(), math.Sqrt(90*90-10*10), 1e-5)
	near(t, "y of the arc's start", got[1].Y.MM(), 10, 1e-5)
	near(t, "sweep of the arc", 4*math.Atan(got[1].Bulge), math.Pi/2-2*math.Asin(10.0/90), 1e-7)
}

// sameOutline says that corners agree to 3 nm and the rise of arcs to 50.
func sameOutline(a, b Outline) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		chord := a[i].pt().distance(a[(i+1)%len(a)].pt())
		if a[i].pt().distance(b[i].pt()) > 3 || math.Abs(a[i].Bulge-b[i].Bulge)*chord/2 > 50 {
			return false
		}
	}
	return true
}

func TestOffsetCollapses(t *testing.T) {
	rounded, _ := roundRect(600*mm, 400*mm, [4]unit.Length{60 * mm, 60 * mm, 60 * mm, 60 * mm})
	dumbbell := Outline{
		{P(0, 0), 0},
		{P(100*mm, 0), 0},
		{P(100*mm, 45*mm), 0},
		{P(200*mm, 45*mm), 0},
		{P(200*mm, 0), 0},
		{P(300*mm, 0), 0},
		{P(300*mm, 100*mm), 0},
		{P(200*mm, 100*mm), 0},
		{P(200*mm, 55*mm), 0},
		{P(100*mm, 55*mm), 0},
		{P(100*mm, 100*mm), 0},
		{P(0, 100*mm), 0},
	}
	tests := []struct {
		name string
		o    Outline
		d    unit.Length
		ok   bool
	}{
		{"rectangle short of its middle", Rect(600*mm, 400*mm), -199 * mm, true},
		{"rectangle to its middle", Rect(600*mm, 400*mm), -200 * mm, false},
		{"rectangle past its middle", Rect(600*mm, 400*mm), -250 * mm, false},
		{"square past its middle", Rect(400*mm, 400*mm), -250 * mm, false},
		{"corner radius used up", rounded, -60 * mm, false},
		{"corner radius passed", rounded, -70 * mm, false},
		{"neck stays open", dumbbell, -4 * mm, true},
		{"neck closes", dumbbell, -5 * mm, false},
		{"neck passes itself", dumbbell, -6 * mm, false},
		{"slot outward closes", dumbbell, 50 * mm, false},
		{"circle used up", circle(P(0, 0), 50*mm), -50 * mm, false},
		{"none", nil, mm, false},
	}
	for _, tt := range tests {
		if got, ok := tt.o.Offset(tt.d); ok != tt.ok {
			t.Errorf("%s: %v, %v; want %v", tt.name, got, ok, tt.ok)
		}
	}
}

// roundedBlob draws a blob whose corners all run smoothly, so that its offset
// is the Minkowski sum or difference with a disc both ways.
func roundedBlob() *rapid.Generator[Outline] {
	return rapid.Custom(func(t *rapid.T) Outline {
		n := rapid.IntRange(3, 8).Draw(t, "n")
		o := make(Outline, n)
		radii := make([]unit.Length, n)
		for i := range o {
			r := rapid.Float64Range(150, 300).Draw(t, "r") * 1e6
			o[i].Point = polar(r, 2*math.Pi*float64(i)/float64(n)).point()
			radii[i] = unit.Length(rapid.Int64Range(10e6, 30e6).Draw(t, "radius"))
		}
		out, err := o.RoundCorners(radii)
		if err != nil {
			t.Skip(err.Error())
		}
		return out
	})
}

// A point belongs to the grown face when it is in the old one or within d of
// its edge, and to the shrunk one when it is in and farther than d from it.
func TestOffsetAgainstMinkowski(t *testing.T) {
	grown, shrunk := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := roundedBlob().Draw(t, "o")
		d := unit.Length(rapid.Int64Range(-9e6, 9e6).Draw(t, "d"))
		got, ok := o.Offset(d)
		if !ok {
			t.Fatalf("collapses by %v, with radii of 10 mm and more: %v", d, o)
		}
		if d > 0 {
			grown++
		} else {
			shrunk++
		}
		for range 20 {
			// Near the edge, where it matters.
			e := rapid.SampledFrom(o.edges()).Draw(t, "edge")
			off := pt{rapid.Float64Range(-2e7, 2e7).Draw(t, "dx"), rapid.Float64Range(-2e7, 2e7).Draw(t, "dy")}
			p := e.at(rapid.Float64Range(0, 1).Draw(t, "t")).plus(off).point()
			dist := distanceTo(o, p)
			if math.Abs(dist-math.Abs(float64(d))) < 20 {
				continue
			}
			want := o.Contains(p) && dist > -float64(d)
			if d > 0 {
				want = o.Contains(p) || dist < float64(d)
			}
			if got.Contains(p) != want {
				t.Fatalf("moved by %v, contains %v: %v, want %v (%v nm from the edge)", d, p, !want, want, dist)
			}
		}
		// Steiner's formula for parallel curves: A + L·d + π·d².
		near(t, "area", mm2(got.Area()), mm2(o.Area())+o.Length().MM()*d.MM()+math.Pi*d.MM()*d.MM(), 0.05)
		back, ok := got.Offset(-d)
		if !ok {
			t.Fatalf("cannot be moved back by %v", -d)
		}
		for _, e := range back.edges() {
			near(t, "corner there and back (nm)", distanceTo(o, e.a.point()), 0, 20)
			near(t, "edge there and back (nm)", distanceTo(o, e.at(0.5).point()), 0, 20)
		}
	})
	if grown == 0 || shrunk == 0 {
		t.Errorf("%d grown, %d shrunk: one way was not tried", grown, shrunk)
	}
}

// With sharp corners and arcs between them, whatever is returned keeps its
// distance from the old edge everywhere.
func TestOffsetKeepsDistance(t *testing.T) {
	kept := 0
	rapid.Check(t, func(t *rapid.T) {
		o := blob().Draw(t, "o")
		d := unit.Length(rapid.Int64Range(-30e6, 30e6).Draw(t, "d"))
		got, ok := o.Offset(d)
		if !ok {
			return
		}
		kept++
		for _, p := range got.Flatten(mm) {
			if dist := distanceTo(o, p); dist < float64(d.Abs())-50 {
				t.Fatalf("moved by %v, but %v is only %v nm off", d, p, dist)
			}
		}
		if (mm2(got.Area()) > mm2(o.Area())) != (d > 0) && d.Abs() > mm {
			t.Fatalf("moved by %v: area from %v to %v", d, mm2(o.Area()), mm2(got.Area()))
		}
	})
	if kept == 0 {
		t.Error("nothing keeps its form")
	}
}

func TestRoundCorners(t *testing.T) {
	pill, err := roundRect(300*mm, 100*mm, [4]unit.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm})
	if err != nil || len(pill) != 6 || !pill.IsSimple() {
		t.Fatalf("a board with half-round ends: %v, %v", pill, err)
	}
	near(t, "its area", mm2(pill.Area()), 200*100+math.Pi*2500, 1e-3)
	disc, err := roundRect(100*mm, 100*mm, [4]unit.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm})
	if err != nil || len(disc) != 4 || !disc.IsSimple() {
		t.Fatalf("a disc out of a square: %v, %v", disc, err)
	}
	near(t, "its area", mm2(disc.Area()), math.Pi*2500, 1e-3)
	// The arc at (w,0) stands about (w−r, r): which corner is which.
	one, err := roundRect(300*mm, 100*mm, [4]unit.Length{0, 20 * mm, 0, 0})
	if err != nil || one[1].Point != P(280*mm, 0) || one[2].Point != P(300*mm, 20*mm) {
		t.Fatalf("one round corner: %v, %v", one, err)
	}
	near(t, "its bulge", one[1].Bulge, QuarterBulge, 1e-12)

	refused := []struct {
		o     Outline
		radii []unit.Length
		says  string
	}{
		{Rect(60*mm, 60*mm), []unit.Length{35 * mm, 35 * mm, 0, 0}, "the side from corner 1 to corner 2 is 60 mm long, but its round corners take 70 mm"},
		{Rect(60*mm, 60*mm), []unit.Length{-mm, 0, 0, 0}, "the radius at corner 1 is -1 mm"},
		{Rect(60*mm, 60*mm), []unit.Length{mm}, "1 radii were given for 4 corners"},
		{circle(P(0, 0), mm), []unit.Length{mm, mm}, "corner 1 lies at an arc"},
		{Outline{{P(0, 0), 0}, {P(mm, 0), 0}}, []unit.Length{1, 1}, "folds back"},
	}
	for _, tt := range refused {
		if _, err := tt.o.RoundCorners(tt.radii); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("RoundCorners(%v) of %v: %v; want %q", tt.radii, tt.o, err, tt.says)
		}
	}
}

// A round corner touches both sides: the arc's ends lie on them, its middle
// stands off the corner by r(1/sin(φ/2) − 1) where φ is the corner's angle.
func TestRoundCornerForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		phi := rapid.Float64Range(0.3, 2.9).Draw(t, "phi")
		r := rapid.Float64Range(1, 40).Draw(t, "r") * 1e6
		tip := Outline{{P(0, 0), 0}, {P(500*mm, 0), 0}, {polar(500e6, phi).point(), 0}}
		got, err := tip.RoundCorners([]unit.Length{unit.Length(r), 0, 0})
		if err != nil {
			t.Fatal(err)
		}
		arc := got.edges()[0]
		near(t, "radius (nm)", arc.r, r, 20)
		near(t, "middle from the corner (nm)", arc.at(0.5).len(), r*(1/math.Sin(phi/2)-1), 20)
	})
}

func BenchmarkOffset(b *testing.B) {
	o, err := roundRect(600*mm, 400*mm, [4]unit.Length{60 * mm, 60 * mm, 60 * mm, 60 * mm})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, ok := o.Offset(-3 * mm); !ok {
			b.Fatal("collapsed")
		}
	}
}
