package cutting

import (
	"cmp"
	"math"
	"slices"
)

// A dive looks for whole patterns of lengths that cost no more than a limit.
// It cuts the whole part of the linear program's answer, fixes one further
// pattern, solves the program for what is left, and turns back as soon as the
// program says that the limit cannot be kept. Only a few turnings
// (discrepancies) from the pattern nearest to whole are tried in one dive; the
// next dive weighs the patterns by lot.
type dive struct {
	m     *mix
	rng   rng
	limit int64
	stop  int  // *m.work at which it ends
	lot   bool // weigh candidates by lot
	turns int  // left in this dive
	picks []pattern
	tail  func(m *mix, demand, stock []int, room int64) []pattern // searches for what is left of few sheets; may be nil
	node  int                                                     // work at one node, at most; 0: any
	kept  bool                                                    // the first of roots is the answer of the whole program
	roots []root                                                  // one for each level, for use again
}

// A root is the state of the program to go back to.
type root struct {
	basis []int32
	inv   []float64
}

const (
	diveTurns = 8
	diveWidth = 3           // patterns tried at one node
	diveNoise = 0.6         // share by which the lot moves a pattern up or down
	overrun   = 200_000_000 // work that a dive may go on when it should end
)

// save keeps the basis.
func (m *mix) save(r *root) {
	r.basis = append(r.basis[:0], m.basis...)
	r.inv = r.inv[:0]
	for _, row := range m.inv {
		r.inv = append(r.inv, row...)
	}
	*m.work += len(r.inv) / 4
}

// restore goes back to a basis kept.
func (m *mix) restore(r *root) {
	for _, j := range m.basis {
		m.where[j] = -1
	}
	copy(m.basis, r.basis)
	for k, j := range m.basis {
		m.where[j] = int32(k)
	}
	for k, row := range m.inv {
		copy(row, r.inv[k*m.rows:])
	}
	*m.work += len(r.inv) / 4
}

// find returns patterns for all pieces that cost at most limit, or nil when
// work is used up.
func (d *dive) find(limit int64, stop int) []pattern {
	for d.stop = stop; !d.over(); {
		if picks := d.once(limit, stop); picks != nil {
			return picks
		}
	}
	return nil
}

// once is one dive.
func (d *dive) once(limit int64, stop int) []pattern {
	d.limit, d.stop = limit, stop
	*d.m.work += moveWork // a dive that fails at once must not be repeated for ever
	p := d.m.p
	demand, stock := make([]int, len(p.types)), make([]int, len(p.sheets))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	for i, s := range p.sheets {
		stock[i] = s.stock
	}
	d.turns = diveTurns
	d.picks = d.picks[:0]
	if d.kept {
		d.m.restore(&d.roots[0])
	}
	if d.down(d.m, demand, stock, 0, 0) {
		return d.picks
	}
	d.lot = true
	return nil
}

func (d *dive) over() bool { return *d.m.work >= d.stop || d.m.ctx.Err() != nil }

// late reports whether a dive under way is given up.
func (d *dive) late() bool { return *d.m.work >= d.stop+overrun || d.m.ctx.Err() != nil }

// shares lists the patterns in use.
func (m *mix) shares() (out []share) {
	for k, j := range m.basis {
		if c := &m.cols[j]; c.sheet >= 0 && m.x[k] > 1e-6 {
			out = append(out, share{pattern{c.sheet, c.use, c.tree}, m.x[k]})
		}
	}
	return out
}

// down fixes patterns for the demand left, at the cost so far.
func (d *dive) down(m *mix, demand, stock []int, cost int64, level int) bool {
	if done(demand) {
		return cost <= d.limit
	}
	m.ask(demand, stock)
	if gone := count(demand, 0); gone > 4 && gone > len(demand)/6 {
		if c := m.part(demand, stock); c != nil {
			mark, known := len(d.picks), len(c.cols)
			ok := d.down(c, slices.Clone(c.demand), stock, cost, level)
			for i := mark; i < len(d.picks); i++ {
				d.picks[i].use = c.lift(d.picks[i].use)
			}
			for _, col := range c.cols[known:] {
				m.learn(pattern{col.sheet, c.lift(col.use), col.tree})
			}
			return ok
		}
	}
	room := float64(d.limit - cost)
	slack := 1e-6 * m.top
	out, most := false, math.MaxInt
	if d.node > 0 {
		most = *m.work + d.node
	}
	m.relax(func() bool {
		out = d.late() || m.bound > room+slack || *m.work > most
		return out || m.value() <= room+slack
	})
	if d.late() || m.value() > room+slack {
		return false
	}
	shares := m.shares()
	demand, stock = slices.Clone(demand), slices.Clone(stock)
	mark := len(d.picks)
	for _, s := range shares {
		for range min(int(s.x+1e-5), stock[s.pat.sheet]) {
			cost += d.fix(m, s.pat, demand, stock)
		}
	}
	if done(demand) && cost <= d.limit {
		return true
	}
	if d.tail != nil {
		sheets := 0.0
		for _, s := range shares {
			sheets += s.x - float64(int(s.x+1e-5))
		}
		if sheets <= tailMost {
			if pats := d.tail(m, demand, stock, d.limit-cost); pats != nil {
				d.picks = append(d.picks, pats...)
				return true
			}
		}
	}
	list := shares[:0]
	for _, s := range shares {
		if s.x -= float64(int(s.x + 1e-5)); s.x > 1e-5 && stock[s.pat.sheet] > 0 {
			if d.lot {
				s.x *= 1 - diveNoise + 2*diveNoise*d.rng.float()
			}
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	for len(d.roots) <= level {
		d.roots = append(d.roots, root{})
	}
	m.save(&d.roots[level])
	d.kept = d.kept || level == 0
	for k, c := range list {
		if k > 0 {
			if d.turns--; d.turns < 0 || k >= diveWidth {
				break
			}
		}
		if d.late() {
			break
		}
		left, rest := slices.Clone(demand), slices.Clone(stock)
		at := len(d.picks)
		if d.down(m, left, rest, cost+d.fix(m, c.pat, left, rest), level+1) {
			return true
		}
		m.restore(&d.roots[level])
		d.picks = d.picks[:at]
	}
	d.picks = d.picks[:mark]
	return false
}

// count is how often n stands in a list.
func count(list []int, n int) int {
	c := 0
	for _, v := range list {
		if v == n {
			c++
		}
	}
	return c
}

func done(demand []int) bool {
	return !slices.ContainsFunc(demand, func(n int) bool { return n > 0 })
}

// fix takes a pattern off demand and stock and returns its price.
func (d *dive) fix(m *mix, pat pattern, demand, stock []int) int64 {
	d.picks = append(d.picks, pat)
	stock[pat.sheet]--
	for _, u := range pat.use {
		demand[u.typ] = max(0, demand[u.typ]-u.n)
	}
	return m.p.sheets[pat.sheet].price
}
