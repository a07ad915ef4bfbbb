package cutting

import (
	"context"
	"errors"
	"fmt"

	"casewright/internal/unit"
)

// Bar is one length of board, strip or edge band on hand or to be bought.
type Bar struct {
	ID    string
	Len   unit.Length
	Price unit.Money
	Stock int         // below 0: as many as needed
	Trim  unit.Length // cut from each end before anything else
	Label string
}

// BarItem is a length to be cut Qty times.
type BarItem struct {
	ID    string
	Len   unit.Length
	Qty   int
	Label string
}

// BarJob is what is to be cut to length. Objective is FewestSheets (bars) or
// LeastPrice.
type BarJob struct {
	Bars      []Bar
	Items     []BarItem
	Kerf      unit.Length
	Objective Objective
	Seed      uint64
}

// BarPart is a run of equal pieces on a bar.
type BarPart struct{ Item, Qty int }

// BarLayout is how one bar is cut, Copies times alike; longest pieces first.
type BarLayout struct {
	Bar    int
	Copies int
	Parts  []BarPart
	Left   unit.Length // clean rest at the far end, inside the trim; 0 or more
}

// BarShort is an item of which Count pieces found no place; Over is by how
// much it is longer than the longest usable bar, 0 when stock ran out.
type BarShort struct {
	Item, Count int
	Over        unit.Length
}

// BarResult is as Result is for panels.
type BarResult struct {
	Layouts      []BarLayout
	Short        []BarShort
	Value, Bound int64
	Proven       bool
	Iterations   int `json:"-"` // as of a Result
	Why          string
}

// SolveBars lays out lengths on bars.
func SolveBars(ctx context.Context, job BarJob, budget Budget) (BarResult, error) {
	if job.Objective == LeastHeight {
		return BarResult{}, errors.New("cutting: boards are cut for the fewest or the least price, not for height")
	}
	if len(job.Bars) == 0 {
		return BarResult{}, errors.New("cutting: no board is given to cut from; add one with its length")
	}
	for i, b := range job.Bars {
		if b.Len <= 0 || b.Len > MaxLength {
			return BarResult{}, fmt.Errorf("cutting: board %d (%s) is %v mm long; the length must be above 0 and at most 100 m", i+1, b.ID, b.Len.MM())
		}
	}
	for i, it := range job.Items {
		if it.Len <= 0 || it.Len > MaxLength {
			return BarResult{}, fmt.Errorf("cutting: length %d (%s) is %v mm; it must be above 0 and at most 100 m", i+1, it.ID, it.Len.MM())
		}
	}
	flat := flatJob(job)
	r, err := Solve(ctx, flat, budget)
	if err != nil {
		return BarResult{}, err
	}
	out := BarResult{Value: r.Value, Bound: r.Bound, Proven: r.Proven, Iterations: r.Iterations, Why: r.Why}
	for _, l := range r.Layouts {
		out.Layouts = append(out.Layouts, barLayout(flat, l))
	}
	for _, s := range r.Short {
		out.Short = append(out.Short, BarShort{s.Item, s.Count, s.Over})
	}
	return out, nil
}

// flatJob is the job with bars and pieces one step wide.
func flatJob(job BarJob) Job {
	flat := Job{Kerf: job.Kerf, Objective: job.Objective, Seed: job.Seed}
	for _, b := range job.Bars {
		flat.Sheets = append(flat.Sheets, Sheet{ID: b.ID, W: b.Len, H: 1, Price: b.Price, Stock: b.Stock, Trim: Trim{Left: b.Trim, Right: b.Trim}})
	}
	for _, it := range job.Items {
		flat.Items = append(flat.Items, Item{ID: it.ID, W: it.Len, H: 1, Qty: it.Qty})
	}
	return flat
}

func barLayout(flat Job, l Layout) BarLayout {
	out := BarLayout{Bar: l.Sheet, Copies: l.Copies}
	s := flat.Sheets[l.Sheet]
	end := s.Trim.Left
	for _, p := range l.Parts {
		if n := len(out.Parts); n > 0 && out.Parts[n-1].Item == p.Item {
			out.Parts[n-1].Qty++
		} else {
			out.Parts = append(out.Parts, BarPart{p.Item, 1})
		}
		end = max(end, p.X+p.W+flat.Kerf)
	}
	out.Left = max(0, s.W-s.Trim.Right-end)
	return out
}
