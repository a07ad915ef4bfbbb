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
// Patterns worth floor or less are of no use: when there is no better one a
// pricer may return floor, as no pattern is worth more.
type pricer interface {
	best(sheet int, worth []int64, most []int, floor int64) (int64, pattern)
}

// A readier is a pricer that works on all sheets at one time, before it is asked
// for their patterns.
type readier interface {
	ready(worth []int64)
}

// dualScale is what the dearest sheet is worth in whole numbers: fine enough
// for the bound, coarse enough that sums over all pieces do not overflow.
const dualScale = 1 << 40

// coverScale is the worth of a sheet's area in a cover.
const coverScale = 1 << 40

// A master is the linear program with the patterns found so far.
type master struct {
	p      *problem
	demand []int
	stock  []int // of each sheet
	price  pricer
	rows   int // one for each type, then one for each sheet with limited stock
	row    []int
	miss   []float64 // of each type: the price of a part that is not made
	top    float64   // price of the dearest sheet
	cover  bool      // sheets cost nothing, each has a row, and area is the area of each
	area   []float64
	proof  need    // of a cover: what the best bound rests on
	blind  bool    // its pricer is not exact, so nothing is proven
	full   float64 // of a cover: a value below this counts as nothing left out
	pats   []pattern
	basis  []column
	inv    [][]float64
	nz     []entry // scratch: what is not nothing of the pivot row
	x      []float64
	y      []float64
	worth  []int64
	d      []float64
	bound  float64
	done   bool
	steps  int
	slacks int // brought in since the last pattern

	// Pricing looks between the program's duals and center, the duals of the
	// best bound so far: the way there is shorter (Wentges 1997).
	center []float64
	at     []float64
	smooth float64
}

// A column of the program: a pattern, or the slack of a row.
type column struct {
	pat   int // index into pats, or -1
	row   int // of a slack
	sign  float64
	price float64
}

// An entry is a number of a row, and where.
type entry struct {
	at  int
	val float64
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
	for _, s := range p.sheets {
		m.stock = append(m.stock, s.stock)
	}
	for range p.types {
		m.miss = append(m.miss, 4*max(m.top, 1))
	}
	m.start()
	return m
}

// start sets up the program with no pattern known.
func (m *master) start() {
	p := m.p
	m.pats, m.basis = m.pats[:0], m.basis[:0]
	m.center, m.at = make([]float64, m.rows), make([]float64, m.rows)
	m.inv = make([][]float64, m.rows)
	m.x = make([]float64, m.rows)
	m.y = make([]float64, m.rows)
	m.d = make([]float64, m.rows)
	m.worth = make([]int64, len(p.types))
	for r := range m.rows {
		m.inv[r] = make([]float64, m.rows)
		m.inv[r][r] = 1
		if r < len(p.types) {
			m.basis = append(m.basis, column{pat: -1, row: r, sign: 1, price: m.miss[r]})
			m.x[r] = float64(m.demand[r])
		} else {
			m.basis = append(m.basis, column{pat: -1, row: r, sign: 1})
		}
	}
	for i, r := range m.row {
		if r >= 0 {
			m.x[r] = float64(m.stock[i])
		}
	}
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
	if m.slack() { // slacks first: they cost nothing to price
		return
	}
	alpha := m.smooth
	for {
		in, better := m.priceAt(alpha)
		if in != nil {
			m.add(*in)
		}
		if better {
			m.smooth = smoothing
		}
		if in != nil {
			return
		}
		if alpha == 0 {
			m.done = true
			return
		}
		alpha, m.smooth = 0, 0 // look at the duals themselves, until the bound rises again
	}
}

// slack brings in a slack that improves the program, if there is one. Too many
// after one another go round in a circle: then patterns come first.
func (m *master) slack() bool {
	if m.slacks++; m.slacks > 2*m.rows {
		return false
	}
	for r := range m.rows {
		sign, gain := -1.0, -m.y[r]
		if r >= len(m.p.types) {
			sign, gain = 1, m.y[r]
		}
		if gain > 1e-7*max(m.top, 1) {
			m.enter(column{pat: -1, row: r, sign: sign})
			return true
		}
		if m.cover && r < len(m.p.types) && m.y[r]-m.miss[r] > 1e-7*max(m.top, 1) { // rather leave it out again
			m.enter(column{pat: -1, row: r, sign: 1, price: m.miss[r]})
			return true
		}
	}
	m.slacks = 0
	return false
}

