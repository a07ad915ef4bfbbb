package cutting

import (
	"context"
	"math"
	"testing"
)

// unlike makes a problem of a hundred pieces up to the size of the sheet.
func unlike(r *rng) *problem {
	const side = 100
	p := &problem{unitX: 1, unitY: 1, sheets: []psheet{{w: side, h: side, full: side * side, price: 1, stock: 1000}}}
	for range 100 {
		w, h := int64(1+r.below(side)), int64(1+r.below(side))
		p.types = append(p.types, ptype{w: w, h: h, qty: 1, area: float64(w * h)})
	}
	return p
}

// What the search says the pool is worth is the sum over its pieces, none of
// them worth less than its area; pieces that found no place for long are worth
// more, and a look at the pool changes no comparison with the last moves.
func TestWorth(t *testing.T) {
	r := newRNG(3)
	for range 6 {
		p := unlike(&r)
		s := newSearch(p, r.next())
		s.start()
		s.run(context.Background(), bound{}, 10_050, func() {})
		out, grown := 0.0, 0
		for i, n := range s.pool {
			if s.worth[i] < p.types[i].area {
				t.Errorf("type %d is worth %g, less than its area %g", i, s.worth[i], p.types[i].area)
			}
			grown += b2i(s.worth[i] > p.types[i].area)
			out += float64(n) * s.worth[i]
		}
		if grown == 0 {
			t.Error("no type grew in worth in 10,000 moves")
		}
		if math.Abs(out-s.out) > 1e-6*s.unit || math.Abs(out/s.unit-s.cost) > 1e-6 {
			t.Errorf("the pool is worth %g, the search says %g, its cost %g", out, s.out, s.cost*s.unit)
		}

		s.iter = 20_000
		cost, last := s.cost, s.hist[0]
		var waits int
		for waits = range s.pool {
			if s.pool[waits] > 0 {
				break
			}
		}
		was := s.worth[waits]
		s.weigh()
		if got, want := s.worth[waits]-was, worthGain*p.types[waits].area; math.Abs(got-want) > 1e-9 {
			t.Errorf("a type in the pool gains %g, want %g", got, want)
		}
		if s.cost <= cost || math.Abs((s.cost-cost)-(s.hist[0]-last)) > 1e-9 {
			t.Errorf("the cost rises by %g, that of a move before by %g", s.cost-cost, s.hist[0]-last)
		}
		s.bestOut = 1 // stock is short
		cost = s.cost
		if s.weigh(); s.cost != cost {
			t.Error("where stock is short area alone counts")
		}
	}
}
