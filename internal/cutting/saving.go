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
	savingAhead   = 4 // tries that further cores begin before their turn
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
	s := saver{job: job, r: r, budget: budget, short: r.pieces()}
	list := s.list()
	defer func() {
		for _, t := range list {
			t.ahead.drop()
		}
	}()
	for k, t := range list {
		if ctx.Err() != nil {
			break
		}
		s.setOut(ctx, list[k:])
		if c := t.want(); c != nil {
			s.dropOver(list[k+1:], c.By)
			s.best = s.least(ctx, t, c)
		}
	}
	return s.best, nil
}

// A saver looks for a saving.
type saver struct {
	job    Job
	r      Result
	budget Budget
	short  int // pieces without a place
	best   *Change
}

// A sizeTry is a size that is tried: at first by the most that is of use. Those
// next in turn are set out on ahead, on what is the most as far as is known.
type sizeTry struct {
	item  int
	axis  Axis
	size  unit.Length
	with  []int
	top   unit.Length // in steps
	ahead *errand[*Change]
}

// list is every size that is to be tried.
func (s *saver) list() []*sizeTry {
	var list []*sizeTry
	for i, it := range s.job.Items {
		for _, axis := range []Axis{Along, Across} {
			size := it.W
			if axis == Across {
				size = it.H
			}
			with := s.job.alike(i, axis)
			if it.Qty > 0 && size > savingLength && (len(with) == 0 || with[0] > i) {
				list = append(list, &sizeTry{item: i, axis: axis, size: size, with: with})
			}
		}
	}
	return list
}

// most is the most steps that a size is changed by: less than the best change.
func (s *saver) most(t *sizeTry) unit.Length {
	top := max(savingLength, t.size/savingPart) / savingStep
	if s.best != nil {
		top = min(top, s.best.By/savingStep-1)
	}
	return top
}

// setOut begins the first of the tries and, for further cores, those after it.
// One that was begun on another most than now is begun anew.
func (s *saver) setOut(ctx context.Context, list []*sizeTry) {
	for _, t := range list[:min(len(list), 1+savingAhead)] {
		top := s.most(t)
		if t.ahead != nil && t.top == top {
			continue
		}
		t.ahead.drop()
		t.ahead, t.top = nil, top
		if top >= 1 {
			t.ahead = begin(ctx, s.budget.Cores, func(ctx context.Context) *Change { return s.at(ctx, t, top) })
		}
	}
}

// dropOver ends the tries on more than a change that is about to be the best.
func (s *saver) dropOver(list []*sizeTry, by unit.Length) {
	for _, t := range list {
		if t.top > by/savingStep-1 {
			t.ahead.drop()
			t.ahead = nil
		}
	}
}

// want is the change by the most, nil when it does not help.
func (t *sizeTry) want() *Change {
	if t.ahead == nil {
		return nil // no change is small enough
	}
	return t.ahead.want()
}

// at is the change of a size by so many steps, nil when it does not help.
func (s *saver) at(ctx context.Context, t *sizeTry, n unit.Length) *Change {
	c := s.job
	c.Items = append([]Item(nil), s.job.Items...)
	by := n * savingStep
	for _, k := range append([]int{t.item}, t.with...) {
		if t.axis == Along {
			c.Items[k].W -= by
		} else {
			c.Items[k].H -= by
		}
	}
	if p, misfits := newProblem(c); s.short == 0 && len(misfits) == 0 && p.areaBound().value >= s.r.Value {
		return nil // by area alone it saves nothing
	}
	if ctx.Err() != nil {
		return nil // even a first layout of a large job takes its time
	}
	q, err := Solve(ctx, c, s.budget)
	if err != nil || q.pieces() > s.short || q.pieces() == s.short && q.Value >= s.r.Value {
		return nil
	}
	return &Change{t.item, t.axis, by, t.size - by, q.Value, q.pieces(), t.with, max(0, whole(s.job, s.r)-whole(s.job, q))}
}

// least is the least change of a size that helps, as c does.
func (s *saver) least(ctx context.Context, t *sizeTry, c *Change) *Change {
	for lo, hi := unit.Length(0), t.top; hi-lo > 1 && ctx.Err() == nil; { // nothing helps at lo, c does at hi
		mid := (lo + hi) / 2
		if d := s.at(ctx, t, mid); d != nil {
			c, hi = d, mid
		} else {
			lo = mid
		}
	}
	return c
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
