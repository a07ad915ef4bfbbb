package cutting

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"casewright/internal/unit"
)

// panelMM is a panel in whole millimetres.
func panelMM(w, h int, price unit.Money, stock int) Sheet {
	return Sheet{W: unit.Length(w) * unit.Millimetre, H: unit.Length(h) * unit.Millimetre, Price: price, Stock: stock}
}

func itemMM(w, h, qty int) Item {
	return Item{W: unit.Length(w) * unit.Millimetre, H: unit.Length(h) * unit.Millimetre, Qty: qty}
}

// Every form in which a bound is told, as the maker reads it after "No layout
// needs less:". GOLDEN=write go test writes the file anew; read the difference.
func TestWhyInWords(t *testing.T) {
	one := &problem{value: FewestSheets, sheets: []psheet{{w: 100, h: 100, price: 1, stock: 50}}}
	dear := &problem{value: LeastPrice, sheets: []psheet{{w: 100, h: 100, price: 8000, stock: 50}}}
	stripped := &problem{value: FewestSheets, sheets: []psheet{{w: 2, h: 2, full: 6.25, price: 1, stock: 50}}}
	many := &problem{value: FewestSheets, sheets: []psheet{{w: 100, h: 100, price: 1, stock: 50}, {w: 50, h: 50, price: 1, stock: 2}}}
	left := &problem{value: FewestSheets, sheets: []psheet{{w: 100, h: 100, price: 1, stock: 50}, {w: 50, h: 50, stock: 2}}}
	mixed := &problem{value: LeastPrice, sheets: []psheet{{w: 100, h: 100, price: 8000, stock: 50}, {w: 50, h: 50, price: 2500, stock: 50}}}
	staged := &problem{value: FewestSheets, depth: 2, sheets: one.sheets}
	ripped := &problem{value: FewestSheets, depth: 2, run: Lengthwise, sheets: one.sheets}
	forms := []struct{ when, says string }{
		{"nothing to cut", whyNothing},
		{"all from what costs nothing", whyFree},
		{"tried outright", whyAll},
		{"area, less than one panel", one.whyArea(0.634)},
		{"area, one panel exactly", one.whyArea(1)},
		{"area", one.whyArea(2.3123)},
		{"area, just above a whole number", one.whyArea(2.001)},
		{"area, just below a whole number", one.whyArea(2.998)},
		{"area, priced panels of one size", dear.whyArea(2.3123 * 8000)},
		{"area, several sizes", many.whyArea(2.3123)},
		{"area, several sizes, by price", mixed.whyArea(18312.2)},
		{"lengths and widths counted", one.whyCounted(inARow, inARow, 1.1)},
		{"lengths and widths counted", one.whyCounted(inARow, asTheyAre, 2.25)},
		{"lengths and widths counted", one.whyCounted(asWhole, inARow, 3.5)},
		{"lengths and widths counted", dear.whyCounted(asTheyAre, asWhole, 2.5)},
		{"pattern model", one.whyPatterns(2.083)},
		{"pattern model, one panel is enough", one.whyPatterns(0.917)},
		{"pattern model, priced panels of one size", dear.whyPatterns(2.083 * 8000)},
		{"pattern model, offcuts on hand", left.whyPatterns(1.4)},
		{"pattern model, several sizes, by price", mixed.whyPatterns(18312.2)},
		{"mixes by area, several sizes", many.whyLots(3)},
		{"mixes by area, offcuts on hand", left.whyLots(1)},
		{"mixes by area, by price", mixed.whyLots(18500)},
		{"mixes ruled out, several sizes", many.whyMixes(3)},
		{"mixes ruled out, offcuts on hand", left.whyMixes(2)},
		{"mixes ruled out, by price", mixed.whyMixes(18500)},
		{"fewer ruled out", whyFewer(1)},
		{"fewer ruled out", whyFewer(7)},
		{"two stages, tried outright", staged.inStages(whyAll)},
		{"two stages, area", staged.inStages(staged.whyArea(2.3123))},
		{"two stages, pattern model", staged.inStages(staged.whyPatterns(2.083))},
		{"two stages, fewer ruled out", staged.inStages(whyFewer(7))},
		{"two stages, by price", staged.inStages(mixed.whyMixes(18500))},
		{"two stages, strips counted", staged.inStages(staged.whyStrips(3))},
		{"two stages, strips counted, by price", staged.inStages(mixed.whyStrips(18500))},
		{"strips lengthwise, strips counted", ripped.inStages(ripped.whyStrips(3))},
		{"strips lengthwise, tried outright", ripped.inStages(whyAll)},
		{"strips lengthwise, fewer ruled out", ripped.inStages(whyFewer(7))},
		{"clear wood", many.whyClear(0.4)},
		{"clear wood", many.whyClear(2.31)},
		{"clear wood, by price", mixed.whyClear(18312.2)},
		{"a strip is left over", stripped.whyArea(2.25)},
		{"height, by area", whyHeight},
		{"height, the highest part", whyHighest},
		{"height, a stack", whyStacked},
	}
	var b strings.Builder
	for _, f := range forms {
		fmt.Fprintf(&b, "%s:\n  %s.\n", f.when, Result{Why: f.says}.Because("panel"))
	}
	const name = "testdata/why.txt"
	if os.Getenv("GOLDEN") == "write" {
		if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the words differ from %s:\n%s", name, b.String())
	}
}

// Solve gives each of these reasons for some job, with the right figure.
func TestWhyOfJobs(t *testing.T) {
	var pairs []Item // seven half panels, of 14 sizes: too many to try outright
	for i := range 7 {
		pairs = append(pairs, itemMM(500, 120+11*i, 1), itemMM(500, 880-11*i, 1))
	}
	for _, c := range []struct {
		name string
		job  Job
		want string
	}{
		{
			"area",
			Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1)}, Items: []Item{itemMM(500, 500, 9)}},
			"the parts with their kerfs alone fill 2.25 panels, so 2 cannot be enough",
		},
		{
			"a strip is left",
			Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1)}, Items: []Item{itemMM(400, 400, 9)}},
			"a strip of every panel is left over in any layout, and of the rest the parts fill 2.25 panels, so 2 cannot be enough",
		},
		{"nothing", Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1)}}, whyNothing},
		{
			"offcuts",
			Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1), {W: unit.Metre, H: unit.Metre, Stock: 1, Offcut: true}}, Items: []Item{itemMM(500, 500, 3)}},
			"the panels on hand that cost nothing might be enough",
		},
		{
			"mixes",
			Job{Objective: LeastPrice, Sheets: []Sheet{panelMM(1000, 1000, 7000, -1), panelMM(500, 1000, 4000, -1)}, Items: pairs},
			"every mix of panels with the area of the parts costs 250.00 or more",
		},
		{
			"long parts",
			Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1)}, Items: []Item{itemMM(601, 303, 4), itemMM(97, 97, 1)}},
			"counting long parts as filling the whole length and widths by how many fit in a row, the parts fill 1.33 panels, so 1 cannot be enough",
		},
		{
			"outright",
			Job{Sheets: []Sheet{panelMM(1000, 1000, 0, -1)}, Items: []Item{itemMM(600, 400, 2), itemMM(400, 600, 2)}},
			whyAll,
		},
	} {
		r, err := Solve(context.Background(), c.job, Budget{Iterations: 5000})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Because("panel"); got != c.want {
			t.Errorf("%s: %s; want %s", c.name, got, c.want)
		}
	}
}
