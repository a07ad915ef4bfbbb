package plan_test

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/finding"
	"casewright/internal/price"
	"casewright/internal/record"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// The demos are priced whole: every line has its price, hours are known, and
// nothing is told that the shop's margin does not carry.
func TestDemosArePriced(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		out := make1(t, p, s, record.Record{}, 200)
		if !out.Price.Known || len(out.Price.Findings) != 0 {
			t.Errorf("%s: %+v", name, out.Price.Findings)
		}
		got := price.MarginOf(out.Price.All.Net, out.Price.All.Cost)
		if want := *s.Rates.Margin; got < want-0.01 || got > want+2 { // rounded up to whole money
			t.Errorf("%s: a margin of %.2f %%, the shop wants %g", name, got, want)
		}
		if out.Price.All.Hours < 5 || out.Price.All.Material <= 0 {
			t.Errorf("%s: %g hours, goods of %s", name, out.Price.All.Hours, out.Price.All.Material.Format())
		}
		minutes := 0.0
		for _, h := range out.Route.Hours {
			minutes += float64(h.For(p.Count))
		}
		if math.Abs(minutes/60-out.Price.All.Hours) > 1e-9 {
			t.Errorf("%s: the route takes %g h, the price counts %g", name, minutes/60, out.Price.All.Hours)
		}
	}
}

// A quote by markup where a margin was meant: with 20 % put on the cost, the
// price is a sixth of itself over the cost, not a fifth (arithmetic).
func TestQuoteByMarkupIsFound(t *testing.T) {
	p, s := open(t, "record-cabinet")
	cost := make1(t, p, s, record.Record{}, 200).Price.All.Cost
	c := *p.Customer
	c.Told = cost.Share(120, 100)
	p.Customer = &c
	out := make1(t, p, s, record.Record{}, 200)
	f := find(out.Findings, "markup-for-margin")
	if f == nil || f.Level != finding.Care || !strings.Contains(f.Says, "as a margin it is 16.67 %") || f.Limit != "EUR "+cost.Share(100, 80).Format() {
		t.Fatalf("%+v", f)
	}
	c.Told = cost.Share(100, 80)
	if f := find(make1(t, p, s, record.Record{}, 200).Findings, "markup-for-margin"); f != nil {
		t.Errorf("a price by margin is taken for one by markup: %+v", f)
	}
}

// Six cabinets are set up for once: the work of six is the setups and six
// runs, and less than six times that of one alone. Two panels carry six shells where one
// carries three, so goods are shared too.
func TestBatchOfSixIsSetUpOnce(t *testing.T) {
	p, s := open(t, "clinic-cabinet")
	out := make1(t, p, s, record.Record{}, 200)
	one, six := out.Price.One, out.Price.All
	if one.Pieces != 1 || six.Pieces != 6 || six.Each*6 != six.Net {
		t.Fatalf("%d and %d pieces, %s each", one.Pieces, six.Pieces, six.Each.Format())
	}
	setup, run := 0.0, 0.0
	for _, h := range out.Route.Hours {
		setup += float64(h.Setup) / 60
		run += h.Each / 60
	}
	slack := float64(len(out.Route.Hours)) / 60 // each operation is rounded up to a minute
	if one.Hours < run || six.Hours >= 6*one.Hours {
		t.Errorf("one alone takes %g h, six %g", one.Hours, six.Hours)
	}
	if d := six.Hours - setup - 6*run; d < -1e-9 || d > slack {
		t.Errorf("six take %g h, setups %g and six runs of %g", six.Hours, setup, run)
	}
	if six.Each >= one.Net || six.Net <= one.Net {
		t.Errorf("one alone %s, of six each %s, all %s", one.Net.Format(), six.Each.Format(), six.Net.Format())
	}
	// The price for one is that of a plan for one.
	p.Count = 1
	if alone := make1(t, p, s, record.Record{}, 200).Price.All; alone.Net != one.Net || alone.Cost != one.Cost {
		t.Errorf("one alone: %s beside six, %s by itself", one.Net.Format(), alone.Net.Format())
	}
}

