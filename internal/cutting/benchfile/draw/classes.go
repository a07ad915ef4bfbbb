package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"casewright/internal/cutting/benchfile"
)

// class draws a problem of one of the ten classes of two-dimensional bin
// packing: 1 to 6 have sides drawn evenly up to a limit, 7 to 10 mix four
// kinds of parts (wide, high, large, small), seven in ten of one kind.
func class(r *rand.Rand, number, pieces int) *benchfile.Instance {
	side := []int64{10, 30, 40, 100, 100, 300, 100, 100, 100, 100}[number-1]
	in := &benchfile.Instance{
		Kind: "2d", Objective: "sheets", Set: "DRAWN", Source: "drawn at random",
		Sheets: []benchfile.Stock{{ID: "S1", W: side, H: side, Price: "1"}},
	}
	for i := range pieces {
		var w, h int64
		if number <= 6 {
			most := []int64{10, 10, 35, 35, 100, 100}[number-1]
			w, h = between(r, 1, most), between(r, 1, most)
		} else {
			w, h = mixed(r, number-7, side)
		}
		in.Items = append(in.Items, benchfile.Item{ID: fmt.Sprintf("P%d", i+1), W: w, H: h, Qty: 1})
	}
	in.Cases = bothWays()
	return in
}

// mixed draws a part of classes 7 to 10, of the kind that is most common or of
// one of the others.
func mixed(r *rand.Rand, common int, side int64) (w, h int64) {
	kind := common
	if r.IntN(10) >= 7 {
		kind = (common + 1 + r.IntN(3)) % 4
	}
	long := func() int64 { return between(r, (2*side+2)/3, side) }
	half := func() int64 { return between(r, 1, side/2) }
	large := func() int64 { return between(r, side/2, side) }
	switch kind {
	case 0:
		return long(), half()
	case 1:
		return half(), long()
	case 2:
		return large(), large()
	}
	return half(), half()
}

func between(r *rand.Rand, low, high int64) int64 { return low + r.Int64N(high-low+1) }

// full is the share of the fewest sheets' area that the parts have.
func full(in *benchfile.Instance) float64 {
	area := 0.0
	for _, it := range in.Items {
		area += float64(it.W) * float64(it.H) * float64(it.Qty)
	}
	sheets := area / (float64(in.Sheets[0].W) * float64(in.Sheets[0].H))
	return sheets / math.Ceil(sheets)
}

// bothWays are the cases without and with turning, of which nothing is known.
func bothWays() []benchfile.Case {
	return []benchfile.Case{{ID: "O"}, {ID: "R", Rotate: true}}
}
