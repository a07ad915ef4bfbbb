package opening

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

func near(t interface{ Errorf(string, ...any) }, what string, got, want unit.Length, tol float64) {
	if math.Abs((got - want).MM()) > tol {
		t.Errorf("%s is %v, want %v within %v mm", what, got, want, tol)
	}
}

// Arithmetic: 600 × 450 with diagonals 751 and 749 leans
// (751 − 749)(751 + 749)/(4 × 600) = 1.25; the true diagonal is 750.
func TestRack(t *testing.T) {
	near(t, "rack", Rack(751*mm, 749*mm, 600*mm), unit.MM(1.25), 0)
	m := Measures{Widths: [3]unit.Length{600 * mm, 600 * mm, 600 * mm}, Heights: [3]unit.Length{450 * mm, 450 * mm, 450 * mm}, Diagonals: [2]unit.Length{751 * mm, 749 * mm}}
	s, d := Fit(m)
	if d != nil {
		t.Fatal(d.Says(unit.Length.String))
	}
	near(t, "lean", s.Lean(), -unit.MM(1.25), 0.003) // the top stands to the left
	m.Diagonals = [2]unit.Length{750 * mm, 750 * mm}
	if s, d = Fit(m); d != nil || !s.Squared || s.Lean() != 0 {
		t.Errorf("diagonals of 750 leave it square: %+v", s)
	}
}

// trueQuad is an opening of known corners, nearly a rectangle, in
// millimetres: top left, top right, bottom right, bottom left.
type trueQuad struct {
	c [4]xy
	r [4]float64
}

func drawQuad(t *rapid.T) trueQuad {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	w, h := f(120, 1200, "w"), f(80, 900, "h")
	d := func() float64 { return f(-3, 3, "d") }
	q := trueQuad{c: [4]xy{{d(), h + d()}, {w + d(), h + d()}, {w, 0}, {0, 0}}}
	for i := range q.r {
		if rapid.Bool().Draw(t, "round") {
			q.r[i] = f(0.5, math.Min(w, h)*0.4, "r")
		}
	}
	return q
}

// offsetCentre is the centre of a corner's curve by another way than the
// package's: where the two sides, each moved in by the radius, cross.
func offsetCentre(c [4]xy, i int, r float64) xy {
	p, q, n := c[(i+3)%4], c[i], c[(i+1)%4]              // clockwise round the figure
	shift := func(a, b xy) (float64, float64, float64) { // a·x + b·y = c, inside at +
		dx, dy := b.x-a.x, b.y-a.y
		l := math.Hypot(dx, dy)
		nx, ny := dy/l, -dx/l
		return nx, ny, nx*a.x + ny*a.y + r
	}
	a1, b1, c1 := shift(p, q)
	a2, b2, c2 := shift(q, n)
	det := a1*b2 - a2*b1
	return xy{(c1*b2 - c2*b1) / det, (a1*c2 - a2*c1) / det}
}

// measureQuad measures it as a maker would, exactly.
func measureQuad(c [4]xy, r [4]float64, w, h float64) [8]float64 {
	lerp := func(a, b xy, s float64) xy { return xy{a.x*(1-s) + b.x*s, a.y*(1-s) + b.y*s} }
	dist := func(a, b xy) float64 { return math.Sqrt((a.x-b.x)*(a.x-b.x) + (a.y-b.y)*(a.y-b.y)) }
	at := func(a, b int, of float64) float64 { return math.Min(math.Max(r[a], r[b])/of, 0.45) }
	var out [8]float64
	for i, s := range []float64{at(0, 1, h), 0.5, 1 - at(3, 2, h)} {
		out[i] = dist(lerp(c[0], c[3], s), lerp(c[1], c[2], s))
	}
	for i, s := range []float64{at(0, 3, w), 0.5, 1 - at(1, 2, w)} {
		out[3+i] = dist(lerp(c[0], c[1], s), lerp(c[3], c[2], s))
	}
	for i, k := range [][2]int{{0, 2}, {1, 3}} {
		out[6+i] = dist(offsetCentre(c, k[0], r[k[0]]), offsetCentre(c, k[1], r[k[1]])) + r[k[0]] + r[k[1]]
	}
	return out
}

