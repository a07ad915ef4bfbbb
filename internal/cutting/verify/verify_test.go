package verify

import (
	"context"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

func sound(t *testing.T) (cutting.Job, cutting.Result) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "S", W: 1000 * mm, H: 600 * mm, Stock: 2, Price: 10, Trim: cutting.Trim{Left: 10 * mm, Top: 5 * mm}}},
		Items: []cutting.Item{
			{ID: "A", W: 400 * mm, H: 280 * mm, Qty: 3},
			{ID: "B", W: 90 * mm, H: 500 * mm, Qty: 1},
		},
		Kerf:      3 * mm,
		Objective: cutting.LeastPrice,
	}
	job.LeastOffcut.W, job.LeastOffcut.H = 200*mm, 30*mm
	r, err := cutting.Solve(context.Background(), job, cutting.Budget{})
	if err != nil || len(r.Layouts) != 1 {
		t.Fatal(err, len(r.Layouts))
	}
	if err := Result(job, r); err != nil {
		t.Fatal(err)
	}
	return job, r
}

// Every kind of fault is found.
func TestFaultsAreFound(t *testing.T) {
	for want, spoil := range map[string]func(*cutting.Job, *cutting.Result){
		"asked for":        func(j *cutting.Job, _ *cutting.Result) { j.Items[0].Qty++ },
		"in stock":         func(j *cutting.Job, _ *cutting.Result) { j.Sheets[0].Stock = 0 },
		"less than a kerf": func(j *cutting.Job, _ *cutting.Result) { j.Kerf = 4 * mm },
		"in the trim":      func(j *cutting.Job, _ *cutting.Result) { j.Sheets[0].Trim.Left += mm },
		"is cut":           func(j *cutting.Job, _ *cutting.Result) { j.Items[1].W -= mm },
		"across the grain": func(_ *cutting.Job, r *cutting.Result) { r.Layouts[0].Parts[0].Turned = true },
		"the result says":  func(_ *cutting.Job, r *cutting.Result) { r.Value++ },
		"below the bound":  func(_ *cutting.Job, r *cutting.Result) { r.Bound = r.Value + 1 },
		"told proven":      func(_ *cutting.Job, r *cutting.Result) { r.Bound, r.Proven = r.Value-1, true },
		"not the sheet":    func(_ *cutting.Job, r *cutting.Result) { r.Layouts[0].Root.W -= mm },
		"between cuts":     func(_ *cutting.Job, r *cutting.Result) { last(&r.Layouts[0].Root).X += mm },
		"not in the tree":  func(_ *cutting.Job, r *cutting.Result) { part(&r.Layouts[0].Root).Item = 1 },
		"offcuts in the tree": func(_ *cutting.Job, r *cutting.Result) {
			r.Layouts[0].Offcuts = r.Layouts[0].Offcuts[1:]
		},
		"worth keeping": func(j *cutting.Job, _ *cutting.Result) { j.LeastOffcut.H = 900 * mm },
		"into the trim": func(_ *cutting.Job, r *cutting.Result) { r.Layouts[0].Offcuts[0].W += 1000 * mm },
		"at stage 4": func(j *cutting.Job, r *cutting.Result) {
			j.Stages = 3
			deeper(&r.Layouts[0].Root, 2)
		},
		"3 stages of cuts, strips lengthwise, but a part comes off at stage 4": func(j *cutting.Job, r *cutting.Result) {
			j.Stages, j.Run = 3, cutting.Lengthwise
			deeper(&r.Layouts[0].Root, 1)
			if !r.Layouts[0].Root.Vertical {
				t.Fatal("strips lengthwise already")
			}
		},
		"at stage 3": func(j *cutting.Job, r *cutting.Result) {
			j.Stages = 2
			deeper(&r.Layouts[0].Root, 1)
		},
	} {
		job, r := sound(t)
		spoil(&job, &r)
		if err := Result(job, r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// deeper nests a tree of cuts in n more, each with a part beside it.
func deeper(root *cutting.Node, n int) {
	for range n {
		*root = cutting.Node{W: root.W, H: root.H, Kind: cutting.Split, Vertical: !root.Vertical, Children: []cutting.Node{*root, {Kind: cutting.Part}}}
	}
}

// last is the last child of the first split that runs along X.
func last(n *cutting.Node) *cutting.Node {
	if n.Vertical && len(n.Children) > 1 {
		return &n.Children[len(n.Children)-1]
	}
	for i := range n.Children {
		if l := last(&n.Children[i]); l != nil {
			return l
		}
	}
	return nil
}

// part is the first part of item 0.
func part(n *cutting.Node) *cutting.Node {
	if n.Kind == cutting.Part && n.Item == 0 {
		return n
	}
	for i := range n.Children {
		if p := part(&n.Children[i]); p != nil {
			return p
		}
	}
	return nil
}

// Four parts round a square, each blocking the next: the classic layout that
// no edge-to-edge cut divides. Without one of them a cut passes.
func TestPinwheel(t *testing.T) {
	p := []cutting.Placed{
		{X: 0, Y: 0, W: 2, H: 1},
		{X: 2, Y: 0, W: 1, H: 2},
		{X: 1, Y: 2, W: 2, H: 1},
		{X: 0, Y: 1, W: 1, H: 2},
	}
	if Separable(p, 0) {
		t.Error("a pinwheel was taken apart")
	}
	if !Separable(p[:3], 0) {
		t.Error("three parts were not taken apart")
	}
}

func TestBarFaultsAreFound(t *testing.T) {
	for want, spoil := range map[string]func(*cutting.BarJob, *cutting.BarResult){
		"too short":       func(j *cutting.BarJob, _ *cutting.BarResult) { j.Kerf += mm },
		"asked for":       func(j *cutting.BarJob, _ *cutting.BarResult) { j.Items[0].Qty-- },
		"in stock":        func(j *cutting.BarJob, _ *cutting.BarResult) { j.Bars[0].Stock = 1 },
		"are left":        func(_ *cutting.BarJob, r *cutting.BarResult) { r.Layouts[0].Left += mm },
		"the result says": func(_ *cutting.BarJob, r *cutting.BarResult) { r.Value++ },
	} {
		job := cutting.BarJob{
			Bars:  []cutting.Bar{{Len: 1000 * mm, Stock: 3}},
			Items: []cutting.BarItem{{Len: 331 * mm, Qty: 4}}, Kerf: 3 * mm,
		}
		r, err := cutting.SolveBars(context.Background(), job, cutting.Budget{})
		if err != nil {
			t.Fatal(err)
		}
		if err := Bars(job, r); err != nil {
			t.Fatal(err)
		}
		spoil(&job, &r)
		if err := Bars(job, r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// Pieces of a matched group must follow one another.
func TestMatchedFaultsAreFound(t *testing.T) {
	for want, spoil := range map[string]func(*cutting.Job, *cutting.Result){
		"out of order":     func(j *cutting.Job, _ *cutting.Result) { j.Matched[0].Items = []int{1, 0} },
		"does not follow":  func(j *cutting.Job, _ *cutting.Result) { j.Matched[0].Axis = cutting.Across },
		"1 are cut":        func(_ *cutting.Job, r *cutting.Result) { ungroup(r) },
		"not in the job":   func(j *cutting.Job, _ *cutting.Result) { j.Matched = nil },
		"0 are cut and 0 ": func(j *cutting.Job, _ *cutting.Result) { j.Matched = append(j.Matched, j.Matched[0]) },
	} {
		job, _ := sound(t)
		job.Matched = []cutting.Matched{{Items: []int{0, 1}, Axis: cutting.Along}}
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{})
		if err != nil {
			t.Fatal(err)
		}
		if err := Result(job, r); err != nil {
			t.Fatal(err)
		}
		spoil(&job, &r)
		if err := Result(job, r); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

func ungroup(r *cutting.Result) {
	for i := range r.Layouts {
		for k := range r.Layouts[i].Parts {
			if p := &r.Layouts[i].Parts[k]; p.Group > 0 {
				p.Group = 0
				return
			}
		}
	}
}
