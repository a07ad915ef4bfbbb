package cutting

import (
	"math"
	"slices"
)

// A barTree decides whether the pieces go on so many bars, each cut by one of
// the patterns listed. Where the program's answer is in fractions, two pieces
// lie on one bar in part of it: then both cases are looked at, that some bar
// holds both and that none does (Ryan and Foster 1981). Patterns that a case
// excludes are shut; the program goes on by dual steps, and a case is done with
// as soon as its value is above the number of bars. All that is ruled out is
// ruled out in whole numbers.
type barTree struct {
	m     *mix
	of    []int // the types that it is about
	first int   // of the columns that are patterns
	bars  int64 // left
	stop  int   // *m.work at which it ends
	shut  []int // columns shut, in order
	picks []pattern
	roots []root
	whole bool    // everything was looked at so far
	worth []int64 // of a piece, by the duals
	top   int64   // of an open pattern
	pairs []pair
}

// A pair of types and how far they lie on one bar.
type pair struct {
	i, j int
	x    float64
}

const (
	treeEps  = 1e-6
	treeUnit = 1 << 40 // what a bar is worth
)

// newBarTree is the tree over the patterns of m. To leave a piece out is dearer
// than all bars, lest an answer does.
func newBarTree(m *mix, bars int64) *barTree {
	m.miss = float64(bars + 1)
	for i := range m.p.types {
		m.cols[2*i].price, m.out[i] = m.miss, m.miss
	}
	m.duals()
	m.run()
	t := &barTree{m: m, bars: bars, first: len(m.cols), worth: make([]int64, len(m.p.types)), whole: true}
	for j, c := range m.cols {
		if c.sheet >= 0 {
			t.first = min(t.first, j)
		}
	}
	return t
}

// find returns patterns that hold all pieces, if it finds some.
func (t *barTree) find(stop int) (found []pattern, ok bool) {
	t.stop = stop
	ok = t.node(0)
	return t.picks, ok
}

func (t *barTree) over() bool { return *t.m.work >= t.stop || t.m.ctx.Err() != nil }

// node looks at the case at hand.
func (t *barTree) node(level int) bool {
	m := t.m
	mark := len(t.shut)
	defer t.open(mark)
	if !t.solve() {
		return false
	}
	if t.over() {
		t.whole = false
		return false
	}
	i, j, col := t.choice()
	if col < 0 {
		return t.finish()
	}
	for len(t.roots) <= level {
		t.roots = append(t.roots, root{})
	}
	m.save(&t.roots[level])
	at := len(t.shut)
	if i < 0 {
		return t.pattern(level, col)
	}
	for _, together := range []bool{true, false} {
		if !together {
			t.open(at)
			m.restore(&t.roots[level])
			m.values()
			m.duals()
		}
		for c := t.first; c < len(m.cols); c++ {
			if !m.loose[c] && excludes(m.cols[c].use, m.demand, i, j, together) {
				t.close(c)
			}
		}
		*m.work += 4 * len(m.cols)
		if t.node(level + 1) {
			return true
		}
		if !t.whole {
			return false
		}
	}
	return false
}

// excludes reports whether a pattern has no place where some bar holds an i
// and a j, or where none does. One of the two is a single piece, or they are
// the two pieces of one type.
func excludes(use []run, demand []int, i, j int, together bool) bool {
	ni, nj := 0, 0
	for _, u := range use {
		if u.typ == i {
			ni = u.n
		}
		if u.typ == j {
			nj = u.n
		}
	}
	if i == j {
		return together && ni == 1 || !together && ni == 2
	}
	if !together {
		return ni > 0 && nj > 0
	}
	return demand[i] == 1 && ni > 0 && nj == 0 || demand[j] == 1 && nj > 0 && ni == 0
}

