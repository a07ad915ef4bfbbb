package bend

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"casewright/internal/unit"
)

// Whoever works in inches reads inches in every sentence of every design.
func TestSentencesInInches(t *testing.T) {
	ply, ok := MaterialByKey("ply-round")
	if !ok {
		t.Fatal("no such material")
	}
	for _, form := range []bool{false, true} {
		s := Spec{
			Units: unit.Imperial, Material: ply, Thickness: unit.Inch * 3 / 4, Skin: unit.Inch / 32, Kerf: unit.Inch / 8,
			Radius: 5 * unit.Inch, Angle: unit.Deg(90), Form: form, Sheen: Gloss,
		}
		all, err := Designs(s, Options{Blades: []Blade{{"thin", unit.Inch / 16}}})
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, d := range all {
			said = append(append(said, d.Name), d.Reasons...)
			for _, f := range d.Result.Findings {
				said = append(said, f.Says, f.Advice, f.Figure, f.Limit)
			}
		}
		c, err := Calibrate(TestBend{Count: 8, Turned: unit.Deg(76), Thickness: s.Thickness, Skin: s.Skin, Kerf: s.Kerf}, all[0].Result)
		if err != nil {
			t.Fatal(err)
		}
		for _, ch := range c.Changes {
			said = append(said, ch.From, ch.To, ch.Says)
		}
		for _, x := range said {
			if strings.Contains(x, " mm") || regexp.MustCompile(`\b0\.0+[1-9]\d{3,}`).MatchString(x) {
				t.Error(x) // no caliper reads as finely
			}
		}
	}
}

// A spec calibrated by a test bend closes as the test did, also where its
// measures put the line outside the skin.
func TestCalibratedClosesAsTested(t *testing.T) {
	ply, _ := MaterialByKey("ply-round")
	s := Spec{Material: ply, Thickness: unit.MM(18), Skin: unit.MM(2), Kerf: unit.MM(2.2), Radius: unit.MM(80), Angle: unit.Deg(90), Count: 13}
	planned, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, turned := range []float64{54, 55.5, 57.5, 59.3, 62, 64} {
		c, err := Calibrate(TestBend{Count: 8, Turned: unit.Deg(turned), Thickness: s.Thickness, Skin: s.Skin, Kerf: s.Kerf}, planned)
		if err != nil {
			t.Fatal(turned, err)
		}
		r, err := Evaluate(s.Calibrated(c))
		if err != nil {
			t.Fatal(turned, err)
		}
		if got := r.ClosingEach.Deg(); math.Abs(got-turned/8) > 0.001 {
			t.Errorf("a strip of 8 that closed at %v: each %.4f, want %.4f (neutral %.2f of the skin)", turned, got, turned/8, c.NeutralRatio)
		}
	}
}
