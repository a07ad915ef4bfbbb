package cutting

import (
	"math"
	"slices"
)

// A lotProgram is the program at a node of a lotTree: how many times over the
// sheets left must be there to hold the parts left, when patterns may be cut any
// share of a time. It has a row for each type, then for each kind of sheet, then
// for each cut (see lotCut). One serves all nodes, one after the other, so that
// its tables need not be made anew; it begins with the basis of the node above.
type lotProgram struct {
	t    *lotTree
	m    mix
	left []int
	lot  []int
	list []int32     // the patterns that may be picked
	back []int       // the types left, in the order of their rows
	row  []int       // of each type and, behind the types, of each kind of sheet
	cuts []lotCut    // in the order of their rows
	need []int       // of each cut: what patterns must count together
	give [][]int32   // of each cut: what each pattern of the list counts; nil: not asked for yet
	what []int32     // of each column: its place in the list; below 0: no pattern, or none that may be picked
	has  []bool      // of the list: there is a column of it
	at   []int32     // of each pattern: its place in the list and 1 more, while the program is set up
	free []bool      // of each row: no pattern has taken its place in the basis, while that is set up
	old  [][]float64 // rows of inverses no longer used
	work int
	paid int // of the work: counted as moves
}

// A lotStart is what a program begins with: patterns, the first of which are the
// basis of the program above, and the cuts that were of use there.
type lotStart struct {
	use   []int32
	basic int
	cuts  []lotCut
}

const (
	treeMiss  = 4    // price of a piece that is not made, where the lot has the price 1
	treeBasic = 1e-4 // what a pattern must add to a basis to be taken into it
)

// begin sets the program up. Its basis are the patterns of the one above as far
// as they may still be picked, and what is not made where they leave a row.
func (g *lotProgram) begin(t *lotTree, left, lot []int, list []int32, from lotStart) {
	m := &g.m
	g.t, g.left, g.lot, g.list = t, left, lot, list
	m.ctx, m.work, m.top, m.miss, m.rows = t.f.ctx, &g.work, 1, treeMiss, 0
	g.old = append(g.old, m.inv...)
	m.inv, m.basis = m.inv[:0], m.basis[:0]
	m.rhs, m.x, m.y, m.d = m.rhs[:0], m.x[:0], m.y[:0], m.d[:0]
	m.cols, m.where, m.loose = m.cols[:0], m.where[:0], m.loose[:0]
	m.weight, m.rc = m.weight[:0], m.rc[:0]
	g.back, g.row, g.what = g.back[:0], g.row[:0], g.what[:0]
	g.cuts, g.need, g.give = g.cuts[:0], g.need[:0], g.give[:0]

	times := g.column(1, -1)
	for ty, n := range left {
		g.row = append(g.row, m.rows)
		if n > 0 {
			g.back = append(g.back, ty)
			g.addRow(n, true)
		}
	}
	for _, n := range lot {
		g.row = append(g.row, m.rows)
		if n > 0 {
			m.cols[times].put(m.rows, -n)
			g.addRow(0, false)
		}
	}
	for _, c := range from.cuts {
		if n := c.least(left, lot); n > 0 {
			g.cuts, g.need, g.give = append(g.cuts, c), append(g.need, n), append(g.give, nil)
			g.addRow(n, true)
		}
	}
	m.cap = 50*m.rows + 1000
	g.free = slices.Repeat([]bool{true}, m.rows)
	g.enter(times)
	g.start(from)
	m.values()
	for r := range g.free {
		if g.free[r] && m.x[r] < 0 && g.asked(r) {
			g.turn(r) // not less than nothing is missing, but there is too much
		}
	}
	m.duals()
}

// start takes in the patterns that the program begins with.
func (g *lotProgram) start(from lotStart) {
	g.has = make([]bool, len(g.list))
	if g.at == nil {
		g.at = make([]int32, len(g.t.cols))
	}
	for k, i := range g.list {
		g.at[i] = int32(k) + 1
	}
	for n, i := range from.use {
		if k := int(g.at[i]) - 1; k >= 0 {
			if j := g.take(k); n < from.basic {
				g.enter(j)
			}
		}
	}
	for _, i := range g.list {
		g.at[i] = 0
	}
	g.work += len(g.list)
}

// asked reports whether a row is of a type or of a cut.
func (g *lotProgram) asked(r int) bool {
	return r < len(g.back) || r >= g.m.rows-len(g.cuts)
}

