package cutting

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// within is fits in so many stages of cuts, the first of them up (0) or across
// (1); a piece is trimmed to size in the end. The way of counting is that of
// Gilmore and Gomory (1965) Oper. Res. 13, 94-120, from memory.
func (o *oracle) within(w, h, set, across, stages int) bool {
	if set == 0 {
		return true
	}
	if w <= 0 || h <= 0 {
		return false
	}
	if set&(set-1) == 0 {
		return o.one(w, h, set)
	}
	if stages == 0 {
		return false
	}
	k := [5]int{w, h, set, across, stages}
	if v, ok := o.staged[k]; ok {
		return v
	}
	v := o.within(w, h, set, 1-across, stages-1)
	for sub := (set - 1) & set; sub > 0 && !v; sub = (sub - 1) & set {
		if across == 0 {
			for x := 1; x < w && !v; x++ {
				v = o.within(x, h, sub, 0, stages) && o.within(w-x-o.kerf, h, set&^sub, 0, stages)
			}
			continue
		}
		for y := 1; y < h && !v; y++ {
			v = o.within(w, y, sub, 1, stages) && o.within(w, h-y-o.kerf, set&^sub, 1, stages)
		}
	}
	o.staged[k] = v
	return v
}

// takes is the number of stages a sheet takes. One that is not cut into strips
// of the run asked for is one strip.
func (p *problem) takes(b *bin) int {
	i, next := int32(0), int32(0)
	for next >= 0 {
		i, next = next, -1
		for c := b.n[i].first; c >= 0; c = b.n[c].next {
			if !b.holds(c) {
				continue
			}
			if next >= 0 { // the first node in which two hold parts
				n := b.nested(i)
				if p.run == Lengthwise && b.n[i].vert || p.run == Crosswise && !b.n[i].vert {
					n++
				}
				return n
			}
			next = c
		}
	}
	return 0
}

// nested is the number of stages it takes to cut up node i, trims aside.
func (b *bin) nested(i int32) int {
	deep, filled := 0, 0
	for c := b.n[i].first; c >= 0; c = b.n[c].next {
		if b.holds(c) {
			deep, filled = max(deep, b.nested(c)), filled+1
		}
	}
	return deep + min(1, filled/2)
}

func (b *bin) holds(i int32) bool {
	if b.n[i].typ >= 0 {
		return true
	}
	for c := b.n[i].first; c >= 0; c = b.n[c].next {
		if b.holds(c) {
			return true
		}
	}
	return false
}

// drawStaged is a small job whose cuts are limited to two or three stages.
func drawStaged(t *rapid.T, sheets int) (Job, *oracle, []oracleSheet) {
	job, o, list := drawSmall(t, sheets)
	job.Stages = rapid.IntRange(2, 3).Draw(t, "stages")
	job.Run = Run(rapid.IntRange(0, 2).Draw(t, "run"))
	o.most, o.run, o.staged = job.Stages, job.Run, map[[5]int]bool{}
	return job, o, list
}

// With two or three stages of cuts the solver agrees with trying everything in
// hundreds of small cases with kerf and grain.
func TestStagesAgainstTryingEverything(t *testing.T) {
	for kinds := 1; kinds <= 3; kinds++ {
		t.Run(fmt.Sprint(kinds), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				job, o, sheets := drawStaged(t, kinds)
				agrees(t, job, o, sheets)
			})
		})
	}
}

// Each way to bound a job of limited stages stays at or below the optimum, and
// no lot of sheets that holds all parts is ruled out.
func TestStagedBoundsAreBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawStaged(t, 2)
		if rapid.Bool().Draw(t, "count") {
			job.Objective = FewestSheets
			for i := range sheets {
				sheets[i].price = 1
			}
		}
		want := o.least(sheets, 1<<len(o.w)-1)
		p, misfits := newProblem(job)
		if want == math.MaxInt32 || len(misfits) > 0 {
			return
		}
		boundsHold(t, job, o, p, sheets, want)
	})
}

// Three high parts beside each other are strips across the sheet. Of strips
// along it the first sheet is one, so that the parts come off at the second
// stage: with one part in two pieces the third is for those.
func TestRunBinds(t *testing.T) {
	sheet := Sheet{W: 9, H: 6, Stock: -1}
	high := Item{W: 3, H: 6, Qty: 2}
	for _, c := range []struct {
		stages int
		run    Run
		third  []Item
		want   int64
	}{
		{2, EitherWay, []Item{{W: 3, H: 3, Qty: 2}}, 1},
		{2, Crosswise, []Item{{W: 3, H: 3, Qty: 2}}, 1},
		{2, Lengthwise, []Item{{W: 3, H: 6, Qty: 1}}, 1},
		{2, Lengthwise, []Item{{W: 3, H: 3, Qty: 2}}, 2},
		{3, Lengthwise, []Item{{W: 3, H: 3, Qty: 2}}, 1},
		{3, Lengthwise, []Item{{W: 3, H: 3, Qty: 1}, {W: 2, H: 3, Qty: 1}, {W: 1, H: 3, Qty: 1}}, 2},
		{3, Crosswise, []Item{{W: 3, H: 3, Qty: 1}, {W: 2, H: 3, Qty: 1}, {W: 1, H: 3, Qty: 1}}, 1},
	} {
		j := Job{Sheets: []Sheet{sheet}, Items: append([]Item{high}, c.third...), Stages: c.stages, Run: c.run}
		r, err := Solve(context.Background(), j, Budget{})
		if err != nil || r.Value != c.want || !r.Proven {
			t.Errorf("%d stages, strips %v, %v: %d %v %v", c.stages, c.run, c.third, r.Value, r.Proven, err)
		}
	}
}

// Two strips, one of them of a high part and two low ones one above the other:
// the cut between those is the third stage. With a part more and a frame around
// it the fourth is needed.
func TestStagesBind(t *testing.T) {
	job := Job{Sheets: []Sheet{{W: 10, H: 6, Stock: -1}}, Items: []Item{{W: 10, H: 2, Qty: 1}, {W: 4, H: 4, Qty: 1}, {W: 6, H: 2, Qty: 1}}}
	small := Item{W: 3, H: 2, Qty: 2} // side by side above the low one
	for _, c := range []struct {
		stages int
		items  []Item
		want   int64
	}{
		{0, []Item{{W: 6, H: 2, Qty: 1}}, 1},
		{3, []Item{{W: 6, H: 2, Qty: 1}}, 1},
		{2, []Item{{W: 6, H: 2, Qty: 1}}, 2},
		{0, []Item{small}, 1},
		{3, []Item{small}, 2},
		{2, []Item{small}, 2},
	} {
		j := job
		j.Stages, j.Items = c.stages, append(append([]Item(nil), job.Items...), c.items...)
		r, err := Solve(context.Background(), j, Budget{})
		if err != nil || r.Value != c.want || !r.Proven {
			t.Errorf("%d stages: %d %v %v", c.stages, r.Value, r.Proven, err)
		}
	}
}
