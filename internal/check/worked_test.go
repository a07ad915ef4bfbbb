package check

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// ASTM F2057-23 scope 1.1: 27 in, 30 lb and 3.2 ft³, all of them.
func TestScope(t *testing.T) {
	const foot3 = unit.Volume(0.3048 * 0.3048 * 0.3048)
	for _, c := range []struct {
		high unit.Length
		lb   float64
		ft3  float64
		want bool
	}{
		{unit.In(26.9375), 60, 5, false},
		{27 * unit.Inch, 30, 3.2, true},
		{46 * unit.Inch, 29.9, 5, false},
		{46 * unit.Inch, 60, 3.19, false},
		{46 * unit.Inch, 60, 3.2000001, true},
	} {
		if got := InScope(c.high, unit.Mass(c.lb)*unit.Pound, unit.Volume(c.ft3)*foot3); got != c.want {
			t.Errorf("%v, %v lb, %v ft³: in scope %v", c.high, c.lb, c.ft3, got)
		}
	}
}

// Three drawers of 30 × 16 in, 8-1/8 in to what obstructs them, count for
// 6.667 ft³; a cupboard of 36 × 24 × 20 in for 5 ft³ (regulator's guidance, as
// quoted elsewhere).
func TestClothingVolume(t *testing.T) {
	const foot3 = 0.3048 * 0.3048 * 0.3048
	obstructed := unit.In(8.125) + unit.Inch // an inch is taken for what obstructs
	near(t, "drawers", 3*float64(build.DrawerVolume(30*unit.Inch, 16*unit.Inch, obstructed))/foot3, 6.667, 0.0001)
	near(t, "cupboard", float64(ClosedVolume(36*unit.Inch, 24*unit.Inch, 20*unit.Inch))/foot3, 5, 1e-9)
}

// One person's load: 23 kg is 51 lb (NIOSH load constant, from memory).
func TestLiftAlone(t *testing.T) {
	if lb := math.Round(float64(liftAlone / unit.Pound)); lb != 51 {
		t.Errorf("%v kg is %v lb, want 51", float64(liftAlone), lb)
	}
}

// 600 × 450 with diagonals of 751 and 749 is racked by 1.25 mm; square they
// are 750 (geometry). Rack and RackOf undo each other.
func TestRack(t *testing.T) {
	if got := RackOf(unit.MM(751), unit.MM(749), unit.MM(600)); got != unit.MM(1.25) {
		t.Errorf("racked by %v, want 1.25 mm", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := unit.Length(rapid.IntRange(200, 2000).Draw(t, "w")) * unit.Millimetre
		h := unit.Length(rapid.IntRange(200, 2000).Draw(t, "h")) * unit.Millimetre
		x := unit.MM(rapid.Float64Range(0, 20).Draw(t, "x"))
		d1, d2 := math.Hypot((w+x).MM(), h.MM()), math.Hypot((w-x).MM(), h.MM())
		if got := RackOf(unit.MM(d1), unit.MM(d2), w); (got - x).Abs() > unit.Millimetre/1000 {
			t.Errorf("racked by %v, found %v", x, got)
		}
		if got := Rack(w, h, x); (got - unit.MM(d1-d2)).Abs() > unit.Millimetre/1000 {
			t.Errorf("diagonals differ by %v, want %v", got, d1-d2)
		}
	})
}

// A piece of 60 kg with 90 kg in it puts 50 kg on each of three casters
// (common practice).
func TestCasterLoad(t *testing.T) {
	p := build.Part{Material: "a", Count: 1, Thickness: build.Dim{Size: unit.Metre / 10}}
	in := Input{
		Piece: piece.Piece{Base: &piece.Base{Kind: "casters", Hardware: "c"}, Use: piece.Use{LoadKg: 90}},
		Shop:  shop.Shop{Panels: map[string]shop.Panel{"a": {Density: 600}}, Hardware: map[string]shop.Hardware{"c": {RatedKg: 49}}},
	}
	p.Outline = geom.Rect(unit.Metre, unit.Metre)
	in.Model.Parts = []build.Part{p}
	f := casters(in)
	if len(f) != 1 || f[0].Figure != "50 kg" || f[0].Level != finding.Stop {
		t.Errorf("found %+v, want a stop at 50 kg", f)
	}
}

