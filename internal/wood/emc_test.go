package wood

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

func fahrenheit(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// All 228 cells of FPL-GTR-190 table 4-2, to 0.1 % MC, and the formula
// computed apart, to 0.001 % MC.
func TestEMCTable(t *testing.T) {
	rows := sheet(t, "emc")
	if len(rows) != 228 {
		t.Fatalf("%d cells, want 228", len(rows))
	}
	for _, r := range rows {
		where := r["temp_f"] + " °F, " + r["rh_pct"] + " %"
		got, err := EMC(fahrenheit(num(t, r["temp_f"])), Humidity(num(t, r["rh_pct"])/100))
		if err != nil {
			t.Fatal(where, err)
		}
		near(t, where, got, Moisture(num(t, r["table_pct"])), 0.1)
		near(t, where+" formula", got, Moisture(num(t, r["formula_pct"])), 0.001)
	}
}

// From the air of a room to a board: 70 °F, 30 to 60 % (FPL-GTR-190 table
// 4-2 gives 6.2 and 11.0 % MC), walnut 400 mm flat-sawn (computed).
func TestMovementFromHumidity(t *testing.T) {
	winter, err := EMC(fahrenheit(70), 0.30)
	summer, err2 := EMC(fahrenheit(70), 0.60)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	m, err := find(t, "walnut").Movement(unit.MM(400), Tangential, winter, summer)
	if err != nil {
		t.Fatal(err)
	}
	nearLength(t, "walnut", m.Change, unit.MM(5.261), unit.MM(0.05))
}

func TestEMCRisesWithHumidity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Celsius(rapid.Float64Range(-2, 60).Draw(t, "temperature"))
		a := Humidity(rapid.Float64Range(0.05, 0.94).Draw(t, "a"))
		b := Humidity(rapid.Float64Range(float64(a)+0.005, 0.95).Draw(t, "b"))
		lower, err := EMC(c, a)
		higher, err2 := EMC(c, b)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if lower >= higher {
			t.Errorf("%v at %v, %v at %v", lower, a, higher, b)
		}
	})
}

func TestEMCOutOfRange(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		t Celsius
		h Humidity
	}{{-3, 0.5}, {61, 0.5}, {20, 0.04}, {20, 0.96}, {20, 45}, {Celsius(nan), 0.5}, {20, Humidity(nan)}} {
		var e *RangeError
		if m, err := EMC(c.t, c.h); !errors.As(err, &e) {
			t.Errorf("%v: %v, %v", c, m, err)
		}
	}
}
