package cutting

import (
	"cmp"
	"slices"
)

// begin begins with a rectangle.
func (l *lister) begin(at int32) {
	l.round++
	l.here, l.cur, l.wait = at, l.cur[:0], l.wait[:0]
}

// add offers the rectangle at hand a set that is new, and its sign: that has a
// bit for each type that the set holds, by its number modulo 64. A set that holds
// all of another has all its bits.
func (l *lister) add(list *[]int32, s *set, sign uint64) {
	if l.tried(&s.n) || l.beaten(*list, s, sign) {
		return
	}
	l.labels, l.home, l.signs = append(l.labels, *s), append(l.home, l.here), append(l.signs, sign)
	l.await(list, int32(len(l.labels)-1))
}

// addPart offers it a part, by type and turn.
func (l *lister) addPart(list *[]int32, arg int32, need int64) {
	t := arg >> 1
	s := set{val: l.worth[t], a: -1, b: arg}
	f := l.fields[t]
	s.n[f.word] = 1 << f.at
	if s.val > need {
		l.add(list, &s, 1<<(t&63))
	}
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
		l.await(list, a)
	}
}

// await puts a set with those to be listed. These are listed when they are
// many, and where the rectangle is done.
func (l *lister) await(list *[]int32, a int32) {
	if l.wait = append(l.wait, a); len(l.wait) >= l.room+len(*list)/2 {
		l.settle(list)
	}
}

// mostWaiting is how many sets wait at least before they are listed (a guess).
const mostWaiting = 64

// beaten reports whether a set listed of the rectangle at hand holds all of s
// and more. It is worth at least the cheapest part more, so few need be looked
// at, or none.
func (l *lister) beaten(list []int32, s *set, g uint64) bool {
	full := l.keep > 0 && len(list) == l.keep && s.val <= l.labels[list[len(list)-1]].val
	list = list[:l.above(list, s.val+l.least)]
	if len(list) == 0 {
		l.lost = l.lost || full
		return full
	}
	if l.last.in == l.round {
		for i := range l.last.n {
			if l.fewer(&s.n, &l.last.n[i]) {
				l.work++
				return true
			}
		}
	}
	for k, o := range l.cur[:len(list)] {
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
	l.lost = l.lost || full
	return full
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

// settle lists the sets that wait, those worth most first, and drops what
// others hold.
func (l *lister) settle(list *[]int32) {
	if len(l.wait) == 0 {
		return
	}
	slices.SortFunc(l.wait, func(a, b int32) int { return cmp.Or(cmp.Compare(l.labels[b].val, l.labels[a].val), cmp.Compare(a, b)) })
	old := append(l.old[:0], *list...)
	out, cur := (*list)[:0], l.cur[:0]
	fresh := l.wait[:0] // those listed, in place
	i, j := 0, 0
	wait := l.wait
	for i < len(old) || j < len(wait) {
		isNew := i == len(old) || j < len(wait) && l.labels[wait[j]].val > l.labels[old[i]].val
		var a int32
		if isNew {
			a = wait[j]
			j++
		} else {
			a = old[i]
			i++
		}
		if l.held(a, out, fresh, isNew) {
			continue
		}
		if isNew {
			fresh = append(fresh, a)
		}
		out, cur = append(out, a), append(cur, l.signs[a])
	}
	l.work += len(out) / 8
	if l.keep > 0 && len(out) > l.keep {
		out, cur, l.lost = out[:l.keep], cur[:l.keep], true
	}
	*list, l.cur, l.old, l.wait = out, cur, old, l.wait[:0]
}

// held reports whether one of the fresh sets holds all of a set and more, or
// one listed is the same.
func (l *lister) held(a int32, list, fresh []int32, isNew bool) bool {
	s, g := &l.labels[a], l.signs[a]
	if isNew {
		for k := len(list) - 1; k >= 0 && l.labels[list[k]].val == s.val; k-- {
			if l.labels[list[k]].n == s.n {
				return true
			}
		}
	}
	if len(fresh) == 0 || l.labels[fresh[0]].val < s.val+l.least {
		return false
	}
	n := l.above(fresh, s.val+l.least)
	l.work += n / 8
	for _, o := range fresh[:n] {
		if l.signs[o]&g == g && l.fewer(&s.n, &l.labels[o].n) {
			return true
		}
	}
	return false
}
