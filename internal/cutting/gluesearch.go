package cutting

import (
	"cmp"
	"math"
	"slices"

	"casewright/internal/unit"
)

// A panel is one piece glued up from strips, in the search for boards.
type panel struct {
	Glue
	item   int
	number int         // of the pieces of its item, from 0
	want   unit.Length // what its strips add up to, without what jointing takes
	most   int         // strips
}

// gain is the width that a strip adds to its panel.
func (g *panel) gain(c cell, kerf unit.Length) unit.Length { return c.y2 - c.y1 - kerf - g.Joint }

// newGlueSearch sets up the search with every panel a type of its own, behind
// those of parts in one piece. It returns the items that fit no board too.
func newGlueSearch(job *Job) (*boardSearch, []int) {
	plain := *job
	plain.Items = slices.Clone(job.Items)
	strips := 0
	for i := range plain.Items {
		it := &plain.Items[i]
		if g := it.Glue; g != nil {
			strips += it.Qty * (int((it.H-g.Joint)/(g.Least-g.Joint)) + 1)
			it.Qty = 0
		}
	}
	p, misfits := plain.inSteps(true) // a board may be shorter than every part in one piece
	for i := range p.sheets {
		sh := &p.sheets[i]
		if sh.stock = job.Sheets[sh.job].Stock; sh.stock < 0 {
			sh.stock = p.pieces() + strips
		}
	}
	s := newBoardSearch(&plain, p)
	s.need, s.strips = make([]unit.Length, len(s.types)), make([]int32, len(s.types))
	for i, it := range job.Items {
		if it.Glue == nil || it.Qty == 0 {
			continue
		}
		if !it.stripFits(job) {
			misfits = append(misfits, i)
			continue
		}
		g := panel{Glue: *it.Glue, item: i, want: it.H - it.Glue.Joint, most: it.Glue.fewest(it.H) + it.Glue.Further}
		w := it.W + job.Kerf
		high := g.want + unit.Length(g.fewest(it.H))*(g.Joint+job.Kerf)
		for n := range it.Qty {
			one := g
			one.number = n
			s.pool = append(s.pool, int32(len(s.types)))
			s.types = append(s.types, btype{w: w, h: high, area: float64(w) * float64(high), glue: &one})
			s.need, s.strips = append(s.need, g.want), append(s.strips, 0)
		}
	}
	var longest unit.Length
	for _, t := range s.types {
		longest = max(longest, t.w)
	}
	s.weigh(longest)
	s.fill(0, 0)
	s.keep()
	return s, misfits
}

// stripFits reports whether the narrowest strip of a panel fits a board.
func (it Item) stripFits(job *Job) bool {
	for _, s := range job.Sheets {
		w, h := s.Usable()
		if s.Stock != 0 && it.W <= w && it.Glue.up(it.Glue.Least) <= h {
			return true
		}
	}
	return false
}

// How wide a strip is taken in a rest that is wider or narrower than what the
// panel lacks.
type taking int

const (
	full   taking = iota // as wide as the rest
	shared               // so that all strips left could be of one width
	beside               // so that a part of one piece has room beside it
)

// width is that of the next strip of a panel that lacks need and may have so
// many strips more, in a rest that has room; 0: none. What is lacking after it
// is none or a strip of its own.
func (g *panel) width(need, room unit.Length, strips int, how taking) unit.Length {
	widest, narrowest := g.down(g.Most), g.up(g.Least)
	room = min(g.down(room), widest)
	least := max(narrowest, g.up(need+g.Joint-unit.Length(strips-1)*(widest-g.Joint)))
	if room < least || strips < 1 {
		return 0
	}
	if last := g.up(need + g.Joint); last <= room {
		return max(last, least)
	}
	h := room
	if how == shared {
		n := (need + room - g.Joint - 1) / (room - g.Joint)
		h = max(least, min(room, g.up((need+n-1)/n+g.Joint)))
	}
	return max(least, min(h, g.down(need+2*g.Joint-narrowest)))
}

