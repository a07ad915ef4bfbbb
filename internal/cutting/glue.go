package cutting

import (
	"context"
	"fmt"

	"casewright/internal/unit"
)

// Glue says how a part is glued up from strips side by side. Their widths may
// differ, so that a board gives what it has: together, less what jointing takes
// of each, they are no narrower than the part's H less one jointing.
type Glue struct {
	Least, Most unit.Length // width of a strip as sawn
	Joint       unit.Length // what jointing takes of each strip
	Step        unit.Length // widths are whole numbers of it, where it is above 0
	// Further strips, beyond the fewest of the greatest width that would do, are
	// taken where that saves wood: each is one more to saw, joint and glue. Where
	// parts have no place otherwise there may be more.
	Further int
}

func (j Job) glued() bool {
	for _, it := range j.Items {
		if it.Glue != nil {
			return true
		}
	}
	return false
}

func (it Item) checkGlue(i int) error {
	g := it.Glue
	switch {
	case g == nil:
		return nil
	case it.Strips > 1:
		return fmt.Errorf("cutting: part %d (%s) is glued from %d equal strips and from any strips; give one of the two", i+1, it.ID, it.Strips)
	case it.Turn:
		return fmt.Errorf("cutting: part %d (%s) is glued up from strips, which run with the grain; do not let it turn", i+1, it.ID)
	case g.Joint < 0 || g.Step < 0 || g.Further < 0 || g.Least <= g.Joint || g.down(g.Most) < g.up(g.Least) || g.Most > MaxLength || it.H <= g.Joint:
		return fmt.Errorf("cutting: part %d (%s), %v mm wide, is glued from strips of %v to %v mm, %v mm of each lost in jointing, in steps of %v mm, %d further ones; give widths above the loss, the least below the most, with a step between them", i+1, it.ID, it.H.MM(), g.Least.MM(), g.Most.MM(), g.Joint.MM(), g.Step.MM(), g.Further)
	case (it.H-g.Joint)/(g.Least-g.Joint) > mostStrips:
		return fmt.Errorf("cutting: part %d (%s) may be glued from more than %d strips; give a wider least strip", i+1, it.ID, mostStrips)
	}
	return nil
}

// mostStrips of one part are no more than a slip of the keyboard asks for.
const mostStrips = 1000

// up and down are the nearest widths that the saw is set to.
func (g *Glue) up(l unit.Length) unit.Length   { return l.RoundUp(g.Step) }
func (g *Glue) down(l unit.Length) unit.Length { return l.RoundDown(g.Step) }

// fewest is the least number of strips that make up a part so wide.
func (g *Glue) fewest(h unit.Length) int {
	most := g.down(g.Most) - g.Joint
	return int((h - g.Joint + most - 1) / most)
}

// even is the width of n strips of one width that make up a part so wide.
func (g *Glue) even(h unit.Length, n int) unit.Length {
	k := unit.Length(n)
	return max(g.up(g.Least), min(g.down(g.Most), g.up((h-g.Joint+k-1)/k+g.Joint)))
}

// even is the job with each part glued from as few strips as will do, all of
// one width.
func (j Job) even() Job {
	out := j
	out.Items = append([]Item(nil), j.Items...)
	for i := range out.Items {
		it := &out.Items[i]
		if g := it.Glue; g != nil {
			n := g.fewest(it.H)
			it.H, it.Qty, it.Glue = g.even(it.H, n), it.Qty*n, nil
			if n > 1 {
				it.Strips = n
			}
		}
	}
	return out
}

// slices in which a strip is counted: so many make up what jointing and kerf
// take of it.
const slicesOfJoint = 2

