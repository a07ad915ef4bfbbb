package cutting

import (
	"context"
	"math"
	"slices"
	"sync/atomic"
)

// Limits of a proof, in moves.
const (
	proofMoves  = 260_000
	lotMoves    = 60_000
	divePart    = 120_000
	shortDive   = 25_000
	decideMoves = 70_000 // but on when a lot is near to be decided
	firstLevels = 2      // of the tables, before lots of several prices are decided
	diveLeast   = 500    // what a dive counts for at least: its tables take time
	mostDives   = 40
	proofTypes  = 120
	smallTables = 400_000    // steps to fill the finest tables at most
	proofGrid   = 80_000_000 // steps to fill the tables at most, were none skipped

	mostSettled = 200 // pieces of a job whose lots are settled one by one
	lotSteps    = 100 // of looking for lots: as long as one move
)

// The steps of the tables. Finer steps prove more and take longer, and so does
// looking at proper patterns only.
var proofLevels = []struct {
	steps int64
	loose bool
}{{150, true}, {300, true}, {600, true}, {1000, true}, {300, false}, {3000, false}}

// A proof raises the bound by ruling out lots of sheets, the cheapest first,
// until the value is met or a lot can neither be ruled out nor laid out.
type proof struct {
	ledger
	s      *search       // stands for the search as it was when the proof went on last
	aim    *atomic.Int64 // the least value known by now
	dense  *dense        // patterns that the search had met
	vs     []*prover     // of each level, made when needed; nil where there is none
	made   []bool
	lot    []int // the one looked at
	level  int   // the next to be asked
	spent  int
	set    *settler
	fit    *fitter
	asked  []int    // the lot that was decided last, as far as it could be
	fresh  bool     // it was ruled out, and no other was asked since
	ruling *ruling  // of it
	only   bool     // go on with that, not with finer tables and longer dives
	strips *ripping // where sheets are cut in two stages
	tree   *ripTree // of the lot ripped, which may be gone on with
	ripped []int    // that lot
}

func (p *problem) newProof(s *search) *proof {
	// For lengths of one kind the pattern model says as much already.
	if len(p.types) == 0 || len(p.types) > proofTypes || p.value == LeastHeight || p.flat() && len(p.sheets) == 1 {
		return nil
	}
	r := &proof{ledger: p.newLedger(), vs: make([]*prover, len(proofLevels)), made: make([]bool, len(proofLevels))}
	if len(p.sheets) > 1 {
		r.strips = p.newRipping(s.rng)
	}
	r.see(s)
	return r
}

// see takes in what the search knows by now.
func (r *proof) see(s *search) {
	o := newSearch(r.p, 0)
	o.rng = s.rng
	o.best, o.bestLeft, o.bestOut, o.bestValue = s.best, slices.Clone(s.bestLeft), s.bestOut, s.bestValue
	r.s, r.aim = o, &atomic.Int64{}
	r.aim.Store(s.bestValue)
	if s.dense != nil {
		r.dense = s.dense.copied()
	}
}

// open reports whether there is something left to prove.
func (r *proof) open(b bound) bool { return r.s.unproven(b) && b.value < r.aim.Load() }

// run goes on with the proof for so many moves and returns those it took.
func (r *proof) run(ctx context.Context, b *bound, moves int) int {
	if r == nil {
		return 0
	}
	began := r.spent
	for stop := r.spent + moves; r.open(*b) && ctx.Err() == nil && r.spent < stop; {
		price, lot, steps := r.next(b.value)
		r.spent += steps / lotSteps
		if lot == nil {
			break
		}
		if price > b.value {
			b.raise(bound{price, r.p.whyMixes(price)})
			continue
		}
		if len(r.p.sheets) == 1 { // straight to the one lot that matters
			lot[0] = int(r.s.bestValue/r.p.sheets[0].price) - 1
		}
		if !slices.Equal(lot, r.lot) {
			r.lot, r.level = lot, 0
		}
		bins, too := r.ask(ctx, stop)
		if bins != nil {
			value := r.s.bestValue
			if r.s.offer(bins); r.s.bestValue < value {
				continue
			}
			break
		}
		if !too {
			break
		}
		r.exclude(b, lot)
		r.fresh = true
	}
	return r.spent - began
}

// ask asks whether the lot at hand can hold all parts, in one way after the
// other: a tree of strips where sheets are cut in two stages, coarse tables, a
// short dive, all patterns that lose little (with all the moves there are, when
// little is left to lose), or some of those known where they hold more than all
// parts. Where these are too many to price, or sheets are of one size, finer
// tables and longer dives.
func (r *proof) ask(ctx context.Context, stop int) (bins []*bin, too bool) {
	r.fresh = false
	if r.strips != nil {
		if bins, too = r.rip(ctx, stop); bins != nil || too || r.ripping() {
			return bins, too
		}
	}
	levels := len(proofLevels)
	if len(r.vs) == levels && len(r.p.sheets) > 1 {
		levels = firstLevels
	}
	if r.weigh(ctx, stop, levels) {
		return nil, true
	}
	if r.level < levels || len(r.vs) < len(proofLevels) || r.spent >= stop {
		return nil, false
	}
	if len(r.p.sheets) > 1 && !slices.Equal(r.asked, r.lot) {
		r.asked, r.ruling = r.lot, nil
		if bins, too = r.settle(ctx, stop, shortDive); bins != nil || too {
			return bins, too
		}
		if bins, too = r.decide(ctx, stop, decideMoves); bins != nil || too {
			return bins, too
		}
		if r.ruling.roomy() {
			if bins = r.pick(ctx, knownMoves); bins != nil {
				return bins, false
			}
		}
	} else if r.only && r.ruling.roomy() {
		if bins = r.pick(ctx, (stop-r.spent)/2); bins != nil {
			return bins, false
		}
	}
	if r.ruling.near() && (r.only || r.ruling.soon()) {
		if bins, too = r.decide(ctx, stop, math.MaxInt); bins != nil || too {
			return bins, too
		}
	}
	if r.only || r.ruling.told() {
		return nil, false
	}
	if r.weigh(ctx, stop, len(r.vs)) {
		return nil, true
	}
	if r.level < len(r.vs) || r.spent >= stop {
		return nil, false
	}
	return r.settle(ctx, stop, divePart)
}

