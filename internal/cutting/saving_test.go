package cutting_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// Two strips of 298.4 and a kerf of 3.2 ask for 600 mm; a panel of 599 needs
// each of the four strips 0.5 mm narrower to come from two panels, not four.
func TestSmallChangeSavesAPanel(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(1000), H: mm(599), Stock: -1}},
		Items:  []cutting.Item{{W: mm(1000), H: mm(298.4), Qty: 4}},
		Kerf:   mm(3.2),
	}
	r := solve(t, job, 0)
	c, err := cutting.Saving(context.Background(), job, r, cutting.Budget{})
	if err != nil || c == nil || r.Value != 4 || c.Value != 2 || c.By != mm(0.5) || c.Saves != 2 || c.To != mm(297.9) || c.Axis != cutting.Across {
		t.Fatalf("%v %+v of %d", err, c, r.Value)
	}
	job.Items[0].H = mm(400)
	if c, err := cutting.Saving(context.Background(), job, solve(t, job, 0), cutting.Budget{}); err != nil || c != nil {
		t.Errorf("400 mm strips: %+v, %v", c, err)
	}
}

// Fronts matched in one strip are as wide as one another, and made narrower
// together: 301 + 3 + 301 of 603 is 2 mm too wide, 300 each fits. One front
// alone would save nothing.
func TestSavingOnMatchedFronts(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(1000), H: mm(603), Stock: -1}},
		Items: []cutting.Item{
			{ID: "A", W: mm(498.5), H: mm(301), Qty: 1},
			{ID: "B", W: mm(498.5), H: mm(301), Qty: 1},
			{ID: "C", W: mm(400), H: mm(301), Qty: 1},
			{ID: "D", W: mm(597), H: mm(301), Qty: 1},
		},
		Matched: []cutting.Matched{{Items: []int{0, 1}, Axis: cutting.Along}, {Items: []int{2, 3}, Axis: cutting.Along}},
		Kerf:    mm(3),
	}
	r := solve(t, job, 0)
	c, err := cutting.Saving(context.Background(), job, r, cutting.Budget{})
	if err != nil || r.Value != 2 || c == nil {
		t.Fatalf("%v, %d panels, %+v", err, r.Value, c)
	}
	if c.Axis != cutting.Across || c.By != mm(2) || c.Value != 1 || c.Item != 0 || !slices.Equal(c.With, []int{1}) {
		t.Errorf("%+v", c)
	}
}

// smaller is a job with a size of an item, and of the items matched with it
// that share it, made smaller.
func smaller(job cutting.Job, item int, axis cutting.Axis, by unit.Length) cutting.Job {
	size := func(it *cutting.Item) *unit.Length {
		if axis == cutting.Along {
			return &it.W
		}
		return &it.H
	}
	was := *size(&job.Items[item])
	job.Items = slices.Clone(job.Items)
	change := []int{item}
	for n := 0; n < len(change); n++ {
		for _, g := range job.Matched {
			if slices.Contains(g.Items, change[n]) {
				for _, k := range g.Items {
					if *size(&job.Items[k]) == was && !slices.Contains(change, k) {
						change = append(change, k)
					}
				}
			}
		}
	}
	for _, k := range change {
		*size(&job.Items[k]) -= by
	}
	return job
}

// drawTight is a job of few parts of which some nearly fit, some matched.
func drawTight(t *rapid.T) cutting.Job {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	kerf := n(0, 20, "kerf")
	w, h := n(300, 400, "W"), n(200, 300, "H")
	job := cutting.Job{Kerf: unit.Length(kerf) * tenth, Sheets: []cutting.Sheet{{ID: "S", W: unit.Length(w) * tenth, H: unit.Length(h) * tenth, Stock: -1, Price: 7}}}
	near := func(room int, what string) unit.Length {
		k := n(1, 3, what+" in a row")
		return unit.Length((room-(k-1)*kerf)/k+n(-20, 40, what+" over")) * tenth
	}
	for k := range n(1, 3, "kinds") {
		it := cutting.Item{ID: string(rune('A' + k)), W: min(near(w, "w"), job.Sheets[0].W), H: min(near(h, "h"), job.Sheets[0].H), Qty: n(1, 3, "qty"), Turn: n(0, 2, "turn") == 2}
		job.Items = append(job.Items, it)
	}
	if k := n(0, len(job.Items)-1, "matched"); k > 0 {
		axis := cutting.Axis(n(0, 1, "axis"))
		for _, i := range []int{0, k} { // of one width
			if axis == cutting.Along {
				job.Items[i].H = job.Items[0].H
			} else {
				job.Items[i].W = job.Items[0].W
			}
		}
		job.Matched = []cutting.Matched{{Items: []int{0, k}, Axis: axis}}
	}
	return job
}

