package cutting

import (
	"cmp"
	"math"
	"slices"
)

// A lotTree decides whether patterns listed hold all parts, one for each sheet
// of a lot: it picks the pattern that holds a piece of the type which the
// fewest patterns do. At every node the program over the patterns that are
// left tells whether so many sheets can do, and which patterns lose too much.
type lotTree struct {
	f     *fitter
	cols  []lotCol
	picks []int32
	whole bool // everything was looked at
}

// A lotCol is a pattern of the list.
type lotCol struct {
	kind  int
	label int32
	n     []int32
	loss  int64
}

// first is what the first program begins with: those that lose the least.
func (t *lotTree) first(kinds int) (use []int32) {
	order := make([]int32, len(t.cols))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(t.cols[a].loss, t.cols[b].loss) })
	took := make([]int, kinds)
	for _, i := range order {
		if s := t.cols[i].kind; took[s] < treeFirst {
			took[s]++
			use = append(use, i)
		}
	}
	return use
}

// node covers the parts left with sheets of the lot and patterns of the list.
func (t *lotTree) node(left, lot []int, list, use []int32) bool {
	f := t.f
	if done(left) {
		return true
	}
	sheets := 0
	for _, c := range lot {
		sheets += c
	}
	if sheets == 0 {
		return false
	}
	if f.over() {
		t.whole = false
		return false
	}
	f.moves += 1 + len(list)/100
	if sheets == 1 {
		for _, i := range list {
			if c := &t.cols[i]; lot[c.kind] > 0 && covers(c.n, left) {
				t.picks = append(t.picks, i)
				return true
			}
		}
		return false
	}
	now := t.program(left, lot, list, use)
	if now.spare < 0 {
		return false
	}
	// Patterns that lose too much are out.
	type branch struct {
		i    int32
		loss int64
	}
	var open []branch
	with := make([]int, len(left))
	for k, i := range list {
		c := &t.cols[i]
		if lot[c.kind] == 0 {
			continue
		}
		loss := now.top[c.kind] - now.vals[k]
		if loss > now.spare {
			continue
		}
		open = append(open, branch{i, loss})
		for ty, n := range c.n {
			if n > 0 {
				with[ty]++
			}
		}
	}
	typ := -1
	for ty, n := range left {
		if n > 0 && (typ < 0 || with[ty] < with[typ]) {
			typ = ty
		}
	}
	if with[typ] == 0 {
		return false
	}
	slices.SortStableFunc(open, func(a, b branch) int { return cmp.Compare(a.loss, b.loss) })
	rest, less := make([]int, len(left)), slices.Clone(lot)
	shut := make(map[int32]bool)
	next := make([]int32, 0, len(open))
	for _, b := range open {
		c := &t.cols[b.i]
		if c.n[typ] == 0 {
			continue
		}
		for ty, n := range left {
			rest[ty] = max(0, n-int(c.n[ty]))
		}
		less[c.kind]--
		next = next[:0]
		for k, o := range open {
			if o.loss+b.loss > now.spare {
				break // those behind lose more
			}
			if !shut[o.i] {
				next = append(next, o.i)
			}
			if k%100 == 99 {
				f.moves++
			}
		}
		t.picks = append(t.picks, b.i)
		if t.node(slices.Clone(rest), slices.Clone(less), slices.Clone(next), now.used) {
			return true
		}
		t.picks = t.picks[:len(t.picks)-1]
		if !t.whole {
			return false
		}
		less[c.kind]++
		shut[b.i] = true
	}
	return false
}

// covers reports whether a pattern holds all parts left.
func covers(n []int32, left []int) bool {
	for t, q := range left {
		if int(n[t]) < q {
			return false
		}
	}
	return true
}

// A lotPrice is what the program over a list says: the worths of the parts, what
// a pattern of each kind is worth at most, what each of the list is, how much
// worth all sheets may lose together (below 0 they are too few), and the
// patterns that the program used.
type lotPrice struct {
	worth []int64
	top   []int64
	vals  []int64
	spare int64
	used  []int32
}

