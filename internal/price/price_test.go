package price

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

func percent(v float64) *float64 { return &v }

// plain is a job whose cost is what its one line says.
func plain(cost unit.Money, r shop.Rates) Input {
	list := List{Pieces: 1, Buying: []yard.Line{{Sort: yard.PanelGoods, What: "goods", Count: 1, Each: cost, Price: cost, Charge: cost}}}
	return Input{Shop: shop.Shop{Rates: &r}, One: list, All: list}
}

// Arithmetic, worked by hand: a cost of 1000 at a margin of 40 % is 1666.67,
// at a markup of 40 % it is 1400; a margin of 40 % is a markup of 66.67 %, and
// that markup a margin of 28.57 %.
func TestMarginIsNotMarkup(t *testing.T) {
	margin := Make(plain(100000, shop.Rates{Wage: 1, Margin: percent(40)}))
	markup := Make(plain(100000, shop.Rates{Wage: 1, Markup: percent(40)}))
	if margin.All.Net != 166667 || markup.All.Net != 140000 {
		t.Errorf("at 40 %% of margin %s, of markup %s; want 1666.67 and 1400.00", margin.All.Net.Format(), markup.All.Net.Format())
	}
	if got := margin.Profit.Markup; math.Abs(got-200.0/3) > 1e-9 {
		t.Errorf("40 %% of margin is %g %% of markup", got)
	}
	if got := markup.Profit.Margin; math.Abs(got-200.0/7) > 1e-9 {
		t.Errorf("40 %% of markup is %g %% of margin", got)
	}
}

func find(fs []finding.Finding, id string) *finding.Finding {
	for i := range fs {
		if fs[i].ID == id {
			return &fs[i]
		}
	}
	return nil
}

// A price that was told with the margin's percentage added to the cost is
// found, and nothing else is called so.
func TestMarkupTakenForMargin(t *testing.T) {
	for _, c := range []struct {
		name  string
		told  unit.Money
		rates shop.Rates
		id    string
		level finding.Level
		says  string
	}{
		{"by markup", 140000, shop.Rates{Wage: 1, Margin: percent(40)}, "markup-for-margin", finding.Care, "as a margin it is 28.57 %, and EUR 266.67 short"},
		{"by markup, in round figures", 139900, shop.Rates{Wage: 1, Margin: percent(40)}, "markup-for-margin", finding.Care, "28.52 %"},
		{"too low", 150000, shop.Rates{Wage: 1, Margin: percent(40)}, "price-told", finding.Care, "EUR 166.67 below"},
		{"below cost", 99000, shop.Rates{Wage: 1, Margin: percent(40)}, "price-told", finding.Stop, "less than the cost of EUR 1000.00"},
		{"right", 166667, shop.Rates{Wage: 1, Margin: percent(40)}, "", 0, ""},
		{"more", 170000, shop.Rates{Wage: 1, Margin: percent(40)}, "", 0, ""},
		{"a markup was meant", 140000, shop.Rates{Wage: 1, Markup: percent(40)}, "", 0, ""},
	} {
		in := plain(100000, c.rates)
		in.Shop.Currency = "EUR"
		in.All.Hours = []Hours{{Name: "looking", Setup: 0}}
		in.Piece.Customer = &piece.Customer{Told: c.told}
		fs := Make(in).Findings
		if c.id == "" {
			if len(fs) != 0 {
				t.Errorf("%s: %+v", c.name, fs)
			}
			continue
		}
		f := find(fs, c.id)
		if f == nil || f.Level != c.level || !strings.Contains(f.Says, c.says) || f.Figure != "EUR "+c.told.Format() {
			t.Errorf("%s: %+v", c.name, fs)
		}
		if f != nil && c.id == "markup-for-margin" && f.Limit != "EUR 1666.67" {
			t.Errorf("%s: limit %s", c.name, f.Limit)
		}
	}
}

