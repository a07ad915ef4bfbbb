package cutting

import (
	"context"
	"math"
)

// Small jobs are solved outright. For every set of pieces the smallest
// rectangles it can be cut from are listed, each made of two smaller sets side
// by side or one above the other; sets that fit a sheet are then dealt out to
// sheets at the least price. Sets are counts of each type, numbered in mixed
// radix. Where stages are limited there is a table of rectangles for every
// stage and direction of its cuts (see stagedexact.go).
type exact struct {
	p      *problem
	base   []int // of each type: the number of a set of one piece
	radix  []int
	sets   int
	cost   int     // in moves, about
	boxes  [][]box // of each set: those that a sheet is to hold
	tables [][][]box
	maxW   int64
	maxH   int64
}

type box struct {
	w, h       int64
	a, b       int32 // sets it is made of; a is -1 for a single piece
	ia, ib     int32 // which of their boxes
	ta, tb     int8  // and of which tables, where stages are limited
	vert, turn bool
}

// Limits of the exact method: numbers of sets, and of boxes of one set.
const (
	maxSets  = 5000
	maxBoxes = 400
	maxPairs = 3_000_000

	setsToMove = 500 // pairs of sets that take as long as one move
)

// newExact returns nil when there are too many sets, or when to go through
// them takes more than so many moves.
func newExact(p *problem, moves int) *exact {
	if p.value == LeastHeight || len(p.types) == 0 {
		return nil
	}
	e := &exact{p: p, sets: 1}
	pairs := 1.0
	for _, t := range p.types {
		e.base = append(e.base, e.sets)
		e.radix = append(e.radix, t.qty+1)
		pairs *= float64((t.qty + 1) * (t.qty + 2) / 2)
		if e.sets > maxSets/(t.qty+1) || pairs > 1<<21 {
			return nil
		}
		e.sets *= t.qty + 1
	}
	if e.cost = int(pairs) * max(1, 2*p.depth) / setsToMove; e.cost > moves {
		return nil
	}
	for _, s := range p.sheets {
		e.maxW, e.maxH = max(e.maxW, s.w), max(e.maxH, s.h)
	}
	return e
}

// parts calls f with every set below s (by counts), but neither the empty set
// nor s itself unless all is set.
func (e *exact) parts(s int, all bool, f func(a int) bool) {
	digit := make([]int, len(e.radix))
	top := make([]int, len(e.radix))
	for i := range e.radix {
		top[i] = s / e.base[i] % e.radix[i]
	}
	a := 0
	for {
		i := 0
		for ; i < len(digit); i++ {
			if digit[i] < top[i] {
				digit[i]++
				a += e.base[i]
				break
			}
			a -= digit[i] * e.base[i]
			digit[i] = 0
		}
		if i == len(digit) || a == s && !all {
			return
		}
		if !f(a) || a == s {
			return
		}
	}
}

// list finds the boxes of every set; false when there are too many.
func (e *exact) list(ctx context.Context) bool {
	e.boxes = make([][]box, e.sets)
	e.tables = [][][]box{e.boxes}
	work := 0
	for s := 1; s < e.sets; s++ {
		if s&63 == 0 && ctx.Err() != nil {
			return false
		}
		var out []box
		for t, b := range e.base {
			if s == b {
				ty := e.p.types[t]
				out = e.keep(out, box{w: ty.w, h: ty.h, a: -1, ib: int32(t)})
				if ty.turn {
					out = e.keep(out, box{w: ty.h, h: ty.w, a: -1, ib: int32(t), turn: true})
				}
			}
		}
		e.parts(s, false, func(a int) bool {
			b := s - a
			if a > b {
				return true
			}
			work += len(e.boxes[a]) * len(e.boxes[b])
			for i, x := range e.boxes[a] {
				for j, y := range e.boxes[b] {
					out = e.keep(out, box{w: x.w + y.w, h: max(x.h, y.h), a: int32(a), b: int32(b), ia: int32(i), ib: int32(j), vert: true})
					out = e.keep(out, box{w: max(x.w, y.w), h: x.h + y.h, a: int32(a), b: int32(b), ia: int32(i), ib: int32(j)})
				}
			}
			return work <= maxPairs && len(out) <= maxBoxes
		})
		if work > maxPairs || len(out) > maxBoxes {
			return false
		}
		e.boxes[s] = out
	}
	return true
}

// keep adds a box unless another is as small both ways, and drops those it
// beats.
func (e *exact) keep(list []box, x box) []box {
	if x.w > e.maxW || x.h > e.maxH {
		return list
	}
	for _, o := range list {
		if o.w <= x.w && o.h <= x.h {
			return list
		}
	}
	k := 0
	for _, o := range list {
		if x.w > o.w || x.h > o.h {
			list[k] = o
			k++
		}
	}
	return append(list[:k], x)
}

