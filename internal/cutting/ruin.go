package cutting

import (
	"context"
	"math"
	"slices"
	"sync/atomic"
)

// The search takes parts out of a few sheets and puts them back in, again and
// again. It aims at a total price below the best one found: sheets may cost no
// more than that, parts that find no room wait in a pool, and what the pool is
// worth is what falls. When it is empty a better layout is found and the aim
// is lowered.
//
// memory is the number of moves that acceptance looks back (late acceptance,
// Burke and Bykov 2017). Short memories did best on the open problems tried.
const memory = 50

// typeBits hold the number of a type in a key.
const typeBits = 1<<17 - 1

// blink is the chance of 2^-32 that a place is overlooked.
const blink = 1 << 27

type search struct {
	p       *problem
	rng     rng
	bins    []*bin
	spare   []*bin
	pool    []int     // pieces of each type without a place
	out     float64   // what the pieces in the pool are worth
	worth   []float64 // of one piece of each type
	used    []int     // sheets in use of each kind
	price   int64
	limit   int64 // the sheets may cost this much
	turns   int   // times that sheets were filled in turn
	pack    packer
	unit    float64 // area that counts as one
	stamp   int64
	order   []uint64 // scratch: the types of the pool, with their keys
	hist    []float64
	cost    float64
	iter    int
	tidying bool
	strip   bool     // the least height of one sheet is sought, and the first layout is made
	cuts    hashes   // scratch
	stages  []uint64 // scratch
	dense   *dense   // collects the fullest sheets met; nil: not asked for

	wasBins []*bin
	wasPool []int
	wasUsed []int

	best      []*bin // the best layout so far, the pieces it leaves out, their area and its value
	bestLeft  []int
	bestOut   float64
	bestValue int64
	news      *atomic.Int64 // told of every better value; nil: not asked for
}

func newSearch(p *problem, seed uint64) *search {
	s := &search{p: p, rng: newRNG(seed), pool: make([]int, len(p.types)), used: make([]int, len(p.sheets)), limit: math.MaxInt64}
	s.pack.stages(p)
	for i, t := range p.types {
		s.pool[i] = t.qty
		s.out += t.area * float64(t.qty)
		s.worth = append(s.worth, t.area)
	}
	for _, sh := range p.sheets {
		s.unit = max(s.unit, float64(sh.w)*float64(sh.h))
	}
	return s
}

func (s *search) take() *bin {
	if n := len(s.spare); n > 0 {
		b := s.spare[n-1]
		s.spare = s.spare[:n-1]
		return b
	}
	return &bin{}
}

// own makes bins[i] free to change in this move.
func (s *search) own(i int) *bin {
	b := s.bins[i]
	if b.stamp == s.stamp {
		return b
	}
	c := s.take()
	c.copyFrom(b)
	c.stamp = s.stamp
	s.bins[i] = c
	return c
}

// open adds an empty sheet that takes type t, if the limit and stock allow.
func (s *search) open(t int) bool {
	ty := &s.p.types[t]
	best, score := -1, math.Inf(1)
	for i, sh := range s.p.sheets {
		if s.used[i] >= sh.stock || sh.price > s.limit-s.price {
			continue
		}
		if !(ty.w <= sh.w && ty.h <= sh.h || ty.turn && ty.h <= sh.w && ty.w <= sh.h) {
			continue
		}
		v := (float64(sh.price) + 1e-9) / (float64(sh.w) * float64(sh.h))
		if s.iter > 0 {
			v *= 0.7 + 0.6*s.rng.float()
		}
		if v < score {
			best, score = i, v
		}
	}
	if best < 0 {
		return false
	}
	b := s.take()
	b.reset(best, s.p.sheets[best].w, s.p.sheets[best].h)
	b.stamp = s.stamp
	s.bins = append(s.bins, b)
	s.used[best]++
	s.price += s.p.sheets[best].price
	return true
}

// fill puts what is in the pool into the sheets, in an order drawn by lot.
func (s *search) fill(skip uint32) { s.refill(skip, math.Inf(1)) }

