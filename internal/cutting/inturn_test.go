package cutting

import (
	"context"
	"math"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"casewright/internal/unit"
)

// crowd makes a job of about a hundred pieces that have so much of the area of
// three sheets, in hundredths.
func crowd(r *rng, full int) Job {
	const side, most = 300, 100
	job := Job{Sheets: []Sheet{{W: side, H: side, Stock: -1}}, Seed: r.next()}
	for left := 3 * side * side * full / 100; left > most*most/4; {
		w, h := 1+r.below(most), 1+r.below(most)
		if w*h <= left {
			left -= w * h
			job.Items = append(job.Items, Item{W: unit.Length(w), H: unit.Length(h), Qty: 1})
		}
	}
	return job
}

// Where two sheets would do and next to nothing may be lost, no search finds
// them; filling in turn comes to an end all the same, at the moves it was given.
func TestInTurnEnds(t *testing.T) {
	r := newRNG(9)
	const side, moves = 300, 20_000
	job := Job{Sheets: []Sheet{{W: side, H: side, Stock: -1}}, Seed: 1}
	for left := 2*side*side - 150; left > 0; {
		w, h := 1+r.below(90), 1+r.below(90)
		if w*h > left {
			w, h = 1, min(left, side)
		}
		left -= w * h
		job.Items = append(job.Items, Item{W: unit.Length(w), H: unit.Length(h), Qty: 1})
	}
	p, _ := newProblem(job)
	s := newSearch(p, 3)
	s.start()
	b := p.areaBound()
	s.run(context.Background(), b, 5000, func() {})
	if b.value != 2 || len(s.best) != 3 || !p.crowded(s) {
		t.Fatalf("not the job that is meant: bound %d, %d sheets, %d pieces", b.value, len(s.best), p.pieces())
	}
	begun := s.iter
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	p.inTurn(ctx, s, nil, b, s.iter+moves, math.MaxInt, func() {})
	if ctx.Err() != nil || s.iter < begun+moves {
		t.Errorf("%d of %d moves after a minute", s.iter-begun, moves)
	}
}

// Filled in turn three sheets are found to be enough more often than by the
// search over all sheets with as many moves.
func TestInTurn(t *testing.T) {
	ctx := context.Background()
	r := newRNG(5)
	const moves = 90_000
	jobs := make([]Job, 12)
	for k := range jobs {
		jobs[k] = crowd(&r, 97)
	}
	var turned, searched atomic.Int64
	NewCores(runtime.GOMAXPROCS(0)-1).Each(2*len(jobs), func(k int) {
		p, _ := newProblem(jobs[k/2])
		s := newSearch(p, 3)
		s.start()
		b := p.areaBound()
		if b.value != 3 || !p.crowded(s) {
			t.Errorf("not the job that is meant: bound %d, %d sheets, %d pieces", b.value, len(s.best), p.pieces())
			return
		}
		if k%2 > 0 {
			s.run(ctx, b, moves, func() {})
			searched.Add(int64(b2i(s.bestValue == 3)))
			return
		}
		s.run(ctx, b, 1, func() {})
		p.inTurn(ctx, s, nil, b, moves, math.MaxInt, func() {})
		turned.Add(int64(b2i(s.bestValue == 3)))
		pieces := 0
		for _, b := range s.best {
			for i := range b.n {
				pieces += b2i(b.n[i].typ >= 0)
			}
		}
		if pieces != p.pieces() {
			t.Errorf("%d pieces laid out of %d", pieces, p.pieces())
		}
	})
	t.Logf("of %d jobs: %d in turn, %d by the search", len(jobs), turned.Load(), searched.Load())
	if turned.Load() < searched.Load()+4 {
		t.Errorf("of %d jobs %d are found in turn, %d by the search alone", len(jobs), turned.Load(), searched.Load())
	}
}
