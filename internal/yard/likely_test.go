package yard_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

func inches(l unit.Length) string { return fmt.Sprintf("%g in", l.In()) }

func woods(t *testing.T, m build.Model, s shop.Shop) yard.Wood {
	t.Helper()
	out, err := yard.Woods(context.Background(), m, 1, s, record.Record{}, cutting.Budget{})
	if err != nil || len(out) != 1 {
		t.Fatal(err, len(out))
	}
	return out[0]
}

// Eight rails of 30 × 3 in and two tops of 40 × 14 in from strips, 4/4: without
// boards typed in the list asks for boards of one usual size from which all
// comes out, and never for less than the shop's waste would have it.
func TestLikelyBoards(t *testing.T) {
	in := unit.In
	part := func(letter string, n int, length, width float64) build.Part {
		p := build.Part{Letter: letter, Name: letter, Count: n, Material: "ash", Solid: true, Length: build.Dim{Size: in(length)}, Width: build.Dim{Size: in(width)}}
		p.Rough = &build.Rough{Length: in(length + 1), Width: in(width + 0.25), Thickness: in(1), Class: "4/4"}
		return p
	}
	top := part("T", 2, 40, 14)
	top.Rough.Strips, top.Rough.Strip = 3, in(14.0/3+0.25)
	m := build.Model{Parts: []build.Part{part("R", 8, 30, 3), top}}
	s := shop.Shop{
		Units: unit.Imperial, Saws: map[string]shop.Saw{"table": {Kind: "table", Kerf: in(0.125)}},
		Woods:  map[string]shop.Wood{"ash": {Species: "white-ash", Waste: 20, WasteOf: "purchase", Widest: in(8), Price: new(unit.Money(500))}},
		Habits: shop.Habits{BoardEdge: in(0.25)},
	}
	w := woods(t, m, s)
	k := w.Likely
	if k == nil || w.Result != nil || w.Widest.Letter != "T" || w.Longest.Letter != "T" {
		t.Fatalf("%+v", w)
	}
	if err := verify.Result(*k.Job, *k.Result); err != nil {
		t.Error(err)
	}
	// Board feet by the rule of the trade: thickness (in) × width (in) × length (ft) / 12.
	each := k.Width.In() * k.Length.In() / 144
	net := 8*30*3/144.0 + 2*40*14/144.0
	if math.Abs(k.Each-each) > 1e-9 || math.Abs(w.Net-net) > 1e-9 || math.Abs(k.Yield-100*net/(each*float64(k.Boards))) > 1e-9 {
		t.Errorf("%+v: each %g, net %g", k, each, net)
	}
	if check := net / 0.8; math.Abs(k.Check-check) > 1e-9 || w.Buy < check || w.Buy-each >= math.Max(check, each*float64(k.Boards)) {
		t.Errorf("buys %g board feet, the shop's waste asks for %g", w.Buy, check)
	}
	line := yard.Buy(yard.Goods{Shop: s, Model: m, Pieces: 1, Woods: []yard.Wood{w}, Show: inches})[0]
	if want := k.Says(k.Buy, inches); !strings.HasPrefix(line.Why, want) || !strings.Contains(line.Why, "yield") || line.Price == 0 {
		t.Errorf("%+v does not begin with %q", line, want)
	}

	// A part longer than any board sold: by volume, as before.
	m.Parts[0].Rough.Length = in(20 * 12)
	if w := woods(t, m, s); w.Likely != nil || math.Abs(w.Buy-w.Net/0.8) > 1e-9 {
		t.Errorf("%+v", w)
	}
}

