package cutting

import (
	"context"
	"encoding/binary"
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
	can, cannot, cuts := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			tree, lot := drawTree(t)
			use := make([]int32, rapid.IntRange(0, len(tree.cols)).Draw(t, "use"))
			for i := range use {
				use[i] = int32(i)
			}
			want := coverable(tree.cols, slices.Clone(tree.f.most), slices.Clone(lot))
			got := tree.find(tree.f.most, lot, use)
			if got != want || !got && !tree.whole {
				t.Fatalf("found %v, looked at everything %v; trying all finds %v", got, tree.whole, want)
			}
			if len(tree.prog.cuts) > 0 {
				cuts++
			}
			if !got {
				cannot++
				continue
			}
			can++
			tree.checkPicks(t, lot)
		}
	})
	if can == 0 || cannot == 0 || cuts == 0 {
		t.Errorf("%d lots hold all parts, %d do not, %d had cuts: draw others", can, cannot, cuts)
	}
}

// A tree that is stopped and gone on with, again and again, comes to the same,
// and what it remembers as impossible is.
func TestLotTreeRemembers(t *testing.T) {
	stops, rests := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			tree, lot := drawTree(t)
			want := coverable(tree.cols, slices.Clone(tree.f.most), slices.Clone(lot))
			got := false
			for moves := 1; ; moves++ {
				tree.f.stop = tree.f.moves + moves
				if got = tree.find(tree.f.most, lot, nil); got || tree.whole {
					break
				}
				stops++
			}
			if got != want {
				t.Fatalf("found %v; trying all finds %v", got, want)
			}
			if got {
				tree.checkPicks(t, lot)
			}
			for name := range tree.seen {
				left, less := readRest(name, len(tree.f.most))
				if coverable(tree.cols, slices.Clone(left), slices.Clone(less)) {
					t.Fatalf("sheets %v can hold %v, which is remembered as impossible", less, left)
				}
				if len(less) != len(lot) || restName(left, less) != name {
					t.Fatalf("the name of rest %v %v is another's", left, less)
				}
				rests++
			}
		}
	})
	if stops < 100 || rests < 100 {
		t.Errorf("%d stops, %d rests remembered: draw others", stops, rests)
	}
}

// A rest that is remembered is not looked at again.
func TestLotTreeLooksOnce(t *testing.T) {
	again := 0
	rapid.Check(t, func(t *rapid.T) {
		tree, lot := drawTree(t)
		if tree.find(tree.f.most, lot, nil) {
			return
		}
		was := tree.f.moves
		if tree.find(tree.f.most, lot, nil) || !tree.whole {
			t.Fatal("the second look finds something else")
		}
		if n := tree.f.moves - was; len(tree.seen) > 0 && n != 1 {
			t.Fatalf("the second look takes %d moves", n)
		}
		again++
	})
	if again == 0 {
		t.Error("every lot holds all parts: draw others")
	}
}

// drawTree draws a list of patterns and a lot of up to three kinds of sheets that
// can hold about as many pieces as there are. A number drawn is the seed of the
// rest: so there are not only small ones.
func drawTree(t *rapid.T) (tree *lotTree, lot []int) {
	r := newRNG(rapid.Uint64().Draw(t, "seed"))
	job := Job{Sheets: []Sheet{{ID: "a", W: 100, H: 100, Stock: -1}, {ID: "b", W: 100, H: 50, Stock: -1}, {ID: "c", W: 50, H: 50, Stock: -1}}}
	lot = []int{1 + r.below(4), r.below(3), r.below(3)}
	sheets := lot[0] + lot[1] + lot[2]
	types := 3 + r.below(7)
	for i := range types {
		job.Items = append(job.Items, Item{W: unit.Length(10 + i), H: 10, Qty: 1 + r.below(3)})
	}
	p, _ := newProblem(job)
	f := newFitter(p)
	f.ctx, f.stop = context.Background(), math.MaxInt
	tree = &lotTree{f: f}
	holds := (p.pieces() + sheets - 1) / sheets
	for range 5 + r.below(50) {
		c := lotCol{kind: r.below(3), n: make([]int32, types)}
		for range holds {
			k := r.below(types)
			c.n[k] = min(int32(p.types[k].qty), c.n[k]+1)
		}
		tree.cols = append(tree.cols, c)
	}
	return tree, lot
}

// checkPicks checks that what the tree picked holds all parts on the lot.
func (tree *lotTree) checkPicks(t *rapid.T, lot []int) {
	left, used := slices.Clone(tree.f.most), make([]int, len(lot))
	for _, i := range tree.picks {
		used[tree.cols[i].kind]++
		for k, n := range tree.cols[i].n {
			left[k] = max(0, left[k]-int(n))
		}
	}
	for s, n := range used {
		if !done(left) || n > lot[s] {
			t.Fatalf("picks %v leave %v of lot %v", tree.picks, left, lot)
		}
	}
}

// readRest reads the name of a rest.
func readRest(name string, types int) (left, lot []int) {
	for b := []byte(name); len(b) > 0; {
		n, size := binary.Uvarint(b)
		lot, b = append(lot, int(n)), b[size:]
	}
	return lot[:types], lot[types:]
}

// coverable tries every pattern for the sheets of a lot, one after another: one
// of them holds a piece of the first type left.
func coverable(cols []lotCol, left, lot []int) bool {
	if done(left) {
		return true
	}
	first := slices.IndexFunc(left, func(n int) bool { return n > 0 })
	for _, c := range cols {
		if lot[c.kind] == 0 || c.n[first] == 0 {
			continue
		}
		rest := slices.Clone(left)
		for k, n := range c.n {
			rest[k] = max(0, rest[k]-int(n))
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