func (q trueQuad) measure() ([8]float64, Measures) {
	// Where widths and heights are taken depends on the middle ones, which do
	// not depend on it.
	first := measureQuad(q.c, q.r, 1e9, 1e9)
	v := measureQuad(q.c, q.r, first[1], first[4])
	return v, measuresOf(v, q.r)
}

func measuresOf(v [8]float64, r [4]float64) Measures {
	var m Measures
	for i := range 3 {
		m.Widths[i], m.Heights[i] = unit.MM(v[i]), unit.MM(v[3+i])
	}
	m.Diagonals = [2]unit.Length{unit.MM(v[6]), unit.MM(v[7])}
	for i := range r {
		m.Corners[i] = unit.MM(r[i])
	}
	return m
}

// What was measured without error gives the opening back.
func TestFindsTheTrueFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		_, m := q.measure()
		s, d := Fit(m)
		if d != nil {
			t.Fatalf("doubts %s", d.Says(unit.Length.String))
		}
		if s.Squared {
			return
		}
		for i, c := range q.c {
			near(t, "x", s.Corner[i].X, unit.MM(c.x), 0.003)
			near(t, "y", s.Corner[i].Y, unit.MM(c.y), 0.003)
		}
	})
}

// Brute force: a simplex search (Nelder and Mead) on the same sum of squares,
// written without the package's code, finds no better figure, and the same
// one.
func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		v, _ := q.measure()
		for i := range v {
			v[i] += rapid.Float64Range(-0.4, 0.4).Draw(t, "error")
		}
		m := measuresOf(v, q.r)
		s, d := Fit(m)
		if d != nil || s.Squared || s.Bare {
			t.Skip("no plain figure")
		}
		cost := func(p []float64) float64 {
			f := measureQuad([4]xy{{p[1], p[2]}, {p[3], p[4]}, {p[0], 0}, {0, 0}}, q.r, v[1], v[4])
			sum := 0.0
			for i := range f {
				sum += (f[i] - v[i]) * (f[i] - v[i])
			}
			return sum
		}
		best := simplex(cost, []float64{v[1], 0, v[4], v[1], v[4]})
		c := s.Corner
		mine := []float64{c[BottomRight].X.MM(), c[TopLeft].X.MM(), c[TopLeft].Y.MM(), c[TopRight].X.MM(), c[TopRight].Y.MM()}
		if cost(mine) > cost(best)+1e-4 {
			t.Fatalf("sum of squares %v, brute force finds %v", cost(mine), cost(best))
		}
		for i := range mine {
			if math.Abs(mine[i]-best[i]) > 0.01 {
				t.Fatalf("unknown %d is %v, brute force finds %v", i, mine[i], best[i])
			}
		}
	})
}

// simplex minimises f by the method of Nelder and Mead with restarts.
func simplex(f func([]float64) float64, start []float64) []float64 {
	n := len(start)
	best := start
	for restart, size := 0, 4.0; restart < 12; restart, size = restart+1, size/3 {
		pts := [][]float64{append([]float64(nil), best...)}
		for i := range n {
			p := append([]float64(nil), best...)
			p[i] += size
			pts = append(pts, p)
		}
		val := make([]float64, n+1)
		for i := range pts {
			val[i] = f(pts[i])
		}
		for range 400 {
			lo, hi, next := 0, 0, 0
			for i := range pts {
				if val[i] < val[lo] {
					lo = i
				}
				if val[i] > val[hi] {
					hi = i
				}
			}
			for i := range pts {
				if i != hi && (next == hi || val[i] > val[next]) {
					next = i
				}
			}
			mid := make([]float64, n)
			for i, p := range pts {
				for k := range p {
					if i != hi {
						mid[k] += p[k] / float64(n)
					}
				}
			}
			along := func(s float64) ([]float64, float64) {
				p := make([]float64, n)
				for k := range p {
					p[k] = mid[k] + s*(pts[hi][k]-mid[k])
				}
				return p, f(p)
			}
			p, v := along(-1)
			switch {
			case v < val[lo]:
				if q, w := along(-2); w < v {
					p, v = q, w
				}
				pts[hi], val[hi] = p, v
			case v < val[next]:
				pts[hi], val[hi] = p, v
			default:
				if q, w := along(0.5); w < val[hi] {
					pts[hi], val[hi] = q, w
					continue
				}
				for i := range pts {
					for k := range pts[i] {
						pts[i][k] = (pts[i][k] + pts[lo][k]) / 2
					}
					val[i] = f(pts[i])
				}
			}
		}
		for i := range pts {
			if val[i] < f(best) {
				best = pts[i]
			}
		}
	}
	return best
}

