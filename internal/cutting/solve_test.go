package cutting_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

func mm(v float64) unit.Length { return unit.MM(v) }

func solve(t testing.TB, job cutting.Job, iterations int) cutting.Result {
	t.Helper()
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: iterations})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A low case bent from two half shells: panel 2440 x 1220, trims of 10, kerf
// 2.2; strips of 420. Derived: 1200 - 2*420 - 2*2.2 = 355.6 is left of the
// width, 2420 - 1838.19 - 2.2 = 579.61 of the length.
func TestTwoHalfShellsFromOnePanel(t *testing.T) {
	ten := mm(10)
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "oak ply", W: mm(2440), H: mm(1220), Stock: -1, Trim: cutting.Trim{Left: ten, Right: ten, Bottom: ten, Top: ten}}},
		Items:  []cutting.Item{{ID: "half shell", W: mm(1838.19), H: mm(420), Qty: 2}},
		Kerf:   mm(2.2),
	}
	job.LeastOffcut.W, job.LeastOffcut.H = mm(300), mm(300)
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if r.Value != 1 || !r.Proven || len(r.Layouts) != 1 {
		t.Fatalf("got %+v", r)
	}
	widths, lengths := map[unit.Length]bool{}, map[unit.Length]bool{}
	for _, o := range r.Layouts[0].Offcuts {
		widths[o.H], lengths[o.W] = true, true
	}
	if !widths[mm(355.6)] || !lengths[mm(579.61)] {
		t.Errorf("offcuts %+v", r.Layouts[0].Offcuts)
	}
	job.Items[0].Qty = 3
	if r = solve(t, job, 0); r.Value != 2 || !r.Proven {
		t.Errorf("three half shells: %d sheets, proven %t", r.Value, r.Proven)
	}
	job.Items[0].Qty = 2
	job.Sheets[0] = cutting.Sheet{ID: "short", W: mm(1000), H: mm(1220), Stock: -1}
	r = solve(t, job, 0)
	if len(r.Short) != 1 || r.Short[0].Over != mm(838.19) || r.Short[0].Axis != cutting.Along {
		t.Errorf("panel 1000 long: %+v", r.Short)
	}
}

// Strips from a width: floor((W+k)/(w+k)), arithmetic. 48 in, 12 in strips, 1/8
// kerf: three, and four equal strips are 11-29/32; 1200 mm, 298 mm strips, 3.2
// kerf: three, as four need 1201.6.
func TestStripsFromAWidth(t *testing.T) {
	for _, c := range []struct {
		wide, strip, kerf unit.Length
		sheets            int64 // for four strips
	}{
		{unit.In(48), unit.In(12), unit.In(0.125), 2},
		{unit.In(48), unit.In(11.90625), unit.In(0.125), 1},
		{mm(1200), mm(298), mm(3.2), 2},
		{mm(1201.6), mm(298), mm(3.2), 1},
	} {
		job := cutting.Job{
			Sheets: []cutting.Sheet{{W: mm(2440), H: c.wide, Stock: -1}},
			Items:  []cutting.Item{{W: mm(2440), H: c.strip, Qty: 4}},
			Kerf:   c.kerf,
		}
		r := solve(t, job, 0)
		if err := verify.Result(job, r); err != nil {
			t.Error(err)
		}
		if r.Value != c.sheets || !r.Proven {
			t.Errorf("%v strips of %v: %d sheets, proven %t", c.wide.MM(), c.strip.MM(), r.Value, r.Proven)
		}
	}
}

// Six shells of birch ply, 1525 x 1525 trimmed by 10, flat length 1488.94, 19-1/2
// in deep. Three in a panel: 1505 - 3*495.3 - 2*3.2 leave 12.7; two panels do,
// seven shells take three. Derived.
func TestShellsOnSquarePanels(t *testing.T) {
	ten := mm(10)
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(1525), H: mm(1525), Stock: -1, Trim: cutting.Trim{Left: ten, Right: ten, Bottom: ten, Top: ten}}},
		Items:  []cutting.Item{{W: mm(1488.94), H: unit.In(19.5), Qty: 6}},
		Kerf:   mm(3.2),
	}
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if r.Value != 2 || !r.Proven || len(r.Layouts) != 1 || r.Layouts[0].Copies != 2 {
		t.Fatalf("%+v", r)
	}
	top := unit.Length(0)
	for _, p := range r.Layouts[0].Parts {
		top = max(top, p.Y+p.H)
	}
	if left := mm(1515) - top; left != mm(12.7) {
		t.Errorf("%v mm are left, not 12.7", left.MM())
	}
	job.Items[0].Qty = 7
	if r := solve(t, job, 0); r.Value != 3 || !r.Proven {
		t.Errorf("seven shells: %d panels", r.Value)
	}
}

