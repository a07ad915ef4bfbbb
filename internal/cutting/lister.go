package cutting

import (
	"context"
	"math/bits"
	"slices"
)

// A lister lists every full pattern of a sheet: every set of parts, of no more
// pieces than are asked for, that is worth more than a floor and is part of no
// other such set. It works as a proper pricer does, but a set gives way to
// another only if that holds all its pieces.
type lister struct {
	ctx    context.Context
	g      *grid
	most   []int
	fields []field
	words  int
	guard  counts
	fill   counts
	owner  [4][64]int16 // of each guard bit: the type
	lists  [][]int32
	cols   [][]int32 // of each y: the x with sets
	along  []int32
	labels []set
	q      *proper // for down
	work   int
	limit  int
	keep   int  // sets kept of one rectangle; 0: all
	lost   bool // some were not kept
	worth  []int64
}

// mostListed is how many sets are held at most: a hundred megabytes or so.
const mostListed = 1_000_000

func newLister(ctx context.Context, g *grid, most []int) *lister {
	g.limit = most
	l := &lister{ctx: ctx, g: g, most: most, fields: make([]field, len(most)), q: &proper{g: g, most: most, trims: trimTries, trees: true, pack: g.p.packer()}}
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
	l.labels, l.work, l.lost = l.labels[:0], nx*ny/8, false
	if r.val[len(r.val)-1] <= floor {
		return nil, true
	}
	if r.depth > 0 {
		return l.listStaged(r, worth, floor)
	}
	q := l.q
	q.down(r, floor)
	if len(l.lists) < nx*ny {
		l.lists = make([][]int32, nx*ny)
	}
	for i := range l.lists {
		l.lists[i] = l.lists[i][:0]
	}
	for len(l.cols) < ny {
		l.cols = append(l.cols, nil)
	}
	for j := range ny {
		l.cols[j] = l.cols[j][:0]
	}
	in, along := -1, l.along[:0] // the last row with sets, and where
	defer func() { l.along = along }()
	q.sitAll(r, func(t int) bool { return l.most[t] > 0 })
	for k := len(q.alive) - 1; k >= 0; k-- {
		at := q.alive[k]
		i, j := int(at)/ny, int(at)%ny
		need := floor - q.beside[at]
		list := &l.lists[at]
		if i > 0 {
			for _, a := range l.lists[int(at)-ny] {
				if l.labels[a].val <= need {
					break
				}
				l.insert(list, a)
			}
		}
		if j > 0 {
			for _, a := range l.lists[int(at)-1] {
				if l.labels[a].val <= need {
					break
				}
				l.insert(list, a)
			}
		}
		for _, arg := range q.seats[at] {
			t := arg >> 1
			s := set{val: worth[t], a: -1, b: arg}
			f := l.fields[t]
			s.n[f.word] = 1 << f.at
			if s.val > need {
				l.add(list, s)
			}
		}
		dx := r.dx[i]
		for _, k := range l.cols[j] {
			o := dx[k]
			if o < k {
				break
			}
			l.work++
			l.join(list, l.lists[int(k)*ny+j], l.lists[int(o)*ny+j], need, true, k == o)
		}
		if i != in {
			in, along = i, along[:0]
			if l.ctx.Err() != nil {
				return nil, false
			}
		}
		row, dy := l.lists[i*ny:i*ny+ny], r.dy[j]
		for _, k := range along {
			o := dy[k]
			if o < k {
				break
			}
			l.work++
			l.join(list, row[k], row[o], need, false, k == o)
		}
		if len(*list) > 0 {
			l.cols[j] = append(l.cols[j], int32(i))
			along = append(along, int32(j))
		}
		l.work += 4
		if l.work > l.limit || len(l.labels) > mostListed {
			return nil, false
		}
	}
	return l.lists[nx*ny-1], !l.lost
}

func (l *lister) join(list *[]int32, as, bs []int32, need int64, vert, same bool) {
	for x, a := range as {
		from := 0
		if same {
			from = x
		}
		for _, b := range bs[from:] {
			la, lb := &l.labels[a], &l.labels[b]
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
			l.add(list, s)
		}
		if l.work > l.limit || len(l.labels) > mostListed {
			return
		}
	}
}

func (l *lister) add(list *[]int32, s set) {
	if l.beaten(*list, &s) {
		return
	}
	l.labels = append(l.labels, s)
	l.seat(list, int32(len(l.labels)-1))
}

func (l *lister) insert(list *[]int32, a int32) {
	if !l.beaten(*list, &l.labels[a]) {
		l.seat(list, a)
	}
}

func (l *lister) beaten(list []int32, s *set) bool {
	for k, a := range list {
		o := &l.labels[a]
		if o.val < s.val {
			l.work += k / 2
			return false
		}
		if l.fewer(&s.n, &o.n) {
			l.work += k / 2
			return true
		}
	}
	l.work += len(list) / 2
	return false
}

func (l *lister) seat(list *[]int32, a int32) {
	s := &l.labels[a]
	out := *list
	lo, _ := slices.BinarySearchFunc(out, s.val, func(o int32, v int64) int {
		if l.labels[o].val > v {
			return -1
		}
		return 1
	})
	out = append(out, 0)
	copy(out[lo+1:], out[lo:])
	out[lo] = a
	n := lo + 1
	for _, o := range out[lo+1:] {
		if !l.fewer(&l.labels[o].n, &s.n) {
			out[n] = o
			n++
		}
	}
	l.work += len(out) / 2
	if l.keep > 0 && n > l.keep {
		n, l.lost = l.keep, true
	}
	*list = out[:n]
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
