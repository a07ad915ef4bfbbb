package price

import (
	"testing"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

func supplyLine(t *testing.T, all []yard.Line, what string) yard.Line {
	t.Helper()
	for _, l := range all {
		if l.What == what {
			return l
		}
	}
	t.Fatalf("no line of %s in %+v", what, all)
	return yard.Line{}
}

// Worked by hand: 6 m² three times at 12 m² to the litre is 1.5 litres for one
// piece, 3 for two: four cans of 0.75, charged at 3 / 0.75 × 20.00; 40 g of
// glue of a bottle of 500 g at 9.00 is 0.72, for two 1.44.
func TestSuppliesAreMeasured(t *testing.T) {
	s := shop.Shop{Supplies: map[string]shop.Supply{
		"oil":   {Kind: "finish", Class: "oil", Name: "oil", Unit: "litre", Pack: 0.75, Price: 2000, Covers: 12},
		"other": {Kind: "finish", Class: "lacquer", Name: "lacquer", Unit: "litre", Pack: 1, Price: 9900, Covers: 8},
		"glue":  {Kind: "glue", Name: "glue", Unit: "g", Pack: 500, Price: 900},
		"wrap":  {Kind: "wrap", Name: "blanket", Unit: "piece", Pack: 1, Price: 300, Each: 2},
		"wax":   {Kind: "other", Name: "wax", Unit: "tin", Pack: 1, Price: 700},
	}}
	uses := []Use{{Kind: "finish", Class: "oil", Area: 6, Times: 3}, {Kind: "glue", Amount: 40, Unit: "g"}, {Kind: "abrasive", Area: 6, Times: 4}}
	p := piece.Piece{Customer: &piece.Customer{Extras: []piece.Extra{{Supply: "wax", Count: 0.5}}}}
	all := Supplied(p, s, build.Model{}, uses, 2)
	if l := supplyLine(t, all, "oil"); l.Need != 3 || l.Count != 4 || l.Price != 8000 || l.Charge != 8000 || l.Unit != "pack of 0.75 litre" {
		t.Errorf("oil %+v", l)
	}
	if l := supplyLine(t, all, "glue"); l.Need != 80 || l.Count != 1 || l.Price != 900 || l.Charge != 144 {
		t.Errorf("glue %+v", l)
	}
	if l := supplyLine(t, all, "blanket"); l.Count != 4 || l.Charge != 1200 {
		t.Errorf("blankets %+v", l)
	}
	if l := supplyLine(t, all, "wax"); l.Count != 1 || l.Need != 1 || l.Charge != 700 {
		t.Errorf("wax %+v", l)
	}
	if len(all) != 4 {
		t.Errorf("%d lines; the shop has no abrasive, and the piece no lacquer", len(all))
	}
}

// A finish that the shop has none of is bought all the same, without a price.
func TestWhatTheShopHasNotIsOnTheList(t *testing.T) {
	uses := []Use{{Kind: "finish", Class: "shellac", Name: "shellac", Amount: 1.3, Unit: "litre"}, {Kind: "finish", Class: "shellac", Name: "shellac", Amount: 0.2, Unit: "litre"}}
	all := Supplied(piece.Piece{}, shop.Shop{}, build.Model{}, uses, 2)
	if l := supplyLine(t, all, "shellac"); len(all) != 1 || l.Need != 3 || l.Count != 3 || l.Each != 0 {
		t.Errorf("%+v", all)
	}
}

// A chest for clothes of 46 in gets a restraint, a label and an interlock,
// priced or not (scope of ASTM F2057-23: from 27 in up); lower, or for books,
// it does not.
func TestClothingStorageGetsItsSafetyItems(t *testing.T) {
	m := build.Model{Outside: geom.Vec{Z: 46 * unit.Inch}, Openings: []build.Opening{{Fill: "drawer"}}}
	low := m
	low.Outside.Z = 26 * unit.Inch
	s := shop.Shop{Supplies: map[string]shop.Supply{"kit": {Kind: "restraint", Name: "kit", Unit: "piece", Pack: 1, Price: 1100}}}
	p := piece.Piece{Use: piece.Use{For: "clothing"}}
	all := Supplied(p, s, m, nil, 3)
	if l := supplyLine(t, all, "kit"); l.Count != 3 || l.Price != 3300 {
		t.Errorf("restraint %+v", l)
	}
	for _, what := range []string{"warning label on tip-over", "interlock: one drawer open at a time"} {
		if l := supplyLine(t, all, what); l.Count != 3 || l.Each != 0 {
			t.Errorf("%s: %+v", what, l)
		}
	}
	if n := len(Supplied(p, s, low, nil, 1)); n != 0 {
		t.Errorf("%d lines for a low chest", n)
	}
	p.Use.For = "books"
	if n := len(Supplied(p, s, m, nil, 1)); n != 0 {
		t.Errorf("%d lines for a bookcase", n)
	}
}

// What hangs gets fixings and no restraint, also for clothes; what will be
// fixed to the wall a restraint, and what stands free or is left to the
// customer nothing.
func TestWallFixingsAreBought(t *testing.T) {
	m := build.Model{Outside: geom.Vec{Z: 46 * unit.Inch}, Openings: []build.Opening{{Fill: "drawer"}}}
	maker := &piece.Customer{FixedBy: "maker"}
	const fixings, restraint = "fixings suited to the wall it hangs on", "tip restraint with wall fixings"
	for _, c := range []struct {
		use  piece.Use
		by   *piece.Customer
		what string
		n    float64
	}{
		{piece.Use{For: "books", Against: "hung"}, nil, fixings, 6},
		{piece.Use{For: "clothing", Against: "hung", Anchor: true}, nil, fixings, 6},
		{piece.Use{For: "books", Against: "wall", Anchor: true}, nil, restraint, 3},
		{piece.Use{For: "books", Against: "wall"}, maker, restraint, 3},
		{piece.Use{For: "books", Against: "free"}, maker, "", 0},
		{piece.Use{For: "books", Against: "free", Anchor: true}, nil, restraint, 3},
		{piece.Use{For: "books", Against: "wall"}, nil, "", 0},
	} {
		all := Supplied(piece.Piece{Use: c.use, Customer: c.by}, shop.Shop{}, m, nil, 3)
		if c.what == "" && len(all) == 0 {
			continue
		}
		if len(all) != 1 || all[0].What != c.what || all[0].Count != c.n || all[0].Each != 0 {
			t.Errorf("%+v: %+v", c.use, all)
		}
	}
	s := shop.Shop{Supplies: map[string]shop.Supply{"bolts": {Kind: "wall-fixing", Name: "bolts", Unit: "piece", Pack: 1, Price: 250, Each: 4}}}
	all := Supplied(piece.Piece{Use: piece.Use{Against: "hung"}}, s, m, nil, 1)
	if l := supplyLine(t, all, "bolts"); len(all) != 1 || l.Count != 4 || l.Price != 1000 {
		t.Errorf("%+v", all)
	}
}
