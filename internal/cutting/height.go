package cutting

import "math"

// The least height is sought by lowering the sheet: when all parts have found
// a place, the sheet is cut down to just below what they need and the search
// goes on from what still fits.

// With one sheet the search soon goes round in circles. So one cut in five is
// made the other way than the one that leaves the larger rest whole, and after
// many moves without a lower layout the sheet is filled anew.
const (
	crossCut   = 5
	staleMoves = 20_000
)

// anew takes all parts out and fills the sheet again.
func (s *search) anew() {
	s.stamp++
	for len(s.bins) > 0 {
		s.drop(s.own(0), 0)
		s.discard(0)
	}
	s.fill(blink)
	s.restart()
}

// height is the height in steps that the parts on a bin need.
func (s *search) height(b *bin) int64 {
	return s.pack.measure(b.n).h
}

// lower sets the sheet to h steps and takes out parts by lot until the rest
// fits.
func (s *search) lower(h int64) {
	s.p.sheets[0].h = h
	s.stamp++
	for len(s.bins) > 0 {
		b := s.own(0)
		if s.height(b) <= h {
			c := s.take()
			b.n[0].h = h
			s.pack.rebuild(c, b, false)
			c.stamp = s.stamp
			s.spare = append(s.spare, b)
			s.bins[0] = c
			if c.used == 0 {
				s.discard(0)
			}
			return
		}
		s.drop(b, int32(s.rng.below(len(b.n))))
	}
}

// heightValue is the height used by the best layout, in nanometres.
func (s *search) heightValue(bins []*bin) int64 {
	if len(bins) == 0 {
		return 0
	}
	return s.height(bins[0])*int64(s.p.unitY) - int64(s.p.kerf)
}

// value is what the present layout costs in the job's objective.
func (s *search) value() int64 {
	if s.p.value == LeastHeight {
		return s.heightValue(s.bins)
	}
	return s.price
}

// improve aims below the present value. It reports false when that is not
// possible.
func (s *search) improve() bool {
	if s.p.value != LeastHeight {
		if s.price <= 0 {
			return false
		}
		s.aim(s.price - 1)
		return true
	}
	if len(s.bins) == 0 {
		return false
	}
	s.limit = math.MaxInt64
	h := s.height(s.bins[0]) - 1
	if h <= 0 {
		return false
	}
	s.lower(h)
	s.restart()
	return true
}
