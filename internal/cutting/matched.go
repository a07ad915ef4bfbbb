package cutting

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/unit"
)

// Matched is a group of pieces cut side by side in order from one stretch of
// veneer, so that the figure runs on: drawer fronts from one strip, doors that
// are book-matched, the halves of a shell that follow one another round.
type Matched struct {
	// Items are indices into Job.Items, one for each piece, in the order along
	// Axis. An item may be named more than once; each naming is one of its
	// pieces.
	Items []int
	// Axis is Along when the pieces follow one another along the grain, Across
	// when they lie side by side. The group turns only if all its items may,
	// and then as a whole.
	Axis  Axis
	Label string
}

// size is that of the whole group, kerfs between its pieces included.
func (g Matched) size(j *Job) (w, h unit.Length) {
	for k, i := range g.Items {
		it := j.Items[i]
		gap := j.Kerf
		if k == 0 {
			gap = 0
		}
		if g.Axis == Along {
			w, h = w+gap+it.W, max(h, it.H)
		} else {
			w, h = max(w, it.W), h+gap+it.H
		}
	}
	return w, h
}

// name is the group's label, or the names of its parts.
func (g Matched) name(j Job) string {
	if g.Label != "" {
		return g.Label
	}
	var list []string
	for _, i := range g.Items {
		list = append(list, label(j.Items[i].ID, j.Items[i].Label))
	}
	return strings.Join(list, ", ")
}

func (j Job) checkMatched() error {
	if len(j.Matched) > MaxPieces {
		return fmt.Errorf("cutting: %d matched groups; at most %d", len(j.Matched), MaxPieces)
	}
	named := make([]int, len(j.Items))
	for k, g := range j.Matched {
		if len(g.Items) < 2 {
			return fmt.Errorf("cutting: matched group %d (%s) names %d pieces; name two or more, in their order", k+1, g.Label, len(g.Items))
		}
		if g.Axis != Along && g.Axis != Across {
			return fmt.Errorf("cutting: matched group %d (%s) runs neither along the grain nor across it", k+1, g.Label)
		}
		for _, i := range g.Items {
			if i < 0 || i >= len(j.Items) {
				return fmt.Errorf("cutting: matched group %d (%s) names part %d, which is not in the job", k+1, g.Label, i+1)
			}
			if named[i]++; named[i] > j.Items[i].Qty {
				return fmt.Errorf("cutting: the matched groups name more pieces of part %d (%s) than the %d asked for", i+1, j.Items[i].ID, j.Items[i].Qty)
			}
		}
	}
	return nil
}

// solveMatched lays each matched group out as one part, as wide as its widest
// piece, and cuts it up afterwards. Where the pieces are of one width nothing
// is lost by that. Rests beside narrower pieces take no other part, so there
// the bound is that of the pieces without groups.
func solveMatched(ctx context.Context, job Job, budget Budget) (Result, error) {
	whole := job
	whole.Matched = nil
	whole.Items = slices.Clone(job.Items)
	for k, g := range job.Matched {
		w, h := g.size(&job)
		if w > MaxLength || h > MaxLength {
			return Result{}, fmt.Errorf("cutting: matched group %d (%s) is %v x %v mm; at most 100 m", k+1, g.Label, w.MM(), h.MM())
		}
		it := Item{ID: g.name(job), W: w, H: h, Qty: 1, Turn: true}
		for _, i := range g.Items {
			it.Turn = it.Turn && job.Items[i].Turn
			whole.Items[i].Qty--
		}
		whole.Items = append(whole.Items, it)
	}
	r, err := Solve(ctx, whole, budget)
	if err != nil {
		return Result{}, err
	}
	for i := range r.Layouts {
		l := &r.Layouts[i]
		x := expander{job: &job, lay: l}
		parts := l.Parts
		l.Parts = nil
		for _, p := range parts {
			if p.Item < len(job.Items) {
				l.Parts = append(l.Parts, p)
			}
		}
		l.Root = x.expand(l.Root)
		slices.SortStableFunc(l.Offcuts, func(a, b Node) int {
			return cmp.Compare(b.W.Metres()*b.H.Metres(), a.W.Metres()*a.H.Metres())
		})
	}
	var short []Shortfall
	for _, s := range r.Short {
		k := s.Item - len(job.Items)
		if k < 0 {
			short = append(short, s)
			continue
		}
		for _, i := range job.Matched[k].Items {
			short = append(short, Shortfall{Item: i, Count: 1, Over: s.Over, Axis: s.Axis, Sheet: s.Sheet, Group: k + 1})
		}
	}
	r.Short = short
	r.Settings, r.Turns = settings(&job, r.Layouts)
	if job.uneven() {
		loose := job
		loose.Matched = nil
		p, _ := newProblem(loose)
		b := p.areaBound()
		b.raise(p.dualBound())
		if b.value < r.Bound {
			r.Bound, r.Why = b.value, b.why
			r.Proven = len(r.Short) == 0 && r.Value == r.Bound
		}
	}
	return r, nil
}