// A job worked by hand. Goods 100.00; 10 % of them consumables 10.00; work
// 60 + 6 × 30 = 240 min at 45.00 = 180.00; overhead 24 000.00 / 1200 h = 20.00
// an hour, 80.00; delivery 12.5 km at 0.60 = 7.50; packing 6 × 4.00; in all
// 401.50. At 30 % of margin 573.571…, for one of six 95.595 -> 95.60, 573.60
// in all; tax 19 % 108.984 -> 108.98.
func TestWorkedJob(t *testing.T) {
	hours := []Hours{{Operation: "size", Name: "sizing", Setup: 60, Run: 30}}
	in := Input{
		Piece: piece.Piece{Customer: &piece.Customer{Km: 12.5, Packing: 400}},
		Shop: shop.Shop{
			Rates: &shop.Rates{Wage: 4500, Overhead: 2400000, Billable: 1200, Margin: percent(30), Km: new(unit.Money(60)), Consumables: 10},
			Tax:   &shop.Tax{Name: "VAT", Percent: 19},
			Terms: shop.Terms{Payments: []shop.Payment{{Percent: 50, When: "now"}, {Percent: 40, When: "then"}, {Percent: 10, When: "last"}}},
		},
		All: List{Pieces: 6, Buying: []yard.Line{{Sort: yard.PanelGoods, What: "panel", Count: 2, Each: 5000, Price: 10000, Charge: 10000}}, Hours: hours},
		One: List{Pieces: 1, Buying: []yard.Line{{Sort: yard.PanelGoods, What: "panel", Count: 1, Each: 5000, Price: 5000, Charge: 5000}}, Hours: hours},
	}
	p := Make(in)
	if p.All.Cost != 40150 || p.All.Each != 9560 || p.All.Net != 57360 || p.All.Tax != 10898 || p.All.Total != 68258 {
		t.Errorf("cost %s, each %s, net %s, tax %s, total %s", p.All.Cost.Format(), p.All.Each.Format(), p.All.Net.Format(), p.All.Tax.Format(), p.All.Total.Format())
	}
	// One alone: 50.00 + 5.00 + 90 min (67.50 + 30.00) + 7.50 + 4.00 = 164.00; / 0.7 = 234.29.
	if p.One.Cost != 16400 || p.One.Net != 23429 || p.One.Hours != 1.5 || p.All.Hours != 4 {
		t.Errorf("one alone: cost %s, net %s, %g h; all %g h", p.One.Cost.Format(), p.One.Net.Format(), p.One.Hours, p.All.Hours)
	}
	want := []unit.Money{34129, 27303, 6826} // 341.29, 273.032, and the rest
	for i, x := range p.Payments {
		if x.Amount != want[i] {
			t.Errorf("payment %d is %s, want %s", i, x.Amount.Format(), want[i].Format())
		}
	}
	in.Shop.Rates.RoundUp = 500
	if p := Make(in); p.All.Each != 10000 || p.All.Net != 60000 || p.All.RoundUp != 6*440 {
		t.Errorf("up to 5.00: each %s, net %s, of it %s by rounding", p.All.Each.Format(), p.All.Net.Format(), p.All.RoundUp.Format())
	}
}

// Overhead of one person, a common example of the trade: 24 000 a year over
// 1 200 hours is 20 an hour.
func TestOverhead(t *testing.T) {
	in := Input{Shop: shop.Shop{Rates: &shop.Rates{Wage: 3000, Overhead: 2400000, Billable: 1200}}, All: List{Pieces: 1, Hours: []Hours{{Name: "x", Setup: 90}}}}
	for _, l := range Make(in).All.Lines {
		if l.Group == Overhead && (l.Each != 2000 || l.Amount != 3000) {
			t.Errorf("90 minutes of overhead are %s at %s an hour", l.Amount.Format(), l.Each.Format())
		}
	}
}