// fit is the box of set s that fits sheet, or -1.
func (e *exact) fit(s, sheet int) int32 {
	sh := e.p.sheets[sheet]
	for i, b := range e.boxes[s] {
		if b.w <= sh.w && b.h <= sh.h {
			return int32(i)
		}
	}
	return -1
}

// A deal is how a set is cut at the least price: one sheet with the set take,
// the rest by the deal of the round before.
type deal struct {
	price int64
	sheet int32 // -1: as in the round before
	take  int32
}

const none = math.MaxInt64 / 4

// solve returns the sheets of least price for all pieces, or nil when there
// are too many sets or stock does not allow it.
func (e *exact) solve(ctx context.Context) []*bin {
	list := e.list
	if e.p.depth > 0 {
		list = e.listStaged
	}
	if !list(ctx) {
		return nil
	}
	// Sheets without a limit first, all in one round; then each sheet of
	// limited stock is one more round, in which it may be used or not.
	n := e.p.pieces()
	rounds := [][]deal{e.free(n)}
	for s, sh := range e.p.sheets {
		if sh.stock >= n {
			continue
		}
		for range sh.stock {
			if len(rounds) > 40 || ctx.Err() != nil {
				return nil
			}
			rounds = append(rounds, e.once(rounds[len(rounds)-1], s))
		}
	}
	s := e.sets - 1
	if rounds[len(rounds)-1][s].price >= none {
		return nil
	}
	var out []*bin
	for r := len(rounds) - 1; s > 0; {
		d := rounds[r][s]
		if d.sheet < 0 {
			r--
			continue
		}
		out = append(out, e.draw(int(d.take), int(d.sheet)))
		s -= int(d.take)
		if r > 0 {
			r--
		}
	}
	return out
}

func (e *exact) free(n int) []deal {
	f := make([]deal, e.sets)
	// The cheapest unlimited sheet each set fits.
	cheap := make([]deal, e.sets)
	for s := 1; s < e.sets; s++ {
		cheap[s] = deal{none, -1, 0}
		for i, sh := range e.p.sheets {
			if sh.stock >= n && sh.price < cheap[s].price && e.fit(s, i) >= 0 {
				cheap[s] = deal{sh.price, int32(i), int32(s)}
			}
		}
	}
	for s := 1; s < e.sets; s++ {
		f[s] = deal{none, -1, 0}
		first := 0
		for s/e.base[first]%e.radix[first] == 0 {
			first++
		}
		e.parts(s, true, func(a int) bool {
			if c := cheap[a]; a/e.base[first]%e.radix[first] > 0 && c.price+f[s-a].price < f[s].price {
				f[s] = deal{c.price + f[s-a].price, c.sheet, int32(a)}
			}
			return true
		})
	}
	return f
}

func (e *exact) once(was []deal, sheet int) []deal {
	f := make([]deal, e.sets)
	price := e.p.sheets[sheet].price
	fits := make([]bool, e.sets)
	for s := 1; s < e.sets; s++ {
		fits[s] = e.fit(s, sheet) >= 0
	}
	for s := 1; s < e.sets; s++ {
		f[s] = deal{was[s].price, -1, 0}
		e.parts(s, true, func(a int) bool {
			if fits[a] && price+was[s-a].price < f[s].price {
				f[s] = deal{price + was[s-a].price, int32(sheet), int32(a)}
			}
			return true
		})
	}
	return f
}

// draw makes the tree of a set on a sheet.
func (e *exact) draw(set, sheet int) *bin {
	sh := e.p.sheets[sheet]
	var src bin
	src.reset(sheet, sh.w, sh.h)
	src.n[0].typ = splitAt
	var walk func(s, i, parent int32, t int8) int32
	walk = func(s, i, parent int32, t int8) int32 {
		x := e.tables[t][s][i]
		at := int32(len(src.n))
		if x.a < 0 {
			src.n = append(src.n, node{w: x.w, h: x.h, parent: parent, first: -1, next: -1, typ: x.ib, rot: x.turn})
			return at
		}
		src.n = append(src.n, node{parent: parent, next: -1, typ: splitAt, vert: x.vert})
		one := walk(x.a, x.ia, at, x.ta)
		two := walk(x.b, x.ib, at, x.tb)
		src.n[at].first, src.n[one].next = one, two
		return at
	}
	src.n[0].first = walk(int32(set), e.fit(set, sheet), 0, int8(len(e.tables)-1))
	out := &bin{}
	pk := e.p.packer()
	pk.rebuild(out, &src, true)
	return out
}
