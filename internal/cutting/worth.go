package cutting

// A piece is worth its area at first. Those that the search leaves in the pool
// again and again grow in worth, so that it comes to make room for them before
// others and does not stay where it is (the idea of guided local search,
// Voudouris and Tsang 1999, from memory).
const (
	worthMoves = 100  // from one look at the pool to the next
	worthGain  = 0.01 // of its area, for a type that is found there
)

// weigh adds to the worth of what is in the pool. The costs of the last moves
// are raised by as much as the present one: the search goes on as it was. Where
// stock is short area alone counts, since as much as can be is to be placed.
func (s *search) weigh() {
	if s.iter%worthMoves > 0 || s.bestOut > 0 || s.empty() {
		return
	}
	more := 0.0
	for t, n := range s.pool {
		if n > 0 {
			gain := worthGain * s.p.types[t].area
			s.worth[t] += gain
			more += float64(n) * gain
		}
	}
	s.out += more
	s.cost += more / s.unit
	for i := range s.hist {
		s.hist[i] += more / s.unit
	}
}
