package cutting_test

import (
	"math/rand/v2"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// gluedJob is boardsJob with one to three wide parts glued up from strips; the
// boards cost what they measure.
func gluedJob(seed uint64) cutting.Job {
	job := boardsJob(seed)
	r := rand.New(rand.NewPCG(seed, 6))
	mm := func(lo, hi int) unit.Length { return unit.Length(lo+r.IntN(hi-lo+1)) * unit.Millimetre }
	job.Objective = cutting.LeastPrice
	items := job.Items[:0]
	for _, it := range job.Items {
		if it.Strips == 0 && len(items) < 5 {
			items = append(items, it)
		}
	}
	job.Items = items
	for k := range 1 + r.IntN(3) {
		job.Items = append(job.Items, cutting.Item{
			ID: string(rune('X' + k)), W: mm(350, 1200), H: mm(260, 520), Qty: 1 + r.IntN(2),
			Glue: &cutting.Glue{Least: 50 * unit.Millimetre, Most: 180 * unit.Millimetre, Joint: 6 * unit.Millimetre, Step: unit.Millimetre},
		})
	}
	need, have := 0.0, 0.0
	for _, it := range job.Items {
		need += float64(it.Qty) * it.W.Metres() * it.H.Metres()
	}
	var pile []cutting.Sheet
	for k := uint64(0); have < 2.2*need; k++ {
		for _, s := range boardsJob(seed + 1000*k).Sheets {
			if have >= 2.2*need {
				break
			}
			have += s.W.Metres() * s.H.Metres()
			s.Price = unit.Money(s.W.Metres() * s.H.Metres() * 1e4)
			pile = append(pile, s)
		}
	}
	job.Sheets = pile
	return job
}

// BenchmarkGlued tells what boards cost for parts glued up from strips of one
// width and of any widths, and how far that may be from the best.
func BenchmarkGlued(b *testing.B) {
	const jobs = 40
	for b.Loop() {
		even, unlike, bound, proven, short := 0.0, 0.0, 0.0, 0, 0
		strips, evenStrips := 0, 0
		for seed := range uint64(jobs) {
			job := gluedJob(seed)
			one, r := laidOut(b, cutting.Even(job), 20_000), laidOut(b, job, 20_000)
			if r.Proven {
				proven++
			}
			short += len(r.Short)
			strips += stripsOf(r)
			evenStrips += stripsOf(one)
			even, unlike, bound = even+float64(one.Value), unlike+float64(r.Value), bound+float64(r.Bound)
			if testing.Verbose() {
				b.Logf("%d: even %d (bound %d, short %d) unlike %d bound %d short %d", seed, one.Value, one.Bound, len(one.Short), r.Value, r.Bound, len(r.Short))
			}
		}
		b.ReportMetric(100*(even-unlike)/even, "%saved")
		b.ReportMetric(100*(unlike-bound)/bound, "%over-bound")
		b.ReportMetric(100*float64(proven)/jobs, "%proven")
		b.ReportMetric(float64(short), "short")
		b.ReportMetric(float64(strips)/float64(evenStrips), "strips/even")
	}
}

// stripsOf counts the strips of panels.
func stripsOf(r cutting.Result) (n int) {
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			if p.Panel > 0 {
				n++
			}
		}
	}
	return n
}
