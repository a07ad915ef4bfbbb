package wood

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

func TestSpeciesAreWhole(t *testing.T) {
	for _, s := range AllSpecies() {
		if s.Key == "" || s.Name == "" || s.Botanical == "" || s.Group == "" {
			t.Errorf("%+v: a name is missing", s)
		}
		if s.Density < 250 || s.Density > 1000 || s.MOE < 5000 || s.MOE > 16000 || s.MOR < 40 || s.MOR > 150 {
			t.Errorf("%s: density %v, MOE %v, MOR %v", s.Key, s.Density, s.MOE, s.MOR)
		}
		for _, by := range []Source{s.DensityBy, s.StrengthBy} {
			if by.Name == "" || by.How == "" {
				t.Errorf("%s: a figure has no source", s.Key)
			}
		}
		if s.ShrinkT > 0 && (s.ShrinkBy.Name == "" || s.ShrinkR <= 0 || s.ShrinkR >= s.ShrinkT) {
			t.Errorf("%s: shrinkage %v/%v from %v", s.Key, s.ShrinkR, s.ShrinkT, s.ShrinkBy)
		}
		if s.cT > 0 && (s.coefBy.Name == "" || s.cR <= 0 || s.cR >= s.cT) {
			t.Errorf("%s: coefficients %v/%v from %v", s.Key, s.cR, s.cT, s.coefBy)
		}
	}
}

// Density at 12 % MC is specific gravity times 1.12 by definition of the
// specific gravity at 12 %; for woods that publish only the basic figure the
// volume is brought from green to 12 % by linear shrinkage from 30 %, or by
// the movement coefficients (derived).
func TestDensityFollowsFromSpecificGravity(t *testing.T) {
	for _, s := range AllSpecies() {
		var want float64
		switch {
		case s.SG12 > 0:
			want = 1120 * float64(s.SG12)
		case s.ShrinkV > 0 && s.SGBasic > 0:
			want = 1120 * s.SGBasic / (1 - s.ShrinkV/100*18/30)
		case s.SGBasic > 0:
			want = 1120 * s.SGBasic / (1 - 18*(s.cR+s.cT))
		default:
			continue // European woods: mean air-dry density is published
		}
		near(t, s.Key, float64(s.Density), want, 0.5001)
	}
	// Handbook densities as shops quote them, kg/m³ and lb/ft³ (FPL-GTR-190
	// specific gravity at 12 %; lb/ft³ from memory).
	for name, lb := range map[string]float64{
		"walnut": 38, "cherry": 35, "white oak": 48, "red oak": 44, "hard maple": 44,
		"white ash": 42, "american beech": 45, "yellow-poplar": 29,
	} {
		near(t, name, float64(find(t, name).Density)/16.018463, lb, 0.55)
	}
}

// The SI figures agree with the handbook's own inch-pound table 5-3b to the
// rounding of the SI table: 100 MPa, and two figures of hardness.
func TestSpeciesAgainstInchPoundTable(t *testing.T) {
	for _, r := range sheet(t, "species_inch_pound") {
		s := find(t, r["species"])
		near(t, s.Key+" MOE", float64(s.MOE), num(t, r["moe_million_psi"])*6894.757, 55)
		near(t, s.Key+" hardness", float64(s.Hardness), num(t, r["hardness_lbf"])*float64(unit.PoundForce), 55)
	}
}

// Tables 4-3 and 13-5 of FPL-GTR-190 were made apart; a slip in either shows
// here. Four woods follow the relation from a start of shrinkage at 22 %.
func TestCoefficientsFollowFromShrinkage(t *testing.T) {
	rows := sheet(t, "coefficients")
	if len(rows) < 55 {
		t.Fatalf("%d rows, want 55", len(rows))
	}
	for _, r := range rows {
		s := find(t, r["species"])
		start := 30.0
		if r["relation"] == "fsp22" {
			start = 22
		}
		for _, c := range []struct {
			what              string
			total, c          float64
			published, shrink string
		}{{"radial", s.ShrinkR, s.cR, r["c_r"], r["shrink_r_pct"]}, {"tangential", s.ShrinkT, s.cT, r["c_t"], r["shrink_t_pct"]}} {
			near(t, s.Key+" "+c.what, coefficientFrom(c.total, start), Coefficient(c.c), 0.0000101)
			near(t, s.Key+" "+c.what+" coefficient", c.c, num(t, c.published), 0)
			near(t, s.Key+" "+c.what+" shrinkage", c.total, num(t, c.shrink), 0)
		}
	}
}

func TestFindSpecies(t *testing.T) {
	for name, key := range map[string]string{
		"white-oak": "white-oak", "White Oak": "white-oak", "Oak, white": "white-oak", "oak_white": "white-oak",
		"cherry": "black-cherry", "walnut": "black-walnut", "hard maple": "sugar-maple", "red oak": "northern-red-oak",
		"poplar": "yellow-poplar", " ash ": "white-ash", "mahogany": "true-mahogany",
	} {
		if s := find(t, name); s.Key != key {
			t.Errorf("%q: %s, want %s", name, s.Key, key)
		}
	}
	for _, name := range []string{"", "-", "oak white white", "plastic"} {
		if s, ok := FindSpecies(name); ok {
			t.Errorf("%q found %s", name, s.Key)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.String().Draw(t, "name")
		if fold(fold(name)) != fold(name) {
			t.Errorf("fold(%q) = %q is not settled", name, fold(name))
		}
	})
}

func TestTablesAreNotShared(t *testing.T) {
	find(t, "oak").Also[0] = "spoilt"
	AllSpecies()[0].Also[0] = "spoilt"
	AllPanels()[0].Key = "spoilt"
	Classes(unit.Metric)[0].Name = "spoilt"
	if _, ok := FindPanel("spoilt"); ok || find(t, "oak").Also[0] == "spoilt" || AllSpecies()[0].Also[0] == "spoilt" ||
		Classes(unit.Metric)[0].Name == "spoilt" {
		t.Error("a caller wrote into the tables")
	}
}

// NDS appendix specific gravities on ovendry mass and volume (from memory);
// the derived figure comes to within 0.03 of them.
func TestOvendrySpecificGravity(t *testing.T) {
	for name, want := range map[string]float64{"coast-douglas-fir": 0.50, "yellow-poplar": 0.43, "eastern-white-pine": 0.36} {
		g, ok := find(t, name).SGOvendry()
		if !ok || math.Abs(float64(g)-want) > 0.03 {
			t.Errorf("%s: %v %v, want %v", name, g, ok, want)
		}
	}
	if g, ok := find(t, "european-oak").SGOvendry(); ok {
		t.Errorf("european oak publishes no specific gravity, got %v", g)
	}
}

func TestSourceReadsWell(t *testing.T) {
	for want, s := range map[string]Source{
		"FPL-GTR-190 table 4-3":                 {"FPL-GTR-190 table 4-3", Seen},
		"NDS appendix L (from memory)":          {"NDS appendix L", Recalled},
		"common practice, no source":            {"", Practice},
		"NDS 2018 12.2.2 (as quoted elsewhere)": {"NDS 2018 12.2.2", Quoted},
	} {
		if got := s.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