// smoothing is the weight of the center in pricing.
const smoothing = 0.6

// priceAt prices at the duals, drawn to the center by alpha, raises the bound
// by what it sees, and returns the pattern that improves the program most, or
// nil.
func (m *master) priceAt(alpha float64) (in *pattern, better bool) {
	scale := dualScale / max(m.top, 1e-9)
	if m.cover {
		scale = coverScale
	}
	for r := range m.rows {
		m.at[r] = alpha*m.center[r] + (1-alpha)*m.y[r]
	}
	low, over, shrink := 0.0, 0.0, 1.0
	for i := range m.worth {
		m.worth[i] = int64(max(0, min(m.at[i], m.miss[i])) * scale)
		low += float64(m.worth[i]) * float64(m.demand[i])
	}
	if r, ok := m.price.(readier); ok {
		r.ready(m.worth)
	}
	top := 1e-9 * max(m.top, 1)
	proof := need{least: low}
	for s, sh := range m.p.sheets {
		c := math.Floor(float64(sh.price) * scale)
		if m.cover {
			c = 0
		}
		z, pat := m.price.best(s, m.worth, m.demand, m.floor(s, scale))
		proof.gives = append(proof.gives, float64(z))
		if m.row[s] >= 0 {
			over += float64(m.stock[s]) * max(0, float64(z)-c)
		} else if float64(z) > c {
			shrink = min(shrink, c/float64(z))
		}
		if g := m.gain(pat); g > top {
			top, in = g, &pat
		}
	}
	// Scaling all worths down by shrink makes them feasible for sheets without
	// a limit; the overrun of the limited ones only shrinks with them.
	if b := (low*shrink - over) / scale; b > m.bound {
		m.bound, better = b, true
		m.proof = proof
		copy(m.center, m.at)
	}
	return in, better
}

// gain is what one more unit of a pattern lowers the program's value by.
func (m *master) gain(pat pattern) float64 {
	g := 0.0
	if !m.cover {
		g = -float64(m.p.sheets[pat.sheet].price)
	}
	for _, u := range pat.use {
		g += m.y[u.typ] * float64(u.n)
	}
	if r := m.row[pat.sheet]; r >= 0 {
		g += m.y[r]
	}
	return g
}

// add makes a pattern known and brings it into the basis.
func (m *master) add(pat pattern) {
	m.slacks = 0
	m.pats = append(m.pats, pat)
	price := 0.0
	if !m.cover {
		price = float64(m.p.sheets[pat.sheet].price)
	}
	m.enter(column{pat: len(m.pats) - 1, price: price})
}

// enter does one simplex pivot.
func (m *master) enter(c column) {
	m.direction(c)
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
	m.pivot(c, out, ratio)
	for k := range m.x {
		m.x[k] = max(0, m.x[k])
	}
}

// direction is column c in terms of the basis.
func (m *master) direction(c column) {
	for k := range m.rows {
		v := 0.0
		if c.pat < 0 {
			v = m.inv[k][c.row] * c.sign
		} else {
			v = m.along(m.inv[k], m.pats[c.pat])
		}
		m.d[k] = v
	}
}

// along is the product of a row with a pattern's column.
func (m *master) along(row []float64, p pattern) float64 {
	v := 0.0
	for _, u := range p.use {
		v += row[u.typ] * float64(u.n)
	}
	if r := m.row[p.sheet]; r >= 0 {
		v += row[r]
	}
	return v
}

// reduced is the reduced price of a column.
func (m *master) reduced(c column) float64 {
	if c.pat >= 0 {
		return -m.gain(m.pats[c.pat])
	}
	return c.price - m.y[c.row]*c.sign
}

// pivot brings column c, whose direction is set, into place out of the basis.
func (m *master) pivot(c column, out int, ratio float64) {
	gain := m.reduced(c)
	piv := m.inv[out]
	f := 1 / m.d[out]
	m.nz = m.nz[:0]
	for r := range piv {
		if piv[r] *= f; piv[r] != 0 {
			m.nz = append(m.nz, entry{r, piv[r]})
		}
	}
	for k := range m.rows {
		if k == out || m.d[k] == 0 {
			continue
		}
		g := m.d[k]
		row := m.inv[k]
		for _, e := range m.nz {
			row[e.at] -= g * e.val
		}
		m.x[k] -= ratio * g
	}
	m.x[out] = ratio
	m.basis[out] = c
	for _, e := range m.nz {
		m.y[e.at] += gain * e.val
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
