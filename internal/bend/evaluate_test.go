package bend

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"casewright/internal/unit"
	"pgregory.net/rapid"
)

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
