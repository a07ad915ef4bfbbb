package cutting

import (
	"context"
	"math"
	"slices"
)

// A mix is the linear program over patterns: how often each pattern is cut, in
// fractions, so that all pieces are made at the least price. It keeps all patterns it has met, so that the demand may change and the program
// goes on from where it was: by dual steps when a number fell below nothing,
// by primal steps when a pattern pays.
type mix struct {
	ctx   context.Context
	p     *problem
	from  offerer
	rows  int       // one for each type, one for each bar with limited stock
	row   []int     // of each bar, -1: stock enough for any layout
	top   float64   // price of the dearest bar
	out   []float64 // of each type: price of a piece that is not made
	miss  float64   // price of a pattern that makes too many
	cover bool      // sheets cost nothing (see covermix.go)
	proof need      // of a cover: what the bound rests on
	cols  []mixCol
	known map[string]int
	basis []int32
	where []int32     // row of a column in the basis, -1: none
	inv   [][]float64 // of the basis
	rhs   []float64   // demand and stock
	x, y  []float64   // how often the basis is cut; the duals
	d     []float64   // the column coming in, in terms of the basis
	nz    []int32     // where the pivot row is not nothing
	steps int
	cap   int  // primal steps at most
	work  *int // of the arithmetic, in cells of a table; parts share it

	of     []int // of a part: the types' numbers in the mix that it is part of
	root   []int // and in the whole problem
	demand []int
	stock  []int
	weight []float64 // squared length of a column's way
	rc     []float64 // reduced prices
	loose  []bool    // columns that make more of a type than is asked for
	firm   bool      // those keep their price: they are driven out by dual steps
	worth  []int64
	bound  float64   // no layout of what is asked for costs less
	at     []float64 // the duals priced at, between y and center
	center []float64 // the duals of the best bound
	smooth float64   // weight of the center
}

// A mixCol is a column: a pattern or a slack.
type mixCol struct {
	price float64
	idx   []int32
	val   []float64
	sheet int // -1: a slack or a piece that is not made
	use   []run
	tree  *bin // how it is cut, with the types' numbers of the whole problem; nil for lengths
}

func newMix(ctx context.Context, p *problem, from offerer) *mix {
	m := &mix{ctx: ctx, work: new(int), p: p, from: from, rows: len(p.types), row: make([]int, len(p.sheets)), known: map[string]int{}}
	for i, s := range p.sheets {
		m.row[i] = -1
		m.top = max(m.top, float64(s.price))
		if s.stock < p.pieces() {
			m.row[i] = m.rows
			m.rows++
		}
		m.stock = append(m.stock, s.stock)
	}
	m.top = max(m.top, 1)
	m.miss = 4 * m.top
	for range p.types {
		m.out = append(m.out, m.miss)
	}
	m.space()
	for _, t := range p.types {
		m.demand = append(m.demand, t.qty)
	}
	m.slacks()
	m.reset()
	m.ask(m.demand, m.stock)
	rate := math.Inf(1)
	for _, s := range p.sheets {
		rate = min(rate, float64(s.price)/(float64(s.w)*float64(s.h)))
	}
	for i, t := range p.types {
		m.center[i] = rate * float64(t.w) * float64(t.h)
	}
	m.smooth = smoothing
	return m
}

// reset goes back to where no piece is made.
func (m *mix) reset() {
	for _, j := range m.basis {
		m.where[j] = -1
	}
	m.basis, m.inv = m.basis[:0], m.inv[:0]
	for i := range m.p.types {
		m.basis = append(m.basis, int32(2*i))
	}
	for j := 2 * len(m.p.types); len(m.basis) < m.rows; j++ {
		m.basis = append(m.basis, int32(j))
	}
	for k, c := range m.basis {
		m.where[c] = int32(k)
		row := make([]float64, m.rows)
		row[k] = 1
		m.inv = append(m.inv, row)
	}
}

// space makes room for the numbers of all rows.
func (m *mix) space() {
	m.rhs = make([]float64, m.rows)
	m.x, m.y, m.d = make([]float64, m.rows), make([]float64, m.rows), make([]float64, m.rows)
	m.at, m.center = make([]float64, m.rows), make([]float64, m.rows)
	m.worth = make([]int64, len(m.p.types))
}

// slacks are the columns that are no patterns: of each type a piece not made
// and one made too many, of each bar one left in stock.
func (m *mix) slacks() {
	for i := range m.p.types {
		m.append(mixCol{price: m.out[i], idx: []int32{int32(i)}, val: []float64{1}, sheet: -1})
		m.append(mixCol{idx: []int32{int32(i)}, val: []float64{-1}, sheet: -1})
	}
	for _, r := range m.row {
		if r >= 0 {
			m.append(mixCol{idx: []int32{int32(r)}, val: []float64{1}, sheet: -1})
		}
	}
}

func (m *mix) append(c mixCol) {
	m.cols = append(m.cols, c)
	m.where = append(m.where, -1)
	m.loose = append(m.loose, false)
	m.weight = append(m.weight, 1)
	m.rc = append(m.rc, 0)
}

// patternKey names a pattern; its runs are in the order of the types.
func patternKey(sheet int, use []run) string {
	k := make([]byte, 0, 3+6*len(use))
	k = append(k, byte(sheet), byte(sheet>>8), byte(sheet>>16))
	for _, u := range use {
		k = append(k, byte(u.typ), byte(u.typ>>8), byte(u.typ>>16), byte(u.n), byte(u.n>>8), byte(u.n>>16))
	}
	return string(k)
}

// learn takes a pattern in; it reports whether it is new.
func (m *mix) learn(pat pattern) bool {
	sheet, use := pat.sheet, slices.Clone(pat.use)
	slices.SortFunc(use, func(a, b run) int { return a.typ - b.typ })
	k := patternKey(sheet, use)
	if _, ok := m.known[k]; ok {
		return false
	}
	m.known[k] = len(m.cols)
	c := mixCol{price: float64(m.p.sheets[sheet].price), sheet: sheet, use: use, tree: pat.tree}
	for _, u := range use {
		c.idx, c.val = append(c.idx, int32(u.typ)), append(c.val, float64(u.n))
	}
	if r := m.row[sheet]; r >= 0 {
		c.idx, c.val = append(c.idx, int32(r)), append(c.val, 1)
	}
	m.append(c)
	m.loose[len(m.cols)-1] = m.makesTooMany(use)
	return true
}

// makesTooMany reports whether a pattern holds more of a type still asked for
// than is asked for. Such patterns are not used: without them the program says
// more.
func (m *mix) makesTooMany(use []run) bool {
	for _, u := range use {
		if d := m.demand[u.typ]; d > 0 && u.n > d {
			return true
		}
	}
	return false
}

// ask sets the demand and the stock left.
func (m *mix) ask(demand, stock []int) {
	m.demand, m.stock = append(m.demand[:0], demand...), append(m.stock[:0], stock...)
	for i, n := range demand {
		m.rhs[i] = float64(n)
	}
	for s, r := range m.row {
		if r >= 0 {
			m.rhs[r] = float64(stock[s])
		}
	}
	for j, c := range m.cols {
		if c.sheet >= 0 {
			m.loose[j] = m.makesTooMany(c.use)
		}
	}
	m.bound, m.smooth = math.Inf(-1), 0
	m.values()
	m.duals()
}
