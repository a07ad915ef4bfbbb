package cutting

import (
	"context"
	"math"
	"slices"

	"casewright/internal/unit"
)

// Moves spent after the search on what is left over, and on how the panels are
// cut: a share of the budget, so that a quick plan stays quick, and the fewer
// the fewer pieces there are. On fifty generated jobs of furniture (benchmark
// Furniture) 15,000 moves left rests worth 0.222 a job, 1,500 left 0.180.
const (
	leastTidy = 1_500
	mostTidy  = 15_000
	tidyPiece = 500 // for each piece
	tidyShare = 20  // of the budget
	neatTries = 2
	tidyBack  = 50 // late acceptance goes back a share of the moves
)

// tidied is the layout of an answer made tidy, and the problem it is of.
func (p *problem) tidied(ctx context.Context, job *Job, a answer, budget int) (*problem, []*bin) {
	q, _ := job.inSteps(true)
	q.cores = p.cores
	s := newSearch(q, job.Seed)
	for _, b := range a.bins {
		s.best = append(s.best, s.finer(b, p))
	}
	for _, n := range a.left {
		s.bestOut += float64(n)
	}
	return q, s.tidy(ctx, budget)
}

// finer is a sheet of p in the smaller steps of the search.
func (s *search) finer(b *bin, p *problem) *bin {
	c := &bin{}
	c.copyFrom(b)
	c.sheet = slices.IndexFunc(s.p.sheets, func(sh psheet) bool { return sh.job == p.sheets[b.sheet].job })
	for i := range c.n {
		n := &c.n[i]
		n.w, n.h = n.w*int64(p.unitX/s.p.unitX), n.h*int64(p.unitY/s.p.unitY)
	}
	if part := c.n[0]; part.typ >= 0 { // it fills the sheet, but for less than a step
		part.parent, part.next = 0, -1
		c.n = append(c.n[:0], node{parent: -1, first: 1, next: -1, typ: splitAt}, part)
	}
	c.n[0].w, c.n[0].h = s.p.sheets[c.sheet].w, s.p.sheets[c.sheet].h
	return s.pressed(c, true)
}

// tidy looks for a layout of the same value that leaves more, and of those for
// one that takes fewer settings of the saw and turns of the panel, and presses
// every sheet together.
func (s *search) tidy(ctx context.Context, budget int) []*bin {
	if s.p.value != LeastHeight && s.bestOut == 0 && s.p.pieces() <= 300 && ctx.Err() == nil {
		s.tidying = true
		moves := max(min(budget/tidyShare, tidyPiece*s.p.pieces(), mostTidy), leastTidy)
		s.best = s.neatest(ctx, s.best, moves)
		if len(s.best) > 1 { // how a sheet's own parts lie best is found sooner for it alone
			each := make([][]*bin, len(s.best))
			seeds := make([]uint64, len(s.best))
			for i := range seeds {
				seeds[i] = s.rng.next()
			}
			s.p.cores.Each(len(each), func(i int) {
				o := newSearch(s.p, seeds[i])
				o.tidying = true
				each[i] = o.neaten(ctx, s.best[i:i+1], moves/(2*len(each)), true)
			})
			s.best = slices.Concat(each...)
		}
	}
	out := make([]*bin, len(s.best))
	for i, b := range s.best {
		s.pack.loose = false
		out[i] = s.pressed(b, true)
		if s.p.value == LeastHeight {
			continue // the rest lies along the top
		}
		least := s.untidy(out[i : i+1])
		try := func(c *bin) {
			if v := s.untidy([]*bin{c}); v < least-1e-12 {
				out[i], least = c, v
			}
		}
		try(s.pressed(b, false))
		s.pack.loose = true
		try(s.pressed(b, false))
		try(b)
	}
	return out
}

// neatest is the best of several tries to neaten all sheets, each with its share
// of the moves.
func (s *search) neatest(ctx context.Context, bins []*bin, moves int) []*bin {
	type try struct {
		o    *search
		bins []*bin
	}
	tries := make([]try, neatTries)
	for i := range tries {
		tries[i].o = newSearch(s.p, s.rng.next())
		tries[i].o.tidying = true
	}
	s.p.cores.Each(len(tries), func(i int) {
		tries[i].bins = tries[i].o.neaten(ctx, bins, moves/neatTries, false)
	})
	cost, least := s.p.costs(tries[0].bins), s.untidy(tries[0].bins)
	best := tries[0].bins
	for _, t := range tries[1:] {
		c, v := s.p.costs(t.bins), s.untidy(t.bins)
		if c < cost || c == cost && v < least-1e-12 {
			best, cost, least = t.bins, c, v
		}
	}
	return best
}

