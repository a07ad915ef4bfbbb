package cutting

import "slices"

// A large job that is stopped early has thousands of pieces without a place. To
// look for the best of all sheets for each takes longer, the more there are of
// both, and whoever stopped it waits.

const (
	hurrySheets = 16   // that a piece may go on: the last ones
	hurryPieces = 1000 // at a time, drawn by lot: small ones fill up what large ones leave
)

// hurry puts what is left over on sheets of its own, each piece on one of the
// last few. It returns what there is no further sheet for.
func (b *batcher) hurry(left []int) []int {
	s := newSearch(b.p, b.rng.next())
	clear(s.pool)
	s.out, s.stamp = 0, 1
	for i, sh := range b.p.sheets {
		s.used[i] = sh.stock - b.stock[i]
	}
	var todo []int
	for t, n := range left {
		for range n {
			todo = append(todo, t)
		}
	}
	for i := len(todo) - 1; i > 0; i-- {
		k := b.rng.below(i + 1)
		todo[i], todo[k] = todo[k], todo[i]
	}
	over := make([]int, len(left))
	for some := range slices.Chunk(todo, hurryPieces) {
		for _, t := range some {
			s.pool[t]++
			s.out += b.p.types[t].area
		}
		s.fill(0)
		for _, t := range some {
			over[t] += s.pool[t]
			s.pool[t] = 0
		}
		s.out = 0
		if n := len(s.bins) - hurrySheets; n > 0 {
			b.bins = append(b.bins, s.bins[:n]...)
			s.bins = slices.Clone(s.bins[n:])
		}
	}
	b.bins = append(b.bins, s.bins...)
	for i, sh := range b.p.sheets {
		b.stock[i] = sh.stock - s.used[i]
	}
	return over
}
