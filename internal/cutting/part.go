package cutting

import (
	"math"
	"slices"
)

// part is the mix of the types still asked for, in the state that m is in; a
// smaller program is quicker. Its types' numbers in m are in of. It changes
// the basis of m. It is nil when that state cannot be had.
func (m *mix) part(demand, stock []int) *mix {
	types := len(m.p.types)
	for i := range types {
		if demand[i] == 0 && !m.free(2*i+1, demand) {
			return nil
		}
	}
	q := *m.p
	q.types, q.sheets = nil, slices.Clone(m.p.sheets)
	c := &mix{ctx: m.ctx, work: m.work, top: m.top, miss: m.miss, cover: m.cover, known: map[string]int{}, row: make([]int, len(m.row))}
	to := make([]int32, m.rows)
	for i, t := range m.p.types {
		if demand[i] == 0 {
			to[i] = -1
			continue
		}
		to[i] = int32(len(q.types))
		t.qty = demand[i]
		q.types = append(q.types, t)
		c.of, c.root = append(c.of, i), append(c.root, m.whole(i))
	}
	c.p, c.from, c.rows = &q, m.from.part(&q, c.of), len(q.types)
	for s, r := range m.row {
		q.sheets[s].stock = stock[s]
		if c.row[s] = -1; r >= 0 {
			c.row[s] = c.rows
			to[r] = int32(c.rows)
			c.rows++
		}
	}
	c.space()
	c.demand, c.stock = slices.Clone(demand), slices.Clone(stock)
	for k, i := range c.of {
		c.demand[k] = demand[i]
	}
	c.demand = c.demand[:len(c.of)]
	for _, i := range c.of {
		c.out = append(c.out, m.out[i])
	}
	c.slacks()
	at := make([]int32, len(m.cols)) // where the columns of m are in c
	next := int32(2 * types)
	for i := range types {
		at[2*i], at[2*i+1] = 2*to[i], 2*to[i]+1
	}
	for _, r := range m.row {
		if r >= 0 {
			at[next] = 2*int32(len(q.types)) + to[r] - int32(len(q.types))
			next++
		}
	}
	var use []run
	for j := int(next); j < len(m.cols); j++ {
		use = use[:0]
		for _, u := range m.cols[j].use {
			if to[u.typ] >= 0 {
				use = append(use, run{int(to[u.typ]), u.n})
			}
		}
		if len(use) == 0 && m.where[j] < 0 {
			continue
		}
		c.learn(pattern{m.cols[j].sheet, use, m.cols[j].tree})
		at[j] = int32(c.known[patternKey(m.cols[j].sheet, use)])
	}
	for k, j := range m.basis {
		if j < int32(2*types) && j%2 == 1 && demand[j/2] == 0 {
			continue
		}
		row := make([]float64, c.rows)
		for r, v := range m.inv[k] {
			if to[r] >= 0 {
				row[to[r]] = v
			}
		}
		c.where[at[j]] = int32(len(c.basis))
		c.basis = append(c.basis, at[j])
		c.inv = append(c.inv, row)
	}
	*m.work += m.rows * m.rows
	return c
}

// free brings the surplus column of a type no longer asked for into the basis,
// at best in place of a column that stands at nothing.
func (m *mix) free(j int, demand []int) bool {
	if m.where[j] >= 0 {
		return true
	}
	m.direction(j)
	out, size, ratio := -1, 1e-3, math.Inf(1)
	kept := func(k int) bool {
		b := int(m.basis[k])
		return b < 2*len(demand) && b%2 == 1 && demand[b/2] == 0
	}
	for k, d := range m.d {
		if a := math.Abs(d); a > size && math.Abs(m.x[k]) < 1e-9 && !kept(k) {
			out, size = k, a
		}
	}
	if out < 0 {
		for k, d := range m.d {
			if d <= 1e-6 || kept(k) {
				continue
			}
			if t := max(0, m.x[k]) / d; t < ratio {
				out, ratio = k, t
			}
		}
	}
	if out < 0 {
		return false
	}
	m.pivot(j, out)
	return true
}

// whole is the number of a type in the whole problem.
func (m *mix) whole(t int) int {
	if m.root == nil {
		return t
	}
	return m.root[t]
}

// lift gives a pattern the numbers of the mix that m is part of.
func (m *mix) lift(use []run) []run {
	out := make([]run, len(use))
	for i, u := range use {
		out[i] = run{m.of[u.typ], u.n}
	}
	return out
}
