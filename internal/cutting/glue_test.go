package cutting_test

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// Two boards of 180 and 120 mm give a panel of 290 mm, 6 mm of each strip lost
// in jointing; strips of one width would be 148 mm and need both wide boards.
func TestStripsAsTheBoardsGive(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{
			{ID: "wide", W: mm(1000), H: mm(180), Stock: 2, Price: 500, Tone: 2},
			{ID: "narrow", W: mm(1000), H: mm(122), Stock: 1, Price: 300, Tone: 1},
		},
		Items:     []cutting.Item{{ID: "top", W: mm(950), H: mm(290), Qty: 1, Glue: &cutting.Glue{Least: mm(40), Most: mm(200), Joint: mm(6), Step: mm(1)}}},
		Kerf:      mm(3),
		Objective: cutting.LeastPrice,
	}
	r := layOut(t, job)
	if r.Value != 800 || len(r.Short) > 0 {
		t.Fatalf("costs %d, want 800: %+v", r.Value, r)
	}
	if even := layOut(t, cutting.Even(job)); even.Value != 1000 {
		t.Errorf("strips of one width cost %d, want 1000", even.Value)
	}
	job.Items[0].Qty = 2
	r = layOut(t, job)
	if len(r.Short) != 1 || r.Short[0].Count != 1 || r.Short[0].Lacks <= 0 || r.Short[0].Marred {
		t.Errorf("two of them: %+v", r.Short)
	}
	says := r.Short[0].Says(job, func(l unit.Length) string { return fmt.Sprint(l.MM()) })
	if !strings.Contains(says, "of width are lacking") {
		t.Error(says)
	}
	job.Items[0].W = mm(1200)
	if r = layOut(t, job); len(r.Short) != 1 || r.Short[0].Over != mm(200) || r.Short[0].Axis != cutting.Along {
		t.Errorf("too long for every board: %+v", r.Short)
	}
}

// On tiny boards parts glued up from strips cost no less than trying every set
// of widths and every cut finds, the bound is never above that, and nearly all
// are as cheap.
func TestGluedAgainstTryingEverything(t *testing.T) {
	seen, best, proven := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o := drawBoards(t)
		n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		most := n(0, 2, "in one piece")
		job.Items = job.Items[:min(most, len(job.Items))]
		for i := range job.Items {
			job.Items[i].Qty, job.Items[i].Strips = 1, 0
		}
		for i := range job.Sheets {
			job.Sheets[i].Order = cutting.CutOrder(n(0, 2, "order"))
		}
		var sets [][][]int // of each panel: the sets of widths that make it up
		for range n(1, 2, "panels") {
			g := cutting.Glue{Joint: unit.Length(n(0, 1, "joint")), Step: unit.Length(n(0, 1, "step")), Further: n(0, 3, "further")}
			g.Least = g.Joint + unit.Length(n(1, 2, "least"))
			g.Most = g.Least + unit.Length(n(0, 3, "most"))
			it := cutting.Item{ID: fmt.Sprint("panel", len(sets)), W: unit.Length(n(1, 6, "long")), H: g.Joint + unit.Length(n(1, 5, "wide")), Qty: 1, Glue: &g}
			job.Items = append(job.Items, it)
			sets = append(sets, stripSets(it))
		}
		want := math.MaxInt32
		var try func(k int, widths [][]int)
		try = func(k int, widths [][]int) {
			if k < len(sets) {
				for _, s := range sets[k] {
					try(k+1, append(slices.Clone(widths), s))
				}
				return
			}
			c := boardOracle{kerf: o.kerf}
			for i, it := range job.Items {
				if it.Glue == nil {
					c.w, c.h, c.turn = append(c.w, int(it.W)), append(c.h, int(it.H)), append(c.turn, it.Turn)
					continue
				}
				for _, h := range widths[i-len(job.Items)+len(sets)] {
					c.w, c.h, c.turn = append(c.w, int(it.W)), append(c.h, h), append(c.turn, false)
				}
			}
			if len(c.w) <= 7 {
				want = min(want, c.least(job))
			}
		}
		try(0, nil)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 4_000})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%+v: %v", job, err)
		}
		if want == math.MaxInt32 {
			return // or more strips than are tried
		}
		if len(r.Short) == 0 && r.Value < int64(want) && !manyStrips(job, r) || r.Bound > int64(want) {
			t.Fatalf("%+v, glue %+v, layouts %+v: value %d (bound %d), optimum %d", job, *job.Items[len(job.Items)-1].Glue, r.Layouts[0].Parts, r.Value, r.Bound, want)
		}
		seen++
		if len(r.Short) == 0 && r.Value <= int64(want) {
			best++
		}
		if r.Proven {
			proven++
		}
	})
	t.Logf("of %d jobs %d as cheap as can be, %d proven", seen, best, proven)
	if best*100 < seen*97 {
		t.Errorf("%d of %d jobs as cheap as can be", best, seen)
	}
}

