package cutting

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A set of pieces has a rectangle that fits a sheet exactly when trying every cut
// finds it on that sheet, and is drawn with just its pieces.
func TestCutTableAgainstTryingEverything(t *testing.T) {
	fit, not := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 3)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		table, of := newCutTable(context.Background(), p), pieceTypes(p, job)
		for range 20 {
			set := rapid.IntRange(1, 1<<len(of)-1).Draw(t, "set")
			own, use := setOf(table, of, set)
			at := table.of(own)
			for s := range p.sheets {
				want := o.fits(sheets[p.sheets[s].job].w, sheets[p.sheets[s].job].h, set)
				if got := table.fit(int(at), s) >= 0; got != want {
					t.Fatalf("%+v: %v fits sheet %d: %v, want %v", job, use, s, got, want)
				}
				if !want {
					not++
					continue
				}
				fit++
				if pat := p.pattern(table.tree(at, s)); !slices.Equal(pat.use, use) || pat.sheet != s {
					t.Fatalf("%+v: sheet %d is drawn with %v, want %v", job, s, pat.use, use)
				}
			}
		}
	})
	if fit < 100 || not < 100 {
		t.Errorf("%d sets fit, %d do not: draw others", fit, not)
	}
}

// setOf is a set of a table from one of pieces.
func setOf(table *cutTable, of []int, set int) (own pieceSet, use []run) {
	n := make([]int, len(table.p.types))
	for i, ty := range of {
		n[ty] += set >> i & 1
	}
	for ty, k := range n {
		if k > 0 {
			table.put(&own, ty, k)
			use = append(use, run{ty, k})
		}
	}
	return own, use
}

// The sets listed of a sheet are those that trying every cut finds worth more
// than the floor, each once; where the lister gives up, some of them. Small parts
// come on top as long as they fit.
func TestSetListerAgainstTryingEverything(t *testing.T) {
	listed, short, topped := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			job, o, sheets := drawSmall(t, 3)
			p, misfits := newProblem(job)
			if len(misfits) > 0 || len(p.types) == 0 {
				continue
			}
			of := pieceTypes(p, job)
			worth := make([]float64, len(p.types))
			for i := range worth {
				worth[i] = rapid.Float64Range(0, 20).Draw(t, "worth")
			}
			small := rapid.SampledFrom([]float64{0, 0, 5}).Draw(t, "small")
			table := newCutTable(context.Background(), p)
			l := newSetLister(table, worth, small)
			for s := range p.sheets {
				sheet := sheets[p.sheets[s].job]
				want := map[pieceSet]bool{}
				floor := rapid.Float64Range(0, 30).Draw(t, "floor")
				for set := range 1 << len(of) {
					own, use := setOf(table, of, set)
					v := 0.0
					core := len(use) > 0
					for _, u := range use {
						v += worth[u.typ] * float64(u.n)
						core = core && worth[u.typ] >= small
					}
					if core && v > floor+1e-6 && o.fits(sheet.w, sheet.h, set) {
						want[own] = true
					}
				}
				table.stop = table.work + rapid.SampledFrom([]int{5, 100, math.MaxInt >> 1}).Draw(t, "work")
				got, whole := l.list(s, floor)
				table.stop = math.MaxInt
				seen := map[pieceSet]bool{}
				for k, f := range got {
					var own pieceSet
					v := 0.0
					for _, u := range f.use {
						table.put(&own, u.typ, u.n)
						v += worth[u.typ] * float64(u.n)
					}
					if seen[own] || !want[own] && v > floor+1e-6 || table.of(own) != f.set {
						t.Fatalf("%+v: %v of worth %v above %v on sheet %d", job, f.use, v, floor, s)
					}
					seen[own] = true
					top := l.top(f, s, k)
					if at := table.fit(int(top.set), s); at < 0 || !slices.Equal(p.pattern(table.tree(top.set, s)).use, top.use) {
						t.Fatalf("%+v: %v on top of %v", job, top.use, f.use)
					}
					topped += len(top.use) - len(f.use)
				}
				if whole && len(seen) < len(want) {
					t.Fatalf("%+v: %d sets of %d are listed of sheet %d above %v, worths %v", job, len(seen), len(want), s, floor, worth)
				}
				listed += len(seen)
				if !whole {
					short++
				}
			}
		}
	})
	if listed < 100 || short == 0 || topped == 0 {
		t.Errorf("%d sets listed, %d lists given up, %d small parts put in: draw others", listed, short, topped)
	}
}
