package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A few sheets of a large job at a time are laid out anew to save one of them.
// Several such windows, which share no sheet, are searched side by side, so
// that further cores have work. How many does not depend on the cores.
const (
	windowOf     = 6   // sheets
	windowsAtOne = 8   // as long as there are twice the sheets for so many
	windowMove   = 30  // of a search for each piece
	windowCost   = 100 // moves, beside those of the search
	windowSort   = 64  // windows, after which the sheets are sorted anew
)

// A window is some sheets of a large job that are laid out anew.
type window struct {
	pick          []int // of the job's sheets
	demand, stock []int
	was           int64 // what they cost
	moves         int
	seed          uint64

	s    *search
	back []int32
}

// searched lays out some pieces on the sheets left, with turns of filling them
// in turn if asked for, and ends as soon as it is at or below the value given.
func (p *problem) searched(ctx context.Context, demand, stock []int, seed uint64, below int64, moves int, turns bool) (*search, []int32) {
	sub, back := p.part(demand, stock)
	if len(sub.types) == 0 {
		return nil, nil
	}
	s := newSearch(sub, seed)
	s.start()
	low := sub.areaBound()
	if below < math.MaxInt64 {
		low.value = max(low.value, below)
	}
	if turns {
		s.run(ctx, low, max(0, moves/4), func() {})
		none := sub.newLedger()
		sub.inTurn(ctx, s, &none, low, moves, math.MaxInt, func() {})
	}
	s.run(ctx, low, max(0, moves), func() {})
	return s, back
}

// windows lays a few sheets out anew, again and again, the emptiest among
// them most often.
func (b *batcher) windows(low bound, left []int) {
	if total(left) > 0 || len(b.bins) < 2 {
		return
	}
	value := b.value()
	for tries := windowSort; b.moves < b.most && value > low.value && b.ctx.Err() == nil; {
		if tries >= windowSort {
			tries = 0
			slices.SortStableFunc(b.bins, func(x, y *bin) int { return cmp.Compare(b.emptiness(y), b.emptiness(x)) })
		}
		all := b.drawWindows()
		tries += len(all)
		b.p.cores.Each(len(all), func(i int) {
			w := all[i]
			w.s, w.back = b.p.searched(b.ctx, w.demand, w.stock, w.seed, w.was-1, w.moves, false)
		})
		if b.adopt(all) {
			value = b.value()
			b.report(value)
		}
	}
}

// drawWindows draws as many windows as are searched side by side. They share
// the sheets in stock among them.
func (b *batcher) drawWindows() (all []*window) {
	n := max(1, min(windowsAtOne, len(b.bins)/(2*windowOf)))
	first := b.rng.below(n) // to have what does not go round
	taken := make([]bool, len(b.bins))
	spent := b.moves
	for k := 0; k < n && spent < b.most; k++ {
		w := &window{pick: b.pick(taken), demand: make([]int, len(b.p.types)), stock: make([]int, len(b.stock)), seed: b.rng.next()}
		for i, have := range b.stock {
			w.stock[i] = (have + (k+first)%n) / n
		}
		for _, i := range w.pick {
			x := b.bins[i]
			w.was += b.p.sheets[x.sheet].price
			w.stock[x.sheet]++
			for j := range x.n {
				if t := x.n[j].typ; t >= 0 {
					w.demand[t]++
				}
			}
		}
		w.moves = max(0, min(total(w.demand)*windowMove, b.most-spent-windowCost))
		spent += w.moves + windowCost
		all = append(all, w)
	}
	return all
}

// pick draws the sheets of a window among those not taken: the emptiest with
// one chance in two, then any.
func (b *batcher) pick(taken []bool) (pick []int) {
	for i := 0; i < len(taken) && len(pick) < windowOf/2; i++ {
		if !taken[i] && b.rng.below(2) == 0 {
			pick, taken[i] = append(pick, i), true
		}
	}
	for len(pick) < min(windowOf, len(taken)) {
		if i := b.rng.below(len(taken)); !taken[i] {
			pick, taken[i] = append(pick, i), true
		}
	}
	return pick
}

// adopt takes the layouts of windows that came out cheaper and reports whether
// any did.
func (b *batcher) adopt(all []*window) bool {
	gone := make([]bool, len(b.bins))
	better := slices.DeleteFunc(all, func(w *window) bool {
		b.moves += windowCost
		if w.s == nil {
			return true
		}
		b.moves += w.s.iter
		return w.s.bestOut > 0 || w.s.bestValue >= w.was
	})
	for _, w := range better {
		for _, i := range w.pick {
			gone[i] = true
			b.stock[b.bins[i].sheet]++
		}
	}
	var kept []*bin
	for i, x := range b.bins {
		if !gone[i] {
			kept = append(kept, x)
		}
	}
	b.bins = kept
	for _, w := range better {
		for _, x := range w.s.best {
			b.take(x, w.back)
		}
	}
	return len(better) > 0
}
