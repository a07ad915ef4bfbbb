package cutting

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"
)

// A picker picks one listed pattern for each sheet of a lot, so that together
// they hold all parts. A sheet's pattern may be worth at most slack less than
// the best one; so much may all sheets lose together.
type picker struct {
	p     *problem // of what is left
	ctx   context.Context
	d     *settler
	g     *grid
	lot   []int
	most  []int
	worth []int64
	top   []int64 // of each kind of sheet: the most a pattern is worth
	slack int64
	kinds []kind
	picks []choose
}

type choose struct {
	kind int
	at   int32
}

// newPicker lists the patterns; nil when there are too many.
func (d *settler) newPicker(q *problem, g *grid, lot []int, worth []int64) *picker {
	k := &picker{p: q, worth: worth, ctx: d.ctx, d: d, g: g, lot: lot, top: make([]int64, len(lot)), kinds: make([]kind, len(lot))}
	var all int64
	for i, t := range q.types {
		k.most = append(k.most, t.qty)
		all += worth[i] * int64(t.qty)
	}
	if all == 0 {
		return nil
	}
	for s := range q.sheets {
		g.fill(&g.sheets[s], k.worth, k.most)
		r := &g.sheets[s]
		if len(r.val) > 0 {
			k.top[s] = r.val[len(r.val)-1]
		}
		if k.kinds[s].list = newLister(d.ctx, g, k.most); k.kinds[s].list == nil {
			return nil
		}
	}
	k.slack = -all
	for s, z := range k.top {
		k.slack += z * int64(lot[s])
	}
	// First the best pattern of each kind, which is often less than the table says.
	for s := range q.sheets {
		for part := 0.02; ; part = min(1, 2*part) {
			floor := max(-1, k.top[s]-int64(part*float64(k.slack))-1)
			found, whole := d.list(k.kinds[s].list, &g.sheets[s], k.worth, floor)
			if !whole {
				return nil
			}
			now := floor
			if len(found) > 0 {
				now = k.kinds[s].list.labels[found[0]].val
			}
			if len(found) > 0 || part >= 1 || floor < 0 {
				k.slack -= (k.top[s] - max(0, now)) * int64(lot[s])
				k.top[s] = max(0, now)
				break
			}
		}
	}
	if k.slack < 0 {
		return k
	}
	return k
}

// listAll lists the patterns of all kinds that lose at most part of the slack.
func (k *picker) listAll(part float64) bool {
	for s := range k.p.sheets {
		c := &k.kinds[s]
		found, whole := k.d.list(c.list, &k.g.sheets[s], k.worth, k.top[s]-int64(part*float64(k.slack))-1)
		if !whole || len(found) > mostPicked {
			return false
		}
		c.found = c.found[:0]
		for _, at := range found {
			l := listed{at: at, val: c.list.labels[at].val, n: make([]int32, len(k.most))}
			for t, f := range c.list.fields {
				l.n[t] = int32(c.list.labels[at].n[f.word] >> f.at & (1<<bits.Len(uint(k.most[t])) - 1))
			}
			c.found = append(c.found, l)
		}
		c.index(k.most)
		k.d.moves += len(found) * len(k.most) / listMove
	}
	return true
}

// list lists with what is left of the moves.
func (d *settler) list(l *lister, r *raster, worth []int64, floor int64) ([]int32, bool) {
	l.limit = min(d.listMax, (d.stop-d.moves)*listMove)
	at := l.g.steps
	l.g.fill(r, worth, l.most)
	found, whole := l.list(r, worth, floor)
	d.moves += 1 + l.work/listMove + (l.g.steps-at)/1500
	return found, whole
}

const (
	listMove = 800 // steps of listing that one move is worth
	listWork = 20_000_000
)

// settle picks; whole tells that every way was looked at.
func (k *picker) settle(types, sheets []int) (bins []*bin, whole bool) {
	if k.slack < 0 {
		return nil, true
	}
	left := slices.Clone(k.most)
	lot := slices.Clone(k.lot)
	n := 0
	for _, c := range lot {
		n += c
	}
	ok := false
	for _, part := range []float64{0.3, 0.6, 1} {
		if k.d.over() || !k.listAll(part) {
			break
		}
		if ok, whole = k.pick(left, lot, n, k.slack); ok {
			break
		}
		whole = whole && part == 1
	}
	if !ok {
		return nil, whole
	}
	rest := make([]int, len(k.d.p.types))
	for t, n := range k.most {
		rest[types[t]] = n
	}
	for _, c := range k.picks {
		b := k.d.lift(k.kinds[c.kind].list.tree(k.p, c.kind, c.at), types, sheets)
		bins = append(bins, k.d.cut(b, rest))
	}
	return bins, false
}

// pick covers the parts left with n sheets of the lot.
func (k *picker) pick(left, lot []int, n int, slack int64) (ok, whole bool) {
	if k.d.over() {
		return false, false
	}
	k.d.moves++
	// The type that the fewest patterns hold.
	typ, few := -1, math.MaxInt
	for t, c := range left {
		if c == 0 {
			continue
		}
		with := 0
		for s := range k.kinds {
			if lot[s] > 0 {
				with += k.kinds[s].with[t]
			}
		}
		if with < few {
			typ, few = t, with
		}
	}
	if typ < 0 {
		return true, true
	}
	if n == 0 || few == 0 {
		return false, true
	}
	if n == 1 {
		for s := range k.kinds {
			if lot[s] > 0 {
				if i := k.kinds[s].holds(left); i >= 0 {
					k.picks = append(k.picks, choose{s, k.kinds[s].found[i].at})
					return true, true
				}
			}
		}
		return false, true
	}
	type branch struct {
		kind, i int
		loss    int64
	}
	var list []branch
	work := 0
	for s := range k.kinds {
		if lot[s] == 0 {
			continue
		}
		c := &k.kinds[s]
		for w, set := range c.has[typ][0] {
			for ; set != 0; set &= set - 1 {
				i := w*64 + bits.TrailingZeros64(set)
				l := &c.found[i]
				loss := k.top[s] - l.val
				if loss > slack {
					continue
				}
				for t, m := range l.n {
					if over := m - int32(left[t]); over > 0 {
						loss += int64(over) * k.worth[t]
					}
				}
				work++
				if loss <= slack {
					list = append(list, branch{s, i, loss})
				}
			}
		}
	}
	k.d.moves += work / 100
	slices.SortStableFunc(list, func(a, b branch) int { return cmp.Compare(a.loss, b.loss) })
	rest := make([]int, len(left))
	whole = true
	for _, b := range list {
		l := &k.kinds[b.kind].found[b.i]
		for t := range left {
			rest[t] = max(0, left[t]-int(l.n[t]))
		}
		lot[b.kind]--
		k.picks = append(k.picks, choose{b.kind, l.at})
		ok, all := k.pick(rest, lot, n-1, slack-b.loss)
		if ok {
			return true, true
		}
		k.picks = k.picks[:len(k.picks)-1]
		lot[b.kind]++
		if whole = whole && all; !whole {
			return false, false
		}
	}
	return false, whole
}