// mostStrips is how many strips are tried of a part: no more than four.
func mostStrips(it cutting.Item) int {
	most := int(it.Glue.Most - it.Glue.Joint)
	return min(4, (int(it.H-it.Glue.Joint)+most-1)/most+it.Glue.Further)
}

// stripSets are the sets of widths, in falling order, that make a part up. A
// strip wider than it need be may save a cut, and so a stage of cuts.
func stripSets(it cutting.Item) (out [][]int) {
	g, n := it.Glue, mostStrips(it)
	var add func(widths []int, most, lacks int)
	add = func(widths []int, most, lacks int) {
		if lacks <= 0 {
			out = append(out, slices.Clone(widths))
			return
		}
		if len(widths) >= n {
			return
		}
		for h := int(g.Least); h <= most; h++ {
			add(append(widths, h), h, lacks-h+int(g.Joint))
		}
	}
	add(nil, int(g.Most), int(it.H-g.Joint))
	return out
}

// manyStrips reports whether there are more strips or pieces than the oracle tries.
func manyStrips(job cutting.Job, r cutting.Result) bool {
	n := 0
	for _, l := range r.Layouts {
		n += len(l.Parts) * l.Copies
		for _, p := range l.Parts {
			if p.Panel > 0 && p.Strip > mostStrips(job.Items[p.Item]) {
				return true
			}
		}
	}
	return n > 7
}

// Piles of boards with glued parts come out soundly, alike on one, two and
// four cores.
func TestGluedPilesAreSound(t *testing.T) {
	for seed := range uint64(6) {
		job := gluedJob(seed)
		for i := range job.Sheets {
			job.Sheets[i].Order = cutting.CutOrder((int(seed) + i) % 3)
		}
		var first cutting.Result
		for _, further := range []int{0, 1, 3} {
			r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 2_000, Cores: cutting.NewCores(further)})
			if err != nil {
				t.Fatal(err)
			}
			if err := verify.Result(job, r); err != nil {
				t.Fatal(seed, err)
			}
			if further == 0 {
				first = r
			} else if !reflect.DeepEqual(r, first) {
				t.Errorf("job %d with %d further cores: value %d, on one core %d; or other layouts", seed, further, r.Value, first.Value)
			}
		}
	}
}

// A panel that the boards cannot make up takes no wood from parts that fit, and
// no boards are cut for it.
func TestPanelThatCannotBeMade(t *testing.T) {
	job := cutting.Job{
		Kerf: mm(3), Objective: cutting.LeastPrice,
		Sheets: []cutting.Sheet{{ID: "b", W: mm(2000), H: mm(120), Stock: 4, Price: 100}},
		Items: []cutting.Item{
			{ID: "leg", W: mm(750), H: mm(55), Qty: 8},
			{ID: "rail", W: mm(900), H: mm(100), Qty: 4},
			{ID: "top", W: mm(1200), H: mm(600), Qty: 1, Glue: &cutting.Glue{Least: mm(50), Most: mm(150), Joint: mm(6), Step: mm(1)}},
		},
	}
	r := layOut(t, job)
	if len(r.Short) != 1 || r.Short[0].Item != 2 || r.Short[0].Lacks != mm(594) {
		t.Errorf("short: %+v", r.Short)
	}
	// Boards all narrower than the widest strip allowed give more strips.
	job.Sheets[0].H, job.Sheets[0].Stock = mm(100), 50
	job.Items = job.Items[2:]
	job.Items[0].W, job.Items[0].H = mm(900), mm(900)
	if r = layOut(t, job); len(r.Short) > 0 {
		t.Errorf("of narrow boards: %+v", r.Short)
	}
	// No board as long is as wide as the narrowest strip.
	job.Sheets[0].H = mm(45)
	r = layOut(t, job)
	show := func(l unit.Length) string { return fmt.Sprint(l.MM()) }
	if len(r.Short) != 1 || r.Short[0].Over != mm(5) || !strings.Contains(r.Short[0].Says(job, show), "narrowest allowed, 50") || strings.Contains(r.Short[0].Advice(job, show), "Make its") {
		t.Errorf("of slats: %+v", r.Short)
	}
}

