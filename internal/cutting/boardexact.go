package cutting

import (
	"context"
	"math"
	"slices"

	"casewright/internal/unit"
)

// boardExact decides small jobs on boards outright: which sets of parts come
// off which board, by trying every cut that can matter, then the least price
// at which boards hold all parts, or as many as they can. Sets are counts of
// each type, numbered in mixed radix.
type boardExact struct {
	s     *boardSearch
	base  []int // of each type: the number of a set of one piece
	radix []int
	sets  int
	area  []float64 // of each set
	work  int       // steps left; below 0: they did not suffice
	ctx   context.Context
}

// Limits of the exact method: sets of parts, and steps to one iteration of the
// budget.
const (
	maxBoardSets = 1 << 9
	exactSteps   = 20

	rounding = 1 + 1e-9 // of sums of areas
)

func newBoardExact(ctx context.Context, s *boardSearch, work int) *boardExact {
	e := &boardExact{s: s, sets: 1, work: work, ctx: ctx}
	for _, t := range s.p.types {
		if e.sets > maxBoardSets/(t.qty+1) {
			return nil
		}
		e.base, e.radix = append(e.base, e.sets), append(e.radix, t.qty+1)
		e.sets *= t.qty + 1
	}
	e.area = make([]float64, e.sets)
	for set := range e.area {
		for t := range e.base {
			e.area[set] += float64(e.count(set, t)) * s.types[t].area
		}
	}
	return e
}

// count is how many parts of a type are in a set.
func (e *boardExact) count(set, t int) int { return set / e.base[t] % e.radix[t] }

// next is the next smaller subset of set after sub, counted down to 0.
func (e *boardExact) next(set, sub int) int {
	for t, b := range e.base {
		if e.count(sub, t) > 0 {
			return sub - b
		}
		sub += e.count(set, t) * b
	}
	return 0
}

// spend takes a step off what is left and reports whether to go on.
func (e *boardExact) spend() bool {
	if e.work--; e.work&0xffff == 0 && e.ctx.Err() != nil {
		e.work = -1
	}
	return e.work >= 0
}

// whole lifts the limits: what was found is drawn to the end.
func (e *boardExact) whole() { e.work, e.ctx = math.MaxInt, context.WithoutCancel(e.ctx) }

// A boardSets says which sets come off one board.
type boardSets struct {
	*boardExact
	t     *boardTable
	known map[plot]bool
	holds []bool
	now   uint16 // the set at hand: of smaller ones it is known whether the board holds them
	price int64
}

// A plot is a rectangle of a board by the numbers of its places, with a set to
// be cut from it. Cuts go first in the direction vert, in so many stages;
// anyStages: in any.
type plot struct {
	i, j, l, m uint8
	vert       bool
	stages     int8
	set        uint16
}

const anyStages = -1

// board finds the sets that a board holds; nil when that takes too much.
func (e *boardExact) board(at int) *boardSets {
	b := &e.s.boards[at]
	t := &boardTable{exact: true}
	for i, ty := range e.s.types {
		t.w, t.h, t.typ = append(t.w, int64(ty.w)), append(t.h, int64(ty.h)), append(t.typ, int32(i))
		if ty.turn {
			t.w, t.h, t.typ = append(t.w, int64(ty.h)), append(t.h, int64(ty.w)), append(t.typ, int32(i))
		}
	}
	if t.xs, t.ys = e.s.places(b, t, 1, true), e.s.places(b, t, 1, false); t.xs == nil || t.ys == nil {
		return nil
	}
	t.mark(b, 1, 1)
	o := &boardSets{boardExact: e, t: t, known: map[plot]bool{}, holds: make([]bool, e.sets), price: e.s.p.sheets[at].price}
	o.holds[0] = true
	whole := o.start(b, 0)
	for set := 1; set < e.sets; set++ {
		may := true // a set with one part less comes off as well
		for k, n := range e.base {
			may = may && (e.count(set, k) == 0 || o.holds[set-n])
		}
		o.now, whole.set = uint16(set), uint16(set)
		o.holds[set] = may && o.fits(whole)
		if e.work < 0 {
			return nil
		}
	}
	return o
}

// start is a set on the whole board.
func (o *boardSets) start(b *board, set int) plot {
	w := plot{j: uint8(len(o.t.xs) - 1), m: uint8(len(o.t.ys) - 1), vert: b.first(true), stages: orderedStages, set: uint16(set)}
	if b.order == AnyOrder {
		w.stages = anyStages
	}
	return w
}

// fits reports whether the set can be cut from the rectangle.
func (o *boardSets) fits(r plot) bool {
	if r.set == 0 {
		return true
	}
	w, h := o.t.xs[r.j]-o.t.xs[r.i], o.t.ys[r.m]-o.t.ys[r.l]
	if o.area[r.set] > float64(w)*float64(h)*rounding || !o.holds[r.set] && r.set < o.now {
		return false
	}
	if t := o.alone(r.set); t >= 0 {
		_, _, _, ok := o.one(r, t)
		return ok
	}
	if r.stages == 0 {
		return false
	}
	yes, known := o.known[r]
	if !known {
		o.cuts(r, func(a, b plot) bool {
			yes = true
			return false
		})
		o.known[r] = yes
	}
	return yes
}

// alone is the type of the only part of a set, or -1.
func (o *boardSets) alone(set uint16) int {
	for t, b := range o.base {
		if int(set) == b {
			return t
		}
	}
	return -1
}

