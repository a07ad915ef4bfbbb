package cutting_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"
)

func layOut(t *testing.T, job cutting.Job) cutting.Result {
	t.Helper()
	return laidOut(t, job, 0)
}

// laidOut is a sound layout, found in so many moves; 0: the default.
func laidOut(t testing.TB, job cutting.Job, moves int) cutting.Result {
	t.Helper()
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: moves})
	if err != nil {
		t.Fatal(err)
	}
	if err := verify.Result(job, r); err != nil {
		t.Fatalf("%v: %+v", err, r)
	}
	return r
}

// Two boards, one with a knot in the middle: the long parts take the clear one,
// the short ones lie on either side of the knot.
func TestLongPartsOnLongClearStretches(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{
			{ID: "knotty", W: mm(2000), H: mm(100), Stock: 1, Defects: []cutting.Defect{{X: mm(900), Y: mm(20), W: mm(100), H: mm(60), What: "knot"}}},
			{ID: "clear", W: mm(2000), H: mm(100), Stock: 1},
		},
		Items: []cutting.Item{
			{ID: "short", W: mm(440), H: mm(90), Qty: 6},
			{ID: "long", W: mm(1900), H: mm(90), Qty: 1},
		},
		Kerf: mm(3),
	}
	r := layOut(t, job)
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			if long := p.Item == 1; long != (l.Sheet == 1) {
				t.Errorf("%s lies on %s", job.Items[p.Item].ID, job.Sheets[l.Sheet].ID)
			}
		}
	}
	// Not all come out: the short ones are what is left, and it is told.
	if len(r.Short) != 1 || r.Short[0].Item != 0 || r.Short[0].Count != 2 || r.Short[0].Marred {
		t.Errorf("short: %+v", r.Short)
	}
	// The clear board gone, the long part fits the size of the other, but not
	// clear of the knot.
	job.Sheets = job.Sheets[:1]
	r = layOut(t, job)
	marred := slices.ContainsFunc(r.Short, func(s cutting.Shortfall) bool {
		return s.Item == 1 && s.Marred && strings.Contains(s.Says(job, func(l unit.Length) string { return l.String() }), "clear of the defects")
	})
	if !marred || len(r.Layouts) != 1 || len(r.Layouts[0].Parts) != 4 {
		t.Errorf("with the knotty board alone: %+v", r)
	}
}

// An L of clear wood round a knot: 600 x 200 with a knot in the upper right
// corner. Crosscut first gives the wide part whole and the long one not; rip
// first the other way round; each board says which way it is cut.
func TestOrderIsSaid(t *testing.T) {
	board := cutting.Sheet{ID: "b", W: mm(600), H: mm(200), Stock: 1}
	job := cutting.Job{
		Sheets: []cutting.Sheet{board}, Kerf: 0,
		Items: []cutting.Item{{ID: "wide", W: mm(200), H: mm(200), Qty: 1}, {ID: "strip", W: mm(400), H: mm(100), Qty: 2}},
	}
	if r := layOut(t, job); len(r.Short) > 0 || r.Layouts[0].Order != cutting.AnyOrder {
		t.Fatalf("a board without defects or order is cut as a panel: %+v", r)
	}
	for _, c := range []struct {
		order cutting.CutOrder
		items []cutting.Item
	}{
		{cutting.CrosscutFirst, job.Items},
		{cutting.RipFirst, []cutting.Item{{ID: "long", W: mm(600), H: mm(100), Qty: 1}, {ID: "half", W: mm(300), H: mm(100), Qty: 2}}},
	} {
		job.Sheets[0].Order, job.Items = c.order, c.items
		r := layOut(t, job)
		if len(r.Short) > 0 || r.Layouts[0].Order != c.order {
			t.Errorf("%v: %+v", c.order, r)
		}
	}
	// Crosscut first cannot have a full-length strip above two crosscut pieces
	// of unlike heights in four stages.
	job.Sheets[0] = cutting.Sheet{ID: "b", W: mm(600), H: mm(200), Stock: 1}
	job.Items = []cutting.Item{
		{ID: "a", W: mm(600), H: mm(50), Qty: 1},
		{ID: "b", W: mm(300), H: mm(150), Qty: 1},
		{ID: "c", W: mm(300), H: mm(100), Qty: 1},
		{ID: "d", W: mm(150), H: mm(50), Qty: 2},
	}
	for _, c := range []struct {
		order cutting.CutOrder
		short bool
	}{{cutting.AnyOrder, false}, {cutting.RipFirst, true}, {cutting.CrosscutFirst, true}} {
		job.Sheets[0].Order = c.order
		if r := layOut(t, job); (len(r.Short) > 0) != c.short {
			t.Errorf("%v: short %+v", c.order, r.Short)
		}
	}
}