// pattern looks at the cases that a pattern is cut at least once, and never.
func (t *barTree) pattern(level, col int) bool {
	m := t.m
	demand := slices.Clone(m.demand)
	at, picks := len(t.shut), len(t.picks)
	for _, u := range m.cols[col].use {
		m.demand[u.typ] -= u.n
		m.rhs[u.typ] -= float64(u.n)
	}
	for c := t.first; c < len(m.cols); c++ {
		if !m.loose[c] && m.holdsMore(m.cols[c].use) {
			t.close(c)
		}
	}
	*m.work += 4 * len(m.cols)
	t.bars--
	t.picks = append(t.picks, pattern{use: m.cols[col].use})
	m.values()
	if t.node(level + 1) {
		return true
	}
	t.bars++
	t.picks = t.picks[:picks]
	t.open(at)
	copy(m.demand, demand)
	for i, n := range demand {
		m.rhs[i] = float64(n)
	}
	if !t.whole {
		return false
	}
	m.restore(&t.roots[level])
	m.values()
	m.duals()
	t.close(col)
	return t.node(level + 1)
}

// holdsMore reports whether a pattern holds more of a type than is asked for,
// which may be none.
func (m *mix) holdsMore(use []run) bool {
	return slices.ContainsFunc(use, func(u run) bool { return u.n > m.demand[u.typ] })
}

// close shuts a column.
func (t *barTree) close(c int) {
	t.m.loose[c] = true
	t.shut = append(t.shut, c)
}

// open opens what was shut since mark.
func (t *barTree) open(mark int) {
	for _, c := range t.shut[mark:] {
		t.m.loose[c] = false
	}
	t.shut = t.shut[:mark]
}

// choice is the pair to go on with; i is below 0 when only a pattern will do,
// col when all is whole.
func (t *barTree) choice() (i, j, col int) {
	m := t.m
	t.pairs = t.pairs[:0]
	col = -1
	near := 0.0
	for k, c := range m.basis {
		x := m.x[k]
		if int(c) < t.first || x < treeEps {
			continue
		}
		if f := x - math.Floor(x+treeEps); f > treeEps && f > near {
			col, near = int(c), f
		}
		use := m.cols[c].use
		for a, u := range use {
			for _, v := range use[a+1:] {
				if m.demand[u.typ] == 1 || m.demand[v.typ] == 1 {
					t.pairs = append(t.pairs, pair{u.typ, v.typ, x})
				}
			}
			if m.demand[u.typ] == 2 && u.n == 2 {
				t.pairs = append(t.pairs, pair{u.typ, u.typ, x})
			}
		}
	}
	*m.work += 20 * len(t.pairs)
	slices.SortFunc(t.pairs, func(a, b pair) int { return (a.i-b.i)*m.rows + a.j - b.j })
	i, j = -1, -1
	top := 0.0
	for a := 0; a < len(t.pairs); {
		s := t.pairs[a]
		for a++; a < len(t.pairs) && t.pairs[a].i == s.i && t.pairs[a].j == s.j; a++ {
			s.x += t.pairs[a].x
		}
		if s.x > 1-treeEps || s.x < treeEps {
			continue
		}
		if v := t.score(s); v > top {
			i, j, top = s.i, s.j, v
		}
	}
	return i, j, col
}

// score is how well a pair suits to go on with: not mostly apart, and short:
// where long pieces lie follows from where the short ones do.
func (t *barTree) score(s pair) float64 {
	long := float64(t.m.p.types[s.i].w+t.m.p.types[s.j].w) / float64(t.m.p.sheets[0].w)
	return min(s.x, 0.5) * (1.2 - long)
}

// finish takes the program's answer, which is whole.
func (t *barTree) finish() bool {
	m := t.m
	left := slices.Clone(m.demand)
	at := len(t.picks)
	bars := t.bars
	for k, c := range m.basis {
		if int(c) < t.first || m.loose[c] {
			continue
		}
		for range int(m.x[k] + 0.5) {
			bars--
			t.picks = append(t.picks, pattern{use: m.cols[c].use})
			for _, u := range m.cols[c].use {
				left[u.typ] -= u.n
			}
		}
	}
	if bars >= 0 && !slices.ContainsFunc(left, func(n int) bool { return n > 0 }) {
		return true
	}
	t.picks = t.picks[:at]
	t.whole = false // rounding got the better of it
	return false
}