func TestOffcutsAreCredited(t *testing.T) {
	in := plain(100, shop.Rates{Wage: 1, Credit: 50})
	in.All.Panels = []yard.Panel{{
		Name: "ply", Job: cutting.Job{Sheets: []cutting.Sheet{{W: unit.MM(2000), H: unit.MM(1000), Stock: -1, Price: 10000}}},
		Result: cutting.Result{Layouts: []cutting.Layout{{Copies: 3, Offcuts: []cutting.Node{{W: unit.MM(1000), H: unit.MM(500)}}}}},
	}}
	// A quarter of the sheet at half its price, three times: 3 × 12.50.
	if got := Make(in).All.Cost; got != 100-3750 {
		t.Errorf("cost %s", got.Format())
	}
}

func TestChangesAndAfter(t *testing.T) {
	in := plain(100000, shop.Rates{Wage: 6000, Overhead: 2400000, Billable: 1200, Margin: percent(20)})
	in.Shop.Tax = &shop.Tax{Name: "VAT", Percent: 20}
	in.All.Hours = []Hours{
		{Operation: "sand", Name: "sanding", Setup: 60, SetupEach: 30, Run: 240, Unit: "m²", Units: 8, Spent: 460, Done: true},
		{Operation: "fit", Name: "fitting", Run: 60, Unit: "front", Units: 4, Spent: 30},
		{Operation: "mill", Name: "milling", Run: 60, Unit: "part", Units: 4},
	}
	in.Record.Changes = []record.Change{{What: "a drawer more", Material: 2000, Hours: 1.5, Agreed: true}, {What: "other pulls", Material: -1000}}
	in.Record.Bought = []record.Bought{{What: "goods", Key: "ply", Count: 1, Paid: 110000}, {What: "a new blade", Paid: 5000}}
	in.All.Buying[0].Key = "ply"
	p := Make(in)
	// Cost 1000 + 420 min at 60 + 20 = 560 -> 1560; / 0.8 = 1950; tax 390.
	if p.All.Cost != 156000 || p.All.Net != 195000 || p.All.Total != 234000 {
		t.Fatalf("cost %s, net %s, total %s", p.All.Cost.Format(), p.All.Net.Format(), p.All.Total.Format())
	}
	// 20 + 1.5 × 80 = 140 -> 175 net; 10 less -> 12.50 less.
	a, b := p.Changes[0], p.Changes[1]
	if a.Cost != 14000 || a.Net != 17500 || a.NewTotal != 255000 || b.Net != -1250 || b.NewTotal != 253500 || a.Total != 21000 || b.Total != -1500 {
		t.Errorf("changes %+v and %+v", a, b)
	}
	if f := find(p.Findings, "change-open"); f == nil || f.Figure != "-12.50" {
		t.Errorf("the change that nobody signed: %+v", f)
	}
	// Sanding 160 min over, at 80.00 an hour 213.33; fitting is not done and
	// within its estimate; the bill 100 over; the blade 50; estimate 1560 + 140.
	if got, want := p.After.Actual, unit.Money(170000+21333+10000+5000); got != want {
		t.Errorf("actual %s, want %s", got.Format(), want.Format())
	}
	if got, want := p.After.Margin, 100*(2125-2063.33)/2125; math.Abs(got-want) > 1e-9 {
		t.Errorf("margin %.3f %%, want %.3f", got, want)
	}
	// (460 − 60) / 8 = 50 min for each m², planned 30.
	want := "Sanding took 7.67 h against 5 h planned: 50 min for each m² instead of 30. Write {setup: 30, run: 50} under times.sand in the shop."
	if len(p.After.Lessons) != 1 || p.After.Lessons[0] != want {
		t.Errorf("lessons %q", p.After.Lessons)
	}
	// Taken to heart, the next estimate is what it took.
	in.All.Hours[0].Run = 50 * 8
	if got := in.All.Hours[0].For(1); got != 460 {
		t.Errorf("the next estimate is %d min", got)
	}
}

