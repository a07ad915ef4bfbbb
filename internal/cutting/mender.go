package cutting

import "slices"

// A mender takes out of a panel what is too many and searches for what goes in.
type mender struct {
	p   *problem
	one *search // of one panel
}

// In dives 20 to 120 moves did as well on twenty generated problems of bin
// packing; in a fitter no other number was tried.
const (
	mendMoves = 50 // of the search for what goes in
	mendMove  = 4  // moves that one of them counts for: the pool is long
)

// mend returns the pattern of most worth that it met, which has no more of a
// type than there are.
func (m *mender) mend(tree *bin, worth []int64, most []int) pattern {
	s := m.one
	if s == nil {
		s = newSearch(m.p, 1)
		s.unit = 1
		m.one = s
	}
	copy(s.pool, most)
	s.stamp++
	b := s.pack.needed(tree, s.pool)
	b.stamp = s.stamp
	s.bins = append(s.bins[:0], b)
	for i, sh := range m.p.sheets {
		s.used[i] = sh.stock // no other
	}
	s.iter, s.out = 0, 0
	for t, n := range s.pool {
		s.worth[t] = float64(worth[t])
		s.out += float64(n) * s.worth[t]
	}
	s.fill(0)
	s.hist = slices.Grow(s.hist[:0], memory)[:memory]
	s.restart()
	good := &bin{}
	good.copyFrom(s.bins[0])
	for least, k := s.out, 0; k < mendMoves && len(s.bins) == 1; k++ {
		if s.move(); s.out < least-0.5 {
			least = s.out
			good.copyFrom(s.bins[0])
		}
	}
	return m.p.pattern(good)
}