// Boards as they are typed in: ends and a crooked edge are lost, defects kept
// clear of, and each panel's strips are told with the board they come from.
func TestBoardsAsTyped(t *testing.T) {
	mm := unit.Millimetre
	top := build.Part{Letter: "A", Name: "top", Count: 2, Material: "oak", Solid: true, Length: build.Dim{Size: 900 * mm}, Width: build.Dim{Size: 280 * mm}}
	top.Rough = &build.Rough{Length: 925 * mm, Width: 286 * mm, Thickness: 27 * mm, Class: "27 mm", Strips: 3, Strip: 100 * mm}
	knot := []shop.Defect{{What: "knot", FromEnd: 950 * mm, FromEdge: 60 * mm, Length: 80 * mm, Width: 60 * mm}}
	s := shop.Shop{
		Saws:   map[string]shop.Saw{"table": {Kind: "table", Kerf: 3 * mm}},
		Habits: shop.Habits{BoardEnds: 20 * mm, BoardEdge: 6 * mm, BoardsCut: "crosscut-first"},
		Woods: map[string]shop.Wood{"oak": {Species: "white-oak", Widest: 110 * mm, Boards: []shop.Board{
			{Thickness: 27 * mm, Width: 210 * mm, Length: 2000 * mm, Count: 1, Tone: 3, Defects: knot},
			{Thickness: 27 * mm, Width: 203 * mm, Length: 2000 * mm, Count: 1, Tone: 7, Straight: true, Cut: "rip-first"},
		}}},
	}
	w := woods(t, build.Model{Parts: []build.Part{top}}, s)
	if w.Likely != nil || len(w.Result.Short) > 0 {
		t.Fatalf("%+v", w.Result)
	}
	if err := verify.Result(*w.Job, *w.Result); err != nil {
		t.Error(err)
	}
	a, b := w.Job.Sheets[0], w.Job.Sheets[1]
	if a.Trim != (cutting.Trim{Left: 20 * mm, Right: 20 * mm, Bottom: 6 * mm}) || b.Trim != (cutting.Trim{Left: 20 * mm, Right: 20 * mm}) {
		t.Errorf("trims %+v and %+v", a.Trim, b.Trim)
	}
	if a.Order != cutting.CrosscutFirst || b.Order != cutting.RipFirst || a.Tone != 3 || len(a.Defects) != 1 {
		t.Errorf("%+v, %+v", a, b)
	}
	// What is not yield is waste of the purchase (common practice, no source):
	// two tops of 0.9 × 0.28 m out of two boards of 2 × 0.21 and 2 × 0.203 m.
	if want := 100 * 2 * 0.9 * 0.28 / (2*0.21 + 2*0.203); math.Abs(w.Yield(w.Result.Layouts...)-want) > 1e-9 || math.Abs(100-w.Waste-want) > 1e-9 {
		t.Errorf("yield %g, waste %g; want a yield of %g", w.Yield(w.Result.Layouts...), w.Waste, want)
	}
	panels := w.GluedPanels()
	if len(panels) != 2 {
		t.Fatalf("%+v", panels)
	}
	for _, p := range panels {
		if len(p.Strips) != 3 || p.Of != 2 || len(p.Boards()) != 1 {
			t.Errorf("%s: %s", p.Title(), p.Says(inches))
		}
	}
}

// Wood is paid by its measure: two small boards that take less of it come
// before one large one. Without a price fewer boards are better.
func TestLeastWoodIsBought(t *testing.T) {
	mm := unit.Millimetre
	rail := build.Part{Letter: "A", Name: "rail", Count: 2, Material: "oak", Solid: true, Length: build.Dim{Size: 900 * mm}, Width: build.Dim{Size: 90 * mm}}
	rail.Rough = &build.Rough{Length: 920 * mm, Width: 95 * mm, Thickness: 27 * mm, Class: "27 mm"}
	oak := shop.Wood{Species: "white-oak", Price: new(unit.Money(900)), Boards: []shop.Board{
		{Thickness: 27 * mm, Width: 300 * mm, Length: 2000 * mm, Count: 1, Straight: true},
		{Thickness: 27 * mm, Width: 100 * mm, Length: 1000 * mm, Count: 2, Straight: true},
	}}
	for _, c := range []struct {
		price unit.Money
		per   string
		want  int
	}{{900, "", 2}, {200_000, "cubic-metre", 2}, {0, "", 1}} {
		oak.Price, oak.Per = new(c.price), c.per
		s := shop.Shop{Saws: map[string]shop.Saw{"table": {Kind: "table", Kerf: 3 * mm}}, Woods: map[string]shop.Wood{"oak": oak}}
		if w := woods(t, build.Model{Parts: []build.Part{rail}}, s); w.Boards != c.want || !w.Result.Proven {
			t.Errorf("at %v %s: %d boards, %s", c.price, c.per, w.Boards, w.Result.Why)
		}
	}
}