// Limits of the program over a list.
const (
	treeFirst  = 60 // patterns of each kind that the first begins with
	treeTake   = 10 // taken in at a time, of each kind
	treeRounds = 60
)

// program prices the parts left by the program over the patterns of the list,
// cut down to what is asked for. It begins with the patterns of use, and takes
// in of the list what is worth more than those it has, until nothing is; what
// its prices say of the whole list holds at any time.
func (t *lotTree) program(left, lot []int, list, use []int32) (best lotPrice) {
	f := t.f
	q := problem{value: f.p.value, sheets: slices.Clone(f.p.sheets)}
	var back []int
	to := make([]int, len(left))
	for ty, n := range left {
		if n > 0 {
			to[ty] = len(back)
			back = append(back, ty)
			c := f.p.types[ty]
			c.qty = n
			q.types = append(q.types, c)
		}
	}
	sub := &fitter{p: &q, ctx: f.ctx}
	m := sub.cover(lot)
	var has []int32
	take := func(i int32) bool {
		c := &t.cols[i]
		pat := pattern{sheet: c.kind}
		for _, ty := range back {
			if n := min(int(c.n[ty]), left[ty]); n > 0 {
				pat.use = append(pat.use, run{to[ty], n})
			}
		}
		if lot[c.kind] == 0 || len(pat.use) == 0 || !m.learn(pat) {
			return false
		}
		has = append(has, i)
		return true
	}
	for _, i := range use {
		take(i)
	}
	best.spare = math.MaxInt64
	done := 0
	for range treeRounds {
		m.run()
		f.moves += 1 + (*m.work-done)/moveWork
		done = *m.work
		now := t.weigh(m, left, lot, list, back)
		if now.spare < best.spare {
			best = now
		}
		least := (1/max(m.value(), 1e-9) - 1) * fitScale // what sheets can spare, by the patterns it has
		if best.spare < 0 || f.over() || float64(best.spare)-least < float64(max(best.spare/16, fitNear)) {
			break
		}
		known := make([]int64, len(lot)) // what the patterns of the program are worth
		for j := range m.cols {
			c := &m.cols[j]
			if c.sheet < 0 {
				continue
			}
			var v int64
			for _, u := range c.use {
				v += now.worth[back[u.typ]] * int64(u.n)
			}
			known[c.sheet] = max(known[c.sheet], v)
		}
		var better []int
		for k, i := range list {
			if now.vals[k] > known[t.cols[i].kind] {
				better = append(better, k)
			}
		}
		slices.SortStableFunc(better, func(a, b int) int { return cmp.Compare(now.vals[b], now.vals[a]) })
		took := make([]int, len(lot))
		fresh := false
		for _, k := range better {
			i := list[k]
			if s := t.cols[i].kind; took[s] < treeTake && take(i) {
				took[s]++
				fresh = true
			}
		}
		if !fresh {
			break
		}
	}
	best.used = has
	return best
}

// weigh weighs a list by the duals of a program.
func (t *lotTree) weigh(m *mix, left, lot []int, list []int32, back []int) (p lotPrice) {
	p.worth, p.top, p.vals = make([]int64, len(left)), make([]int64, len(lot)), make([]int64, len(list))
	sum := 0.0
	for k, ty := range back {
		sum += max(0, m.y[k]) * float64(left[ty])
	}
	if sum == 0 {
		return p // no prices: nothing loses anything
	}
	for k, ty := range back {
		p.worth[ty] = int64(max(0, m.y[k]) / sum * fitScale)
		p.spare -= p.worth[ty] * int64(left[ty])
	}
	for x, i := range list {
		c := &t.cols[i]
		if lot[c.kind] == 0 {
			continue
		}
		var v int64
		for _, ty := range back {
			v += p.worth[ty] * int64(min(int(c.n[ty]), left[ty]))
		}
		p.vals[x] = v
		p.top[c.kind] = max(p.top[c.kind], v)
	}
	t.f.moves += len(list) * len(back) / moveWork
	for s, c := range lot {
		p.spare += p.top[s] * int64(c)
	}
	return p
}