// A panel's strips come from one board; where none has enough, from those of
// the nearest tone, light to dark.
func TestStripsOfAPanel(t *testing.T) {
	board := func(id string, tone int) cutting.Sheet {
		return cutting.Sheet{ID: id, W: mm(1000), H: mm(210), Stock: 1, Tone: tone}
	}
	job := cutting.Job{
		Sheets: []cutting.Sheet{board("dark", 9), board("light", 1), board("mid", 5), board("dusk", 8)},
		Items: []cutting.Item{
			{ID: "top", W: mm(480), H: mm(100), Qty: 8, Strips: 4},
			{ID: "shelf", W: mm(480), H: mm(100), Qty: 6, Strips: 6},
			{ID: "rail", W: mm(480), H: mm(100), Qty: 2},
		},
		Kerf: mm(3),
	}
	r := layOut(t, job)
	boards := map[[2]int][]int{} // of each panel: the tone of each strip
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			if p.Panel > 0 {
				k := [2]int{p.Item, p.Panel}
				if boards[k] == nil {
					boards[k] = make([]int, job.Items[p.Item].Strips)
				}
				boards[k][p.Strip-1] = job.Sheets[l.Sheet].Tone
			}
		}
	}
	for _, n := range []int{1, 2} {
		if got := boards[[2]int{0, n}]; len(got) != 4 || slices.Min(got) != slices.Max(got) {
			t.Errorf("top %d is glued from tones %v", n, got)
		}
	}
	shelf := boards[[2]int{1, 1}]
	if !slices.IsSorted(shelf) || shelf[5]-shelf[0] > 4 {
		t.Errorf("the shelf's tones run %v", shelf)
	}
}

func TestBoardsThatMakeNoSense(t *testing.T) {
	good := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "b", W: mm(2000), H: mm(200), Stock: 1, Defects: []cutting.Defect{{X: mm(10), Y: mm(10), W: mm(50), H: mm(50)}, {X: mm(100), Y: mm(10), W: mm(50), H: mm(50)}}}},
		Items:  []cutting.Item{{ID: "a", W: mm(100), H: mm(50), Qty: 4}, {ID: "c", W: mm(100), H: mm(50), Qty: 2}},
	}
	layOut(t, good)
	for want, spoil := range map[string]func(*cutting.Job){
		"must lie on the board":    func(j *cutting.Job) { j.Sheets[0].Defects[1].X = mm(1960) },
		"overlap":                  func(j *cutting.Job) { j.Sheets[0].Defects[1].X = mm(40) },
		"whole number of panels":   func(j *cutting.Job) { j.Items[0].Strips = 3 },
		"none of any":              func(j *cutting.Job) { j.Sheets[0].Order = 7 },
		"not for height":           func(j *cutting.Job) { j.Objective = cutting.LeastHeight },
		"without defects":          func(j *cutting.Job) { j.Matched = []cutting.Matched{{Items: []int{0, 1}}} },
		"must lie on the board of": func(j *cutting.Job) { j.Sheets[0].Defects[0].H = -1 },
	} {
		job := good
		job.Sheets, job.Items = slices.Clone(good.Sheets), slices.Clone(good.Items)
		job.Sheets[0].Defects = slices.Clone(good.Sheets[0].Defects)
		spoil(&job)
		if _, err := cutting.Solve(context.Background(), job, cutting.Budget{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// Boards and parts of furniture size, with all that boards may have, are laid
// out soundly, and the same each time.
func TestPilesOfBoardsAreSound(t *testing.T) {
	for seed := range uint64(12) {
		job := boardsJob(seed)
		for i := range job.Sheets {
			job.Sheets[i].Order = cutting.CutOrder((int(seed) + i) % 3)
		}
		one, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 2_000})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, one); err != nil {
			t.Fatal(seed, err)
		}
		two, _ := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 2_000})
		if one.Value != two.Value || len(one.Layouts) != len(two.Layouts) || one.Iterations != two.Iterations {
			t.Errorf("job %d: another answer the second time", seed)
		}
	}
}
