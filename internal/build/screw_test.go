package build

import (
	"testing"

	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Trade arithmetic: 2.5 + 18 - 3.2 = 17.3, so 16, through a plate of metal; 12
// + 19 - 3 = 28, so 25, and a head sunk by 0.5 comes that much nearer to the
// face: 31 - 25 - 0.5 = 5.5.
func TestScrewLengthsRoundDown(t *testing.T) {
	for _, x := range []struct {
		fastened, holding, tip, want, left float64
		metal                              bool
	}{
		{2.5, 18, 3.2, 16, 4.5, true},
		{12, 19, 3, 25, 5.5, false},
		{12, 16.2, 3, 20, 7.7, false}, // 25.2 less 0.5 for the head is under 25
	} {
		b := &builder{}
		b.shop.Habits.TipClearance = unit.MM(x.tip)
		b.screws(screwing{where: "here", count: 4, fastened: From("plate", unit.MM(x.fastened)), holding: unit.MM(x.holding), metal: x.metal})
		b.screws(screwing{where: "here", count: 2, fastened: From("plate", unit.MM(x.fastened)), holding: unit.MM(x.holding), metal: x.metal})
		if len(b.m.Screws) != 1 {
			t.Fatalf("%d lines, want one", len(b.m.Screws))
		}
		u := b.m.Screws[0]
		wantSize(t, "screw", u.Length, x.want)
		wantSize(t, "left before the tip", u.Clear, x.left)
		if u.Count != 6 || u.Diameter != 4*mm {
			t.Errorf("got %+v", u)
		}
	}
}

// 12 + 19 less 3 takes a screw of 25 that holds 13, and 0.5 more for its head is
// sunk; two thirds of 25 are 16.7.
// Clearance wins, and the grip is said.
func TestScrewGrip(t *testing.T) {
	b := &builder{}
	b.screws(screwing{where: "fronts", count: 4, fastened: From("box front", 12*mm), holding: 19 * mm})
	f, ok := findingOf(b.m, "screw-grip")
	if !ok || f.Figure != "13.5 mm" || f.Limit != "16.7 mm" {
		t.Errorf("got %+v", f)
	}
}

// 3 + 9 less 3 leaves 9, shorter than any stock screw of 12.
func TestNoScrewShortEnough(t *testing.T) {
	b := &builder{}
	b.screws(screwing{where: "thin", count: 1, fastened: From("plate", 3*mm), holding: 9 * mm, metal: true})
	f, ok := findingOf(b.m, "screw-too-long")
	if !ok || f.Level != finding.Stop || f.Figure != "9 mm" || f.Limit != "12 mm" || len(b.m.Screws) != 0 {
		t.Errorf("got %+v", f)
	}
}

// Pilot and shank holes for #8 in hardwood from a screw maker's chart (as
// quoted elsewhere): 7/64 and 11/64 in.
func TestScrewHolesInInches(t *testing.T) {
	b := &builder{shop: shop.Shop{Units: unit.Imperial}}
	b.screws(screwing{where: "fronts", count: 4, fastened: From("box front", unit.Inch*5/8), holding: unit.Inch * 25 / 32})
	u := b.m.Screws[0]
	wantInch(t, "pilot", u.Pilot, 7./64)
	wantInch(t, "shank", u.Shank, 11./64)
	wantInch(t, "length", u.Length, 1.25) // 1-13/32 less 3 mm and 0.5 for the head leaves 1.268
	if u.Gauge != 8 {
		t.Errorf("gauge %d", u.Gauge)
	}
}
