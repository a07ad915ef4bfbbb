package cutting

import (
	"context"
	"testing"

	"casewright/internal/unit"
)

// cutUp makes a job that fits n sheets with little waste: sheets cut at random
// from edge to edge, less one piece of each.
func cutUp(r *rng, n int) Job {
	const side = 60
	job := Job{Sheets: []Sheet{{W: side, H: side, Stock: -1}}, Seed: r.next()}
	var cut func(w, h int)
	cut = func(w, h int) {
		switch {
		case w*h > side*side/3 && w > h, w*h > side*side/6 && w > 2*h:
			x := 1 + r.below(w-1)
			cut(x, h)
			cut(w-x, h)
		case w*h > side*side/3, w*h > side*side/6 && h > 2*w:
			y := 1 + r.below(h-1)
			cut(w, y)
			cut(w, h-y)
		default:
			job.Items = append(job.Items, Item{W: unit.Length(w), H: unit.Length(h), Qty: 1, Turn: r.below(3) == 0})
		}
	}
	for range n {
		cut(side, side)
		job.Items = job.Items[:len(job.Items)-1]
	}
	return job
}

// Dives for the lot that is known to hold all pieces, with
// little waste. What they offer is complete, and more often than not
// they find it.
func TestDive(t *testing.T) {
	r := newRNG(17)
	found := 0
	const jobs = 12
	for range jobs {
		job := cutUp(&r, 5)
		p, _ := newProblem(job)
		s := newSearch(p, 3)
		s.dense = newDense(p)
		s.start()
		d := p.newSheetDive(s)
		if d == nil {
			t.Fatal("no dives for this job")
		}
		for range 4 {
			if s.bestValue > 5 {
				if d.find(context.Background(), s, []int{5}, 150_000); d.top != nil {
					s.offer(d.top)
				}
			}
		}
		if s.bestValue == 5 {
			found++
		}
		count := make([]int, len(p.types))
		area := 0.0
		for _, b := range s.best {
			sum := 0.0
			for i := range b.n {
				if typ := b.n[i].typ; typ >= 0 {
					count[typ]++
					sum += p.types[typ].area
				}
			}
			if sum > 60*60 {
				t.Errorf("a sheet holds %v of 3600", sum)
			}
			area += sum
		}
		for i, n := range count {
			if n != p.types[i].qty {
				t.Errorf("type %d: %d pieces laid out of %d", i, n, p.types[i].qty)
			}
		}
	}
	t.Logf("%d of %d found", found, jobs)
	if found < jobs/2 {
		t.Errorf("%d of %d layouts found", found, jobs)
	}
}

// A look at the lot that would be better rules it out where one sheet less has
// too little area, and never where the pieces were cut from so many.
func TestDiveRulesOut(t *testing.T) {
	ctx := context.Background()
	r := newRNG(23)
	out := 0
	const jobs = 30
	for range jobs {
		job := cutUp(&r, 5)
		p, _ := newProblem(job)
		for _, sheets := range []int64{5, 4} {
			s := newSearch(p, 3)
			s.start()
			s.bestValue = sheets + 1 // as if this were the best known
			d := p.newSheetDive(s)
			b := bound{value: 1}
			lots := p.newLedger()
			d.look(ctx, s, &lots, &b, 200_000)
			switch {
			case sheets == 5 && b.value > 5:
				t.Errorf("%+v: five sheets are ruled out, but the pieces are cut from five", job.Items)
			case sheets == 4 && b.value > 5:
				t.Errorf("%+v: four sheets ruled out say %d", job.Items, b.value)
			case sheets == 4 && b.value == 5:
				out++
			}
		}
	}
	t.Logf("four sheets are ruled out in %d of %d jobs", out, jobs)
	if out < jobs*9/10 {
		t.Errorf("four sheets are ruled out in %d of %d jobs", out, jobs)
	}
}

// Slacks that take turns in the basis for ever end a program, at the latest
// when each could have come twice.
func TestSlacksEnd(t *testing.T) {
	job := cutUp(&[]rng{newRNG(4)}[0], 4)
	p, _ := newProblem(job)
	m := newCover(p, []int{3}, nil)
	for r := range m.y {
		m.y[r] = -1 // as if rounding had spoilt the duals
	}
	n := 0
	for ; n < 100*m.rows && m.slack(); n++ {
		for r := range m.y {
			m.y[r] = -1
		}
	}
	if n == 0 || n > 2*m.rows {
		t.Errorf("%d slacks came in, of %d rows", n, m.rows)
	}
}
