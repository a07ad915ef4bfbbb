package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strconv"

	"casewright/internal/cutting/benchfile"
)

// Usual sizes of panels (common practice, no source).
var panels = [][2]int64{{2440, 1220}, {2500, 1250}, {3050, 1220}, {2440, 1830}, {2750, 1830}, {2800, 2070}}

// furniture draws the parts of a few cases with doors or drawers, 24 to about a
// hundred in all, one to three sizes of panel with prices, and up to two kinds
// of offcuts.
func furniture(r *rand.Rand) *benchfile.Instance {
	in := &benchfile.Instance{
		Kind: "2d", Objective: "price", Set: "DRAWN", Source: "drawn at random",
		Kerf: between(r, 3, 5), Trim: 10 * r.Int64N(2), Cases: bothWays(),
	}
	for i, at := range r.Perm(len(panels))[:1+r.IntN(3)] {
		p := panels[at]
		in.Sheets = append(in.Sheets, benchfile.Stock{ID: fmt.Sprintf("S%d", i+1), W: p[0], H: p[1], Price: price(r, p, 9.5, 14)})
	}
	for i := range r.IntN(3) {
		n := 1 + r.IntN(2)
		p := [2]int64{10 * between(r, 60, 160), 10 * between(r, 50, 120)}
		in.Sheets = append(in.Sheets, benchfile.Stock{ID: fmt.Sprintf("O%d", i+1), W: p[0], H: p[1], Price: price(r, p, 3, 5), Stock: &n})
	}
	c := carcass{r: r, of: in}
	for least := 24 + r.IntN(60); c.pieces < least; {
		c.add()
	}
	return in
}

// price is so much for each square metre, more or less.
func price(r *rand.Rand, p [2]int64, low, high float64) json.Number {
	rate := low + (high-low)*r.Float64()
	return json.Number(strconv.FormatFloat(rate*float64(p[0])*float64(p[1])/1e6, 'f', 2, 64))
}

// A carcass adds the parts of one case after the other.
type carcass struct {
	r      *rand.Rand
	of     *benchfile.Instance
	pieces int
}

// part adds parts of one size; those with grain keep it.
func (c *carcass) part(w, h int64, n int, grain bool) {
	c.pieces += n
	for i := range c.of.Items {
		if it := &c.of.Items[i]; it.W == w && it.H == h && (it.Rotate != nil) == grain {
			it.Qty += n
			return
		}
	}
	it := benchfile.Item{ID: fmt.Sprintf("P%d", len(c.of.Items)+1), W: w, H: h, Qty: n}
	if grain {
		keeps := false
		it.Rotate = &keeps
	}
	c.of.Items = append(c.of.Items, it)
}

// add adds a case: sides, bottom and rails, shelves, and doors or drawers.
func (c *carcass) add() {
	r := c.r
	wide := []int64{300, 400, 450, 500, 600, 800, 900, 1000}[r.IntN(8)]
	high := []int64{720, 720, 900, 1200, 2000}[r.IntN(5)]
	deep := []int64{320, 400, 560, 560}[r.IntN(4)]
	in := wide - 36
	c.part(high, deep, 2, true)
	c.part(in, deep, 1, true)
	c.part(in, 100, 2, false)
	if r.IntN(3) > 0 || high > 900 {
		c.part(in, deep-20, 1+r.IntN(3)+int(high/800), false)
		if wide > 600 {
			c.part(high-4, wide/2-4, 2, true)
		} else {
			c.part(high-4, wide-4, 1, true)
		}
		return
	}
	n := 2 + r.IntN(3)
	for range n {
		c.part(wide-4, high/int64(n)-4, 1, true)
	}
	c.part(deep-60, 140, 2*n, false)
	c.part(in-50, 140, 2*n, false)
}
