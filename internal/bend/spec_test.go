package bend

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

func TestRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*Spec)
		says string // words the sentence must hold
	}{
		{"no thickness", func(s *Spec) { s.Thickness = 0 }, "thickness is 0 mm"},
		{"negative skin", func(s *Spec) { s.Skin = -unit.Millimetre }, "skin is -1 mm"},
		{"no skin", func(s *Spec) { s.Skin = 0 }, "skin is 0 mm"},
		{"skin as thick as the panel", func(s *Spec) { s.Skin = s.Thickness }, "as thick as the panel"},
		{"skin thicker than the panel", func(s *Spec) { s.Skin = 2 * s.Thickness }, "leave a skin of about 1.5 mm"},
		{"skin over half", func(s *Spec) { s.Skin = unit.MM(10) }, "cut deeper"},
		{"no kerf", func(s *Spec) { s.Kerf = 0 }, "kerf is 0 mm"},
		{"huge kerf", func(s *Spec) { s.Kerf = unit.Metre }, "0.1 mm to 100 mm"},
		{"wide kerf", func(s *Spec) { s.Kerf = unit.MM(40) }, "use a blade under"},
		{"no radius", func(s *Spec) { s.Radius = 0 }, "radius is 0 mm"},
		{"huge radius", func(s *Spec) { s.Radius = unit.Length(math.MaxInt64) }, "100000 mm"},
		{"radius below the panel", func(s *Spec) { s.Radius = unit.MM(12) }, "below the least of"},
		{"radius below the least", func(s *Spec) { s.Radius = unit.MM(29) }, "below the least of 30.6 mm"},
		{"count that does not fit", func(s *Spec) { s.Count = 60 }, "use at most"},
		{"one kerf for all", func(s *Spec) { s.Count = 1; s.Angle = unit.Deg(180) }, "would have to turn 180 degrees each"},
		{"negative count", func(s *Spec) { s.Count = -3 }, "0 to have the count chosen"},
		{"no angle", func(s *Spec) { s.Angle = 0 }, "angle over 0"},
		{"angle not a number", func(s *Spec) { s.Angle = unit.Angle(math.NaN()) }, "NaN degrees"},
		{"endless angle", func(s *Spec) { s.Angle = unit.Angle(math.Inf(1)) }, "up to 360"},
		{"radius and pitch", func(s *Spec) { s.Pitch = unit.MM(9) }, "give one"},
		{"pitch alone", func(s *Spec) { s.Radius, s.Pitch = 0, unit.MM(9) }, "give the number of kerfs too"},
		{"no material", func(s *Spec) { s.Material = Material{Key: "none"} }, `"none"`},
		{"strain not a number", func(s *Spec) { s.Material.Dry.A = math.NaN() }, "allowable strain"},
		{"layer not a number", func(s *Spec) { s.Material.Layers = []Layer{{unit.Millimetre, unit.Stress(math.NaN())}} }, "layer 1"},
		{"tooth", func(s *Spec) { s.Tooth = Tooth{Form: BevelTooth, Bevel: unit.Deg(80)} }, "0 to 45"},
		{"scatter", func(s *Spec) { s.Scatter = &Scatter{Kerf: unit.Metre} }, "0 to 5 mm"},
		{"pass", func(s *Spec) { s.Passes = []unit.Length{-1} }, "pass 2"},
		{"draws", func(s *Spec) { s.Draws = 1e9 }, "up to 20000"},
		{"moisture", func(s *Spec) { s.Moisture = math.NaN() }, "moisture"},
	} {
		s := corner(t)
		c.edit(&s)
		_, err := Evaluate(s)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want words %q", c.name, err, c.says)
			continue
		}
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: more than a sentence: %v", c.name, err)
		}
		if _, err := Designs(s, Options{}); err == nil && !strings.Contains("count that does not fit, one kerf for all, negative count, radius and pitch, pitch alone", c.name) && !strings.Contains(c.name, "least") {
			t.Errorf("%s: Designs takes it", c.name)
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		id    string
		level finding.Level
		edit  func(*Spec)
	}{
		{"bend-cracks", finding.Stop, func(s *Spec) { s.Skin, s.Count = unit.MM(4), 10 }},
		{"bend-marginal", finding.Care, func(s *Spec) { s.Material = generic(t, "mdf"); s.Count = 16 }},
		{"bend-soften", finding.Note, func(s *Spec) { s.Count = 12 }},
		{"bend-closes-short", finding.Stop, func(s *Spec) { s.Count = 8 }},
		{"bend-closes-short", finding.Care, func(s *Spec) { s.Kerf, s.Count = unit.MM(3.02), 9 }},
		{"bend-closes-yielded", finding.Care, func(s *Spec) { s.Kerf, s.Count, s.Scatter = unit.MM(3.02), 9, &Scatter{} }},
		{"bend-gap", finding.Note, func(s *Spec) { s.Count = 16 }},
		{"bend-land-thin", finding.Care, func(s *Spec) { s.Count = 33 }},
		{"bend-sliver", finding.Stop, func(s *Spec) { s.Passes, s.Count = []unit.Length{unit.MM(3.3)}, 6 }},
		{"bend-outside", finding.Note, func(s *Spec) { s.Outside = true }},
		{"bend-facets", finding.Care, func(s *Spec) { s.Count, s.Sheen = 10, Gloss }},
		{"bend-sand-through", finding.Care, func(s *Spec) { s.Skin, s.Count = unit.MM(0.6), 9 }},
		{"bend-felt", finding.Note, func(s *Spec) { s.Count = 9 }},
		{"bend-skin-range", finding.Note, func(s *Spec) { s.Skin = unit.MM(0.6); s.Count = 9 }},
		{"bend-vee", finding.Note, func(s *Spec) { s.Tooth = Tooth{Form: VeeTooth, Bevel: unit.Deg(10)}; s.Count = 6 }},
	} {
		s := corner(t)
		s.Place = "case/bend 1"
		c.edit(&s)
		r, err := Evaluate(s)
		if err != nil {
			t.Errorf("%s: %v", c.id, err)
			continue
		}
		found := false
		for i, f := range r.Findings {
			found = found || f.ID == c.id && f.Level == c.level
			if f.Says == "" || f.Advice == "" || f.Source == "" || f.Place != s.Place {
				t.Errorf("%s: finding without words: %+v", c.id, f)
			}
			if i > 0 && f.Level > r.Findings[i-1].Level {
				t.Errorf("%s: the graver finding comes later", c.id)
			}
		}
		if !found {
			t.Errorf("%s: not found in %+v", c.id, r.Findings)
		}
	}
	quiet := corner(t)
	quiet.Skin, quiet.Kerf, quiet.Radius, quiet.Sheen = unit.MM(0.9), unit.MM(1.6), unit.MM(150), Satin
	quiet.Count, quiet.Form = 30, true
	for _, f := range evaluate(t, quiet).Findings {
		if f.Level > finding.Note {
			t.Errorf("a good bend is complained of: %+v", f)
		}
	}
}

func TestReportNames(t *testing.T) {
	out, err := json.Marshal(evaluate(t, corner(t)))
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields("count pitch_mm angle_each_deg closing_angle_each_deg closes_at_deg gap_mm zone_mm inside_radius_mm strain verdict facet_mm moment_n_mm_per_mm angle_p05_deg angle_p95_deg bench_rule_count lift_mm glue_ml force_n findings") {
		if _, ok := got[name]; !ok {
			t.Errorf("no %s in %s", name, out)
		}
	}
	if got["verdict"] != "soften first" {
		t.Error(got["verdict"])
	}
}
