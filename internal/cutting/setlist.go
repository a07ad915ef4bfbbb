package cutting

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// A setLister lists sets of parts that a sheet can hold and that are worth
// nearly its price, one part after the other, those of the greatest worth first.
// What goes beside a set is bounded by the area that is left, and by areas where
// parts that are long or short one way count for more or for nothing (dual
// feasible functions), which says much where few parts lie on a sheet. Parts of
// little worth would be in all sets and in none: they are left out at first, and
// put where there is room.
type setLister struct {
	t     *cutTable
	worth []float64
	ranks []int // the types of pieces, by worth; copies of one follow each other
	next  []int // of each rank: the first of another type
	small []int // types of little worth

	kinds []*setKind // of each kind of sheet, made when needed
	sheet int        // the one at hand
	*setKind
	floor float64
	found []cutSet
	whole bool
}

// A setKind is what a kind of sheet can hold.
type setKind struct {
	gauge []gauge
	open  pieceSet   // ranks that fit it
	goes  []pieceSet // of each rank: later ones that fit it together with that
}

// A gauge is a way to measure parts: those on a sheet come to 1 at most.
type gauge struct {
	size  []float64 // of each rank
	order []int     // ranks, those worth most for their size first
}

// A cutSet is a set of a table, and what it holds.
type cutSet struct {
	set int32
	use []run
}

const (
	setPieces = 10 // on a sheet, at most
	setMisses = 4  // of small parts, before no more are tried
)

// newSetLister leaves out parts worth less than small.
func newSetLister(t *cutTable, worth []float64, small float64) *setLister {
	l := &setLister{t: t, worth: worth, kinds: make([]*setKind, len(t.p.sheets))}
	var types []int
	for ty := range t.p.types {
		if worth[ty] < small {
			l.small = append(l.small, ty)
		} else {
			types = append(types, ty)
		}
	}
	byWorth := func(a, b int) int { return cmp.Compare(worth[b], worth[a]) }
	slices.SortStableFunc(types, byWorth)
	slices.SortStableFunc(l.small, byWorth)
	for _, ty := range types {
		for range t.p.types[ty].qty {
			l.ranks = append(l.ranks, ty)
		}
		for len(l.next) < len(l.ranks) {
			l.next = append(l.next, len(l.ranks))
		}
	}
	return l
}

// list lists the sets of a sheet worth more than floor. It is not whole where the
// table has no time for all of them.
func (l *setLister) list(sheet int, floor float64) (found []cutSet, whole bool) {
	l.sheet, l.floor = sheet, floor
	l.found, l.whole = nil, true
	if l.kinds[sheet] == nil {
		l.kinds[sheet] = l.kind(sheet)
	}
	l.setKind = l.kinds[sheet]
	l.add(pieceSet{}, nil, l.open, 0, slices.Repeat([]float64{1}, len(l.gauge)))
	return l.found, l.whole && !l.t.over()
}

// kind is what a kind of sheet can hold of one part or two.
func (l *setLister) kind(sheet int) *setKind {
	k := &setKind{gauge: l.gauges(sheet), goes: make([]pieceSet, len(l.ranks))}
	for r, ty := range l.ranks {
		if _, fits := l.t.holds(l.t.g.first(ty), sheet); !fits {
			continue
		}
		mark(&k.open, r)
		for q := range r {
			if l.ranks[q] == ty {
				mark(&k.goes[q], r) // where there is room
			} else if k.open[q>>6]>>(q&63)&1 > 0 {
				pair := l.t.g.first(ty)
				l.t.put(&pair, l.ranks[q], 1)
				if _, fits := l.t.holds(pair, sheet); fits {
					mark(&k.goes[q], r)
				}
			}
		}
	}
	return k
}

// gauges measure the parts on a sheet: one side as it is, or where more than
// half, two thirds or three quarters of the sheet counts for all of it and less
// than the rest for nothing, or in halves.
func (l *setLister) gauges(sheet int) (list []gauge) {
	s := l.t.p.sheets[sheet]
	asIs := func(x float64) float64 { return x }
	above := func(e float64) func(x float64) float64 {
		return func(x float64) float64 {
			switch {
			case x > 1-e+1e-9:
				return 1
			case x < e-1e-9:
				return 0
			}
			return x
		}
	}
	halves := func(x float64) float64 { // thirds that are whole count as they are
		if k := math.Round(3 * x); math.Abs(3*x-k) < 1e-9 {
			return x
		}
		return math.Floor(3*x) / 2
	}
	for _, f := range []func(float64) float64{asIs, above(1. / 2), above(1. / 3), above(1. / 4), halves} {
		for _, along := range []bool{true, false} {
			g := gauge{}
			for r, ty := range l.ranks {
				size := func(w, h int64) float64 {
					x, y := float64(w)/float64(s.w), float64(h)/float64(s.h)
					if along {
						return f(x) * y
					}
					return x * f(y)
				}
				t := &l.t.p.types[ty]
				v := size(t.w, t.h)
				if t.turn {
					v = min(v, size(t.h, t.w))
				}
				g.size, g.order = append(g.size, v), append(g.order, r)
			}
			slices.SortStableFunc(g.order, func(a, b int) int {
				return cmp.Compare(l.worth[l.ranks[b]]*g.size[a], l.worth[l.ranks[a]]*g.size[b])
			})
			list = append(list, g)
		}
	}
	return list[1:] // both ways the same
}

