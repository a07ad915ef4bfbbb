package cutting

import (
	"context"
	"math"
)

// The pattern model (Gilmore and Gomory 1961, 1965): choose how often to cut
// each pattern so that every type is made often enough, at the least price.
// Without the demand that the numbers be whole it is a linear program; its
// patterns are made as they are needed by a pricer. The value of the program,
// taken from its dual side in whole numbers, is a lower bound.

// A pattern is what is cut from one sheet.
type pattern struct {
	sheet int
	use   []run
	tree  *bin // how it is cut; nil for lengths, which lie end to end
}

type run struct{ typ, n int }

// A pricer finds the pattern of the greatest worth for a sheet, with no more
// pieces of a type than most allows (a pricer may ignore that, as long as it
// returns a worth at least as great). worth is in whole numbers, at least 0.
type pricer interface {
	best(sheet int, worth []int64, most []int) (int64, pattern)
}

// dualScale is what the dearest sheet is worth in whole numbers: fine enough
// for the bound, coarse enough that sums over all pieces do not overflow.
const dualScale = 1 << 40

// A master is the linear program with the patterns found so far.
type master struct {
	p      *problem
	demand []int
	price  pricer
	rows   int // one for each type, then one for each sheet with limited stock
	row    []int
	big    float64 // price of a part that is not made
	top    float64 // price of the dearest sheet
	pats   []pattern
	basis  []column
	inv    [][]float64
	x      []float64
	y      []float64
	worth  []int64
	d      []float64
	bound  float64
	done   bool
	steps  int
}

// A column of the program: a pattern, or the slack of a row.
type column struct {
	pat   int // index into pats, or -1
	row   int // of a slack
	sign  float64
	price float64
}

func newMaster(p *problem, demand []int, price pricer) *master {
	m := &master{p: p, demand: demand, price: price, rows: len(p.types), row: make([]int, len(p.sheets))}
	for i, s := range p.sheets {
		m.row[i] = -1
		m.top = max(m.top, float64(s.price))
		if s.stock < p.pieces() {
			m.row[i] = m.rows
			m.rows++
		}
	}
	m.big = 4 * max(m.top, 1)
	m.inv = make([][]float64, m.rows)
	m.x = make([]float64, m.rows)
	m.y = make([]float64, m.rows)
	m.d = make([]float64, m.rows)
	m.worth = make([]int64, len(p.types))
	for r := range m.rows {
		m.inv[r] = make([]float64, m.rows)
		m.inv[r][r] = 1
		if r < len(p.types) {
			m.basis = append(m.basis, column{pat: -1, row: r, sign: 1, price: m.big})
			m.x[r] = float64(demand[r])
		} else {
			m.basis = append(m.basis, column{pat: -1, row: r, sign: 1})
		}
	}
	for i, r := range m.row {
		if r >= 0 {
			m.x[r] = float64(p.sheets[i].stock)
		}
	}
	return m
}

// solve adds patterns until none improves the program, or steps are used up.
func (m *master) solve(ctx context.Context, steps int) {
	for k := 0; k < steps && !m.done; k++ {
		if k&15 == 0 && ctx.Err() != nil {
			return
		}
		m.step()
	}
}

func (m *master) duals() {
	for r := range m.rows {
		m.y[r] = 0
	}
	for k, c := range m.basis {
		if c.price == 0 {
			continue
		}
		for r := range m.rows {
			m.y[r] += c.price * m.inv[k][r]
		}
	}
}

