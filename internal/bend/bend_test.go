package bend

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"casewright/internal/finding"
	"casewright/internal/unit"
	"pgregory.net/rapid"
)

// corner is an ordinary corner of a case.
func corner(t testing.TB) Spec {
	return Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.5), Kerf: unit.MM(3.2),
		Radius: unit.MM(100), Angle: unit.Right, Width: unit.MM(400),
	}
}

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

// More of one thing moves the bend the way a maker expects.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		base, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		with := func(edit func(*Spec)) Result {
			s := s
			edit(&s)
			r, err := Evaluate(s)
			if err != nil {
				t.Skip(err)
			}
			return r
		}
		if r := with(func(s *Spec) { s.Kerf += unit.MM(0.1) }); r.ClosesAt <= base.ClosesAt {
			t.Error("a wider kerf closes earlier")
		}
		if r := with(func(s *Spec) { s.Thickness += unit.MM(1) }); r.ClosesAt >= base.ClosesAt {
			t.Error("a thicker panel closes later")
		}
		if r := with(func(s *Spec) { s.Skin += unit.MM(0.1) }); r.ClosesAt <= base.ClosesAt || r.Strain <= base.Strain || r.AllowDry > base.AllowDry {
			t.Error("a thicker skin: closes at", r.ClosesAt, base.ClosesAt, "strain", r.Strain, base.Strain)
		}
		if r := with(func(s *Spec) { s.Count++ }); r.ClosesAt <= base.ClosesAt || r.Facet > base.Facet || r.Pitch >= base.Pitch || r.Gap <= base.Gap || r.Strain >= base.Strain {
			t.Error("one kerf more")
		}
		if r := with(func(s *Spec) { s.Radius += unit.MM(10) }); r.ClosesAt != base.ClosesAt && s.Hinge != RootHinge || r.Strain > base.Strain || r.Pitch <= base.Pitch {
			t.Error("a larger radius")
		}
		b := base.Band
		if !(b.AngleP025 <= b.AngleP05 && b.AngleP05 <= b.AngleP95 && b.AngleP95 <= b.AngleP975 && b.RadiusP05 <= b.RadiusP95 && b.StrainP05 <= b.StrainP95) {
			t.Error("the band is out of order")
		}
		if base.ClosesLow > base.ClosesAt || base.ClosesHigh < base.ClosesAt || base.ClosesYielded > base.ClosesAt+1e-9 {
			t.Error("closing range is out of order")
		}
		if base.MomentYielded > base.Moment*(1+1e-9) {
			t.Error("yielding made it stiffer")
		}
		// Closed exactly, there is no gap.
		exact := with(func(s *Spec) { s.Angle = base.ClosesAt })
		if exact.Gap.Abs() > 2 {
			t.Errorf("closed, with a gap of %v", exact.Gap)
		}
		if n := float64(base.Count); math.Abs(base.Zone.MM()-n*base.Pitch.MM()) > n*1e-6 {
			t.Error("zone is not count times pitch")
		}
	})
}

// The same spec gives the same bytes, for a bend and for the list of designs.
func TestSameBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		s.Seed = rapid.Uint64().Draw(t, "seed")
		o := Options{Blades: []Blade{{"thin", unit.MM(1.6)}}}
		text := func() []byte {
			r, err := Evaluate(s)
			if err != nil {
				t.Fatal(err)
			}
			d, err := Designs(s, o)
			if err != nil {
				d = nil
			}
			out, err := json.Marshal([]any{r, d, r.Section(r.Turn/2, unit.MM(30)), r.Centres(unit.MM(100))})
			if err != nil {
				t.Fatal(err)
			}
			return out
		}
		if !bytes.Equal(text(), text()) {
			t.Error("the same spec gave other bytes")
		}
	})
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

