package cutting

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"casewright/internal/unit"
)

// onCores solves a job on one, two and four cores and reports where the answers
// are not the same.
func onCores(t *testing.T, name string, solve func(c *Cores) any) {
	t.Helper()
	var first any
	for _, further := range []int{0, 1, 3} {
		got := solve(NewCores(further))
		if further == 0 {
			first = got
		} else if !reflect.DeepEqual(got, first) {
			t.Errorf("%s: another answer with %d further cores", name, further)
		}
	}
}

// Large jobs come out alike on any number of cores: on one size of panel and on
// several prices, where the cheap ones run out, where all of them do, and where
// patterns come first.
func TestCoresDoNotChangeBatches(t *testing.T) {
	const pieces = 700
	for _, c := range []struct {
		name           string
		unlike, panels int
		stock          []int // of each size of panel
		short          bool
	}{
		{"one size", 40, 1, []int{-1}, false},
		{"four prices", 50, 4, []int{-1, -1, -1, -1}, false},
		{"cheap ones run out", 100, 4, []int{-1, 7, 5, 4}, false},
		{"all run out", 60, 4, []int{16, 7, 1, 0}, true},
		{"patterns first", 4, 2, []int{-1, 12}, false},
	} {
		r := newRNG(8)
		job := repeated(&r, pieces, c.unlike, c.panels)
		for i, n := range c.stock {
			job.Sheets[i].Stock = n
		}
		onCores(t, c.name, func(cores *Cores) any {
			var told []Progress
			res, err := Solve(context.Background(), job, Budget{Iterations: 20_000, Cores: cores, Progress: func(p Progress) { told = append(told, p) }})
			if err != nil {
				t.Fatal(err)
			}
			if c.short != (len(res.Short) > 0) || len(told) == 0 {
				t.Errorf("%s: %d short, told %d times", c.name, len(res.Short), len(told))
			}
			used := make([]int, len(job.Sheets))
			for _, l := range res.Layouts {
				used[l.Sheet] += l.Copies
			}
			for i, n := range c.stock {
				if n >= 0 && used[i] > n {
					t.Errorf("%s: %d of %d sheets used", c.name, used[i], n)
				}
			}
			return []any{res, told}
		})
	}
}

// Windows that come out cheaper are taken: two sheets, each half full, become
// one, and of small cheap ones no more are used by all the windows searched side
// by side than there are.
func TestWindowsSaveSheets(t *testing.T) {
	mm := unit.Millimetre
	const pieces, small = 240, 11
	job := Job{
		Objective: LeastPrice,
		Sheets:    []Sheet{{W: 1000 * mm, H: 1000 * mm, Price: 10, Stock: 400}, {W: 1000 * mm, H: 500 * mm, Price: 1, Stock: small}},
		Items:     []Item{{W: 1000 * mm, H: 500 * mm, Qty: pieces}},
	}
	onCores(t, "windows", func(cores *Cores) any {
		p, _ := newProblem(job)
		p.cores = cores
		b := &batcher{p: p, rng: newRNG(1), ctx: context.Background(), most: 150_000, stock: []int{0, small}}
		b.report = func(int64) {
			if slices.Min(b.stock) < 0 {
				t.Errorf("in stock %d", b.stock)
			}
		}
		for range pieces { // one on each sheet
			x := &bin{}
			x.reset(0, p.sheets[0].w, p.sheets[0].h)
			x.insert(0, 0, p.types[0].w, p.types[0].h, false, false)
			b.bins = append(b.bins, x)
		}
		b.windows(p.areaBound(), []int{0})
		parts, used := 0, make([]int, 2)
		for _, x := range b.bins {
			used[x.sheet]++
			for _, n := range x.n {
				if n.typ >= 0 {
					parts++
				}
			}
		}
		if parts != pieces || used[1] != small || used[0] != (pieces-small+1)/2 || b.stock[0] != pieces-used[0] || b.stock[1] != 0 {
			t.Errorf("%d parts, sheets of each size used %d, in stock %d", parts, used, b.stock)
		}
		return b.moves
	})
}

// A search for savings finds the same change on any number of cores as one that
// begins no try before its turn, whether the tries ahead come to nothing or each
// is better than the one before.
func TestCoresDoNotChangeSavings(t *testing.T) {
	mm := unit.Millimetre
	r := newRNG(4)
	ctx := context.Background()
	found, replaced := 0, 0
	for range 30 {
		w, h := 900+r.below(200), 600+r.below(100)
		job := Job{Kerf: 3 * mm, Sheets: []Sheet{{W: unit.Length(w) * mm, H: unit.Length(h) * mm, Stock: -1}}}
		for range 1 + r.below(3) { // in rows that are a little too long and too wide for the panel, or just fit
			n, m := 1+r.below(3), 2+r.below(2)
			job.Items = append(job.Items, Item{
				W: unit.Length(10*(w-3*(n-1))/n+r.below(40)-10*min(1, n-1)) * mm / 10, Qty: n * m,
				H: unit.Length(10*(h-3*(m-1))/m+r.below(40)) * mm / 10,
			})
			it := &job.Items[len(job.Items)-1]
			it.W = min(it.W, job.Sheets[0].W)
		}
		res, err := Solve(ctx, job, Budget{Iterations: 2000})
		if err != nil {
			t.Fatal(err)
		}
		plain := saver{job: job, r: res, budget: Budget{Iterations: 500, valued: true}, short: res.pieces()}
		changes := 0
		for _, y := range plain.list() {
			if y.top = plain.most(y); y.top >= 1 {
				if c := plain.at(ctx, y, y.top); c != nil {
					plain.best = plain.least(ctx, y, c)
					changes++
				}
			}
		}
		found += min(changes, 1)
		replaced += max(0, changes-1)
		for _, cores := range []*Cores{nil, NewCores(0), NewCores(1), NewCores(3)} {
			if c, err := Saving(ctx, job, res, Budget{Iterations: 500, Cores: cores}); err != nil || !reflect.DeepEqual(c, plain.best) {
				t.Errorf("%+v with further cores, %+v in turn, %v", c, plain.best, err)
			}
		}
	}
	if t.Logf("%d jobs with a saving, %d times a lesser change was found", found, replaced); found < 10 || replaced < 5 {
		t.Error("too few to compare")
	}
}
