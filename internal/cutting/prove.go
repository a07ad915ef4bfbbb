package cutting

import (
	"context"
	"slices"
)

// Limits of a proof, in moves.
const (
	proofMoves = 200_000
	lotMoves   = 120_000
	proofTypes = 120
	proofGrid  = 80_000_000 // steps to fill the tables at most, were none skipped
)

type proofLevel struct {
	steps int64
	loose bool
}

// The steps of the tables. Finer steps prove more and take longer, and so does
// looking at proper patterns only.
var proofLevels = []proofLevel{{150, true}, {300, true}, {600, true}, {1000, true}, {300, false}}

// prove raises the bound by ruling out lots of sheets, the cheapest first,
// until the value is met or a lot cannot be ruled out with tables of the levels
// given.
func (p *problem) prove(ctx context.Context, s *search, b *bound, levels []proofLevel, moves int) int {
	// For lengths of one kind the pattern model says as much already.
	if len(p.types) == 0 || len(p.types) > proofTypes || p.value == LeastHeight || p.flat() && len(p.sheets) == 1 {
		return 0
	}
	spent := 0
	var last []int // the lot looked at before, with these tables
	needs := []need{p.areaNeed()}
	if len(p.sheets) == 1 {
		needs = nil
	}
	for _, level := range levels {
		v, from := p.newProver(level.steps, level.loose)
		if v == nil {
			continue
		}
		v.needs, last = needs, last[:0]
		s.dense.give(v, from)
		easy := false
		for s.unproven(*b) && ctx.Err() == nil {
			price, lot := p.nextPrice(max(b.value, 1), v.needs...)
			if lot == nil {
				break
			}
			if price > b.value {
				b.raise(bound{price, p.whyMixes(price)})
				continue
			}
			if len(p.sheets) == 1 { // straight to the one lot that matters
				lot[0] = int(s.bestValue/p.sheets[0].price) - 1
			}
			if slices.Equal(lot, last) {
				break
			}
			last = append(last[:0], lot...)
			too, _ := v.excludes(ctx, lot, min(lotMoves, moves-spent-v.moves))
			if !too {
				easy = v.steps <= easySteps
				break
			}
			if len(p.sheets) == 1 {
				b.raise(bound{s.bestValue, whyFewer(lot[0])})
			}
		}
		needs = v.needs
		spent += v.moves
		if easy || !s.unproven(*b) || spent >= moves || p.flat() {
			break
		}
	}
	return spent
}

// A lot that the program fills after so few looks is not ruled out by finer
// tables.
const easySteps = 5

// newProver sets up the program with tables of so many steps, and tells which
// type of p each of its types is.
func (p *problem) newProver(steps int64, loose bool) (*prover, []int) {
	c, from := p.coarse(steps)
	if p.flat() {
		c, from = p, nil
		for i := range p.types {
			from = append(from, i)
		}
		return &prover{p: c, price: newFiller(p), work: func() int { return 0 }}, from
	}
	if len(c.types) == 0 {
		return nil, nil
	}
	g := c.grid(0, proofGrid)
	if g == nil {
		return nil, nil
	}
	most := make([]int, len(c.types))
	for i, t := range c.types {
		most[i] = t.qty
	}
	q := newProper(g, most)
	if q == nil {
		return nil, nil
	}
	q.loose = loose
	return &prover{p: c, price: q, work: func() int { return g.steps }}, from
}

// give hands the patterns collected to a prover whose types are numbered anew.
func (d *dense) give(v *prover, from []int) {
	if d == nil {
		return
	}
	to := map[int]int{}
	for i, t := range from {
		to[t] = i
	}
	for _, list := range d.bins {
		for _, b := range list {
			pat := d.p.pattern(b)
			pat.tree = nil
			use := pat.use[:0]
			for _, u := range pat.use {
				if t, ok := to[u.typ]; ok {
					use = append(use, run{t, u.n})
				}
			}
			if pat.use = use; len(use) > 0 {
				v.pats = append(v.pats, pat)
			}
		}
	}
}