func mark(s *pieceSet, k int) { s[k>>6] |= 1 << (k & 63) }

// add notes a set and goes on with what may be added to it, of the ranks open.
func (l *setLister) add(set pieceSet, use []run, open pieceSet, worth float64, room []float64) {
	if len(use) > 0 && worth > l.floor {
		l.found = append(l.found, cutSet{l.t.of(set), slices.Clone(use)})
	}
	if piecesOf(use) == setPieces {
		return
	}
	for l.may(&open, worth, room) {
		r := lowest(&open)
		if r < 0 {
			return
		}
		ty := l.ranks[r]
		open[r>>6] &^= 1 << (r & 63)
		if l.t.over() {
			l.whole = false
			return
		}
		more, n := set, 1
		held := use
		if k := len(use) - 1; k >= 0 && use[k].typ == ty {
			n = use[k].n + 1
			held = use[:k]
		}
		l.t.put(&more, ty, n)
		at, fits := l.t.holds(more, l.sheet)
		l.whole = l.whole && at >= 0
		if fits {
			next := open
			for w := range next {
				next[w] &= l.goes[r][w]
			}
			less := slices.Clone(room)
			for i := range less {
				less[i] -= l.gauge[i].size[r]
			}
			l.add(more, append(slices.Clone(held), run{ty, n}), next, worth+l.worth[ty], less)
		}
		for q := r + 1; q < l.next[r]; q++ { // a copy comes after the one before it
			open[q>>6] &^= 1 << (q & 63)
		}
	}
}

// piecesOf is how many pieces there are.
func piecesOf(use []run) (n int) {
	for _, u := range use {
		n += u.n
	}
	return n
}

func lowest(s *pieceSet) int {
	for w, v := range s {
		if v != 0 {
			return 64*w + bits.TrailingZeros64(v)
		}
	}
	return -1
}

// may reports whether the parts open may make a set worth enough.
func (l *setLister) may(open *pieceSet, worth float64, room []float64) bool {
	for i := range l.gauge {
		if worth+l.gauge[i].beside(l, open, room[i]) <= l.floor {
			return false
		}
	}
	return true
}

// beside is what the parts open may be worth in so much room. Parts that are
// larger are taken off.
func (g *gauge) beside(l *setLister, open *pieceSet, room float64) (worth float64) {
	room += 1e-9
	all := room
	l.t.work += 2
	for _, r := range g.order {
		if open[r>>6]>>(r&63)&1 == 0 {
			continue
		}
		switch size := g.size[r]; {
		case size > all:
			open[r>>6] &^= 1 << (r & 63)
		case size <= room:
			room -= size
			worth += l.worth[l.ranks[r]]
		default:
			return worth + l.worth[l.ranks[r]]*room/size
		}
	}
	return worth
}

// top puts small parts where there is room, the one with that number first.
func (l *setLister) top(s cutSet, sheet, first int) cutSet {
	set := pieceSet{}
	for _, u := range s.use {
		l.t.put(&set, u.typ, u.n)
	}
	n, misses := piecesOf(s.use), 0
	out := cutSet{s.set, slices.Clone(s.use)}
	for k := range l.small {
		ty := l.small[(k+first)%len(l.small)]
		for c := 1; c <= l.t.p.types[ty].qty && n < setPieces; c++ {
			more := set
			l.t.put(&more, ty, c)
			at, fits := l.t.holds(more, sheet)
			if !fits {
				misses++
				break
			}
			set, out.set, n = more, at, n+1
			if c == 1 {
				out.use = append(out.use, run{ty, 1})
			} else {
				out.use[len(out.use)-1].n++
			}
		}
		if misses == setMisses || n == setPieces {
			break
		}
	}
	slices.SortFunc(out.use, func(a, b run) int { return a.typ - b.typ })
	return out
}
