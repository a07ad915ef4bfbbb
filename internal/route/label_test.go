package route

import (
	"math"
	"testing"

	"casewright/internal/shop"
)

// What is bought and what the cards say go by one label: 20 m² to the litre of
// a finish, and 8 m² to the quart of a glue, which at 0.946 353 litres and 1.1 kg
// to the litre is 130 g to the m². A can says nothing of litres.
func TestCoatsAndGlueUpsGoAsFarAsTheLabelSays(t *testing.T) {
	usual, _ := ClassOf("oil", shop.Shop{})
	oil := func(unit string, coat float64) float64 {
		c, _ := ClassOf("oil", shop.Shop{
			Coats:    map[string]shop.Coat{"oil": {Coverage: coat}},
			Supplies: map[string]shop.Supply{"tin": {Kind: "finish", Class: "oil", Unit: unit, Covers: 20}},
		})
		return c.Coverage
	}
	if got := oil("litre", 0); got != 20 {
		t.Errorf("a litre of 20 m² goes %g", got)
	}
	if got := oil("litre", 14); got != 14 {
		t.Errorf("the coat says 14 m², and a litre goes %g", got)
	}
	if got := oil("can", 0); got != usual.Coverage {
		t.Errorf("a can of 20 m²: a litre goes %g, not the usual %g", got, usual.Coverage)
	}
	s := shop.Shop{Supplies: map[string]shop.Supply{"glue": {Kind: "glue", Unit: "quart", Covers: 8}}}
	if g := choose("", s, 5); math.Abs(g.Spread-130.1) > 0.1 || !g.Labelled {
		t.Errorf("8 m² to the quart: %g g to the m²", g.Spread)
	}
	s.Supplies["glue"] = shop.Supply{Kind: "glue", Unit: "bottle", Covers: 8}
	if g := choose("", s, 5); g.Spread != 250 || g.Labelled {
		t.Errorf("a bottle: %g g to the m²", g.Spread)
	}
}
