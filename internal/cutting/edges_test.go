package cutting_test

import (
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"
)

// sound checks an answer: the verifier passes it, and what is placed and what
// is told short are together what was asked for.
func sound(t testing.TB, job cutting.Job, r cutting.Result) {
	t.Helper()
	if err := verify.Result(job, r); err != nil {
		t.Fatalf("%v\n%+v\n%+v", err, job, r)
	}
	asked, placed, short := 0, 0, 0
	for _, it := range job.Items {
		asked += it.Qty
	}
	for _, l := range r.Layouts {
		placed += l.Copies * len(l.Parts)
	}
	for _, s := range r.Short {
		short += s.Count
	}
	if placed+short != asked || placed < 0 || short < 0 {
		t.Fatalf("%d placed and %d short, %d asked for\n%+v", placed, short, asked, job)
	}
	if r.Value < 0 || r.Bound < 0 {
		t.Fatalf("value %d, bound %d\n%+v", r.Value, r.Bound, job)
	}
}

// Sizes at the edges of what fits: what must come out follows from the sizes.
func TestEdges(t *testing.T) {
	k, nm := mm(3), unit.Length(1)
	ten := mm(10)
	panel := cutting.Sheet{ID: "panel", W: mm(1000), H: mm(600), Stock: -1, Price: 5000}
	trimmed := panel
	trimmed.Trim = cutting.Trim{Left: ten, Right: ten, Bottom: ten, Top: ten}
	part := func(w, h unit.Length, qty int) cutting.Item { return cutting.Item{ID: "P", W: w, H: h, Qty: qty} }
	w, h := trimmed.Usable()
	stock := func(s cutting.Sheet, n int) cutting.Sheet { s.Stock = n; return s }
	price := func(s cutting.Sheet, p unit.Money) cutting.Sheet { s.Price = p; return s }
	for _, c := range []struct {
		name   string
		sheets []cutting.Sheet
		items  []cutting.Item
		kerf   unit.Length
		panels int64 // used
		short  int
	}{
		{"as large as the panel", []cutting.Sheet{panel}, []cutting.Item{part(panel.W, panel.H, 3)}, k, 3, 0},
		{"as large as the panel, which is trimmed", []cutting.Sheet{trimmed}, []cutting.Item{part(panel.W, panel.H, 3)}, k, 0, 3},
		{"as large as what is left of it", []cutting.Sheet{trimmed}, []cutting.Item{part(w, h, 3)}, k, 3, 0},
		{"a nanometre too long", []cutting.Sheet{trimmed}, []cutting.Item{part(w+nm, h, 2)}, k, 0, 2},
		{"a nanometre too wide", []cutting.Sheet{trimmed}, []cutting.Item{part(w, h+nm, 2)}, k, 0, 2},
		{"a kerf too large", []cutting.Sheet{panel}, []cutting.Item{part(panel.W+k, panel.H, 2)}, k, 0, 2},
		{"two and a kerf just fit", []cutting.Sheet{panel}, []cutting.Item{part((panel.W-k)/2, panel.H, 4)}, k, 2, 0},
		{"two and a kerf are a nanometre too long", []cutting.Sheet{panel}, []cutting.Item{part((panel.W-k)/2, panel.H, 2), part((panel.W-k)/2+nm, panel.H, 2)}, k, 3, 0},
		{"two just fit without a kerf", []cutting.Sheet{panel}, []cutting.Item{part(panel.W/2, panel.H/2, 8)}, 0, 2, 0},
		{"a rest as wide as the blade", []cutting.Sheet{panel}, []cutting.Item{part(panel.W-k, panel.H, 2)}, k, 2, 0},
		{"none in stock", []cutting.Sheet{stock(panel, 0)}, []cutting.Item{part(mm(100), mm(100), 5)}, k, 0, 5},
		{"one in stock", []cutting.Sheet{stock(panel, 1)}, []cutting.Item{part(panel.W, panel.H, 3)}, k, 1, 2},
		{"one too large for all", []cutting.Sheet{panel}, []cutting.Item{part(mm(100), mm(100), 4), part(mm(1001), mm(601), 1)}, k, 1, 1},
		{"thousands of one", []cutting.Sheet{panel}, []cutting.Item{part(mm(97), mm(97), 6000)}, k, 100, 0},
		{"a kerf larger than the parts", []cutting.Sheet{panel}, []cutting.Item{part(mm(20), panel.H, 8)}, mm(300), 2, 0},
		{"a kerf larger than the panel", []cutting.Sheet{stock(panel, -1)}, []cutting.Item{part(mm(20), mm(20), 3)}, unit.Metre, 3, 0},
		{"the same part listed again and again", []cutting.Sheet{panel, panel}, []cutting.Item{part(panel.W, mm(298.5), 1), part(panel.W, mm(298.5), 2), part(panel.W, mm(298.5), 3)}, k, 3, 0},
		{"without a price", []cutting.Sheet{price(panel, 0)}, []cutting.Item{part(panel.W, panel.H, 2)}, k, 2, 0},
		{"at the highest price", []cutting.Sheet{price(panel, 1<<48)}, []cutting.Item{part(panel.W, panel.H, 9)}, k, 9, 0},
		{"of a nanometre", []cutting.Sheet{panel}, []cutting.Item{part(nm, nm, 3)}, k, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, goal := range []cutting.Objective{cutting.FewestSheets, cutting.LeastPrice} {
				job := cutting.Job{Sheets: c.sheets, Items: c.items, Kerf: c.kerf, Objective: goal}
				r := solve(t, job, 2000)
				sound(t, job, r)
				short, used := 0, int64(0)
				for _, s := range r.Short {
					short += s.Count
				}
				for _, l := range r.Layouts {
					used += int64(l.Copies)
				}
				if short != c.short || used != c.panels {
					t.Errorf("objective %d: %d short, not %d; %d panels, not %d", goal, short, c.short, used, c.panels)
				}
				if short == 0 && !r.Proven {
					t.Errorf("objective %d: not proven, value %d, bound %d", goal, r.Value, r.Bound)
				}
			}
		})
	}
}