// findStrip is the place for the next strip of a panel: of the least waste for
// the width it gives.
func (s *boardSearch) findStrip(t int32, from, to int, blinks uint32) (place, bool) {
	found := place{stack: -1, score: math.Inf(1)}
	ty := &s.types[t]
	g, kerf := ty.glue, s.p.kerf
	how, next := full, unit.Length(0)
	if blinks > 0 {
		switch s.rng.below(4) {
		case 0:
			how = shared
		case 1:
			if n := len(s.p.types); n > 0 {
				how, next = beside, s.types[s.rng.below(n)].h
			}
		}
	}
	lost := float64(ty.w) * float64(g.Joint+kerf) / s.unit
	for k := from; k < to; k++ {
		st := s.stacks[k]
		b := &s.boards[st.board]
		for ri := range st.rests {
			r := &st.rests[ri]
			if r.x2-r.x1 < ty.w || r.y2-r.y1 < g.Least+kerf || blinks > 0 && s.rng.next32() < blinks {
				continue
			}
			b.starts(r, func(x, y unit.Length) {
				room := b.above(r, x, y, ty.w) - kerf
				if how == beside && room-next >= g.Least {
					room -= next
				}
				h := g.width(s.need[t], room, g.most-int(s.strips[t]), how)
				if h == 0 || x+ty.w > r.x2 {
					return
				}
				gain := float64(min(s.need[t], h-g.Joint)) / float64(g.want)
				s.score(b, r, cell{x, y, x + ty.w, y + h + kerf}, func(at cell, vert bool, score float64) {
					if score = (score + lost) / gain; score < found.score {
						found = place{k, ri, at, false, vert, score}
					}
				})
			})
		}
	}
	return found, found.stack >= 0
}

// above is how high the wood of a rest is clear above a place, over so much of
// its length.
func (b *board) above(r *rest, x, y, w unit.Length) unit.Length {
	top := r.y2
	for _, d := range b.defects {
		if x < d.x2 && x+w > d.x1 && y < d.y2 {
			top = min(top, max(y, d.y1))
		}
	}
	return top - y
}

// makeUp lays strips until a panel has its width, and reports whether it has.
func (s *boardSearch) makeUp(t int32, blinks uint32) bool {
	for s.need[t] > 0 {
		if at, ok := s.find(t, 0, len(s.stacks), blinks); ok {
			s.put(t, at)
		} else if !s.open(t, blinks) {
			return false
		}
	}
	return true
}

// free puts a part that was taken off back into the pool; a panel is there
// once, however many strips it lacks.
func (s *boardSearch) free(p laid) {
	if g := s.types[p.typ].glue; g != nil {
		was := s.need[p.typ]
		s.need[p.typ] += g.gain(p.cell, s.p.kerf)
		s.strips[p.typ]--
		if was > 0 || s.need[p.typ] <= 0 {
			return
		}
	}
	s.pool = append(s.pool, p.typ)
}

// allow lets panels have more strips.
func (s *boardSearch) allow(further int) {
	for t := len(s.p.types); t < len(s.types); t++ {
		s.types[t].glue.most += further
	}
}

// recount works out anew what the panels lack.
func (s *boardSearch) recount() {
	for t := range s.need {
		if g := s.types[t].glue; g != nil {
			s.need[t], s.strips[t] = g.want, 0
		}
	}
	for _, st := range s.stacks {
		for _, p := range st.parts {
			if g := s.types[p.typ].glue; g != nil {
				s.need[p.typ] -= g.gain(p.cell, s.p.kerf)
				s.strips[p.typ]++
			}
		}
	}
}

