package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"

	"casewright/internal/unit"
)

// A stack is one board with the parts on it and the rests where more may go.
// It is changed only in the move that made it.
type stack struct {
	board int
	stamp int // of the move
	parts []laid
	rests []rest
	used  float64
	neat  float64 // what its rests are worth; set by the tidying only
}

// A rest is free wood: the direction of the cuts that freed it and their stage.
type rest struct {
	cell
	vert  bool
	stage int
}

// A btype is all pieces of one size, as in a problem, not scaled.
type btype struct {
	w, h   unit.Length
	turn   bool
	area   float64
	weight float64 // what it costs to leave one out
	strips int
	glue   *panel // one panel glued up from strips of any widths, of which h is not the height
}

// boardSearch is the search of package cutting on boards with defects: parts
// are taken off one to three boards and put back where they leave least; those
// without room wait in a pool.
type boardSearch struct {
	p      *problem
	boards []board
	types  []btype
	rng    rng
	stacks []*stack
	pool   []int32
	used   []int
	need   []unit.Length // of each panel: the width that its strips do not make up yet
	strips []int32       // of each panel: how many it has
	price  int64
	limit  int64
	tidy   bool
	iter   int
	stamp  int // of the move; stacks of others are not changed
	hist   []float64
	cost   float64 // of the layout at hand
	unit   float64 // area that counts as one

	best      []*stack
	bestPool  []int32
	bestValue int64
	bestLost  float64
	bestNeat  float64
}

// lengthPower weighs parts that are left out by their length: a part twice as
// long counts as much as four of its area, so that the short ones are what is left.
const lengthPower = 2

// boardMemory is how many moves ago a layout may be no worse than: few, since
// the search for boards is short.
const boardMemory = 8

func newBoardSearch(job *Job, p *problem) *boardSearch {
	s := &boardSearch{p: p, rng: newRNG(job.Seed), used: make([]int, len(p.sheets)), limit: math.MaxInt64}
	for i := range p.sheets {
		s.boards = append(s.boards, newBoard(job, p, i))
		s.unit = max(s.unit, s.boards[i].area)
	}
	var longest unit.Length
	for i, t := range p.types {
		b := btype{w: unit.Length(t.w) * p.unitX, h: unit.Length(t.h) * p.unitY, turn: t.turn}
		b.area = float64(b.w) * float64(b.h)
		for _, l := range t.items {
			b.strips = max(b.strips, job.Items[l.item].Strips)
		}
		longest = max(longest, b.w)
		s.types = append(s.types, b)
		for range t.qty {
			s.pool = append(s.pool, int32(i))
		}
	}
	s.weigh(longest)
	return s
}

// weigh says what leaving a part out costs.
func (s *boardSearch) weigh(longest unit.Length) {
	for i := range s.types {
		t := &s.types[i]
		t.weight = t.area / s.unit * math.Pow(2*float64(t.w)/float64(longest), lengthPower)
	}
}

// lost is the weight of the pool.
func (s *boardSearch) lost() float64 {
	v := 0.0
	for _, t := range s.pool {
		if g := s.types[t].glue; g != nil {
			v += s.types[t].weight * float64(s.need[t]) / float64(g.want)
			continue
		}
		v += s.types[t].weight
	}
	return v
}

// put lays a part down.
func (s *boardSearch) put(t int32, at place) {
	n := s.stacks[at.stack]
	if n.stamp != s.stamp {
		was := n
		n = &stack{board: was.board, stamp: s.stamp, used: was.used}
		n.parts = append(make([]laid, 0, len(was.parts)+4), was.parts...)
		n.rests = append(make([]rest, 0, len(was.rests)+8), was.rests...)
		s.stacks[at.stack] = n
	}
	n.used += at.at.area()
	n.parts = append(n.parts, laid{at.at, t, at.rot})
	r := n.rests[at.rest]
	n.rests = r.around(at.at, at.vert, append(n.rests[:at.rest], n.rests[at.rest+1:]...))
	if g := s.types[t].glue; g != nil {
		s.need[t] -= g.gain(at.at, s.p.kerf)
		s.strips[t]++
	}
}

