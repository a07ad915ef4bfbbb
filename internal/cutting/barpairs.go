package cutting

import "slices"

// paired cuts those bars of a single size about which there is no choice. Beside
// a piece, one other may be no worse than any set that fits there: when it
// fills the bar, when no two fit, or when nothing else fits at all. What a
// set held instead then has room where that piece was, so some best layout has
// the bar (Martello and Toth 1990, a dominance of theirs). It returns what is
// left, the types of p that are in it, and the bars, each with types of p.
func (p *problem) paired() (q *problem, of []int, bars []pattern) {
	room := p.sheets[0].w
	var order []int // longest first
	left := make([]int, len(p.types))
	for t := range p.types {
		order = append(order, t)
		left[t] = p.types[t].qty
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(p.types[b].w - p.types[a].w) })
	for again := true; again; {
		again = false
		for _, t := range order {
			for left[t] > 0 {
				pat, ok := p.onlyBar(order, left, t, room-p.types[t].w)
				if !ok {
					break
				}
				for _, u := range pat.use {
					left[u.typ] -= u.n
				}
				bars, again = append(bars, pat), true
			}
		}
	}
	r := *p
	r.types, r.sheets = nil, slices.Clone(p.sheets)
	r.sheets[0].stock -= len(bars)
	for t, ty := range p.types {
		if ty.qty = left[t]; ty.qty > 0 {
			r.types, of = append(r.types, ty), append(of, t)
		}
	}
	return &r, of, bars
}

// onlyBar is the best bar with a piece of type t, if it is known without
// choice; rest is the room beside it.
func (p *problem) onlyBar(order, left []int, t int, rest int64) (pattern, bool) {
	have := func(o int) int {
		if o == t {
			return left[o] - 1
		}
		return left[o]
	}
	long := -1
	for _, o := range order {
		if have(o) > 0 && p.types[o].w <= rest {
			long = o
			break
		}
	}
	switch {
	case long < 0:
		return pattern{use: []run{{t, 1}}}, true
	case p.types[long].w < rest:
		var two int64 // the two shortest
		n := 0
		for k := len(order) - 1; k >= 0 && n < 2; k-- {
			m := min(have(order[k]), 2-n)
			two += int64(m) * p.types[order[k]].w
			n += m
		}
		if n == 2 && two <= rest {
			return pattern{}, false
		}
	}
	if long == t {
		return pattern{use: []run{{t, 2}}}, true
	}
	return pattern{use: []run{{t, 1}, {long, 1}}}, true
}
