package cutting

import (
	"context"
	"math"
	"math/bits"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// Where blocks may lose any area and all are gone on with, the best is the
// fullest sheet that trying every cut at every whole coordinate finds.
func TestBlocksAgainstTryingEverything(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 1)
		if rapid.Bool().Draw(t, "large") { // a part as large as nearly the sheet, and small ones beside
			w, h := max(1, sheets[0].w-2), max(1, sheets[0].h-1)
			job.Items[0].W, job.Items[0].H = unit.Length(w), unit.Length(h)
			for i := range job.Items[0].Qty {
				o.w[i], o.h[i] = w, h
			}
		}
		p, _ := newProblem(job)
		if len(p.types) == 0 || len(p.sheets) == 0 {
			return
		}
		r := newRNG(job.Seed)
		b := newBuilder(p, 0, 1<<20, 100, &r)
		b.build(ctx, 1<<40)
		step := int(p.unitX) * int(p.unitY)
		most := 0
		for set := range 1 << len(o.w) {
			if !o.fits(sheets[0].w, sheets[0].h, set) {
				continue
			}
			area := 0
			for s := set; s > 0; s &= s - 1 {
				i := bits.TrailingZeros(uint(s))
				area += (o.w[i] + o.kerf) * (o.h[i] + o.kerf)
			}
			most = max(most, area)
		}
		if got := int(b.best.used) * step; got != most {
			t.Fatalf("%+v: %d of a sheet is filled, trying everything fills %d", job, got, most)
		}
		if top := b.sheet(0); top != nil {
			soundSheet(t, p, top)
			if int(top.used) != int(b.best.used) {
				t.Fatalf("the sheet holds %g, the block %g", top.used, b.best.used)
			}
		}
	})
}

// Sheets filled with blocks hold no more than is asked for, and can be cut:
// parts alike, turned or not, and more than a set has room for.
func TestBlockFullIsSound(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		job := Job{Kerf: unit.Length(n(0, 4, "kerf")), Sheets: []Sheet{{W: unit.Length(n(60, 300, "W")), H: unit.Length(n(60, 300, "H")), Stock: -1}}}
		for range n(1, 40, "types") {
			job.Items = append(job.Items, Item{W: unit.Length(n(1, 90, "w")), H: unit.Length(n(1, 90, "h")), Qty: n(1, 12, "qty"), Turn: rapid.Bool().Draw(t, "turn")})
		}
		p, _ := newProblem(job)
		if len(p.types) == 0 {
			return
		}
		if !p.blockable() {
			return
		}
		r := newRNG(uint64(n(0, 1000, "seed")))
		top, took := p.blockFull(ctx, &r, 0, n(5, 60, "width"), 0.01, n(1, 2000, "moves"))
		if top == nil {
			if area := p.area(); area >= 0.99*p.size(0) || took > 0 {
				t.Fatalf("nothing in %d moves, of parts of %g on %g", took, area, p.size(0))
			}
			return
		}
		soundSheet(t, p, top)
	})
}

// soundSheet checks that a sheet holds no more than is asked for, each part with
// its size and grain, and that what a cut leaves makes up what was cut.
func soundSheet(t *rapid.T, p *problem, b *bin) {
	left := make([]int, len(p.types))
	for i, ty := range p.types {
		left[i] = ty.qty
	}
	if s := p.sheets[b.sheet]; b.n[0].w != s.w || b.n[0].h != s.h {
		t.Fatalf("a sheet of %d x %d", b.n[0].w, b.n[0].h)
	}
	used := 0.0
	for i, n := range b.n {
		switch {
		case n.typ >= 0:
			if left[n.typ]--; left[n.typ] < 0 {
				t.Fatalf("too many of part %d", n.typ)
			}
			asked(t, p, &n)
			used += p.types[n.typ].area
		case n.typ == splitAt:
			var w, h int64
			for c := n.first; c >= 0; c = b.n[c].next {
				if m := b.n[c]; n.vert {
					w, h = w+m.w, m.h
				} else {
					w, h = m.w, h+m.h
				}
				if m := b.n[c]; n.vert && m.h != n.h || !n.vert && m.w != n.w {
					t.Fatalf("%d x %d is cut off %d x %d", m.w, m.h, n.w, n.h)
				}
			}
			if w != n.w || h != n.h {
				t.Fatalf("node %d of %d x %d is cut to %d x %d", i, n.w, n.h, w, h)
			}
		}
	}
	if used != b.used {
		t.Fatalf("parts of %g in all, said to be %g", used, b.used)
	}
}

