package cutting

import (
	"context"
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
