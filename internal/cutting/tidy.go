package cutting

import (
	"context"
	"math"
	"slices"
)

// tidyMoves is spent after the search on what is left over, and on how the
// panels are cut.
const tidyMoves = 1500

// tidy looks for a layout of the same value that leaves more, and of those for
// one that takes fewer settings of the saw and turns of the panel, and presses
// every sheet together.
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
		if s.untidy([]*bin{along}) < s.untidy([]*bin{across}) {
			out[i] = along
		}
	}
	return out
}

// Rests count by the square of their share of a sheet, so that one large
// offcut is worth more than the same area in slivers. What differs by less
// than restStep counts as equal; then settings and turns decide.
const (
	restStep    = 0.002
	settingCost = restStep / 1000
	turnCost    = restStep / 2000
)

// untidy is what tidying lowers.
func (s *search) untidy(bins []*bin) float64 {
	rests := 0.0
	for _, b := range bins {
		if s.p.leastW == 0 { // no least size is set: the largest counts
			a := b.largest() / s.unit
			rests += a * a
			continue
		}
		for _, f := range b.free {
			if s.p.keeps(f.w, f.h) {
				a := float64(f.w) * float64(f.h) / s.unit
				rests += a * a
			}
		}
	}
	settings, turns := s.settings(bins)
	return settingCost*float64(settings) + turnCost*float64(turns) - restStep*math.Floor(rests/restStep)
}

// settings counts the settings of the saw that the bins ask for when equal
// cuts of one stage are made together, and how often a piece is turned to be
// cut across.
func (s *search) settings(bins []*bin) (settings, turns int) {
	s.cuts = s.cuts[:0]
	for _, b := range bins {
		var walk func(i int32, stage uint64)
		walk = func(i int32, stage uint64) {
			n := &b.n[i]
			for c := n.first; c >= 0; c = b.n[c].next {
				m := &b.n[c]
				if m.typ == freeLeaf {
					continue
				}
				size := m.h
				if n.vert {
					size = m.w
				}
				if m.next >= 0 { // the last is what remains
					s.cuts = append(s.cuts, stage<<48|uint64(size)<<1&(1<<48-1)|uint64(b2i(n.vert)))
				}
				if m.typ == splitAt {
					turns++
					walk(c, stage+1)
				}
			}
		}
		walk(0, 0)
	}
	slices.Sort(s.cuts)
	for i, c := range s.cuts {
		if i == 0 || c != s.cuts[i-1] {
			settings++
		}
	}
	return settings, turns
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// keeps reports whether a rest of so many steps is worth keeping.
func (p *problem) keeps(w, h int64) bool {
	return w >= p.leastW && h >= p.leastH || p.unitX == p.unitY && w >= p.leastH && h >= p.leastW
}

// largest is the area of the largest rest.
func (b *bin) largest() float64 {
	a := 0.0
	for _, f := range b.free {
		a = max(a, float64(f.w)*float64(f.h))
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
