package yard_test

import (
	"context"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
	"casewright/internal/yard"
)

// Arithmetic: 30 net with 25 % of the purchase lost is 40, with 25 % added
// 37.5. Trade custom names both, so the shop says which it means.
func TestWasteIsNamed(t *testing.T) {
	for _, c := range []struct {
		of   string
		want float64
	}{{"purchase", 40}, {"net", 37.5}, {"", 40}} {
		if got := yard.Purchase(30, 25, c.of); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("30 net at 25 %% of %s is %g, want %g", c.of, got, c.want)
		}
	}
}

// A board foot is 144 cubic inches. Tally rule of the trade: thickness × width
// × length, worked by hand.
func TestBoardFeet(t *testing.T) {
	for _, c := range []struct{ thick, wide, long, want float64 }{
		{1, 8, 96, 16.0 / 3}, {1.25, 6, 120, 6.25},
	} {
		if got := wood.BoardFeet(unit.In(c.thick), unit.In(c.wide), unit.In(c.long)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g × %g × %g in is %g board feet, want %g", c.thick, c.wide, c.long, got, c.want)
		}
	}
	if got := float64(unit.BoardFoot) * 1e6; math.Abs(got-2359.737216) > 1e-9 { // in³ are exact
		t.Errorf("a board foot is %.6f cm³", got)
	}
	if got := unit.Volume(1).BoardFeet(); math.Abs(got-423.7760) > 5e-5 {
		t.Errorf("1 m³ is %.4f board feet", got)
	}
}

func show(l unit.Length) string { return l.Format(unit.TenthMM) }

