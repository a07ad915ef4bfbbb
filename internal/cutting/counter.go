package cutting

import (
	"context"
	"math/bits"
)

// A counter finds what a proper pattern of a sheet is worth at most. The table
// lets a pattern have any number of pieces; so the types of which the best
// pattern has too many are counted, and only those: of two sets of a rectangle
// that one gives way which is worth no more and has no fewer pieces of any type
// counted. While the best of what comes of it has too many of a type, or may be
// worth less than it seems since a worth was lowered, that type is counted as
// well (Righini and Salani 2008). Few types have to be, so there are far fewer
// sets than full patterns.
type counter struct {
	walk
	sheet   int
	q       *proper
	counted []int   // types, in the order they came
	marked  []bool  // those
	more    []int64 // of each type: what a piece is worth above its lowered worth
	lower   []int64
	gain    []int64 // of each set: what its pieces of types counted are worth more
}

func newCounter(g *grid, sheet int, most []int) *counter {
	q := &proper{g: g, most: most, trees: true, fields: make([]field, len(most)), pack: g.p.packer()}
	return &counter{sheet: sheet, q: q, marked: make([]bool, len(most)), more: make([]int64, len(most))}
}

// top looks from high, above which no proper pattern of the sheet is worth
// anything, for what the best one is worth, but no further down than goal. The
// table is filled with lowered worths, by less for all parts. It ends where it
// would take more than so many steps. The best pattern is empty where it is not
// found.
func (c *counter) top(ctx context.Context, worth, lower []int64, less, high, goal int64, most int) (int64, pattern) {
	r := &c.q.g.sheets[c.sheet]
	c.lower, c.work, c.limit = lower, 0, most
	for t := range c.more {
		c.more[t] = worth[t] - lower[t]
	}
	c.note(c.q.g.read(c.sheet))
	for high > goal && c.room() {
		c.q.labels, c.gain, c.home = c.q.labels[:0], c.gain[:0], c.home[:0]
		found, whole := c.over(ctx, c.q, r, goal-less, func(t int) bool { return c.q.most[t] > 0 && lower[t] > 0 }, c)
		if !whole {
			break
		}
		best, at := goal, int32(-1)
		for _, a := range found {
			if v := c.worth(a) + less; v > best {
				best, at = v, a
			}
		}
		high = min(high, best)
		if at < 0 {
			break
		}
		if pat := c.q.draw(c.sheet, at); !c.note(pat) {
			return high, pat
		}
	}
	return high, pattern{sheet: c.sheet}
}

// worth is what a set is worth at most, less what all parts are lowered by: a
// type counted has its own worth for as many pieces as there are in the set.
func (c *counter) worth(a int32) int64 {
	v := c.q.labels[a].val + c.gain[a]
	for _, t := range c.counted {
		v -= c.more[t] * int64(c.q.most[t])
	}
	return v
}

// note counts the types of which a pattern has too many, and those of lowered
// worth of which it has not all. It reports whether there are any that were not
// counted.
func (c *counter) note(pat pattern) (fresh bool) {
	has := make([]int, len(c.more))
	for _, u := range pat.use {
		has[u.typ] = u.n
	}
	for t, n := range has {
		if !c.marked[t] && (n > c.q.most[t] || n < c.q.most[t] && c.more[t] > 0) {
			c.marked[t], fresh = true, true
			c.counted = append(c.counted, t)
		}
	}
	return fresh
}

// room gives the types counted their fields. Where there is not enough room all
// are forgotten.
func (c *counter) room() bool {
	q := c.q
	q.guard, q.fill = counts{}, counts{}
	for t := range q.fields {
		q.fields[t].word = -1
	}
	word, at := 0, 0
	for _, t := range c.counted {
		size := bits.Len(uint(q.most[t])) + 1
		if at+size > 64 {
			word, at = word+1, 0
		}
		if word == len(q.guard) || size > 32 {
			c.counted = c.counted[:0]
			clear(c.marked)
			return false
		}
		q.field(t, word, at, size)
		at += size
	}
	q.words = word + 1
	return true
}