func TestDrawn(t *testing.T) {
	r := newRNG(1)
	p, _ := newProblem(furniture(&r, 400))
	for range 50 {
		sum := 0
		for i, n := range p.drawn(&r, 123) {
			if n > p.types[i].qty {
				t.Fatalf("%d of part %d are drawn, %d are asked for", n, i, p.types[i].qty)
			}
			sum += n
		}
		if sum != 123 {
			t.Fatalf("%d pieces are drawn", sum)
		}
	}
}

func TestHashes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s hashes
		known := map[uint64]bool{}
		for _, h := range rapid.SliceOfN(rapid.Uint64Range(1, 3000), 0, 4000).Draw(t, "numbers") {
			h *= 0x9E3779B97F4A7C15 // none of them 0
			if s.add(h) == known[h] {
				t.Fatalf("%d is new, or not, the other way round", h)
			}
			known[h] = true
		}
	})
}

// Jobs that fill 98 % of three sheets, which the search over all sheets does
// not find, are found.
func TestTightSheets(t *testing.T) {
	const jobs, moves = 8, 150_000
	r := newRNG(11)
	found := 0
	for range jobs {
		job := crowd(&r, 98)
		res, err := Solve(context.Background(), job, Budget{Iterations: moves, Cores: NewCores(1)})
		if err != nil {
			t.Fatal(err)
		}
		found += b2i(res.Value == 3 && res.Proven)
	}
	t.Logf("%d of %d", found, jobs)
	if found < jobs/2 {
		t.Errorf("three sheets are found for %d of %d jobs", found, jobs)
	}
}

// A batch of unlike parts loses little more than two hundredths of its panels.
func TestBatchOfBlocks(t *testing.T) {
	r := newRNG(3)
	res, err := Solve(context.Background(), repeated(&r, 1500, 50, 1), Budget{Cores: NewCores(1)})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("value %d, bound %d", res.Value, res.Bound)
	if lost := float64(res.Value)/float64(res.Bound) - 1; lost > 0.025 {
		t.Errorf("%.1f %% above the bound", 100*lost)
	}
}

// A budget without a limit is no reason not to try.
func TestBlockFullWithoutLimit(t *testing.T) {
	r := newRNG(2)
	p, _ := newProblem(crowd(&r, 97))
	top, took := p.blockFull(context.Background(), &r, 0, firstBlocks, 0.01, math.MaxInt)
	if top == nil || took < 10 || top.used < 0.98*p.size(0) {
		t.Errorf("%d moves, %v", took, top)
	}
}

// Small parts are joined to a block while the last band is gone through.
func TestBlocksInLastBand(t *testing.T) {
	job := Job{Sheets: []Sheet{{W: 10, H: 10, Stock: -1}}, Items: []Item{{W: 8, H: 9, Qty: 1}, {W: 6, H: 1, Qty: 1}, {W: 2, H: 10, Qty: 1}}}
	p, _ := newProblem(job)
	r := newRNG(1)
	b := newBuilder(p, 0, 1<<20, 100, &r)
	b.build(context.Background(), 1<<40)
	if used := b.best.used * float64(p.unitX) * float64(p.unitY); used != 98 {
		t.Errorf("%g of 98 is used", used)
	}
}

// Parts so small that a bag of them is less than a sheet, and a budget of a few
// moves for each: blocks cannot fill the sheets, and take no time.
func TestBatchOfSmallParts(t *testing.T) {
	r := newRNG(8)
	job := Job{Sheets: []Sheet{{W: 300, H: 300, Stock: -1}}}
	for left := 2 * 300 * 300 * 96 / 100; left > 0; {
		w, h := 1+r.below(20), 1+r.below(20)
		left -= w * h
		job.Items = append(job.Items, Item{W: unit.Length(w), H: unit.Length(h), Qty: 1, Turn: true})
	}
	const budget = 10_000
	res, err := Solve(context.Background(), job, Budget{Iterations: budget})
	if err != nil || res.Value != 2 || res.Iterations > budget+budget/10 {
		t.Errorf("%d sheets for %d parts, %d moves, %v", res.Value, len(job.Items), res.Iterations, err)
	}
}
