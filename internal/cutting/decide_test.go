package cutting

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A proof that goes on with a lot it had left undecided settles it: its bound is
// never above what trying every cut finds, and its layouts never below.
func TestGoOnAgainstTryingEverything(t *testing.T) {
	out, laid := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 3)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.sheets) < 2 || p.flat() {
			return
		}
		best := int64(o.least(sheets, 1<<len(o.w)-1))
		if best == math.MaxInt32 {
			return
		}
		ctx := context.Background()
		s := newSearch(p, 1)
		s.dense = newDense(p)
		s.start()
		b := p.areaBound()
		if !s.unproven(b) {
			return
		}
		r := p.newProof(s)
		_, lot, _ := p.nextLot(max(b.value, 1), r.out, r.needs)
		if lot == nil {
			return
		}
		r.fit = newFitter(p)
		r.fit.loss = math.MaxInt64
		r.lot, r.asked, r.level = lot, lot, len(r.vs)
		r.ruling = r.fit.newRuling(ctx, lot, nil)
		bins, too, _ := r.fit.decide(ctx, r.ruling, 1, &settler{p: p, ctx: ctx, known: newAlbum()})
		if bins != nil || too || !r.near() {
			return
		}
		value, low := s.bestValue, b.value
		for k := 0; k < 20 && r.near() && s.unproven(b); k++ {
			v := r.setOut(ctx, s, b, 1<<k, true)
			s.hear(v, &b)
		}
		switch {
		case r.near() && s.unproven(b):
			t.Fatalf("%+v: sheets %v are not decided", job, lot)
		case b.value > best || s.bestOut == 0 && s.bestValue < best:
			t.Fatalf("%+v: bound %d, value %d; trying every cut finds %d", job, b.value, s.bestValue, best)
		case s.bestValue < value:
			laid++
		case b.value > low:
			out++
		}
	})
	if out == 0 || laid == 0 {
		t.Errorf("%d bounds were raised, %d layouts found: draw others", out, laid)
	}
}