// A part too long is told by how much, what it must come down to, and how it
// could be joined.
func TestTooLong(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "birch", W: mm(1000), H: mm(600), Stock: -1}},
		Items:  []cutting.Item{{ID: "B", W: mm(1838.19), H: mm(420), Qty: 2}, {ID: "C", W: mm(700), H: mm(900), Qty: 1, Turn: true}},
		Kerf:   mm(2.2),
	}
	r := solve(t, job, 0)
	if len(r.Short) != 2 {
		t.Fatalf("%+v", r.Short)
	}
	b, c := r.Short[0], r.Short[1]
	if b.Over != mm(838.19) || b.Least == nil || b.Least.To != mm(1000) || b.Join.Pieces != 2 || b.Join.Length != mm(919.095) {
		t.Errorf("%+v %+v", b, b.Least)
	}
	// Turned, C is 900 long and 700 wide: 100 too wide for the panel.
	if c.Over != mm(100) || c.Axis != cutting.Across || c.Least == nil || c.Least.Axis != cutting.Along || c.Least.To != mm(600) {
		t.Errorf("%+v %+v", c, c.Least)
	}
	show := func(l unit.Length) string { return fmt.Sprintf("%.2f mm", l.MM()) }
	const want = "The part B, 1838.19 mm × 420.00 mm, is too large for every panel: birch is short by 838.19 mm along the grain (1000.00 mm usable)."
	f := r.Findings(job, show)
	if f[0].Says != want || f[0].Advice != "Make its length 1000.00 mm or less, or join it from 2 pieces of 919.10 mm each plus what the joint needs, or buy a larger panel." {
		t.Errorf("%+v", f[0])
	}
}

func TestOffcutFirst(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{
			{ID: "panel", W: mm(2440), H: mm(1220), Stock: -1, Price: 8000},
			{ID: "offcut", W: mm(900), H: mm(600), Stock: 1, Offcut: true},
		},
		Items:     []cutting.Item{{W: mm(800), H: mm(500), Qty: 1}},
		Kerf:      mm(3),
		Objective: cutting.LeastPrice,
	}
	r := solve(t, job, 0)
	if r.Value != 0 || !r.Proven || r.Layouts[0].Sheet != 1 {
		t.Errorf("%+v", r)
	}
	job.Items[0].Qty = 7 // six from a panel, the seventh from the offcut
	if r = solve(t, job, 0); r.Value != 8000 || !r.Proven {
		t.Errorf("%+v", r)
	}
	if err := verify.Result(job, r); err != nil {
		t.Error(err)
	}
}

// Where stages are limited, no part takes more, trims and the last trimming of
// a part aside.
func TestStages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		job.Stages, job.Matched = rapid.IntRange(2, 3).Draw(t, "most"), nil
		job.Run = cutting.Run(rapid.IntRange(0, 2).Draw(t, "run"))
		for i := range job.Sheets {
			job.Sheets[i].Trim = cutting.Trim{}
		}
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 100})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range r.Layouts {
			if s := stages(job, l.Root); s > job.Stages {
				t.Fatalf("%d stages: %+v", s, l.Root)
			}
		}
	})
}

// stages counts nested cuts down to a part; a rectangle with one part and rests
// is trimmed, which is no stage.
func stages(job cutting.Job, n cutting.Node) int {
	if n.Kind != cutting.Split {
		return 0
	}
	deep, filled := 0, 0
	for _, c := range n.Children {
		if holds(c) {
			filled++
			deep = max(deep, stages(job, c))
		}
	}
	if filled < 2 {
		return deep
	}
	return deep + 1
}

func holds(n cutting.Node) bool {
	if n.Kind == cutting.Part {
		return true
	}
	return slices.ContainsFunc(n.Children, holds)
}

// The same job, seed and budget give the same answer, whatever ran before.
func TestSameAnswer(t *testing.T) {
	job := cutting.Job{Sheets: []cutting.Sheet{{W: mm(400), H: mm(400), Stock: -1}}, Kerf: mm(3), Seed: 4}
	for i := range 30 {
		job.Items = append(job.Items, cutting.Item{W: mm(float64(60 + i*7%130)), H: mm(float64(50 + i*11%140)), Qty: 2, Turn: i%2 == 0})
	}
	a := solve(t, job, 4000)
	if b := solve(t, job, 4000); fmt.Sprint(a) != fmt.Sprint(b) {
		t.Error("two runs differ")
	}
	if err := verify.Result(job, a); err != nil {
		t.Error(err)
	}
}

