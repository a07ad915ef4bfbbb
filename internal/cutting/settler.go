package cutting

import (
	"cmp"
	"context"
	"slices"
)

// A settler decides whether given parts can be cut from a given lot of sheets,
// and how. The linear program over proper patterns comes first: when even
// shares of patterns cannot hold all parts, the lot is too little. When they
// can, the program is loaded with more and more until it is just too little;
// its prices then show how much worth a sheet may lose at most, and all
// patterns that lose less are listed. If the list is short, picking from it
// settles the question. Otherwise the pattern that the program uses most is
// cut, and the same is asked for what is left.
type settler struct {
	p         *problem
	ctx       context.Context
	pool      []pattern // known, with trees
	rng       rng
	moves     int
	stop      int
	turns     int // left in this dive
	load      int
	center    []float64 // of the last prices
	first     []float64 // of the whole problem: of each type, of each sheet
	firstLoad int
	listMax   int
	pack      packer
}

// left is the problem of what is left: the parts demanded and the sheets of
// the lot. It tells which type and which sheet of p is which.
func (p *problem) left(demand, lot []int) (q *problem, types, sheets []int) {
	q = &problem{unitX: p.unitX, unitY: p.unitY, kerf: p.kerf, value: LeastPrice}
	for i, t := range p.types {
		if demand[i] > 0 {
			t.qty = demand[i]
			q.types = append(q.types, t)
			types = append(types, i)
		}
	}
	for i, s := range p.sheets {
		if lot[i] > 0 {
			s.stock = lot[i]
			q.sheets = append(q.sheets, s)
			sheets = append(sheets, i)
		}
	}
	return q, types, sheets
}

func (d *settler) over() bool { return d.moves >= d.stop || d.ctx.Err() != nil }

// fineLoads are tried in turn until one is too much.
var fineLoads = []int{1004, 1008, 1013, 1020, 1030, 1045, 1070, 1100}

const (
	wholeGrid   = 25_000_000
	firstRounds = 6
	deepRounds  = 2
	settleGrid  = 60_000_000
	mostListed  = 20_000 // patterns
	turnWidth   = 3
	exactSheets = 2
	fewPoints   = 50
)

// settle lays the parts demanded out on the lot; too tells that they cannot be.
func (d *settler) settle(demand, lot []int, depth int) (bins []*bin, too bool) {
	q, types, sheets := d.p.left(demand, lot)
	if len(types) == 0 {
		return []*bin{}, false
	}
	if !q.roomy() {
		return nil, true
	}
	if d.over() {
		return nil, false
	}
	left := 0
	some := make([]int, len(sheets)) // the lot in numbers of q
	for i, s := range sheets {
		some[i] = lot[s]
		left += lot[s]
	}
	if left <= exactSheets {
		if bins, too := d.finish(q, types, sheets, some, depth == 0); bins != nil || too || left == 1 {
			return bins, too
		}
	}
	g := q.grid(0, wholeGrid)
	if g == nil {
		g = q.grid(fewPoints, settleGrid)
	}
	d.moves += q.pieces() / 2
	if g == nil {
		return nil, false
	}
	most := make([]int, len(q.types))
	for i, t := range q.types {
		most[i] = t.qty
	}
	l := newLister(g, most)
	if l == nil {
		return nil, false
	}
	v := &prover{p: q, work: func() int { return g.steps }, rounds: deepRounds}
	if depth == 0 {
		v.rounds = firstRounds
	}
	price := &roster{l: l, d: d, extra: func(pat pattern) { v.pats = append(v.pats, pat) }}
	v.price = price
	lifted := map[*bin]*bin{}
	v.pats = d.known(q, types, sheets, lifted)
	if depth == 0 && d.first == nil {
		worth, too := d.prices(q, some)
		if too || worth == nil {
			return nil, too
		}
		d.first = make([]float64, len(d.p.types)+len(d.p.sheets))
		for i, t := range types {
			d.first[t] = d.center[i]
		}
		for i, s := range sheets {
			d.first[len(d.p.types)+s] = d.center[len(types)+i]
		}
		d.firstLoad = d.load
	}
	m := newLoad(q, some, d.firstLoad, price)
	m.blind = true
	for i, t := range types {
		m.center[i] = d.first[t]
	}
	for i, s := range sheets {
		m.center[len(types)+i] = d.first[len(d.p.types)+s]
	}
	m.smooth = smoothing
	at, n := v.moves, len(v.pats)
	v.fill(d.ctx, m, d.stop-d.moves)
	d.moves += v.moves - at
	for _, pat := range v.pats[n:] {
		o := pattern{sheet: sheets[pat.sheet], tree: d.lift(pat.tree, types, sheets)}
		for _, u := range pat.use {
			o.use = append(o.use, run{types[u.typ], u.n})
		}
		lifted[pat.tree] = o.tree
		d.pool = append(d.pool, o)
	}
	type choice struct {
		tree *bin
		x    float64
	}
	var list []choice
	for k, c := range m.basis {
		if c.pat >= 0 && m.x[k] > 1e-6 {
			x := m.x[k]
			if d.turns > 0 {
				x *= 0.7 + 0.6*d.rng.float()
			}
			list = append(list, choice{lifted[m.pats[c.pat].tree], x})
		}
	}
	slices.SortStableFunc(list, func(a, b choice) int { return cmp.Compare(b.x, a.x) })
	for i, c := range list[:min(len(list), turnWidth)] {
		if d.over() {
			break
		}
		if i > 0 {
			if d.turns--; d.turns < 0 {
				break
			}
		}
		less, rest := slices.Clone(lot), slices.Clone(demand)
		less[c.tree.sheet]--
		b := d.cut(c.tree, rest)
		if bins, _ := d.settle(rest, less, depth+1); bins != nil {
			return append(bins, b), false
		}
	}
	return nil, false
}

