package cutting

import (
	"math"
	"slices"
)

// cover is the program of how many times over a lot must be there.
func (f *fitter) cover(lot []int) *mix {
	q := *f.p
	q.sheets = slices.Clone(f.p.sheets)
	for i := range q.sheets {
		q.sheets[i].price, q.sheets[i].stock = 0, 0
	}
	m := newMix(f.ctx, &q, nil)
	m.cap = 50*m.rows + 1000
	c := mixCol{price: 1, sheet: -1}
	for s, r := range m.row {
		if lot[s] > 0 {
			c.idx, c.val = append(c.idx, int32(r)), append(c.val, -float64(lot[s]))
		}
	}
	m.append(c)
	return m
}

// A fitting is the program for one lot, and the best prices so far.
type fitting struct {
	f      *fitter
	lot    []int
	n      int // sheets of the lot
	m      *mix
	known  []int     // of each kind: the patterns that the program has
	done   int       // work of the program charged
	center []float64 // prices of the parts, those of the best bound so far
	round  int
	least  int64   // what sheets can spare at least, by the patterns known
	reach  float64 // how far from the best prices so far towards the program's the next are looked at

	worth []int64
	top   []fitTop // of each kind of sheet
	spare int64    // how much worth all sheets may lose together; below 0 the lot is too little
}

// newFitting is nil where a table is too large. Prices to begin with are
// welcome.
func (f *fitter) newFitting(lot []int, center []float64) *fitting {
	t := &fitting{f: f, lot: lot, known: make([]int, len(lot)), spare: math.MaxInt64, least: math.MinInt64, reach: fitReach}
	for s, c := range lot {
		t.n += c
		if c > 0 && f.kind(s).g == nil {
			return nil
		}
	}
	t.m = f.cover(lot)
	if center != nil && f.norm(center) {
		t.center = center
	}
	return t
}

// norm makes all parts together worth 1.
func (f *fitter) norm(y []float64) bool {
	sum := 0.0
	for t, q := range f.most {
		sum += y[t] * float64(q)
	}
	if sum <= 0 {
		return false
	}
	for t := range f.most {
		y[t] /= sum
	}
	return true
}

// solve takes the patterns known into the program and returns its prices.
func (t *fitting) solve() (y []float64, ok bool) {
	f := t.f
	for s, c := range t.lot {
		if c > 0 {
			for _, pat := range f.kinds[s].cols[t.known[s]:] {
				pat.sheet = s
				t.m.learn(pat)
			}
			t.known[s] = len(f.kinds[s].cols)
		}
	}
	t.m.run()
	f.moves += (*t.m.work - t.done) / moveWork
	t.done = *t.m.work
	for k := range f.most {
		y = append(y, max(0, t.m.y[k]))
	}
	t.least = int64((1/max(t.m.value(), 1e-9) - 1) * fitScale)
	return y, f.norm(y)
}

// tighten looks for better prices until so many looks in a row found none. It
// reports whether more looks may find some.
func (t *fitting) tighten(most int) bool {
	f := t.f
	fails := 0
	for ; t.round < fitRounds && !f.over() && t.spare >= 0; t.round++ {
		was := t.least
		y, ok := t.solve()
		if !ok {
			return false
		}
		if t.worth != nil && t.spare-t.least < max(t.spare/8, fitNear) {
			return false
		}
		if t.least > was+fitScale/1000 {
			fails = 0
		}
		better, fresh := t.look(y, 1-t.reach)
		if t.round >= 2 && t.spare > f.loss && t.least > f.loss/2 {
			return false
		}
		if better {
			fails, t.reach = 0, min(fitFar, t.reach*fitOut)
			continue
		}
		t.reach *= fitIn
		if !fresh && t.reach < fitClose {
			return false
		}
		if fails++; fails >= most {
			t.round++
			return true
		}
	}
	return false
}

