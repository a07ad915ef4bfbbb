package cutting

import (
	"math"
	"slices"
)

// A lotPrice is what the program over a list says: what a pattern of each kind
// of sheet is worth at most, what each of the list is, and how much worth all
// sheets may lose together (below 0 they are too few).
type lotPrice struct {
	top   []int64
	vals  []int64
	spare int64
}

// Limits of the program over a list.
const (
	treeFirst  = 60 // patterns of each kind that the first begins with
	treeTake   = 10 // taken in at a time, of each kind
	treeRounds = 60
)

// price prices the parts left by the program over the patterns of a list, cut
// down to what is asked for, and tells which of them lose no more than may be
// lost and what the programs below begin with. Patterns are taken in that are
// worth more than those that the program has, until there are none, then cuts,
// and so on; what its prices say of the whole list holds at any time.
func (g *lotProgram) price(t *lotTree, left, lot []int, list []int32, from lotStart) (best lotPrice, open []int32, to lotStart) {
	g.begin(t, left, lot, list, from)
	best.spare = math.MaxInt64
	for round := 0; ; round++ {
		g.solve(&best)
		if best.spare < 0 {
			break
		}
		g.thin(&best)
		if round == treeCutRounds || t.f.over() || !g.sharpen() {
			break
		}
	}
	g.charge()
	return best, g.list, g.onward()
}

// charge counts as moves what was not counted yet.
func (g *lotProgram) charge() {
	n := (g.work - g.paid) / moveWork
	g.t.f.moves += n
	g.paid += n * moveWork
}

// solve takes patterns in until the prices are about as good as they can be.
func (g *lotProgram) solve(best *lotPrice) {
	for range treeRounds {
		g.m.run()
		now := g.weigh()
		g.charge()
		if now.spare < best.spare {
			*best = now
		}
		least := (1/max(g.m.value(), 1e-9) - 1) * fitScale // what sheets can spare, by the patterns it has
		if best.spare < 0 || g.t.f.over() || float64(now.spare)-least < float64(max(now.spare/16, fitNear)) || !g.widen(now.vals) {
			return
		}
	}
}

// weigh weighs the list by the duals of the program, in whole numbers. A cut has
// a worth of its own, as a type has.
func (g *lotProgram) weigh() (p lotPrice) {
	m := &g.m
	p.top, p.vals = make([]int64, len(g.lot)), make([]int64, len(g.list))
	first := m.rows - len(g.cuts)
	sum := 0.0
	for r, n := range m.rhs {
		sum += max(0, m.y[r]) * n // of kinds of sheets n is 0
	}
	if !(sum > 0 && sum <= math.MaxFloat64) {
		return p // no prices: nothing loses anything
	}
	worth := make([]int64, len(g.left))
	for r, ty := range g.back {
		worth[ty] = int64(max(0, m.y[r]) / sum * fitScale)
		p.spare -= worth[ty] * int64(g.left[ty])
	}
	for x, i := range g.list {
		var v int64
		for _, h := range g.t.held[i] {
			v += worth[h.typ] * int64(min(int(h.n), g.left[h.typ]))
		}
		p.vals[x] = v
	}
	g.work += 4 * len(g.list)
	for n, q := range g.need {
		w := int64(max(0, m.y[first+n]) / sum * fitScale)
		if w == 0 {
			continue
		}
		p.spare -= w * int64(q)
		for x, k := range g.counts(n) {
			p.vals[x] += w * int64(k)
		}
		g.work += len(g.list)
	}
	for x, i := range g.list {
		s := g.t.cols[i].kind
		p.top[s] = max(p.top[s], p.vals[x])
	}
	for s, c := range g.lot {
		p.spare += p.top[s] * int64(c)
	}
	return p
}

// counts is what the patterns of the list count in a cut.
func (g *lotProgram) counts(n int) []int32 {
	if g.give[n] == nil {
		l := make([]int32, len(g.list))
		for x, i := range g.list {
			l[x] = int32(min(g.need[n], g.cuts[n].count(&g.t.cols[i], g.left)))
		}
		g.give[n] = l
		g.work += 2 * len(l)
	}
	return g.give[n]
}

// widen takes in, of each kind of sheet, what is worth most of the list, if it is
// worth more than what the program has. It reports whether anything was.
func (g *lotProgram) widen(vals []int64) (fresh bool) {
	known := make([]int64, len(g.lot))
	for k, in := range g.has {
		if in {
			s := g.t.cols[g.list[k]].kind
			known[s] = max(known[s], vals[k])
		}
	}
	best := make([][]int, len(g.lot)) // places in the list, those worth most first
	for k, v := range vals {
		s := g.t.cols[g.list[k]].kind
		if v <= known[s] {
			continue
		}
		l := best[s]
		at := len(l)
		for at > 0 && vals[l[at-1]] < v {
			at--
		}
		if at == treeTake || at > 0 && vals[l[at-1]] == v && g.alike(l[at-1], k) {
			continue
		}
		best[s] = slices.Insert(l[:min(len(l), treeTake-1)], at, k)
	}
	g.work += len(vals)
	for _, l := range best {
		for _, k := range l {
			g.take(k)
			fresh = true
		}
	}
	return fresh
}

// alike reports whether two patterns of a kind of sheet hold the same of what is
// left.
func (g *lotProgram) alike(a, b int) bool {
	m, n := g.t.cols[g.list[a]].n, g.t.cols[g.list[b]].n
	return !slices.ContainsFunc(g.back, func(ty int) bool {
		return min(int(m[ty]), g.left[ty]) != min(int(n[ty]), g.left[ty])
	})
}

// thin takes what loses too much off the list: it is in no answer, so the
// prices to come need not bound it.
func (g *lotProgram) thin(best *lotPrice) {
	place := make([]int32, len(g.list)) // the new one, -1: off
	n := 0
	for k, i := range g.list {
		if place[k] = -1; best.top[g.t.cols[i].kind]-best.vals[k] > best.spare {
			continue
		}
		place[k] = int32(n)
		g.list[n], g.has[n], best.vals[n] = i, g.has[k], best.vals[k]
		for _, l := range g.give {
			if l != nil {
				l[n] = l[k]
			}
		}
		n++
	}
	g.work += len(g.list)
	g.list, g.has, best.vals = g.list[:n], g.has[:n], best.vals[:n]
	for c, l := range g.give {
		if l != nil {
			g.give[c] = l[:n]
		}
	}
	for j, k := range g.what {
		if k >= 0 {
			g.what[j] = place[k]
		}
	}
}

// onward is what the programs below begin with.
func (g *lotProgram) onward() (to lotStart) {
	m := &g.m
	for _, j := range m.basis {
		if k := g.what[j]; k >= 0 {
			to.use = append(to.use, g.list[k])
		}
	}
	to.basic = len(to.use)
	for j, k := range g.what {
		if k >= 0 && m.where[j] < 0 {
			to.use = append(to.use, g.list[k])
		}
	}
	for n, c := range g.cuts {
		if m.y[m.rows-len(g.cuts)+n] > 1e-9 {
			to.cuts = append(to.cuts, c)
		}
	}
	return to
}
