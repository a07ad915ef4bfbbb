package build

import (
	"testing"

	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Trade arithmetic: 2.5 + 18 - 3.2 = 17.3, so 16; 12 + 19 - 3 = 28, so 25.
func TestScrewLengthsRoundDown(t *testing.T) {
	for _, x := range []struct {
		fastened, holding, tip, want float64
	}{{2.5, 18, 3.2, 16}, {12, 19, 3, 25}} {
		b := &builder{}
		b.shop.Habits.TipClearance = unit.MM(x.tip)
		b.screws(screwing{where: "here", count: 4, fastened: From("plate", unit.MM(x.fastened)), holding: unit.MM(x.holding)})
		b.screws(screwing{where: "here", count: 2, fastened: From("plate", unit.MM(x.fastened)), holding: unit.MM(x.holding)})
		if len(b.m.Screws) != 1 {
			t.Fatalf("%d lines, want one", len(b.m.Screws))
		}
		u := b.m.Screws[0]
		wantSize(t, "screw", u.Length, x.want)
		wantSize(t, "left before the tip", u.Clear, x.fastened+x.holding-x.want)
		if u.Count != 6 || u.Diameter != 4*mm {
			t.Errorf("got %+v", u)
		}
	}
}

// 12 + 19 less 3 takes a screw of 25 that holds 13; two thirds of 25 are 16.7.
// Clearance wins, and the grip is said.
func TestScrewGrip(t *testing.T) {
	b := &builder{}
	b.screws(screwing{where: "fronts", count: 4, fastened: From("box front", 12*mm), holding: 19 * mm})
	f, ok := findingOf(b.m, "screw-grip")
	if !ok || f.Figure != "13 mm" || f.Limit != "16.7 mm" {
		t.Errorf("got %+v", f)
	}
}

// 3 + 9 less 3 leaves 9, shorter than any stock screw of 12.
func TestNoScrewShortEnough(t *testing.T) {
	b := &builder{}
	b.screws(screwing{where: "thin", count: 1, fastened: From("plate", 3*mm), holding: 9 * mm})
	f, ok := findingOf(b.m, "screw-too-long")
	if !ok || f.Level != finding.Stop || f.Figure != "9 mm" || f.Limit != "12 mm" || len(b.m.Screws) != 0 {
		t.Errorf("got %+v", f)
	}
}

// Pilot and shank holes for #8 in hardwood from a screw maker's chart (as
// quoted elsewhere): 7/64 and 11/64 in.
func TestScrewHolesInInches(t *testing.T) {
	b := &builder{shop: shop.Shop{Units: unit.Imperial}}
	b.screws(screwing{where: "fronts", count: 4, fastened: From("box front", unit.Inch*5/8), holding: unit.Inch * 3 / 4})
	u := b.m.Screws[0]
	wantInch(t, "pilot", u.Pilot, 7./64)
	wantInch(t, "shank", u.Shank, 11./64)
	wantInch(t, "length", u.Length, 1.25) // 1-3/8 less 3 mm leaves 1.257
	if u.Gauge != 8 {
		t.Errorf("gauge %d", u.Gauge)
	}
}
