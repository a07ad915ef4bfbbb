package wood

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/unit"
)

// Species is one wood at 12 % moisture content, clear and straight grained;
// means of the source, not allowable stresses.
type Species struct {
	Key       string // "white-oak"
	Name      string // "Oak, white"
	Botanical string
	Group     string   // "US hardwood", "European" ...
	Also      []string // other names that are accepted

	SG12      SG12    // ovendry mass over volume at 12 % MC; 0: not published
	SGBasic   float64 // ovendry mass over green volume; 0: not published
	Density   unit.Density
	DensityBy Source

	MOE        unit.Stress // bending modulus
	MOR        unit.Stress // bending strength
	Hardness   unit.Force  // side hardness by the ball test; 0: not published
	StrengthBy Source      // of MOE, MOR, Hardness and specific gravity

	// Shrinkage from green to ovendry in percent of the green size; 0: not
	// published.
	ShrinkR, ShrinkT, ShrinkV float64
	ShrinkBy                  Source

	cR, cT float64 // published movement coefficients; 0: none
	coefBy Source

	Note string // what to know before relying on it
}

// FindSpecies is the species of that key or of another name it goes by. Case,
// and whether words are parted by spaces, dashes, commas or underscores, do
// not matter: "white oak", "Oak, white" and "oak_white" all find white-oak.
func FindSpecies(name string) (Species, bool) {
	i, ok := known.named[fold(name)]
	if !ok {
		return Species{}, false
	}
	return known.species[i].clone(), true
}

// AllSpecies is the table in the order of its source.
func AllSpecies() []Species {
	out := make([]Species, len(known.species))
	for i, s := range known.species {
		out[i] = s.clone()
	}
	return out
}

// clone keeps callers from writing into the table.
func (s Species) clone() Species {
	s.Also = slices.Clone(s.Also)
	return s
}

// SGOvendry is the specific gravity on ovendry mass and ovendry volume, the
// basis of the National Design Specification, and false where it cannot be
// had. It is derived: volume is taken to shrink evenly from 30 % to 0 % MC.
func (s Species) SGOvendry() (SGOvendry, bool) {
	v := s.ShrinkV / 100
	switch {
	case v <= 0:
		return 0, false
	case s.SG12 > 0:
		return SGOvendry(float64(s.SG12) * (1 - v*(30-12)/30) / (1 - v)), true
	case s.SGBasic > 0:
		return SGOvendry(s.SGBasic / (1 - v)), true
	}
	return 0, false
}

func speciesOf(r row) Species {
	return Species{
		Key: r.Text("key"), Name: r.Text("name"), Botanical: r.Text("botanical"),
		Group: r.Text("group"), Also: strings.Fields(r.Text("also")),
		SG12: SG12(r.Number("sg_12")), SGBasic: r.Number("sg_basic"),
		Density: unit.Density(r.Number("density_kg_m3")), DensityBy: r.source("density"),
		MOE: unit.Stress(r.Number("moe_mpa")), MOR: unit.Stress(r.Number("mor_mpa")),
		Hardness: unit.Force(r.Number("side_hardness_n")), StrengthBy: r.source("strength"),
		ShrinkR: r.Number("shrink_r_pct"), ShrinkT: r.Number("shrink_t_pct"),
		ShrinkV: r.Number("shrink_v_pct"), ShrinkBy: r.source("shrink"),
		cR: r.Number("c_r"), cT: r.Number("c_t"), coefBy: r.source("coeff"),
		Note: r.Text("note"),
	}
}

// nameSpecies indexes every name and refuses one that two species share.
func nameSpecies(all []Species) (map[string]int, error) {
	named := map[string]int{}
	for i, s := range all {
		for _, n := range append([]string{s.Key, s.Name}, s.Also...) {
			if j, taken := named[fold(n)]; taken && j != i {
				return nil, fmt.Errorf("species: %q names both %s and %s", n, all[j].Key, s.Key)
			}
			named[fold(n)] = i
		}
	}
	return named, nil
}

// fold makes names comparable: lower case, runs of anything that is neither a
// letter nor a digit become one dash.
func fold(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9')
	})
	return strings.Join(words, "-")
}
