package cutting

import (
	"context"
	"math"
	"slices"
)

// A ripTree asks for layouts of panels cut in two stages that cost less than the
// best one known. It branches on how many sheets of a size there are and which
// way they are ripped, then on how many strips of some width or more, then on
// how many parts of a type lie in those.
type ripTree struct {
	l     *ripping
	open  []ripNode
	best  int64
	stuck int64 // the least bound of a node that there is nothing to branch on
	nodes int
	need  need // what the root says of other lots, where it shuts the tree
}

// A ripNode is a branch of the tree: the limits set so far.
type ripNode struct {
	rows  []ripRow
	bound int64   // no layout within them costs less
	from  ripBase // the basis of the node above
}

const (
	ripPricings = 200  // at a node, at most
	ripEvery    = 4    // nodes, of which one is dived from
	ripDearer   = 2    // times that what is missing gets dearer at a node
	ripSticks   = 6    // dives from a node with nothing to branch on
	ripWhole    = 1e-4 // so near a whole number is one
)

// tree is the tree of layouts that cost less than best, which sheets can come to.
func (l *ripping) tree(best int64) *ripTree {
	for i, s := range l.p.sheets {
		if s.price > 0 {
			l.stock[i] = int(min(int64(l.stock[i]), max(0, best-l.unit)/s.price))
		}
	}
	return &ripTree{l: l, open: []ripNode{{}}, stuck: math.MaxInt64, best: best}
}

// low is what no layout costs less than.
func (t *ripTree) low() int64 {
	low := min(t.best, t.stuck)
	for i := range t.open {
		low = min(low, t.open[i].bound)
	}
	return low
}

// run goes on until it finds a layout, nothing is open, or work is done.
func (t *ripTree) run(ctx context.Context, stop int) []*bin {
	l := t.l
	l.ctx = ctx
	for len(t.open) > 0 && *l.work < stop && l.ctx.Err() == nil && t.low() < t.best {
		// The least bound first, of equal ones the last made.
		at := len(t.open) - 1
		for i := at - 1; i >= 0; i-- {
			if t.open[i].bound < t.open[at].bound {
				at = i
			}
		}
		n := t.open[at]
		t.open = slices.Delete(t.open, at, at+1)
		if n.bound >= t.best {
			continue
		}
		if bins := t.branch(n, stop); bins != nil {
			return bins
		}
	}
	return nil
}

// branch solves the program of a node, makes its branches and at times looks
// for a layout from there.
func (t *ripTree) branch(n ripNode, stop int) []*bin {
	l := t.l
	x := l.mix(n.rows)
	if len(n.rows) > 0 {
		x.enter(n.from)
	}
	m := x.m
	enough := func() bool {
		return *l.work >= stop || l.up(m.bound) >= min(t.best, l.up(m.value()))
	}
	whole := x.solve(ripPricings, enough)
	for range ripDearer {
		if !whole || l.up(m.bound) >= t.best || *l.work >= stop || x.sound() {
			break
		}
		x.dearer() // within the limits there may be nothing
		whole = x.solve(ripPricings, enough)
	}
	n.bound = max(n.bound, l.up(m.bound))
	switch {
	case n.bound >= t.best:
		if len(n.rows) == 0 {
			t.need = x.need()
		}
		return nil
	case !whole || *l.work >= stop:
		t.open = append(t.open, n)
		return nil
	}
	t.nodes++
	row, at := x.split()
	base := x.base()
	if row == nil || !x.sound() {
		return t.stick(n, x, base, stop)
	}
	less, more := *row, *row
	less.most, less.n = true, int(math.Floor(at))
	more.n = less.n + 1
	two, nodes := []ripRow{less, more}, []ripNode(nil)
	if at-math.Floor(at) <= 0.5 { // the nearer one is looked at first
		two[0], two[1] = more, less
	}
	for _, r := range two {
		rows := narrowed(n.rows, r)
		if rows == nil {
			return t.stick(n, x, base, stop)
		}
		nodes = append(nodes, ripNode{rows: rows, bound: n.bound, from: base})
	}
	t.open = append(t.open, nodes...)
	if t.nodes%ripEvery == 1 {
		return x.dive(t.best-l.unit, ripFixed, ripNoise, stop)
	}
	return nil
}

