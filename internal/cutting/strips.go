package cutting

import (
	"cmp"
	"slices"
)

// A pieceAt is a part of some type on a stack.
type pieceAt struct{ stack, part, tone int }

// deal says which item each part is, and of strips which panel they are glued
// into and in which order. A panel's strips come from one board where a board
// has enough of them, from the one with the fewest over; else from boards
// whose tones are nearest. In a panel tones run from light to dark, strips of
// one board side by side as they lay.
func (s *boardSearch) deal(job *Job, stacks []*stack, left []int) [][]Placed {
	out := make([][]Placed, len(stacks))
	for k, st := range stacks {
		out[k] = make([]Placed, len(st.parts))
	}
	s.dealPanels(stacks, out)
	for t := range s.p.types {
		d := dealer{job: job, s: s, stacks: stacks, out: out}
		for k, st := range stacks {
			var at []pieceAt
			for i, p := range st.parts {
				if p.typ == int32(t) {
					at = append(at, pieceAt{k, i, s.boards[st.board].tone})
				}
			}
			slices.SortFunc(at, func(a, b pieceAt) int { // as they lie
				p, q := st.parts[a.part], st.parts[b.part]
				return cmp.Or(cmp.Compare(p.x1, q.x1), cmp.Compare(p.y1, q.y1))
			})
			d.left = append(d.left, at)
		}
		d.deal(fewer(s.p.types[t].items, left[t]))
	}
	return out
}

type dealer struct {
	job    *Job
	s      *boardSearch
	stacks []*stack
	left   [][]pieceAt // on each stack
	out    [][]Placed
}

func (d *dealer) deal(items []lot) {
	type panel struct{ item, strips int }
	var open []panel
	loose := slices.Clone(items)
	for i, l := range items {
		n := d.job.Items[l.item].Strips
		if n < 2 {
			continue
		}
		loose[i].qty = 0
		for q := l.qty; q > 0; q -= n {
			open = append(open, panel{l.item, min(n, q)})
		}
	}
	wide := slices.Clone(open)
	slices.SortStableFunc(wide, func(a, b panel) int { return b.strips - a.strips })
	next := map[int]int{} // whole panels of an item so far: they are numbered first
	number := func(p panel, from []pieceAt) {
		next[p.item]++
		for i, at := range from {
			d.give(at, Placed{Item: p.item, Panel: next[p.item], Strip: i + 1})
		}
	}
	var rest []panel
	for _, p := range wide {
		best := -1
		for k, at := range d.left {
			if len(at) >= p.strips && (best < 0 || len(at)%p.strips < len(d.left[best])%p.strips) {
				best = k
			}
		}
		if best < 0 {
			rest = append(rest, p)
			continue
		}
		number(p, d.left[best][:p.strips])
		d.left[best] = d.left[best][p.strips:]
	}
	for _, p := range rest {
		number(p, d.nearest(p.strips))
	}
	for _, l := range loose {
		for range l.qty {
			at := d.nearest(1)
			for _, a := range at {
				d.give(a, Placed{Item: l.item})
			}
		}
	}
}

// fewer are the lots without n pieces: the last ones asked for go without.
func fewer(items []lot, n int) []lot {
	out := slices.Clone(items)
	for k := len(out) - 1; k >= 0 && n > 0; k-- {
		c := min(n, out[k].qty)
		out[k].qty -= c
		n -= c
	}
	return out
}

// nearest takes n pieces whose tones differ least, or as many as there are.
func (d *dealer) nearest(n int) []pieceAt {
	var all []pieceAt
	for _, at := range d.left {
		all = append(all, at...)
	}
	slices.SortStableFunc(all, func(a, b pieceAt) int { return cmp.Compare(a.tone, b.tone) })
	n = min(n, len(all))
	best := 0
	for k := 0; k+n <= len(all) && n > 0; k++ {
		if all[k+n-1].tone-all[k].tone < all[best+n-1].tone-all[best].tone {
			best = k
		}
	}
	took := all[best : best+n]
	for _, p := range took {
		d.left[p.stack] = slices.DeleteFunc(d.left[p.stack], func(q pieceAt) bool { return q == p })
	}
	return took
}

func (d *dealer) give(at pieceAt, p Placed) {
	part := d.stacks[at.stack].parts[at.part]
	p.Turned = part.x2-part.x1-d.job.Kerf != d.job.Items[p.Item].W
	d.out[at.stack][at.part] = p
}
