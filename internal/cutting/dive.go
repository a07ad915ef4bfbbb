package cutting

import (
	"cmp"
	"context"
	"fmt"
	"slices"
)

// A dive looks for whole patterns of lengths that cost no more than a limit.
// It cuts the whole part of the linear program's answer, fixes one further
// pattern, solves the program for what is left, and turns back as soon as the
// program says that the limit cannot be kept. Only a few turnings
// (discrepancies) from the pattern nearest to whole are tried in one dive; the
// next dive weighs the patterns by lot.
type dive struct {
	n     *planner
	pool  []pattern // all patterns known, and their names
	known map[string]bool
	rng   rng
	limit int64
	stop  int // n.spent at which it ends
	ctx   context.Context
	lot   bool // weigh candidates by lot
	turns int  // left in this dive
	picks []pattern
}

const (
	diveTurns = 8
	diveWidth = 3  // patterns tried at one node
	atOnce    = 12 // known patterns brought in after one look at all
	diveCost  = 10 // what a pivot without pricing is worth in moves
)

// newDive starts from the patterns of a solved program.
func (n *planner) newDive(m *master, r rng) *dive {
	d := &dive{n: n, rng: r, known: map[string]bool{}}
	for _, pat := range m.pats {
		d.learn(pat)
	}
	return d
}

func (d *dive) learn(pat pattern) {
	slices.SortFunc(pat.use, func(a, b run) int { return cmp.Compare(a.typ, b.typ) })
	if k := fmt.Sprint(pat.sheet, pat.use); !d.known[k] {
		d.known[k] = true
		d.pool = append(d.pool, pat)
	}
}

// find returns sheets for all pieces that cost at most limit, or nil when
// moves are used up.
func (d *dive) find(ctx context.Context, limit int64, moves int) []*bin {
	d.ctx, d.limit, d.stop = ctx, limit, d.n.spent+moves
	p := d.n.p
	demand, stock := make([]int, len(p.types)), make([]int, len(p.sheets))
	for i, t := range p.types {
		demand[i] = t.qty
	}
	for i, s := range p.sheets {
		stock[i] = s.stock
	}
	for !d.over() {
		d.turns = diveTurns
		d.picks = d.picks[:0]
		d.n.spent += diveCost
		if d.down(demand, stock, 0) {
			return d.n.cutAll(d.picks, demand)
		}
		d.lot = true
	}
	return nil
}

func (d *dive) over() bool { return d.n.spent >= d.stop || d.ctx.Err() != nil }

