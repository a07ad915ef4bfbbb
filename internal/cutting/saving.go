package cutting

import (
	"context"
	"slices"

	"casewright/internal/unit"
)

// A saving is sought within 5 mm or 2 % of a size, whichever is more.
const (
	savingLength  = 5 * unit.Millimetre
	savingPart    = 50 // one in so many
	savingStep    = unit.Millimetre / 10
	savingDefault = 3_000
)

// Saving looks for the least change of one size that saves a sheet or money,
// or brings more parts out of the stock on hand. Every size of every item is
// tried, a size that matched parts share on all of them at once; the one that
// changes least is returned, nil when none helps. What it returns has been laid
// out; that nothing smaller would do is not proven. budget is for each try.
func Saving(ctx context.Context, job Job, r Result, budget Budget) (*Change, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	if budget.Iterations <= 0 {
		budget.Iterations = savingDefault
	}
	budget.Progress, budget.valued = nil, true
	short := r.pieces()
	var best *Change
	for i, it := range job.Items {
		for _, axis := range []Axis{Along, Across} {
			size := it.W
			if axis == Across {
				size = it.H
			}
			top := max(savingLength, size/savingPart) / savingStep
			if best != nil {
				top = min(top, best.By/savingStep-1)
			}
			with := job.alike(i, axis)
			if it.Qty == 0 || top < 1 || size <= savingLength || len(with) > 0 && with[0] < i {
				continue
			}
			at := func(n unit.Length) *Change {
				c := job
				c.Items = append([]Item(nil), job.Items...)
				by := n * savingStep
				for _, k := range append([]int{i}, with...) {
					if axis == Along {
						c.Items[k].W -= by
					} else {
						c.Items[k].H -= by
					}
				}
				if p, misfits := newProblem(c); short == 0 && len(misfits) == 0 && p.areaBound().value >= r.Value {
					return nil // by area alone it saves nothing
				}
				q, err := Solve(ctx, c, budget)
				if err != nil || q.pieces() > short || q.pieces() == short && q.Value >= r.Value {
					return nil
				}
				return &Change{i, axis, by, size - by, q.Value, q.pieces(), with, max(0, whole(job, r)-whole(job, q))}
			}
			c := at(top)
			if c == nil {
				continue
			}
			for lo, hi := unit.Length(0), top; hi-lo > 1; { // nothing helps at lo, c does at hi
				if ctx.Err() != nil {
					break
				}
				mid := (lo + hi) / 2
				if d := at(mid); d != nil {
					c, hi = d, mid
				} else {
					lo = mid
				}
			}
			best = c
		}
		if ctx.Err() != nil {
			break
		}
	}
	return best, nil
}

// alike lists, in order, the other items that share a size with item i through
// matched groups: fronts cut from one strip are made narrower together.
func (j Job) alike(i int, axis Axis) []int {
	size := func(k int) unit.Length {
		if axis == Along {
			return j.Items[k].W
		}
		return j.Items[k].H
	}
	in := map[int]bool{i: true}
	for grown := true; grown; {
		grown = false
		for _, g := range j.Matched {
			if !slices.ContainsFunc(g.Items, func(k int) bool { return in[k] && size(k) == size(i) }) {
				continue
			}
			for _, k := range g.Items {
				if size(k) == size(i) && !in[k] {
					in[k], grown = true, true
				}
			}
		}
	}
	var out []int
	for k := range j.Items {
		if in[k] && k != i {
			out = append(out, k)
		}
	}
	return out
}

// whole is how many sheets are cut into, offcuts aside.
func whole(job Job, r Result) int {
	n := 0
	for _, l := range r.Layouts {
		if !job.Sheets[l.Sheet].Offcut {
			n += l.Copies
		}
	}
	return n
}

// pieces is the number of pieces without a place.
func (r Result) pieces() int {
	n := 0
	for _, s := range r.Short {
		n += s.Count
	}
	return n
}
