package shop

import (
	"maps"
	"slices"
	"strings"

	"casewright/internal/unit"
)

// Measure is how much one unit of a supply holds: litres of what is sold by
// volume, kilograms of what is sold by weight. The other of the two is zero.
type Measure struct{ Litres, Kg float64 }

// measures are the words a can or bottle is measured in. The gallon is that of
// the United States. A bare ounce is left out: on some
// labels it is a weight and on others a volume.
var measures = func() map[string]Measure {
	out := map[string]Measure{}
	for _, m := range []struct {
		words string
		is    Measure
	}{
		{"litre,liter,ltr,l", Measure{Litres: 1}},
		{"decilitre,deciliter,dl", Measure{Litres: 0.1}},
		{"centilitre,centiliter,cl", Measure{Litres: 0.01}},
		{"millilitre,milliliter,ml", Measure{Litres: 0.001}},
		{"gallon,us gallon,gal", Measure{Litres: unit.Gallon}},
		{"quart,us quart,qt", Measure{Litres: unit.Quart}},
		{"pint,us pint,pt", Measure{Litres: unit.Pint}},
		{"fluid ounce,fl oz,floz", Measure{Litres: unit.FluidOunce}},
		{"kilogram,kilogramme,kilo,kg", Measure{Kg: 1}},
		{"gram,gramme,g", Measure{Kg: 0.001}},
		{"pound,lb", Measure{Kg: float64(unit.Pound)}},
	} {
		for w := range strings.SplitSeq(m.words, ",") {
			out[w] = m.is
		}
	}
	return out
}()

// Measured is how much one unit of a supply holds; false where its unit is a
// can, a bottle or another that says nothing of how much is in it.
func (x Supply) Measured() (Measure, bool) {
	w := strings.Join(strings.Fields(strings.ToLower(strings.NewReplacer(".", " ", "-", " ", "_", " ").Replace(x.Unit))), " ")
	m, ok := measures[w]
	if !ok {
		m, ok = measures[strings.TrimSuffix(w, "s")]
	}
	return m, ok
}

// PerLitre is how many square metres a litre serves by the label of a supply,
// at so many kilograms to the litre; 0 where the label does not say it, or not
// by volume or weight.
func (x Supply) PerLitre(density float64) float64 {
	m, ok := x.Measured()
	switch {
	case !ok || x.Covers == 0:
		return 0
	case m.Litres > 0:
		return x.Covers / m.Litres
	default:
		return x.Covers / m.Kg * density
	}
}

// Units is how many units of a supply so much of it is; false where its unit
// says nothing of how much is in it.
func (x Supply) Units(v unit.Mass, litres float64) (float64, bool) {
	m, ok := x.Measured()
	switch {
	case !ok:
		return 0, false
	case m.Litres > 0:
		return litres / m.Litres, true
	default:
		return float64(v) / m.Kg, true
	}
}

// SupplyFor is the first supply of a kind and class, by key.
func (s Shop) SupplyFor(kind, class string) (key string, x Supply, ok bool) {
	for _, key := range slices.Sorted(maps.Keys(s.Supplies)) {
		if x := s.Supplies[key]; x.Kind == kind && x.Class == class {
			return key, x, true
		}
	}
	return "", Supply{}, false
}