func goods(t testing.TB, name string, pieces int) yard.Goods {
	t.Helper()
	open := func(file string) *os.File {
		f, err := os.Open("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, open(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, open(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := build.Make(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	g := yard.Goods{Piece: p, Shop: s, Model: m, Pieces: pieces, Show: show}
	budget := cutting.Budget{Iterations: 200}
	if g.Panels, err = yard.Panels(context.Background(), m, p, pieces, s, record.Record{}, budget); err != nil {
		t.Fatal(err)
	}
	if g.Woods, err = yard.Woods(context.Background(), m, pieces, s, record.Record{}, budget); err != nil {
		t.Fatal(err)
	}
	return g
}

func line(t testing.TB, list []yard.Line, what string) yard.Line {
	t.Helper()
	i := slices.IndexFunc(list, func(l yard.Line) bool { return strings.Contains(l.What, what) })
	if i < 0 {
		t.Fatalf("no %s on the list", what)
	}
	return list[i]
}

// Six shells of 495.3 mm lie three to a panel of 1505 usable, 12.7 mm left
// over, so two panels of the six are for shells (geometry).
func TestWholePanelsForABatch(t *testing.T) {
	one, six := yard.Buy(goods(t, "clinic-cabinet", 1)), yard.Buy(goods(t, "clinic-cabinet", 6))
	a, b := line(t, one, "15 mm, 11 plies"), line(t, six, "15 mm, 11 plies")
	if a.Count != math.Trunc(a.Count) || b.Count >= 6*a.Count || b.Count < 2 {
		t.Errorf("%g panels for one and %g for six", a.Count, b.Count)
	}
	for _, l := range six {
		if l.Price != yard.Cost(l.Each, l.Count) || l.Charge != l.Price {
			t.Errorf("%s: %g at %s is not %s", l.What, l.Count, l.Each.Format(), l.Price.Format())
		}
		if strings.HasPrefix(l.Unit, "pack of") && l.Count != math.Trunc(l.Count) {
			t.Errorf("%s: %g packs", l.What, l.Count)
		}
	}
}

// Boards picked at the yard are bought whole: their volume is the tally of
// each board, whatever becomes of it.
func TestWholeBoards(t *testing.T) {
	g := goods(t, "chest", 1)
	i := slices.IndexFunc(g.Woods, func(w yard.Wood) bool { return w.Key == "cherry" })
	w := g.Woods[i]
	if len(w.Result.Short) > 0 {
		t.Fatalf("the boards of the demo do not give all parts: %+v", w.Result.Short)
	}
	want := 0.0
	for _, l := range w.Result.Layouts {
		sheet := w.Job.Sheets[l.Sheet]
		want += float64(l.Copies) * sheet.W.In() * sheet.H.In() / 144 // all an inch thick
	}
	if math.Abs(w.Buy-want) > 1e-9 || w.WasteOf != "boards" {
		t.Errorf("whole boards hold %.4f board feet of %s, want %.4f", w.Buy, w.WasteOf, want)
	}
	if got := w.Net / (1 - w.Waste/100); math.Abs(got-w.Buy) > 1e-9 {
		t.Errorf("a waste of %.2f %% of the purchase does not lead from net %.3f to %.3f", w.Waste, w.Net, w.Buy)
	}
}

func TestScrewsComeInPacks(t *testing.T) {
	g := goods(t, "record-cabinet", 1)
	g.Model.Screws = []build.ScrewUse{
		{Count: 61, Diameter: unit.MM(4), Length: unit.MM(16)},
		{Count: 30, Diameter: unit.MM(4), Length: unit.MM(16)},
		{Count: 8, Diameter: unit.MM(6), Length: unit.MM(16)},
	}
	g.Shop.Hardware = map[string]shop.Hardware{"s": {Kind: "screw", Name: "a screw", Gauge: 8, Length: unit.MM(16), Pack: 100, Price: new(unit.Money(490))}}
	g.Model.Hardware, g.Panels, g.Woods = nil, nil, nil
	list := yard.Buy(g)
	if l := line(t, list, "a screw"); l.Need != 91 || l.Spare != 10 || l.Count != 2 || l.Unit != "pack of 100" || l.Price != 980 {
		t.Errorf("91 screws and a tenth spare: %+v", l) // 101 do not come out of one pack
	}
	if l := line(t, list, "6 mm"); l.Need != 8 || l.Count != 9 || l.Unit != "piece" || l.Price != 0 {
		t.Errorf("a screw that the shop does not list: %+v", l)
	}
}

func TestPanelsOnHandAreCharged(t *testing.T) {
	g := goods(t, "record-cabinet", 1)
	stock := g.Shop.Panels["oak-6"]
	stock.Sheets = slices.Clone(stock.Sheets)
	stock.Sheets[0].OnHand = 1
	g.Shop.Panels["oak-6"] = stock
	var err error
	if g.Panels, err = yard.Panels(context.Background(), g.Model, g.Piece, 1, g.Shop, record.Record{}, cutting.Budget{Iterations: 200}); err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(yard.Buy(g), func(l yard.Line) bool { return l.Key == "oak-6" }) {
		t.Error("a panel is bought though one lies in the shop")
	}
	if l := line(t, yard.OnHand(g.Panels, g.Shop, show), "6 mm"); l.Price != 0 || l.Charge != *stock.Sheets[0].Price {
		t.Errorf("from stock: %+v", l)
	}
}

// The list never has less than is needed, and with waste of purchase the net
// share of what is bought is never more than the shop says.
func TestEnoughIsBought(t *testing.T) {
	g := goods(t, "clinic-cabinet", 1)
	rapid.Check(t, func(t *rapid.T) {
		g.Pieces = rapid.IntRange(1, 40).Draw(t, "pieces")
		g.Shop.Habits.Spares = float64(rapid.IntRange(0, 100).Draw(t, "spares"))
		for _, l := range yard.Buy(yard.Goods{Piece: g.Piece, Shop: g.Shop, Model: g.Model, Pieces: g.Pieces, Show: show}) {
			have := l.Count
			if h := g.Shop.Hardware[l.Key]; h.Pack > 1 {
				have *= float64(h.Pack)
			}
			if have < l.Need || l.Price < 0 {
				t.Fatalf("%s: %g bought, %g needed", l.What, have, l.Need)
			}
		}
		net, w := rapid.Float64Range(0.01, 100).Draw(t, "net"), rapid.Float64Range(0, 79).Draw(t, "waste")
		if of, added := yard.Purchase(net, w, "purchase"), yard.Purchase(net, w, "net"); of < added-1e-9 || added < net-1e-9 {
			t.Fatalf("net %g at %g %%: %g of purchase, %g added", net, w, of, added)
		}
	})
}

// What is made in the shop needs no price, and what was had for nothing has one;
// anything else without one is told.
func TestTotal(t *testing.T) {
	sum, unpriced := yard.Total([]yard.Line{
		{Each: 500, Price: 500},
		{Made: true},
		yard.Line{}.At(nil),
		{Each: 250, Price: 250},
		yard.Line{}.At(new(unit.Money(0))),
	})
	if sum != 750 || unpriced != 1 {
		t.Errorf("%v and %d lines without a price, want 750 and 1", sum, unpriced)
	}
}

// What is bought of a wood is rounded once, up to tenths of a board foot (or
// thousandths of a cubic metre), and the reason has figures from which what
// the pieces are charged can be worked out again.
func TestWoodIsRoundedOnceAndUp(t *testing.T) {
	reason := regexp.MustCompile(`charged: net ([0-9.]+) / ([0-9.]+), 30 % lost, rounded up: ([0-9.]+) (board f|m³)`)
	for _, per := range []string{"", "cubic-metre"} {
		g := goods(t, "record-cabinet", 1)
		oak := g.Shop.Woods["white-oak"]
		oak.Per = per
		g.Shop.Woods["white-oak"] = oak
		for _, w := range g.Woods {
			of, parts, l := w.Buy, 10.0, line(t, yard.Buy(g), "white oak "+w.Class)
			if per != "" {
				of, parts = float64(w.BuyM3), 1000
			}
			if l.Count < of-1e-9 || l.Count >= of+1/parts || math.Abs(l.Count*parts-math.Round(l.Count*parts)) > 1e-9 {
				t.Errorf("%s %s: %g are bought for %g", w.Class, per, l.Count, of)
			}
			if per == "" && l.Count != w.Feet() || per != "" && l.Count != w.Cubic() {
				t.Errorf("%s: the list has %g, texts %g and %g", w.Class, l.Count, w.Feet(), w.Cubic())
			}
			m := reason.FindStringSubmatch(l.Why)
			if m == nil {
				t.Errorf("%s: %s", w.Class, l.Why)
				continue
			}
			net, _ := strconv.ParseFloat(m[1], 64)
			kept, _ := strconv.ParseFloat(m[2], 64)
			if got := strconv.FormatFloat(math.Ceil(net/kept*parts-1e-9)/parts, 'f', -1, 64); got != m[3] || l.Charged > l.Count {
				t.Errorf("%s: worked out again it is %s: %s", w.Class, got, l.Why)
			}
		}
	}
}

// TestMadeIsNotBought: what the shop makes itself is no line to buy.
func TestMadeIsNotBought(t *testing.T) {
	if n := yard.ToBuy([]yard.Line{{What: "pull"}, {What: "loose tenon", Made: true}, {What: "glue"}}); n != 2 {
		t.Errorf("%d lines to buy, want 2", n)
	}
}