// refill is fill, but gives up and reports false as soon as pieces worth more
// than most find no room.
func (s *search) refill(skip uint32, most float64) bool {
	s.order = s.order[:0]
	how := s.rng.below(4)
	if s.iter == 0 {
		how = 0 // the first layout: largest first
	}
	for t, n := range s.pool {
		if n == 0 {
			continue
		}
		ty := &s.p.types[t]
		var k float64
		switch how {
		case 0, 1:
			k = s.worth[t]
		case 2:
			k = float64(max(ty.w, ty.h))
			k *= k
		case 3:
			k = 1
		}
		if s.iter > 0 {
			k *= 0.8 + 0.4*s.rng.float()
		}
		// Greatest key first; the bits of a positive float are in its order.
		s.order = append(s.order, ^math.Float64bits(k)&^typeBits|uint64(t))
	}
	slices.Sort(s.order)
	lost := 0.0
	for _, o := range s.order {
		t := int(o & typeBits)
		if lost > most {
			return false
		}
		for s.pool[t] > 0 {
			at, ok := s.find(t, skip)
			if !ok {
				if !s.open(t) {
					break
				}
				if at, ok = s.find(t, 0); !ok {
					break // the stage limit leaves no way
				}
			}
			ty := &s.p.types[t]
			w, h := ty.w, ty.h
			if at.rot {
				w, h = h, w
			}
			s.own(at.bin).insert(int(at.slot), int32(t), w, h, at.rot, at.vert)
			s.pool[t]--
			s.out -= s.worth[t]
		}
		lost += float64(s.pool[t]) * s.worth[t]
	}
	return true
}

// drop marks the parts below node i as taken out. What node i lies in does not
// show that it was touched: clear sees to that, where the sheet is pressed after.
func (s *search) drop(b *bin, i int32) {
	n := &b.n[i]
	switch {
	case n.typ >= 0:
		s.pool[n.typ]++
		s.out += s.worth[n.typ]
		n.typ = freeLeaf
	case n.typ == splitAt:
		n.span = 0
		for c := n.first; c >= 0; c = b.n[c].next {
			s.drop(b, c)
		}
	}
}

// clear takes the parts below node i out of a sheet that goes on being used.
func (s *search) clear(b *bin, i int32) {
	s.drop(b, i)
	b.touch(b.n[i].parent)
}

// discard takes sheet i away.
func (s *search) discard(i int) {
	b := s.bins[i]
	s.used[b.sheet]--
	s.price -= s.p.sheets[b.sheet].price
	last := len(s.bins) - 1
	s.bins[i] = s.bins[last]
	s.bins = s.bins[:last]
	if b.stamp == s.stamp {
		s.spare = append(s.spare, b)
	}
}

// ruin takes parts out of one to three sheets.
func (s *search) ruin() {
	if len(s.bins) == 0 {
		return
	}
	count := 1 + s.rng.below(3)
	for range count {
		if len(s.bins) == 0 {
			return
		}
		i := s.rng.below(len(s.bins))
		b := s.own(i)
		if s.rng.below(max(8, len(b.n)*2/3)) == 0 { // seldom, where many pieces would be laid out anew
			s.drop(b, 0)
			s.discard(i)
			continue
		}
		for range 1 + s.rng.below(max(2, len(b.free)/6)) {
			s.clear(b, s.spoil(b))
		}
		c := s.take()
		s.pack.loose = s.tidying && s.rng.below(3) == 0
		s.pack.press(c, b, s.rng.below(2) == 0)
		c.stamp = s.stamp
		s.spare = append(s.spare, b)
		s.bins[i] = c
		if c.used == 0 {
			s.discard(i)
		}
	}
}

// spoil draws the node of a sheet whose parts are taken out: as a rule those
// that share a strip with a rest, for that is where room is lost, and at times
// those of the strip around it.
func (s *search) spoil(b *bin) int32 {
	if len(b.free) > 0 && s.rng.below(max(10, len(b.n)/2)) > 0 {
		if at := b.n[b.free[s.rng.below(len(b.free))].at].parent; at > 0 {
			if up := b.n[at].parent; up > 0 && s.rng.below(10) < 3 {
				at = up
			}
			return at
		}
	}
	return int32(s.rng.below(len(b.n)))
}