// look prices between the program's prices and the best so far, which have the
// weight alpha. It reports whether they are the best now, and whether it met new
// patterns.
func (t *fitting) look(y []float64, alpha float64) (better, fresh bool) {
	f := t.f
	switch {
	case t.center == nil:
		alpha = 0
	case t.worth == nil:
		alpha = 1
	}
	now := make([]int64, len(y))
	var all int64
	for k := range y {
		if alpha > 0 {
			y[k] = (1-alpha)*y[k] + alpha*t.center[k]
		}
		now[k] = max(1, int64(y[k]*fitScale)) // a set that holds another is worth more
		all += now[k] * int64(f.most[k])
	}
	// What patterns may be worth for the lot to be too little, compared with
	// those known.
	var can int64
	for s, c := range t.lot {
		if c > 0 {
			can += f.best(s, now) * int64(c)
		}
	}
	share := (1 - 1e-9) * float64(all) / float64(max(1, can))
	left := -all
	top := make([]fitTop, len(t.lot))
	f.each(len(t.lot), func(s int, f *fitter) bool {
		if t.lot[s] > 0 {
			top[s] = f.price(s, now, min(t.spare, fitScale/50)/int64(2*t.n), share)
		}
		return false
	})
	for s, c := range t.lot {
		if c > 0 {
			left += top[s].worth * int64(c)
			fresh = fresh || len(f.kinds[s].cols) > t.known[s]
		}
	}
	better = left < t.spare
	for s, c := range t.lot {
		if k := f.kinds[s]; c > 0 && better {
			k.was = slices.Clone(k.lower)
		} else if k.was != nil { // back to those of the best
			copy(k.lower, k.was)
		}
	}
	if better {
		t.spare, t.worth, t.top, t.center = left, now, top, y
	}
	return better, fresh
}

// need is what the prices say of all lots.
func (f *fitter) need(worth []int64, top []fitTop, lot []int) need {
	var all int64
	for t, w := range worth {
		all += w * int64(f.most[t])
	}
	n := need{least: float64(all)}
	for s := range lot {
		give := float64(all)
		switch k := f.kind(s); {
		case lot[s] > 0:
			give = float64(top[s].worth)
		case k.g != nil:
			give = 0
			if r := &k.g.sheets[0]; len(r.val) > 0 {
				high, _, _, _ := f.bound(s, worth, 0, 0)
				give = float64(high)
			}
		}
		n.gives = append(n.gives, give)
	}
	return n
}

// tree lists all patterns that lose no more than may be lost. It is nil when
// the list takes more than so many steps, of which it tells how many it took, or
// when there are too many.
func (t *fitting) tree(most int) (l *lotTree, tried int) {
	f := t.f
	l = &lotTree{f: f}
	kinds := make([]struct {
		cols  []lotCol
		tried int
	}, len(t.lot))
	first := f.each(len(t.lot), func(s int, f *fitter) (stop bool) {
		if t.lot[s] == 0 {
			return false
		}
		k, top, to := f.kinds[s], t.top[s], &kinds[s]
		floor := top.worth - t.spare - 1
		if len(k.g.sheets[0].val) > 0 {
			k.g.fill(&k.g.sheets[0], top.lower, f.most)
		}
		found, whole := f.list(k, top.lower, floor-top.less, most)
		if !whole {
			if k.list.work > k.list.limit { // else too many on the way
				to.tried = k.list.work
			}
			return true
		}
		for _, a := range found {
			if v := k.list.value(a, t.worth); v > floor {
				to.cols = append(to.cols, lotCol{kind: s, label: a, n: k.counts(a), loss: top.worth - v})
			}
		}
		return len(to.cols) > fitMost
	})
	if first < len(kinds) {
		return nil, kinds[first].tried
	}
	for _, k := range kinds {
		l.cols = append(l.cols, k.cols...)
	}
	if len(l.cols) > fitMost {
		return nil, 0
	}
	return l, 0
}

// each does something for each kind of sheet up to the first for which it is
// true, which it tells. Each has a fitter of its own, as several cores may be at
// it.
func (f *fitter) each(kinds int, do func(s int, f *fitter) bool) (first int) {
	own := make([]fitter, kinds)
	first = f.p.cores.First(kinds, func(s int, _ func() bool) bool {
		own[s] = *f
		own[s].moves, own[s].stop = 0, f.stop-f.moves
		return do(s, &own[s])
	})
	for s := range own[:min(first+1, kinds)] {
		f.moves += own[s].moves
	}
	return first
}
