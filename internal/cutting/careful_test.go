package cutting_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// boardOracle tries every cut at every whole coordinate, with real kerfs, and
// every place of a part. It shares nothing with the solver but the rules.
type boardOracle struct {
	kerf    int
	w, h    []int // of each piece
	turn    []bool
	defects []cutting.Defect // of the board at hand
	memo    map[[5]int]bool
	stages  map[[7]int]bool
}

func (o *boardOracle) clear(x, y, w, h int) bool {
	for _, d := range o.defects {
		if x < int(d.X+d.W) && int(d.X) < x+w && y < int(d.Y+d.H) && int(d.Y) < y+h {
			return false
		}
	}
	return true
}

func (o *boardOracle) one(i, x1, y1, x2, y2 int) bool {
	for turn := range 2 {
		w, h := o.w[i], o.h[i]
		if turn == 1 {
			if !o.turn[i] {
				return false
			}
			w, h = h, w
		}
		for x := x1; x+w <= x2; x++ {
			for y := y1; y+h <= y2; y++ {
				if o.clear(x, y, w, h) {
					return true
				}
			}
		}
	}
	return false
}

func (o *boardOracle) fits(x1, y1, x2, y2, set int) bool {
	if set == 0 {
		return true
	}
	if x1 >= x2 || y1 >= y2 {
		return false
	}
	for i := range o.w {
		if set == 1<<i {
			return o.one(i, x1, y1, x2, y2)
		}
	}
	k := [5]int{x1, y1, x2, y2, set}
	if v, ok := o.memo[k]; ok {
		return v
	}
	v := false
	for sub := (set - 1) & set; sub > 0 && !v; sub = (sub - 1) & set {
		for x := x1 + 1; x < x2 && !v; x++ {
			v = o.fits(x1, y1, x, y2, sub) && o.fits(x+o.kerf, y1, x2, y2, set&^sub)
		}
		for y := y1 + 1; y < y2 && !v; y++ {
			v = o.fits(x1, y1, x2, y, sub) && o.fits(x1, y+o.kerf, x2, y2, set&^sub)
		}
	}
	o.memo[k] = v
	return v
}

// ordered is fits in so many stages of cuts, the first of them across the board
// or along it. Rests are cut off like parts; those narrower than the blade are
// what it takes.
func (o *boardOracle) ordered(x1, y1, x2, y2, set, across, stages int) bool {
	if set == 0 {
		return true
	}
	if x1 >= x2 || y1 >= y2 {
		return false
	}
	for i := range o.w {
		for turn := range 2 {
			w, h := o.w[i], o.h[i]
			if turn == 1 {
				w, h = h, w
			}
			if set == 1<<i && (turn == 0 || o.turn[i]) && w == x2-x1 && h == y2-y1 && o.clear(x1, y1, w, h) {
				return true
			}
		}
	}
	if stages == 0 {
		return false
	}
	k := [7]int{x1, y1, x2, y2, set, across, stages}
	if v, ok := o.stages[k]; ok {
		return v
	}
	v := o.ordered(x1, y1, x2, y2, set, 1-across, stages-1)
	if across == 1 {
		v = v || o.ordered(x1+1, y1, x2, y2, set, across, stages) || o.ordered(x1, y1, x2-1, y2, set, across, stages)
	} else {
		v = v || o.ordered(x1, y1+1, x2, y2, set, across, stages) || o.ordered(x1, y1, x2, y2-1, set, across, stages)
	}
	for sub := (set - 1) & set; sub > 0 && !v; sub = (sub - 1) & set {
		for x := x1 + 1; x < x2 && !v && across == 1; x++ {
			v = o.ordered(x1, y1, x, y2, sub, across, stages) && o.ordered(x+o.kerf, y1, x2, y2, set&^sub, across, stages)
		}
		for y := y1 + 1; y < y2 && !v && across == 0; y++ {
			v = o.ordered(x1, y1, x2, y, sub, across, stages) && o.ordered(x1, y+o.kerf, x2, y2, set&^sub, across, stages)
		}
	}
	o.stages[k] = v
	return v
}