// measure is what the search lowers: the worth of what has no place; when tidying
// also what is untidy. Where it is more than top it need not be all.
func (s *search) measure(top float64) float64 {
	v := s.out / s.unit
	if !s.tidying {
		return v
	}
	rests := s.rests(s.bins)
	if least := 10*v - rests; least > top {
		return least
	}
	return 10*v + (s.sawing(s.bins) - rests)
}

// move does one ruin and refill and keeps it or goes back.
func (s *search) move() {
	s.iter++
	s.stamp++
	s.wasBins = append(s.wasBins[:0], s.bins...)
	s.wasPool = append(s.wasPool[:0], s.pool...)
	s.wasUsed = append(s.wasUsed[:0], s.used...)
	out, price := s.out, s.price
	at := s.iter % len(s.hist)
	top := max(s.cost, s.hist[at])
	most := math.Inf(1)
	if !s.tidying {
		most = top*s.unit + 1e-9*s.unit
	}
	s.ruin()
	filled := s.refill(blink, most)
	cost := s.measure(top)
	if filled && cost <= top {
		for _, b := range s.bins {
			b.live = s.stamp
			if b.stamp == s.stamp && s.dense != nil {
				s.dense.look(b)
			}
		}
		for _, b := range s.wasBins {
			if b.live != s.stamp {
				s.spare = append(s.spare, b)
			}
		}
		s.cost = cost
	} else {
		for _, b := range s.bins {
			if b.stamp == s.stamp {
				s.spare = append(s.spare, b)
			}
		}
		s.bins = append(s.bins[:0], s.wasBins...)
		s.pool = append(s.pool[:0], s.wasPool...)
		s.used = append(s.used[:0], s.wasUsed...)
		s.out, s.price = out, price
	}
	s.hist[at] = s.cost
}

// aim lowers the limit below the present price and throws out the emptiest
// sheets until it is kept.
func (s *search) aim(limit int64) {
	s.limit = limit
	for s.price > s.limit {
		worst, least := -1, math.Inf(1)
		for i, b := range s.bins {
			sh := s.p.sheets[b.sheet]
			if sh.price == 0 {
				continue
			}
			if u := b.used / float64(sh.price); u < least {
				worst, least = i, u
			}
		}
		s.stamp++
		s.drop(s.own(worst), 0)
		s.discard(worst)
	}
	s.restart()
}

// run searches until the bound is met, the moves are used up or ctx ends.
func (s *search) run(ctx context.Context, b bound, moves int, tell func()) {
	if len(s.p.types) == 0 || s.met(b) {
		return
	}
	s.hist = make([]float64, memory)
	if s.empty() && !s.improve() {
		return
	}
	s.restart()
	s.strip = s.p.value == LeastHeight
	for begun := s.iter; s.iter < moves && !s.met(b); {
		if s.iter&63 == 0 && ctx.Err() != nil {
			break
		}
		if s.strip && s.iter-begun >= staleMoves {
			s.anew()
			begun = s.iter
		}
		s.move()
		s.weigh()
		if s.empty() && (s.bestOut > 0 || s.value() < s.bestValue) {
			s.keep()
			tell()
			begun = s.iter
			if ctx.Err() != nil || !s.improve() {
				return
			}
		} else if s.bestOut > 0 && s.out < s.bestOut-1e-9*s.unit {
			s.keep() // stock is short: place as much as can be
			tell()
		}
	}
}

// restart forgets the costs of the last moves.
func (s *search) restart() {
	s.cost = s.measure(math.Inf(1))
	for i := range s.hist {
		s.hist[i] = s.cost
	}
}

func (s *search) empty() bool {
	for _, n := range s.pool {
		if n > 0 {
			return false
		}
	}
	return true
}