// Splay and rake of 10° lean by 14.002°; 8° and 8° make a leg of 150 mm rise
// 152.93 long with its foot 21.08 out each way (geometry).
func TestSplay(t *testing.T) {
	near(t, "lean", build.Lean(unit.Deg(10), unit.Deg(10)).Deg(), 14.002, 0.0001)
	p, s := open(t, "record-cabinet")
	p.Base.Height = 150 * unit.Millimetre
	h := s.Hardware["leg-plate"]
	h.Thickness = 0
	s.Hardware["leg-plate"] = h
	in, err := inputOf(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range in.Model.Parts {
		if part.Role != build.RoleLeg {
			continue
		}
		near(t, "leg", part.Length.Size.MM(), 152.93, 0.0001)
		f := part.Places[0].Frame
		d := f.At(part.Length.Size, 0, 0).Sub(f.Origin)
		near(t, "foot to the side", math.Abs(d.X.MM()), 21.08, 0.0003)
		near(t, "foot to the front", math.Abs(d.Y.MM()), 21.08, 0.0003)
	}
}

// Where a home is given, its air says what moves: 21 °C, 30 to 60 % is 6.2 to
// 11.0 % MC (FPL-GTR-190 table 4-2 at 70 °F).
func TestHomeMoistures(t *testing.T) {
	h := &piece.Home{Temperature: 21.1, Dry: 30, Damp: 60}
	if dry, damp := h.Moistures(); dry != 6.2 || damp != 11 {
		t.Errorf("%v to %v %%, want 6.2 to 11", dry, damp)
	}
	var none *piece.Home
	if dry, damp := none.Moistures(); dry != 6 || damp != 11 {
		t.Errorf("%v to %v %% without a home, want 6 to 11", dry, damp)
	}
}

// A lead hole is 90 % of the root in hardwood (FPL-GTR-190 ch. 8); a head of
// twice the shank at 90° sinks half the shank and 0.5 mm under (geometry).
func TestSink(t *testing.T) {
	near(t, "4 mm", Sink(4*unit.Millimetre, unit.Metric).MM(), 2.5, 1e-9)
	near(t, "no. 8", Sink(wood.GaugeDiameter(8), unit.Imperial).MM(), 4.1656/2/math.Tan(41*math.Pi/180)+0.5, 1e-4)
}

// Hinges as hinge sheets have them: 2 to 40 in, 3 to 60, 4 to 80, 5 to 100, or
// one more for each 7 kg.
func TestHinges(t *testing.T) {
	for _, c := range []struct {
		in   float64
		kg   float64
		want int
	}{{20, 2, 2}, {40, 2, 2}, {40.1, 2, 3}, {60, 2, 3}, {80, 7, 4}, {100, 7, 5}, {20, 7, 2}, {20, 7.1, 3}, {20, 14.1, 4}} {
		if got := hingesFor(unit.In(c.in), c.kg); got != c.want {
			t.Errorf("%v in, %v kg: %d hinges, want %d", c.in, c.kg, got, c.want)
		}
	}
}

// Turn against trying: a box of the given width fits at every angle of the
// turn, one a little wider sticks at some. The corner of two equal passages of
// width a takes a box of length l up to a√2 − l/2 wide (geometry).
func TestTurn(t *testing.T) {
	near(t, "1 m passages, 1.6 m", Turn(unit.Metre, unit.Metre, unit.MM(1600)).MM(), 1000*math.Sqrt2-800, 1e-4)
	if got := Turn(unit.Metre, unit.MM(800), unit.MM(100)); got > unit.MM(800) {
		t.Errorf("a short box may be %v wide in a passage of 800 mm", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(600, 1500).Draw(t, "a")
		b := rapid.Float64Range(600, 1500).Draw(t, "b")
		l := rapid.Float64Range(300, 2500).Draw(t, "l")
		w := Turn(unit.MM(a), unit.MM(b), unit.MM(l)).MM()
		if w > 2 && sticks(a, b, l, w-2) {
			t.Errorf("%.0f × %.1f sticks between %.0f and %.0f", l, w-2, a, b)
		}
		if w+2 > 0 && !sticks(a, b, l, w+2) {
			t.Errorf("%.0f × %.1f passes between %.0f and %.0f", l, w+2, a, b)
		}
	})
}

// sticks slides the long side of a box along both outer walls, which are the
// axes, and looks whether the inner corner, at (a, b), comes into it.
func sticks(a, b, l, w float64) bool {
	if w > a || w > b {
		return true
	}
	for i := 1; i < 3000; i++ {
		t := float64(i) / 3000 * math.Pi / 2
		px, py := l*math.Cos(t), 0.0 // end on the floor axis
		qx, qy := 0.0, l*math.Sin(t) // end on the wall axis
		nx, ny := (qy-py)/l, -(qx-px)/l
		s := (a-px)*(qx-px)/l + (b-py)*(qy-py)/l
		deep := (a-px)*nx + (b-py)*ny
		if deep > 0 && deep < w && s > 0 && s < l || deep <= 0 {
			return true
		}
	}
	return false
}

// Doors let a box through whichever way round it goes.
func TestPasses(t *testing.T) {
	box := [3]unit.Length{unit.MM(1500), unit.MM(446), unit.MM(410)}
	if s, _ := passes(box, unit.MM(430), unit.MM(2000)); s != 0 {
		t.Errorf("410 mm does not pass 430: short by %v", s)
	}
	if s, l := passes(box, unit.MM(400), unit.MM(2000)); s != unit.MM(30) || l != unit.MM(400) {
		t.Errorf("short by %v of %v, want 30 of 400 mm", s, l)
	}
	if s, l := passes(box, unit.MM(900), unit.MM(440)); s != 0 {
		t.Errorf("short by %v of %v", s, l)
	}
}

// Design rules allow no pull on screws in end grain, and the check says so with
// its source: pocket screws from a stile into the end of a rail.
func TestScrewsInEndGrain(t *testing.T) {
	p, s := open(t, "record-cabinet")
	in, err := inputOf(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	letter := map[string]string{}
	for _, q := range in.Model.Parts {
		letter[q.Name] = q.Letter
	}
	j := build.Joint{Kind: "pocket screw", A: letter["outer stile"], B: letter["top rail"], With: "2 screws"}
	for _, r := range sheet(t, "fasteners") {
		f, ok := endGrain(in, j)
		if allowed := num(t, r["value"]) != 0; ok == allowed || !strings.Contains(f.Source, "NDS 2018 12.2.2") {
			t.Errorf("%s: allowed %v, found %+v", r["source"], allowed, f)
		}
	}
}

// Only what a piece has is taken out of it before it is lifted.
func TestWhatIsTakenOutBeforeLifting(t *testing.T) {
	for fills, want := range map[string]string{
		"": "Two people, or a cart.", "drawer": "Two people, or take the drawers out first.", "door": "Two people, or take the doors off first.",
		"drawer door": "Two people, or take drawers and doors out first.",
	} {
		var in Input
		for _, f := range strings.Fields(fills) {
			in.Model.Openings = append(in.Model.Openings, build.Opening{Fill: f})
		}
		if got := lightened(in); got != want {
			t.Errorf("%q: %q", fills, got)
		}
	}
}

// Two are both, and one of several does not come.
func TestHowManyInWords(t *testing.T) {
	drawer, door := pulled{out: 1}, pulled{}
	for want, open := range map[string][]pulled{
		"both drawers": {drawer, drawer}, "all 3 drawers": {drawer, drawer, drawer}, "both doors": {door, door}, "drawer and door both": {door, drawer},
		"all 3 drawers and doors": {drawer, door, door},
	} {
		if got := opens(open); got != want {
			t.Errorf("%q, %q is wanted", got, want)
		}
	}
	for want, n := range map[string][2]int{"it does not come": {1, 1}, "one of 4 does not come": {1, 4}, "2 of 4 do not come": {2, 4}, "none of 4 come": {4, 4}} {
		if got := comesNot(n[0], n[1]); got != want {
			t.Errorf("%q, %q is wanted", got, want)
		}
	}
}
