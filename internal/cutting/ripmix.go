package cutting

import (
	"math"
	"slices"
)

// A ripRow is a limit that a branch of the tree sets: so many sheets of a size,
// or ripped one way, strips of some kinds, or parts of a type in strips of some
// kinds, at least or at most.
type ripRow struct {
	sheet int    // -1: no sheets of a size
	way   int    // -1: nor ripped one way
	typ   int    // of parts; -1: the strips themselves
	kinds []bool // of strips; nil: sheets
	most  bool   // at most; else at least
	n     int
}

// counts is how many a column has of what a limit is of.
func (r *ripRow) counts(l *ripping, c *ripCol) int {
	switch {
	case c.way >= 0:
		if r.way == c.way || r.sheet == l.ways[c.way].sheet {
			return 1
		}
	case r.kinds == nil || !r.kinds[c.kind]:
	case r.typ < 0:
		return 1
	default:
		for _, u := range c.use {
			if u.typ == r.typ {
				return u.n
			}
		}
	}
	return 0
}

func (r *ripRow) sign() int {
	if r.most {
		return -1
	}
	return 1
}

// A ripMix is the program at a node: a row for each type of part, for each kind
// of strip and for each limit, and those of the stock.
type ripMix struct {
	l     *ripping
	m     *mix
	rows  []ripRow
	reach []bool // of each kind of strip: some sheet can be ripped into it
	has   int    // columns of the ripping taken in
	first int    // of those in the program
	left  []int  // parts not in strips that are fixed, of each type
	laid  []int  // strips and sheets fixed, by column of the ripping
	made  []int  // strips fixed, of each kind, that are not ripped yet
	fixed bool   // all strips are
}

// What a part or a strip that is missing costs, in sheets, the dearest, and how
// many times as much where it is missing all the same.
const (
	ripMiss = 20
	ripMore = 30
)

// missing sets what it costs that a part or a strip is missing.
func (x *ripMix) missing(price float64) {
	x.m.miss = price
	for i := range x.m.out {
		x.m.out[i] = price
		x.m.cols[2*i].price = price
	}
}

// dearer makes it cost more.
func (x *ripMix) dearer() {
	x.missing(ripMore * x.m.miss)
	x.m.duals()
}

// mix sets up the program under limits.
func (l *ripping) mix(rows []ripRow) *ripMix {
	p := l.p
	q := problem{value: p.value, sheets: slices.Clone(p.sheets)}
	for i, n := range l.stock {
		q.sheets[i].stock = n
	}
	for _, t := range p.types {
		q.types = append(q.types, ptype{w: t.w, h: t.h, qty: t.qty})
	}
	q.types = append(q.types, make([]ptype, len(l.kinds)+len(rows))...)
	q.types[len(p.types)].qty = 2 * MaxPieces // more than there are sheets, so that each of those has a row
	m := newMix(l.ctx, &q, nil)
	m.work = l.work
	m.cap = 50*m.rows + 1000
	x := &ripMix{l: l, m: m, rows: rows, first: len(m.cols), made: make([]int, len(l.kinds)), reach: make([]bool, len(l.kinds))}
	x.missing(ripMiss * m.top)
	for i := len(p.types); i < len(q.types); i++ { // nothing is asked for as yet
		m.where[2*i], m.where[2*i+1] = -1, int32(i)
		m.basis[i], m.inv[i][i] = int32(2*i+1), -1
	}
	for _, t := range p.types {
		x.left = append(x.left, t.qty)
	}
	for _, w := range l.ways {
		if l.stock[w.sheet] > 0 {
			for _, k := range w.kinds {
				x.reach[k] = true
			}
		}
	}
	x.take()
	x.ask(m.stock)
	return x
}

// col is column i of the ripping in the program.
func (x *ripMix) col(i int) int { return x.first + i }

// uses is how often column i of the ripping is used.
func (x *ripMix) uses(i int) float64 {
	if k := x.m.where[x.col(i)]; k >= 0 {
		return x.m.x[k]
	}
	return 0
}

