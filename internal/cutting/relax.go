package cutting

import (
	"cmp"
	"math"
	"slices"
)

const (
	mixTurns = 20_000 // of the search for one pattern
	mixMost  = 20     // patterns learned from one pricing
	mixSteps = 200    // primal steps before the next pricing
)

// A worthy set is one that may be worth a pattern.
type worthy struct {
	worth int64
	use   []run
}

// price looks for patterns at the duals, drawn to the center by alpha. It
// raises the bound by what it sees and reports how many patterns that pay were
// found, and whether the bound rose.
func (m *mix) price(alpha float64) (found int, better bool) {
	scale := dualScale / m.top
	low, over, shrink := 0.0, 0.0, 1.0
	for r, v := range m.y {
		m.at[r] = alpha*m.center[r] + (1-alpha)*v
	}
	for i := range m.worth {
		m.worth[i] = int64(max(0, min(m.at[i], m.miss)) * scale)
		low += float64(m.worth[i]) * float64(m.demand[i])
	}
	m.fill.load(m.worth, m.demand)
	for s, sh := range m.p.sheets {
		if m.stock[s] <= 0 {
			continue
		}
		c := math.Floor(float64(sh.price) * scale)
		floor := c
		if r := m.row[s]; r >= 0 {
			floor = max(0, c-math.Ceil(min(0, m.at[r])*scale))
		}
		z, use := m.fill.fullest(sh.w, int64(floor), mixTurns)
		if m.row[s] >= 0 {
			over += float64(m.stock[s]) * max(0, float64(z)-c)
		} else if float64(z) > c {
			shrink = min(shrink, c/float64(z))
		}
		if len(use) == 0 {
			continue
		}
		found += m.take(s, use)
		m.list = m.list[:0]
		m.fill.each(sh.w, int64(floor), 200, func(worth int64, use []run) { m.list = append(m.list, worthy{worth, slices.Clone(use)}) })
		slices.SortStableFunc(m.list, func(a, b worthy) int { return cmp.Compare(b.worth, a.worth) })
		for _, l := range m.list[:min(len(m.list), mixMost)] {
			found += m.take(s, l.use)
		}
	}
	*m.work += m.fill.work
	m.fill.work = 0
	if b := (low*shrink - over) / scale; b > m.bound {
		m.bound, better = b, true
		copy(m.center, m.at)
	}
	return found, better
}

// take learns a pattern if it pays.
func (m *mix) take(s int, use []run) int {
	g := -float64(m.p.sheets[s].price)
	for _, u := range use {
		g += m.y[u.typ] * float64(u.n)
	}
	if r := m.row[s]; r >= 0 {
		g += m.y[r]
	}
	if g > 1e-7*m.top && m.learn(s, use) {
		return 1
	}
	return 0
}

// relax adds patterns until none pays, or enough reports true.
func (m *mix) relax(enough func() bool) {
	for m.ctx.Err() == nil && !enough() {
		m.cap = mixSteps
		whole := m.run()
		found, better := m.price(m.smooth)
		if found == 0 && m.smooth > 0 {
			m.smooth = 0
			found, better = m.price(0)
		}
		if better {
			m.smooth = smoothing
		}
		if found == 0 {
			if whole {
				return
			}
			m.cap = 50*m.rows + 1000
			if !m.run() && m.ctx.Err() == nil { // rounding got the better of it
				m.reset()
				m.values()
				m.duals()
			}
		}
	}
}
