package yard_test

import (
	"context"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// A board is for one class only: where the pieces need 20 mm and 27 mm stuff, a
// board of 27 mm is not cut into for both. Where they need no 27 mm it may be
// planed down.
func TestBoardsAreForOneClass(t *testing.T) {
	mm := unit.Millimetre
	part := func(letter string, rough unit.Length, class string) build.Part {
		return build.Part{
			Letter: letter, Name: letter, Count: 1, Material: "oak", Solid: true,
			Length: build.Dim{Size: 900 * mm}, Width: build.Dim{Size: 90 * mm},
			Rough: &build.Rough{Length: 925 * mm, Width: 96 * mm, Thickness: rough, Class: class},
		}
	}
	s := shop.Shop{
		Saws:  map[string]shop.Saw{"table": {Kind: "table", Kerf: 3 * mm}},
		Woods: map[string]shop.Wood{"oak": {Species: "white-oak", Boards: []shop.Board{{Thickness: 27 * mm, Width: 200 * mm, Length: 1000 * mm, Count: 1}}}},
	}
	thin, thick := part("A", 20*mm, "20 mm"), part("B", 27*mm, "27 mm")
	for _, c := range []struct {
		parts []build.Part
		laid  []bool // by class, thinnest first
	}{
		{[]build.Part{thin, thick}, []bool{false, true}},
		{[]build.Part{thin}, []bool{true}},
		{[]build.Part{thick}, []bool{true}},
	} {
		woods, err := yard.Woods(context.Background(), build.Model{Parts: c.parts}, 1, s, record.Record{}, cutting.Budget{Iterations: 100})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range woods {
			if got := w.Result != nil; got != c.laid[i] || w.UsedOf(0) > 0 != c.laid[i] || w.Takes(27*mm) != c.laid[i] {
				t.Errorf("%d parts, class %s: laid out %t, want %t", len(c.parts), w.Class, got, c.laid[i])
			}
		}
	}
}
