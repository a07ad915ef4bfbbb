package cutting

import "math"

const (
	mixTurns = 20_000 // of the search for one pattern
	mixMost  = 20     // patterns learned from one pricing
	mixEach  = 200    // turns for each pattern beside the best
	mixSteps = 200    // primal steps before the next pricing
)

// An offerer makes patterns for a mix.
type offerer interface {
	// load sets what a piece of each type is worth, at least 0, and how many
	// are asked for.
	load(worth []int64, most []int)
	// offer calls yield with good patterns of a sheet. No pattern is worth more
	// than what it returns, or than floor; those worth floor are of no use.
	offer(sheet int, floor int64, yield func(pattern)) int64
	// harder asks for a longer search for patterns; it is false when there is
	// no more to be had.
	harder() bool
	// part offers patterns for some types of a problem; of are their numbers.
	part(q *problem, of []int) offerer
	// spent is the work since it was last asked for.
	spent() int
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
		m.worth[i] = int64(max(0, min(m.at[i], m.out[i])) * scale)
		low += float64(m.worth[i]) * float64(m.demand[i])
	}
	m.from.load(m.worth, m.demand)
	proof := need{least: low}
	for s, sh := range m.p.sheets {
		if m.stock[s] <= 0 && (!m.cover || m.of != nil) { // the proof of a whole cover is of all kinds
			proof.gives = append(proof.gives, math.Inf(1)) // not asked about
			continue
		}
		c := math.Floor(float64(sh.price) * scale)
		floor := c
		if r := m.row[s]; r >= 0 {
			floor = max(0, c-math.Ceil(min(0, m.at[r])*scale))
			if m.cover {
				floor += m.leeway(low, scale, sh)
			}
		}
		z := m.from.offer(s, int64(floor), func(pat pattern) { found += m.take(pat) })
		proof.gives = append(proof.gives, float64(z))
		if m.row[s] >= 0 {
			over += float64(m.stock[s]) * max(0, float64(z)-c)
		} else if float64(z) > c {
			shrink = min(shrink, c/float64(z))
		}
	}
	*m.work += m.from.spent()
	if b := (low*shrink - over) / scale; b > m.bound {
		m.bound, better = b, true
		copy(m.center, m.at)
		m.proof = proof
	}
	return found, better
}

// take learns a pattern if it pays.
func (m *mix) take(pat pattern) int {
	g := -float64(m.p.sheets[pat.sheet].price)
	for _, u := range pat.use {
		g += m.y[u.typ] * float64(u.n)
	}
	if r := m.row[pat.sheet]; r >= 0 {
		g += m.y[r]
	}
	if g > 1e-7*m.top && m.learn(pat) {
		return 1
	}
	return 0
}

// smoothly prices near the duals of the best bound, and where nothing pays there
// at the program's own.
func (m *mix) smoothly(price func(alpha float64) (found int, better bool)) int {
	found, better := price(m.smooth)
	if found == 0 && m.smooth > 0 {
		m.smooth = 0
		found, better = price(0)
	}
	if better {
		m.smooth = smoothing
	}
	return found
}

// relax adds patterns until none pays, or enough reports true.
func (m *mix) relax(enough func() bool) {
	for m.ctx.Err() == nil {
		m.cap = mixSteps
		whole := m.run()
		if enough() {
			return
		}
		if m.smoothly(m.price) == 0 {
			if whole {
				if m.from.harder() {
					continue
				}
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