// The front lies inside the opening, and no point of it is nearer to the
// opening than the gap. Distances are to the opening flattened to chords of a
// micrometre, by schoolbook geometry.
func TestFrontKeepsItsGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		v, _ := q.measure()
		for i := range v {
			v[i] += rapid.Float64Range(-0.3, 0.3).Draw(t, "error")
		}
		s, d := Fit(measuresOf(v, q.r))
		if d != nil {
			t.Skip("doubted")
		}
		gap := unit.MM(rapid.Float64Range(0.5, 5).Draw(t, "gap"))
		front, ok := s.Front(gap)
		if !ok {
			t.Fatalf("no front with a gap of %v in %+v", gap, s.Corner)
		}
		around := s.Outline()
		edge := around.Flatten(unit.Micrometre)
		for _, p := range front.Flatten(20 * unit.Micrometre) {
			if !around.Contains(p) {
				t.Fatalf("%v lies outside", p)
			}
			if got := toPolygon(p, edge); got < gap.MM()-0.003 {
				t.Fatalf("%v is %v mm from the opening, the gap is %v", p, got, gap)
			}
		}
		// And it is not needlessly small: without a belly every side touches.
		w, h := s.Belly()
		touch := toPolygon(front[0].Point, edge)
		if slack := gap.MM() + math.Max(w.MM(), h.MM()) + math.Max(0, gap.MM()-s.Radius[BottomLeft].MM())*0.45 + 0.05; s.Radius[BottomLeft] >= gap && touch > slack {
			t.Fatalf("a corner of the front is %v from the opening, gap %v", touch, gap)
		}
	})
}

func toPolygon(p geom.Point, edge []geom.Point) float64 {
	best := math.Inf(1)
	px, py := p.X.MM(), p.Y.MM()
	for i := range edge {
		a, b := edge[i], edge[(i+1)%len(edge)]
		ax, ay, bx, by := a.X.MM(), a.Y.MM(), b.X.MM(), b.Y.MM()
		l2 := (bx-ax)*(bx-ax) + (by-ay)*(by-ay)
		s := 0.0
		if l2 > 0 {
			s = math.Min(1, math.Max(0, ((px-ax)*(bx-ax)+(py-ay)*(by-ay))/l2))
		}
		best = math.Min(best, math.Hypot(px-ax-s*(bx-ax), py-ay-s*(by-ay)))
	}
	return best
}

// A true rectangle gives the planned front to the nanometre.
func TestTrueRectangle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := func(lo, hi float64, name string) unit.Length {
			return unit.MM(rapid.Float64Range(lo, hi).Draw(t, name))
		}
		w, h, r, gap := l(100, 900, "w"), l(100, 900, "h"), l(0, 45, "r"), l(0.5, 4, "gap")
		m := Measures{Widths: [3]unit.Length{w, w, w}, Heights: [3]unit.Length{h, h, h}, Corners: [4]unit.Length{r, 0, r, 0}}
		s, d := Fit(m)
		if d != nil || !s.Squared {
			t.Fatal("not taken as a rectangle")
		}
		if rapid.Bool().Draw(t, "diagonals") { // read to a tenth
			m.Diagonals = [2]unit.Length{s.Fitted[DiagonalTopLeft].Round(mm / 10), s.Fitted[DiagonalTopRight].Round(mm / 10)}
			if s, d = Fit(m); d != nil || !s.Squared {
				t.Fatalf("diagonals of the rectangle, read to a tenth, spoil it: %+v", s.Off)
			}
		}
		front, ok := s.Front(gap)
		want, err := geom.Rect(w-2*gap, h-2*gap).RoundCorners([]unit.Length{0, max(0, r-gap), 0, max(0, r-gap)})
		if err != nil || !ok {
			t.Skip("no room")
		}
		got, exp := front.Bounds(), want.Translate(geom.P(gap, gap)).Bounds()
		if (got.Width()-exp.Width()).Abs() > 2 || (got.Height()-exp.Height()).Abs() > 2 {
			t.Fatalf("front %v × %v, want %v × %v", got.Width(), got.Height(), exp.Width(), exp.Height())
		}
	})
}

