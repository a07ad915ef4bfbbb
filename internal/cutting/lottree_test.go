package cutting

import (
	"context"
	"math"
	"slices"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// The tree over a list finds patterns that hold all parts, one for each sheet of
// a lot, exactly when trying all of them does, from whichever patterns its
// program begins.
func TestLotTreeAgainstTryingAll(t *testing.T) {
	can, cannot := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job := Job{Sheets: []Sheet{{ID: "a", W: 100, H: 100, Stock: -1}, {ID: "b", W: 100, H: 50, Stock: -1}}}
		types := rapid.IntRange(2, 7).Draw(t, "types")
		for i := range types {
			job.Items = append(job.Items, Item{W: unit.Length(10 + i), H: 10, Qty: rapid.IntRange(1, 3).Draw(t, "qty")})
		}
		p, _ := newProblem(job)
		f := newFitter(p)
		f.ctx, f.stop = context.Background(), math.MaxInt
		tree := &lotTree{f: f, whole: true}
		var all []int32
		for i := range rapid.IntRange(1, 40).Draw(t, "patterns") {
			c := lotCol{kind: rapid.IntRange(0, 1).Draw(t, "kind"), n: make([]int32, types)}
			for k := range c.n {
				c.n[k] = int32(min(p.types[k].qty, max(0, rapid.IntRange(-2, 3).Draw(t, "n"))))
			}
			tree.cols = append(tree.cols, c)
			all = append(all, int32(i))
		}
		lot := []int{rapid.IntRange(1, 3).Draw(t, "a"), rapid.IntRange(0, 2).Draw(t, "b")}
		want := coverable(tree.cols, slices.Clone(f.most), slices.Clone(lot))
		use := all[:rapid.IntRange(0, len(all)).Draw(t, "use")]
		got := tree.node(slices.Clone(f.most), slices.Clone(lot), all, use)
		if got != want || !got && !tree.whole {
			t.Fatalf("found %v, looked at everything %v; trying all finds %v", got, tree.whole, want)
		}
		if !got {
			cannot++
			return
		}
		can++
		left, used := slices.Clone(f.most), make([]int, 2)
		for _, i := range tree.picks {
			used[tree.cols[i].kind]++
			for k, n := range tree.cols[i].n {
				left[k] = max(0, left[k]-int(n))
			}
		}
		if !done(left) || used[0] > lot[0] || used[1] > lot[1] {
			t.Fatalf("picks %v leave %v of lot %v", tree.picks, left, lot)
		}
	})
	if can == 0 || cannot == 0 {
		t.Errorf("%d lots hold all parts, %d do not: draw others", can, cannot)
	}
}

// coverable tries every pattern for the sheets of a lot, one after another.
func coverable(cols []lotCol, left, lot []int) bool {
	if done(left) {
		return true
	}
	for _, c := range cols {
		if lot[c.kind] == 0 {
			continue
		}
		rest := slices.Clone(left)
		fresh := false
		for k, n := range c.n {
			fresh = fresh || n > 0 && rest[k] > 0
			rest[k] = max(0, rest[k]-int(n))
		}
		if !fresh {
			continue
		}
		lot[c.kind]--
		ok := coverable(cols, rest, lot)
		lot[c.kind]++
		if ok {
			return true
		}
	}
	return false
}
