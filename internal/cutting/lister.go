package cutting

import (
	"context"
	"math"
	"math/bits"
)

// A lister lists every full pattern of a sheet: every set of parts, of no more
// pieces than are asked for, that is worth more than a floor and is part of no
// other such set. It works as a proper pricer does, but a set gives way to
// another only if that holds all its pieces.
type lister struct {
	walk
	ctx    context.Context
	g      *grid
	most   []int
	fields []field
	words  int
	guard  counts
	fill   counts
	owner  [4][64]int16 // of each guard bit: the type
	labels []set
	signs  []uint64 // of each set
	cur    []uint64 // of the sets listed of the rectangle at hand
	wait   []int32  // sets of that rectangle to be listed
	room   int      // for so many, and more where many are listed
	least  int64    // worth of the cheapest part: a set that holds another is worth so much more
	old    []int32  // scratch
	q      *proper  // for down
	keep   int      // sets kept of one rectangle; 0: all
	lost   bool     // some were not kept
	worth  []int64
	trials []trial // sets that rectangles were offered, by hash
	last   beaters
	staged bool  // stages are limited: a set may be a row in a row
	round  int32 // of the rectangle at hand
}

// mostListed is how many sets are held at most: a hundred megabytes or so.
const mostListed = 1_000_000

func newLister(ctx context.Context, g *grid, most []int) *lister {
	g.limit = most
	l := &lister{ctx: ctx, g: g, most: most, room: mostWaiting, fields: make([]field, len(most)), q: &proper{g: g, most: most, trims: trimTries, trees: true, pack: g.p.packer()}}
	word, at := 0, 0
	for t := range g.p.types {
		size := bits.Len(uint(most[t])) + 1
		if at+size > 64 {
			word, at = word+1, 0
		}
		if word == len(l.guard) || size > 32 {
			return nil
		}
		l.fields[t] = field{int8(word), uint8(at)}
		top := uint64(1) << (at + size - 1)
		l.owner[word][at+size-1] = int16(t)
		l.guard[word] |= top
		l.fill[word] |= top - (uint64(most[t])+1)<<at
		at += size
	}
	l.words = word + 1
	l.trials = make([]trial, 1<<trialBits)
	return l
}

func (l *lister) fewer(a, b *counts) bool {
	for w := range l.words {
		if ((b[w]|l.guard[w])-a[w])&l.guard[w] != l.guard[w] {
			return false
		}
	}
	return true
}

// list returns the sets of the whole sheet, whose table is filled; whole is
// false when it gave up.
func (l *lister) list(r *raster, worth []int64, floor int64) (found []int32, whole bool) {
	nx, ny := len(r.x), len(r.y)
	if nx == 0 || ny == 0 {
		return nil, true // no part fits
	}
	l.worth = worth
	l.labels, l.home, l.signs = l.labels[:0], l.home[:0], l.signs[:0]
	l.work, l.lost, l.staged = nx*ny/8, false, r.depth > 0
	l.least = l.cheapest(r)
	if r.val[len(r.val)-1] <= floor {
		return nil, true
	}
	if r.depth > 0 {
		return l.listStaged(r, worth, floor)
	}
	found, whole = l.over(l.ctx, l.q, r, floor, func(t int) bool { return l.most[t] > 0 }, l)
	return found, whole && !l.lost
}

// full reports whether it gives up.
func (l *lister) full() bool { return l.work > l.limit || len(l.labels) > mostListed }

// cheapest is the least worth of a part that fits the sheet.
func (l *lister) cheapest(r *raster) int64 {
	least := int64(math.MaxInt64 >> 1)
	w, h := r.x[len(r.x)-1], r.y[len(r.y)-1]
	for t, ty := range l.g.p.types {
		if l.most[t] > 0 && (ty.w <= w && ty.h <= h || ty.turn && ty.h <= w && ty.w <= h) {
			least = min(least, l.worth[t])
		}
	}
	return least
}

// join lays the sets of two rectangles side by side, those worth most first.
func (l *lister) join(list *[]int32, as, bs []int32, need int64, vert bool) {
	if len(as) == 0 || len(bs) == 0 {
		return
	}
	best := l.labels[bs[0]].val
	for _, a := range as {
		la := &l.labels[a]
		l.work++
		if la.val+best <= need {
			return
		}
		if !l.staged && la.a >= 0 && la.vert == vert {
			continue
		}
		for _, b := range bs {
			lb := &l.labels[b]
			l.work++
			v := la.val + lb.val
			if v <= need {
				break
			}
			l.work += 3
			s := set{val: v, a: a, b: b, vert: vert}
			for w := range l.words {
				n := la.n[w] + lb.n[w]
				for over := (n + l.fill[w]) & l.guard[w]; over != 0; over &= over - 1 {
					t := l.owner[w][bits.TrailingZeros64(over)]
					at := l.fields[t].at
					has := int(n >> at & (1<<(uint(bits.Len(uint(l.most[t])))+1) - 1))
					ex := has - l.most[t]
					n -= uint64(ex) << at
					s.val -= int64(ex) * l.worth[t]
				}
				s.n[w] = n
			}
			if s.val <= need {
				continue
			}
			l.add(list, &s, l.signs[a]|l.signs[b])
		}
		if l.full() {
			return
		}
	}
}

// tree is how a label is cut.
func (l *lister) tree(p *problem, sheet int, at int32) *bin {
	l.q.labels = l.labels
	return l.q.tree(sheet, at)
}

// value is what a set is worth.
func (l *lister) value(at int32, worth []int64) int64 {
	var v int64
	for t, f := range l.fields {
		v += int64(l.labels[at].n[f.word]>>f.at&(1<<bits.Len(uint(l.most[t]))-1)) * worth[t]
	}
	return v
}

// count is how many pieces of a type a set has.
func (l *lister) count(at int32, t int) int {
	f := l.fields[t]
	return int(l.labels[at].n[f.word] >> f.at & (1<<bits.Len(uint(l.most[t])) - 1))
}
