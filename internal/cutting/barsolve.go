package cutting

// solve solves the program by dual steps, and shuts the patterns that cannot be
// in an answer. It reports false when there is none.
func (t *barTree) solve() bool {
	m := t.m
	limit := float64(t.bars) + treeEps
	for m.steps = 0; m.dualStep(); {
		if !m.tick(50*m.rows+1000) || t.over() {
			t.whole = false
			return false
		}
		if m.value() > limit && t.floor() > t.top {
			return false
		}
	}
	floor := t.floor()
	if floor > t.top {
		return false
	}
	for c := t.first; c < len(m.cols); c++ {
		if !m.loose[c] && m.where[c] < 0 && t.gain(c) < floor {
			t.close(c)
		}
	}
	*m.work += 2 * len(m.cols)
	return true
}

// gain is what the pieces of a pattern are worth.
func (t *barTree) gain(c int) int64 {
	v := int64(0)
	for _, u := range t.m.cols[c].use {
		v += t.worth[u.typ] * int64(u.n)
	}
	return v
}

// floor is what the pieces of every bar are worth at least, by the duals, if
// the bars are to hold all pieces: so much less than the top, the best open
// pattern's, as all bars together can lose. Above the top there is no answer.
// Any worths will do, so these are whole numbers.
func (t *barTree) floor() int64 {
	m := t.m
	all := int64(0)
	for i, n := range m.demand {
		t.worth[i] = int64(m.y[i] * treeUnit)
		all += t.worth[i] * int64(n)
	}
	t.top = 0
	for c := t.first; c < len(m.cols); c++ {
		if !m.loose[c] {
			t.top = max(t.top, t.gain(c))
		}
	}
	*m.work += 4 * len(m.cols)
	return all - t.top*(t.bars-1)
}
