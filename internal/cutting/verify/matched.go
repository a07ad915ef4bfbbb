package verify

import (
	"fmt"

	"casewright/internal/cutting"
)

// matched checks that every matched group is cut once, or told short as a
// whole: its pieces on one sheet in their order, one kerf apart along the
// group's axis, starting from one line, all turned or none.
func matched(job cutting.Job, r cutting.Result) error {
	pieces := make([][]cutting.Placed, len(job.Matched))
	sheet := make([]int, len(job.Matched))
	for i, l := range r.Layouts {
		for _, p := range l.Parts {
			if p.Group == 0 {
				continue
			}
			k := p.Group - 1
			if k < 0 || k >= len(pieces) {
				return fmt.Errorf("a part of matched group %d, which is not in the job", p.Group)
			}
			if len(pieces[k]) > 0 && sheet[k] != i || l.Copies != 1 {
				return fmt.Errorf("matched group %d is on more than one sheet", p.Group)
			}
			sheet[k] = i
			pieces[k] = append(pieces[k], p)
		}
	}
	for k, g := range job.Matched {
		short := 0
		for _, s := range r.Short {
			if s.Group == k+1 {
				short += s.Count
			}
		}
		if short == len(g.Items) && len(pieces[k]) == 0 {
			continue
		}
		if short != 0 || len(pieces[k]) != len(g.Items) {
			return fmt.Errorf("matched group %d has %d pieces, %d are cut and %d short", k+1, len(g.Items), len(pieces[k]), short)
		}
		for n, p := range pieces[k] {
			if p.Item != g.Items[n] || p.Turned != pieces[k][0].Turned {
				return fmt.Errorf("matched group %d: piece %d is out of order or turned alone", k+1, n+1)
			}
			if n == 0 {
				continue
			}
			q := pieces[k][n-1]
			beside := p.Y == q.Y && p.X == q.X+q.W+job.Kerf
			if (g.Axis == cutting.Across) != p.Turned {
				beside = p.X == q.X && p.Y == q.Y+q.H+job.Kerf
			}
			if !beside {
				return fmt.Errorf("matched group %d: piece %d does not follow the one before it", k+1, n+1)
			}
		}
	}
	return nil
}
