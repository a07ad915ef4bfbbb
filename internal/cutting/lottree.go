package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// A lotTree decides whether patterns listed hold all parts, one for each sheet
// of a lot: of one type after the other it picks the pattern that holds a piece.
// At every node the program over the patterns that are left tells whether so many
// sheets can do, and which patterns lose too much.
type lotTree struct {
	f     *fitter
	cols  []lotCol
	held  [][]held // of each pattern: the types that it holds
	picks []int32
	seen  map[string]bool // what cannot be done, see remember
	whole bool            // everything was looked at
	prog  lotProgram
	draw  *rng    // patterns are tried by the program's shares, and a little by lot; nil: by what they lose
	blur  float64 // how much by lot
}

// A lotCol is a pattern of the list.
type lotCol struct {
	kind  int
	label int32
	n     []int32
	loss  int64
}

// held is so many pieces of a type.
type held struct{ typ, n int32 }

// treeSeen is how many rests are remembered at most.
const treeSeen = 1 << 20

// find looks for patterns that hold all parts, one for each sheet of the lot. It
// can be called again after it was stopped, and then does not look twice at what
// it had looked at wholly.
func (t *lotTree) find(parts, lot []int, first []int32) bool {
	if t.held == nil {
		t.hold()
	}
	var all []int32
	for i := range t.cols {
		if lot[t.cols[i].kind] > 0 {
			all = append(all, int32(i))
		}
	}
	t.whole, t.picks = true, t.picks[:0]
	return t.node(slices.Clone(parts), slices.Clone(lot), all, lotStart{use: first})
}

// hold lists what each pattern holds.
func (t *lotTree) hold() {
	t.seen = map[string]bool{}
	n := 0
	for i := range t.cols {
		for _, k := range t.cols[i].n {
			if k > 0 {
				n++
			}
		}
	}
	all := make([]held, 0, n)
	for i := range t.cols {
		at := len(all)
		for ty, k := range t.cols[i].n {
			if k > 0 {
				all = append(all, held{int32(ty), k})
			}
		}
		t.held = append(t.held, all[at:])
	}
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
func (t *lotTree) node(left, lot []int, list []int32, from lotStart) bool {
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
	f.moves += 1 + len(list)/1000
	if sheets == 1 {
		for _, i := range list {
			if covers(t.cols[i].n, left) {
				t.picks = append(t.picks, i)
				return true
			}
		}
		return false
	}
	name := restName(left, lot)
	if t.seen[name] {
		return false
	}
	if t.branch(left, lot, list, from) {
		return true
	}
	if t.whole {
		t.remember(name)
	}
	return false
}

// remember keeps that what is left cannot be held by the sheets left, whichever
// patterns were picked above: pieces that change places between two sheets leave
// the same. It holds for all patterns of the list, not only for those that were
// still open here. A pattern that loses too much above is in no answer there,
// and with this rest it would be in one; one that was tried above is shut from
// then on, but an answer with it would have been found as it was tried.
func (t *lotTree) remember(name string) {
	if len(t.seen) < treeSeen {
		t.seen[name] = true
	}
}

// restName names what is left of parts and sheets.
func restName(left, lot []int) string {
	b := make([]byte, 0, 2*(len(left)+len(lot)))
	for _, l := range [][]int{left, lot} {
		for _, n := range l {
			b = binary.AppendUvarint(b, uint64(n))
		}
	}
	return string(b)
}

// An option is a pattern that may be picked, and what that loses.
type option struct {
	i    int32
	loss int64
}

// branch tries the patterns that hold one type, that with the fewest pairs of
// patterns: one that holds it and one that may go with that, as they do not lose
// too much together. Patterns alone say less: of two types that were as good as
// equal by them one took forty times the nodes.
func (t *lotTree) branch(left, lot []int, list []int32, from lotStart) bool {
	now, list, to := t.prog.price(t, left, lot, list, from)
	if now.spare < 0 {
		return false
	}
	var open []option
	for k, i := range list {
		open = append(open, option{i, now.top[t.cols[i].kind] - now.vals[k]})
	}
	slices.SortStableFunc(open, func(a, b option) int { return cmp.Compare(a.loss, b.loss) })
	pairs := make([]int, len(left))
	with := len(open)
	for _, o := range open {
		for with > 0 && o.loss+open[with-1].loss > now.spare {
			with--
		}
		for _, h := range t.held[o.i] {
			pairs[h.typ] += 1 + with
		}
	}
	typ := -1
	for ty, n := range left {
		if n > 0 && (typ < 0 || pairs[ty] < pairs[typ]) {
			typ = ty
		}
	}
	if pairs[typ] == 0 {
		return false
	}
	tried := make([]bool, len(open))
	for _, at := range t.order(open, list, typ) {
		b := open[at]
		c := &t.cols[b.i]
		rest, less := slices.Clone(left), slices.Clone(lot)
		for ty, n := range c.n {
			rest[ty] = max(0, rest[ty]-int(n))
		}
		less[c.kind]--
		var next []int32
		for k, o := range open {
			if o.loss+b.loss > now.spare {
				break // those behind lose more
			}
			p := &t.cols[o.i]
			if less[p.kind] == 0 || tried[k] {
				continue // no sheet for it, or it was tried
			}
			next = append(next, o.i)
		}
		t.prog.work += len(open)
		t.picks = append(t.picks, b.i)
		if t.node(rest, less, next, to) {
			return true
		}
		t.picks = t.picks[:len(t.picks)-1]
		if !t.whole {
			return false
		}
		tried[at] = true
	}
	return false
}

// order is in what order the patterns that hold a type are tried: places among
// the open ones, which begin with those that lose the least.
func (t *lotTree) order(open []option, list []int32, typ int) (order []int) {
	for at, b := range open {
		if t.cols[b.i].n[typ] > 0 {
			order = append(order, at)
		}
	}
	if t.draw == nil {
		return order
	}
	share := map[int32]float64{}
	for k, j := range t.prog.m.basis {
		if p := t.prog.what[j]; p >= 0 {
			share[list[p]] = t.prog.m.x[k] * (1 - t.blur + 2*t.blur*t.draw.float())
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(share[open[b].i], share[open[a].i]) })
	return order
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
