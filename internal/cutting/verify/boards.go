package verify

import (
	"fmt"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// defects checks that no part lies on a defect.
func defects(job cutting.Job, l cutting.Layout) error {
	for _, d := range job.Sheets[l.Sheet].Defects {
		for _, p := range l.Parts {
			if p.X < d.X+d.W && d.X < p.X+p.W && p.Y < d.Y+d.H && d.Y < p.Y+p.H {
				return fmt.Errorf("%s lies on a defect (%s)", job.Items[p.Item].ID, d.What)
			}
		}
	}
	return nil
}

// order checks that a board is cut up in the order asked for and as it says.
func order(job cutting.Job, l cutting.Layout) error {
	s := job.Sheets[l.Sheet]
	n := l.Root
	for inner := true; inner; { // past the trims
		inner = false
		for _, c := range n.Children {
			if whole(n, s) || c.Kind != cutting.Split && c.Kind != cutting.Part {
				continue
			}
			n, inner = c, true
			break
		}
	}
	if l.Order != cutting.AnyOrder && n.Kind == cutting.Split && n.Vertical != (l.Order == cutting.CrosscutFirst) {
		return fmt.Errorf("told %v, but the first cut is another", l.Order)
	}
	if s.Order == cutting.AnyOrder {
		return nil
	}
	last := stages(n, 1, s.Order == cutting.CrosscutFirst)
	if last > 3 {
		return fmt.Errorf("asked for %v, but parts come off at stage %d", s.Order, last)
	}
	return nil
}

// whole reports whether a node is the sheet inside its trims.
func whole(n cutting.Node, s cutting.Sheet) bool {
	t := s.Trim
	return n.X == t.Left && n.Y == t.Bottom && n.W == s.W-t.Left-t.Right && n.H == s.H-t.Bottom-t.Top
}

// stages is the stage of the last cut, when those of the first run one way.
func stages(n cutting.Node, stage int, vertical bool) int {
	if n.Kind != cutting.Split {
		return 0
	}
	if n.Vertical != vertical {
		stage, vertical = stage+1, n.Vertical
	}
	last := stage
	for _, c := range n.Children {
		last = max(last, stages(c, stage, vertical))
	}
	return last
}

// strips checks that each panel glued up from strips has all of them once.
func strips(job cutting.Job, r cutting.Result) error {
	type panel struct{ item, n int }
	have := map[panel]map[int]bool{}
	count := make([]int, len(job.Items))
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			of := job.Items[p.Item].Strips
			if job.Items[p.Item].Glue != nil {
				continue
			}
			if of < 2 {
				if p.Panel != 0 || p.Strip != 0 {
					return fmt.Errorf("%s is no strip, but has a place in a panel", job.Items[p.Item].ID)
				}
				continue
			}
			k := panel{p.Item, p.Panel}
			if p.Panel < 1 || p.Strip < 1 || p.Strip > of || l.Copies != 1 || have[k][p.Strip] {
				return fmt.Errorf("%s is strip %d of panel %d, cut %d times", job.Items[p.Item].ID, p.Strip, p.Panel, l.Copies)
			}
			if have[k] == nil {
				have[k] = map[int]bool{}
			}
			have[k][p.Strip] = true
			count[p.Item]++
		}
	}
	for k := range have {
		if of := job.Items[k.item].Strips; k.n > (count[k.item]+of-1)/of {
			return fmt.Errorf("%s has a panel %d of %d strips in all", job.Items[k.item].ID, k.n, count[k.item])
		}
	}
	return nil
}

// glued checks the panels made up from strips of any widths: every strip within
// its limits, named once, from light to dark, and as many panels that have
// their whole width as are asked for and not told as short.
func glued(job cutting.Job, r cutting.Result) error {
	type panel struct{ item, n int }
	type strip struct {
		width unit.Length
		tone  int
	}
	have := map[panel]map[int]strip{}
	for _, l := range r.Layouts {
		for _, p := range l.Parts {
			it := job.Items[p.Item]
			g := it.Glue
			if g == nil {
				continue
			}
			k := panel{p.Item, p.Panel}
			if _, twice := have[k][p.Strip]; twice || p.Panel < 1 || p.Panel > it.Qty || p.Strip < 1 || l.Copies != 1 {
				return fmt.Errorf("%s is strip %d of panel %d, cut %d times", it.ID, p.Strip, p.Panel, l.Copies)
			}
			if p.H < g.Least || p.H > g.Most || g.Step > 0 && p.H%g.Step != 0 {
				return fmt.Errorf("%s is glued from a strip of %v mm, allowed are %v to %v in steps of %v", it.ID, p.H.MM(), g.Least.MM(), g.Most.MM(), g.Step.MM())
			}
			if have[k] == nil {
				have[k] = map[int]strip{}
			}
			have[k][p.Strip] = strip{p.H, job.Sheets[l.Sheet].Tone}
		}
	}
	made := make([]int, len(job.Items))
	for k, strips := range have {
		g := job.Items[k.item].Glue
		sum := g.Joint // of the part, once
		for n := 1; n <= len(strips); n++ {
			s, ok := strips[n]
			if !ok {
				return fmt.Errorf("panel %d of %s has %d strips, but no strip %d", k.n, job.Items[k.item].ID, len(strips), n)
			}
			if n > 1 && s.tone < strips[n-1].tone {
				return fmt.Errorf("panel %d of %s: strip %d is lighter than the one before", k.n, job.Items[k.item].ID, n)
			}
			sum += s.width - g.Joint
		}
		if sum >= job.Items[k.item].H {
			made[k.item]++
		}
	}
	for _, s := range r.Short {
		made[s.Item] += s.Count
	}
	for i, it := range job.Items {
		if it.Glue != nil && made[i] != it.Qty {
			return fmt.Errorf("item %d (%s): %d panels made or short, %d asked for", i, it.ID, made[i], it.Qty)
		}
	}
	return nil
}
