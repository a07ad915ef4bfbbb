package cutting

import (
	"cmp"
	"slices"
)

// A knapsack prices patterns of lengths: sets of pieces that fit a bar end to
// end. It keeps, type by type in the order of worth for length, the list of
// all (length, worth) that no other set beats in both (Nemhauser and Ullmann
// 1969), less those that cannot lead to a better set any more.
type knapsack struct {
	p     *problem
	order []int
	lists [2][]state
	arena []choice
}

type state struct {
	len, worth int64
	from       int32 // index into arena; -1: empty
}

type choice struct {
	typ  int32
	from int32
}

func (k *knapsack) best(sheet int, worth []int64, most []int, _ int64) (int64, pattern) {
	room := k.p.sheets[sheet].w
	k.order = k.order[:0]
	for t, v := range worth {
		if v > 0 && most[t] > 0 && k.p.types[t].w <= room && k.p.types[t].h <= k.p.sheets[sheet].h {
			k.order = append(k.order, t)
		}
	}
	types := k.p.types
	slices.SortStableFunc(k.order, func(a, b int) int {
		return cmp.Compare(float64(worth[b])/float64(types[b].w), float64(worth[a])/float64(types[a].w))
	})
	k.arena = k.arena[:0]
	cur, next := append(k.lists[0][:0], state{0, 0, -1}), k.lists[1][:0]
	top := state{0, 0, -1}
	// A quick good set: greedily by ratio.
	var greedy, left int64 = 0, room
	for _, t := range k.order {
		n := min(int64(most[t]), left/types[t].w)
		greedy += n * worth[t]
		left -= n * types[t].w
	}
	for o, t := range k.order {
		w, v := types[t].w, worth[t]
		ratio := 0.0 // of what follows this type
		if o+1 < len(k.order) {
			u := k.order[o+1]
			ratio = float64(worth[u]) / float64(types[u].w)
		}
		for n := 0; n < most[t] && int64(n+1)*w <= room; n++ {
			made := len(k.arena)
			next = k.merge(next[:0], cur, w, v, room, int32(t))
			if len(k.arena) == made {
				break // one more fits nowhere, or pays nowhere
			}
			cur, next = next, cur
		}
		top = cur[len(cur)-1]
		floor := max(top.worth, greedy)
		kept := cur[:0]
		for _, s := range cur {
			if float64(s.worth)+float64(room-s.len)*ratio*(1+1e-9)+1 >= float64(floor) {
				kept = append(kept, s)
			}
		}
		cur = kept
	}
	k.lists[0], k.lists[1] = cur, next
	pat := pattern{sheet: sheet}
	for i := top.from; i >= 0; i = k.arena[i].from {
		t := int(k.arena[i].typ)
		if n := len(pat.use); n > 0 && pat.use[n-1].typ == t {
			pat.use[n-1].n++
		} else {
			pat.use = append(pat.use, run{t, 1})
		}
	}
	return top.worth, pat
}

// merge writes to out the unbeaten states of list with and without one more
// piece. A state that already holds n pieces of the type may take another, so
// calling it n times allows up to n pieces.
func (k *knapsack) merge(out, list []state, w, v, room int64, typ int32) []state {
	i, j := 0, 0
	high := int64(-1)
	for i < len(list) || j < len(list) {
		takeNew := false
		switch {
		case i == len(list):
			takeNew = true
		case j == len(list):
		case list[j].len+w < list[i].len:
			takeNew = true
		case list[j].len+w == list[i].len:
			takeNew = list[j].worth+v > list[i].worth
		}
		if !takeNew {
			if list[i].worth > high {
				out = append(out, list[i])
				high = list[i].worth
			}
			i++
			continue
		}
		s := list[j]
		j++
		if s.len+w > room {
			if i == len(list) {
				break
			}
			j = len(list)
			continue
		}
		if s.worth+v > high {
			k.arena = append(k.arena, choice{typ, s.from})
			out = append(out, state{s.len + w, s.worth + v, int32(len(k.arena) - 1)})
			high = s.worth + v
		}
	}
	return out
}
