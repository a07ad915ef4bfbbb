package cutting

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Cuts hold for every choice of whole sheets that holds all parts, and for what
// is left of it when some of its sheets are picked.
func TestLotCutsHoldForWholeSheets(t *testing.T) {
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			tree, lot := drawTree(t)
			left := tree.f.most
			cuts := tree.rootCuts(lot)
			if len(cuts) == 0 {
				continue
			}
			tree.answers(left, lot, 50_000, func(picks []int) {
				rest, less := slices.Clone(left), slices.Clone(lot)
				for n, i := range picks {
					for _, c := range cuts {
						sum := 0
						for _, k := range picks[n:] {
							sum += c.count(&tree.cols[k], rest)
						}
						if least := c.least(rest, less); sum < least {
							t.Fatalf("cut %v: patterns %v count %d, not %d, of %v on sheets %v", c, picks[n:], sum, least, rest, less)
						} else if least > 0 {
							held++
						}
					}
					p := &tree.cols[i]
					less[p.kind]--
					for ty, k := range p.n {
						rest[ty] = max(0, rest[ty]-int(k))
					}
				}
			})
		}
	})
	if held < 1000 {
		t.Errorf("cuts were tried %d times: draw others", held)
	}
}

// The cuts found are all those of up to three types that the program breaks by
// what they say outright, and once taken in they are kept.
func TestLotCutsAgainstTryingAll(t *testing.T) {
	broken, kept := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			tree, lot := drawTree(t)
			g := tree.rootProgram(lot)
			if g.m.value() > 1 { // too few sheets: it is not asked for cuts
				continue
			}
			count := func(c lotCut) (sum float64) {
				for _, u := range g.shares() {
					sum += u.x * float64(c.count(u.p, g.left))
				}
				return sum
			}
			found := g.breaches()
			for _, b := range found {
				if by := float64(b.cut.least(g.left, g.lot)) - count(b.cut); math.Abs(2*by-b.by) > 1e-6 {
					t.Fatalf("cut %v is broken by %v, said to be %v", b.cut, by, b.by/2)
				}
			}
			want := 0
			for types := 1; types < 1<<len(g.left); types++ {
				for kinds := range 1 << len(lot) {
					c := lotCut{types: ones(types), kinds: ones(kinds)}
					if len(c.types) > 3 || slices.ContainsFunc(c.kinds, func(s int) bool { return lot[s] == 0 }) {
						continue
					}
					if 2*(float64(c.least(g.left, lot))-count(c)) > treeCutLeast+1e-6 {
						want++
					}
				}
			}
			if len(found) < want {
				t.Fatalf("%d cuts found; trying all finds %d", len(found), want)
			}
			broken += want
			if want == 0 {
				continue
			}
			g.sharpen()
			g.m.run()
			for n, c := range g.cuts {
				sum := 0.0
				for k, j := range g.m.basis {
					col := &g.m.cols[j]
					for x, r := range col.idx {
						if int(r) == g.m.rows-len(g.cuts)+n {
							sum += g.m.x[k] * col.val[x]
						}
					}
					if rc := g.m.reduced(int(j)); g.m.x[k] < -1e-6 || math.Abs(rc) > 1e-6 {
						t.Fatalf("a column of the basis is cut %v times and its reduced price is %v", g.m.x[k], rc)
					}
				}
				if math.Abs(sum-float64(g.need[n])) > 1e-6 {
					t.Fatalf("cut %v comes to %v, not %d", c, sum, g.need[n])
				}
				kept++
			}
		}
	})
	if broken < 100 || kept < 100 {
		t.Errorf("%d cuts broken, %d kept: draw others", broken, kept)
	}
}

// rootProgram is the program over all patterns for all parts, without cuts.
func (tree *lotTree) rootProgram(lot []int) *lotProgram {
	tree.hold()
	var all []int32
	for i := range tree.cols {
		if lot[tree.cols[i].kind] > 0 {
			all = append(all, int32(i))
		}
	}
	g := &tree.prog
	g.begin(tree, tree.f.most, lot, all, lotStart{use: all})
	g.m.run()
	return g
}

// rootCuts takes cuts in for three rounds, whatever the prices say.
func (tree *lotTree) rootCuts(lot []int) []lotCut {
	g := tree.rootProgram(lot)
	for range 3 {
		g.sharpen()
		g.m.run()
	}
	return g.cuts
}

// answers calls with patterns that hold all parts left, each choice of them in
// one order, as far as so many tries go.
func (tree *lotTree) answers(left, lot []int, most int, found func(picks []int)) {
	var try func(from int, left, lot, picks []int)
	try = func(from int, left, lot, picks []int) {
		most--
		if done(left) {
			found(picks)
			return
		}
		for i := from; i < len(tree.cols) && most > 0; i++ {
			c := &tree.cols[i]
			if lot[c.kind] == 0 {
				continue
			}
			rest, less := slices.Clone(left), slices.Clone(lot)
			less[c.kind]--
			for ty, n := range c.n {
				rest[ty] = max(0, rest[ty]-int(n))
			}
			try(i, rest, less, append(picks, i))
		}
	}
	try(0, left, lot, nil)
}

// ones lists the bits of a number.
func ones(n int) (list []int) {
	for b := 0; n>>b > 0; b++ {
		if n>>b&1 == 1 {
			list = append(list, b)
		}
	}
	return list
}
