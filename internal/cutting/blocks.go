package cutting

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"
)

// Where a sheet holds many of the parts that there are, it can nearly always be
// filled almost without waste: parts are joined two by two along sides of about
// the same length, blocks of them again, and so on, until some are a whole
// sheet (Wang 1983). All blocks are far too many, so they are made from small to
// large, and of those of about the same area only some are gone on with: the
// ones that lose little, those of few parts for their area (the small parts
// would be in all of them, and no two could be joined), and a few by lot.

// A block is a part, or two blocks joined.
type block struct {
	w, h int64
	used float64 // area of its parts
	set  pieceSet
	a, b int32 // what it is joined of; a < 0: a part of type b
	vert bool  // side by side
}

// A builder makes blocks for one kind of sheet.
type builder struct {
	pieces
	w, h  int64   // of the sheet
	width int     // blocks gone on with of each band
	loss  float64 // share of its area that a block may lose
	rng   *rng

	list   []block
	beside [2][][]int32 // by the length of the side along X, and along Y, in cells
	cell   int64
	parts  [][]block    // by band of area: all of these are gone on with
	short  [2][][]block // blocks made and not gone on with yet, those as long as a side of the sheet apart
	met    [2][]int     // how many there were of each band
	now    int          // band from which on there are more to come
	least  float64      // area of a part
	rate   float64      // parts for their area
	known  hashes
	best   block
	tries  int
	enough float64 // used area with which it may end
}

// Limits of making blocks.
const (
	bandStep   = 1.5 // areas of a band, the largest by the least
	moreBands  = 6   // for blocks joined to small ones while the last band is gone through
	bandDraws  = 3   // times as many are drawn from
	blockCells = 1 << 10
	pieceCost  = 2   // loss at most that a block of twice as many parts as usual must make up for
	lotCost    = 0.5 // loss at most that is left to luck
)

func newBuilder(p *problem, kind, width int, loss float64, r *rng) *builder {
	s := p.sheets[kind]
	b := &builder{pieces: newPieces(p), width: width, w: s.w, h: s.h, loss: loss, rng: r, enough: math.Inf(1), least: math.Inf(1)}
	b.cell = (max(s.w, s.h) + blockCells - 1) / blockCells
	b.beside[0], b.beside[1] = make([][]int32, s.w/b.cell+1), make([][]int32, s.h/b.cell+1)
	for _, t := range p.types {
		b.least = min(b.least, t.area)
	}
	b.rate = float64(p.pieces()) / p.area()
	bands := max(0, b.band(p.size(kind))) + 1 + moreBands
	b.parts = make([][]block, bands)
	for i := range b.short {
		b.short[i], b.met[i] = make([][]block, bands), make([]int, bands)
	}
	for t, ty := range p.types {
		b.part(block{w: ty.w, h: ty.h, used: ty.area, set: b.first(t), a: -1, b: int32(t)})
		if ty.turn && ty.w != ty.h {
			b.part(block{w: ty.h, h: ty.w, used: ty.area, set: b.first(t), a: -1, b: int32(t)})
		}
	}
	return b
}

// part notes a part, one way up.
func (b *builder) part(x block) {
	if x.w <= b.w && x.h <= b.h && b.known.add(x.hash()) {
		b.better(x)
		k := b.band(x.used)
		b.parts[k] = append(b.parts[k], x)
	}
}

func (b *builder) better(x block) {
	if x.used > b.best.used {
		b.best = x
	}
}

func (b *builder) band(area float64) int {
	return int(math.Log(area/b.least) / math.Log(bandStep))
}

// add notes a block. Of too many in a band which ones are kept is drawn by lot.
func (b *builder) add(x block) {
	if x.w > b.w || x.h > b.h || !b.known.add(x.hash()) {
		return
	}
	b.better(x)
	k := max(b.now, b.band(float64(x.w)*float64(x.h)))
	if k >= len(b.parts) {
		return
	}
	long := b2i(float64(x.w) >= float64(b.w)*(1-b.loss) || float64(x.h) >= float64(b.h)*(1-b.loss))
	l := &b.short[long][k]
	b.met[long][k]++
	if len(*l) < bandDraws*b.width {
		*l = append(*l, x)
	} else if i := b.rng.below(b.met[long][k]); i < len(*l) {
		(*l)[i] = x
	}
}

// build joins blocks until one uses enough, or there are no more.
func (b *builder) build(ctx context.Context, tries int) {
	for k := range b.parts {
		b.now = k + 1
		for i, list := range [][]block{b.parts[k], b.short[0][k], b.short[1][k]} {
			if i > 0 {
				list = b.pick(list)
			}
			for _, x := range list {
				if b.tries > tries || b.best.used >= b.enough || ctx.Err() != nil {
					return
				}
				b.join(x)
			}
		}
		b.short[0][k], b.short[1][k] = nil, nil
	}
}

