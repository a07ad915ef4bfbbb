package geom

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

const mm = unit.Millimetre

// near fails unless got is within tol of want.
func near(t interface{ Fatalf(string, ...any) }, what string, got, want, tol float64) {
	if !(math.Abs(got-want) <= tol) {
		t.Fatalf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

// mm2 is an area in square millimetres.
func mm2(a unit.Area) float64 { return float64(a) * 1e6 }

// The areas of circle, sector and segment are those of any handbook, such as
// Machinery's Handbook, "Areas and Volumes" (from memory): sector r²θ/2,
// segment r²/2·(θ − sin θ).
func TestKnownAreas(t *testing.T) {
	quarter := Outline{{P(0, 0), 0}, {P(100*mm, 0), QuarterBulge}, {P(0, 100*mm), 0}}
	theta := 2 * math.Pi / 3
	segment := Outline{
		{polar(50e6, 0).point(), math.Tan(theta / 4)},
		{polar(50e6, theta).point(), 0},
	}
	ring := Region{circle(P(0, 0), 50*mm), circle(P(0, 0), 30*mm).Reverse()}
	rounded, err := roundRect(600*mm, 400*mm, [4]unit.Length{60 * mm, 60 * mm, 60 * mm, 60 * mm})
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name         string
		area, length float64 // mm², mm
		o            Outline
	}{
		{"rectangle", 240_000, 2000, Rect(600*mm, 400*mm)},
		{"circle", math.Pi * 2500, math.Pi * 100, circle(P(7*mm, -3*mm), 50*mm)},
		{"quarter sector", math.Pi * 2500, 200 + math.Pi*50, quarter},
		{"segment of 120°", 1250 * (theta - math.Sin(theta)), 50*theta + 50*math.Sqrt(3), segment},
		{"rounded rectangle", 240_000 - (4-math.Pi)*3600, 2000 - (8-2*math.Pi)*60, rounded},
	}
	for _, tt := range tests {
		near(t, tt.name+": area", mm2(tt.o.Area()), tt.area, tt.area*1e-7)
		near(t, tt.name+": length", tt.o.Length().MM(), tt.length, 1e-5)
		near(t, tt.name+": area reversed", mm2(tt.o.Reverse().Area()), -tt.area, tt.area*1e-7)
		if !tt.o.IsSimple() {
			t.Errorf("%s is not simple", tt.name)
		}
	}
	near(t, "ring: area", mm2(ring.Area()), math.Pi*1600, 1e-6)
}

func TestBounds(t *testing.T) {
	tests := []struct {
		name string
		o    Outline
		want Bounds
	}{
		{"none", nil, Bounds{}},
		{"rectangle", Rect(6*mm, 4*mm), Bounds{P(0, 0), P(6*mm, 4*mm)}},
		{"circle", circle(P(10*mm, 0), 5*mm), Bounds{P(5*mm, -5*mm), P(15*mm, 5*mm)}},
		{"bowed side", Outline{{P(0, 0), 1}, {P(10*mm, 0), 0}}, Bounds{P(0, -5*mm), P(10*mm, 0)}},
		{"hollow side", Outline{{P(0, 0), -1}, {P(10*mm, 0), 0}, {P(5*mm, 20*mm), 0}}, Bounds{P(0, 0), P(10*mm, 20*mm)}},
	}
	for _, tt := range tests {
		if got := tt.o.Bounds(); got != tt.want {
			t.Errorf("%s: Bounds = %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestPath(t *testing.T) {
	p := Path{{P(0, 0), 0}, {P(100*mm, 0), QuarterBulge}, {P(150*mm, 50*mm), 0}}
	near(t, "length", p.Length().MM(), 100+25*math.Pi, 1e-6)
	if got, want := p.Bounds(), (Bounds{P(0, 0), P(150*mm, 50*mm)}); got != want {
		t.Errorf("Bounds = %v, want %v", got, want)
	}
	if got := p.Reverse().Reverse(); !slices.Equal(got, p) {
		t.Errorf("reversed twice: %v, want %v", got, p)
	}
	if got := p.Reverse(); got[0].Bulge != -QuarterBulge || got[2].Bulge != 0 || got[0].Point != P(150*mm, 50*mm) {
		t.Errorf("Reverse = %v", got)
	}
	if got := p.MirrorY(60 * mm); got[2].Point != P(150*mm, 10*mm) || got[1].Bulge != -QuarterBulge {
		t.Errorf("MirrorY = %v", got)
	}
	if got := p.Translate(P(mm, 2*mm)).Rotate(unit.Right)[2].Point; got != P(-52*mm, 151*mm) {
		t.Errorf("moved and turned: %v", got)
	}
	if fl := p.Flatten(mm); fl[0] != p[0].Point || fl[len(fl)-1] != p[2].Point {
		t.Errorf("Flatten runs from %v to %v", fl[0], fl[len(fl)-1])
	}
	var none Path
	if none.Length() != 0 || none.Flatten(1) != nil || none.Bounds() != (Bounds{}) || len(none.Reverse()) != 0 {
		t.Error("the empty path is not empty")
	}
}

// blob draws a simple outline of lines and arcs: the corners stand round a
// point at growing angles, and arcs are too flat to meet.
func blob() *rapid.Generator[Outline] {
	return rapid.Custom(func(t *rapid.T) Outline {
		n := rapid.IntRange(3, 9).Draw(t, "n")
		at := P(unit.Length(rapid.Int64Range(-1e9, 1e9).Draw(t, "x")), unit.Length(rapid.Int64Range(-1e9, 1e9).Draw(t, "y")))
		o := make(Outline, n)
		for i := range o {
			r := rapid.Float64Range(150, 300).Draw(t, "r") * 1e6
			o[i].Point = polar(r, 2*math.Pi*float64(i)/float64(n)).plus(at.pt()).point()
			if rapid.Bool().Draw(t, "arc") {
				o[i].Bulge = rapid.Float64Range(-0.1, 0.1).Draw(t, "bulge")
			}
		}
		if !o.IsSimple() {
			t.Skip("arcs meet")
		}
		return o
	})
}

// shoelace is the area of a polygon in mm², by the usual sum.
func shoelace(ps []Point) float64 {
	sum := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		sum += (p.X-ps[0].X).MM()*(q.Y-ps[0].Y).MM() - (q.X-ps[0].X).MM()*(p.Y-ps[0].Y).MM()
	}
	return sum / 2
}

// The closed formulas against the flattened outline.
func TestAreaAgainstFlatten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := blob().Draw(t, "o")
		tol := unit.Length(rapid.Int64Range(int64(unit.Micrometre), int64(mm)).Draw(t, "tol"))
		ps := o.Flatten(tol)
		around := o.Length().MM()
		near(t, "area", shoelace(ps), mm2(o.Area()), around*tol.MM()+1e-2)
		if ps[0] != o[0].Point {
			t.Fatalf("flattened outline begins at %v, not %v", ps[0], o[0])
		}
		es := o.edges()
		for _, p := range ps {
			off := math.Inf(1)
			for _, e := range es {
				off = math.Min(off, e.distance(p.pt()))
			}
			near(t, "distance of a flattened corner (nm)", off, 0, 4)
		}
	})
}

