package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A prover shows that given sheets cannot hold all parts. For so many sheets
// of each kind it asks the linear program over proper patterns how much of the
// parts' area must be left out when patterns may be cut any share of a time.
// When some must, no layout on these sheets exists. The program's prices prove
// it: each part has a worth, no pattern of a sheet is worth more than its
// share, and the parts together are worth more than all sheets. Such prices
// also rule out other lots of sheets, so they are kept.
type prover struct {
	p     *problem
	price pricer
	work  func() int // steps done by the pricer
	pats  []pattern
	moves int    // used up
	steps int    // pricings for the last lot
	needs []need // that rule lots out

	cost   int // steps to fill the tables once
	rounds int // pricings left; below 0: any number
}

// newCover is the program for a lot of sheets: what is not made counts by its
// area, as shares of the largest sheet, and sheets cost nothing.
func newCover(p *problem, lot []int, price pricer) *master {
	demand := make([]int, len(p.types))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	m := &master{p: p, demand: demand, price: price, rows: len(p.types), cover: true, top: 1, full: 1e-7}
	unit := 0.0
	for i, s := range p.sheets {
		m.row = append(m.row, m.rows)
		m.rows++
		m.stock = append(m.stock, lot[i])
		m.area = append(m.area, float64(s.w)*float64(s.h))
		unit = max(unit, m.area[i])
	}
	for _, t := range p.types {
		m.miss = append(m.miss, t.area/unit)
	}
	m.start()
	return m
}

// floor is the worth on sheet s up to which patterns do not matter: for a
// cover, sheets may be worth so much that the parts are still worth more.
func (m *master) floor(s int, scale float64) int64 {
	if !m.cover {
		c := float64(m.p.sheets[s].price)
		if r := m.row[s]; r >= 0 {
			c += max(0, -m.at[r])
		}
		return int64(c * scale)
	}
	low, over, all := 0.0, 0.0, 0.0
	for i, w := range m.worth {
		low += float64(w) * float64(m.demand[i])
	}
	for i, r := range m.row {
		over += float64(m.stock[i]) * max(0, math.Floor(-m.at[r]*scale))
		all += float64(m.stock[i]) * m.area[i]
	}
	mu := max(0, math.Floor(-m.at[m.row[s]]*scale))
	if low <= over || all == 0 || m.blind {
		return int64(mu)
	}
	return int64(mu + math.Floor((low-over)*(1-1e-9)*m.area[s]/all) - 1)
}

// value is what the program comes to with the patterns known.
func (m *master) value() float64 {
	v := 0.0
	for k, c := range m.basis {
		v += c.price * m.x[k]
	}
	return v
}

// excludes reports whether the lot of sheets is shown to be too little, and
// whether the question is settled: then without more moves or finer tables
// there is nothing more to find.
func (v *prover) excludes(ctx context.Context, lot []int, moves int) (too, settled bool) {
	m := newCover(v.p, lot, v.price)
	too, settled = v.fill(ctx, m, moves)
	if too {
		v.needs = append(v.needs, m.proof)
	}
	return too, settled
}

// fill solves the program of a cover until it is filled or shown to be too
// little.
func (v *prover) fill(ctx context.Context, m *master, moves int) (too, settled bool) {
	m.duals()
	stop := v.moves + moves
	before := v.work()
	known := 0
	var list []paying
	defer func() { v.steps = m.steps }()
	for m.blind || m.bound <= 0 {
		if v.moves > stop || ctx.Err() != nil {
			return false, false
		}
		if m.value() < m.full {
			return false, true
		}
		v.moves += 1 + m.rows*m.rows/4000 + len(v.pats)/patsMove
		if m.slack() {
			continue
		}
		list = list[:0]
		for i, pat := range v.pats {
			if g := m.gain(pat); m.stock[pat.sheet] > 0 && g > 1e-7 {
				list = append(list, paying{i, g})
			}
		}
		if len(list) > 0 {
			slices.SortFunc(list, byGain)
			for k, c := range list[:min(len(list), atOnce)] {
				if k == 0 || m.gain(v.pats[c.at]) > c.gain/2 {
					m.add(v.pats[c.at])
				}
			}
			continue
		}
		if v.rounds == 0 {
			return false, false
		}
		v.rounds--
		known = len(m.pats)
		m.step()
		v.pats = append(v.pats, m.pats[known:]...)
		now := v.work()
		v.moves += (now - before) / 1500
		before = now
		if m.done && (m.blind || m.bound <= 0) {
			return false, false
		}
	}
	return true, true
}

// loadScale is what demand and sheets are multiplied by where a lot is to
// hold a little more than all parts.
const loadScale = 1000

// newLoad is the program of a lot that is to hold load thousandths of all
// parts. What it proves is of no use for the lot as it is, its patterns are.
func newLoad(p *problem, lot []int, load int, price pricer) *master {
	big := make([]int, len(lot))
	for i, n := range lot {
		big[i] = n * loadScale
	}
	m := newCover(p, big, price)
	for i := range m.demand {
		m.demand[i] *= load
	}
	m.full *= loadScale
	m.start()
	return m
}

// paying is a known pattern that improves the program.
type paying struct {
	at   int
	gain float64
}

func byGain(a, b paying) int { return cmp.Or(cmp.Compare(b.gain, a.gain), a.at-b.at) }

// patsMove is how many known patterns are looked at in the time of one move.
const patsMove = 400

// atOnce is how many known patterns are brought in after one look at all.
const atOnce = 12

// lift gives a pattern of what is left the numbers of the whole job.
func lift(pat pattern, back []int) pattern {
	out := pattern{sheet: pat.sheet}
	for _, u := range pat.use {
		out.use = append(out.use, run{back[u.typ], u.n})
	}
	return out
}

// liftAll is lift of a list.
func liftAll(list []pattern, back []int) []pattern {
	out := make([]pattern, 0, len(list))
	for _, pat := range list {
		out = append(out, lift(pat, back))
	}
	return out
}
