package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A sheetDive looks for a layout on a given lot of sheets, cheaper than the
// best one known. It solves the cover program of the lot, fixes one pattern of
// its answer, the nearest to whole and the fullest first, solves the program
// for what is left, and so on down; where that shows that pieces would be left
// over it tries a few other patterns. What is left of few sheets, and of a
// dive that ends short, is searched for.
type sheetDive struct {
	p       *problem
	rng     rng
	m       *mix // the program, of the lot
	lot     []int
	roots   []root // its bases: that of the whole program, then two for each sheet that is fixed
	moves   int    // used up, and where to end
	stop    int
	counted int // of the program's work, as moves

	cheapest []int    // that was dived on
	given    struct { // by the proof: patterns of a lot
		lot  []int
		list []pattern
	}

	spread float64 // of the lot drawn between patterns; wider from dive to dive
	turns  int     // left in this dive
	bins   []*bin
	top    []*bin  // the sheets of the dive that left the least
	least  float64 // and how much, in sheets
	short  *need   // what shows that the lot of the last dive is too little
}

const (
	sheetTurns   = 10 // other patterns tried in one dive
	sheetWidth   = 4  // and at one node
	fewSheets    = 6  // left: worth a search at each node
	fewMoves     = 3_000
	shortMoves   = 20_000
	fullPower    = 12         // how much fuller sheets are preferred
	sheetGrid    = 20_000_000 // steps to fill the tables at most, were none skipped
	sheetSums    = 100        // lengths along each side, about, in tables that are thinned
	diveShare    = 2          // one move of the search for so many of dives
	nodePricings = 6          // at one node of a dive; 3 to 25 did about as well
	learnWork    = 10         // that a pattern counts for when it is known again
	sheetPieces  = 14         // on a sheet on average, at most: beyond that a search is quicker
)

// newSheetDive returns nil where dives are of no use.
func (p *problem) newSheetDive(s *search) *sheetDive {
	if !p.divable(s) {
		return nil
	}
	return &sheetDive{p: p, rng: newRNG(s.rng.next()), spread: 0.2}
}

// begin solves the program of a lot, from where it was left if it is the same
// lot as before, and knows the fullest sheets that the search has met. It
// returns nil where tables are too large.
func (d *sheetDive) begin(ctx context.Context, s *search, lot []int) *mix {
	old := d.m
	if old == nil || !slices.Equal(d.lot, lot) || len(old.cols) > mostKnown {
		if d.m = newCoverMix(ctx, d.p, lot); d.m == nil {
			return nil
		}
		d.lot, d.roots, d.counted = slices.Clone(lot), d.roots[:0], 0
	}
	if old != nil && old != d.m {
		for j, c := range old.cols {
			if c.sheet >= 0 && (j >= len(old.cols)-mostKnown/2 || old.where[j] >= 0) {
				d.m.learn(pattern{c.sheet, c.use, c.tree})
			}
		}
	}
	if s.dense != nil {
		for _, list := range s.dense.bins {
			for _, b := range list {
				d.m.learn(d.p.pattern(b))
			}
		}
	}
	for _, b := range s.best {
		d.m.learn(d.p.pattern(b))
	}
	if slices.Equal(lot, d.given.lot) {
		for _, pat := range d.given.list {
			d.m.learn(pat)
		}
	}
	if len(d.roots) > 0 {
		d.m.restore(&d.roots[0])
	}
	d.m.ctx = ctx
	*d.m.work += len(d.m.cols) * learnWork
	d.m.ask(d.demand(), lot)
	d.cover(d.m, math.MaxInt, true)
	d.save(d.m, 0)
	return d.m
}

// take takes the patterns in that the proof knows of its lot.
func (d *sheetDive) take(r *proof) {
	if d != nil {
		d.given.lot, d.given.list = r.known()
	}
}

// save keeps the program's basis at a place of roots.
func (d *sheetDive) save(m *mix, at int) {
	for len(d.roots) <= at {
		d.roots = append(d.roots, root{})
	}
	m.save(&d.roots[at])
}

// divable reports whether dives are of use: several sheets, and not too many
// pieces on each.
func (p *problem) divable(s *search) bool {
	return p.value != LeastHeight && !p.flat() && len(p.types) <= proofTypes &&
		len(s.best) >= 3 && p.pieces() <= sheetPieces*len(s.best)
}

