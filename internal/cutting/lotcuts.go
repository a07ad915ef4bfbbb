package cutting

import (
	"cmp"
	"math/bits"
	"slices"
)

// A lotCut says what holds for whole sheets but not for shares of them. Half the
// pieces of some types that a sheet holds, rounded up, come to half of all their
// pieces, rounded up, over all sheets. So where an odd number is left, what a
// sheet holds counts for more when it is odd, and shares of such sheets are too
// little. A piece less may be counted for each sheet of some kinds; there are so
// many of them at most, and so many pieces less must be made (Chvatal-Gomory
// cuts with weights of one half, the subset rows of Jepsen and others 2008).
type lotCut struct {
	types []int
	kinds []int // of sheets
}

// least is what patterns must count together. It is nothing where the number of
// pieces is even: then the cut says no more than the rows of its types.
func (c *lotCut) least(left, lot []int) int {
	sum := 0
	for _, t := range c.types {
		sum += left[t]
	}
	for _, s := range c.kinds {
		sum -= lot[s]
	}
	if sum <= 0 || sum%2 == 0 {
		return 0
	}
	return (sum + 1) / 2
}

// count is what a pattern counts.
func (c *lotCut) count(p *lotCol, left []int) int {
	sum := 0
	for _, t := range c.types {
		sum += min(int(p.n[t]), left[t])
	}
	if slices.Contains(c.kinds, p.kind) {
		sum--
	}
	return (sum + 1) / 2
}

// Limits of cuts, tried on seven trees of furniture: sets of four and five types
// made them no smaller.
const (
	treeCutRounds = 3
	treeCutTake   = 15      // taken in at a time
	treeCutEach   = 4       // of those with the same type
	treeCuts      = 40      // in a program
	treeCutLeast  = 0.02    // what a cut must cut off, twice over
	treeCutTries  = 200_000 // with more sets of types and kinds of sheets all kinds count whole
)

// A lotBreach is a cut that the program breaks, and twice by how much.
type lotBreach struct {
	cut lotCut
	by  float64
}

// sharpen takes in the cuts that the program breaks most. It reports whether
// there are any.
func (g *lotProgram) sharpen() (fresh bool) {
	found := g.breaches()
	slices.SortStableFunc(found, func(a, b lotBreach) int { return cmp.Compare(b.by, a.by) })
	each := make([]int, len(g.left))
	took := 0
	for _, b := range found {
		if took == treeCutTake || len(g.cuts) == treeCuts {
			break
		}
		if slices.ContainsFunc(b.cut.types, func(t int) bool { return each[t] == treeCutEach }) {
			continue
		}
		for _, t := range b.cut.types {
			each[t]++
		}
		g.cut(b.cut)
		took++
	}
	return took > 0
}

// A lotShare is how often the program cuts a pattern.
type lotShare struct {
	p *lotCol
	x float64
}

// A lotOdd is which of the shares count an odd number, one bit for each, and how
// much is made too much or left over.
type lotOdd struct {
	bits []uint64
	over float64
}

// breaches lists the cuts of up to three types that the program breaks. Twice
// what patterns count is what they hold, and one more for each share of those
// that hold an odd number. So a cut is broken where those shares, the pieces too
// many and the sheets not used come to less than one together.
func (g *lotProgram) breaches() (found []lotBreach) {
	use := g.shares()
	var types []int
	var odd []lotOdd
	for _, ty := range g.back {
		o := oddShares(use, func(p *lotCol) int { return min(int(p.n[ty]), g.left[ty]) })
		if o.over -= float64(g.left[ty]); o.over < 1-treeCutLeast {
			types, odd = append(types, ty), append(odd, o)
		}
	}
	var kinds []int
	for s, c := range g.lot {
		if c > 0 {
			kinds = append(kinds, s)
		}
	}
	n := len(types)
	tries := n + n*(n-1)/2 + n*(n-1)*(n-2)/6
	if len(kinds) > 8 || tries<<len(kinds) > treeCutTries {
		kinds = nil
	}
	g.work += 3 * tries << len(kinds)
	for mask := range 1 << len(kinds) {
		var off []int
		sheets := 0
		for b, s := range kinds {
			if mask>>b&1 == 1 {
				off = append(off, s)
				sheets += g.lot[s]
			}
		}
		less := oddShares(use, func(p *lotCol) int {
			if slices.Contains(off, p.kind) {
				return 1
			}
			return 0
		})
		less.over = float64(sheets) - less.over
		set := make([]uint64, len(less.bits))
		try := func(of ...int) {
			pieces, sum := -sheets, less.over
			copy(set, less.bits)
			for _, k := range of {
				pieces += g.left[types[k]]
				sum += odd[k].over
				for w, v := range odd[k].bits {
					set[w] ^= v
				}
			}
			if pieces <= 0 || pieces%2 == 0 {
				return
			}
			for w, v := range set {
				for ; v != 0; v &= v - 1 {
					if sum += use[64*w+bits.TrailingZeros64(v)].x; sum > 1-treeCutLeast {
						return
					}
				}
			}
			c := lotCut{kinds: off}
			for _, k := range of {
				c.types = append(c.types, types[k])
			}
			found = append(found, lotBreach{c, 1 - sum})
		}
		for i := range types {
			try(i)
			for j := range i {
				try(j, i)
				for k := range j {
					try(k, j, i)
				}
			}
		}
	}
	return found
}

// shares lists what the program cuts, most often first: then few shares tell
// that a cut is kept.
func (g *lotProgram) shares() (use []lotShare) {
	for k, j := range g.m.basis {
		if p := g.what[j]; p >= 0 && g.m.x[k] > 1e-7 {
			use = append(use, lotShare{&g.t.cols[g.list[p]], g.m.x[k]})
		}
	}
	slices.SortStableFunc(use, func(a, b lotShare) int { return cmp.Compare(b.x, a.x) })
	return use
}

// oddShares counts something of the patterns cut.
func oddShares(use []lotShare, count func(p *lotCol) int) (o lotOdd) {
	o.bits = make([]uint64, (len(use)+63)/64)
	for n, u := range use {
		c := count(u.p)
		o.bits[n/64] |= uint64(c&1) << (n % 64)
		o.over += float64(c) * u.x
	}
	return o
}
