package route_test

import (
	"math"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/route"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

const psi = 0.006894757293168 // MPa, by definition of pound and inch

// TestClamps: 48 × 1 in at 150 psi is 7200 lbf, 8 clamps of 1000 lbf (derived);
// 1.0 MPa over 600 × 20 mm is 12 kN (derived). Spacing is twice the way to the
// glue line, pressure spreading at 45 degrees (common practice, no source).
func TestClamps(t *testing.T) {
	total, n := route.Clamps(150*psi, unit.AreaOf(unit.In(48), unit.In(1)), 1000*unit.PoundForce)
	near(t, "force in lbf", float64(total/unit.PoundForce), 7200, 1e-6)
	if n != 8 {
		t.Errorf("%d clamps, want 8", n)
	}
	total, n = route.Clamps(1, unit.AreaOf(unit.MM(600), unit.MM(20)), 4000)
	near(t, "force in N", float64(total), 12000, 1e-6)
	if n != 3 {
		t.Errorf("%d clamps for 12 kN at 4 kN, want 3", n)
	}
	if got := route.Spacing(unit.MM(75)); got != unit.MM(150) {
		t.Errorf("spacing is %s", got)
	}
}

// TestPressure: softwood 100 psi, hardwood 175 psi, the low ends of adhesive
// makers' advice as quoted in several pages; advice only.
func TestPressure(t *testing.T) {
	s := shop.Shop{Woods: map[string]shop.Wood{"oak": {Species: "white-oak"}, "poplar": {Species: "yellow-poplar"}}}
	for key, want := range map[string]float64{"oak": 175, "poplar": 100} {
		got, source := route.Pressure(build.Part{Solid: true, Material: key}, s)
		near(t, key+" in psi", float64(got)/psi, want, 1)
		if source == "" {
			t.Error(key, "has no source")
		}
	}
}

// TestCoverage: 1604 ft² from a US gallon at 1 mil, so 401.04 at 4 mils; 10 m²
// from a litre at 100 µm (derived from the units).
func TestCoverage(t *testing.T) {
	const perGallon = 0.09290304 / 3.785411784 // ft² per US gallon in m² per litre, exact units
	near(t, "ft² per gallon at 4 mils", route.Coverage(unit.In(0.004))/perGallon, 401.04, 0.01)
	near(t, "m² per litre at 100 µm", route.Coverage(100*unit.Micrometre), 10, 1e-9)
	near(t, "400 ft² per gallon", 400*perGallon, 9.817, 0.001)
	// Oil-based stain on smooth wood 200 to 400 ft² to the gallon, on rough 100
	// to 200: 4.9 to 9.8 and 2.4 to 4.9 m² to the litre (FPL-GTR-190 p. 16-19).
	for ft2, want := range map[float64]float64{400: 9.8, 200: 4.9, 100: 2.4} {
		near(t, "stain, m² per litre", ft2*perGallon, want, 0.06)
	}
}

// TestRack: 600 × 450, diagonals 751 and 749: out of square by 1.25 mm; the
// true diagonal is 750 (derived).
func TestRack(t *testing.T) {
	if d := route.Diagonal(unit.MM(600), unit.MM(450)); d != unit.MM(750) {
		t.Errorf("diagonal is %s", d)
	}
	got := route.Rack(unit.MM(751), unit.MM(749), unit.MM(600))
	if got != unit.MM(1.25) {
		t.Errorf("rack is %s", got)
	}
	// The limit on the card is the rack turned round: racking a rectangle by
	// so much changes its diagonals by as much as the limit says.
	for _, rack := range []float64{0.5, 1, 1.25, 3} {
		d1, d2 := math.Hypot(600+rack, 450), math.Hypot(600-rack, 450)
		limit := route.DiagonalLimit(unit.MM(600), unit.MM(450), unit.MM(rack))
		near(t, "limit", limit.MM(), d1-d2, 0.002)
	}
}

// TestTables: the embedded tables have no doubles, and each row says
// where it is from.
func TestTables(t *testing.T) {
	if n := len(route.Ops()); n != 19 {
		t.Errorf("%d operations", n)
	}
	for _, op := range route.Ops() {
		if r := route.RateOf(op, shop.Shop{}); r.Source == "" || r.Unit == "" || r.Name == "" {
			t.Errorf("%+v", r)
		}
	}
	own := route.RateOf(route.Sand, shop.Shop{Times: map[string]shop.Time{"sand": {Setup: 1, Run: 2}}})
	if own.Setup != 1 || own.Run != 2 || own.Source != "the shop's own times" {
		t.Errorf("%+v", own)
	}
}

// TestGrits: at most one grade is skipped, the last is reached, end grain one
// finer (common practice, no source).
func TestGrits(t *testing.T) {
	sold := []int{80, 100, 120, 150, 180, 220, 240, 320}
	for i, first := range sold {
		for _, last := range sold[i:] {
			got := route.Grits(first, last)
			if got[0] != first || got[len(got)-1] != last {
				t.Errorf("%d to %d: %v", first, last, got)
			}
			for k := 1; k < len(got); k++ {
				a, b := index(sold, got[k-1]), index(sold, got[k])
				if b-a < 1 || b-a > 2 {
					t.Errorf("%d to %d: %v", first, last, got)
				}
			}
		}
	}
}

func index(list []int, v int) int {
	for i, x := range list {
		if x == v {
			return i
		}
	}
	return -1
}

// TestCautionsHaveSources: every caution says something and where it is from.
func TestCautionsHaveSources(t *testing.T) {
	for _, w := range route.Works() {
		if len(route.Cautions(w)) == 0 {
			t.Errorf("%s has no caution", w)
		}
		for _, c := range route.Cautions(w) {
			if c.Says == "" || c.Source == "" {
				t.Errorf("%s: %+v", w, c)
			}
		}
	}
}

// TestFiguresInCautions: the figures of the HSE's woodworking sheet 16 (push
// stick of 450 mm for the last 300 mm, knife within 8 mm, smallest blade 60 %,
// stop in 10 s), the lifting limits of NIOSH (23 kg, 51 lb; from memory) and
// the dust limits of US and UK.
func TestFiguresInCautions(t *testing.T) {
	for w, figures := range map[route.Work][]string{
		route.TableSaw: {"450 mm", "300 mm", "within 8 mm", "60 %", "10 s"}, route.Lifting: {"23 kg (51 lb)", "25 kg", "16 kg"},
		route.Sanding: {"1 to 5 mg/m³"}, route.Milling: {"305 mm (12 in)", "3 mm (1/8 in)"},
	} {
		all := ""
		for _, c := range route.Cautions(w) {
			all += c.Says + "\n"
		}
		for _, f := range figures {
			if !strings.Contains(all, f) {
				t.Errorf("%s: no word of %s", w, f)
			}
		}
	}
}

// TestGluesAndFinishes: the low figures are planned with, and a label of the
// shop takes their place.
func TestGluesAndFinishes(t *testing.T) {
	c, ok := route.ClassOf("shellac", shop.Shop{})
	if !ok || c.Recoat != 2 || c.Coverage != 8 || c.Oily {
		t.Errorf("%+v", c)
	}
	c, _ = route.ClassOf("oil", shop.Shop{Coats: map[string]shop.Coat{"oil": {Name: "tung oil", Coats: 5, Recoat: 36, Coverage: 14}}})
	if c.Name != "tung oil" || c.Coats != 5 || c.Recoat != 36 || c.Coverage != 14 || c.Cure != 30 || !c.Oily {
		t.Errorf("%+v", c)
	}
	if _, ok := route.ClassOf("none", shop.Shop{}); ok {
		t.Error("none is a finish")
	}
}
