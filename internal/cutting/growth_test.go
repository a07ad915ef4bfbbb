//go:build unix

package cutting

import (
	"context"
	"fmt"
	"math"
	"syscall"
	"testing"
	"time"

	"casewright/internal/unit"
)

// processor is the time this process has had of the processor: other work on
// the machine does not count.
func processor(tb testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// Batches of furniture parts.
func BenchmarkBatch(b *testing.B) {
	benchGrowth(b, 2, []int{300, 1_000, 3_000, 10_000}, furniture)
}

// Large jobs in which all, half and a quarter of the parts have a size of their
// own, on one and on four sizes of panel.
func BenchmarkBatchSizes(b *testing.B) {
	for _, panels := range []int{1, 4} {
		for _, unlike := range []int{25, 50, 100} {
			b.Run(fmt.Sprintf("%d panels/%d%% unlike", panels, unlike), func(b *testing.B) {
				benchGrowth(b, 1, []int{500, 1_000, 3_000, 10_000}, func(r *rng, n int) Job { return repeated(r, n, unlike, panels) })
			})
		}
	}
}

// benchGrowth lays out jobs of each number of parts, on one core and on up to
// so many.
// growth is the power of the number of parts that processor time on one grows by
// from the number before: 1 is linear.
func benchGrowth(b *testing.B, cores int, sizes []int, make func(*rng, int) Job) {
	before, parts := 0.0, 0
	for _, n := range sizes {
		for further, name := range []string{"one core", "two cores"}[:cores] {
			b.Run(fmt.Sprint(n, " on ", name), func(b *testing.B) {
				above := 0.0
				start := processor(b)
				for b.Loop() {
					r := newRNG(5)
					res, err := Solve(context.Background(), make(&r, n), Budget{Cores: NewCores(further)})
					if err != nil {
						b.Fatal(err)
					}
					above = 100 * float64(res.Value-res.Bound) / float64(res.Bound)
				}
				each := (processor(b) - start).Seconds() / float64(b.N)
				b.ReportMetric(above, "%above-bound")
				b.ReportMetric(each, "cpu-s")
				if further > 0 {
					return
				}
				b.ReportMetric(each/float64(n)*1e6, "cpu-µs/part")
				if before > 0 && n != parts {
					b.ReportMetric(math.Log(each/before)/math.Log(float64(n)/float64(parts)), "growth")
				}
				before, parts = each, n
			})
		}
	}
}

// repeated is a job of so many pieces, so many in a hundred of a size of their
// own, on up to four sizes of panel.
func repeated(r *rng, pieces, unlike, panels int) Job {
	const mm = unit.Millimetre
	job := Job{Kerf: 22 * mm / 10, Objective: LeastPrice}
	for _, s := range [][3]int{{2440, 1220, 5400}, {2800, 2070, 9800}, {3050, 1525, 8700}, {1220, 1220, 2900}}[:panels] {
		job.Sheets = append(job.Sheets, Sheet{W: unit.Length(s[0]) * mm, H: unit.Length(s[1]) * mm, Price: unit.Money(s[2]), Stock: -1, Trim: Trim{10 * mm, 10 * mm, 10 * mm, 10 * mm}})
	}
	kinds := pieces * unlike / 100
	for k := range kinds {
		job.Items = append(job.Items, Item{
			W: unit.Length(250+r.below(1100)) * mm, H: unit.Length(80+r.below(520)) * mm,
			Qty: (pieces + k) / kinds, Turn: r.below(4) == 0,
		})
	}
	return job
}

// Furniture jobs of every size up to that of batches come to an answer, also
// where tables are too large to be made.
func TestFurnitureOfEverySize(t *testing.T) {
	for n := 100; n <= 400; n += 50 {
		r := newRNG(5)
		res, err := Solve(context.Background(), furniture(&r, n), Budget{Iterations: 3000})
		if err != nil {
			t.Fatal(err)
		}
		if len(res.Short) > 0 || res.Value < res.Bound {
			t.Errorf("%d parts: value %d, bound %d, %d short", n, res.Value, res.Bound, len(res.Short))
		}
	}
}
