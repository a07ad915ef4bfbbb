package cutting

import (
	"context"
	"runtime"
	"sync/atomic"
	"testing"
)

// Where many unlike pieces lie on each panel, lots of panels of two sizes are
// found to hold them by filling the panels in turn, more often than by the
// search on the lot with as many moves.
func TestFillLot(t *testing.T) {
	ctx := context.Background()
	r := newRNG(4)
	const moves, side, other = 15_000, 300, 240
	jobs := make([]Job, 12)
	for k := range jobs { // a panel of one size and two of the other are 4 to 6 % more than the parts
		job := crowd(&r, 97)
		for left := 2 * (side*side - side*other) * 97 / 100; left > 0; {
			it := job.Items[len(job.Items)-1]
			left -= int(it.W) * int(it.H)
			job.Items = job.Items[:len(job.Items)-1]
		}
		job.Objective = LeastPrice
		job.Sheets = []Sheet{{W: side, H: side, Stock: -1, Price: 90}, {W: side, H: other, Stock: -1, Price: 72}}
		jobs[k] = job
	}
	var filled, searched atomic.Int64
	NewCores(runtime.GOMAXPROCS(0)-1).Each(len(jobs), func(k int) {
		p, misfits := newProblem(jobs[k])
		s := newSearch(p, 3)
		s.start()
		first := s.bestValue
		lot := *p
		lot.sheets = append([]psheet(nil), p.sheets...)
		for i := range lot.sheets {
			lot.sheets[i].stock = 1 + b2i(lot.sheets[i].price == 72)
		}
		if len(misfits) > 0 || p.repeats() || first <= 234 {
			t.Errorf("not the job that is meant: %d pieces, price %d", p.pieces(), first)
			return
		}
		if s.fillLot(ctx, &lot, moves) {
			filled.Add(1)
			if s.bestValue > 234 || s.bestOut != 0 {
				t.Errorf("price %d of a lot that costs 234", s.bestValue)
			}
		} else if s.bestValue != first {
			t.Errorf("price %d, was %d, with no cheaper layout", s.bestValue, first)
		}
		o := newSearch(&lot, 3)
		o.fill(0)
		o.iter = 1
		o.hist = make([]float64, memory)
		o.restart()
		e := entrant{o: o}
		if e.run(ctx, moves, func() bool { return false }) {
			searched.Add(1)
		}
	})
	t.Logf("of %d jobs: %d filled in turn, %d by the search", len(jobs), filled.Load(), searched.Load())
	if filled.Load() < searched.Load()+3 {
		t.Errorf("of %d jobs %d are filled in turn, %d by the search", len(jobs), filled.Load(), searched.Load())
	}
}

// Parts of few sizes, or few on each panel, are left to the search.
func TestFillLotOnlyWhereOfUse(t *testing.T) {
	r := newRNG(6)
	job := crowd(&r, 97)
	job.Objective = LeastPrice
	for name, change := range map[string]func(j *Job){
		"one size":   func(j *Job) { j.Items = []Item{{W: 30, H: 20, Qty: 400}} },
		"few pieces": func(j *Job) { j.Items = j.Items[:20] },
		"stages":     func(j *Job) { j.Stages = 3 },
	} {
		j := job
		j.Items = append([]Item(nil), job.Items...)
		change(&j)
		p, _ := newProblem(j)
		s := newSearch(p, 3)
		s.start()
		lot := *p
		lot.sheets = []psheet{p.sheets[0]}
		lot.sheets[0].stock = 3
		if at := s.iter; s.fillLot(context.Background(), &lot, 1000) || s.iter != at {
			t.Errorf("%s: panels are filled in turn", name)
		}
	}
}