// pick are the blocks of a band that are gone on with.
func (b *builder) pick(l []block) []block {
	if len(l) <= b.width {
		return l
	}
	type ranked struct {
		cost float64
		at   int
	}
	order := make([]ranked, len(l))
	for i := range l {
		x := &l[i]
		area, n := float64(x.w)*float64(x.h), 0
		for _, u := range x.set {
			n += bits.OnesCount64(u)
		}
		order[i] = ranked{1 - x.used/area + b.loss*(pieceCost*float64(n)/(area*b.rate)+lotCost*b.rng.float()), i}
	}
	slices.SortFunc(order, func(x, y ranked) int { return cmp.Or(cmp.Compare(x.cost, y.cost), x.at-y.at) })
	out := make([]block, b.width)
	for i := range out {
		out[i] = l[order[i].at]
	}
	return out
}

// join joins a block to those before it.
func (b *builder) join(x block) {
	i := int32(len(b.list))
	b.list = append(b.list, x)
	b.beside[0][x.w/b.cell] = append(b.beside[0][x.w/b.cell], i)
	b.beside[1][x.h/b.cell] = append(b.beside[1][x.h/b.cell], i)
	spare := max(0, x.used-(1-2*b.loss)*float64(x.w)*float64(x.h)) // to lose, joined to one as large
	for axis, side := range [2]int64{x.w, x.h} {
		across := x.h
		if axis > 0 {
			across = x.w
		}
		off := int64(spare / float64(across))
		from, to := max(0, side-off)/b.cell, min((side+off)/b.cell, int64(len(b.beside[axis])-1))
		for c := from; c <= to; c++ {
			for _, k := range b.beside[axis][c] {
				b.tries++
				b.pair(i, k, axis)
			}
		}
	}
}

// pair joins two blocks, one above the other (axis 0) or side by side.
func (b *builder) pair(i, k int32, axis int) {
	x, y := &b.list[i], &b.list[k]
	z := block{used: x.used + y.used, a: i, b: k, vert: axis > 0}
	if z.vert {
		z.w, z.h = x.w+y.w, max(x.h, y.h)
	} else {
		z.w, z.h = max(x.w, y.w), x.h+y.h
	}
	if z.w > b.w || z.h > b.h || z.used < (1-b.loss)*float64(z.w)*float64(z.h) {
		return
	}
	if set, ok := b.union(&x.set, &y.set); ok {
		z.set = set
		b.add(z)
	}
}

// sheet is the best block as a sheet cut up.
func (b *builder) sheet(kind int) *bin {
	if b.best.used == 0 {
		return nil
	}
	var src bin
	src.reset(kind, b.w, b.h)
	src.n[0].typ = splitAt
	var walk func(x *block, parent, last int32) int32
	walk = func(x *block, parent, last int32) int32 {
		if x.a < 0 {
			t := &b.p.types[x.b]
			return src.hang(parent, last, node{w: x.w, h: x.h, typ: x.b, rot: x.w != t.w})
		}
		at := src.hang(parent, last, node{typ: splitAt, vert: x.vert})
		walk(&b.list[x.b], at, walk(&b.list[x.a], at, -1))
		return at
	}
	walk(&b.best, 0, -1)
	out := &bin{}
	pk := b.p.packer()
	pk.rebuild(out, &src, true)
	return out
}

func (x *block) hash() uint64 {
	h := uint64(x.w)*0x9E3779B97F4A7C15 ^ uint64(x.h)*0xC2B2AE3D27D4EB4F
	for _, u := range x.set {
		h = (h ^ u) * 0xBF58476D1CE4E5B9
		h ^= h >> 29
	}
	return h | 1
}

// A hashes is a set of numbers, none of them 0.
type hashes struct {
	at []uint64
	n  int
}

// empty makes room for about n numbers.
func (s *hashes) empty(n int) {
	size := 1 << bits.Len(uint(2*n))
	if cap(s.at) < size {
		s.at = make([]uint64, size)
	}
	s.at, s.n = s.at[:size], 0
	clear(s.at)
}

// add reports whether a number is new.
func (s *hashes) add(h uint64) bool {
	if 4*s.n >= 3*len(s.at) {
		old := s.at
		s.at, s.n = make([]uint64, max(1024, 2*len(old))), 0
		for _, v := range old {
			if v != 0 {
				s.add(v)
			}
		}
	}
	mask := uint64(len(s.at) - 1)
	i := h >> 32 & mask
	for ; s.at[i] != 0; i = (i + 1) & mask {
		if s.at[i] == h {
			return false
		}
	}
	s.at[i] = h
	s.n++
	return true
}
