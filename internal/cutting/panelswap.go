package cutting

import (
	"cmp"
	"context"
	"slices"
)

// Limits of exchanges of panels, chosen by trial on drawn jobs.
const (
	swapPieces = 4         // on a panel on average, at most
	swapShare  = 0.35      // of what all panels lose, that one pattern may lose
	swapLeast  = 0.002     // of the price of all panels, that it may lose at least
	swapSmall  = 0.1       // of that: parts of less worth are left out of sets at first
	swapLevels = 4         // lists of sets, each of those that lose twice as much
	swapWork   = 5_000_000 // of the table of sets, and half of that to put small parts in
	swapMost   = 5_000     // patterns
	swapSolved = 0.9       // of its value, that the bound of a program must be at
	swapTaught = 200       // patterns that dives get to know
	swapFirst  = 200_000   // moves at first, with those that list patterns
	swapVain   = 3_000     // exchanges in vain, then the first turn ends
	swapMove   = 900       // work that takes as long as a move
	setMove    = 100       // of the table of sets
)

// prices keeps the prices of the program, before dives ask it for other things.
func (l *panelMix) prices() {
	m := l.m
	for t := range m.p.types {
		l.worth = append(l.worth, max(0, m.y[t]))
	}
	for _, r := range m.row {
		v := 0.0
		if r >= 0 {
			v = max(0, -m.y[r])
		}
		l.scarce = append(l.scarce, v)
	}
}

// exchangeFirst exchanges panels before anything else is tried, where few pieces
// lie on each and the program is solved.
func (l *panelMix) exchangeFirst(ctx context.Context, b bound, moves int, tell func()) {
	if l.whole && l.s.p.pieces() <= swapPieces*len(l.s.best) {
		l.exchange(ctx, b, moves, swapVain, tell)
	}
}

// exchange looks for a cheaper layout by exchanging panels, for so many moves or
// until so many exchanges were in vain, where the program is nearly solved: else
// its prices say little.
func (l *panelMix) exchange(ctx context.Context, b bound, moves, vain int, tell func()) {
	s := l.s
	if !s.unproven(b) || s.p.depth > 0 || moves <= 0 || l.bound < swapSolved*l.low {
		return
	}
	stop := s.iter + moves
	if l.swap == nil {
		pats, work := l.patterns(ctx, min(swapWork, moves*setMove/5*2))
		s.iter += work / setMove
		l.swap = newExchange(s.p, s.rng, l.worth, l.scarce, pats)
		for _, pat := range pats[:min(len(pats), swapTaught)] {
			l.m.learn(pat.pattern)
		}
	}
	x := l.swap
	for s.unproven(b) && s.iter < stop && ctx.Err() == nil {
		if x.now == nil || x.least != s.bestValue {
			x.begin(s.best, s.bestValue)
		}
		at := x.work
		list := x.run(ctx, (stop-s.iter)*swapMove, vain)
		s.iter += 1 + (x.work-at)/swapMove
		if list == nil {
			break
		}
		s.offer(l.bins(list))
		tell()
	}
}

// patterns lists what may be put in: the patterns of the program, and sets of
// parts that lose little, for so much work. It tells the work done.
func (l *panelMix) patterns(ctx context.Context, work int) (pats []exchanged, done int) {
	p := l.s.p
	lose := swapLeast * float64(l.s.bestValue)
	lose = max(lose, swapShare*(float64(l.s.bestValue)-l.low))
	known := map[string]bool{}
	take := func(pat pattern, set int32) {
		loss := loses(p, l.worth, l.scarce, pat)
		if k := patternKey(pat.sheet, pat.use); loss <= lose && !known[k] {
			known[k] = true
			pats = append(pats, exchanged{pat, set, loss})
		}
	}
	for _, c := range l.m.cols {
		if c.sheet >= 0 && !slices.ContainsFunc(c.use, func(u run) bool { return u.n > p.types[u.typ].qty }) {
			take(pattern{c.sheet, c.use, c.tree}, -1)
		}
	}
	t := newCutTable(ctx, p)
	if t != nil {
		t.stop = work
		sets := newSetLister(t, l.worth, swapSmall*lose)
		all := l.sets(sets, lose, work)
		t.stop = t.work + work/2
		for s, list := range all {
			for k, f := range list {
				if len(sets.small) > 0 {
					f = sets.top(f, s, k)
				}
				slices.SortFunc(f.use, func(a, b run) int { return a.typ - b.typ })
				take(pattern{sheet: s, use: f.use}, f.set)
			}
		}
		done = t.work
	}
	slices.SortStableFunc(pats, func(a, b exchanged) int { return cmp.Compare(a.loss, b.loss) })
	pats = pats[:min(len(pats), swapMost)]
	for i := range pats {
		x := &pats[i]
		if x.set >= 0 {
			x.tree = t.tree(x.set, x.sheet)
		}
		x.use = slices.Clone(x.use) // what is missed most first
		slices.SortStableFunc(x.use, func(a, b run) int { return cmp.Compare(l.worth[b.typ], l.worth[a.typ]) })
	}
	return pats, done
}

// sets lists the sets of each kind of sheet that lose up to so much, or as much
// as there is time for: first those that lose an eighth, of all kinds, and so on.
func (l *panelMix) sets(list *setLister, lose float64, work int) [][]cutSet {
	p := l.s.p
	found := make([][]cutSet, len(p.sheets))
	long := make([]bool, len(p.sheets)) // takes too long
	for level := range swapLevels {
		may := lose / float64(int(1)<<(swapLevels-1-level))
		for s, sh := range p.sheets {
			if long[s] {
				continue
			}
			list.t.stop = list.t.work + (work-list.t.work)/2
			more, whole := list.list(s, float64(sh.price)+l.scarce[s]-may)
			if len(more) > len(found[s]) {
				found[s] = more
			}
			long[s] = !whole && list.t.over()
		}
	}
	return found
}