// take takes in what columns the ripping has learned.
func (x *ripMix) take() {
	l, parts := x.l, len(x.l.p.types)
	for i := range l.cols[x.has:] {
		c := &l.cols[x.has+i]
		col := mixCol{sheet: -1}
		put := func(row int, v int) {
			col.idx, col.val = append(col.idx, int32(row)), append(col.val, float64(v))
		}
		if c.way < 0 {
			for _, u := range c.use {
				put(u.typ, u.n)
			}
			put(parts+c.kind, -1)
		} else {
			sheet := l.ways[c.way].sheet
			col.price = float64(l.p.sheets[sheet].price)
			for _, u := range c.use {
				put(parts+u.typ, u.n)
			}
			put(x.m.row[sheet], 1)
		}
		for i := range x.rows {
			r := &x.rows[i]
			if n := r.counts(l, c); n > 0 {
				put(parts+len(l.kinds)+i, r.sign()*n)
			}
		}
		x.m.append(col)
		x.m.loose[len(x.m.cols)-1] = x.tooMany(c)
	}
	x.has = len(l.cols)
	x.m.reduce()
}

// tooMany reports whether a strip holds more of a part than is asked for, or a
// sheet more strips, where all of those are fixed.
func (x *ripMix) tooMany(c *ripCol) bool {
	of := x.left
	if c.way >= 0 {
		if of = x.made; !x.fixed {
			return false
		}
	}
	return slices.ContainsFunc(c.use, func(u run) bool { return u.n > of[u.typ] })
}

// ask sets what is left to be made: the parts, and sheets for the strips that
// were fixed.
func (x *ripMix) ask(stock []int) {
	x.fixed = done(x.left)
	demand := slices.Concat(x.left, x.made)
	for i := range x.rows {
		r := &x.rows[i]
		n := r.n
		for _, at := range x.laid {
			n -= r.counts(x.l, &x.l.cols[at])
		}
		demand = append(demand, r.sign()*n)
	}
	x.m.ask(demand, slices.Clone(stock))
	for i := range x.has {
		x.m.loose[x.col(i)] = x.tooMany(&x.l.cols[i])
	}
	x.m.values()
	x.m.duals()
}

// solve takes in strips and sheets until none pays, or enough reports true,
// after so many pricings at most. It reports whether it came to an end.
func (x *ripMix) solve(pricings int, enough func() bool) bool {
	m := x.m
	for ; ; pricings-- {
		m.run()
		if enough() {
			return true
		}
		if pricings == 0 || x.l.ctx.Err() != nil {
			return false
		}
		if m.smoothly(x.price) == 0 {
			return true
		}
		x.take()
	}
}

// base is the basis, by column: those before the first of the ripping are of
// rows, and the rows of a node stay where they are in the nodes below.
func (x *ripMix) base() (b ripBase) {
	types := 2 * len(x.m.p.types)
	for _, j := range x.m.basis {
		switch j := int(j); {
		case j < types:
			b.slacks = append(b.slacks, j)
		case j < x.first:
			b.stock = append(b.stock, j-types)
		default:
			b.cols = append(b.cols, j-x.first)
		}
	}
	return b
}

// A ripBase is a basis, in names that hold at a node below as well.
type ripBase struct {
	slacks []int // of rows other than the stock's
	stock  []int
	cols   []int // of the ripping
}

// enter goes on from the basis of the node above.
func (x *ripMix) enter(b ripBase) {
	m := x.m
	in := slices.Clone(b.slacks)
	for _, j := range b.stock {
		in = append(in, j+2*len(m.p.types))
	}
	for _, j := range b.cols {
		in = append(in, x.col(j))
	}
	stays := make([]bool, m.rows)
	for _, j := range in {
		if k := m.where[j]; k >= 0 {
			stays[k] = true
		}
	}
	for _, j := range in {
		if m.where[j] >= 0 {
			continue
		}
		m.direction(j)
		out := -1
		for k, d := range m.d {
			if !stays[k] && math.Abs(d) > 1e-7 && (out < 0 || math.Abs(d) > math.Abs(m.d[out])) {
				out = k
			}
		}
		if out >= 0 {
			m.pivot(j, out)
			stays[out] = true
		}
	}
	m.values()
	m.duals()
}