// adoptPanels takes a layout of the same job with strips of one width, unless
// the best so far is better, and reports whether it did.
func (s *boardSearch) adoptPanels(job *Job, layouts []Layout) bool {
	o := *s
	o.stacks, o.used, o.price, o.limit = nil, make([]int, len(s.used)), 0, math.MaxInt64
	first := map[int]int32{} // of each glued item: the type of its first panel
	for t := len(s.p.types); t < len(s.types); t++ {
		if g := s.types[t].glue; g.number == 0 {
			first[g.item] = int32(t)
		}
	}
	singles := map[int]int32{}
	at := make(map[int]int, len(s.p.sheets))
	for i, sh := range s.p.sheets {
		at[sh.job] = i
	}
	for _, l := range layouts {
		b := &s.boards[at[l.Sheet]]
		for range l.Copies {
			st := &stack{board: at[l.Sheet]}
			for _, q := range l.Parts {
				c := b.cellOf(q, s.p.kerf)
				t := s.typeOf(q.Item)
				if job.Items[q.Item].Glue != nil {
					n := int32(q.Panel - 1)
					if q.Panel == 0 { // one strip makes it up
						n = singles[q.Item]
						singles[q.Item]++
					}
					t = first[q.Item] + n
				}
				st.parts = append(st.parts, laid{c, t, c.x2-c.x1 != s.types[t].w})
				st.used += c.area()
			}
			st.rests = b.rests(st.parts, true)
			o.stacks = append(o.stacks, st)
			o.used[st.board]++
			o.price += s.p.sheets[st.board].price
		}
	}
	o.need, o.strips = slices.Clone(s.need), slices.Clone(s.strips)
	o.recount()
	o.pool = o.pool[:0:0]
	count := make([]int, len(s.p.types))
	for _, st := range o.stacks {
		for _, p := range st.parts {
			if s.types[p.typ].glue == nil {
				count[p.typ]++
			}
		}
	}
	for t := range s.types {
		n := 0
		switch {
		case t < len(s.p.types):
			n = s.p.types[t].qty - count[t]
		case o.need[t] > 0:
			n = 1
		}
		o.pool = append(o.pool, slices.Repeat([]int32{int32(t)}, n)...)
	}
	o.fill(0, 0)
	o.best = nil
	o.keep()
	if o.bestLost < s.bestLost+1e-12 && (o.bestLost < s.bestLost-1e-12 || o.bestValue <= s.bestValue) {
		s.best, s.bestPool, s.bestLost, s.bestValue = o.best, o.bestPool, o.bestLost, o.bestValue
		return true
	}
	return false
}

// dealPanels names the strips of panels: those that are whole come first, and
// in each the tones run from light to dark.
func (s *boardSearch) dealPanels(stacks []*stack, out [][]Placed) {
	strips := make([][]pieceAt, len(s.types))
	for k, st := range stacks {
		for i, p := range st.parts {
			if s.types[p.typ].glue != nil {
				strips[p.typ] = append(strips[p.typ], pieceAt{k, i, s.boards[st.board].tone})
			}
		}
	}
	next := map[int]int{}
	for _, whole := range [2]bool{true, false} {
		for t, list := range strips {
			if len(list) == 0 {
				continue
			}
			g := s.types[t].glue
			need := g.want
			for _, a := range list {
				need -= g.gain(stacks[a.stack].parts[a.part].cell, s.p.kerf)
			}
			if (need <= 0) != whole {
				continue
			}
			next[g.item]++
			slices.SortStableFunc(list, func(a, b pieceAt) int {
				p, q := stacks[a.stack].parts[a.part], stacks[b.stack].parts[b.part]
				return cmp.Or(cmp.Compare(a.tone, b.tone), a.stack-b.stack, cmp.Compare(p.x1, q.x1), cmp.Compare(p.y1, q.y1))
			})
			for i, a := range list {
				out[a.stack][a.part] = Placed{Item: g.item, Panel: next[g.item], Strip: i + 1}
			}
		}
	}
}

// shortPanels tells what has no place, and how much width panels lack.
func (s *boardSearch) shortPanels(job *Job, misfits, left []int) []Shortfall {
	var plain []int
	var out []Shortfall
	for _, i := range misfits {
		if job.Items[i].Glue == nil {
			plain = append(plain, i)
			continue
		}
		narrow := *job
		narrow.Items = slices.Clone(job.Items)
		it := &narrow.Items[i]
		it.H = it.Glue.up(it.Glue.Least)
		sh := misfit(&narrow, i)
		if sh.Axis == Across {
			sh.Strip, sh.Join, sh.Least = it.H, Join{}, nil
		}
		out = append(out, sh)
	}
	out = append(shortfalls(job, s.p, plain, left[:len(s.p.types)]), out...)
	for i := range out {
		if sh := &out[i]; sh.Sheet < 0 {
			sh.Marred = s.marred(sh.Item)
		}
	}
	s.stacks = s.best
	s.recount()
	at := map[int]int{}
	for t := len(s.p.types); t < len(s.types); t++ {
		if left[t] == 0 {
			continue
		}
		item := s.types[t].glue.item
		k, ok := at[item]
		if !ok {
			k = len(out)
			at[item] = k
			out = append(out, Shortfall{Item: item, Sheet: -1, Marred: s.marred(item)})
		}
		out[k].Count++
		out[k].Lacks += s.need[t]
	}
	return out
}