// column adds an empty column.
func (g *lotProgram) column(price float64, what int) int {
	m := &g.m
	j := len(m.cols)
	if j < cap(m.cols) {
		m.cols = m.cols[:j+1] // it has room for numbers from another time
	} else {
		m.cols = append(m.cols, mixCol{})
	}
	c := &m.cols[j]
	c.price, c.idx, c.val = price, c.idx[:0], c.val[:0]
	m.where, m.loose = append(m.where, -1), append(m.loose, false)
	m.weight, m.rc = append(m.weight, 1), append(m.rc, 0)
	g.what = append(g.what, int32(what))
	return j
}

// put adds a number to a column.
func (c *mixCol) put(row, n int) {
	c.idx, c.val = append(c.idx, int32(row)), append(c.val, float64(n))
}

// addRow adds a row. Where pieces are asked for it has a column of those not
// made and behind it one of those too many, else one of sheets not used. The
// first is in the basis.
func (g *lotProgram) addRow(n int, asked bool) {
	m := &g.m
	r := m.rows
	m.rows++
	price := 0.0
	if asked {
		price = treeMiss
	}
	j := g.column(price, -1)
	m.cols[j].put(r, 1)
	if asked {
		m.cols[g.column(0, -1)].put(r, -1)
	}
	m.rhs, m.x, m.y, m.d = append(m.rhs, float64(n)), append(m.x, 0), append(m.y, 0), append(m.d, 0)
	for k := range m.inv {
		m.inv[k] = append(m.inv[k], 0)
	}
	var row []float64
	if n := len(g.old); n > 0 {
		row, g.old = g.old[n-1][:0], g.old[:n-1]
	}
	for range r {
		row = append(row, 0)
	}
	m.inv = append(m.inv, append(row, 1))
	m.basis, m.where[j] = append(m.basis, int32(j)), int32(r)
}

// turn puts what is too much of a row into the basis for what is not made.
func (g *lotProgram) turn(r int) {
	m := &g.m
	m.where[m.basis[r]] = -1
	m.basis[r]++
	m.where[m.basis[r]] = int32(r)
	m.x[r] = -m.x[r]
	for k, v := range m.inv[r] {
		m.inv[r][k] = -v
	}
}

// take takes a pattern of the list in, cut down to what is left.
func (g *lotProgram) take(k int) int {
	g.has[k] = true
	j := g.column(0, k)
	c := &g.m.cols[j]
	i := g.list[k]
	p := &g.t.cols[i]
	for _, h := range g.t.held[i] {
		if n := min(int(h.n), g.left[h.typ]); n > 0 {
			c.put(g.row[h.typ], n)
		}
	}
	c.put(g.row[len(g.left)+p.kind], 1)
	for n := range g.cuts {
		if v := min(g.need[n], g.cuts[n].count(p, g.left)); v > 0 {
			c.put(g.m.rows-len(g.cuts)+n, v)
		}
	}
	g.work += 10 + len(g.cuts)
	return j
}

// enter brings a column into the basis while that is set up, where it adds
// something to it.
func (g *lotProgram) enter(j int) {
	m := &g.m
	m.direction(j)
	out, top := -1, treeBasic
	for r, d := range m.d {
		if g.free[r] && math.Abs(d) > top {
			out, top = r, math.Abs(d)
		}
	}
	if out >= 0 {
		m.pivot(j, out)
		g.free[out] = false
	}
}

// cut takes a cut in: a row more. What is too much of it comes into the basis,
// and is less than nothing as long as the program breaks the cut.
func (g *lotProgram) cut(c lotCut) {
	m := &g.m
	r, need := m.rows, c.least(g.left, g.lot)
	g.cuts, g.need, g.give = append(g.cuts, c), append(g.need, need), append(g.give, nil)
	g.addRow(need, true)
	m.x[r] = float64(need)
	for j, k := range g.what {
		if k < 0 {
			continue
		}
		v := min(need, c.count(&g.t.cols[g.list[k]], g.left))
		if v == 0 {
			continue
		}
		m.cols[j].put(r, v)
		if b := m.where[j]; b >= 0 {
			m.x[r] -= float64(v) * m.x[b]
			for i, a := range m.inv[b] {
				m.inv[r][i] -= float64(v) * a
			}
		}
	}
	g.turn(r)
	g.work += m.rows*m.rows/2 + 4*len(m.cols)
}