// finish settles what can be listed.
func (d *settler) finish(q *problem, types, sheets, lot []int, root bool) (bins []*bin, too bool) {
	worth, too := d.prices(q, lot)
	if too {
		return nil, true
	}
	if worth == nil {
		return nil, false
	}
	g := q.grid(0, settleGrid)
	if g == nil {
		return nil, false
	}
	d.listMax = listWork
	if root {
		d.listMax *= 3
	}
	k := d.newPicker(q, g, lot, worth)
	if k == nil {
		return nil, false
	}
	bins, whole := k.settle(types, sheets)
	return bins, whole && bins == nil
}

// prices are worths of the parts by which the lot is only just enough.
func (d *settler) prices(q *problem, lot []int) (worth []int64, too bool) {
	v, from := q.newProver(listSteps, true)
	if v == nil {
		return nil, false
	}
	fill := func(m *master) bool {
		at := v.moves
		too, _ := v.fill(d.ctx, m, d.stop-d.moves)
		d.moves += v.moves - at
		return too
	}
	m := newCover(v.p, lot, v.price)
	if fill(m) {
		return nil, true
	}
	for _, load := range fineLoads {
		if d.over() {
			return nil, false
		}
		d.load = load
		m = newLoad(v.p, lot, load, v.price)
		if fill(m) {
			break
		}
	}
	d.center = make([]float64, len(q.types)+len(q.sheets))
	for i, t := range from {
		d.center[t] = m.center[i]
	}
	copy(d.center[len(q.types):], m.center[len(from):])
	worth = make([]int64, len(q.types))
	for i, t := range from {
		worth[t] = int64(max(0, min(m.center[i], m.miss[i])) * coverScale)
	}
	return worth, false
}

const listSteps = 300

// roomy reports whether each part fits a sheet and there is enough area.
func (p *problem) roomy() bool {
	area := 0.0
	for _, s := range p.sheets {
		area += float64(s.stock) * float64(s.w) * float64(s.h)
	}
	for _, t := range p.types {
		if !slices.ContainsFunc(p.sheets, func(s psheet) bool {
			return t.w <= s.w && t.h <= s.h || t.turn && t.h <= s.w && t.w <= s.h
		}) {
			return false
		}
	}
	return p.area() <= area*(1+1e-9)
}

// known lists the patterns of the pool in numbers of q, less what is no longer
// asked for.
func (d *settler) known(q *problem, types, sheets []int, lifted map[*bin]*bin) []pattern {
	typ, sheet := make([]int, len(d.p.types)), make([]int, len(d.p.sheets))
	for i, t := range types {
		typ[t] = i + 1
	}
	for i, s := range sheets {
		sheet[s] = i + 1
	}
	var out []pattern
	for _, pat := range d.pool {
		s := sheet[pat.sheet] - 1
		if s < 0 {
			continue
		}
		o := pattern{sheet: s, tree: pat.tree}
		area := 0.0
		for _, u := range pat.use {
			if t := typ[u.typ] - 1; t >= 0 {
				n := min(u.n, q.types[t].qty)
				o.use = append(o.use, run{t, n})
				area += float64(n) * q.types[t].area
			}
		}
		if area > 0.5*float64(q.sheets[s].w)*float64(q.sheets[s].h) {
			out = append(out, o)
			lifted[pat.tree] = pat.tree
		}
	}
	return out
}

// lift is a tree in the numbers of p.
func (d *settler) lift(b *bin, types, sheets []int) *bin {
	c := &bin{}
	c.copyFrom(b)
	c.sheet = sheets[b.sheet]
	for i := range c.n {
		if t := c.n[i].typ; t >= 0 {
			c.n[i].typ = int32(types[t])
		}
	}
	return c
}

// cut makes a sheet by a tree, less what is no longer needed, and puts on it
// what else is left and has room.
func (d *settler) cut(tree *bin, demand []int) *bin { return d.cutOf(d.p, tree, demand) }

func (d *settler) cutOf(p *problem, tree *bin, demand []int) *bin {
	b := &bin{}
	b.copyFrom(tree)
	over := false
	for i := range b.n {
		if t := b.n[i].typ; t >= 0 {
			if demand[t] > 0 {
				demand[t]--
			} else {
				b.n[i].typ = freeLeaf
				over = true
			}
		}
	}
	if over {
		c := &bin{}
		d.pack.rebuild(c, b, true)
		b = c
	}
	b.stamp = 0
	s := newSearch(p, 0)
	s.bins = append(s.bins, b)
	copy(s.pool, demand)
	for i, sh := range p.sheets {
		s.used[i] = sh.stock // no further sheet
	}
	s.fill(0)
	copy(demand, s.pool)
	return s.bins[0]
}
