package yard

import (
	"testing"

	"casewright/internal/build"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// A metric sheet is asked for in millimetres, an inch one in inches, whatever
// the piece is drawn in.
func TestGoodsAreAskedForAsTheyAreSold(t *testing.T) {
	in := func(l unit.Length) string { return l.Format(unit.Inch32nds) }
	mm := func(l unit.Length) string { return l.Format(unit.TenthMM) }
	for _, c := range []struct {
		l    unit.Length
		show func(unit.Length) string
		want string
	}{
		{unit.MM(1525), in, "1525 mm"},
		{unit.MM(96), in, "96 mm"},
		{unit.Inch * 60, in, "60 in"},
		{unit.Inch * 15 / 4, in, "3-3/4 in"},
		{unit.MM(1220), mm, "1220 mm"},
		{unit.Inch * 60, mm, "1524 mm"},
	} {
		if got := sold(c.l, c.show); got != c.want {
			t.Errorf("%v is sold as %q, want %q", c.l, got, c.want)
		}
	}
}

// Edge band is sold by the metre, in a shop in inches by the foot of 0.3048 m
// or the yard of 0.9144 m (NIST Handbook 44, appendix C, from memory): 24 ends
// of 0.5 m are 12 m, with a tenth 13.2 m, 43.3 ft or 14.4 yd, whole ones up.
func TestEdgeBandIsCountedAsItIsSold(t *testing.T) {
	price := unit.Money(100)
	for _, c := range []struct {
		units unit.System
		per   string
		count float64
		unit  string
	}{
		{unit.Metric, "", 14, "metre"},
		{unit.Imperial, "", 44, "foot"},
		{unit.Imperial, "yard", 15, "yard"},
		{unit.Imperial, "metre", 14, "metre"},
		{unit.Metric, "foot", 44, "foot"},
	} {
		part := build.Part{Count: 12, Length: build.Dim{Size: unit.MM(500)}, Bands: []build.Band{{Key: "band", Edge: build.EdgeY0}, {Key: "band", Edge: build.EdgeY1}}}
		g := Goods{Pieces: 1, Model: build.Model{Parts: []build.Part{part}}}
		g.Shop.Units, g.Shop.Bands = c.units, map[string]shop.Band{"band": {Per: c.per, Price: &price}}
		l := bands(g)[0]
		if l.Count != c.count || l.Unit != c.unit || l.Each != price {
			t.Errorf("%+v: %v %s of %v", c, l.Count, l.Unit, l.Each)
		}
	}
	if got := Plural("foot", 44) + " " + Plural("foot", 1); got != "feet foot" {
		t.Error(got)
	}
}