// down fixes patterns for the demand left, at the cost so far.
func (d *dive) down(demand, stock []int, cost int64) bool {
	if done(demand) {
		return cost <= d.limit
	}
	shares := d.settle(demand, stock, cost)
	if shares == nil {
		return false
	}
	demand, stock = slices.Clone(demand), slices.Clone(stock)
	mark := len(d.picks)
	for _, s := range shares {
		for range int(s.x + 1e-6) {
			cost += d.fix(s.pat, demand, stock)
		}
	}
	if done(demand) && cost <= d.limit {
		return true
	}
	list := shares[:0]
	for _, s := range shares {
		if s.x -= float64(int(s.x + 1e-6)); s.x > 1e-6 && stock[s.pat.sheet] > 0 {
			if d.lot {
				s.x *= 0.6 + 0.8*d.rng.float()
			}
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	for k, c := range list {
		if k > 0 {
			if d.turns--; d.turns < 0 || k >= diveWidth {
				break
			}
		}
		if d.over() {
			break
		}
		left, rest := slices.Clone(demand), slices.Clone(stock)
		at := len(d.picks)
		if d.down(left, rest, cost+d.fix(c.pat, left, rest)) {
			return true
		}
		d.picks = d.picks[:at]
	}
	d.picks = d.picks[:mark]
	return false
}

// paying is a known pattern that improves the program.
type paying struct {
	at   int
	gain float64
}

func byGain(a, b paying) int { return cmp.Or(cmp.Compare(b.gain, a.gain), a.at-b.at) }

func done(demand []int) bool {
	return !slices.ContainsFunc(demand, func(n int) bool { return n > 0 })
}

// settle solves the program for the demand left, with rows for what is left
// only. It returns nil when the program shows that the limit is out of reach,
// or there is no time.
func (d *dive) settle(demand, stock []int, cost int64) []share {
	p := d.n.p
	sub := &problem{value: p.value, unitX: p.unitX, unitY: p.unitY, kerf: p.kerf, sheets: slices.Clone(p.sheets)}
	var back, want []int
	to := make([]int, len(p.types))
	for i, t := range p.types {
		to[i] = -1
		if demand[i] > 0 {
			to[i] = len(back)
			back = append(back, i)
			want = append(want, demand[i])
			t.qty = demand[i]
			sub.types = append(sub.types, t)
		}
	}
	for i := range sub.sheets {
		sub.sheets[i].stock = stock[i]
	}
	seen := map[string]bool{}
	var pool []pattern
	for _, pat := range d.pool {
		q := pattern{sheet: pat.sheet}
		for _, u := range pat.use {
			if to[u.typ] >= 0 {
				q.use = append(q.use, run{to[u.typ], min(u.n, demand[u.typ])})
			}
		}
		if len(q.use) == 0 {
			continue
		}
		if len(q.use) < len(pat.use) { // what is left of patterns is often alike
			k := fmt.Sprint(q.sheet, q.use)
			if seen[k] {
				continue
			}
			seen[k] = true
		}
		pool = append(pool, q)
	}
	m := newMaster(sub, want, &knapsack{p: sub})
	m.duals()
	var list []paying
	for !m.done {
		if d.over() {
			return nil
		}
		list = list[:0]
		if !m.slack() {
			for i, pat := range pool {
				if g := m.gain(pat); g > 1e-7*max(m.top, 1) {
					list = append(list, paying{i, g})
				}
			}
			slices.SortFunc(list, byGain)
		} else {
			d.n.spent++
			continue
		}
		for k, c := range list[:min(len(list), atOnce)] {
			if k == 0 || m.gain(pool[c.at]) > c.gain/2 { // still worth it after the ones before
				m.add(pool[c.at])
				d.n.spent += diveCost
			}
		}
		if m.steps++; len(list) > 0 {
			if m.steps%16 == 0 {
				m.duals()
			}
			continue
		}
		known := len(m.pats)
		m.step()
		d.n.spent += d.n.cost
		if len(m.pats) > known {
			pool = append(pool, m.pats[known])
			d.learn(lift(m.pats[known], back))
		}
		if cost+ceilSafe(m.bound) > d.limit {
			return nil
		}
	}
	shares, _ := m.answer()
	for i := range shares {
		shares[i].pat = lift(shares[i].pat, back)
	}
	return shares
}

// lift gives a pattern of what is left the numbers of the whole job.
func lift(pat pattern, back []int) pattern {
	out := pattern{sheet: pat.sheet}
	for _, u := range pat.use {
		out.use = append(out.use, run{back[u.typ], u.n})
	}
	return out
}

// fix takes a pattern off demand and stock and returns its price.
func (d *dive) fix(pat pattern, demand, stock []int) int64 {
	d.picks = append(d.picks, pat)
	stock[pat.sheet]--
	for _, u := range pat.use {
		demand[u.typ] = max(0, demand[u.typ]-u.n)
	}
	return d.n.p.sheets[pat.sheet].price
}

// cutAll makes the sheets of a list of patterns.
func (n *planner) cutAll(picks []pattern, demand []int) []*bin {
	demand = slices.Clone(demand)
	used := make([]int, len(n.p.sheets))
	var bins []*bin
	for _, pat := range picks {
		if b := n.cut(pat, demand, used, false); b != nil {
			bins = append(bins, b)
		}
	}
	return bins
}