// counted finds by counting what no proper pattern is worth more than, from high
// down to floor, and the best one, if that is better than the one known.
func (q *proper) counted(sheet int, worth []int64, high, floor int64, known pattern) (int64, pattern) {
	if q.g.sheets[sheet].depth > 0 {
		return high, known
	}
	for s := len(q.counters); s <= sheet; s++ {
		q.counters = append(q.counters, newCounter(q.g, s, q.most))
	}
	c := q.counters[sheet]
	high, pat := c.top(context.Background(), worth, worth, 0, high, floor, countSteps*q.limit)
	q.g.steps += 3 * c.work
	if pat.worth(worth) > known.worth(worth) {
		known = pat
	}
	return high, known
}

// begin, settle and full are as walker says.
func (c *counter) begin(at int32)  { c.here = at }
func (c *counter) settle(*[]int32) {}
func (c *counter) full() bool      { return c.work > c.limit || len(c.q.labels) > mostListed }

func (c *counter) inherit(list *[]int32, from []int32, need int64) {
	for _, a := range from {
		if c.q.labels[a].val <= need {
			return
		}
		if !c.beaten(*list, &c.q.labels[a], c.gain[a]) {
			c.seat(list, a)
		}
	}
}

func (c *counter) addPart(list *[]int32, arg int32, need int64) {
	t := arg >> 1
	s, gain := set{val: c.lower[t], a: -1, b: arg}, int64(0)
	if f := c.q.fields[t]; f.word >= 0 {
		s.n[f.word] = 1 << f.at
		gain = c.more[t]
	}
	if s.val > need {
		c.add(list, &s, gain)
	}
}

// join lays the sets of two rectangles side by side.
func (c *counter) join(list *[]int32, as, bs []int32, need int64, vert bool) {
	q := c.q
	for _, a := range as {
		la := q.labels[a]
		if la.a >= 0 && la.vert == vert {
			continue
		}
		for _, b := range bs {
			lb := &q.labels[b]
			v := la.val + lb.val
			c.work++
			if v <= need {
				break
			}
			c.work += 3
			s := set{val: v, a: a, b: b, vert: vert}
			for w := range q.words {
				s.n[w] = la.n[w] + lb.n[w]
			}
			if q.within(&s.n) {
				c.add(list, &s, c.gain[a]+c.gain[b])
			}
		}
		if c.full() {
			return
		}
	}
}

// add makes a set known to a rectangle unless another is as good.
func (c *counter) add(list *[]int32, s *set, gain int64) {
	if c.beaten(*list, s, gain) {
		return
	}
	c.q.labels, c.gain, c.home = append(c.q.labels, *s), append(c.gain, gain), append(c.home, c.here)
	c.seat(list, int32(len(c.q.labels)-1))
}

// beaten reports whether a set of the list is worth as much with no more pieces
// of the types counted. Lists begin with the greatest lowered worth; what has
// fewer pieces gains no more, so a set of less lowered worth beats none.
func (c *counter) beaten(list []int32, s *set, gain int64) bool {
	for k, a := range list {
		o := &c.q.labels[a]
		if o.val < s.val {
			c.work += k / 2
			return false
		}
		if c.beats(a, s, gain) {
			c.work += k / 2
			return true
		}
	}
	c.work += len(list) / 2
	return false
}

func (c *counter) beats(a int32, s *set, gain int64) bool {
	o := &c.q.labels[a]
	return o.val+c.gain[a] >= s.val+gain && c.q.fewer(&o.n, &s.n)
}

// seat puts a set into the list and drops what it beats.
func (c *counter) seat(list *[]int32, a int32) {
	s := &c.q.labels[a]
	out := *list
	k := 0
	for k < len(out) && c.q.labels[out[k]].val > s.val {
		k++
	}
	out = append(out, 0)
	copy(out[k+1:], out[k:])
	out[k] = a
	n := k + 1
	for _, o := range out[k+1:] {
		if !c.beats(a, &c.q.labels[o], c.gain[o]) {
			out[n] = o
			n++
		}
	}
	*list = out[:n]
}