// Positions are rounded singly: no error grows along the row.
func TestCentresRoundSingly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		leg := unit.MM(rapid.Float64Range(0, 1000).Draw(t, "leg"))
		at := r.Centres(leg)
		exact := (s.Radius.MM() - s.Skin.MM()/2) * s.Angle.Rad() / float64(r.Count)
		if len(s.Material.Layers) == 0 {
			for i, x := range at {
				if d := math.Abs(float64(x-leg) - (float64(i)+0.5)*exact*1e6); d > 0.51 {
					t.Fatalf("kerf %d is %.2f nm off", i+1, d)
				}
			}
		}
		if last := at[len(at)-1]; (last + r.Pitch/2 - leg - r.Zone).Abs() > 3 {
			t.Error("the zone does not end half a pitch past the last kerf")
		}
	})
}

func BenchmarkEvaluate(b *testing.B) {
	s := corner(b)
	for b.Loop() {
		if _, err := Evaluate(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDesigns(b *testing.B) {
	s := corner(b)
	for b.Loop() {
		if _, err := Designs(s, Options{Blades: []Blade{{"thin", unit.MM(1.6)}}}); err != nil {
			b.Fatal(err)
		}
	}
}

// A drawing runs through the turns point by point, and each of its points is
// one of the section's or lies between two of them.
func TestSectionPointsKeepTheirOrder(t *testing.T) {
	leg := 30 * unit.Millimetre
	out := corner(t)
	out.Outside = true
	bevel := corner(t)
	bevel.Tooth = Tooth{Form: BevelTooth, Bevel: unit.Deg(15)}
	for _, s := range []Spec{corner(t), out, bevel} {
		r := evaluate(t, s)
		n := len(r.SectionPoints(0, leg, 3))
		for _, share := range []unit.Angle{0, 0.3, 1, 2} {
			turn := r.Turn * share
			if got := len(r.SectionPoints(turn, leg, 3)); got != n {
				t.Fatalf("%d points at %.1f degrees, %d when flat", got, turn.Deg(), n)
			}
			one := r.SectionPoints(turn, leg, 1)
			for i, v := range r.Section(turn, leg) {
				if one[i] != v.Point {
					t.Fatalf("point %d is %v, of the section %v", i, one[i], v.Point)
				}
			}
		}
	}
}

// The gap drawn is the gap reckoned, and where the kerfs let it go so far the
// loose face is the face.
func TestGapAndLooseFaceAgree(t *testing.T) {
	r := evaluate(t, corner(t))
	if got := r.GapAt(r.Turn); (got - r.Gap).Abs() > unit.Micrometre/10 {
		t.Errorf("gap at the wanted turn %v, reckoned %v", got, r.Gap)
	}
	if got := r.GapAt(r.ClosesAt); got.Abs() > unit.Micrometre/10 {
		t.Errorf("gap when closed %v", got)
	}
	leg := 30 * unit.Millimetre
	face, loose := r.Face(r.Turn, leg), r.FaceLoose(r.Turn, leg)
	for i := range face {
		if face[i] != loose[i] {
			t.Fatalf("vertex %d is %v, loose %v", i, face[i], loose[i])
		}
	}
	past := r.FaceLoose(r.ClosesAt+unit.Deg(5), leg)
	a, b := past[len(past)-2], past[len(past)-1]
	heading := math.Atan2((b.Y - a.Y).MM(), (b.X - a.X).MM())
	if off := math.Abs(heading*180/math.Pi - r.ClosesAt.Deg() - 5); off > 0.01 {
		t.Errorf("the loose face ends %.3f degrees off", off)
	}
}

// The charges of a design add up to what it is ranked by.
func TestChargesAddUp(t *testing.T) {
	all, err := Designs(corner(t), Options{Blades: []Blade{{"thin", unit.MM(1.8)}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range all {
		sum := 0.0
		for _, c := range d.Charges {
			sum += c.Cuts
		}
		if math.Abs(sum-d.Cost) > 1e-9 || len(d.Charges) == 0 {
			t.Errorf("%s: charges add up to %g, cost %g", d.Name, sum, d.Cost)
		}
	}
}