// demand is all that is asked for.
func (d *sheetDive) demand() []int {
	n := make([]int, len(d.p.types))
	for i, t := range d.p.types {
		n[i] = t.qty
	}
	return n
}

func (d *sheetDive) over(ctx context.Context) bool { return d.moves >= d.stop || ctx.Err() != nil }

// find dives once for the lot; top holds the layout when it finds one, or is
// nil. It ends at once where the program shows that the lot is too little.
func (d *sheetDive) find(ctx context.Context, s *search, lot []int, moves int) {
	d.stop = d.moves + moves
	demand := d.demand()
	d.spread = min(0.9, d.spread+0.1)
	d.turns, d.least, d.top, d.bins, d.short = sheetTurns, math.Inf(1), nil, d.bins[:0], nil
	m := d.begin(ctx, s, lot)
	if m == nil {
		return
	}
	if d.short = m.tooLittle(); d.short != nil {
		return
	}
	d.down(m, demand, lot, m.value(), 1)
	if d.least > 0 {
		d.top = d.finish(ctx, d.top, demand, lot, shortMoves)
	}
}

// down fixes a pattern of the program's answer for what is left and goes on
// with the rest. Candidates are weighed by the patterns known; for the best of
// them more are made where pieces would be left over. It reports whether all
// pieces have a place.
func (d *sheetDive) down(m *mix, demand, lot []int, miss float64, level int) bool {
	own := m.own(demand)
	if gone := count(own, 0); gone > 4 && gone > len(own)/6 && gone < len(own) {
		if c := m.part(own, lot); c != nil {
			known := len(c.cols)
			c.ask(c.demand, lot)
			ok := d.down(c, demand, lot, miss, level)
			for _, col := range c.cols[known:] {
				m.learn(pattern{col.sheet, c.lift(col.use), col.tree})
			}
			return ok
		}
		m.ask(own, lot)
	}
	left := 0
	for _, n := range lot {
		left += n
	}
	if left <= fewSheets && !done(demand) {
		if bins := d.finish(m.ctx, nil, demand, lot, fewMoves); bins != nil {
			d.bins = append(d.bins, bins...)
			clear(demand)
		}
	}
	if done(demand) {
		d.least, d.top = 0, slices.Clone(d.bins)
		return true
	}
	here, good := 2*level, 2*level+1
	d.save(m, here)
	var best *diveStep
	last := false // the program is at the best
	for k, pat := range d.candidates(m, demand) {
		if d.over(m.ctx) {
			break
		}
		b := d.fix(pat, demand, lot)
		if b == nil {
			continue
		}
		if k > 0 {
			m.restore(&d.roots[here])
		}
		m.ask(m.own(b.demand), b.lot)
		d.cover(m, 0, false)
		b.miss = m.value()
		if last = best == nil || b.miss < best.miss-1e-9; last {
			best = b
			d.save(m, good)
		}
		if best.miss <= miss+1e-6 {
			break
		}
		if d.turns--; d.turns < 0 {
			break
		}
	}
	if best == nil {
		if miss = max(miss, filled); miss < d.least { // shares may fill what whole patterns do not
			d.least, d.top = miss, slices.Clone(d.bins)
		}
		return false
	}
	d.bins = append(d.bins, best.bin)
	if !last {
		m.restore(&d.roots[good])
		m.ask(m.own(best.demand), best.lot)
	}
	if best.miss > filled {
		d.cover(m, nodePricings, false)
		best.miss = m.value()
	}
	return d.down(m, best.demand, best.lot, best.miss, level+1)
}

// A diveStep is what is left when a sheet is fixed.
type diveStep struct {
	bin         *bin
	demand, lot []int
	miss        float64 // area left over
}

// fix cuts a pattern from the lot; nil when none of it is asked for.
func (d *sheetDive) fix(pat pattern, demand, lot []int) *diveStep {
	if lot[pat.sheet] <= 0 {
		return nil
	}
	b := &diveStep{demand: slices.Clone(demand), lot: slices.Clone(lot)}
	cutter := planner{p: d.p}
	if b.bin = cutter.cut(pat, b.demand, make([]int, len(lot)), false); b.bin == nil {
		return nil
	}
	b.lot[b.bin.sheet]--
	return b
}