// crossings says by counting crossings of a ray whether p is in the polygon.
func crossings(ps []Point, p Point) bool {
	in := false
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		x := a.pt().x + (p.pt().y-a.pt().y)/(b.pt().y-a.pt().y)*(b.pt().x-a.pt().x)
		if p.pt().x < x {
			in = !in
		}
	}
	return in
}

func distanceTo(o Outline, p Point) float64 {
	off := math.Inf(1)
	for _, e := range o.edges() {
		off = math.Min(off, e.distance(p.pt()))
	}
	return off
}

func TestContainsAgainstCrossings(t *testing.T) {
	fat := []Outline{ // arcs of more than half a turn, both ways
		{{P(0, 0), 2}, {P(100*mm, 0), 0}, {P(50*mm, 200*mm), 0}},
		{{P(0, 0), -1.3}, {P(100*mm, 0), 0}, {P(400*mm, 300*mm), 0}, {P(-300*mm, 300*mm), 0}},
	}
	rapid.Check(t, func(t *rapid.T) {
		o := rapid.OneOf(blob(), rapid.SampledFrom(fat)).Draw(t, "o")
		b := o.Bounds()
		for range 20 {
			p := P(unit.Length(rapid.Int64Range(int64(b.Min.X), int64(b.Max.X)).Draw(t, "px")),
				unit.Length(rapid.Int64Range(int64(b.Min.Y), int64(b.Max.Y)).Draw(t, "py")))
			if rapid.IntRange(0, 3).Draw(t, "chord") == 0 { // on the chord of an edge
				v, w := o[0].Point, o[1].Point
				p = P((v.X+w.X)/2, (v.Y+w.Y)/2)
			}
			if distanceTo(o, p) < 2e4 {
				continue // nearer than the polygon follows the outline
			}
			want := crossings(o.Flatten(10*unit.Micrometre), p)
			if o.Contains(p) != want || o.Reverse().Contains(p) != want {
				t.Fatalf("Contains(%v) = %v, reversed %v; want %v", p, o.Contains(p), o.Reverse().Contains(p), want)
			}
		}
	})
}

func TestContainsEdge(t *testing.T) {
	c := circle(P(0, 0), 50*mm)
	for _, tt := range []struct {
		p    Point
		want bool
	}{
		{P(50*mm, 0), true},
		{P(-50*mm, 0), true},
		{P(0, 50*mm), true},
		{P(0, 50*mm+5), false},
		{P(0, 0), true}, // on the chord of both halves
		{P(51*mm, 0), false},
		{P(-60*mm, 0), false},
	} {
		if got := c.Contains(tt.p); got != tt.want {
			t.Errorf("circle contains %v: %v, want %v", tt.p, got, tt.want)
		}
	}
	if Outline(nil).Contains(P(0, 0)) {
		t.Error("no outline contains a point")
	}
}

