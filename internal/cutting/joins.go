package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Where the parts fill their sheets without any waste, a sheet can only be cut
// up in one way: the two halves of every cut share its whole length. So parts
// are joined two by two along sides of exactly the same length, and what comes
// of it is joined again. Unlike sizes seldom match by chance: the rectangles
// are few as a rule, and when all of them are known either some are the sheets
// or no layout is without waste.
type joiner struct {
	pieces
	sides  bool     // all parts may turn: a rectangle stands for itself turned, w >= h
	goals  []target // the sheets to be filled
	list   []joined
	known  map[joinKey]bool
	beside [2]map[int64][]int32 // by the side along X, and along Y; with sides, both in the first
	tries  int
}

// A joined is a part or two rectangles joined without waste.
type joined struct {
	w, h int64
	set  pieceSet
	a, b int32 // what it is joined of; a < 0: a part, of type b
	edge int64 // the side they share
}

type joinKey struct {
	w, h int64
	set  pieceSet
}

// Limits of joining.
const (
	maxJoined  = 60_000
	joinTries  = 300     // for one move
	joinMoves  = 12_000  // at most, in moves
	coverTries = 300_000 // of dealing the rectangles out to sheets
)

// noWaste looks for a layout without waste where one may be better than the
// best known. Where there is none, and anything else takes more, the bound is
// raised.
func (s *search) noWaste(ctx context.Context, b *bound, moves int) {
	p := s.p
	n := p.pieces()
	if s.met(*b) || p.depth > 0 || p.flat() || n > 64*len(pieceSet{}) {
		return
	}
	value := s.bestValue
	if s.bestOut > 0 || p.value == LeastHeight {
		value = math.MaxInt64
	}
	targets, next := p.filled(value)
	if len(targets) == 0 {
		return
	}
	j := newJoiner(p, targets)
	whole := j.join(ctx, min(moves, joinMoves)*joinTries)
	bins, all := j.deal(targets, value)
	s.iter += (j.tries + joinTries - 1) / joinTries
	switch {
	case bins != nil:
		s.offer(bins)
	case whole && all && next > b.value && ctx.Err() == nil:
		b.raise(bound{next, whyNoWaste})
	}
}

// A target is a sheet that may be filled without waste.
type target struct {
	sheet int
	w, h  int64
	price int64
	stock int
}

// filled lists the sheets of which some together have just the area of the
// parts and cost less than value. Where all sheets are alike, next is the
// least value of a layout with waste.
func (p *problem) filled(value int64) (list []target, next int64) {
	var area int64
	for _, t := range p.types {
		area += t.w * t.h * int64(t.qty)
	}
	if p.value == LeastHeight {
		s := p.sheets[0]
		if h := area / s.w; area%s.w == 0 && h <= s.h {
			return []target{{0, s.w, h, 1, 1}}, (h+1)*int64(p.unitY) - int64(p.kerf)
		}
		return nil, 0
	}
	if len(p.sheets) == 1 {
		s := p.sheets[0]
		n := area / (s.w * s.h)
		if area%(s.w*s.h) > 0 || n > int64(s.stock) || n*s.price >= value {
			return nil, 0
		}
		return []target{{0, s.w, s.h, s.price, s.stock}}, (n + 1) * s.price
	}
	steps := 0
	var some func(k int, area, left int64) bool
	some = func(k int, area, left int64) bool {
		if area == 0 {
			return true
		}
		if steps++; k == len(p.sheets) || steps > maxJoined {
			return false
		}
		s := p.sheets[k]
		for n := int64(0); n <= int64(s.stock) && n*s.w*s.h <= area && n*s.price < left; n++ {
			if some(k+1, area-n*s.w*s.h, left-n*s.price) {
				return true
			}
		}
		return false
	}
	if !some(0, area, value) {
		return nil, 0
	}
	for i, s := range p.sheets {
		list = append(list, target{i, s.w, s.h, s.price, s.stock})
	}
	return list, 0
}

func newJoiner(p *problem, targets []target) *joiner {
	j := &joiner{pieces: newPieces(p), goals: targets, sides: true, known: map[joinKey]bool{}}
	j.beside[0], j.beside[1] = map[int64][]int32{}, map[int64][]int32{}
	for _, t := range p.types {
		j.sides = j.sides && (t.turn || t.w == t.h)
	}
	for t, ty := range p.types {
		set := j.first(t)
		j.add(joined{ty.w, ty.h, set, -1, int32(t), 0})
		if ty.turn && !j.sides {
			j.add(joined{ty.h, ty.w, set, -1, int32(t), 0})
		}
	}
	return j
}

func (j *joiner) add(x joined) {
	if j.sides && x.w < x.h {
		x.w, x.h = x.h, x.w
	}
	k := joinKey{x.w, x.h, x.set}
	if j.known[k] || !j.fits(x.w, x.h) {
		return
	}
	j.known[k] = true
	j.list = append(j.list, x)
}

// fits reports whether some sheet has room for a rectangle.
func (j *joiner) fits(w, h int64) bool {
	for i := range j.goals {
		g := &j.goals[i]
		if w <= g.w && h <= g.h || j.sides && w <= g.h && h <= g.w {
			return true
		}
	}
	return false
}

