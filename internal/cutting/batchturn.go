package cutting

import (
	"context"
	"math"
)

// The sheets of a large job are filled in turn: each with blocks out of a bag of
// pieces, or where these lose too much is searched for the fullest set; the bag
// is filled up from all that are left, drawn by lot once, and so on. There is so
// much choice that little is lost, and the time grows with the number of pieces.
// A few bags are drawn from side by side, a sheet out of each, so that further
// cores have work; how many does not depend on the cores, so neither does the
// layout. The last bag is laid out by itself.
const (
	bagOf     = mostInBag // pieces
	mostOfBag = 1000      // where they are small
	bagArea   = 1.5       // of the largest sheet, that they have at least
	bagsAtOne = 8         // bags side by side, as long as there are pieces for so many
	tailOf    = 150       // pieces: the last ones are laid out together
	fillMost  = 3_000     // moves for one sheet
	fillPart  = 0.7       // of all moves
	tailPart  = 0.3       // of those left then, for the last bag
	bagBlocks = 150       // of a band that are gone on with, where there are bagMoves for a sheet
	bagMoves  = 300
	bagLoss   = 0.012 // share of a sheet that may well be lost
	bagOver   = 3     // times the moves for a sheet that its blocks may take; the next ones have fewer
	quickFill = 30    // for a sheet: too few for blocks
	tellEvery = 16    // sheets
)

// A filling is a large job on its way.
type filling struct {
	b       *batcher
	bags    []*bag
	todo    []int // types of the pieces not yet in a bag
	left    int   // pieces in bags and to do
	area    float64
	largest float64   // sheet
	full    []float64 // of each kind of sheet: how full they become
	untold  int       // sheets filled since progress was told
}

// A bag holds the pieces that one sheet is filled from: more than blocks are
// made of where these would not fill a sheet.
type bag struct {
	has  []int // of each type
	in   int
	area float64
	dull []bool // of each kind of sheet: nothing in the bag goes on one
}

// turn lays out the demand in so many moves and returns what has no place.
func (b *batcher) turn(demand []int, moves int) []int {
	f := &filling{b: b, left: total(demand), full: make([]float64, len(b.p.sheets)), untold: tellEvery}
	for t, n := range demand {
		f.area += float64(n) * b.p.types[t].area
		for range n {
			f.todo = append(f.todo, t)
		}
	}
	for i := len(f.todo) - 1; i > 0; i-- {
		k := b.rng.below(i + 1)
		f.todo[i], f.todo[k] = f.todo[k], f.todo[i]
	}
	for i := range f.full {
		f.full[i] = 1
		f.largest = max(f.largest, b.p.size(i))
	}
	stop := b.moves + moves
	for f.left > tailOf && b.ctx.Err() == nil && f.round(stop) {
	}
	for len(f.bags) > 0 {
		f.empty()
	}
	rest := make([]int, len(demand))
	for _, t := range f.todo {
		rest[t]++
	}
	if f.left <= bagOf && b.ctx.Err() == nil {
		f.tail(rest, stop)
	}
	return b.complete(rest)
}

// empty does without the last bag: others take its pieces.
func (f *filling) empty() {
	last := len(f.bags) - 1
	for t, n := range f.bags[last].has {
		for range n {
			f.todo = append(f.todo, t)
		}
	}
	f.bags = f.bags[:last]
}

// fillUp has as many bags as there are pieces for, all full; the last one alone
// may not be.
func (f *filling) fillUp() {
	n := max(1, min(bagsAtOne, f.left/bagOf, int(f.area/(bagArea*f.largest))))
	for len(f.bags) > n {
		f.empty()
	}
	for len(f.bags) < n {
		f.bags = append(f.bags, &bag{has: make([]int, len(f.b.p.types)), dull: make([]bool, len(f.full))})
	}
	for _, g := range f.bags {
		for (g.in < bagOf || g.in < mostOfBag && g.area < bagArea*f.largest) && len(f.todo) > 0 {
			last := len(f.todo) - 1
			g.area += f.b.p.types[f.todo[last]].area
			g.has[f.todo[last]]++
			g.in++
			f.todo = f.todo[:last]
			clear(g.dull)
		}
	}
}

