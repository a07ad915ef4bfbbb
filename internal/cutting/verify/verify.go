// Package verify checks cutting layouts from first principles. It shares no
// code with the optimiser: only the types of the job and of its answer.
package verify

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// Result checks a whole answer: every item cut exactly as often as asked, less
// what is told as short; no more of a sheet than its stock; and each layout by
// Layout. It returns the first fault found, or nil.
func Result(job cutting.Job, r cutting.Result) error {
	made := make([]int, len(job.Items))
	used := make([]int, len(job.Sheets))
	var value int64
	for i, l := range r.Layouts {
		if err := Layout(job, l); err != nil {
			return fmt.Errorf("layout %d: %w", i+1, err)
		}
		for _, p := range l.Parts {
			made[p.Item] += l.Copies
		}
		used[l.Sheet] += l.Copies
		switch job.Objective {
		case cutting.FewestSheets:
			if !job.Sheets[l.Sheet].Offcut {
				value += int64(l.Copies)
			}
		case cutting.LeastPrice:
			value += int64(l.Copies) * int64(job.Sheets[l.Sheet].Price)
		case cutting.LeastHeight:
			for _, p := range l.Parts {
				value = max(value, int64(p.Y+p.H-job.Sheets[l.Sheet].Trim.Bottom))
			}
		}
	}
	for _, s := range r.Short {
		if s.Count <= 0 {
			return fmt.Errorf("item %d is told short by %d pieces", s.Item, s.Count)
		}
		made[s.Item] += s.Count
	}
	for i, n := range made {
		if n != job.Items[i].Qty && job.Items[i].Glue == nil {
			return fmt.Errorf("item %d (%s): %d made or short, %d asked for", i, job.Items[i].ID, n, job.Items[i].Qty)
		}
	}
	for i, n := range used {
		if s := job.Sheets[i].Stock; s >= 0 && n > s {
			return fmt.Errorf("sheet %d (%s): %d used, %d in stock", i, job.Sheets[i].ID, n, s)
		}
	}
	if value != r.Value {
		return fmt.Errorf("the layouts are worth %d, the result says %d", value, r.Value)
	}
	if len(r.Short) == 0 && r.Value < r.Bound {
		return fmt.Errorf("the value %d is below the bound %d", r.Value, r.Bound)
	}
	if r.Proven && (r.Value != r.Bound || len(r.Short) > 0) {
		return fmt.Errorf("told proven with value %d, bound %d, %d short", r.Value, r.Bound, len(r.Short))
	}
	if err := strips(job, r); err != nil {
		return err
	}
	if err := glued(job, r); err != nil {
		return err
	}
	return matched(job, r)
}

// Layout checks one sheet: sizes and grain of its parts, trims, kerfs between
// any two parts, that edge-to-edge cuts free them, and that the tree of cuts
// tiles the sheet and holds the same parts.
func Layout(job cutting.Job, l cutting.Layout) error {
	if l.Sheet < 0 || l.Sheet >= len(job.Sheets) || l.Copies <= 0 {
		return fmt.Errorf("sheet %d, %d copies", l.Sheet, l.Copies)
	}
	s := job.Sheets[l.Sheet]
	for i, p := range l.Parts {
		if p.Item < 0 || p.Item >= len(job.Items) {
			return fmt.Errorf("part of item %d, which is not in the job", p.Item)
		}
		it := job.Items[p.Item]
		w, h := it.W, it.H
		if p.Turned {
			if !it.Turn {
				return fmt.Errorf("%s lies across the grain", it.ID)
			}
			w, h = h, w
		}
		if it.Glue != nil && !p.Turned {
			h = p.H // a strip: see glued
		}
		if p.W != w || p.H != h {
			return fmt.Errorf("%s is cut %v x %v, not %v x %v mm", it.ID, p.W.MM(), p.H.MM(), w.MM(), h.MM())
		}
		if p.X < s.Trim.Left || p.Y < s.Trim.Bottom || p.X+p.W > s.W-s.Trim.Right || p.Y+p.H > s.H-s.Trim.Top {
			return fmt.Errorf("%s lies in the trim", it.ID)
		}
		for _, q := range l.Parts[:i] {
			if p.X < q.X+q.W+job.Kerf && q.X < p.X+p.W+job.Kerf && p.Y < q.Y+q.H+job.Kerf && q.Y < p.Y+p.H+job.Kerf {
				return fmt.Errorf("%s and %s are less than a kerf apart", it.ID, job.Items[q.Item].ID)
			}
		}
	}
	if !Separable(l.Parts, job.Kerf) {
		return fmt.Errorf("no order of edge-to-edge cuts frees the parts")
	}
	if err := defects(job, l); err != nil {
		return err
	}
	if err := kept(job, l); err != nil {
		return err
	}
	if err := strip(job, l); err != nil {
		return err
	}
	if err := order(job, l); err != nil {
		return err
	}
	return tree(job, l)
}