// look asks about the first lot with the coarsest tables only.
func (r *proof) look(ctx context.Context, b *bound, moves int) int {
	if r == nil || !r.open(*b) {
		return 0
	}
	all := r.vs
	r.vs = all[:1]
	n := r.run(ctx, b, moves)
	r.vs, r.level = all, 1
	return n
}

// weigh asks the program with finer and finer tables whether the lot is too
// little.
func (r *proof) weigh(ctx context.Context, stop, levels int) bool {
	for ; r.level < min(levels, len(r.vs)); r.level++ {
		if !r.made[r.level] {
			r.made[r.level] = true
			r.vs[r.level] = r.prover(r.level)
		}
		v := r.vs[r.level]
		if v == nil {
			continue
		}
		if r.spent >= stop || ctx.Err() != nil {
			return false
		}
		at := v.moves
		v.needs = v.needs[:0]
		too, _ := v.excludes(ctx, r.lot, min(lotMoves, stop-r.spent))
		r.spent += v.moves - at
		if too {
			r.needs = append(r.needs, v.needs...)
			return true
		}
		if r.p.flat() {
			r.level = len(r.vs)
			break
		}
		if v.steps <= easySteps { // the finest tables at once, if they are small
			r.level = max(r.level, len(r.vs)-2)
		}
	}
	return false
}

// prover makes the program of a level, if its tables are not too large.
func (r *proof) prover(level int) *prover {
	l := proofLevels[level]
	r.spent += r.p.setup()
	v, from := r.p.newProver(l.steps, l.loose)
	if v == nil || level == len(proofLevels)-1 && v.cost > smallTables {
		return nil
	}
	r.dense.give(v, from)
	return v
}

// settle looks for a layout on the lot, dive after dive.
func (r *proof) settle(ctx context.Context, stop, part int) (bins []*bin, too bool) {
	if r.p.flat() || r.p.pieces() > mostSettled {
		return nil, false
	}
	if r.set == nil {
		r.set = &settler{p: r.p, rng: r.s.rng, known: newAlbum()}
		for _, l := range r.dense.bins {
			for _, b := range l {
				r.set.known.learn(r.p.pattern(b))
			}
		}
	}
	d := r.set
	d.ctx, d.first, d.start, d.stuck = ctx, nil, nil, false
	demand := make([]int, len(r.p.types))
	for i, t := range r.p.types {
		demand[i] = t.qty
	}
	most := mostDives
	if len(r.p.sheets) > 1 {
		most = 1 // other lots may be better
	}
	for k := 0; k < most && bins == nil && !too && !d.stuck && r.spent < stop && ctx.Err() == nil; k++ {
		at := d.moves
		d.known.forget()
		d.stop = at + min(part, stop-r.spent)
		d.turns = diveTurns * min(1, k)
		bins, too = d.settle(demand, r.lot, 0)
		r.spent += max(diveLeast, d.moves-at)
	}
	return bins, too
}

// A lot that the program fills after so few looks is not ruled out by finer
// tables.
const easySteps = 5

// newProver sets up the program with tables of so many steps, and tells which
// type of p each of its types is.
func (p *problem) newProver(steps int64, loose bool) (*prover, []int) {
	c, from := p.coarse(steps)
	if p.flat() {
		c, from = p, nil
		for i := range p.types {
			from = append(from, i)
		}
		return &prover{p: c, price: newFiller(p), work: func() int { return 0 }, rounds: -1}, from
	}
	if len(c.types) == 0 {
		return nil, nil
	}
	g := c.grid(0, proofGrid)
	if g == nil {
		return nil, nil
	}
	most := make([]int, len(c.types))
	for i, t := range c.types {
		most[i] = t.qty
	}
	q := newProper(g, most)
	if q == nil {
		return nil, nil
	}
	q.loose = loose
	return &prover{p: c, price: q, work: func() int { return g.steps }, cost: g.cost(), rounds: -1}, from
}

// give hands the patterns collected to a prover whose types are numbered anew.
func (d *dense) give(v *prover, from []int) {
	if d == nil {
		return
	}
	to := map[int]int{}
	for i, t := range from {
		to[t] = i
	}
	for _, list := range d.bins {
		for _, b := range list {
			pat := d.p.pattern(b)
			pat.tree = nil
			use := pat.use[:0]
			for _, u := range pat.use {
				if t, ok := to[u.typ]; ok {
					use = append(use, run{t, u.n})
				}
			}
			if pat.use = use; len(use) > 0 {
				v.pats = append(v.pats, pat)
			}
		}
	}
}
