package build

import (
	"testing"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

// A blank is left larger only where a sheet has room for it: a front that just
// comes off its panel is sawn to size.
func TestBlankNeedsRoom(t *testing.T) {
	trim := 10 * unit.Millimetre
	for _, c := range []struct {
		length, width float64
		noGrain       bool
		want          bool
	}{
		{2418, 300, false, false},
		{2417, 300, false, true},
		{300, 1199, false, false},
		{300, 1197, false, true},
		{1199, 2000, true, false},
		{1190, 2000, true, true},
		{1190, 2000, false, true}, // without a blank it does not fit either: that is told
	} {
		b := &builder{shop: shop.Shop{Panels: map[string]shop.Panel{"ply": {
			NoGrain: c.noGrain, Trim: trim, Sheets: []shop.Sheet{{Length: 2440 * unit.Millimetre, Width: 1220 * unit.Millimetre}},
		}}}}
		p := &Part{Material: "ply", Length: Dim{Size: unit.MM(c.length)}, Width: Dim{Size: unit.MM(c.width)}}
		if got := b.blank(p); got != c.want || (p.Oversize.Blank > 0) != got {
			t.Errorf("%v × %v, turned %v: blank %v, left %v", c.length, c.width, c.noGrain, got, p.Oversize.Blank)
		}
	}
}