// A worked example, by hand: an opening 300 wide at the bottom whose left
// side leans out by 3 over 400 and whose top rises by 2, corners of 0, 20, 40
// and 60 from top left. Its corners: (−3, 400), (300, 402), (300, 0), (0, 0).
func TestFourCornersThatDiffer(t *testing.T) {
	q := trueQuad{c: [4]xy{{-3, 400}, {300, 402}, {300, 0}, {0, 0}}, r: [4]float64{0, 20, 40, 60}}
	_, m := q.measure()
	s, d := Fit(m)
	if d != nil {
		t.Fatal(d.Says(unit.Length.String))
	}
	taper, slope := s.Parallel()
	near(t, "wider at the top", taper, unit.MM(math.Hypot(303, 2)-300), 0.005)
	near(t, "higher at the right", slope, unit.MM(402-math.Hypot(400, 3)), 0.005)
	near(t, "lean", s.Lean(), -unit.MM(1.5), 0.005)
	near(t, "width half way up", s.WidthAt(200*mm), unit.MM(301.5), 0.005)
	if got, want := s.FrontRadius(2*mm), [4]unit.Length{0, 18 * mm, 38 * mm, 58 * mm}; got != want {
		t.Errorf("corners of the front %v, want %v", got, want)
	}
	front, ok := s.Front(2 * mm)
	if !ok {
		t.Fatal("no front")
	}
	// Lower edge: from 58 beyond the left edge's line to 38 before the right
	// one. Right edge at x = 298, lower edge at y = 2.
	b := front.Bounds()
	near(t, "right edge", b.Max.X, 298*mm, 0.005)
	near(t, "lower edge", b.Min.Y, 2*mm, 0.005)
	// The sharp top left corner: 2 inside both lines. Left line: x = −3y/400,
	// so x = −3y/400 + 2·√(1 + (3/400)²); top line: y = 400 + 2(x + 3)/303 −
	// 2·√(1 + (2/303)²).
	x, y := -1.0, 398.0
	for range 20 {
		x = -3*y/400 + 2*math.Hypot(1, 3.0/400)
		y = 400 + 2*(x+3)/303 - 2*math.Hypot(1, 2.0/303)
	}
	best := math.Inf(1)
	for _, v := range front {
		best = math.Min(best, math.Hypot(v.X.MM()-x, v.Y.MM()-y))
	}
	if best > 0.005 {
		t.Errorf("no corner of the front is at (%.3f, %.3f); the nearest is %.3f off", x, y, best)
	}
}

// One measure misread by more than a little is named.
func TestNamesTheMeasureThatIsWrong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawQuad(t)
		v, _ := q.measure()
		which := rapid.IntRange(0, 7).Draw(t, "which")
		by := rapid.Float64Range(12, 60).Draw(t, "by")
		if rapid.Bool().Draw(t, "short") && by < v[which]/8 { // shorter still, and round corners would have no room
			by = -by
		}
		v[which] += by
		m := measuresOf(v, q.r)
		s, d := Fit(m)
		if d == nil && s.Bare {
			t.Skip("as long as it is to where the sides would meet")
		}
		if d == nil {
			t.Fatalf("the %s is %v mm wrong and nothing is said", Names[which], by)
		}
		if d.Measure != which {
			t.Fatalf("the %s is %v mm wrong, named is: %s", Names[which], by, d.Says(unit.Length.String))
		}
		near(t, "what the others ask for", d.Asks, unit.MM(v[which]-by), 0.5)
		if says := d.Says(unit.Length.String) + d.Advice(); !strings.Contains(says, Names[which]) {
			t.Errorf("%q does not name it", says)
		}
	})
}

