package cutting

import (
	"context"
	"fmt"
	"testing"

	"casewright/internal/unit"
)

func BenchmarkMove(b *testing.B) {
	job := Job{Sheets: []Sheet{{W: 40e6, H: 40e6, Stock: -1}}, Seed: 3}
	r := newRNG(5)
	for range 80 {
		job.Items = append(job.Items, Item{W: 1e6 * unit.Length(r.below(35)+1), H: 1e6 * unit.Length(r.below(35)+1), Qty: 1})
	}
	p, _ := newProblem(job)
	s := newSearch(p, 1)
	b.ReportAllocs()
	s.start()
	s.run(context.Background(), bound{}, b.N, func() {})
}

// furniture is a job of carcass parts in pairs and sets, with grain on most.
func furniture(r *rng, pieces int) Job {
	mm := unit.Millimetre
	job := Job{Sheets: []Sheet{{W: 2440 * mm, H: 1220 * mm, Stock: -1, Trim: Trim{10 * mm, 10 * mm, 10 * mm, 10 * mm}}}, Kerf: 22 * mm / 10}
	job.LeastOffcut.W, job.LeastOffcut.H = 300*mm, 300*mm
	for pieces > 0 {
		q := min(pieces, 1+r.below(6))
		pieces -= q
		job.Items = append(job.Items, Item{
			W: unit.Length(250+10*r.below(110)) * mm, H: unit.Length(80+5*r.below(104)) * mm,
			Qty: q, Turn: r.below(4) == 0,
		})
	}
	return job
}

// priced adds another size of panel and an offcut to a job of furniture.
func priced(job Job) Job {
	mm := unit.Millimetre
	job.Objective = LeastPrice
	job.Sheets[0].Price = 9_000
	job.Sheets = append(job.Sheets,
		Sheet{W: 1220 * mm, H: 1220 * mm, Stock: -1, Price: 5_200},
		Sheet{W: 900 * mm, H: 700 * mm, Stock: 1, Offcut: true})
	return job
}

// The same forty jobs, half of them with prices, on one core and on two.
func BenchmarkCores(b *testing.B) {
	for further := range 2 {
		b.Run(fmt.Sprint(1+further), func(b *testing.B) {
			for b.Loop() {
				r := newRNG(29)
				for k := range 40 {
					job := furniture(&r, 20+r.below(61))
					if k%2 == 0 {
						job = priced(job)
					}
					if _, err := Solve(context.Background(), job, Budget{Cores: NewCores(further)}); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}

// Furniture jobs of 10 to 80 parts with the default budget: time for one and
// how many of a hundred are proven.
func BenchmarkFurniture(b *testing.B) { benchFurniture(b, 0, EitherWay) }

// The same with two and with three stages of cuts, and with strips that run one
// way only.
func BenchmarkStages(b *testing.B) {
	for stages := 2; stages <= 3; stages++ {
		for run := EitherWay; run <= Crosswise; run++ {
			b.Run(fmt.Sprintf("%d/%v", stages, run), func(b *testing.B) { benchFurniture(b, stages, run) })
		}
	}
}

func benchFurniture(b *testing.B, stages int, run Run) {
	r := newRNG(11)
	proven, n := 0, 0
	var value, bound int64
	rests, settings := 0.0, 0
	for b.Loop() {
		job := furniture(&r, 10+r.below(71))
		job.Stages, job.Run = stages, run
		res, err := Solve(context.Background(), job, Budget{})
		if err != nil {
			b.Fatal(err)
		}
		n++
		settings += res.Settings
		for _, l := range res.Layouts { // as tidying weighs them, but for kerfs
			whole := job.Sheets[l.Sheet]
			for _, o := range l.Offcuts {
				share := float64(o.W) * float64(o.H) / (float64(whole.W) * float64(whole.H))
				rests += share * share * float64(l.Copies)
			}
		}
		value, bound = value+res.Value, bound+res.Bound
		if res.Proven {
			proven++
		}
	}
	b.ReportMetric(rests/float64(n), "rests/job")
	b.ReportMetric(float64(settings)/float64(n), "settings/job")
	b.ReportMetric(100*float64(proven)/float64(n), "%proven")
	b.ReportMetric(100*float64(value-bound)/float64(bound), "%above-bound")
}