// one finds a place for a single part in a rectangle: which of the table's
// sizes and where.
func (o *boardSets) one(r plot, t int) (k, x, y int, ok bool) {
	for k, typ := range o.t.typ {
		if int(typ) != t {
			continue
		}
		for x := int(r.i); x < int(r.j) && o.t.xs[x]+o.t.w[k] <= o.t.xs[r.j]; x++ {
			for y := int(r.l); y < int(r.m) && o.t.ys[y]+o.t.h[k] <= o.t.ys[r.m]; y++ {
				if !o.spend() {
					return 0, 0, 0, false
				}
				if !o.t.bad[k][x*len(o.t.ys)+y] && o.frees(r, k, x, y) {
					return k, x, y, true
				}
			}
		}
	}
	return 0, 0, 0, false
}

// frees reports whether the stages left suffice to cut a part out.
func (o *boardSets) frees(r plot, k, x, y int) bool {
	across := x > int(r.i) || o.t.xs[x]+o.t.w[k] < o.t.xs[r.j]
	along := y > int(r.l) || o.t.ys[y]+o.t.h[k] < o.t.ys[r.m]
	if !r.vert {
		across, along = along, across
	}
	switch {
	case r.stages == anyStages:
		return true
	case along:
		return r.stages >= 2
	case across:
		return r.stages >= 1
	}
	return true
}

// cuts calls f with every two rectangles that share the set and both can be
// cut, until f returns false. Where stages do not count only the first cut
// counts from which the lower rectangle holds its share.
func (o *boardSets) cuts(r plot, f func(a, b plot) bool) {
	ways := []plot{r, r}
	ways[0].vert, ways[1].vert = r.vert, !r.vert
	if r.stages != anyStages {
		ways[1].stages--
	}
	for _, w := range ways {
		if w.stages == 0 {
			continue
		}
		for sub := o.next(int(r.set), int(r.set)); sub > 0; sub = o.next(int(r.set), sub) {
			if !o.spend() {
				return
			}
			a, b := w, w
			a.set, b.set = uint16(sub), r.set-uint16(sub)
			lo, hi := r.l, r.m
			if w.vert {
				lo, hi = r.i, r.j
			}
			for c := lo + 1; c < hi; c++ {
				if o.area[sub] > o.space(w, lo, c)*rounding {
					continue
				}
				if o.area[r.set]-o.area[sub] > o.space(w, c, hi)*rounding || !o.spend() {
					break
				}
				if w.vert {
					a.j, b.i = c, c
				} else {
					a.m, b.l = c, c
				}
				if !o.fits(a) {
					continue
				}
				if o.fits(b) && o.work >= 0 && !f(a, b) {
					return
				}
				if w.stages == anyStages {
					break
				}
			}
		}
	}
}

// space is the area of a rectangle between two places in its direction.
func (o *boardSets) space(r plot, lo, hi uint8) float64 {
	if r.vert {
		return float64(o.t.xs[hi]-o.t.xs[lo]) * float64(o.t.ys[r.m]-o.t.ys[r.l])
	}
	return float64(o.t.xs[r.j]-o.t.xs[r.i]) * float64(o.t.ys[hi]-o.t.ys[lo])
}

// draw adds the parts of a rectangle that the set can be cut from.
func (o *boardSets) draw(r plot, out []laid) []laid {
	if r.set == 0 {
		return out
	}
	if t := o.alone(r.set); t >= 0 {
		k, x, y, _ := o.one(r, t)
		x1, y1 := o.t.xs[x], o.t.ys[y]
		c := cell{unit.Length(x1), unit.Length(y1), unit.Length(x1 + o.t.w[k]), unit.Length(y1 + o.t.h[k])}
		return append(out, laid{c, int32(t), c.x2-c.x1 != o.s.types[t].w})
	}
	o.cuts(r, func(a, b plot) bool {
		out = o.draw(b, o.draw(a, out))
		return false
	})
	return out
}

// settle looks for the best layout of all; it reports whether it was found.
func (e *boardExact) settle() bool {
	boards := make([]*boardSets, len(e.s.boards))
	for i := range boards {
		if boards[i] = e.board(i); boards[i] == nil {
			return false
		}
	}
	cost := make([]int64, e.sets) // of each set: the least price so far
	for set := 1; set < e.sets; set++ {
		cost[set] = none
	}
	type pick struct{ board, take int }
	var picks [][]pick // board by board: what each set takes from it
	for i, b := range boards {
		for range e.s.p.sheets[i].stock {
			was := slices.Clone(cost)
			row := make([]pick, e.sets)
			for set := 1; set < e.sets; set++ {
				row[set].board = i
				for sub := set; sub > 0; sub = e.next(set, sub) {
					if !e.spend() {
						return false
					}
					if b.holds[sub] && was[set-sub] < none && was[set-sub]+b.price < cost[set] {
						cost[set], row[set].take = was[set-sub]+b.price, sub
					}
				}
			}
			picks = append(picks, row)
		}
	}
	best, least := 0, math.Inf(1)
	for set, c := range cost {
		lost := 0.0
		for t := range e.base {
			lost += float64(e.radix[t]-1-e.count(set, t)) * e.s.types[t].weight
		}
		if c < none && (lost < least-1e-12 || lost <= least+1e-12 && c < cost[best]) {
			best, least = set, lost
		}
	}
	e.whole()
	var raw []*stack
	for k := len(picks) - 1; k >= 0; k-- {
		p := picks[k][best]
		if p.take > 0 {
			b := boards[p.board]
			raw = append(raw, &stack{board: p.board, parts: b.draw(b.start(&e.s.boards[p.board], p.take), nil)})
			best -= p.take
		}
	}
	e.s.adopt(raw)
	return true
}
