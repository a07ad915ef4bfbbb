package cutting

import (
	"math"
	"slices"
)

const (
	ripFixed = 3   // pricings after a strip or a sheet is fixed
	ripNoise = 0.1 // share by which chance lowers how often one is used, by trial: 0.3 found less
)

// dive fixes strip after strip, the one used most first, then sheet after sheet,
// and solves on for what is left. It returns the sheets, or nil as soon as they
// would cost more than most.
func (x *ripMix) dive(most int64, pricings int, noise float64, stop int) []*bin {
	l, m := x.l, x.m
	stock := slices.Clone(m.stock)
	var strips, sheets []int // columns of the ripping
	var paid int64
	for {
		over := func() bool { return paid+l.up(m.value()) > most }
		if x.solve(pricings, func() bool { return *l.work >= stop || !over() && x.sound() }); over() || *l.work >= stop {
			return nil
		}
		if x.fixed && done(x.made) {
			return l.bins(strips, sheets)
		}
		at := x.fullest(!x.fixed, noise)
		if at < 0 {
			return nil
		}
		c := &l.cols[at]
		for range max(1, int(math.Floor(x.uses(at)+1e-6))) {
			if !x.fixed {
				if x.tooMany(c) {
					break
				}
				for _, u := range c.use {
					x.left[u.typ] -= u.n
				}
				x.made[c.kind]++
				strips = append(strips, at)
			} else {
				s := l.ways[c.way].sheet
				if stock[s] == 0 || x.tooMany(c) {
					break
				}
				stock[s]--
				paid += l.p.sheets[s].price
				for _, u := range c.use {
					x.made[u.typ] -= u.n
				}
				sheets = append(sheets, at)
			}
			x.laid = append(x.laid, at)
		}
		x.ask(stock)
	}
}

// sound reports whether the program makes all that is left, of strips that hold
// no more than that.
func (x *ripMix) sound() bool {
	m := x.m
	for k, j := range m.basis {
		if m.x[k] > 1e-6 && (m.loose[j] || int(j) < 2*len(m.p.types) && j%2 == 0) {
			return false
		}
	}
	return true
}

// fullest is the strip, or the sheet, that the program uses most, about; -1
// where it uses none.
func (x *ripMix) fullest(strip bool, noise float64) int {
	at, top := -1, 0.0
	for i := range x.has {
		v := x.uses(i)
		if v < 1e-6 || x.m.loose[x.col(i)] || (x.l.cols[i].way < 0) != strip {
			continue
		}
		if v >= 1-1e-6 {
			v = 1 + v/100
		}
		if v *= 1 - noise*x.l.rng.float(); v > top {
			at, top = i, v
		}
	}
	return at
}
