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
		"oil":   {Kind: "finish", Class: "oil", Name: "oil", Unit: "litre", Pack: 0.75, Price: new(unit.Money(2000)), Covers: 12},
		"other": {Kind: "finish", Class: "lacquer", Name: "lacquer", Unit: "litre", Pack: 1, Price: new(unit.Money(9900)), Covers: 8},
		"glue":  {Kind: "glue", Name: "glue", Unit: "g", Pack: 500, Price: new(unit.Money(900))},
		"wrap":  {Kind: "wrap", Name: "blanket", Unit: "piece", Pack: 1, Price: new(unit.Money(300)), Each: 2},
		"wax":   {Kind: "other", Name: "wax", Unit: "tin", Pack: 1, Price: new(unit.Money(700))},
	}}
	uses := []Use{{Kind: "finish", Class: "oil", Area: 6, Times: 3}, {Kind: "glue", Mass: 0.040, Litres: 0.036}, {Kind: "abrasive", Area: 6, Times: 4}}
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
	uses := []Use{{Kind: "finish", Class: "shellac", Name: "shellac", Litres: 1.3, Mass: 1.1}, {Kind: "finish", Class: "shellac", Name: "shellac", Litres: 0.2, Mass: 0.17}}
	all := Supplied(piece.Piece{}, shop.Shop{}, build.Model{}, uses, 2)
	if l := supplyLine(t, all, "shellac"); len(all) != 1 || l.Need != 3 || l.Count != 3 || l.Each != 0 {
		t.Errorf("%+v", all)
	}
}

// A piece in inches asks for it in quarts: 3 litres are 3.171 of them (a US
// gallon is 231 in³, 3.785 411 784 litres; NIST SP 811 B.8, from memory).
func TestAPieceInInchesAsksForQuarts(t *testing.T) {
	uses := []Use{{Kind: "finish", Class: "shellac", Name: "shellac", Litres: 3, Mass: 2.6}}
	l := supplyLine(t, Supplied(piece.Piece{Units: unit.Imperial}, shop.Shop{}, build.Model{}, uses, 1), "shellac")
	if l.Measure != "quart" || l.Count != 4 || l.Need < 3.170 || l.Need > 3.172 {
		t.Errorf("%+v", l)
	}
}

// Glue and finish are bought in whatever unit the shop has them, and what is
// sold by the can or bottle by the area of its label. Of what says neither one
// pack is counted, and a finding names it: never none.
func TestSuppliesInAnyUnitAreCounted(t *testing.T) {
	glue := Use{Kind: "glue", Mass: 1.1, Litres: 1, Area: 4}
	for _, c := range []struct {
		unit   string
		covers float64
		need   float64
		known  bool
	}{
		{"litre", 0, 1, true},
		{"litre", 99, 1, true}, // the label is in the litres already
		{"kg", 99, 1.1, true},
		{"quart", 0, 1.057, true}, // 1 / 0.946 353
		{"bottle", 8, 0.5, true},
		{"bottle", 0, 1, false},
	} {
		s := shop.Shop{Supplies: map[string]shop.Supply{"white-glue": {Kind: "glue", Unit: c.unit, Pack: 1, Price: new(unit.Money(1000)), Covers: c.covers}}}
		l := supplyLine(t, Supplied(piece.Piece{}, s, build.Model{}, []Use{glue}, 1), "white glue")
		if l.Need != c.need || l.Count < 1 || l.Charge <= 0 {
			t.Errorf("%s: %+v, want %v", c.unit, l, c.need)
		}
		if said := Unmeasured(s, []Use{glue, glue}); (len(said) == 0) != c.known || len(said) > 1 {
			t.Errorf("%s: findings %+v", c.unit, said)
		}
	}
}

// A chest for clothes of 46 in gets a restraint, a label and an interlock,
// priced or not (scope of ASTM F2057-23: from 27 in up); lower, or for books,
// it does not.
func TestClothingStorageGetsItsSafetyItems(t *testing.T) {
	m := build.Model{Outside: geom.Vec{Z: 46 * unit.Inch}, Openings: []build.Opening{{Fill: "drawer"}}}
	low := m
	low.Outside.Z = 26 * unit.Inch
	s := shop.Shop{Supplies: map[string]shop.Supply{"kit": {Kind: "restraint", Name: "kit", Unit: "piece", Pack: 1, Price: new(unit.Money(1100))}}}
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
	s := shop.Shop{Supplies: map[string]shop.Supply{"bolts": {Kind: "wall-fixing", Name: "bolts", Unit: "piece", Pack: 1, Price: new(unit.Money(250)), Each: 4}}}
	all := Supplied(piece.Piece{Use: piece.Use{Against: "hung"}}, s, m, nil, 1)
	if l := supplyLine(t, all, "bolts"); len(all) != 1 || l.Count != 4 || l.Price != 1000 {
		t.Errorf("%+v", all)
	}
}