// neaten moves the parts of sheets about for what is tidier, and for cheaper
// sheets when it comes upon them; alone: on these sheets only, not on others
// that lie there.
func (s *search) neaten(ctx context.Context, bins []*bin, moves int, alone bool) []*bin {
	s.load(bins)
	if alone {
		for i, sh := range s.p.sheets {
			s.used[i] = sh.stock
		}
	}
	s.limit = s.price
	s.hist = make([]float64, max(1, moves/tidyBack))
	s.restart()
	top := s.cost
	for k := range moves {
		if k&63 == 0 && ctx.Err() != nil {
			break
		}
		s.move()
		if s.empty() && (s.price < s.limit || s.cost < top-1e-12) { // cheaper goes before tidier
			top, s.limit = s.cost, s.price
			bins = copies(s.bins)
		}
	}
	return bins
}

// pressed is a sheet pressed together.
func (s *search) pressed(b *bin, wrap bool) *bin {
	out := &bin{}
	s.pack.rebuild(out, b, wrap)
	return out
}

// Rests count by the square of their share of a sheet, so that one large
// offcut is worth more than the same area in slivers. What differs by less
// than restStep counts as equal; then settings and turns decide. What lies there
// anyway is a rest too until it is cut into.
const (
	restStep    = 0.002
	settingCost = restStep / 1000
	turnCost    = restStep / 2000
)

// untidy is what tidying lowers.
func (s *search) untidy(bins []*bin) float64 { return s.sawing(bins) - s.rests(bins) }

// rests is what the rests of the bins count.
func (s *search) rests(bins []*bin) float64 {
	rests := 0.0
	for _, b := range bins {
		if sh := s.p.sheets[b.sheet]; sh.price == 0 {
			a := float64(sh.w) * float64(sh.h) / s.unit
			rests -= a * a
		}
		if s.p.least.w == 0 { // no least size is set: the largest counts
			a := b.largest() / s.unit
			rests += a * a
			continue
		}
		for _, f := range b.free {
			if s.p.keeps(f.w, f.h) {
				a := float64(f.w) * float64(f.h) / s.unit
				rests += a * a
			}
		}
	}
	return restStep * math.Floor(rests/restStep)
}

// sawing is what settings of the saw and turns of pieces count.
func (s *search) sawing(bins []*bin) float64 {
	settings, turns := s.settings(bins)
	return settingCost*float64(settings) + turnCost*float64(turns)
}

// settings counts the settings of the saw that the bins ask for when equal
// cuts of one stage are made together, and how often a piece is turned to be
// cut across.
func (s *search) settings(bins []*bin) (settings, turns int) {
	nodes := 0
	for _, b := range bins {
		nodes += len(b.n)
	}
	s.cuts.empty(nodes)
	for _, b := range bins {
		s.stages = append(s.stages[:0], 0) // of the children of each node
		for i := 1; i < len(b.n); i++ {    // nodes come after those that they lie in
			m := &b.n[i]
			n := &b.n[m.parent]
			stage := s.stages[m.parent]
			s.stages = append(s.stages, stage+1)
			if m.typ == freeLeaf {
				continue
			}
			size := m.h
			if n.vert {
				size = m.w
			}
			if m.next >= 0 { // the last is what remains
				cut := stage<<48 | uint64(size)<<1&(1<<48-1) | uint64(b2i(n.vert))
				settings += b2i(s.cuts.add(cut * 0x9E3779B97F4A7C15)) // by an odd number: no two are the same
			}
			turns += b2i(m.typ == splitAt)
		}
	}
	return settings, turns
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// keeps reports whether a rest of so many steps is worth keeping.
func (p *problem) keeps(w, h int64) bool {
	return p.keepsRest(unit.Length(w)*p.unitX, unit.Length(h)*p.unitY)
}

// keepsRest reports whether a rest, one kerf larger, is worth keeping; without
// a least size any is.
func (p *problem) keepsRest(w, h unit.Length) bool {
	l := p.least
	return w >= l.w && h >= l.h || w >= l.h && h >= l.w
}

// largest is the area of the largest rest.
func (b *bin) largest() float64 {
	a := 0.0
	for _, f := range b.free {
		a = max(a, float64(f.w)*float64(f.h))
	}
	return a
}

// load makes a complete layout the present one.
func (s *search) load(bins []*bin) {
	s.stamp++
	s.bins = s.bins[:0]
	clear(s.used)
	clear(s.pool)
	s.price, s.out = 0, 0
	for _, b := range bins {
		c := &bin{}
		c.copyFrom(b)
		c.stamp = 0
		s.bins = append(s.bins, c)
		s.used[b.sheet]++
		s.price += s.p.sheets[b.sheet].price
	}
}
