//go:build unix

package cutting

import (
	"context"
	"fmt"
	"math"
	"syscall"
	"testing"
	"time"
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

// Batches of furniture parts. growth is the power of the number of parts that
// time grows by from the size before: 1 is linear.
func BenchmarkBatch(b *testing.B) {
	before, parts := 0.0, 0
	for _, n := range []int{300, 1_000, 3_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			above := 0.0
			start := processor(b)
			for b.Loop() {
				r := newRNG(5)
				res, err := Solve(context.Background(), furniture(&r, n), Budget{})
				if err != nil {
					b.Fatal(err)
				}
				above = 100 * float64(res.Value-res.Bound) / float64(res.Bound)
			}
			each := (processor(b) - start).Seconds() / float64(b.N)
			b.ReportMetric(above, "%above-bound")
			b.ReportMetric(each, "cpu-s")
			b.ReportMetric(each/float64(n)*1e6, "cpu-µs/part")
			if before > 0 {
				b.ReportMetric(math.Log(each/before)/math.Log(float64(n)/float64(parts)), "growth")
			}
			before, parts = each, n
		})
	}
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