// A search that is stopped at once still lays everything out.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	job := cutting.Job{Sheets: []cutting.Sheet{{W: mm(1000), H: mm(1000), Stock: -1}}, Kerf: mm(3)}
	for i := range 40 {
		job.Items = append(job.Items, cutting.Item{W: mm(float64(200 + 13*i%300)), H: mm(float64(150 + 17*i%400)), Qty: 3})
	}
	r, err := cutting.Solve(ctx, job, cutting.Budget{})
	if err != nil || len(r.Short) > 0 {
		t.Fatal(err, r.Short)
	}
	if err := verify.Result(job, r); err != nil {
		t.Error(err)
	}
}

func TestManyOfOne(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{W: mm(2440), H: mm(1220), Stock: -1}},
		Items:  []cutting.Item{{W: mm(300), H: mm(200), Qty: 6000, Turn: true}},
		Kerf:   mm(3),
	}
	r := solve(t, job, 2000)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	// By area with kerfs: 2443 x 1223 holds at most 48.6 of 303 x 203.
	if r.Value < 125 || r.Value > 136 || len(r.Layouts) > 12 {
		t.Errorf("%d sheets in %d layouts", r.Value, len(r.Layouts))
	}
}

func TestJobsThatMakeNoSense(t *testing.T) {
	good := cutting.Job{Sheets: []cutting.Sheet{{W: mm(100), H: mm(100), Stock: -1}}, Items: []cutting.Item{{W: mm(10), H: mm(10), Qty: 1}}}
	for name, spoil := range map[string]func(*cutting.Job){
		"no panel is given":     func(j *cutting.Job) { j.Sheets = nil },
		"the kerf is -1":        func(j *cutting.Job) { j.Kerf = -mm(1) },
		"both sides must be":    func(j *cutting.Job) { j.Items[0].W = 0 },
		"is asked for -3 times": func(j *cutting.Job) { j.Items[0].Qty = -3 },
		"a trim below 0":        func(j *cutting.Job) { j.Sheets[0].Trim.Top = -1 },
		"more than 100000":      func(j *cutting.Job) { j.Items = append(j.Items, j.Items[0], j.Items[0]); j.Items[1].Qty = 100_000 },
		"the least height is":   func(j *cutting.Job) { j.Sheets = append(j.Sheets, j.Sheets[0]); j.Objective = cutting.LeastHeight },
		"is none of fewest":     func(j *cutting.Job) { j.Objective = 9 },
		"has the price -5":      func(j *cutting.Job) { j.Sheets[0].Price = -5 },
	} {
		job := good
		job.Sheets, job.Items = slices.Clone(good.Sheets), slices.Clone(good.Items)
		spoil(&job)
		if _, err := cutting.Solve(context.Background(), job, cutting.Budget{}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Any job gives a layout that the verifier passes.
func TestAnyJobIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 60})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%v\n%+v\n%+v", err, job, r)
		}
	})
}

// Four drawer fronts from one strip, in order: 4 x 440 + 3 x 3 = 1769 long.
func TestMatchedFronts(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "ash ply", W: mm(2440), H: mm(600), Stock: -1}},
		Items: []cutting.Item{
			{ID: "A", W: mm(440), H: mm(180), Qty: 2},
			{ID: "B", W: mm(440), H: mm(200), Qty: 2},
			{ID: "C", W: mm(660), H: mm(200), Qty: 3},
		},
		Matched: []cutting.Matched{{Items: []int{1, 0, 0, 1}, Axis: cutting.Along, Label: "fronts"}},
		Kerf:    mm(3),
	}
	r := solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	// 1769 and 660 with a kerf are 2432 of 2440: all seven from one panel.
	if r.Value != 1 || !r.Proven || len(r.Short) > 0 {
		t.Errorf("%d sheets, proven %t, short %+v", r.Value, r.Proven, r.Short)
	}
	job.Sheets[0].W = mm(1768)
	r = solve(t, job, 0)
	if err := verify.Result(job, r); err != nil {
		t.Fatal(err)
	}
	if len(r.Short) != 4 || r.Short[0].Over != mm(1) || r.Short[0].Group != 1 {
		t.Fatalf("%+v", r.Short)
	}
	show := func(l unit.Length) string { return fmt.Sprintf("%.0f mm", l.MM()) }
	const want = "The matched parts fronts, 1769 mm × 200 mm together, are too large for every panel: ash ply is short by 1 mm along the grain."
	if got := r.Short[0].Says(job, show); got != want {
		t.Error(got)
	}
	job.Matched[0].Items = []int{1, 1, 1}
	if _, err := cutting.Solve(context.Background(), job, cutting.Budget{}); err == nil || !strings.Contains(err.Error(), "name more pieces of part 2 (B)") {
		t.Error(err)
	}
}