// uneven reports whether some group has pieces of unlike widths.
func (j Job) uneven() bool {
	for _, g := range j.Matched {
		for _, i := range g.Items {
			a, b := j.Items[i], j.Items[g.Items[0]]
			if g.Axis == Along && a.H != b.H || g.Axis == Across && a.W != b.W {
				return true
			}
		}
	}
	return false
}

// An expander cuts the groups of a layout into their pieces.
type expander struct {
	job *Job
	lay *Layout
}

func (x expander) expand(n Node) Node {
	if n.Kind == Part && n.Item >= len(x.job.Items) {
		return x.group(n)
	}
	for i := range n.Children {
		n.Children[i] = x.expand(n.Children[i])
	}
	return n
}

func (x expander) group(n Node) Node {
	k := n.Item - len(x.job.Items)
	g := x.job.Matched[k]
	out := Node{X: n.X, Y: n.Y, W: n.W, H: n.H, Kind: Split, Vertical: (g.Axis == Along) != n.Turned}
	at := Node{X: n.X, Y: n.Y}
	for _, i := range g.Items {
		w, h := x.job.Items[i].W, x.job.Items[i].H
		if n.Turned {
			w, h = h, w
		}
		piece := Node{X: at.X, Y: at.Y, W: w, H: h, Kind: Part, Item: i, Turned: n.Turned}
		x.lay.Parts = append(x.lay.Parts, Placed{Item: i, X: at.X, Y: at.Y, W: w, H: h, Turned: n.Turned, Group: k + 1})
		if out.Vertical {
			out.Children = append(out.Children, x.trimmed(piece, w, n.H))
			at.X += w + x.job.Kerf
		} else {
			out.Children = append(out.Children, x.trimmed(piece, n.W, h))
			at.Y += h + x.job.Kerf
		}
	}
	return out
}

// trimmed is a piece in a stretch w x h of its group that is as wide as the
// widest.
func (x expander) trimmed(p Node, w, h unit.Length) Node {
	if p.W == w && p.H == h {
		return p
	}
	out := Node{X: p.X, Y: p.Y, W: w, H: h, Kind: Split, Vertical: p.W < w, Children: []Node{p}}
	rest := Node{X: p.X, Y: p.Y, W: w, H: h, Kind: Waste}
	if out.Vertical {
		rest.X, rest.W = p.X+p.W+x.job.Kerf, w-p.W-x.job.Kerf
	} else {
		rest.Y, rest.H = p.Y+p.H+x.job.Kerf, h-p.H-x.job.Kerf
	}
	if rest.W > 0 && rest.H > 0 {
		if x.job.keeps(rest.W, rest.H) {
			rest.Kind = Offcut
			x.lay.Offcuts = append(x.lay.Offcuts, rest)
		}
		out.Children = append(out.Children, rest)
	}
	return out
}

// keeps reports whether a rest is worth keeping.
func (j *Job) keeps(w, h unit.Length) bool {
	least := j.LeastOffcut
	return least.W > 0 && least.H > 0 && (w >= least.W && h >= least.H || w >= least.H && h >= least.W)
}