func TestWasteIsLearned(t *testing.T) {
	for _, c := range []struct {
		of          string
		waste       float64
		net, bought float64
		want        string
	}{
		{"purchase", 30, 30, 40, "oak: 40 board feet bought for 30 net is a waste of 25 % of the purchase; the shop says 30. Write waste-percent: 25 under woods.oak if that is usual."},
		{"net", 25, 30, 40, "oak: 40 board feet bought for 30 net is a waste of 33 % added to the net; the shop says 25. Write waste-percent: 33 under woods.oak if that is usual."},
		{"purchase", 26, 30, 40, ""},
		{"purchase", 30, 30, 0, ""},
	} {
		if got := wasted("oak", shop.Wood{Waste: c.waste, WasteOf: c.of}, c.net, c.bought, "board foot"); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

func TestNothingIsSaidWithoutRates(t *testing.T) {
	p := Make(Input{})
	if p.Known || len(p.Findings) != 0 || p.All.Net != 0 {
		t.Errorf("%+v", p)
	}
	if p = Make(Input{Piece: piece.Piece{Customer: &piece.Customer{Name: "x"}}}); find(p.Findings, "no-rates") == nil {
		t.Error("a customer without rates gets no word")
	}
}

func TestMissingPricesAreNamed(t *testing.T) {
	in := plain(0, shop.Rates{Wage: 1, Margin: percent(10)})
	if f := find(Make(in).Findings, "no-price"); f == nil || !strings.Contains(f.Says, "goods") {
		t.Errorf("%+v", f)
	}
	if find(Make(in).Findings, "no-hours") == nil {
		t.Error("a price without hours is not remarked on")
	}
}

// draw makes a job: any goods, hours, rates within the limits of the document.
func draw(t *rapid.T) Input {
	cents := func(name string, most int64) unit.Money { return unit.Money(rapid.Int64Range(0, most).Draw(t, name)) }
	share := func(name string, most int) float64 { return float64(rapid.IntRange(0, most*100).Draw(t, name)) / 100 }
	r := shop.Rates{Wage: cents("wage", 20000), Overhead: cents("overhead", 1e7), Billable: rapid.IntRange(1, 3000).Draw(t, "billable"), Contingency: share("contingency", 50), Consumables: share("consumables", 50), Km: new(cents("km", 500))}
	switch rapid.IntRange(0, 2).Draw(t, "profit") {
	case 0:
		r.Margin = percent(share("margin", 95))
	case 1:
		r.Markup = percent(share("markup", 500))
	}
	if rapid.Bool().Draw(t, "steps") {
		r.RoundUp = cents("step", 5000)
	}
	in := Input{Shop: shop.Shop{Rates: &r, Tax: &shop.Tax{Percent: share("tax", 40)}}}
	in.Piece.Customer = &piece.Customer{Packing: cents("packing", 5000), Km: share("way", 300)}
	for i := range rapid.IntRange(0, 5).Draw(t, "operations") {
		in.All.Hours = append(in.All.Hours, Hours{Name: string(rune('a' + i)), Setup: rapid.Int64Range(0, 300).Draw(t, "setup"), Run: rapid.Float64Range(0, 300).Draw(t, "run")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "outside") {
		in.Piece.Customer.Outside = append(in.Piece.Customer.Outside, piece.Outside{What: "x", Price: new(cents("outside price", 1e5)), Once: rapid.Bool().Draw(t, "once")})
	}
	for left := 10000; left > 0; {
		p := rapid.IntRange(1, left).Draw(t, "payment")
		in.Shop.Terms.Payments = append(in.Shop.Terms.Payments, shop.Payment{Percent: float64(p) / 100})
		left -= p
		if len(in.Shop.Terms.Payments) == 9 && left > 0 {
			in.Shop.Terms.Payments[8].Percent += float64(left) / 100
			break
		}
	}
	return in
}

// batch lists goods for n pieces: whole packs of so many pieces each.
func batch(t *rapid.T, most int) func(n int) List {
	each := unit.Money(rapid.Int64Range(1, 1e5).Draw(t, "pack price"))
	per := rapid.IntRange(1, most).Draw(t, "pieces to the pack")
	return func(n int) List {
		packs := (n + per - 1) / per
		price := each * unit.Money(packs)
		return List{Pieces: n, Buying: []yard.Line{{Sort: yard.PanelGoods, What: "p", Count: float64(packs), Each: each, Price: price, Charge: price}}}
	}
}

func TestSumsAddUpToTheCent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		hours := in.All.Hours
		in.All, in.One = batch(t, 7)(rapid.IntRange(1, 50).Draw(t, "n")), List{Pieces: 1}
		in.All.Hours, in.One.Hours = hours, hours
		p := Make(in)
		for _, s := range []Sum{p.One, p.All} {
			sum := unit.Money(0)
			for _, l := range s.Lines {
				sum += l.Amount
			}
			if sum != s.Cost || s.Cost+s.Earned != s.Net || s.Each*unit.Money(s.Pieces) != s.Net || s.Net+s.Tax != s.Total {
				t.Fatalf("%+v does not add up: lines %d", s, sum)
			}
		}
		paid := unit.Money(0)
		for _, x := range p.Payments {
			paid += x.Amount
		}
		if paid != p.All.Total {
			t.Fatalf("payments of %d on %d", paid, p.All.Total)
		}
	})
}

// The price of one lies within half a cent of the exact quotient, in rational
// numbers; so a margin is a margin whatever the figures.
func TestProfitIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost, n := rapid.Int64Range(0, 1e11).Draw(t, "cost"), rapid.IntRange(1, 1000).Draw(t, "n")
		hundredths := rapid.Int64Range(0, 9500).Draw(t, "percent × 100")
		p := float64(hundredths) / 100
		check := func(got unit.Money, exact *big.Rat) {
			off := new(big.Rat).Sub(exact, new(big.Rat).SetInt64(int64(got)))
			if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
				t.Fatalf("%d at %g %%, %d pieces: %d, off by %s cents", cost, p, n, got, off.FloatString(3))
			}
		}
		of := new(big.Rat).SetFrac64(cost, int64(n))
		m := big.NewRat(hundredths, 10000)
		one := big.NewRat(1, 1)
		check(profitOf(shop.Rates{Margin: &p}).price(unit.Money(cost), n), new(big.Rat).Quo(of, new(big.Rat).Sub(one, m)))
		check(profitOf(shop.Rates{Markup: &p}).price(unit.Money(cost), n), new(big.Rat).Mul(of, new(big.Rat).Add(one, m)))
	})
}

