package cutting

import (
	"context"
	"math"
	"slices"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// tightBars is a job of few pieces on bars of one size with little waste, so
// that the number of bars is not plain.
func tightBars(t *rapid.T) *problem {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	room := n(8, 60, "room")
	job := BarJob{Bars: []Bar{{Len: unit.Length(room), Price: 1, Stock: -1}}}
	left := n(1, 4, "bars")*room - n(0, 3, "waste")
	for pieces := 0; left > 0 && pieces < 10; pieces++ {
		w := min(left, n(max(1, room/6), room*4/5, "len"))
		if pieces == 9 {
			w = min(left, room)
		}
		left -= w
		job.Items = append(job.Items, BarItem{Len: unit.Length(w), Qty: 1})
	}
	p, _ := newProblem(flatJob(job))
	return p
}

// With the bars cut without choice no more bars are needed than without.
func TestBarsWithoutChoice(t *testing.T) {
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		p := tightBars(t)
		q, of, bars := p.paired()
		if got, want := int64(len(bars))+leastByDealing(q), leastByDealing(p); got != want {
			t.Fatalf("%v: %d bars, by dealing %d; cut: %v", p.types, got, want, bars)
		}
		made := make([]int, len(p.types))
		for i, ty := range of {
			made[ty] += q.types[i].qty
		}
		for _, b := range bars {
			room := p.sheets[0].w
			for _, u := range b.use {
				made[u.typ] += u.n
				room -= int64(u.n) * p.types[u.typ].w
			}
			if room < 0 {
				t.Fatalf("bar %v is overfull", b)
			}
		}
		for i, ty := range p.types {
			if made[i] != ty.qty {
				t.Fatalf("%d pieces of type %d, want %d", made[i], i, ty.qty)
			}
		}
		cut += len(bars)
	})
	if cut == 0 {
		t.Error("no bar was cut in any case")
	}
}

// The list of all sets is what trying every set finds.
func TestListOfSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tightBars(t)
		worth, most := make([]int64, len(p.types)), make([]int, len(p.types))
		for i, ty := range p.types {
			worth[i], most[i] = int64(rapid.IntRange(1, 20).Draw(t, "worth")), ty.qty
		}
		floor := int64(rapid.IntRange(1, 60).Draw(t, "floor"))
		want := 0
		var try func(i int, room, val int64)
		try = func(i int, room, val int64) {
			if i == len(most) {
				if val >= floor {
					want++
				}
				return
			}
			for k := int64(0); k <= int64(most[i]) && k*p.types[i].w <= room; k++ {
				try(i+1, room-k*p.types[i].w, val+k*worth[i])
			}
		}
		try(0, p.sheets[0].w, 0)
		f := newFiller(p)
		f.load(worth, most)
		list, whole := f.listAll(p.sheets[0].w, floor, math.MaxInt, math.MaxInt)
		if !whole || len(list) != want {
			t.Fatalf("%d sets, whole %v, want %d", len(list), whole, want)
		}
		seen := map[string]bool{}
		for _, l := range list {
			sum := int64(0)
			for _, u := range l.use {
				sum += int64(u.n) * worth[u.typ]
			}
			k := patternKey(0, l.use)
			if seen[k] || sum != l.worth || sum < floor {
				t.Fatalf("set %v is worth %d, said to be worth %d, floor %d, seen %v", l.use, sum, l.worth, floor, seen[k])
			}
			seen[k] = true
		}
	})
}