// open takes another board on which a part fits, one that is cheap for its
// clear wood as a rule, and lays the part on it.
func (s *boardSearch) open(t int32, blinks uint32) bool {
	found, at := -1, place{}
	least, spread := 0.0, 0.0
	if blinks > 0 {
		spread = 0.5
	}
	s.stacks = append(s.stacks, nil)
	k := len(s.stacks) - 1
	for i := range s.boards {
		sh := &s.p.sheets[i]
		if s.used[i] >= sh.stock || sh.price > s.limit-s.price || blinks > 0 && s.rng.next32() < blinks {
			continue
		}
		c := float64(sh.price) / s.boards[i].area * (1 + spread*s.rng.float())
		if found >= 0 && c >= least {
			continue
		}
		s.stacks[k] = s.empty(i)
		if pl, ok := s.find(t, k, k+1, 0); ok {
			found, at, least = i, pl, c
		}
	}
	s.stacks = s.stacks[:k]
	if found < 0 {
		return false
	}
	s.stacks = append(s.stacks, s.empty(found))
	s.used[found]++
	s.price += s.p.sheets[found].price
	s.put(t, at)
	return true
}

func (s *boardSearch) empty(i int) *stack {
	b := &s.boards[i]
	return &stack{board: i, stamp: s.stamp, rests: []rest{{b.whole(), b.first(true), b.startStage()}}}
}

// fill puts the pool back, in an order chosen by lot; the long ones first as a
// rule.
func (s *boardSearch) fill(by int, blinks uint32) {
	key := make([]float64, len(s.types))
	for i, t := range s.types {
		switch by {
		case 0:
			key[i] = float64(t.w)*1e6 + float64(t.h)
		case 1:
			key[i] = t.area
		case 2:
			key[i] = float64(t.h)*1e6 + float64(t.w)
		default:
			key[i] = s.rng.float()
		}
	}
	slices.SortStableFunc(s.pool, func(a, b int32) int { return cmp.Or(cmp.Compare(key[b], key[a]), int(a-b)) })
	left := s.pool[:0:0]
	for i, t := range s.pool {
		if i > 0 && len(left) > 0 && left[len(left)-1] == t {
			left = append(left, t) // its like found no place
			continue
		}
		if s.types[t].glue != nil {
			if !s.makeUp(t, blinks) {
				left = append(left, t)
			}
			continue
		}
		at, ok := s.find(t, 0, len(s.stacks), blinks)
		switch {
		case ok:
			s.put(t, at)
		case !s.open(t, blinks):
			left = append(left, t)
		}
	}
	s.pool = left
}

// take removes parts from a stack, those that keep says are not kept, and
// works its rests out anew; an empty one goes back to the pile.
func (s *boardSearch) take(k int, keep func(i int) bool) {
	was := s.stacks[k]
	n := &stack{board: was.board, stamp: s.stamp, parts: make([]laid, 0, len(was.parts)+4)}
	for i, p := range was.parts {
		if keep(i) {
			n.parts = append(n.parts, p)
			n.used += p.area()
		} else {
			s.free(p)
		}
	}
	if len(n.parts) == 0 {
		s.stacks = slices.Delete(s.stacks, k, k+1)
		s.used[was.board]--
		s.price -= s.p.sheets[was.board].price
		return
	}
	n.rests = s.boards[was.board].rests(n.parts, s.rng.below(2) == 0)
	s.stacks[k] = n
}

// each calls f with every part and rest of a carving.
func (c *carving) each(f func(*carving)) {
	if c.part != isSplit {
		f(c)
	}
	for i := range c.kids {
		c.kids[i].each(f)
	}
}

