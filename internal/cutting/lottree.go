package cutting

import (
	"cmp"
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
}

// node covers the parts left with sheets of the lot and patterns of the list.
func (t *lotTree) node(left, lot []int, list []int32) bool {
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
	worth, top, spare := t.program(left, lot, list)
	if spare < 0 {
		return false
	}
	// Patterns that lose too much are out.
	type branch struct {
		i    int32
		loss int64
	}
	var open []branch
	with := make([]int, len(left))
	for _, i := range list {
		c := &t.cols[i]
		if lot[c.kind] == 0 {
			continue
		}
		loss := top[c.kind]
		for ty, n := range c.n {
			if n > 0 && left[ty] > 0 {
				loss -= worth[ty] * int64(min(int(n), left[ty]))
			}
		}
		if loss > spare {
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
		for _, o := range open {
			if o.loss+b.loss <= spare && !shut[o.i] {
				next = append(next, o.i)
			}
		}
		t.picks = append(t.picks, b.i)
		if t.node(slices.Clone(rest), slices.Clone(less), slices.Clone(next)) {
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

// program prices the parts left by the program over the patterns of the list,
// cut down to what is asked for.
func (t *lotTree) program(left, lot []int, list []int32) (worth, top []int64, spare int64) {
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
	for _, i := range list {
		c := &t.cols[i]
		if lot[c.kind] == 0 {
			continue
		}
		pat := pattern{sheet: c.kind}
		for _, ty := range back {
			if n := min(int(c.n[ty]), left[ty]); n > 0 {
				pat.use = append(pat.use, run{to[ty], n})
			}
		}
		if len(pat.use) > 0 {
			m.learn(pat)
		}
	}
	m.run()
	f.moves += 1 + *m.work/moveWork
	worth, top = make([]int64, len(left)), make([]int64, len(lot))
	sum := 0.0
	for k, ty := range back {
		sum += max(0, m.y[k]) * float64(left[ty])
	}
	if sum == 0 {
		return worth, top, 0 // no prices: nothing loses anything
	}
	var all int64
	for k, ty := range back {
		worth[ty] = int64(max(0, m.y[k]) / sum * fitScale)
		all += worth[ty] * int64(left[ty])
	}
	for j := range m.cols {
		c := &m.cols[j]
		if c.sheet < 0 {
			continue
		}
		var v int64
		for _, u := range c.use {
			v += worth[back[u.typ]] * int64(u.n)
		}
		top[c.sheet] = max(top[c.sheet], v)
	}
	spare = -all
	for s, c := range lot {
		spare += top[s] * int64(c)
	}
	return worth, top, spare
}
