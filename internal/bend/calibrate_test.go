package bend

import (
	"math"
	"testing"

	"casewright/internal/unit"
	"pgregory.net/rapid"
)

// A test bend of a panel whose neutral ratio we set ourselves finds it again.
func TestCalibrateFindsTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		planned, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		ratio := rapid.Float64Range(0.25, 0.55).Draw(t, "ratio")
		coupon := func(skin unit.Length) TestBend {
			n := 8
			lever := s.Thickness.MM() - ratio*skin.MM()
			return TestBend{Count: n, Turned: unit.Angle(float64(n) * s.Kerf.MM() / lever), Thickness: s.Thickness, Skin: skin, Kerf: s.Kerf}
		}
		c, err := Calibrate(coupon(s.Skin), planned)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(c.NeutralRatio-ratio) > 1e-6 {
			t.Errorf("ratio %.6f, want %.6f", c.NeutralRatio, ratio)
		}
		if c.ClosesAt < planned.Turn-1e-9 {
			t.Error("the count does not reach")
		}
		// The plan put right with the coupon closes as the coupon says.
		s.NeutralRatio = c.NeutralRatio
		s.Count = c.Count
		if again, err := Evaluate(s); err == nil {
			if math.Abs((again.ClosesAt-c.ClosesAt).Deg()) > 1e-4 || (again.Pitch-c.Pitch).Abs() > 5 {
				t.Errorf("closes at %.5f, coupon %.5f; pitch %v, coupon %v", again.ClosesAt.Deg(), c.ClosesAt.Deg(), again.Pitch, c.Pitch)
			}
		}
		for _, ch := range c.Changes {
			if ch.Says == "" || ch.From == ch.To {
				t.Errorf("empty change %+v", ch)
			}
			if ch.What == "skin" {
				s.Count, s.Skin = planned.Count, planned.Spec.Skin+ch.By
				if again, err := Evaluate(s); err == nil && math.Abs((again.ClosesAt-planned.Turn).Deg()) > 0.01 {
					t.Errorf("trimmed as told, closes at %.4f", again.ClosesAt.Deg())
				}
			}
		}
		w, r2, err := CalibrateTwo(coupon(s.Thickness/20), coupon(s.Thickness/8))
		if err != nil {
			t.Fatal(err)
		}
		if (w-s.Kerf).Abs() > 2*unit.Micrometre || math.Abs(r2-ratio) > 1e-3 {
			t.Errorf("two coupons: kerf %v, ratio %.5f; want %v, %.5f", w, r2, s.Kerf, ratio)
		}
	})
}

func TestCalibrateRefuses(t *testing.T) {
	planned := evaluate(t, corner(t))
	good := TestBend{Count: 10, Turned: unit.Deg(106.2), Kerf: unit.MM(3.22), Thickness: unit.MM(18.05), Skin: unit.MM(1.4)}
	for name, edit := range map[string]func(*TestBend){
		"no kerfs": func(b *TestBend) { b.Count = 0 }, "not a number": func(b *TestBend) { b.Turned = unit.Angle(math.NaN()) },
		"no thickness": func(b *TestBend) { b.Thickness = 0 }, "skin": func(b *TestBend) { b.Skin = b.Thickness },
		"kerf": func(b *TestBend) { b.Kerf = 0 }, "cannot be": func(b *TestBend) { b.Kerf = unit.MM(4) },
	} {
		b := good
		edit(&b)
		if _, err := Calibrate(b, planned); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if _, _, err := CalibrateTwo(good, good); err == nil {
		t.Error("twice the same coupon is taken")
	}
	if _, err := Calibrate(good, Result{}); err == nil {
		t.Error("no plan is taken")
	}
}
