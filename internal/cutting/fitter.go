package cutting

import (
	"context"
	"math"
	"slices"
)

// A fitter asks whether a lot of sheets can hold all parts, by proper patterns
// of true sizes. A program says how many times over the lot must be there when
// patterns may be cut any share of a time. Its prices of the parts price the
// fullest proper patterns, those near the best are listed all at once, and the
// program goes on with them, until the prices show that the lot is too little
// or how little worth its sheets may lose. What loses no more is listed then,
// and a tree over the list settles the question.
type fitter struct {
	p     *problem
	most  []int
	kinds []*fitKind
	moves int
	stop  int
	ctx   context.Context
	loss  int64 // what the sheets of a lot may lose together so that a list is tried
}

// A fitKind is what is known of one kind of sheet.
type fitKind struct {
	sheet  int // its number in the problem
	tried  bool
	q      *problem // with this sheet only
	g      *grid    // nil: too large
	list   *lister
	count  *counter
	lower  []float64 // of each type: the share of its worth that bounds proper patterns best
	cols   []pattern
	seen   map[uint64]bool
	mender *mender
	step   float64   // share of the way by which worths are lowered
	was    []float64 // lower, of the best prices so far
}

// Limits of a fitter, in steps of tables and lists where nothing else is said,
// chosen by trial on 120 generated furniture cases of several sizes; the size of
// tables, the rounds, the reach and the spans of lists are guesses, and together
// better than what was there before them on 268 cases.
const (
	fitGrid   = 60_000_000        // to fill the table of one kind of sheet, were none skipped
	fitTries  = 3                 // tables filled for one pricing, at least
	fitMore   = 25                // and at most
	fitLight  = 15_000_000        // to fill them all, about
	fitRounds = 40                // pricings of a lot, at most
	fitFails  = 3                 // of those in a row that are no better
	fitLearn  = 150               // patterns learned from one list
	fitList   = 3_000_000         // of a list while pricing
	fitWhole  = 25_000_000        // of the second list; those to come may take four times as many each
	fitCount  = 6_000_000         // of counting, where lists are too long
	fitClosed = 100               // and no more than so many parts of the best are in doubt
	fitMost   = 20_000            // patterns in a tree
	fitStep   = 1_500             // of a table, in one move
	fitMove   = 400               // of a list, in one move
	fitTold   = 200               // of counting
	fitFirst  = 8                 // the first list is of what loses a 256th of the best
	fitWider  = 2.0               // and the next of what loses so many times as much at most
	fitHardly = 1.2               // or there is none, where it would be no more than this
	fitScale  = 1 << 44           // the worth of all parts together
	fitLoss   = fitScale / 60     // see fitter.loss
	fitNear   = fitScale / 20_000 // prices that are so near the best that there can be are good enough
)

// How far from the best prices so far towards those of the program the next are
// looked at: nearer after a look that was no better, farther after one that was.
const (
	fitReach = 0.5
	fitIn    = 0.4
	fitOut   = 1.6
	fitFar   = 0.8
	fitClose = 0.01 // nearer than that a look without new patterns is the last
)

func newFitter(p *problem) *fitter {
	f := &fitter{p: p, loss: fitLoss}
	for _, t := range p.types {
		f.most = append(f.most, t.qty)
	}
	for range p.sheets {
		f.kinds = append(f.kinds, &fitKind{sheet: len(f.kinds), seen: map[uint64]bool{}})
	}
	return f
}

func (f *fitter) over() bool { return f.moves >= f.stop || f.ctx.Err() != nil }