// move takes parts off a few boards and puts them back; a change for the worse
// is undone.
func (s *boardSearch) move() {
	s.iter++
	s.stamp++
	stacks, pool, used, price := slices.Clone(s.stacks), slices.Clone(s.pool), slices.Clone(s.used), s.price
	need, strips := slices.Clone(s.need), slices.Clone(s.strips)
	n := min(len(s.stacks), 1+s.rng.below(2))
	for range n {
		k := s.rng.below(len(s.stacks))
		switch s.rng.below(3) {
		case 0:
			s.take(k, func(int) bool { return false })
		default:
			parts := len(s.stacks[k].parts)
			out := 1 + s.rng.below(parts)
			first := s.rng.below(parts)
			s.take(k, func(i int) bool { return (i-first+parts)%parts >= out })
		}
		if len(s.stacks) == 0 {
			break
		}
	}
	by := 0
	if s.rng.below(2) == 0 {
		by = s.rng.below(4)
	}
	s.fill(by, blink)
	c := s.measure()
	if at := &s.hist[s.iter%len(s.hist)]; c <= s.cost || c <= *at {
		s.cost, *at = c, c
		s.keep()
		return
	}
	s.stacks, s.pool, s.used, s.price, s.need, s.strips = stacks, pool, used, price, need, strips
}

// measure is what falls during the search.
func (s *boardSearch) measure() float64 {
	if s.tidy {
		return s.lost()*1e6 + s.untidy()
	}
	return s.lost()
}

// keep notes the layout if it is the best: fewest and shortest parts left out,
// then the least price, then the tidiest.
func (s *boardSearch) keep() {
	lost := s.lost()
	if s.best != nil && (lost > s.bestLost+1e-12 || lost > s.bestLost-1e-12 && (s.price > s.bestValue || s.price == s.bestValue && !s.tidy)) {
		return
	}
	neat := 0.0
	if s.tidy {
		if neat = s.untidy(); neat >= s.bestNeat && s.price == s.bestValue && lost > s.bestLost-1e-12 {
			return
		}
	}
	s.best, s.bestPool = slices.Clone(s.stacks), slices.Clone(s.pool)
	s.bestLost, s.bestValue, s.bestNeat = lost, s.price, neat
}

// reset goes on from the best layout, at most at the price given; boards over
// that are emptied, the worst filled first.
func (s *boardSearch) reset(limit int64) {
	s.stacks, s.pool = slices.Clone(s.best), slices.Clone(s.bestPool)
	s.stamp++
	s.recount()
	s.price = 0
	clear(s.used)
	for _, st := range s.stacks {
		s.used[st.board]++
		s.price += s.p.sheets[st.board].price
	}
	s.limit = limit
	for s.price > limit && len(s.stacks) > 0 {
		worst := 0
		fill := func(k int) float64 { return s.stacks[k].used / s.boards[s.stacks[k].board].area }
		for k := range s.stacks {
			if s.p.sheets[s.stacks[k].board].price > 0 && fill(k) < fill(worst) || s.p.sheets[s.stacks[worst].board].price == 0 {
				worst = k
			}
		}
		s.take(worst, func(int) bool { return false })
	}
	s.fill(0, 0)
	s.cost = s.measure()
	s.hist = slices.Repeat([]float64{s.cost}, boardMemory)
}

// run searches until the best is complete and at the bound, or moves are used
// up.
func (s *boardSearch) run(ctx context.Context, low int64, moves int, tell func()) {
	aim := func() {
		limit := int64(math.MaxInt64)
		if len(s.bestPool) == 0 {
			limit = s.bestValue - 1
		}
		s.reset(limit)
	}
	aim()
	for stop := s.iter + moves; s.iter < stop; {
		if len(s.bestPool) == 0 && s.bestValue <= low || len(s.stacks) == 0 {
			return
		}
		if s.iter&63 == 0 {
			if tell(); ctx.Err() != nil {
				return
			}
		}
		if len(s.bestPool) == 0 && s.limit >= s.bestValue {
			aim()
			continue
		}
		s.move()
	}
}