// A price so high that the sum cannot be counted is refused in words.
func TestPriceTooHighForTheCount(t *testing.T) {
	job := cutting.Job{
		Sheets:    []cutting.Sheet{{ID: "panel", W: mm(100), H: mm(100), Stock: -1, Price: 1 << 47}},
		Items:     []cutting.Item{{ID: "P", W: mm(100), H: mm(100), Qty: 90_000}},
		Objective: cutting.LeastPrice,
	}
	_, err := cutting.Solve(context.Background(), job, cutting.Budget{})
	if want := "for 90000 pieces the sum cannot be counted"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
}

// A tape deals out numbers from bytes, noughts at its end.
type tape []byte

func (b *tape) next() int {
	if len(*b) == 0 {
		return 0
	}
	n := (*b)[0]
	*b = (*b)[1:]
	return int(n)
}

func pick[T any](b *tape, from ...T) T { return from[b.next()%len(from)] }

// size is a length on or near the edge of what fits into room, or any.
func (b *tape) size(whole, room, kerf unit.Length) unit.Length {
	return pick(b, room, room+1, room-1, whole, room-kerf, room+kerf, (room-kerf)/2, (room-kerf)/2+1, (room-2*kerf)/3, kerf, kerf/2, 1,
		mm(float64(1+b.next())), mm(float64(1+b.next())), mm(float64(10*(1+b.next()))), mm(float64(10*(1+b.next()))))
}

