package drawing

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

// boxes are the rectangles of all type among the items.
func boxes(items []Item) []Rect {
	var out []Rect
	for _, it := range items {
		if t, ok := it.(Text); ok {
			out = append(out, t.bounds())
		}
	}
	return out
}

// No two figures of a view's chains overlap, whatever the sizes, the scale and
// the units, and all of them lie within the box that the view says it takes.
func TestFiguresNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Custom(func(t *rapid.T) unit.Length {
			return unit.Length(rapid.Int64Range(100, 600_000).Draw(t, "µm")) * unit.Micrometre
		})
		v := View{}
		var w, h unit.Length
		for i := range rapid.IntRange(1, 4).Draw(t, "chains") {
			stops := []unit.Length{0}
			for _, d := range rapid.SliceOfN(size, 1, 14).Draw(t, "sizes") {
				stops = append(stops, stops[len(stops)-1]+d)
			}
			side := Side(rapid.IntRange(0, 1).Draw(t, "side"))
			if side == Below {
				w = max(w, stops[len(stops)-1])
			} else {
				h = max(h, stops[len(stops)-1])
			}
			_ = i
			v.Chains = append(v.Chains, ChainOf(side, stops...))
		}
		v.Items = []Item{Box(PenOutline, Rect{0, 0, max(w, 10*unit.Millimetre).MM(), max(h, 10*unit.Millimetre).MM()})}
		o := Options{
			Units:  rapid.SampledFrom([]unit.System{unit.Metric, unit.Imperial}).Draw(t, "units"),
			Single: rapid.Bool().Draw(t, "single"),
		}
		k := rapid.SampledFrom(o.scales()).Draw(t, "scale").Ratio()
		items, box := v.at(k, o)
		rs := boxes(items)
		for i, r := range rs {
			if !box.Holds(r) {
				t.Fatalf("figure %v outside %v", r, box)
			}
			for _, s := range rs[:i] {
				if r.Overlaps(s) {
					t.Fatalf("figures overlap: %v and %v", r, s)
				}
			}
		}
	})
}

// Figures that are moved out keep their order, so leaders do not cross.
func TestMovedFiguresKeepTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "n")
		figs := make([]figure, n)
		idx := make([]int, n)
		x := 0.0
		for i := range figs {
			x += rapid.Float64Range(0.1, 30).Draw(t, "gap")
			figs[i] = figure{mid: x, width: rapid.Float64Range(1, 25).Draw(t, "width")}
			idx[i] = i
		}
		spread(figs, idx, -5)
		for i := range figs {
			if i > 0 && figs[i].at-figs[i].width/2 < figs[i-1].at+figs[i-1].width/2+2*dimPad-1e-9 {
				t.Fatalf("%v and %v stand too close", figs[i-1], figs[i])
			}
			if figs[i].at-figs[i].width/2 < -5-1e-9 {
				t.Fatalf("%v begins before the end", figs[i])
			}
		}
	})
}

// The placing of a chain, as text: 18, 464 and 18 at 1:10 leave no room for the
// thin ones, so they go out; each side stands at its own middle.
func TestChainGolden(t *testing.T) {
	c := ChainOf(Below, 0, unit.MM(18), unit.MM(482), unit.MM(500))
	o := Options{Single: true}
	figs := make([]figure, len(c.Dims))
	gaps := make([]float64, len(c.Dims))
	for i, d := range c.Dims {
		figs[i] = o.figure(d)
		figs[i].mid, gaps[i] = (d.From+d.To)/20, (d.To-d.From)/10
	}
	layOut(figs, gaps, -100)
	got := ""
	for _, f := range figs {
		got += fmt.Sprintf("%s at %.2f out %t\n", f.master.S, f.at, f.out)
	}
	want := "18 at 0.90 out true\n464 at 25.00 out false\n18 at 49.10 out true\n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestSizeShowsBothUnits(t *testing.T) {
	for _, c := range []struct {
		o             Options
		size          unit.Length
		master, other string
	}{
		{Options{}, unit.MM(302.4), "302.4", "(≈11-29/32)"},
		{Options{}, unit.MM(464), "464", "(≈18-9/32)"},
		{Options{Units: unit.Imperial}, 17*unit.Inch + unit.Inch/8, "17-1/8", "(435)"},
		{Options{Units: unit.Imperial, Inches: unit.Inch64ths}, unit.Inch64, "1/64", "(0.4)"},
		{Options{Single: true}, unit.MM(0.5), "0.5", ""},
	} {
		if m, n := c.o.Size(c.size); m != c.master || n != c.other {
			t.Errorf("%v: %q %q, want %q %q", c.size, m, n, c.master, c.other)
		}
	}
}
