package cutting

import "math"

// The sheets of a large job are filled in turn: each is searched for the
// fullest set out of a bag of pieces, the bag is filled up from all that are
// left, drawn by lot once, and so on. There is so much choice that little is
// lost, and the time grows with the number of pieces. The last bag is laid out
// by a search of its own.
const (
	bagOf     = 150   // pieces
	tailOf    = 60    // pieces: the last ones are searched for together
	fillMost  = 3_000 // moves for one sheet
	fillPart  = 0.7   // of all moves
	tailPart  = 0.3   // of those left then, for the last bag
	tellEvery = 16    // sheets
)

// A filling is a large job on its way.
type filling struct {
	b    *batcher
	bag  []int // pieces of each type
	in   int   // pieces in the bag
	todo []int // types of the pieces not yet in it
	area float64
	full []float64 // of each kind of sheet: how full they become
	dull []int     // and how many were to do when nothing in the bag went on one
}

// turn lays out the demand in so many moves and returns what has no place.
func (b *batcher) turn(demand []int, moves int) []int {
	f := &filling{b: b, bag: make([]int, len(demand)), full: make([]float64, len(b.p.sheets)), dull: make([]int, len(b.p.sheets))}
	for t, n := range demand {
		f.area += float64(n) * b.p.types[t].area
		for range n {
			f.todo = append(f.todo, t)
		}
	}
	for i := len(f.todo) - 1; i > 0; i-- {
		k := b.rng.below(i + 1)
		f.todo[i], f.todo[k] = f.todo[k], f.todo[i]
	}
	for i := range f.full {
		f.full[i], f.dull[i] = 1, -1
	}
	stop := b.moves + moves
	for n := 0; b.ctx.Err() == nil; n++ {
		for f.in < bagOf && len(f.todo) > 0 {
			last := len(f.todo) - 1
			f.bag[f.todo[last]]++
			f.todo = f.todo[:last]
			f.in++
		}
		kind := f.kind()
		if f.in <= tailOf || kind < 0 {
			break
		}
		f.fill(kind, stop)
		if n%tellEvery == 0 {
			b.report(b.value())
		}
	}
	if len(f.todo) == 0 && b.ctx.Err() == nil {
		f.tail(stop)
	}
	for _, t := range f.todo {
		f.bag[t]++
	}
	return b.complete(f.bag)
}

// kind is the kind of sheet in stock that promises to cost the least for what
// it holds, or -1.
func (f *filling) kind() int {
	best, rate := -1, math.Inf(1)
	for i, s := range f.b.p.sheets {
		if f.b.stock[i] <= 0 || f.dull[i] == len(f.todo) {
			continue
		}
		area := float64(s.w) * float64(s.h)
		if r := (float64(s.price) + 1e-9) / (area * f.full[i]); r < rate {
			best, rate = i, r
		}
	}
	return best
}

// fill fills one sheet out of the bag.
func (f *filling) fill(kind, stop int) {
	b := f.b
	one := make([]int, len(b.p.sheets))
	one[kind] = 1
	sub, back := b.p.rest(f.bag, one)
	s := newSearch(sub, 0)
	s.rng, s.iter = b.rng, 1
	area := float64(sub.sheets[kind].w) * float64(sub.sheets[kind].h)
	sheets := 1 + int(f.area/area)
	top, took := s.fullest(b.ctx, min(fillMost, max(0, stop-b.moves)/sheets))
	b.rng = s.rng
	b.moves += took + 1
	if top == nil || top.used == 0 {
		f.dull[kind] = len(f.todo)
		return
	}
	f.full[kind] = 0.8*f.full[kind] + 0.2*top.used/area
	f.area -= top.used
	for j := range top.n {
		if t := top.n[j].typ; t >= 0 {
			top.n[j].typ = int32(back[t])
			f.bag[back[t]]--
			f.in--
		}
	}
	top.stamp = 0
	b.bins = append(b.bins, top)
	b.stock[kind]--
}

// tail searches for a layout of the last bag.
func (f *filling) tail(stop int) {
	b := f.b
	s, back := b.search(f.bag, b.stock, math.MaxInt64, min(lastMoves, max(stop-b.moves, int(tailPart*float64(b.most-b.moves)))))
	if s == nil || s.bestOut > 0 {
		return
	}
	for _, x := range s.best {
		b.take(x, back)
	}
	clear(f.bag)
}