// Separable reports whether cuts from edge to edge, again and again, each as
// wide as the kerf, free every part. Making every cut that is possible at once
// never spoils another, so there is nothing to try.
func Separable(parts []cutting.Placed, kerf unit.Length) bool {
	if len(parts) < 2 {
		return true
	}
	for _, vert := range []bool{true, false} {
		span := func(p cutting.Placed) (lo, hi unit.Length) {
			if vert {
				return p.X, p.X + p.W
			}
			return p.Y, p.Y + p.H
		}
		sorted := slices.Clone(parts)
		slices.SortFunc(sorted, func(a, b cutting.Placed) int {
			l, _ := span(a)
			m, _ := span(b)
			return cmp.Compare(l, m)
		})
		var groups [][]cutting.Placed
		start, end := 0, unit.Length(0)
		for i, p := range sorted {
			lo, hi := span(p)
			if i > start && lo >= end+kerf { // a blade passes before this part
				groups = append(groups, sorted[start:i])
				start = i
			}
			if i == start {
				end = hi
			}
			end = max(end, hi)
		}
		if start == 0 {
			continue
		}
		for _, g := range append(groups, sorted[start:]) {
			if !Separable(g, kerf) {
				return false
			}
		}
		return true
	}
	return false
}

// tree checks the order of cuts against the parts, and that parts, rests and
// kerfs together are exactly the sheet.
func tree(job cutting.Job, l cutting.Layout) error {
	s := job.Sheets[l.Sheet]
	r := l.Root
	if r.X != 0 || r.Y != 0 || r.W != s.W || r.H != s.H {
		return fmt.Errorf("the tree of cuts is %v x %v mm at %v, %v, not the sheet", r.W.MM(), r.H.MM(), r.X.MM(), r.Y.MM())
	}
	seen := map[cutting.Placed]int{}
	offcuts := 0
	kerfs := new(big.Int)
	area := func(w, h unit.Length) *big.Int { return new(big.Int).Mul(big.NewInt(int64(w)), big.NewInt(int64(h))) }
	sum := new(big.Int)
	var walk func(n cutting.Node) error
	walk = func(n cutting.Node) error {
		if n.W <= 0 || n.H <= 0 {
			return fmt.Errorf("a %v of %v x %v mm", n.Kind, n.W.MM(), n.H.MM())
		}
		if n.Kind != cutting.Split {
			if len(n.Children) > 0 {
				return fmt.Errorf("a %v is cut further", n.Kind)
			}
			sum.Add(sum, area(n.W, n.H))
			switch n.Kind {
			case cutting.Part:
				seen[cutting.Placed{Item: n.Item, X: n.X, Y: n.Y, W: n.W, H: n.H, Turned: n.Turned}]++
			case cutting.Offcut:
				offcuts++
			}
			return nil
		}
		if len(n.Children) == 0 {
			return fmt.Errorf("a split without parts")
		}
		at, end, across := n.Y, n.Y+n.H, n.W
		if n.Vertical {
			at, end, across = n.X, n.X+n.W, n.H
		}
		for i, c := range n.Children {
			lo, size, start, width := c.Y, c.H, c.X, c.W
			base := n.X
			if n.Vertical {
				lo, size, start, width = c.X, c.W, c.Y, c.H
				base = n.Y
			}
			if start != base || width != across {
				return fmt.Errorf("a cut does not run from edge to edge at %v, %v mm", c.X.MM(), c.Y.MM())
			}
			gap := lo - at
			if gap < 0 || i > 0 && gap != job.Kerf || gap > job.Kerf {
				return fmt.Errorf("a gap of %v mm between cuts, kerf %v mm", gap.MM(), job.Kerf.MM())
			}
			kerfs.Add(kerfs, area(gap, across))
			at = lo + size
			if err := walk(c); err != nil {
				return err
			}
		}
		if gap := end - at; gap < 0 || gap > job.Kerf {
			return fmt.Errorf("a gap of %v mm at an edge, kerf %v mm", gap.MM(), job.Kerf.MM())
		}
		kerfs.Add(kerfs, area(end-at, across))
		return nil
	}
	if err := walk(r); err != nil {
		return err
	}
	if sum.Add(sum, kerfs); sum.Cmp(area(s.W, s.H)) != 0 {
		return fmt.Errorf("parts, rests and kerfs are %v nm², the sheet %v", sum, area(s.W, s.H))
	}
	n := 0
	for _, p := range l.Parts {
		p.Group, p.Panel, p.Strip = 0, 0, 0
		if seen[p] == 0 {
			return fmt.Errorf("%s is not in the tree of cuts", job.Items[p.Item].ID)
		}
		seen[p]--
		n++
	}
	for _, c := range seen {
		if c != 0 {
			return fmt.Errorf("the tree of cuts holds parts that the list does not")
		}
	}
	if offcuts != len(l.Offcuts) {
		return fmt.Errorf("%d offcuts in the tree, %d in the list", offcuts, len(l.Offcuts))
	}
	return nil
}
