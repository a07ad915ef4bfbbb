package cutting

import "slices"

// A roster prices by lists: it finds the best pattern that has no more of a
// type than asked for, and makes the next best known along with it.
type roster struct {
	l     *lister
	d     *settler
	extra func(pattern)
}

// best is as pricer says.
func (o *roster) best(sheet int, worth []int64, most []int, floor int64) (int64, pattern) {
	g := o.l.g
	r := &g.sheets[sheet]
	if len(r.x) == 0 || len(r.y) == 0 {
		return 0, pattern{sheet: sheet}
	}
	g.fill(r, worth, most)
	top := r.val[len(r.val)-1]
	if top <= floor {
		return top, pattern{sheet: sheet}
	}
	pat := g.read(sheet)
	if !o.l.q.over(pat) {
		return top, pat
	}
	floor = max(floor, 0)
	full, low := o.complete(pat, worth, most)
	// Worths lowered where a pattern has too many of a type bound the proper
	// patterns better: what a type is lowered by counts for as many as there are.
	lower, best := slices.Clone(worth), slices.Clone(worth)
	high := top
	for range rosterTries {
		more, ok := lowered(lower, worth, o.l.most, pat, high-max(low, floor))
		if !ok {
			break
		}
		g.fill(r, lower, most)
		if v := r.val[len(r.val)-1] + more; v < high {
			high = v
			copy(best, lower)
		}
		if high <= floor {
			return floor, pattern{sheet: sheet}
		}
		pat = g.read(sheet)
		if c, v := o.complete(pat, worth, most); v > low {
			full, low = c, v
		}
	}
	if low > floor+(high-floor)/3 {
		return high, full
	}
	g.fill(r, best, most)
	var more int64
	for t, q := range o.l.most {
		more += (worth[t] - best[t]) * int64(q)
	}
	for part := 0.005; ; part *= 2 {
		least := max(floor, low, high-int64(part*float64(high)))
		o.l.limit, o.l.keep = rosterWork, rosterKeep
		found, whole := o.l.list(r, best, least-more)
		g.steps += o.l.work * 2
		o.l.q.labels = o.l.labels
		var first pattern
		at := least
		n := 0
		for _, l := range found {
			if v := o.l.value(l, worth); v > at || v > least && n < rosterMost {
				c := o.l.q.draw(sheet, l)
				g.steps += rosterDraw
				n++
				if v > at {
					at, c, first = v, first, c
				}
				if c.tree != nil {
					o.extra(c)
				}
			}
		}
		if first.tree != nil {
			if whole {
				high = at
			}
			return high, first
		}
		if !whole {
			return high, full
		}
		if high = least; least == floor {
			return floor, pattern{sheet: sheet}
		}
		if least == low {
			return low, full
		}
	}
}

// complete takes out of a pattern what is too many and puts on it what has room.
func (o *roster) complete(pat pattern, worth []int64, most []int) (pattern, int64) {
	if o.l.q.over(pat) {
		o.l.g.steps += 4 * rosterDraw
		pat = o.l.g.p.pattern(o.d.cutOf(o.l.g.p, pat.tree, slices.Clone(o.l.most)))
	}
	return pat, pat.worth(worth)
}

const (
	rosterWork  = 4_000_000
	rosterKeep  = 24
	rosterTries = 6
	rosterMost  = 150
	rosterDraw  = 1500 // steps that drawing a pattern counts for
)