func drawJob(t *rapid.T) cutting.Job {
	length := func(lo, hi int, what string) unit.Length {
		return unit.Length(rapid.IntRange(lo, hi).Draw(t, what)) * unit.Millimetre / 10
	}
	job := cutting.Job{Kerf: length(0, 40, "kerf"), Seed: rapid.Uint64().Draw(t, "seed")}
	job.Objective = cutting.Objective(rapid.IntRange(0, 1).Draw(t, "objective"))
	job.Stages = rapid.SampledFrom([]int{0, 2, 3}).Draw(t, "stages")
	if job.Stages > 0 {
		job.Run = cutting.Run(rapid.IntRange(0, 2).Draw(t, "run"))
	}
	job.LeastOffcut.W, job.LeastOffcut.H = mm(30), mm(10)
	for range rapid.IntRange(1, 3).Draw(t, "sheets") {
		s := cutting.Sheet{ID: "s", W: length(500, 3000, "W"), H: length(500, 2000, "H"), Stock: -1}
		s.Price = unit.Money(rapid.IntRange(0, 100).Draw(t, "price"))
		s.Stock = rapid.IntRange(-1, 3).Draw(t, "stock")
		s.Trim = cutting.Trim{Left: length(0, 60, "l"), Right: length(0, 60, "r"), Bottom: length(0, 60, "b"), Top: length(0, 60, "t")}
		job.Sheets = append(job.Sheets, s)
	}
	for range rapid.IntRange(0, 8).Draw(t, "items") {
		job.Items = append(job.Items, cutting.Item{
			ID: "p", W: length(20, 1500, "w"), H: length(20, 1500, "h"),
			Qty: rapid.IntRange(0, 4).Draw(t, "qty"), Turn: rapid.Bool().Draw(t, "turn"),
		})
	}
	var free []int // pieces that may still be matched
	for i, it := range job.Items {
		for range it.Qty {
			free = append(free, i)
		}
	}
	for n := rapid.IntRange(0, 2).Draw(t, "groups"); n > 0 && len(free) > 1; n-- {
		free = rapid.Permutation(free).Draw(t, "matched")
		k := rapid.IntRange(2, min(3, len(free))).Draw(t, "of")
		job.Matched = append(job.Matched, cutting.Matched{Items: slices.Clone(free[:k]), Axis: cutting.Axis(n % 2)})
		free = free[k:]
	}
	return job
}

// Whatever the bytes ask for, the answer is sound or the job is refused.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{1, 100, 100, 255, 3, 100, 100, 1, 0}) // a part as large as the sheet
	f.Add([]byte{1, 100, 100, 255, 3, 103, 100, 1, 0}) // one kerf too large
	f.Add([]byte{1, 100, 100, 0, 3, 50, 50, 1, 1})     // none in stock
	f.Add([]byte{1, 200, 90, 255, 3, 9, 7, 250, 1})    // many of one part
	f.Add([]byte{2, 100, 90, 2, 80, 80, 1, 3, 200, 200, 9, 1, 20, 40, 9, 0})
	f.Fuzz(func(t *testing.T, b []byte) {
		next, more := byteByByte(b)
		var job cutting.Job
		for range next() % 4 {
			job.Sheets = append(job.Sheets, cutting.Sheet{W: mm(float64(next())), H: mm(float64(next())), Stock: int(int8(next()))})
		}
		job.Kerf = mm(float64(next() % 16))
		for more() && len(job.Items) < 12 {
			job.Items = append(job.Items, cutting.Item{W: mm(float64(next())), H: mm(float64(next())), Qty: next(), Turn: next()&1 != 0})
		}
		job.Stages = []int{0, 3, 2}[len(b)/3%3]
		if job.Stages > 0 {
			job.Run = cutting.Run(len(b) / 9 % 3)
		}
		job.Objective = cutting.Objective(len(b) % 3)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 20})
		if err != nil {
			return
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%v: %+v", err, job)
		}
	})
}

// byteByByte reads the input of a fuzz target: 0 where there is none left.
func byteByByte(b []byte) (next func() int, more func() bool) {
	at := 0
	next = func() int {
		if at == len(b) {
			return 0
		}
		at++
		return int(b[at-1])
	}
	return next, func() bool { return at < len(b) }
}