// round fills a sheet out of every bag that has one in stock; it reports
// whether any has.
func (f *filling) round(stop int) bool {
	f.fillUp()
	b := f.b
	var all []*drawing
	most := 0.0
	for _, g := range f.bags {
		if kind := f.kind(g); kind >= 0 {
			b.stock[kind]--
			all = append(all, &drawing{bag: g, kind: kind, rng: newRNG(b.rng.next())})
			most = max(most, b.p.size(kind))
		}
	}
	if len(all) == 0 {
		return false
	}
	moves := min(fillMost, max(0, stop-b.moves)/max(len(all), 1+int(f.area/most)))
	b.p.cores.Each(len(all), func(i int) { all[i].fill(b.ctx, b.p, moves, max(0, stop-b.moves)/len(all)) })
	for _, d := range all {
		f.take(d)
	}
	if f.untold += len(all); f.untold >= tellEvery {
		f.untold = 0
		b.report(b.value())
	}
	return true
}

// kind is the kind of sheet in stock that promises to cost the least for what
// it holds, or -1.
func (f *filling) kind(g *bag) int {
	best, rate := -1, math.Inf(1)
	for i, s := range f.b.p.sheets {
		if f.b.stock[i] <= 0 || g.dull[i] {
			continue
		}
		if r := (float64(s.price) + 1e-9) / (f.b.p.size(i) * f.full[i]); r < rate {
			best, rate = i, r
		}
	}
	return best
}

// size is the area of a kind of sheet.
func (p *problem) size(kind int) float64 {
	s := &p.sheets[kind]
	return float64(s.w) * float64(s.h)
}

// A drawing is the search for one sheet out of a bag, which it leaves as it is.
type drawing struct {
	bag  *bag
	kind int
	rng  rng
	top  *bin // by the types of back
	back []int
	took int // moves
}

func (d *drawing) fill(ctx context.Context, p *problem, moves, most int) {
	one := make([]int, len(p.sheets))
	one[d.kind] = 1
	sub, back := p.rest(d.bag.has, one)
	d.back = back
	if moves >= quickFill {
		width := int(bagBlocks * math.Sqrt(float64(moves)/bagMoves))
		d.top, d.took = sub.blockFull(ctx, &d.rng, d.kind, width, bagLoss, min(bagOver*moves, most))
		if d.top != nil && d.top.used >= (1-bagLoss)*sub.size(d.kind) {
			return
		}
	}
	s := newSearch(sub, 0)
	s.rng, s.iter = d.rng, 1
	top, took := s.fullest(ctx, max(0, moves-d.took))
	if d.top == nil || top != nil && top.used > d.top.used {
		d.top = top
	}
	d.took += took
}

// take makes a sheet that was filled one of the layout.
func (f *filling) take(d *drawing) {
	b, g := f.b, d.bag
	b.moves += d.took + 1
	if d.top == nil || d.top.used == 0 {
		g.dull[d.kind] = true
		b.stock[d.kind]++
		return
	}
	f.full[d.kind] = 0.8*f.full[d.kind] + 0.2*d.top.used/b.p.size(d.kind)
	f.area -= d.top.used
	named([]*bin{d.top}, d.back)
	for j := range d.top.n {
		if t := d.top.n[j].typ; t >= 0 {
			g.has[t]--
			g.in--
			g.area -= b.p.types[t].area
			f.left--
		}
	}
	d.top.stamp = 0
	b.bins = append(b.bins, d.top)
}

// tail searches for a layout of what the last bag holds.
func (f *filling) tail(rest []int, stop int) {
	b := f.b
	most := min(lastMoves, max(stop-b.moves, int(tailPart*float64(b.most-b.moves))), b.most-b.moves)
	s, back := b.p.searched(b.ctx, rest, b.stock, b.rng.next(), math.MaxInt64, most, true)
	if s == nil {
		return
	}
	if b.moves += s.iter; s.bestOut > 0 {
		return
	}
	for _, x := range s.best {
		b.take(x, back)
	}
	clear(rest)
}