// What moving, turning and mirroring may not change, and what they undo.
func TestMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := blob().Draw(t, "o")
		w := unit.Length(rapid.Int64Range(0, 1e9).Draw(t, "w"))
		if got := o.MirrorY(w).MirrorY(w); !slices.Equal(got, o) {
			t.Fatalf("mirrored twice: %v, want %v", got, o)
		}
		if got := o.Reverse().Reverse(); !slices.Equal(got, o) {
			t.Fatalf("reversed twice: %v, want %v", got, o)
		}
		var turned Outline
		for range 4 {
			if turned == nil {
				turned = o
			}
			turned = turned.Rotate(unit.Right)
		}
		if !slices.Equal(turned, o) {
			t.Fatalf("turned four times: %v, want %v", turned, o)
		}
		a := unit.Deg(rapid.Float64Range(-360, 360).Draw(t, "a"))
		for name, p := range map[string]Outline{
			"moved": o.Translate(P(w, -w)), "mirrored": o.MirrorY(w), "turned": o.Rotate(a),
		} {
			near(t, name+": area", mm2(p.Area()), mm2(o.Area()), 1e-2)
			near(t, name+": length", p.Length().MM(), o.Length().MM(), 1e-4)
			if !p.IsSimple() {
				t.Fatalf("%s: no longer simple", name)
			}
		}
		b, c := o.Bounds(), o.MirrorY(w).Bounds()
		if c.Min.Y != w-b.Max.Y || c.Max.Y != w-b.Min.Y || c.Min.X != b.Min.X {
			t.Fatalf("bounds %v mirror to %v", b, c)
		}
	})
}

// Every point of the outline lies in its bounds, and they fit closely.
func TestBoundsAgainstFlatten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := blob().Draw(t, "o")
		b := o.Bounds()
		var poly Outline
		for _, p := range o.Flatten(unit.Micrometre) {
			poly = append(poly, Vertex{Point: p})
		}
		c := poly.Bounds()
		for _, d := range []unit.Length{c.Min.X - b.Min.X, c.Min.Y - b.Min.Y, b.Max.X - c.Max.X, b.Max.Y - c.Max.Y} {
			if d < -4 || d > unit.Micrometre+4 {
				t.Fatalf("bounds %v, of the polygon %v", b, c)
			}
		}
	})
}

func TestIsSimple(t *testing.T) {
	p := func(xy ...unit.Length) (o Outline) {
		for i := 0; i < len(xy); i += 2 {
			o = append(o, Vertex{Point: P(xy[i], xy[i+1])})
		}
		return o
	}
	tests := []struct {
		name string
		o    Outline
		want bool
	}{
		{"none", nil, false},
		{"two points", p(0, 0, 9, 0), false},
		{"triangle", p(0, 0, 9, 0, 0, 9), true},
		{"clockwise", p(0, 0, 0, 9, 9, 0), true},
		{"bow tie", p(0, 0, 9, 9, 9, 0, 0, 9), false},
		{"a corner on a side", p(0, 0, 8, 0, 8, 8, 4, 0, 0, 8), false},
		{"a corner a nanometre off a side", p(0, 0, 8, 0, 8, 8, 4, 1, 0, 8), true},
		{"spike", p(0, 0, 9, 0, 5, 0, 5, 5), false},
		{"flat triangle", p(0, 0, 9, 0, 5, 0), false},
		{"point in a straight side", p(0, 0, 5, 0, 9, 0, 0, 9), true},
		{"a corner twice", p(0, 0, 0, 0, 9, 0, 0, 9), false},
		{"far and thin", p(0, 0, 1e12, 1, 1e12, 2), true},
		{"arc through the far side", Outline{{P(0, 0), -2}, {P(100*mm, 0), 0}, {P(50*mm, 150*mm), 0}}, false},
	}
	for _, tt := range tests {
		if got := tt.o.IsSimple(); got != tt.want {
			t.Errorf("%s: IsSimple = %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Bulges that are no numbers, and outlines without form, may not panic.
func TestBadOutlines(t *testing.T) {
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 1e-300, 1e9}
	for _, b := range bad {
		for _, o := range []Outline{{{P(0, 0), b}}, {{P(0, 0), b}, {P(0, 0), b}}, {{P(0, 0), b}, {P(mm, 0), 0}, {P(0, mm), b}}} {
			o.Area()
			o.Length()
			o.Bounds()
			o.Contains(P(1, 1))
			o.IsSimple()
			o.Offset(mm)
			o.Offset(-mm)
			o.MirrorY(mm).Rotate(1)
			if _, err := o.RoundCorners(nil); err == nil {
				t.Errorf("%v: radii missing, and no refusal", o)
			}
			_, _ = o.RoundCorners(make([]unit.Length, len(o)))
			OverlapArea(Region{o}, Region{o, nil})
		}
	}
}
