package yard_test

import (
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting/verify"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// A top of 280 mm, 286 rough, out of boards of 190 and 122 mm: strips of 180 and
// 112 mm, an allowance of 6 mm lost on each, make it up, alike ones of 146 mm
// would not come out of the narrow board.
func TestUnlikeStrips(t *testing.T) {
	mm := unit.Millimetre
	top := build.Part{Letter: "A", Name: "top", Count: 1, Material: "oak", Solid: true, Length: build.Dim{Size: 900 * mm}, Width: build.Dim{Size: 280 * mm}}
	top.Rough = &build.Rough{Length: 925 * mm, Width: 286 * mm, Thickness: 27 * mm, Class: "27 mm", Strips: 2, Strip: 146 * mm}
	s := shop.Shop{
		Saws:   map[string]shop.Saw{"table": {Kind: "table", Kerf: 3 * mm}},
		Habits: shop.Habits{RoughWidth: 6 * mm},
		Woods: map[string]shop.Wood{"oak": {Species: "white-oak", Price: new(unit.Money(900)), Widest: 180 * mm, Boards: []shop.Board{
			{Thickness: 27 * mm, Width: 190 * mm, Length: 1000 * mm, Count: 2, Straight: true, Tone: 2},
			{Thickness: 27 * mm, Width: 122 * mm, Length: 1000 * mm, Count: 1, Straight: true, Tone: 4},
		}}},
	}
	m := build.Model{Parts: []build.Part{top}}
	w := woods(t, m, s)
	if err := verify.Result(*w.Job, *w.Result); err != nil || w.UsedOf(0) != 1 || w.UsedOf(1) != 1 {
		t.Fatalf("%v; %d and %d boards", err, w.UsedOf(0), w.UsedOf(1))
	}
	panels := w.GluedPanels()
	show := func(l unit.Length) string { return l.String() }
	if len(panels) != 1 || panels[0].Even() || len(panels[0].Strips) != 2 {
		t.Fatalf("%+v", panels)
	}
	if says := panels[0].Says(show); !strings.Contains(says, " wide, from board ") {
		t.Error(says)
	}
	sum := unit.Length(0)
	for _, z := range w.Strips("A") {
		sum += unit.Length(z.Count) * (z.Width - 6*mm)
	}
	if sum < 280*mm || w.Strips("B") != nil {
		t.Errorf("strips %+v make up %v mm", w.Strips("A"), sum.MM())
	}
	// One part of 0.9 × 0.28 m out of 1 × 0.19 and 1 × 0.122 m, however it lies.
	if want := 100 * 0.9 * 0.28 / (0.19 + 0.122); w.Yield(w.Result.Layouts...) < want-1e-9 || w.Yield(w.Result.Layouts...) > want+1e-9 {
		t.Errorf("yield %g, want %g", w.Yield(w.Result.Layouts...), want)
	}
	for _, l := range w.Result.Layouts {
		for _, y := range yard.TallyOf(*w.Job, l) {
			if y.Count != 1 || y.H == top.Rough.Width || y.W != top.Rough.Length {
				t.Errorf("%+v", y)
			}
		}
	}

	s.Habits.GluedStrips = "alike"
	w = woods(t, m, s)
	if w.UsedOf(0) != 2 || !w.GluedPanels()[0].Even() {
		t.Errorf("alike: %d wide boards, %+v", w.UsedOf(0), w.GluedPanels())
	}
	// Too little wood: it is told how much of the width is lacking.
	s.Habits.GluedStrips = ""
	s.Woods["oak"].Boards[0].Count = 1
	s.Woods["oak"].Boards[1].Width = 80 * mm
	w = woods(t, m, s)
	if len(w.Result.Short) != 1 || w.Result.Short[0].Lacks <= 0 || w.Strips("A") != nil {
		t.Errorf("%+v", w.Result.Short)
	}
	p := yard.Panel{Name: "oak", Job: *w.Job, Result: *w.Result, Letters: w.Letters}
	if f := p.Findings(show); len(f) != 1 || !strings.Contains(f[0].Says, "of width are lacking") {
		t.Errorf("%+v", f)
	}
}
