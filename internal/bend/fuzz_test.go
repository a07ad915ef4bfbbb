package bend

import (
	"encoding/json"
	"math"
	"testing"

	"casewright/internal/unit"
)

// rough is a spec from raw numbers, good or bad. JSON refuses what is not a
// number, so marshalling proves that there is none in a result.
func rough(thick, skin, kerf, radius, pitch, turn, ratio, bevel float64, count, form int, outside bool) Spec {
	all := Materials()
	return Spec{
		Material:  all[uint(count)%uint(len(all))],
		Thickness: unit.MM(thick), Skin: unit.MM(skin), Kerf: unit.MM(kerf), Radius: unit.MM(radius), Pitch: unit.MM(pitch),
		Angle: unit.Deg(turn), NeutralRatio: ratio, Count: count, Outside: outside,
		Tooth: Tooth{Form: ToothForm(form % 5), Bevel: unit.Deg(bevel), Mouth: unit.MM(kerf * 1.1)},
		Hinge: Hinge(form / 5 % 4), DepthFrom: DepthFrom(form / 20 % 3), Sheen: Sheen(form / 60 % 5),
		Width: unit.MM(radius), Draws: 20,
	}
}

func seed(f *testing.F) {
	f.Add(18.0, 1.5, 3.2, 100.0, 0.0, 90.0, 0.0, 15.0, 9, 0, false)
	f.Add(18.0, 2.0, 3.2, 100.0, 0.0, 90.0, 0.0, 45.0, 2, 2, false)
	f.Add(12.0, 2.0, 2.4, 150.0, 0.0, 180.0, 0.3, 0.0, 0, 13, true)
	f.Add(15.0, 1.0, 3.2, 0.0, 9.0, 360.0, 1.0, 10.0, 40, 6, false)
	f.Add(15.0, 14.0, 3.2, 1e9, 0.0, 1e-9, 0.0, 10.0, 0, 0, false)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 0.0, math.NaN(), math.NaN(), math.Inf(-1), -1, -7, true)
	f.Add(0.5, 0.05, 0.1, 100000.0, 0.0, 360.0, 0.0, 1.0, 1000, 3, false)
	f.Add(200.0, 99.0, 100.0, 100000.0, 0.0, 0.001, 0.0, 75.0, 1, 2, true)
}

func FuzzEvaluate(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, thick, skin, kerf, radius, pitch, turn, ratio, bevel float64, count, form int, outside bool) {
		s := rough(thick, skin, kerf, radius, pitch, turn, ratio, bevel, count, form, outside)
		r, err := Evaluate(s)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		if r.Count > 200 {
			return // long outlines say no more
		}
		_, err = json.Marshal([]any{r, r.Face(s.Angle/2, s.Radius), r.Section(unit.Angle(math.NaN()), 0), r.Section(9, -5), r.FreeBend(), r.Sensitivities(ShopScatter())})
		if err != nil {
			t.Errorf("%v for %+v", err, s)
		}
		if r.Pitch <= 0 || r.Land < 0 || r.Strain <= 0 || r.Moment <= 0 || r.MomentYielded < 0 || r.VoidEach < 0 || r.Facet < 0 {
			t.Errorf("a figure without sense: %+v", r)
		}
		for _, x := range r.Centres(0) {
			if x <= 0 || x >= r.Zone {
				t.Errorf("a kerf at %v outside its zone of %v", x, r.Zone)
			}
		}
		if _, err := Calibrate(TestBend{Count: count, Turned: unit.Deg(turn), Thickness: s.Thickness, Skin: s.Skin, Kerf: s.Kerf}, r); err != nil && err.Error() == "" {
			t.Error("an error without words")
		}
	})
}

func FuzzDesigns(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, thick, skin, kerf, radius, pitch, turn, ratio, bevel float64, count, form int, outside bool) {
		s := rough(thick, skin, kerf, radius, pitch, turn, ratio, bevel, count, form, outside)
		all, err := Designs(s, Options{Blades: []Blade{{"thin", unit.MM(kerf / 2)}, {"", unit.MM(2.4)}}, Most: 6})
		if err != nil {
			return
		}
		if len(all) == 0 || len(all) > 6 {
			t.Errorf("%d designs", len(all))
		}
		if _, err := json.Marshal(all); err != nil {
			t.Errorf("%v for %+v", err, s)
		}
		if least, err := LeastRadius(s); err == nil && least <= 0 {
			t.Errorf("least radius %v", least)
		}
	})
}
