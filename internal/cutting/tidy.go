package cutting

import "context"

// tidyMoves is spent after the search on what is left over: one large offcut
// is worth more than the same area in slivers.
const tidyMoves = 1500

// tidy looks for a layout of the same value whose rests are larger, and
// presses every sheet together.
func (s *search) tidy(ctx context.Context) []*bin {
	if s.p.value != LeastHeight && s.bestOut == 0 && s.p.pieces() <= 300 && ctx.Err() == nil {
		s.load(s.best)
		s.limit, s.tidying = s.price, true
		s.hist = make([]float64, memory)
		s.restart()
		top := s.cost
		for range tidyMoves {
			s.move()
			if s.empty() && s.cost < top-1e-12 {
				top = s.cost
				s.keep()
			}
		}
	}
	out := make([]*bin, len(s.best))
	for i, b := range s.best {
		along, across := &bin{}, &bin{}
		s.pack.rebuild(across, b, true)
		out[i] = across
		if s.p.value == LeastHeight {
			continue // the rest lies along the top
		}
		s.pack.rebuild(along, b, false)
		if along.largest() > across.largest() {
			out[i] = along
		}
	}
	return out
}

// largest is the area of the largest rest.
func (b *bin) largest() float64 {
	a := 0.0
	for _, f := range b.free {
		a = max(a, float64(b.n[f].w)*float64(b.n[f].h))
	}
	return a
}

// load makes a complete layout the present one.
func (s *search) load(bins []*bin) {
	s.stamp++
	s.bins = s.bins[:0]
	clear(s.used)
	clear(s.pool)
	s.price, s.out = 0, 0
	for _, b := range bins {
		c := &bin{}
		c.copyFrom(b)
		c.stamp = 0
		s.bins = append(s.bins, c)
		s.used[b.sheet]++
		s.price += s.p.sheets[b.sheet].price
	}
}