// sliced is a job that every layout of a glued one is a layout of as well. The
// kerf taken out, a strip of height x can be ripped into slices of height u, no
// fewer than x/u - 1; where n strips make up a panel of width d, each wider by
// what jointing and kerf take, k, these are at least d/u + n (k/u - 1). So
// where u divides k any number of strips gives as many slices as the fewest do.
// Crosscut first, a strip that is cut to length last could not be ripped any
// more in three stages, so that order is let go.
func (j Job) sliced() Job {
	out := Job{Objective: j.Objective, Seed: j.Seed}
	for _, s := range j.Sheets {
		w, h := s.Usable()
		if w <= 0 || h <= 0 {
			w, h, s.Stock = j.Kerf+1, j.Kerf+1, 0
		}
		if s.Order == CrosscutFirst {
			s.Order = AnyOrder
		}
		var defects []Defect
		for _, d := range s.Defects {
			x1, y1 := max(0, d.X-s.Trim.Left+j.Kerf), max(0, d.Y-s.Trim.Bottom+j.Kerf)
			x2, y2 := min(w+j.Kerf, d.X+d.W-s.Trim.Left), min(h+j.Kerf, d.Y+d.H-s.Trim.Bottom)
			if x1 < x2 && y1 < y2 { // else the blade may take it whole
				defects = append(defects, Defect{X: x1, Y: y1, W: x2 - x1, H: y2 - y1, What: d.What})
			}
		}
		s.W, s.H, s.Trim, s.Defects, s.Tone = w+j.Kerf, h+j.Kerf, Trim{}, defects, 0
		out.Sheets = append(out.Sheets, s)
	}
	for _, it := range j.Items {
		it.W += j.Kerf
		if g := it.Glue; g != nil {
			u := max(1, (g.Joint+j.Kerf)/slicesOfJoint)
			n := unit.Length(g.fewest(it.H))
			count := (it.H - g.Joint + n*((g.Joint+j.Kerf)-u) + u - 1) / u
			if g.Joint+j.Kerf == 0 || unit.Length(it.Qty)*count > mostSlices {
				continue
			}
			it.H, it.Qty, it.Glue = u, it.Qty*int(count), nil
		} else {
			it.H, it.Strips = it.H+j.Kerf, 0
		}
		out.Items = append(out.Items, it)
	}
	return out
}

// furtherShort is how many strips more a panel may have where parts have no
// place otherwise.
const furtherShort = 2

// mostSlices that a bound is worth; the area is counted in any case.
const mostSlices = 5_000

// gluedBound is the bound of a glued job: that of its slices, or the wood that
// all parts and strips take with their kerfs.
func (s *boardSearch) gluedBound(ctx context.Context, job *Job, moves int, cores *Cores) (bound, error) {
	var low bound
	if q := job.sliced(); len(q.Items) > 0 && q.check() == nil {
		r, err := Draft(ctx, q.clean(), Budget{Iterations: moves, Cores: cores})
		if err != nil {
			return low, err
		}
		low = bound{r.Bound, r.Why}
		if p, misfits := newProblem(q); len(misfits) == 0 {
			low.raise(newBoardSearch(&q, p).tables(ctx, moves*tableMoves))
		}
	}
	need := 0.0
	for t := range s.types {
		ty := &s.types[t]
		n := 1.0
		if ty.glue == nil {
			n = float64(s.p.types[t].qty)
		}
		need += ty.area * n
	}
	low.raise(s.woodFor(need))
	return low, nil
}

// solveGlued lays out parts glued up from strips. It begins with the layout of
// strips of one width and looks for a cheaper one with strips as the boards
// give them.
func solveGlued(ctx context.Context, job Job, budget Budget) (Result, error) {
	of := budget.Iterations
	if of <= 0 {
		of = DefaultIterations
	}
	inner := budget
	inner.Iterations = max(1, of/4)
	if budget.Progress != nil {
		inner.Progress = func(p Progress) {
			p.Of, p.Bound = of, 0 // strips of unlike widths may cost less
			budget.Progress(p)
		}
	}
	first, err := Solve(ctx, job.even(), inner)
	if err != nil {
		return Result{}, err
	}
	s, misfits := newGlueSearch(&job)
	low, err := s.gluedBound(ctx, &job, min(of/4, boardClean), budget.Cores)
	if err != nil {
		return Result{}, err
	}
	s.adoptPanels(&job, first.Layouts)
	moves := max(1, min(boardMoves, of-of/4))
	if value, lost := s.bestValue, s.bestLost; !s.settled(low) {
		tell := func() {
			if budget.Progress != nil {
				budget.Progress(Progress{Iterations: first.Iterations + s.iter, Of: of, Value: s.bestValue, Bound: low.value})
			}
		}
		s.run(ctx, low.value, moves-moves/3, tell)
		if len(s.bestPool) > 0 {
			s.allow(furtherShort)
		}
		s.run(ctx, low.value, moves/3, tell)
		if !budget.valued && (s.bestValue != value || s.bestLost != lost) {
			s.order(ctx, min(boardTidy, moves/10))
		}
	}

	left := make([]int, len(s.types))
	for _, t := range s.bestPool {
		left[t]++
	}
	r := Result{Layouts: s.draftBoards(&job, s.best, left), Iterations: first.Iterations + s.iter, Value: s.bestValue, Bound: low.value, Why: low.why}
	r.Short = s.shortPanels(&job, misfits, left)
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	r.Settings, r.Turns = settings(&job, r.Layouts)
	return r, nil
}
