package shop

import (
	"testing"

	"casewright/internal/unit"
)

// What is taken for a machine that the shop says nothing of is round in the
// shop's units, and what it says stands.
func TestMilling(t *testing.T) {
	for _, c := range []struct {
		shop Shop
		want Machines
	}{
		{Shop{}, Machines{PlanerShortest: unit.MM(300), PlanerThinnest: unit.MM(6), JointerShortest: unit.MM(300), JointerThinnest: unit.MM(13)}},
		{Shop{Units: unit.Imperial}, Machines{PlanerShortest: unit.In(12), PlanerThinnest: unit.In(0.25), JointerShortest: unit.In(12), JointerThinnest: unit.In(0.5)}},
		{
			Shop{Machines: Machines{PlanerShortest: unit.MM(178), PlanerWidest: unit.MM(330)}},
			Machines{PlanerShortest: unit.MM(178), PlanerThinnest: unit.MM(6), PlanerWidest: unit.MM(330), JointerShortest: unit.MM(300), JointerThinnest: unit.MM(13)},
		},
	} {
		if got := c.shop.Milling(); got != c.want {
			t.Errorf("%+v, want %+v", got, c.want)
		}
	}
}
