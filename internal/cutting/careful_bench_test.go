package cutting_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// boardsJob is the solid wood of a piece and a pile of boards as they come:
// lengths of 1.8 to 3.6 m, widths of 110 to 260 mm, up to four defects each,
// and about as much wood again as the parts need.
func boardsJob(seed uint64) cutting.Job {
	r := rand.New(rand.NewPCG(seed, 5))
	mm := func(lo, hi int) unit.Length { return unit.Length(lo+r.IntN(hi-lo+1)) * unit.Millimetre }
	job := cutting.Job{Kerf: 3 * unit.Millimetre}
	job.LeastOffcut.W, job.LeastOffcut.H = 300*unit.Millimetre, 40*unit.Millimetre
	need := 0.0
	for k := range 5 + r.IntN(8) {
		it := cutting.Item{ID: fmt.Sprint("p", k), W: mm(200, 1300), H: mm(45, 105), Qty: 2 * (1 + r.IntN(4))}
		if r.IntN(5) == 0 {
			it.Strips = it.Qty
			it.H = mm(80, 105)
		}
		need += float64(it.Qty) * it.W.Metres() * it.H.Metres()
		job.Items = append(job.Items, it)
	}
	for have := 0.0; have < 2*need; {
		s := cutting.Sheet{ID: fmt.Sprint("b", len(job.Sheets)), W: mm(1800, 3600), H: mm(110, 260), Stock: 1, Tone: 1 + r.IntN(4)}
		s.Trim = cutting.Trim{Left: 25 * unit.Millimetre, Right: 25 * unit.Millimetre, Bottom: 6 * unit.Millimetre * unit.Length(r.IntN(2))}
		for range r.IntN(5) {
			d := cutting.Defect{W: mm(30, 200), H: mm(20, 60), What: "knot"}
			d.X, d.Y = unit.Length(r.Int64N(int64(s.W-d.W))), unit.Length(r.Int64N(int64(s.H-d.H)))
			apart := true
			for _, e := range s.Defects {
				apart = apart && (d.X >= e.X+e.W || e.X >= d.X+d.W || d.Y >= e.Y+e.H || e.Y >= d.Y+d.H)
			}
			if apart {
				s.Defects = append(s.Defects, d)
			}
		}
		have += s.W.Metres() * s.H.Metres()
		job.Sheets = append(job.Sheets, s)
	}
	return job
}

// BenchmarkBoards tells how many of a set of jobs are proven, how far the rest
// may be from the best, and what share of the boards becomes parts.
func BenchmarkBoards(b *testing.B) {
	const jobs = 60
	for b.Loop() {
		proven, gap, short, parts, wood := 0, 0, 0, 0.0, 0.0
		for seed := range uint64(jobs) {
			job := boardsJob(seed)
			r := laidOut(b, job, 0)
			if r.Proven {
				proven++
			}
			gap += int(r.Value - r.Bound)
			short += len(r.Short)
			for _, l := range r.Layouts {
				wood += job.Sheets[l.Sheet].W.Metres() * job.Sheets[l.Sheet].H.Metres()
				for _, p := range l.Parts {
					parts += p.W.Metres() * p.H.Metres()
				}
			}
		}
		b.ReportMetric(100*float64(proven)/jobs, "%proven")
		b.ReportMetric(float64(gap)/jobs, "boards-over-bound")
		b.ReportMetric(float64(short), "short")
		b.ReportMetric(100*parts/wood, "%yield")
	}
}

// Boards come out alike on one, two and four cores.
func TestCoresDoNotChangeBoards(t *testing.T) {
	for seed := range uint64(4) {
		var first cutting.Result
		for _, further := range []int{0, 1, 3} {
			got, err := cutting.Solve(context.Background(), boardsJob(seed), cutting.Budget{Iterations: 20_000, Cores: cutting.NewCores(further)})
			if err != nil {
				t.Fatal(err)
			}
			if further == 0 {
				first = got
			} else if !reflect.DeepEqual(got, first) {
				t.Errorf("job %d with %d further cores: value %d, bound %d; on one core %d, %d; or other layouts", seed, further, got.Value, got.Bound, first.Value, first.Bound)
			}
		}
	}
}