// kind sets up the table of a kind of sheet, once.
func (f *fitter) kind(s int) *fitKind {
	k := f.kinds[s]
	if k.tried {
		return k
	}
	k.tried = true
	one := make([]int, len(f.p.sheets))
	one[s] = 1
	k.q, _, _ = f.p.left(f.most, one)
	f.moves += k.q.setup()
	g := k.q.grid(0, fitGrid)
	if g == nil {
		return k
	}
	if k.list = newLister(f.ctx, g, f.most); k.list == nil {
		return k
	}
	k.g, k.step, k.mender, k.count = g, 1, &mender{p: k.q}, newCounter(g, 0, f.most)
	for range f.most {
		k.lower = append(k.lower, 1)
	}
	return k
}

// learn makes a pattern known for the programs to come. The tree says how it is
// cut; it may be of the problem with this sheet only.
func (k *fitKind) learn(use []run, tree func() *bin) {
	pat := pattern{use: use}
	if n := pat.name(); !k.seen[n] {
		k.seen[n] = true
		if pat.tree = tree(); pat.tree.sheet != k.sheet { // what the search met has it, and others read that
			pat.tree.sheet = k.sheet
		}
		k.cols = append(k.cols, pat)
	}
}

// take learns of a list what is worth most, and some of the first: those of the
// greatest lowered worth. It returns what the best is worth, or low.
func (k *fitKind) take(found []int32, some int, worth []int64, low int64) int64 {
	for n, a := range found {
		v := k.list.value(a, worth)
		if n < some || v > low {
			k.learn(k.use(a), func() *bin { return k.list.tree(k.q, 0, a) })
		}
		low = max(low, v)
	}
	return low
}

// bound fills the table of a kind with lowered worths and returns what no
// proper pattern is worth more than, what one found is worth, and the lowered
// worths with the sum by which they are lower for all parts. A type of which
// the best pattern has too many is lowered: that counts for as many as there
// are (Lagrange). No worth is lowered to nothing, so that a set that holds
// another is always worth more. It goes no further than what is enough.
func (f *fitter) bound(s int, worth []int64, low, enough int64) (high, best int64, lower []int64, less int64) {
	k := f.kinds[s]
	r := &k.g.sheets[0]
	at := k.g.steps
	defer func() { f.moves += (k.g.steps - at) / fitStep }()
	now := make([]int64, len(worth))
	for t, w := range worth {
		now[t] = min(w, max(1, int64(float64(w)*k.lower[t])))
	}
	high = math.MaxInt64
	best = low
	filled := false
	tries := max(fitTries, min(fitMore, fitLight/max(1, k.g.cost())))
	var dir []int // of the best bound: how many too many its pattern has
	var square float64
	for range tries {
		k.g.fill(r, now, f.most)
		filled = true
		var more int64
		for t, q := range f.most {
			more += (worth[t] - now[t]) * int64(q)
		}
		v := r.val[len(r.val)-1] + more
		if v >= high { // too far
			filled = false
			k.step /= 2
		} else {
			if high-v > (high-best)>>3 {
				k.step = min(1, k.step*1.5)
			}
			high, lower, less = v, slices.Clone(now), more
			count := make([]int, len(worth))
			pat := k.g.read(0)
			for _, u := range pat.use {
				count[u.typ] = u.n
			}
			if pat.tree != nil {
				best = max(best, f.mend(k, pat, worth).worth(worth))
			}
			dir, square = count, 0
			for t, q := range f.most {
				if dir[t] -= q; dir[t] > 0 || now[t] < worth[t] {
					square += float64(dir[t]) * float64(dir[t])
				}
			}
		}
		if square == 0 || high-best <= high>>13 || high <= enough || k.step < 1e-3 {
			break
		}
		step := k.step * float64(high-best) / square
		for t := range now {
			if d := dir[t]; d > 0 || lower[t] < worth[t] {
				now[t] = min(worth[t], max(1, lower[t]-int64(step*float64(d))))
			}
		}
	}
	k.step = max(k.step, 0.05)
	if !filled {
		k.g.fill(r, lower, f.most)
	}
	for t, w := range worth {
		if w > 0 {
			k.lower[t] = float64(lower[t]) / float64(w)
		}
	}
	return high, best, lower, less
}