// More pieces never cost less in all, and each never costs more work than one
// alone: setups come once.
func TestPriceGrowsWithTheBatch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		in.Piece.Customer.Packing += 2000 // a piece more is worth more than the cents that rounding the price of one may take
		hours, goods := in.All.Hours, batch(t, 7)
		list := func(n int) List { l := goods(n); l.Hours = hours; return l }
		n := rapid.IntRange(1, 60).Draw(t, "n")
		in.One = list(1)
		in.All = list(n)
		a := Make(in)
		in.All = list(n + 1)
		b := Make(in)
		if b.All.Cost < a.All.Cost || b.All.Hours < a.All.Hours {
			t.Fatalf("%d cost %d in %g h, %d cost %d in %g h", n, a.All.Cost, a.All.Hours, n+1, b.All.Cost, b.All.Hours)
		}
		if in.Shop.Rates.RoundUp == 0 && b.All.Net < a.All.Net {
			t.Fatalf("%d at %d, %d at %d", n, a.All.Net, n+1, b.All.Net)
		}
		// Each operation is counted in whole minutes, so either side may be half a minute off.
		slack := float64(len(hours)) * float64(n+2) * 0.5 / 60
		if b.All.Hours > float64(n+1)*b.One.Hours+slack+1e-9 {
			t.Fatalf("%d take %g h, one takes %g", n+1, b.All.Hours, b.One.Hours)
		}
	})
}