// step prices once and brings in every sheet's best pattern that improves.
func (m *master) step() {
	if m.steps++; m.steps%64 == 1 {
		m.duals() // afresh, against rounding
	}
	types := len(m.p.types)
	for r := range m.rows { // slacks first: they cost nothing to price
		sign, gain := -1.0, -m.y[r]
		if r >= types {
			sign, gain = 1, m.y[r]
		}
		if gain > 1e-7*max(m.top, 1) {
			m.enter(column{pat: -1, row: r, sign: sign})
			return
		}
	}
	scale := dualScale / max(m.top, 1e-9)
	for i := range m.worth {
		m.worth[i] = int64(max(0, min(m.y[i], m.big)) * scale)
	}
	var in []pattern
	var gains []float64
	low, over := 0.0, 0.0
	shrink := 1.0
	for i, w := range m.worth {
		low += float64(w) * float64(m.demand[i])
	}
	for s, sh := range m.p.sheets {
		z, pat := m.price.best(s, m.worth, m.demand)
		c := math.Floor(float64(sh.price) * scale)
		y := 0.0
		if m.row[s] >= 0 {
			y = m.y[m.row[s]] * scale
			over += float64(sh.stock) * max(0, float64(z)-c)
		} else if float64(z) > c {
			shrink = min(shrink, c/float64(z))
		}
		if gain := float64(z) - c + y; gain > 1e-9*dualScale {
			in, gains = append(in, pat), append(gains, gain)
		}
	}
	// Scaling all worths down by shrink makes them feasible for sheets without
	// a limit; the overrun of the limited ones only shrinks with them.
	m.bound = max(m.bound, (low*shrink-over)/scale)
	if len(in) == 0 {
		m.done = true
		return
	}
	first := 0
	for i := range gains {
		if gains[i] > gains[first] {
			first = i
		}
	}
	m.add(in[first])
}

// add makes a pattern known and brings it into the basis.
func (m *master) add(pat pattern) {
	m.pats = append(m.pats, pat)
	m.enter(column{pat: len(m.pats) - 1, price: float64(m.p.sheets[pat.sheet].price)})
}

// enter does one simplex pivot.
func (m *master) enter(c column) {
	for k := range m.rows {
		m.d[k] = 0
	}
	if c.pat >= 0 {
		p := m.pats[c.pat]
		for k := range m.rows {
			v := 0.0
			for _, u := range p.use {
				v += m.inv[k][u.typ] * float64(u.n)
			}
			if r := m.row[p.sheet]; r >= 0 {
				v += m.inv[k][r]
			}
			m.d[k] = v
		}
	} else {
		for k := range m.rows {
			m.d[k] = m.inv[k][c.row] * c.sign
		}
	}
	out := -1
	var ratio float64
	for k := range m.rows {
		if m.d[k] <= 1e-9 {
			continue
		}
		t := max(0, m.x[k]) / m.d[k]
		if out < 0 || t < ratio-1e-12 || t <= ratio+1e-12 && m.d[k] > m.d[out] {
			out, ratio = k, t
		}
	}
	if out < 0 {
		m.done = true // cannot be: every price is positive
		return
	}
	gain := c.price // reduced price of the column
	if c.pat >= 0 {
		p := m.pats[c.pat]
		for _, u := range p.use {
			gain -= m.y[u.typ] * float64(u.n)
		}
		if r := m.row[p.sheet]; r >= 0 {
			gain -= m.y[r]
		}
	} else {
		gain -= m.y[c.row] * c.sign
	}
	piv := m.inv[out]
	f := 1 / m.d[out]
	for r := range piv {
		piv[r] *= f
	}
	for k := range m.rows {
		if k == out || m.d[k] == 0 {
			continue
		}
		g := m.d[k]
		row := m.inv[k]
		for r, v := range piv {
			if v != 0 {
				row[r] -= g * v
			}
		}
		m.x[k] = max(0, m.x[k]-ratio*g)
	}
	m.x[out] = ratio
	m.basis[out] = c
	for r, v := range piv {
		m.y[r] += gain * v
	}
}

// share is how often a pattern of the program's answer is cut.
type share struct {
	pat pattern
	x   float64
}

// answer lists the patterns in use and whether every type is fully made.
func (m *master) answer() (out []share, whole bool) {
	whole = true
	for k, c := range m.basis {
		switch {
		case m.x[k] <= 1e-9:
		case c.pat >= 0:
			out = append(out, share{m.pats[c.pat], m.x[k]})
		case c.price > 0:
			whole = false
		}
	}
	return out, whole
}
