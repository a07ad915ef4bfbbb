package cutting_test

import (
	"context"
	"fmt"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// workshopJob is a job of the size and kind that workshops have: panels of one
// to three sizes, offcuts on hand, carcass parts in sets, some matched.
func workshopJob(text []byte) cutting.Job {
	b := tape(text)
	job := cutting.Job{Kerf: pick(&b, mm(3), mm(2.2), mm(3.2), 0), Objective: pick(&b, cutting.LeastPrice, cutting.FewestSheets), Seed: uint64(b.next())}
	job.Stages = pick(&b, 0, 0, 2, 3)
	if job.Stages > 0 {
		job.Run = cutting.Run(job.Seed % 3)
	}
	job.LeastOffcut.W, job.LeastOffcut.H = mm(300), mm(150)
	trim := pick(&b, mm(10), 0, mm(5))
	for range pick(&b, 1, 1, 2, 3) {
		size := pick(&b, [2]float64{2440, 1220}, [2]float64{2800, 2070}, [2]float64{1525, 1525}, [2]float64{3050, 1300}, [2]float64{1220, 1220})
		job.Sheets = append(job.Sheets, cutting.Sheet{
			ID: fmt.Sprint("S", len(job.Sheets)), W: mm(size[0]), H: mm(size[1]), Stock: -1, Price: unit.Money(3000 + 50*b.next()),
			Trim: cutting.Trim{Left: trim, Right: trim, Bottom: trim, Top: trim},
		})
	}
	for range pick(&b, 0, 0, 1, 3) {
		job.Sheets = append(job.Sheets, cutting.Sheet{
			ID: fmt.Sprint("left ", len(job.Sheets)), W: mm(float64(300 + 8*b.next())), H: mm(float64(150 + 4*b.next())), Stock: 1 + b.next()%2, Offcut: true,
		})
	}
	pieces, tenths := 8*(1+b.next()%50), b.next()%3 == 0 // below batches, which take longer than a fuzz target may
	for k := 0; pieces > 0; k++ {
		q := min(pieces, 1+b.next()%8)
		pieces -= q
		// Once the tape is at its end, sizes go on from the number of the part.
		w, h := float64(200+(b.next()*7+k*37)%950), float64(60+(b.next()*3+k*53)%520)
		if tenths {
			w, h = w+float64(k%10)/10, h+float64(k%7)/10
		}
		job.Items = append(job.Items, cutting.Item{ID: fmt.Sprint("P", k), W: mm(w), H: mm(h), Qty: q, Turn: b.next()%4 == 1})
		if q > 1 && b.next()%8 == 7 {
			job.Matched = append(job.Matched, cutting.Matched{Items: []int{k, k}, Axis: pick(&b, cutting.Along, cutting.Across)})
		}
	}
	return job
}

// Whatever a workshop asks for, all of it is laid out soundly.
func FuzzWorkshop(f *testing.F) {
	for n := range byte(5) {
		f.Add([]byte{n, n, n, 0, n, 0, n, 50 * n, 0, 4 * n, n})
		f.Add([]byte{n, n, n, n, n, n, n, 9, 9, 9, 9, 9, 9, 9, 5 * n, n, 7, 7, 7, 7, 7})
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		job := workshopJob(text)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 400})
		if err != nil {
			t.Fatalf("%v\n%+v", err, job)
		}
		sound(t, job, r)
		for _, s := range r.Short { // one too large for every panel, alone or matched
			if s.Sheet < 0 && s.Group == 0 {
				t.Fatalf("no place for %+v\n%+v", s, job)
			}
		}
	})
}