// least is the least price of boards that hold all pieces, or a large number.
func (o *boardOracle) least(job cutting.Job) int {
	full := 1 << len(o.w)
	cost := make([]int, full)
	for set := 1; set < full; set++ {
		cost[set] = math.MaxInt32
	}
	for _, s := range job.Sheets {
		o.defects, o.memo, o.stages = s.Defects, map[[5]int]bool{}, map[[7]int]bool{}
		holds := make([]bool, full)
		for set := 1; set < full; set++ {
			x1, y1, x2, y2 := int(s.Trim.Left), int(s.Trim.Bottom), int(s.W-s.Trim.Right), int(s.H-s.Trim.Top)
			switch s.Order { // three stages: common practice, no source
			case cutting.AnyOrder:
				holds[set] = o.fits(x1, y1, x2, y2, set)
			case cutting.CrosscutFirst:
				holds[set] = o.ordered(x1, y1, x2, y2, set, 1, 3)
			case cutting.RipFirst:
				holds[set] = o.ordered(x1, y1, x2, y2, set, 0, 3)
			}
		}
		price := int(s.Price)
		if job.Objective == cutting.FewestSheets {
			price = 1
		}
		for range s.Stock {
			next := append([]int(nil), cost...)
			for set := 1; set < full; set++ {
				for sub := set; sub > 0; sub = (sub - 1) & set {
					if holds[sub] && cost[set&^sub] < math.MaxInt32 {
						next[set] = min(next[set], cost[set&^sub]+price)
					}
				}
			}
			cost = next
		}
	}
	return cost[full-1]
}

func drawBoards(t *rapid.T) (cutting.Job, *boardOracle) {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	o := &boardOracle{kerf: n(0, 2, "kerf")}
	job := cutting.Job{Kerf: unit.Length(o.kerf), Objective: cutting.Objective(n(0, 1, "objective"))}
	for i := range n(1, 3, "boards") {
		s := cutting.Sheet{ID: fmt.Sprint(i), W: unit.Length(n(4, 14, "W")), H: unit.Length(n(2, 6, "H")), Price: unit.Money(n(1, 9, "price")), Stock: n(1, 2, "stock"), Tone: n(0, 2, "tone")}
		s.Trim.Bottom = unit.Length(n(0, 1, "edge"))
		for range n(0, 2, "defects") {
			d := cutting.Defect{X: unit.Length(n(0, int(s.W)-1, "x")), Y: unit.Length(n(0, int(s.H)-1, "y")), What: "knot"}
			d.W, d.H = unit.Length(n(1, min(3, int(s.W-d.X)), "w")), unit.Length(n(1, min(2, int(s.H-d.Y)), "h"))
			apart := true
			for _, e := range s.Defects {
				apart = apart && (d.X >= e.X+e.W || e.X >= d.X+d.W || d.Y >= e.Y+e.H || e.Y >= d.Y+d.H)
			}
			if apart {
				s.Defects = append(s.Defects, d)
			}
		}
		job.Sheets = append(job.Sheets, s)
	}
	for left := n(1, 6, "pieces"); left > 0; {
		it := cutting.Item{ID: fmt.Sprint("p", len(job.Items)), W: unit.Length(n(1, 8, "w")), H: unit.Length(n(1, 4, "h")), Qty: n(1, min(left, 4), "qty"), Turn: n(0, 3, "turn") == 0}
		if it.Qty > 1 && n(0, 2, "strips") == 0 {
			it.Strips = it.Qty
		}
		left -= it.Qty
		job.Items = append(job.Items, it)
		for range it.Qty {
			o.w, o.h, o.turn = append(o.w, int(it.W)), append(o.h, int(it.H)), append(o.turn, it.Turn)
		}
	}
	return job, o
}

// On tiny boards with defects, kerf, an edge to be straightened and strips the
// solver's value is what trying every cut finds, and its bound never above it.
func TestBoardsAgainstTryingEverything(t *testing.T) {
	boardsAgainst(t, func(*rapid.T, *cutting.Job) {})
}

// Likewise boards that are cut in an order of their own, of three stages.
func TestOrdersOfCuts(t *testing.T) {
	boardsAgainst(t, func(t *rapid.T, job *cutting.Job) {
		for i := range job.Sheets {
			job.Sheets[i].Order = cutting.CutOrder(rapid.IntRange(0, 2).Draw(t, "order"))
		}
	})
}

func boardsAgainst(t *testing.T, change func(*rapid.T, *cutting.Job)) {
	seen, proven := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o := drawBoards(t)
		change(t, &job)
		want := o.least(job)
		r, err := cutting.Solve(context.Background(), job, cutting.Budget{Iterations: 20_000})
		if err != nil {
			t.Fatal(err)
		}
		if err := verify.Result(job, r); err != nil {
			t.Fatalf("%+v: %v", job, err)
		}
		if (want == math.MaxInt32) != (len(r.Short) > 0) {
			t.Fatalf("%+v: %d kinds short, the optimum is %d", job, len(r.Short), want)
		}
		if want == math.MaxInt32 {
			return
		}
		if r.Value != int64(want) || r.Bound > int64(want) {
			t.Fatalf("%+v: value %d (bound %d), optimum %d", job, r.Value, r.Bound, want)
		}
		seen++
		if r.Proven {
			proven++
		}
	})
	t.Logf("%d of %d proven", proven, seen)
}