// edgeJob is a job with sizes at the edges.
func edgeJob(text []byte) cutting.Job {
	b := tape(text)
	job := cutting.Job{Kerf: pick(&b, mm(3), 0, mm(2.2), 1, mm(40), mm(999)), Objective: pick(&b, cutting.LeastPrice, cutting.FewestSheets, cutting.LeastHeight)}
	job.Stages = pick(&b, 0, 0, 3, 2)
	if job.Stages > 0 {
		job.Run = cutting.Run(pick(&b, 0, 1, 2))
	}
	job.LeastOffcut.W = pick(&b, 0, mm(300), 1)
	job.LeastOffcut.H = job.LeastOffcut.W / 2
	for range pick(&b, 1, 2, 3) {
		s := cutting.Sheet{ID: "S", W: mm(float64(10 * (1 + b.next()))), H: mm(float64(10 * (1 + b.next())))}
		s.Stock = pick(&b, -1, 0, 1, 2, 7, 100_000)
		s.Price = pick(&b, 100, unit.Money(1+b.next()), 0, 1<<40, 1<<48)
		s.Offcut = pick(&b, false, false, true)
		s.Trim = cutting.Trim{Left: pick(&b, 0, mm(10), 1), Right: pick(&b, 0, mm(10), mm(2000)), Bottom: pick(&b, 0, mm(3)), Top: pick(&b, 0, mm(7))}
		job.Sheets = append(job.Sheets, s)
	}
	for len(b) > 0 && len(job.Items) < 16 {
		s := pick(&b, job.Sheets...)
		w, h := s.Usable()
		it := cutting.Item{ID: fmt.Sprint("P", len(job.Items)), W: b.size(s.W, w, job.Kerf), H: b.size(s.H, h, job.Kerf), Turn: pick(&b, false, true)}
		it.Qty = pick(&b, 1, 2, 3, 0, 5, 16, 40)
		if n := b.next(); n > 250 { // and a few times thousands
			it.Qty = 3000
		} else if n > 220 && len(job.Items) > 0 {
			it = job.Items[len(job.Items)-1] // the same once more
		}
		job.Items = append(job.Items, it)
		if pick(&b, 0, 0, 0, 1) == 1 && it.Qty > 1 {
			g := cutting.Matched{Items: []int{len(job.Items) - 1, len(job.Items) - 1}, Axis: pick(&b, cutting.Along, cutting.Across)}
			if k := len(job.Items) - 2; k >= 0 && pick(&b, true, false) {
				used := 0
				for _, o := range job.Matched {
					for _, i := range o.Items {
						if i == k {
							used++
						}
					}
				}
				if used < job.Items[k].Qty {
					g.Items = append(g.Items, k)
				}
			}
			job.Matched = append(job.Matched, g)
		}
	}
	return job
}

// Whatever is asked for at the edges of what fits, the answer is sound or the
// job is refused, and asked again it is the same.
func FuzzEdges(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 99, 59, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 3, 0})                    // as large as the panel
	f.Add([]byte{0, 0, 0, 0, 0, 99, 59, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 5, 0, 0, 0, 0, 5, 0, 0, 3, 0})                 // a kerf too large
	f.Add([]byte{1, 1, 0, 1, 1, 99, 59, 1, 0, 0, 0, 1, 1, 1, 1, 99, 59, 2, 0, 0, 2, 1, 1, 1, 0, 0, 1, 6, 0, 251})    // none in stock, thousands
	f.Add([]byte{4, 0, 2, 2, 0, 200, 100, 0, 3, 1, 2, 0, 0, 0, 0, 7, 8, 9, 10, 11, 12, 13, 14, 15, 3, 2, 1, 0, 230}) // a wide blade, doubled parts
	f.Add([]byte{0, 2, 0, 0, 0, 99, 255, 2, 4, 0, 0, 0, 0, 0, 0, 12, 30, 40, 50, 60, 13, 20, 20, 3, 4, 1, 5, 0, 3, 0, 0, 1})
	// An offcut on hand that is narrower than one step of the parts' sizes.
	f.Add([]byte{1, 1, 0, 0, 2, 149, 242, 3, 0, 0, 0, 0, 0, 0, 98, 61, 0, 0, 2, 2, 1, 0, 0, 76, 1, 2, 0, 0, 1, 0, 1, 0, 0, 11, 0, 0, 0, 0, 0})
	f.Fuzz(func(t *testing.T, text []byte) {
		job := edgeJob(text)
		budget := cutting.Budget{Iterations: 30}
		r, err := cutting.Solve(context.Background(), job, budget)
		if err != nil {
			return
		}
		sound(t, job, r)
		if len(job.Items) < 4 {
			again, err := cutting.Solve(context.Background(), job, budget)
			if err != nil || !reflect.DeepEqual(r, again) {
				t.Fatalf("another answer the second time: %v\n%+v", err, job)
			}
		}
	})
}
