package cutting

import (
	"context"

	"casewright/internal/unit"
)

// slicesOfJoint is how many of the slices in which a strip is counted make up
// what jointing and kerf take of it.
const slicesOfJoint = 2

// sliced is a job that every layout of a glued one is a layout of as well. The
// kerf taken out, a strip of height x can be ripped into more than x/u - 1 slices
// of height u; where n strips make up a panel of width d, each wider by what
// jointing and kerf take, k, these are more than d/u + n (k/u - 1). Where u is
// no more than k that only grows with n, so any number of strips gives the slices
// that the fewest do. Crosscut first, a strip that is cut to length last could
// not be ripped any more in three stages, so that order is let go.
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
