package cutting

import (
	"context"
	"testing"

	"casewright/internal/unit"
)

// crowd makes a job of about a hundred pieces that have 97 % of the area of
// three sheets.
func crowd(r *rng) Job {
	const side, most = 300, 100
	job := Job{Sheets: []Sheet{{W: side, H: side, Stock: -1}}, Seed: r.next()}
	for left := 3 * side * side * 97 / 100; left > most*most/4; {
		w, h := 1+r.below(most), 1+r.below(most)
		if w*h <= left {
			left -= w * h
			job.Items = append(job.Items, Item{W: unit.Length(w), H: unit.Length(h), Qty: 1})
		}
	}
	return job
}

// Filled in turn three sheets are found to be enough more often than by the
// search over all sheets with as many moves.
func TestInTurn(t *testing.T) {
	ctx := context.Background()
	r := newRNG(5)
	const jobs, moves = 12, 90_000
	turned, searched := 0, 0
	for range jobs {
		job := crowd(&r)
		p, _ := newProblem(job)
		for _, inTurn := range []bool{true, false} {
			s := newSearch(p, 3)
			s.start()
			b := p.areaBound()
			if b.value != 3 || !p.crowded(s) {
				t.Fatalf("not the job that is meant: bound %d, %d sheets, %d pieces", b.value, len(s.best), p.pieces())
			}
			if inTurn {
				s.run(ctx, b, 1, func() {})
				p.inTurn(ctx, s, b, moves, func() {})
				turned += b2i(s.bestValue == 3)
				pieces := 0
				for _, b := range s.best {
					for i := range b.n {
						pieces += b2i(b.n[i].typ >= 0)
					}
				}
				if pieces != p.pieces() {
					t.Errorf("%d pieces laid out of %d", pieces, p.pieces())
				}
			} else {
				s.run(ctx, b, moves, func() {})
				searched += b2i(s.bestValue == 3)
			}
		}
	}
	t.Logf("of %d jobs: %d in turn, %d by the search", jobs, turned, searched)
	if turned <= searched {
		t.Errorf("of %d jobs %d are found in turn, %d by the search alone", jobs, turned, searched)
	}
}