// join makes all rectangles, each with those before it. It reports false when
// there are too many.
func (j *joiner) join(ctx context.Context, tries int) bool {
	for i := 0; i < len(j.list); i++ {
		if len(j.list) > maxJoined || j.tries > tries || i&63 == 0 && ctx.Err() != nil {
			return false
		}
		x := j.list[i]
		j.along(i, x.w, 0)
		if !j.sides {
			j.along(i, x.h, 1)
		} else if x.h != x.w {
			j.along(i, x.h, 0)
		}
	}
	return true
}

// along joins rectangle i to those before it, and to itself, that share a side
// of the length edge.
func (j *joiner) along(i int, edge int64, axis int) {
	x := j.list[i]
	j.beside[axis][edge] = append(j.beside[axis][edge], int32(i))
	for _, k := range j.beside[axis][edge] {
		j.tries++
		y := &j.list[k]
		set, ok := j.union(&x.set, &y.set)
		if !ok {
			continue
		}
		long := x.other(edge, axis) + y.other(edge, axis)
		if axis == 0 {
			j.add(joined{edge, long, set, int32(i), k, edge})
		} else {
			j.add(joined{long, edge, set, int32(i), k, edge})
		}
	}
}

// other is the side across one of the length edge.
func (x *joined) other(edge int64, axis int) int64 {
	if axis == 0 && x.w == edge {
		return x.h
	}
	return x.w
}

// fills reports whether a rectangle is a whole sheet.
func (j *joiner) fills(x *joined, t *target) bool {
	return x.w == t.w && x.h == t.h || j.sides && x.w == t.h && x.h == t.w
}

// deal looks for rectangles that are sheets and hold all pieces together, at
// the least price below value. whole: all ways were looked at.
func (j *joiner) deal(targets []target, value int64) (bins []*bin, whole bool) {
	type full struct {
		at     int
		target int
		use    []run
	}
	first := make([][]full, len(j.p.types)) // by the first type in them
	for i, x := range j.list {
		for k, t := range targets {
			if !j.fills(&x, &t) {
				continue
			}
			f := full{at: i, target: k}
			for t := range j.p.types {
				if n := j.count(&x.set, t); n > 0 {
					f.use = append(f.use, run{t, n})
				}
			}
			first[f.use[0].typ] = append(first[f.use[0].typ], f)
		}
	}
	for _, l := range first {
		slices.SortStableFunc(l, func(a, b full) int { return cmp.Compare(targets[a.target].price, targets[b.target].price) })
	}
	demand := make([]int, len(j.p.types))
	for i, t := range j.p.types {
		demand[i] = t.qty
	}
	var taken, best []full
	steps := 0
	var try func(t int, price int64)
	try = func(t int, price int64) {
		for t < len(demand) && demand[t] == 0 {
			t++
		}
		if t == len(demand) {
			value, best = price, slices.Clone(taken)
			return
		}
	next:
		for _, f := range first[t] {
			if steps++; steps > coverTries {
				return
			}
			g := &targets[f.target]
			if g.stock == 0 || price+g.price >= value {
				continue
			}
			for _, u := range f.use {
				if demand[u.typ] < u.n {
					continue next
				}
			}
			for _, u := range f.use {
				demand[u.typ] -= u.n
			}
			g.stock--
			taken = append(taken, f)
			try(t, price+g.price)
			taken = taken[:len(taken)-1]
			g.stock++
			for _, u := range f.use {
				demand[u.typ] += u.n
			}
		}
	}
	try(0, 0)
	j.tries += steps
	for _, f := range best {
		t := targets[f.target]
		bins = append(bins, j.draw(f.at, t.sheet, t.w, t.h))
	}
	return bins, steps <= coverTries
}

// draw is a rectangle on a sheet that it fills, or at the lower edge of one as
// wide.
func (j *joiner) draw(at, sheet int, w, h int64) *bin {
	s := j.p.sheets[sheet]
	var src bin
	src.reset(sheet, s.w, s.h)
	src.n[0].typ = splitAt
	var walk func(i int32, parent int32, w, h int64) int32
	walk = func(i int32, parent int32, w, h int64) int32 {
		x := &j.list[i]
		k := int32(len(src.n))
		if x.a < 0 {
			t := &j.p.types[x.b]
			src.n = append(src.n, node{w: w, h: h, parent: parent, first: -1, next: -1, typ: x.b, rot: w != t.w})
			return k
		}
		a, b := &j.list[x.a], &j.list[x.b]
		stacked := w == x.edge && (j.sides || a.w == w)
		src.n = append(src.n, node{parent: parent, next: -1, typ: splitAt, vert: !stacked})
		var one, two int32
		if stacked {
			one = walk(x.a, k, w, a.other(w, 0))
			two = walk(x.b, k, w, b.other(w, 0))
		} else {
			one = walk(x.a, k, j.across(a, h), h)
			two = walk(x.b, k, j.across(b, h), h)
		}
		src.n[k].first, src.n[one].next = one, two
		return k
	}
	src.n[0].first = walk(int32(at), 0, w, h)
	out := &bin{}
	var pk packer
	pk.rebuild(out, &src, true)
	return out
}

// across is how wide a rectangle is when it lies h high.
func (j *joiner) across(x *joined, h int64) int64 {
	if j.sides {
		return x.other(h, 0)
	}
	return x.w
}