// The tree finds the least number of bars and rules out one fewer, at any
// duals, where dealing the pieces out in every way says so.
func TestBarTreeAgainstDealing(t *testing.T) {
	ruled, laid := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := tightBars(t)
		want := leastByDealing(p)
		m := newMix(context.Background(), p, newFiller(p))
		if rapid.Bool().Draw(t, "solved") {
			m.relax(func() bool { return false })
		}
		for bars := max(1, want-1); bars <= want; bars++ {
			tree := m.tree(bars)
			if tree == nil {
				t.Fatal("too many patterns for few pieces")
			}
			found, ok := tree.find(math.MaxInt)
			list := liftAll(found, tree.of)
			switch {
			case !ok && bars == want:
				t.Fatalf("%v: %d bars are enough, but ruled out", p.types, bars)
			case !ok:
				ruled++
				continue
			case int64(len(list)) > bars:
				t.Fatalf("%d patterns for %d bars", len(list), bars)
			}
			laid++
			left := make([]int, len(p.types))
			for i, ty := range p.types {
				if left[i] = ty.qty; !slices.Contains(tree.of, i) {
					left[i] = 0 // without a worth: not what the tree is about
				}
			}
			for _, pat := range list {
				room := p.sheets[0].w
				for _, u := range pat.use {
					left[u.typ] -= u.n
					room -= int64(u.n) * p.types[u.typ].w
				}
				if room < 0 {
					t.Fatalf("pattern %v is overfull", pat)
				}
			}
			if slices.Max(append(left, 0)) > 0 {
				t.Fatalf("%v left over of %v", left, p.types)
			}
		}
	})
	if ruled == 0 || laid == 0 {
		t.Errorf("%d ruled out, %d found: one of them is never tried", ruled, laid)
	}
}

// From lists of patterns at random the tree picks some that hold all pieces, or
// no way to pick holds each piece just once. Fractions are often enough where
// whole patterns are not, so cases have to be gone through.
func TestBarTreePicksFromAnyList(t *testing.T) {
	ruled, found := 0, 0
	r := newRNG(1)
	n := func(lo, hi int) int { return lo + r.below(hi-lo+1) }
	for k := range 20_000 {
		p := &problem{sheets: []psheet{{w: 100, h: 1, price: 1}}}
		pieces := 0
		many := k%2 == 1 // of a type: then there are no pairs to go by
		kinds, most := n(4, 9), 3
		if many {
			kinds, most = n(2, 4), 6
		}
		for range kinds {
			qty := n(1, 5)/4 + 1
			if many {
				qty = n(3, 6)
			}
			p.types = append(p.types, ptype{w: int64(n(10, 40)), h: 1, qty: qty})
			pieces += p.types[len(p.types)-1].qty
		}
		p.sheets[0].stock = pieces
		m := newMix(context.Background(), p, nil)
		m.firm = true
		for range n(4, 24) {
			count := make([]int, len(p.types))
			for range n(1, most) {
				i := n(0, len(p.types)-1)
				count[i] = min(count[i]+1, p.types[i].qty)
			}
			var use []run
			for i, c := range count {
				if c > 0 {
					use = append(use, run{i, c})
				}
			}
			m.learn(pattern{use: use})
		}
		m.cap = 50*m.rows + 1000
		m.run()
		bars := ceilSafe(m.value()) // enough in fractions
		if m.value() >= m.miss {
			bars = int64(pieces+1) / 2
		}
		enough := m.value() < float64(bars)+1e-7
		var list [][]run
		for _, c := range m.cols {
			if c.sheet >= 0 {
				list = append(list, c.use)
			}
		}
		left := make([]int, len(p.types))
		for i, ty := range p.types {
			left[i] = ty.qty
		}
		var pick func(k int, bars int64) bool // each piece just once, from pattern k on
		pick = func(k int, bars int64) bool {
			if done(left) {
				return true
			}
			if k == len(list) || bars == 0 {
				return false
			}
			if !slices.ContainsFunc(list[k], func(u run) bool { return left[u.typ] < u.n }) {
				for _, u := range list[k] {
					left[u.typ] -= u.n
				}
				ok := pick(k, bars-1)
				for _, u := range list[k] {
					left[u.typ] += u.n
				}
				if ok {
					return true
				}
			}
			return pick(k+1, bars)
		}
		tree := newBarTree(m, bars)
		got, ok := tree.find(math.MaxInt)
		if !tree.whole {
			t.Fatal("given up")
		}
		if !ok {
			if pick(0, bars) {
				t.Fatalf("%v: %d of %v are enough, but ruled out", left, bars, list)
			}
			if enough {
				ruled++
			}
			continue
		}
		found++
		for _, pat := range got {
			for _, u := range pat.use {
				left[u.typ] -= u.n
			}
		}
		if int64(len(got)) > bars || slices.Max(left) > 0 {
			t.Fatalf("%d patterns for %d bars leave %v", len(got), bars, left)
		}
	}
	if ruled < 50 || found < 50 {
		t.Errorf("%d ruled out that fractions allow, %d found: one of them is hardly tried", ruled, found)
	}
}