// merged is a job with its matched groups, of one width each, as single parts.
func merged(job cutting.Job) cutting.Job {
	out := job
	out.Items, out.Matched = slices.Clone(job.Items), nil
	for _, g := range job.Matched {
		it := job.Items[g.Items[0]]
		it.Qty = 1
		out.Items[g.Items[0]].Qty--
		for _, i := range g.Items[1:] {
			next := job.Items[i]
			out.Items[i].Qty--
			it.Turn = it.Turn && next.Turn
			if g.Axis == cutting.Along {
				it.W += job.Kerf + next.W
			} else {
				it.H += job.Kerf + next.H
			}
		}
		out.Items = append(out.Items, it)
	}
	return out
}

// No smaller change of any size saves a sheet, tried step by step, and the
// change told does; an integer program says so too.
func TestSavingIsTheLeast(t *testing.T) {
	solver, _ := findGLPSOL()
	dir := t.TempDir()
	found, none, checked := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job := drawTight(t)
		r := solveDrawn(t, job)
		if len(r.Short) > 0 {
			return
		}
		c, err := cutting.Saving(context.Background(), job, r, cutting.Budget{})
		if err != nil {
			t.Fatal(err)
		}
		most := unit.Length(1 << 40)
		if c != nil {
			most = c.By - tenth
		}
		for i, it := range job.Items {
			for _, axis := range []cutting.Axis{cutting.Along, cutting.Across} {
				size := it.W
				if axis == cutting.Across {
					size = it.H
				}
				// Of one size a larger change never needs more, so the largest says it all.
				by := min(most, max(mm(5), size/50)) / tenth * tenth
				if by <= 0 || size <= mm(5) {
					continue
				}
				if q := solveDrawn(t, smaller(job, i, axis, by)); q.Value < r.Value && len(q.Short) == 0 {
					t.Fatalf("%v less on item %d, %v, saves a sheet; told: %+v\n%+v", by, i, axis, c, job)
				}
			}
		}
		if c == nil {
			none++
			return
		}
		found++
		after := smaller(job, c.Item, c.Axis, c.By)
		if q := solveDrawn(t, after); q.Value != c.Value || c.Value >= r.Value {
			t.Fatalf("value %d with the change, told %+v, was %d", q.Value, c, r.Value)
		}
		if solver == "" || job.Items[0].Qty+len(job.Matched) > 3 {
			return
		}
		best := func(j cutting.Job) int64 {
			v, err := optimum(solver, dir, text(merged(j), int64(tenth)))
			if errors.Is(err, errNone) {
				t.Fatal(err)
			}
			if err != nil {
				v = -1
			}
			return v
		}
		almost := smaller(job, c.Item, c.Axis, c.By-tenth)
		if v, w := best(after), best(almost); v >= 0 && w >= 0 {
			if checked++; v != c.Value || w < r.Value {
				t.Fatalf("integer program: %d with the change, %d with a step less; told %+v, was %d\n%+v", v, w, c, r.Value, job)
			}
		}
	})
	t.Logf("%d changes found, %d of them checked by glpsol; %d jobs without one", found, checked, none)
	if found < none/10 {
		t.Error("too few changes are found for a comparison")
	}
}

func solveDrawn(t *rapid.T, job cutting.Job) cutting.Result {
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 1000})
	if err != nil {
		t.Fatal(err)
	}
	return r
}
