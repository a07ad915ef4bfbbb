package cutting

import "slices"

// A panelSeeker offers patterns of panels to the cover of a dive. The best
// pattern of the table has too many of some types as a rule. What is too many
// is taken out and the panel searched for what goes in instead; then the types
// that were too many are made to be worth less and the table is filled again, a
// few times. Only where no pattern that pays comes of it the table is searched
// for proper ones: all unbeaten sets are kept of each rectangle, or a few where
// they are too many; in the end, when asked to look harder, by the true worths.
type panelSeeker struct {
	panels
	p   *problem
	one *mender

	level  int // how hard it looks
	levels int // and at most
}

// Of 2 to 8 tries and 2 to 10 sets these did as well as any on
// twenty generated problems and classes of bin packing; the steps are guesses.
const (
	seekTries  = 4         // times that worths are lowered
	seekSets   = 4         // kept of each rectangle, where not all are; twice as many a level up
	seekExact  = 100_000   // steps of a search of the table that keeps all; four times as many a level up, by true worths ten times
	seekSteps  = 1_000_000 // of one that does not; twice as many a level up
	seekLevels = 2
)

// newPanelSeeker returns one without tables where these are too large.
func newPanelSeeker(p *problem, root []int) *panelSeeker {
	g := p.grid(0, sheetGrid)
	if g == nil {
		g = p.grid(sheetSums, sheetGrid)
	}
	f := &panelSeeker{p: p, panels: panels{g: g, root: root}}
	f.work = p.setup() * moveWork
	return f
}

func (f *panelSeeker) harder() bool {
	if f.level >= f.levels {
		return false
	}
	f.level++
	return true
}

func (f *panelSeeker) part(q *problem, of []int) offerer { return newPanelSeeker(q, f.rootOf(of)) }

func (f *panelSeeker) load(worth []int64, most []int) {
	if !slices.Equal(f.most, most) {
		f.one = &mender{p: f.p}
	}
	f.panels.load(worth, most)
}

func (f *panelSeeker) offer(sheet int, floor int64, yield func(pattern)) int64 {
	if f.q == nil {
		return unknownWorth
	}
	g, r, worth := f.g, &f.g.sheets[sheet], f.worth
	if len(r.x) == 0 || len(r.y) == 0 {
		return 0
	}
	g.fill(r, worth, f.most)
	top := r.val[len(r.val)-1]
	floor = max(floor, 0)
	if top <= floor {
		return top
	}
	pat := g.read(sheet)
	if !f.q.over(pat) {
		yield(f.lift(pat))
		return top
	}
	low := floor // worth of the best pattern so far
	give := func(tree *bin) {
		if tree == nil {
			return
		}
		f.work += mendMoves * mendMove * moveWork
		pat := f.one.mend(tree, worth, f.most)
		if v := pat.worth(worth); v > floor {
			low = max(low, v)
			yield(f.lift(pat))
		}
	}
	give(pat.tree)
	// Worths lowered where a pattern has too many of a type bound the proper
	// patterns better: what a type is lowered by counts for as many as there are.
	lower, best := slices.Clone(worth), slices.Clone(worth)
	high, more := top, int64(0)
	for range seekTries {
		plus, ok := lowered(lower, worth, f.most, pat, high-low)
		if !ok {
			break
		}
		g.fill(r, lower, f.most)
		if v := r.val[len(r.val)-1] + plus; v < high {
			high, more = v, plus
			copy(best, lower)
		}
		if high <= floor {
			return high
		}
		pat = g.read(sheet)
		give(pat.tree)
	}
	if low > floor {
		return high
	}
	g.fill(r, best, f.most)
	return f.list(sheet, r, best, more, high, floor, yield)
}

// list searches the table, which is filled for lower worths that bound patterns
// by more, for patterns worth more than floor. All sets of pieces are kept as
// long as they are few. It returns what no pattern is worth more than.
func (f *panelSeeker) list(sheet int, r *raster, lower []int64, more, high, floor int64, yield func(pattern)) int64 {
	q := f.q
	q.few, q.limit = 0, seekExact<<(2*f.level)
	for part := 0.02; ; part *= 3 {
		least := max(floor, high-int64(part*float64(high)))
		found, whole := q.search(r, lower, least-more)
		if !whole && q.few == 0 {
			q.few, q.limit = seekSets<<f.level, seekSteps<<f.level
			found, whole = q.search(r, lower, least-more)
		}
		some := false
		if found >= 0 {
			for _, l := range q.lists[len(r.val)-1] {
				if pat := q.draw(sheet, l); pat.worth(f.worth) > floor {
					some = true
					yield(f.lift(pat))
				}
			}
		}
		if whole && q.few == 0 {
			high = min(high, max(least, more)) // sets of no lower worth are not searched for
			if found >= 0 {
				high = q.labels[found].val + more
			}
		}
		if some {
			return high
		}
		if !whole || least == floor {
			break
		}
	}
	if f.level == 0 {
		return high
	}
	// Nothing pays by the lower worths. Sets that give way to others by these may
	// be worth more by the true ones.
	q.few, q.limit = 0, seekExact
	for range f.level {
		q.limit *= 10
	}
	f.g.fill(r, f.worth, f.most)
	found, whole := q.search(r, f.worth, floor)
	if found >= 0 {
		yield(f.lift(q.draw(sheet, found)))
	}
	switch {
	case !whole:
		return high
	case found < 0:
		return min(high, floor)
	}
	return q.labels[found].val
}
