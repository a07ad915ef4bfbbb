package bend

import (
	"math"
	"testing"

	"casewright/internal/unit"
	"pgregory.net/rapid"
)

func TestDesigns(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*Spec)
		opt  Options
		ways []Way
	}{
		{"corner", func(*Spec) {}, Options{Most: 6}, []Way{ByClosing, OnForm, TwoPasses}},
		{"with blades", func(*Spec) {}, Options{Most: 6, Blades: []Blade{{"thin", unit.MM(1.6)}, {"middle", unit.MM(2.4)}}}, []Way{ByClosing, OnForm}},
		{"tight", func(s *Spec) { s.Thickness, s.Radius = unit.MM(15), unit.MM(38.1) }, Options{Most: 6, Blades: []Blade{{"middle", unit.MM(2.4)}}}, []Way{ByClosing, ThinBlade, TwoPasses, ExactDeep}},
		{"skin", func(s *Spec) { s.Skin, s.Radius, s.Kerf = unit.MM(2), unit.MM(80), unit.MM(2.2) }, Options{Most: 6}, []Way{ByClosing, ThinSkin}},
		{"outside", func(s *Spec) { s.Outside = true }, Options{Most: 6}, []Way{Opening}},
	} {
		s := corner(t)
		c.edit(&s)
		all, err := Designs(s, c.opt)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		least := 3
		if s.Outside {
			least = 2 // nothing to close, trim or widen
		}
		if len(all) < least || len(all) > 6 {
			t.Errorf("%s: %d designs", c.name, len(all))
		}
		have := map[Way]bool{}
		for i, d := range all {
			have[d.Way] = true
			if len(d.Reasons) < 3 || d.Name == "" {
				t.Errorf("%s: a design without reasons: %v", c.name, d)
			}
			if i > 0 && d.Cost < all[i-1].Cost {
				t.Errorf("%s: not in order", c.name)
			}
			r := d.Result
			if r.Verdict == WillCrack {
				t.Errorf("%s: %s will crack", c.name, d.Name)
			}
			if !s.Outside && d.Way != ExactDeep && r.Band.AngleP05 < r.Turn {
				t.Errorf("%s: %s may close short: %.2f", c.name, d.Name, r.Band.AngleP05.Deg())
			}
			if d.Way == ExactDeep && math.Abs((r.ClosesAt-r.Turn).Deg()) > 0.001 {
				t.Errorf("%s: trimmed, but closes at %.3f", c.name, r.ClosesAt.Deg())
			}
			if r.Land < r.Spec.LeastLand-1 && d.Way != ExactDeep {
				t.Errorf("%s: %s leaves lands of %v", c.name, d.Name, r.Land)
			}
		}
		for _, w := range c.ways {
			if !have[w] {
				t.Errorf("%s: no design by %s in %v", c.name, w, have)
			}
		}
	}
}

// The least radius can be bent to, and just below it the count chosen does
// not fit or the skin cracks.
func TestLeastRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		s.Count, s.Draws = 0, 200
		s.Outside = rapid.Bool().Draw(t, "outside")
		least, err := LeastRadius(s)
		if err != nil {
			t.Fatal(err)
		}
		works := func(radius unit.Length) bool {
			s.Radius = radius
			k, first := newModel(s), 1
			if !s.Outside {
				first = max(1, int(k.phi*k.h/k.wide()))
			}
			for n := first; n <= maxCount; n++ {
				s.Count = n
				r, err := Evaluate(s)
				if err != nil {
					continue
				}
				stands := r.Strain <= max(r.AllowDry, r.AllowWet)
				if stands && r.Land >= r.Spec.LeastLand-10 && (s.Outside || r.Band.AngleP05 >= r.Turn) {
					return true
				}
				if r.Land < r.Spec.LeastLand-10 {
					break
				}
			}
			return false
		}
		if !works(least + 2*unit.Micrometre) {
			t.Errorf("no count works at the least radius %v", least)
		}
		if below := least - least/50; below > unit.Millimetre && works(below) {
			t.Errorf("a count works at %v, below the least %v", below, least)
		}
	})
}

func BenchmarkDesigns(b *testing.B) {
	s := corner(b)
	for b.Loop() {
		if _, err := Designs(s, Options{Blades: []Blade{{"thin", unit.MM(1.6)}}}); err != nil {
			b.Fatal(err)
		}
	}
}
