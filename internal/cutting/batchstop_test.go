//go:build unix

package cutting

import (
	"context"
	"fmt"
	"testing"
)

// A large job that is stopped before it began is laid out all the same, and not
// badly: small parts fill what large ones leave.
func TestHurry(t *testing.T) {
	r := newRNG(5)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, unlike := range []int{33, 100} {
		job := repeated(&r, 3_000, unlike, 2)
		res, err := Solve(stopped, job, Budget{})
		if err != nil {
			t.Fatal(err)
		}
		if len(res.Short) > 0 || float64(res.Value) > 1.12*float64(res.Bound) {
			t.Errorf("%d%% unlike: %d kinds without a place, value %d, bound %d", unlike, len(res.Short), res.Value, res.Bound)
		}
		countPlaced(t, job, res, 3_000)

		// Where sheets run short, what has no further sheet is put wherever there is room.
		sheets := 0
		for _, l := range res.Layouts {
			sheets += l.Copies
		}
		for i := range job.Sheets {
			job.Sheets[i].Stock = sheets / 3
		}
		if res, err = Solve(stopped, job, Budget{}); err != nil {
			t.Fatal(err)
		}
		short := 0
		for _, s := range res.Short {
			short += s.Count
		}
		if short == 0 {
			t.Errorf("%d%% unlike: two thirds of the sheets hold all", unlike)
		}
		countPlaced(t, job, res, 3_000-short)
		used := 0.0
		for _, l := range res.Layouts {
			for _, p := range l.Parts {
				used += float64(l.Copies) * float64(p.W) * float64(p.H)
			}
		}
		all := 0.0
		for _, s := range job.Sheets {
			w, h := s.Usable()
			all += float64(s.Stock) * float64(w) * float64(h)
		}
		if used < 0.9*all {
			t.Errorf("%d%% unlike: parts are %.1f %% of all sheets in stock", unlike, 100*used/all)
		}
	}
}

// countPlaced checks that so many pieces have a place, no item more than asked for.
func countPlaced(t *testing.T, job Job, res Result, want int) {
	t.Helper()
	n, has := 0, make([]int, len(job.Items))
	for _, l := range res.Layouts {
		for _, p := range l.Parts {
			has[p.Item] += l.Copies
			n += l.Copies
		}
	}
	for i, k := range has {
		if k > job.Items[i].Qty {
			t.Errorf("item %d is cut %d times, not %d", i, k, job.Items[i].Qty)
		}
	}
	if n != want {
		t.Errorf("%d pieces have a place, not %d", n, want)
	}
}

// What is left to do for a job that is stopped before it began: time for a part
// does not grow with their number.
func BenchmarkStopped(b *testing.B) {
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, n := range []int{2_000, 8_000, 32_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := newRNG(5)
			job := repeated(&r, n, 100, 2)
			for b.Loop() {
				if _, err := Solve(stopped, job, Budget{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "µs/part")
		})
	}
}
