package cutting

import (
	"context"
	"slices"
)

// A settling is the cover program for what is left in a dive. Its types are
// those still asked for.
type settling struct {
	d    *sheetDive
	sub  *problem
	back []int // the type of the whole problem that each type is
	pool []pattern
	from []int // where among the patterns known each is
	at   []int // where among the patterns known each pattern of the program is
}

// settle solves the cover program for the demand on the lot. It returns the
// patterns of its answer and the area left over, in sheets, nil when the tables
// are too large; and what shows that the lot is too little, if it is shown.
func (d *sheetDive) settle(ctx context.Context, demand, lot []int) ([]share, float64, *need) {
	sub, back := d.p.rest(demand, lot)
	all := sub.area() / d.unit
	if !slices.ContainsFunc(lot, func(n int) bool { return n > 0 }) || len(back) == 0 {
		return nil, all, nil
	}
	g := sub.grid(0, sheetGrid)
	if g == nil {
		g = sub.grid(sheetSums, sheetGrid)
	}
	if g == nil {
		return nil, all, nil
	}
	most := make([]int, len(back))
	for i, t := range back {
		most[i] = demand[t]
	}
	q := newProper(g, most)
	if q == nil {
		return nil, all, nil
	}
	q.trees, q.limit, q.trims = true, sheetSteps, sheetTrims
	st := &settling{d: d, sub: sub, back: back}
	st.recall(demand, lot)
	m := newCover(sub, lot, q)
	m.duals()
	for !m.done && m.bound <= 1e-9 && m.value() > 1e-7 && !d.over(ctx) {
		d.moves += 1 + m.rows*m.rows/4000
		if m.slack() || st.bring(m) {
			continue
		}
		known, before := len(m.pats), g.steps
		m.step()
		d.moves += (g.steps - before) / stepsToMove
		for _, pat := range m.pats[known:] {
			st.at = append(st.at, st.learn(pat))
		}
		for _, pat := range q.extra {
			st.learn(pat)
		}
		q.extra = q.extra[:0]
	}
	var out []share
	for k, c := range m.basis {
		if m.x[k] > 1e-9 && c.pat >= 0 {
			out = append(out, share{d.known.list[st.at[c.pat]], m.x[k]})
		}
	}
	if m.bound > 0 && !g.thin {
		return out, m.value(), &m.proof
	}
	return out, m.value(), nil
}

// stepsToMove is how many steps of a table take as long as one move.
const stepsToMove = 2500

// recall takes over what is still of use of the patterns known.
func (st *settling) recall(demand, lot []int) {
	to := make([]int, len(demand))
	for i := range to {
		to[i] = -1
	}
	for i, t := range st.back {
		to[t] = i
	}
	seen := map[uint64]bool{}
	for k, pat := range st.d.known.list {
		if lot[pat.sheet] == 0 {
			continue
		}
		o := pattern{sheet: pat.sheet}
		for _, u := range pat.use {
			if to[u.typ] >= 0 {
				o.use = append(o.use, run{to[u.typ], min(u.n, demand[u.typ])})
			}
		}
		if len(o.use) == 0 {
			continue
		}
		if len(o.use) < len(pat.use) { // what is left of patterns is often alike
			n := o.name()
			if seen[n] {
				continue
			}
			seen[n] = true
		}
		st.pool, st.from = append(st.pool, o), append(st.from, k)
	}
}

// bring enters the patterns known that improve the program most, if any do.
func (st *settling) bring(m *master) bool {
	var list []paying
	for i, pat := range st.pool {
		if gain := m.gain(pat); gain > 1e-7 {
			list = append(list, paying{i, gain})
		}
	}
	slices.SortFunc(list, byGain)
	for k, c := range list[:min(len(list), atOnce)] {
		if k == 0 || m.gain(st.pool[c.at]) > c.gain/2 {
			m.add(st.pool[c.at])
			st.at = append(st.at, st.from[c.at])
		}
	}
	return len(list) > 0
}

// learn keeps a new pattern and returns its place among all that are known.
func (st *settling) learn(pat pattern) int {
	full := lift(pat, st.back)
	full.tree = &bin{}
	full.tree.copyFrom(pat.tree)
	for i := range full.tree.n {
		if t := full.tree.n[i].typ; t >= 0 {
			full.tree.n[i].typ = int32(st.back[t])
		}
	}
	d := st.d
	d.known.seen[full.name()] = true
	d.known.list = append(d.known.list, full)
	st.pool, st.from = append(st.pool, pat), append(st.from, len(d.known.list)-1)
	return len(d.known.list) - 1
}

// tree is how set l is cut from a sheet.
func (q *proper) tree(sheet int, l int32) *bin {
	sh := q.g.p.sheets[sheet]
	var src bin
	src.reset(sheet, sh.w, sh.h)
	src.n[0].typ = splitAt
	var walk func(l, parent int32) int32
	walk = func(l, parent int32) int32 {
		s := &q.labels[l]
		at := int32(len(src.n))
		if s.a < 0 {
			ty := &q.g.p.types[s.b>>1]
			n := node{w: ty.w, h: ty.h, parent: parent, first: -1, next: -1, typ: s.b >> 1, rot: s.b&1 != 0}
			if n.rot {
				n.w, n.h = n.h, n.w
			}
			src.n = append(src.n, n)
			return at
		}
		src.n = append(src.n, node{parent: parent, next: -1, typ: splitAt, vert: s.vert})
		one := walk(s.a, at)
		two := walk(s.b, at)
		src.n[at].first, src.n[one].next = one, two
		return at
	}
	src.n[0].first = walk(l, 0)
	out := &bin{}
	q.pack.rebuild(out, &src, true)
	return out
}
