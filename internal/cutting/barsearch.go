package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A barSearch packs lengths into one bar fewer than the best known. Pieces
// without a place wait in a pool; a move empties one to three bars and fills
// them again, one after the other, each as full as it goes from what was on
// them and in the pool. Fullness by the sets of sums, ties by lot.
type barSearch struct {
	p    *problem
	rng  rng
	room int64
	bars [][]int32 // type of each piece
	free []int64
	pool []int32
	out  int64

	hand  []int32 // pieces to choose from
	sums  []sum
	index map[int64]struct{}
	picks []int32
	taken []bool
}

type sum struct {
	len  int64
	hand int32 // index of the piece added last, -1: none
	from int32
}

// newBarSearch sets the search up with n bars from a layout that has more.
func newBarSearch(p *problem, r rng, bins []*bin, n int) *barSearch {
	s := &barSearch{p: p, rng: r, room: p.sheets[0].w, index: map[int64]struct{}{}}
	for _, b := range bins {
		var bar []int32
		free := s.room
		for _, d := range b.n {
			if d.typ >= 0 {
				bar = append(bar, d.typ)
				free -= p.types[d.typ].w
			}
		}
		s.bars = append(s.bars, bar)
		s.free = append(s.free, free)
	}
	s.shed(n)
	return s
}

// shed empties the emptiest bars into the pool until n are left.
func (s *barSearch) shed(n int) {
	for len(s.bars) > max(n, 0) {
		at := 0
		for i, f := range s.free {
			if f > s.free[at] {
				at = i
			}
		}
		s.pool = append(s.pool, s.bars[at]...)
		s.out += s.room - s.free[at]
		s.bars = slices.Delete(s.bars, at, at+1)
		s.free = slices.Delete(s.free, at, at+1)
	}
}

// run makes moves until all pieces have a place.
func (s *barSearch) run(ctx context.Context, moves int) (done bool, used int) {
	for k := range moves {
		if k&15 == 0 && ctx.Err() != nil {
			return false, k
		}
		if len(s.pool) == 0 {
			return true, k
		}
		s.move()
	}
	return len(s.pool) == 0, moves
}

func (s *barSearch) move() {
	n := min(len(s.bars), 1+s.rng.below(3))
	var at [3]int
	for i := 0; i < n; {
		at[i] = s.rng.below(len(s.bars))
		if !slices.Contains(at[:i], at[i]) {
			i++
		}
	}
	s.hand = s.hand[:0]
	before := s.out
	var old float64
	for _, i := range at[:n] {
		s.hand = append(s.hand, s.bars[i]...)
		old += square(s.free[i])
	}
	// Some of the pool joins in; the rest stays where it is.
	keep := s.pool
	const most = 24
	for i := range keep {
		j := i + s.rng.below(len(keep)-i)
		keep[i], keep[j] = keep[j], keep[i]
	}
	join := max(0, min(len(keep), most-len(s.hand)))
	s.hand = append(s.hand, keep[:join]...)
	var fresh float64
	var fill [3][]int32
	var left [3]int64
	hand := s.hand
	for k := range n {
		for i := range hand {
			j := i + s.rng.below(len(hand)-i)
			hand[i], hand[j] = hand[j], hand[i]
		}
		if s.rng.below(2) == 0 { // long ones first: fewer sums, and they are the hard ones
			slices.SortStableFunc(hand, func(a, b int32) int { return cmp.Compare(s.p.types[b].w, s.p.types[a].w) })
		}
		total := s.subset(hand)
		left[k] = s.room - total
		fresh += square(left[k])
		fill[k] = append(fill[k], s.picks...)
		next := hand[:0]
		for i, t := range hand {
			if !s.taken[i] {
				next = append(next, t)
			}
		}
		hand = next
	}
	out := before
	for _, t := range keep[:join] {
		out -= s.p.types[t].w
	}
	for _, t := range hand {
		out += s.p.types[t].w
	}
	if out > before || out == before && fresh < old && s.rng.below(8) > 0 {
		return
	}
	s.out = out
	s.pool = append(slices.Clone(hand), keep[join:]...)
	for k, i := range at[:n] {
		s.bars[i], s.free[i] = fill[k], left[k]
	}
}

func square(v int64) float64 { return float64(v) * float64(v) }

// maxSums bounds the sets of sums of one filling.
const maxSums = 3000

// subset picks pieces of the hand that fill a bar best and returns their
// length. Early pieces of the hand are preferred among equals.
func (s *barSearch) subset(hand []int32) int64 {
	clear(s.index)
	s.sums = append(s.sums[:0], sum{0, -1, -1})
	best := int32(0)
	s.index[0] = struct{}{}
full:
	for h, t := range hand {
		w := s.p.types[t].w
		for i, n := 0, len(s.sums); i < n; i++ {
			l := s.sums[i].len + w
			if l > s.room {
				continue
			}
			if _, ok := s.index[l]; ok {
				continue
			}
			s.index[l] = struct{}{}
			s.sums = append(s.sums, sum{l, int32(h), int32(i)})
			if l > s.sums[best].len {
				best = int32(len(s.sums) - 1)
			}
			if l == s.room || len(s.sums) >= maxSums {
				break full
			}
		}
	}
	if cap(s.taken) < len(hand) {
		s.taken = make([]bool, 2*len(hand))
	}
	s.taken = s.taken[:len(hand)]
	clear(s.taken)
	s.picks = s.picks[:0]
	for i := best; s.sums[i].hand >= 0; i = s.sums[i].from {
		s.taken[s.sums[i].hand] = true
		s.picks = append(s.picks, hand[s.sums[i].hand])
	}
	return s.sums[best].len
}

// bins turns the bars into trees.
func (s *barSearch) bins() []*bin {
	out := make([]*bin, 0, len(s.bars))
	for _, bar := range s.bars {
		if len(bar) == 0 {
			continue
		}
		b := &bin{}
		b.reset(0, s.room, 1)
		for _, t := range bar {
			b.insert(len(b.free)-1, t, s.p.types[t].w, 1, false, true)
		}
		out = append(out, b)
	}
	return out
}

// searchBars searches for fewer bars of a single length until the bound is met.
func (s *search) searchBars(ctx context.Context, b bound, moves int, tell func()) {
	for !s.met(b) && s.iter < moves {
		c := newBarSearch(s.p, s.rng, s.best, len(s.best)-1)
		done, used := c.run(ctx, (moves-s.iter)/10)
		s.iter += min(10*used+10, math.MaxInt/4)
		s.rng = c.rng
		if !done {
			return
		}
		s.bins = c.bins()
		for i := range s.pool {
			s.pool[i] = 0
		}
		s.out, s.price, s.used[0] = 0, int64(len(s.bins))*s.p.sheets[0].price, len(s.bins)
		s.keep()
		tell()
	}
}