// stick looks harder for a layout where there is nothing to branch on; where
// there is none the tree proves nothing.
func (t *ripTree) stick(n ripNode, x *ripMix, base ripBase, stop int) []*bin {
	for range ripSticks {
		if bins := x.dive(t.best-t.l.unit, ripPricings, 5*ripNoise, stop); bins != nil {
			t.open = append(t.open, n) // there may be better ones
			return bins
		}
		if *t.l.work >= stop {
			t.open = append(t.open, n)
			return nil
		}
		x = t.l.mix(n.rows)
		x.enter(base)
		x.solve(ripPricings, func() bool { return *t.l.work >= stop })
	}
	t.stuck = min(t.stuck, n.bound)
	return nil
}

// narrowed adds a limit to others, in place of a wider one of the same things. It
// is nil where it is among them already.
func narrowed(rows []ripRow, r ripRow) []ripRow {
	rows = slices.Clone(rows)
	for i := range rows {
		if o := &rows[i]; o.sheet == r.sheet && o.way == r.way && o.typ == r.typ && o.most == r.most && slices.Equal(o.kinds, r.kinds) {
			if o.n == r.n {
				return nil
			}
			o.n = r.n
			return rows
		}
	}
	return append(rows, r)
}

// split chooses what to branch on, and how much of it there is; nil where all is
// whole.
func (x *ripMix) split() (*ripRow, float64) {
	l := x.l
	sheets, ways, strips := make([]float64, len(l.p.sheets)), make([]float64, len(l.ways)), make([]float64, len(l.kinds))
	parts := make([][]float64, len(l.p.types))
	for t := range parts {
		parts[t] = make([]float64, len(l.kinds))
	}
	for i := range x.has {
		v := x.uses(i)
		if v == 0 {
			continue
		}
		if c := &l.cols[i]; c.way < 0 {
			strips[c.kind] += v
			for _, u := range c.use {
				parts[u.typ][c.kind] += v * float64(u.n)
			}
		} else {
			sheets[l.ways[c.way].sheet] += v
			ways[c.way] += v
		}
	}
	for s, v := range sheets {
		if !isWhole(v) {
			return &ripRow{sheet: s, way: -1, typ: -1}, v
		}
	}
	for w, v := range ways {
		if !isWhole(v) {
			return &ripRow{sheet: -1, way: w, typ: -1}, v
		}
	}
	if row, v := x.most(strips, -1); row != nil {
		return row, v
	}
	var row *ripRow
	at := 0.0
	for t := range parts {
		if r, v := x.most(parts[t], t); r != nil && (row == nil || toHalf(v) < toHalf(at)) {
			row, at = r, v
		}
	}
	return row, at
}

// most is the sum over strips of some width and wider that is the farthest from
// whole.
func (x *ripMix) most(of []float64, typ int) (row *ripRow, at float64) {
	l := x.l
	for i := range l.ways {
		kinds := make([]bool, len(l.kinds))
		sum := 0.0
		for j := len(l.ways[i].kinds) - 1; j >= 0; j-- {
			k := l.ways[i].kinds[j]
			sum += of[k]
			kinds[k] = true
			if !isWhole(sum) && (row == nil || toHalf(sum) < toHalf(at)) {
				row, at = &ripRow{sheet: -1, way: -1, typ: typ, kinds: slices.Clone(kinds)}, sum
			}
		}
	}
	return row, at
}

func isWhole(v float64) bool { return math.Abs(v-math.Round(v)) <= ripWhole }

// toHalf is how far a number is from the middle between two whole ones.
func toHalf(v float64) float64 { return math.Abs(v - math.Floor(v) - 0.5) }
