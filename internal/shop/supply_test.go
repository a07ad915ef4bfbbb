package shop

import (
	"math"
	"testing"

	"casewright/internal/unit"
)

// Against NIST SP 811, appendix B.8 (from memory): a US gallon is 3.785 412
// litres, a quart 0.946 353, a pint 0.473 176, a fluid ounce 29.573 53 ml, a
// pound 0.453 592 37 kg.
func TestUnitsOfSupplies(t *testing.T) {
	for _, c := range []struct {
		unit       string
		litres, kg float64
	}{
		{"litre", 1, 0},
		{"Liters", 1, 0},
		{"l", 1, 0},
		{"ml", 0.001, 0},
		{"cl", 0.01, 0},
		{"gallon", 3.785412, 0},
		{"gal", 3.785412, 0},
		{"quart", 0.946353, 0},
		{"quarts", 0.946353, 0},
		{"qt.", 0.946353, 0},
		{"pint", 0.473176, 0},
		{"fl. oz.", 0.02957353, 0},
		{"fl oz", 0.02957353, 0},
		{"fluid-ounces", 0.02957353, 0},
		{"kg", 0, 1},
		{"g", 0, 0.001},
		{"grams", 0, 0.001},
		{"lb", 0, 0.45359237},
		{"lbs", 0, 0.45359237},
		{"Pounds", 0, 0.45359237},
	} {
		m, ok := Supply{Unit: c.unit}.Measured()
		if !ok || math.Abs(m.Litres-c.litres) > 1e-6 || math.Abs(m.Kg-c.kg) > 1e-9 {
			t.Errorf("%s: %+v, %v", c.unit, m, ok)
		}
	}
	for _, u := range []string{"bottle", "can", "piece", "oz", "", "s", "sheet"} {
		if m, ok := (Supply{Unit: u}).Measured(); ok {
			t.Errorf("%q is taken for %+v", u, m)
		}
	}
}

// 400 ft² to the gallon are 9.82 m² to the litre; 8 m² to the kilogram of a
// glue of 1.1 kg to the litre are 8.8 to the litre.
func TestLabelsSayHowFarALitreGoes(t *testing.T) {
	if got := (Supply{Unit: "gallon", Covers: 400 * float64(unit.SquareFoot)}).PerLitre(0.9); math.Abs(got-9.817) > 0.001 {
		t.Errorf("a gallon goes %g m² to the litre", got)
	}
	if got := (Supply{Unit: "kg", Covers: 8}).PerLitre(1.1); math.Abs(got-8.8) > 1e-9 {
		t.Errorf("a kilogram goes %g m² to the litre", got)
	}
	if got := (Supply{Unit: "can", Covers: 8}).PerLitre(1.1); got != 0 {
		t.Errorf("a can goes %g m² to the litre", got)
	}
}
