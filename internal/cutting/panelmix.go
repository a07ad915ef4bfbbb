package cutting

import (
	"context"
	"math"
	"slices"
)

// panels offers patterns of panels to a mix: the best proper pattern of each
// size of panel and others that the search for it found.
type panels struct {
	g     *grid // nil: too large
	root  []int // the numbers of the types in the whole problem; nil: the same
	q     *proper
	most  []int
	worth []int64
	limit int // steps of one search for a pattern
	top   int // and at most
	seen  int // steps told
	work  int // beside them
}

// Limits of the tables of a mix of panels.
const (
	mixGrid    = 3_000_000 // steps to fill the tables of all panels once
	looksFirst = 30_000    // steps of one search for a proper pattern, at first
	looksMost  = 1_000_000
	looksPart  = 60_000 // in a dive
	looksTrims = 3      // tries to trim a pattern
	mixSums    = 120    // lengths along each side, about, of all panels, in tables that are thinned
)

// unknownWorth stands for the worth of a pattern that nothing is known of.
const unknownWorth = math.MaxInt64 >> 8

func newPanels(p *problem, root []int) *panels {
	g := p.grid(0, mixGrid)
	if g == nil {
		g = p.grid(max(24, mixSums/max(1, len(p.sheets))), 2*mixGrid)
	}
	f := &panels{g: g, root: root, limit: looksFirst, top: looksMost}
	f.work = p.setup() * moveWork
	return f
}

func (f *panels) harder() bool {
	if f.limit >= f.top {
		return false
	}
	f.limit = min(3*f.limit, f.top)
	return true
}

// exact reports whether what it says of worths is a bound.
func (f *panels) exact() bool { return f.g != nil && !f.g.thin }

func (f *panels) load(worth []int64, most []int) {
	f.worth = append(f.worth[:0], worth...)
	if f.g == nil || f.q != nil && slices.Equal(f.most, most) {
		return
	}
	f.most = append(f.most[:0], most...)
	if f.q = newProper(f.g, f.most); f.q != nil {
		f.q.trees, f.q.trims = true, looksTrims
	}
}

func (f *panels) offer(sheet int, floor int64, yield func(pattern)) int64 {
	if f.q == nil {
		return unknownWorth
	}
	f.q.limit = f.limit
	z, pat := f.q.best(sheet, f.worth, f.most, floor)
	if z > floor && len(pat.use) > 0 {
		yield(f.lift(pat))
	}
	for _, pat := range f.q.extra {
		yield(f.lift(pat))
	}
	f.q.extra = f.q.extra[:0]
	return z
}

// lift gives the tree of a pattern the numbers of the whole problem.
func (f *panels) lift(pat pattern) pattern {
	t := &bin{}
	t.copyFrom(pat.tree)
	if f.root != nil {
		t.renumber(f.root)
	}
	pat.tree = t
	for i := range pat.use { // the tree may have more; it is trimmed when it is cut
		pat.use[i].n = min(pat.use[i].n, f.most[pat.use[i].typ])
	}
	return pat
}

// renumber gives the parts on a sheet other types' numbers.
func (b *bin) renumber(to []int) {
	for i := range b.n {
		if t := b.n[i].typ; t >= 0 {
			b.n[i].typ = int32(to[t])
		}
	}
}

func (f *panels) part(q *problem, of []int) offerer {
	c := newPanels(q, f.rootOf(of))
	c.top = looksPart
	return c
}

// rootOf gives numbers of types those of the whole problem.
func (f *panels) rootOf(of []int) []int {
	if f.root == nil {
		return of
	}
	root := make([]int, len(of))
	for i, t := range of {
		root[i] = f.root[t]
	}
	return root
}

func (f *panels) spent() int {
	w := f.work
	f.work = 0
	if f.g != nil {
		w += f.g.steps - f.seen
		f.seen = f.g.steps
	}
	return w
}

// A panelMix looks for cheaper layouts by dives from the best mix of patterns,
// where panels are of several prices.
type panelMix struct {
	s     *search
	m     *mix
	d     *dive
	unit  int64
	low   float64 // value of the mix
	whole bool    // the mix is solved, so that its value bounds the job
	turn  int     // moves of the next turn
	aim   float64 // between the bound and the best value, where the next dive aims

	worth  []float64 // prices of the program: of each type
	scarce []float64 // and of each kind of sheet
	bound  float64   // its bound, before dives ask it for other things
	swap   *exchange // made when needed
}

const (
	mixMoves  = 100_000
	mixTypes  = 150
	mixPieces = 5 // on a panel on average, at most
	mixAim    = 0.3
	mixFails  = 6
	mixTurn   = 20_000
	tailMoves = 1500      // of the search for the last panels of a dive
	nodeWork  = 8_000_000 // of a dive
	tailMost  = 6         // panels
)

