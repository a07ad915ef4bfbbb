package cutting

import (
	"context"
	"math"
)

// A cutTable knows the smallest rectangles that sets of pieces can be cut from,
// as exact does, but only of the sets asked for and of those they are made of.
type cutTable struct {
	exact
	ctx  context.Context
	g    pieces
	at   map[pieceSet]int32
	work int // pairs of boxes joined, by how long that takes
	stop int // work at which no further set is made
}

const (
	tablePieces = 256 // of the job, at most
	tableBoxes  = 40  // of a set: one of unlike parts that has more is hardly a whole sheet
)

// newCutTable is nil where there are too many pieces, or stages are limited.
func newCutTable(ctx context.Context, p *problem) *cutTable {
	if p.pieces() > tablePieces || p.depth > 0 {
		return nil
	}
	t := &cutTable{exact: exact{p: p}, ctx: ctx, g: newPieces(p), at: map[pieceSet]int32{}, stop: math.MaxInt}
	for _, s := range p.sheets {
		t.maxW, t.maxH = max(t.maxW, s.w), max(t.maxH, s.h)
	}
	return t
}

// of is the number of a set. It has no boxes where it fits no sheet. It is below
// 0 where that is not known: there was no time, or there are too many boxes.
func (t *cutTable) of(s pieceSet) int32 {
	if k, ok := t.at[s]; ok {
		return k
	}
	if t.over() {
		return -1
	}
	boxes, known := t.join(t.runs(s))
	t.work += 20
	if !known && t.over() {
		return -1 // asked again with more time it may be
	}
	k := int32(-1)
	if known {
		k = int32(len(t.boxes))
		t.boxes = append(t.boxes, boxes)
	}
	t.at[s] = k
	return k
}

// over reports whether there is no more time.
func (t *cutTable) over() bool { return t.work >= t.stop || t.ctx.Err() != nil }

// holds reports whether a set is known to fit a sheet, and which it is.
func (t *cutTable) holds(s pieceSet, sheet int) (set int32, fits bool) {
	if set = t.of(s); set < 0 {
		return set, false
	}
	return set, t.fit(int(set), sheet) >= 0
}

// runs lists what a set holds.
func (t *cutTable) runs(s pieceSet) (use []run) {
	for ty, ty0 := range t.g.at {
		if s[ty0>>6]>>(ty0&63)&1 > 0 {
			use = append(use, run{ty, t.g.count(&s, ty)})
		}
	}
	return use
}

// join lists the smallest rectangles of a set, from those of two smaller ones
// side by side or one above the other, as far as they can be known.
func (t *cutTable) join(use []run) (out []box, known bool) {
	last := len(use) - 1
	if last == 0 && use[0].n == 1 {
		ty := &t.p.types[use[0].typ]
		out = t.keep(out, box{w: ty.w, h: ty.h, a: -1, ib: int32(use[0].typ)})
		if ty.turn {
			out = t.keep(out, box{w: ty.h, h: ty.w, a: -1, ib: int32(use[0].typ), turn: true})
		}
		return out, true
	}
	digit := make([]int, len(use))
	digit[last] = 1 // one of the two has a piece of the last type
	for {
		var one, two pieceSet
		all := true
		for i, u := range use {
			t.put(&one, u.typ, digit[i])
			t.put(&two, u.typ, u.n-digit[i])
			all = all && digit[i] == u.n
		}
		if all {
			return out, true
		}
		b := t.of(two)
		if b < 0 || len(t.boxes[b]) == 0 {
			return nil, b >= 0
		}
		a := t.of(one)
		if a < 0 || len(t.boxes[a]) == 0 {
			return nil, a >= 0
		}
		t.work += 4 + len(t.boxes[a])*len(t.boxes[b])*(1+len(out)/8)
		if len(out) > tableBoxes {
			return nil, false
		}
		for i, x := range t.boxes[a] {
			for j, y := range t.boxes[b] {
				out = t.keep(out, box{w: x.w + y.w, h: max(x.h, y.h), a: a, b: b, ia: int32(i), ib: int32(j), vert: true})
				out = t.keep(out, box{w: max(x.w, y.w), h: x.h + y.h, a: a, b: b, ia: int32(i), ib: int32(j)})
			}
		}
		for i := range digit {
			if digit[i] < use[i].n {
				digit[i]++
				break
			}
			digit[i] = 0
		}
	}
}

// put adds the first pieces of a type to a set.
func (t *cutTable) put(s *pieceSet, typ, n int) {
	for k := t.g.at[typ]; n > 0; k, n = k+1, n-1 {
		s[k>>6] |= 1 << (k & 63)
	}
}

// tree is how a set is cut from a sheet that it fits.
func (t *cutTable) tree(set int32, sheet int) *bin {
	t.tables = [][][]box{t.boxes}
	return t.draw(int(set), sheet)
}