// mend makes a pattern of the table proper and learns it.
func (f *fitter) mend(k *fitKind, pat pattern, worth []int64) pattern {
	full := k.mender.mend(pat.tree, worth, f.most)
	f.moves += mendMoves * mendMove
	k.learn(full.use, func() *bin { return full.tree })
	return full
}

// price returns what no proper pattern of a kind is worth more than, and learns
// good ones; those that lose up to spare as well. Where share is above 1 it is
// enough to know that none is worth more than so many times the best known.
func (f *fitter) price(s int, worth []int64, spare int64, share float64) fitTop {
	k := f.kind(s)
	r := &k.g.sheets[0]
	if len(r.x) == 0 || len(r.y) == 0 {
		return fitTop{lower: worth}
	}
	known := f.best(s, worth)
	enough := int64(share * float64(known))
	high, low, lower, less := f.bound(s, worth, known, enough)
	goal := low
	if enough > known {
		if low > enough || high <= enough {
			return fitTop{high, lower, less}
		}
		goal = enough
	}
	list := func(floor int64) bool {
		found, whole := f.list(k, lower, floor-less, fitList)
		low = k.take(found, fitLearn, worth, low)
		return whole
	}
	count := func() fitTop {
		if r.depth == 0 && !f.over() && high-goal <= high/fitClosed {
			v, pat := k.count.top(f.ctx, worth, lower, less, high, goal, min(fitCount, (f.stop-f.moves)*fitTold))
			if high = v; len(pat.use) > 0 {
				k.learn(pat.use, func() *bin { return pat.tree })
			}
			f.moves += 1 + k.count.work/fitTold
		}
		return fitTop{high, lower, less}
	}
	// From the top down, as far as lists are short; what is below is counted.
	top, floor, work := high, high, 0.0
	for span := max(1, high>>fitFirst); high > goal; {
		floor = max(goal, top-span)
		if !list(floor) {
			return count()
		}
		if high = floor; low > floor {
			high, goal = low, low
		}
		if f.over() {
			return count()
		}
		last := work
		work = float64(k.list.work)
		more := fitWider
		if last > 0 { // by how much the list grew with the span
			more = min(more, math.Pow(fitList/2/work, 1/max(0.5, math.Log2(work/last))))
		}
		if more < fitHardly {
			return count()
		}
		span = max(span+1, int64(float64(span)*more))
	}
	if floor > high-spare && work < fitList/8 { // only to learn: what is near the best may be of use in a layout
		list(high - spare)
	}
	return fitTop{high, lower, less}
}

// A fitTop is what patterns of a kind are worth at most, and the lowered worths
// that it was found with.
type fitTop struct {
	worth int64
	lower []int64
	less  int64
}

// best is what the best pattern known of a kind is worth.
func (f *fitter) best(s int, worth []int64) (v int64) {
	for _, pat := range f.kinds[s].cols {
		v = max(v, pat.worth(worth))
	}
	return v
}

// list lists the sets of a kind whose table is filled.
func (f *fitter) list(k *fitKind, worth []int64, floor int64, most int) ([]int32, bool) {
	k.list.ctx = f.ctx
	k.list.limit = min(most, (f.stop-f.moves)*fitMove)
	found, whole := k.list.list(&k.g.sheets[0], worth, max(-1, floor))
	f.moves += 1 + k.list.work/fitMove
	return found, whole
}

// use is what a label holds.
func (k *fitKind) use(a int32) []run {
	var use []run
	for t := range k.list.most {
		if n := k.list.count(a, t); n > 0 {
			use = append(use, run{t, n})
		}
	}
	return use
}

// counts is what a label holds of each type.
func (k *fitKind) counts(a int32) []int32 {
	n := make([]int32, len(k.list.most))
	for t := range n {
		n[t] = int32(k.list.count(a, t))
	}
	return n
}