// The chest is quoted for one, with what goes with storage for clothes.
func TestChestForOne(t *testing.T) {
	p, s := open(t, "chest")
	out := make1(t, p, s, record.Record{}, 200)
	if out.Price.All.Pieces != 1 || out.Price.One.Net != out.Price.All.Net {
		t.Errorf("%d pieces", out.Price.All.Pieces)
	}
	for _, kind := range []string{"restraint", "label", "interlock"} {
		if !slices.ContainsFunc(out.Buying, func(l yard.Line) bool { return l.Key == kind && l.Count == 1 }) {
			t.Errorf("no %s to buy", kind)
		}
	}
}

// A quote is for the whole piece, however far the work has come.
func TestQuoteStandsWhileWorkGoesOn(t *testing.T) {
	p, s := open(t, "record-cabinet")
	before := make1(t, p, s, record.Record{}, 200)
	after := make1(t, p, s, record.Record{Cut: []record.Cut{{Part: before.Model.Parts[0].Letter, Count: before.Model.Parts[0].Count}}}, 200)
	if before.Price.All.Net != after.Price.All.Net {
		t.Errorf("quoted %s, after the first part is cut %s", before.Price.All.Net.Format(), after.Price.All.Net.Format())
	}
	bought := func(ls []yard.Line) (sum unit.Money) {
		for _, l := range ls {
			sum += l.Price
		}
		return
	}
	if bought(after.Buying) >= bought(before.Buying) {
		t.Error("parts that are cut are bought again")
	}
}

// Kerfs of the clinic cabinet stay open: what fills them is bought as a line of
// its own, as much as its glue-up asks for, and is no part of the other glue.
func TestFillerIsBought(t *testing.T) {
	p, s := open(t, "clinic-cabinet")
	out := make1(t, p, s, record.Record{}, 0)
	grams, rest := 0.0, 0.0
	for _, g := range out.Route.Glueups {
		if g.Filler {
			grams += g.GlueGrams * float64(g.Repeat)
		} else {
			rest += g.GlueGrams * float64(g.Repeat)
		}
	}
	for key, want := range map[string]float64{"filler": grams, "glue": rest} {
		i := slices.IndexFunc(out.Buying, func(l yard.Line) bool { return l.Key == key })
		if i < 0 || want <= 0 || math.Abs(out.Buying[i].Need*1000-want) > 1 {
			t.Errorf("%s: want %.1f g of it, got %+v", key, want, out.Buying)
		}
	}
}

// A price of 0 is one: what a maker has for nothing is charged with nothing and
// is not told as wanting a price; what has no price written is.
func TestFreeIsNotUnknown(t *testing.T) {
	p, s := open(t, "record-cabinet")
	for _, c := range []struct {
		price   *unit.Money
		unknown bool
	}{{new(unit.Money(0)), false}, {nil, true}} {
		s.Hardware, s.Bands, s.Supplies = maps.Clone(s.Hardware), maps.Clone(s.Bands), maps.Clone(s.Supplies)
		pull, wax := s.Hardware["bar-pull"], s.Supplies["glue"]
		pull.Price, wax.Price = c.price, c.price
		s.Hardware["bar-pull"], s.Supplies["glue"] = pull, wax
		panel := s.Panels["oak-6"]
		panel.Sheets = slices.Clone(panel.Sheets)
		for i := range panel.Sheets {
			panel.Sheets[i].Price = c.price
		}
		s.Panels["oak-6"] = panel
		out := make1(t, p, s, record.Record{}, 200)
		seen := 0
		for _, l := range out.Buying {
			if l.Key != "bar-pull" && l.Key != "glue" && l.Key != "oak-6" {
				continue
			}
			seen++
			if l.Unpriced() != c.unknown || l.Free == c.unknown || l.Charge != 0 {
				t.Errorf("%s: %+v", l.What, l)
			}
		}
		if f := find(out.Price.Findings, "no-price"); seen != 3 || (f != nil) != c.unknown || c.unknown && f.Figure != "3" {
			t.Errorf("%d lines; a price left out: %v, told %+v", seen, c.unknown, f)
		}
	}
}
