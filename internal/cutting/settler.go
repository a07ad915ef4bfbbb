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
	known     album
	rng       rng
	moves     int
	stop      int
	turns     int // left in this dive
	load      int
	center    []float64 // of the last prices
	first     []float64 // of the whole problem: of each type, of each sheet
	start     []float64 // of the whole problem's types, as soon as they are known
	firstLoad int
	listMax   int
	stuck     bool // tables are too large: more dives are of no use
	pack      packer
}

func (d *settler) over() bool { return d.moves >= d.stop || d.ctx.Err() != nil }

// fineLoads are tried in turn until one is too much.
var fineLoads = []int{1004, 1008, 1013, 1020, 1030, 1045, 1070, 1100}

const (
	wholeGrid   = 25_000_000
	firstRounds = 6
	deepRounds  = 2
	settleGrid  = 60_000_000
	mostPicked  = 20_000 // patterns
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
	d.moves += q.pieces()/2 + q.setup()
	if g == nil {
		d.stuck = true
		return nil, false
	}
	most := make([]int, len(q.types))
	for i, t := range q.types {
		most[i] = t.qty
	}
	l := newLister(d.ctx, g, most)
	if l == nil {
		d.stuck = true
		return nil, false
	}
	v := &prover{p: q, work: func() int { return g.steps }, rounds: deepRounds}
	if depth == 0 {
		v.rounds = firstRounds
	}
	price := &roster{l: l, d: d, extra: func(pat pattern) { v.pats = append(v.pats, pat) }}
	v.price = price
	lifted := map[*bin]*bin{}
	v.pats = d.knownOf(q, types, sheets, lifted)
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
		d.known.learn(o)
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
	d.moves += q.setup()
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
	d.moves += q.setup()
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
	short := false
	for _, load := range fineLoads {
		if short = d.over(); short {
			break
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
	if d.start == nil && len(q.types) == len(d.p.types) {
		d.start = slices.Clone(d.center[:len(q.types)])
	}
	if short {
		return nil, false
	}
	worth = make([]int64, len(q.types))
	for i, t := range from {
		worth[t] = int64(max(0, min(m.center[i], m.miss[i])) * coverScale)
	}
	return worth, false
}

const listSteps = 300