// newPanelMix bounds the layout by the mix of proper patterns. It returns nil
// where that is not of use.
func (s *search) newPanelMix(ctx context.Context, b *bound, moves int) *panelMix {
	p := s.p
	if !s.unproven(*b) || !s.mixes() {
		return nil
	}
	from := newPanels(p, nil)
	if from.g == nil {
		return nil
	}
	l := &panelMix{s: s, m: newMix(ctx, p, from), unit: p.priceStep(), aim: mixAim, turn: mixTurn}
	l.d = &dive{m: l.m, rng: s.rng, tail: l.tail, node: nodeWork}
	l.recall()
	stop := moves * moveWork
	up := func(v float64) int64 { return ceilSafe(max(0, v)/float64(l.unit)) * l.unit }
	l.m.relax(func() bool {
		return *l.m.work >= stop || up(l.m.bound) >= min(up(l.m.value()), s.bestValue)
	})
	l.low = l.m.value()
	l.bound = l.m.bound
	l.prices()
	if from.exact() {
		l.whole = l.m.bound >= l.low*(1-1e-6)
		b.raise(bound{up(l.m.bound), p.whyPatterns(l.m.bound)})
		if s.unproven(*b) && p.manyKinds() {
			b.raise(p.lotBound(*b))
		}
	}
	s.iter += *l.m.work / moveWork
	return l
}

// mixes reports whether few pieces lie on panels of several sizes.
func (s *search) mixes() bool {
	p := s.p
	return !p.flat() && p.value != LeastHeight && len(p.types) <= mixTypes && p.pieces() <= mixPieces*len(s.best)
}

// recall learns the fullest sheets that the search has met.
func (l *panelMix) recall() {
	p := l.s.p
	if l.s.dense != nil {
		for _, list := range l.s.dense.bins {
			for _, b := range list {
				l.m.learn(p.pattern(b))
			}
		}
	}
	for _, b := range l.s.best {
		l.m.learn(p.pattern(b))
	}
	l.m.ask(l.m.demand, l.m.stock)
}

// dive looks for cheaper layouts until the bound is met, moves are used up or
// dives fail again and again.
func (l *panelMix) dive(b bound, moves int, tell func()) {
	s := l.s
	from := *l.m.work
	fails := 0
	for stop := from + moves*moveWork; s.unproven(b) && *l.m.work < stop && l.m.ctx.Err() == nil && fails < mixFails; {
		low := max(float64(b.value), l.low)
		limit := int64(low+l.aim*(float64(s.bestValue)-low)) / l.unit * l.unit
		limit = max(b.value, min(limit, s.bestValue-l.unit))
		if found := l.d.once(limit, stop); found != nil {
			value := s.bestValue
			if s.offer(l.bins(found)); s.bestValue < value {
				l.aim, fails = mixAim, 0
				tell()
				continue
			}
		}
		fails++
		if l.aim *= 1.5; l.aim > 1 {
			l.aim = mixAim
		}
	}
	s.iter += (*l.m.work - from) / moveWork
}

// run takes turns between dives and the search, longer and longer ones, so many
// at most.
func (l *panelMix) run(ctx context.Context, b bound, moves, turns int, tell func()) {
	s := l.s
	l.m.ctx = ctx
	for ; turns > 0 && s.iter < moves && s.unproven(b) && ctx.Err() == nil; turns-- {
		s.run(ctx, b, min(moves, s.iter+l.turn), tell)
		if s.unproven(b) && s.iter < moves {
			l.exchange(ctx, b, min(moves-s.iter, l.turn), math.MaxInt, tell)
		}
		if s.unproven(b) && s.iter < moves {
			l.recall()
			l.dive(b, min(moves-s.iter, l.turn), tell)
		}
		l.turn += l.turn / 2
	}
}

// bins cuts patterns, each piece no more often than it is asked for.
func (l *panelMix) bins(list []pattern) []*bin {
	p := l.s.p
	left := make([]int, len(p.types))
	for i, t := range p.types {
		left[i] = t.qty
	}
	used := make([]int, len(p.sheets))
	cutter := planner{p: p}
	var out []*bin
	for _, pat := range list {
		if b := cutter.cut(pat, left, used, false); b != nil {
			out = append(out, b)
		}
	}
	return out
}

// tail searches for a layout of the last pieces that costs no more than room.
func (l *panelMix) tail(m *mix, demand, stock []int, room int64) []pattern {
	sub, back := m.p.rest(demand, stock)
	o := newSearch(sub, 0)
	o.rng, o.iter, o.limit = l.d.rng, 1, room
	o.fill(0)
	o.hist = make([]float64, memory)
	o.restart()
	for k := 0; k < tailMoves && !o.empty() && m.ctx.Err() == nil; k++ {
		o.move()
		*m.work += moveWork
	}
	l.d.rng = o.rng
	if !o.empty() {
		return nil
	}
	var out []pattern
	for _, b := range o.bins {
		pat := sub.pattern(b)
		for i := range pat.use {
			pat.use[i].typ = back[pat.use[i].typ]
		}
		for i := range b.n {
			if t := b.n[i].typ; t >= 0 {
				b.n[i].typ = int32(m.whole(back[t]))
			}
		}
		out = append(out, pat)
	}
	return out
}
