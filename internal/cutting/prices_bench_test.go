package cutting

import "testing"

// The next lot where a thousand were ruled out one by one: what one look takes
// is counted, so that a proof ends with its moves.
func BenchmarkNextLot(b *testing.B) {
	p := &problem{value: LeastPrice}
	for i := range 6 {
		p.sheets = append(p.sheets, psheet{w: int64(40 + 7*i), h: 30, price: int64(1009 + 113*i), stock: 9})
	}
	p.types = []ptype{{w: 20, h: 20, area: 400, qty: 60}}
	var out [][]int
	for i := range 1000 {
		out = append(out, []int{9 - i%10, 9 - i/10%10, 9 - i/100, 3, 2, 1})
	}
	steps := 0
	for b.Loop() {
		_, _, steps = p.nextLot(p.leastLot(1), out, []need{p.areaNeed()})
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*steps), "ns/step")
}