// A budget of next to nothing is kept, and what is told never exceeds it.
func TestGluedWithinTheBudget(t *testing.T) {
	for _, of := range []int{1, 3, 3_000} {
		last := 0
		r, err := cutting.Solve(context.Background(), gluedJob(3), cutting.Budget{Iterations: of, Progress: func(p cutting.Progress) {
			if p.Of != of || p.Iterations > of || p.Iterations < last {
				t.Errorf("%d of %d told after %d, budget %d", p.Iterations, p.Of, last, of)
			}
			last = p.Iterations
		}})
		if err != nil || r.Iterations > of+of/10+10 {
			t.Errorf("%d moves of %d, %v", r.Iterations, of, err)
		}
	}
}

func TestGlueThatMakesNoSense(t *testing.T) {
	for want, spoil := range map[string]func(*cutting.Item){
		"one of the two":        func(it *cutting.Item) { it.Strips, it.Qty = 2, 2 },
		"run with the grain":    func(it *cutting.Item) { it.Turn = true },
		"widths above the loss": func(it *cutting.Item) { it.Glue.Least = it.Glue.Joint },
		"a step between them":   func(it *cutting.Item) { it.Glue.Least, it.Glue.Most, it.Glue.Step = mm(61), mm(69), mm(10) },
		"in steps of -1":        func(it *cutting.Item) { it.Glue.Step = -mm(1) },
		"strips of 200 to 120":  func(it *cutting.Item) { it.Glue.Least = mm(200) },
		"more than need be":     func(it *cutting.Item) { it.Glue.Further = 2000 },
		"split the job":         func(it *cutting.Item) { it.Qty = 40_000 },
		"a wider least strip":   func(it *cutting.Item) { it.Glue.Least = it.Glue.Joint + 1 },
	} {
		job := cutting.Job{
			Sheets: []cutting.Sheet{{ID: "b", W: mm(2000), H: mm(200), Stock: 1}},
			Items:  []cutting.Item{{ID: "a", W: mm(500), H: mm(300), Qty: 1, Glue: &cutting.Glue{Least: mm(40), Most: mm(120), Joint: mm(6), Step: mm(1)}}},
		}
		layOut(t, job)
		spoil(&job.Items[0])
		if _, err := cutting.Solve(context.Background(), job, cutting.Budget{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// Boards and glued parts of any bytes are refused in a sentence or laid out soundly.
func FuzzGlued(f *testing.F) {
	f.Add([]byte{1, 200, 18, 2, 0, 3, 150, 29, 1, 4, 20, 6, 1, 0})  // strips wider than the board
	f.Add([]byte{1, 200, 18, 255, 9, 3, 150, 29, 2, 4, 9, 1, 1, 3}) // as many boards as needed
	f.Add([]byte{2, 100, 90, 2, 1, 80, 8, 1, 2, 3, 60, 40, 9, 1, 0, 0, 0, 0, 50, 8, 2, 0})
	f.Fuzz(func(t *testing.T, b []byte) {
		next, more := byteByByte(b)
		var job cutting.Job
		for k := range next() % 4 {
			s := cutting.Sheet{ID: fmt.Sprint(k), W: mm(float64(next())), H: mm(float64(next())), Stock: int(int8(next())), Price: unit.Money(k)}
			how := next()
			s.Tone, s.Order, s.Trim.Bottom = how%3, cutting.CutOrder(how/3%3), mm(float64(how/9%4))
			if how > 100 && s.W > mm(20) && s.H > mm(4) {
				s.Defects = []cutting.Defect{{X: s.W / 2, Y: s.H / 4, W: mm(10), H: s.H / 3}}
			}
			job.Sheets = append(job.Sheets, s)
		}
		job.Kerf = mm(float64(next() % 16))
		for more() && len(job.Items) < 6 {
			it := cutting.Item{ID: fmt.Sprint(len(job.Items)), W: mm(float64(next())), H: mm(float64(next())), Qty: next() % 20}
			if least := next(); least > 0 {
				it.Glue = &cutting.Glue{Least: mm(float64(least)), Most: mm(float64(least + next())), Joint: mm(float64(next() % 8)), Step: mm(float64(next() % 4)), Further: next() % 4}
			}
			job.Items = append(job.Items, it)
		}
		job.Objective = cutting.Objective(len(b) % 2)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 60})
		if err != nil {
			return
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%v: %+v", err, job)
		}
	})
}
