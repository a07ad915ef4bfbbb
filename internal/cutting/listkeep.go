package cutting

import "math/bits"

func (l *lister) add(list *[]int32, s set) {
	if l.tried(&s.n) {
		return
	}
	g := l.sign(&s.n)
	if l.beaten(*list, &s, g) {
		return
	}
	l.labels, l.home, l.signs = append(l.labels, s), append(l.home, l.here), append(l.signs, g)
	l.seat(list, int32(len(l.labels)-1))
}

// sign has a bit for each type that a set holds, by its number modulo 64: a set
// that holds all of another has all its bits.
func (l *lister) sign(n *counts) uint64 {
	var g uint64
	for t, f := range l.fields {
		if n[f.word]>>f.at&(1<<bits.Len(uint(l.most[t]))-1) != 0 {
			g |= 1 << (t & 63)
		}
	}
	return g
}

// Beaters are the sets of the rectangle at hand that beat others lately: they
// often beat the next as well.
type beaters struct {
	n  [8]counts
	at int
	in int32
}

// A trial is a set that a rectangle was offered.
type trial struct {
	n  counts
	in int32
}

const trialBits = 14

// tried reports whether the rectangle at hand was offered a set lately, and
// notes it: most sets come up many times, cut in other ways.
func (l *lister) tried(n *counts) bool {
	if l.staged {
		return false
	}
	// Odd multipliers that hashes use (golden ratio, xxHash; from memory). Any will
	// do: sets that clash only cost time.
	h := (n[0]*0x9e3779b97f4a7c15 ^ n[1]*0xc2b2ae3d27d4eb4f ^ n[2]*0x165667b19e3779f9 ^ n[3]*0xd6e8feb86659fd93)
	t := &l.trials[(h^h>>29)>>(64-trialBits)]
	if t.in == l.round && t.n == *n {
		return true
	}
	t.n, t.in = *n, l.round
	return false
}

// inherit takes over the sets of a smaller rectangle. The first such list is
// taken as it is.
func (l *lister) inherit(list *[]int32, from []int32, need int64) {
	l.work += len(from) / 4
	if len(*list) == 0 {
		n := 0
		for n < len(from) && l.labels[from[n]].val > need {
			l.tried(&l.labels[from[n]].n)
			n++
		}
		*list = append(*list, from[:n]...)
		for _, a := range *list {
			l.cur = append(l.cur, l.signs[a])
		}
		return
	}
	for _, a := range from {
		s := &l.labels[a]
		if s.val <= need {
			return
		}
		if !l.tried(&s.n) {
			l.insert(list, a)
		}
	}
}

func (l *lister) insert(list *[]int32, a int32) {
	if !l.beaten(*list, &l.labels[a], l.signs[a]) {
		l.seat(list, a)
	}
}

func (l *lister) beaten(list []int32, s *set, g uint64) bool {
	if !l.staged && l.last.in == l.round {
		for i := range l.last.n {
			if l.fewer(&s.n, &l.last.n[i]) {
				l.work++
				return true
			}
		}
	}
	list = list[:l.above(list, s.val)]
	for k, o := range l.signsOf(list) {
		if o&g != g {
			continue
		}
		if o := &l.labels[list[k]]; l.fewer(&s.n, &o.n) {
			l.work += k / 8
			if l.last.in != l.round {
				l.last = beaters{in: l.round}
			}
			l.last.n[l.last.at] = o.n
			l.last.at = (l.last.at + 1) % len(l.last.n)
			return true
		}
	}
	l.work += len(list) / 8
	return false
}

// above is how many sets of a list are worth v or more.
func (l *lister) above(list []int32, v int64) int {
	lo, hi := 0, len(list)
	for lo < hi {
		if m := int(uint(lo+hi) >> 1); l.labels[list[m]].val >= v {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
}

func (l *lister) seat(list *[]int32, a int32) {
	s := &l.labels[a]
	out := *list
	g := l.signs[a]
	lo := l.above(out, s.val)
	signs := l.signsOf(out)
	n := lo // those behind that it does not beat
	for k := lo; k < len(out); k++ {
		if signs[k]&^g != 0 || !l.fewer(&l.labels[out[k]].n, &s.n) {
			if n < k {
				out[n], signs[n] = out[k], signs[k]
			}
			n++
		}
	}
	out, signs = append(out[:n], 0), append(signs[:n], 0)
	copy(out[lo+1:], out[lo:])
	copy(signs[lo+1:], signs[lo:])
	out[lo], signs[lo] = a, g
	l.work += len(out) / 8
	n++
	if l.keep > 0 && n > l.keep {
		n, l.lost = l.keep, true
	}
	*list, l.cur = out[:n], signs[:n]
}

// signsOf is the signs of a list: those of the rectangle at hand, or made anew
// where stages are limited.
func (l *lister) signsOf(list []int32) []uint64 {
	if l.staged {
		l.cur = l.cur[:0]
		for _, a := range list {
			l.cur = append(l.cur, l.signs[a])
		}
	}
	return l.cur[:len(list)]
}