// candidates are a few patterns of the program's answer, the fullest and
// nearest to whole first, drawn a little by lot.
func (d *sheetDive) candidates(m *mix, demand []int) []pattern {
	shares := m.used()
	for i := range shares {
		full := 0.0
		for _, u := range shares[i].pat.use {
			full += d.p.types[u.typ].area * float64(min(u.n, demand[u.typ]))
		}
		sh := d.p.sheets[shares[i].pat.sheet]
		shares[i].x *= (1 - d.spread + 2*d.spread*d.rng.float()) * math.Pow(full/(float64(sh.w)*float64(sh.h)), fullPower)
	}
	slices.SortStableFunc(shares, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	var list []pattern
	for _, s := range shares[:min(len(shares), sheetWidth)] {
		list = append(list, s.pat)
	}
	return list
}

// finish searches for a layout of the demand on the lot that starts from the
// sheets given, and returns all its sheets, or nil.
func (d *sheetDive) finish(ctx context.Context, from []*bin, demand, lot []int, moves int) []*bin {
	bins, took := d.p.searchLot(ctx, &d.rng, from, demand, lot, moves, 0, math.Inf(1))
	d.moves += took
	return bins
}

// look solves the program of the lot that would be better, and notes it when
// that is shown to be too little.
func (d *sheetDive) look(ctx context.Context, s *search, lots *ledger, b *bound, moves int) {
	if d == nil || !s.unproven(*b) {
		return
	}
	lot := d.p.cheaperLot(*b, s, lots)
	if lot == nil {
		return
	}
	before := d.moves
	d.stop = d.moves + moves
	var short *need
	if m := d.begin(ctx, s, lot); m != nil {
		short = m.tooLittle()
	}
	if s.iter += d.moves - before; short != nil {
		lots.exclude(b, lot, *short)
	}
}

// run takes turns between dives and the search, for so many dives at most. A
// lot that is shown to be too little is ruled out.
func (d *sheetDive) run(ctx context.Context, s *search, lots *ledger, b *bound, moves, dives int, tell func()) {
	if d == nil {
		return
	}
	for ; dives > 0 && s.iter < moves && s.unproven(*b) && ctx.Err() == nil; dives-- {
		lot := d.next(*b, s, lots)
		if lot == nil {
			return
		}
		before, value := d.moves, s.bestValue
		d.find(ctx, s, lot, moves-s.iter)
		if d.top != nil {
			s.offer(d.top)
		}
		spent := d.moves - before
		s.iter += spent
		switch {
		case s.bestValue < value:
			tell()
			continue
		case d.short != nil:
			lots.exclude(b, lot, *d.short)
			if len(d.p.sheets) > 1 {
				price, next, steps := lots.next(b.value)
				if s.iter += steps / lotSteps; next != nil && price > b.value {
					b.raise(bound{price, d.p.whyMixes(price)})
				}
			}
			continue
		case spent == 0:
			return // tables are too large
		}
		s.run(ctx, *b, min(moves, s.iter+spent/diveShare), tell)
	}
}

// next is the cheapest lot that is not ruled out, where that is another than
// before: the proof could not rule it out, so it may well hold all parts. Then
// one by lot.
func (d *sheetDive) next(b bound, s *search, lots *ledger) []int {
	if len(d.p.sheets) > 1 {
		price, lot, steps := lots.next(b.value)
		if s.iter += steps / lotSteps; lot != nil && price < s.bestValue && !slices.Equal(lot, d.cheapest) {
			d.cheapest = lot
			return lot
		}
	}
	return d.p.cheaperLot(b, s, lots)
}

// cheaperLot is a lot of sheets that costs less than the best layout, has the
// area for all parts and is not ruled out; or nil.
func (p *problem) cheaperLot(b bound, s *search, lots *ledger) []int {
	if len(p.sheets) == 1 {
		if n := int(s.bestValue / max(1, p.sheets[0].price)); n > 1 {
			return []int{n - 1}
		}
		return nil
	}
	low := max(1, b.value)
	if s.bestValue <= low {
		return nil
	}
	low += int64(s.rng.float() * float64(s.bestValue-low))
	price, lot, steps := lots.next(low)
	s.iter += steps / lotSteps
	if lot == nil || price >= s.bestValue {
		price, lot, steps = lots.next(b.value)
		s.iter += steps / lotSteps
	}
	if lot == nil || price >= s.bestValue {
		return nil
	}
	return lot
}