// Diagonals that cannot be.
func TestDoubts(t *testing.T) {
	m := func(d1, d2 float64) Measures {
		return Measures{
			Widths: [3]unit.Length{600 * mm, 600 * mm, 600 * mm}, Heights: [3]unit.Length{450 * mm, 450 * mm, 450 * mm},
			Diagonals: [2]unit.Length{unit.MM(d1), unit.MM(d2)},
		}
	}
	for _, c := range []struct {
		d1, d2 float64
		says   string // "" for no doubt
	}{
		{750, 750, ""},
		{750.4, 749.6, ""},
		{770, 750, "The diagonal from top left reads 770 mm; with the other measures it would be about 750 mm. It looks wrong by 20 mm."},
		{750, 200, "The diagonal from top right reads 200 mm; with the other measures it would be about 750 mm. It looks wrong by 550 mm."},
		{770, 771, "The diagonals do not go with widths and heights: their mean reads 770.5 mm, and 750 mm would fit."},
		{5000, 5000, "The diagonals do not go with widths and heights: their mean reads 5000 mm, and 750 mm would fit."},
	} {
		_, d := Fit(m(c.d1, c.d2))
		got := ""
		if d != nil {
			got = d.Says(func(l unit.Length) string { return l.Format(unit.TenthMM) })
		}
		if got != c.says {
			t.Errorf("diagonals %v and %v: %q, want %q", c.d1, c.d2, got, c.says)
		}
	}
	belly := m(750, 750)
	belly.Widths[1] = 596 * mm
	if _, d := Fit(belly); d == nil || d.Says(unit.Length.String) != "The width in the middle reads 596 mm, the others ask for 600 mm: either the sides belly in by 4 mm in all, or it was misread." {
		t.Errorf("belly: %+v", d)
	}
	// A belly of a millimetre is no doubt, and the front passes it.
	belly.Widths[1] = 599 * mm
	s, d := Fit(belly)
	if d != nil {
		t.Fatal(d.Says(unit.Length.String))
	}
	if w, _ := s.Belly(); w < unit.MM(0.4) || w > mm {
		t.Errorf("belly of %v, measured is 1 mm in the middle of three", w)
	}
	front, _ := s.Front(2 * mm)
	if b := front.Bounds(); b.Width() > 595*mm+unit.MM(0.01) {
		t.Errorf("front %v wide does not pass 599 with gaps of 2", b.Width())
	}
}

// Diagonals to where the sides would meet are understood as such.
func TestDiagonalsPastRoundCorners(t *testing.T) {
	m := Measures{
		Widths: [3]unit.Length{464 * mm, 464 * mm, 464 * mm}, Heights: [3]unit.Length{165 * mm, 165 * mm, 165 * mm},
		Diagonals: [2]unit.Length{unit.MM(492.5), unit.MM(492.5)}, Corners: [4]unit.Length{0, 0, 0, 50 * mm},
	}
	if s, d := Fit(m); d != nil || !s.Bare || !s.Squared {
		t.Errorf("%v %+v", d, s)
	}
}

func FuzzFit(f *testing.F) {
	f.Add(int64(600e6), int64(600e6), int64(600e6), int64(450e6), int64(450e6), int64(450e6), int64(751e6), int64(749e6), int64(0), int64(20e6), int64(5e6), int64(1e9), int64(2e6))
	f.Add(int64(1e6), int64(20e9), int64(1e6), int64(20e9), int64(1e6), int64(20e9), int64(1), int64(1), int64(1e12), int64(-1), int64(0), int64(0), int64(0))
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i, j, k, l, m, gap int64) {
		u := func(v int64) unit.Length { return unit.Length(v) }
		in := Measures{
			Widths: [3]unit.Length{u(a), u(b), u(c)}, Heights: [3]unit.Length{u(d), u(e), u(g)},
			Diagonals: [2]unit.Length{u(h), u(i)}, Corners: [4]unit.Length{u(j), u(k), u(l), u(m)},
		}
		s, doubt := Fit(in)
		if !in.Valid() && (!s.Empty() || doubt != nil) {
			t.Fatalf("%+v is no opening, got %+v", in, s)
		}
		if doubt != nil && (doubt.Says(unit.Length.String) == "" || doubt.Advice() == "") {
			t.Fatal("a doubt without words")
		}
		if front, ok := s.Front(u(gap % 1e9)); ok && (front.Area() <= 0 || !front.IsSimple()) {
			t.Fatalf("front %v of %+v", front, in)
		}
		s.WidthAt(u(gap))
		s.Belly()
	})
}
