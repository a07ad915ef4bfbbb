package cutting

import (
	"cmp"
	"fmt"
	"slices"
)

// draftBoards turns stacks into layouts. Boards cut alike are told together,
// unless strips come out of them: those have places of their own.
func (s *boardSearch) draftBoards(job *Job, stacks []*stack, left []int) []Layout {
	stacks = slices.Clone(stacks)
	slices.SortStableFunc(stacks, func(a, b *stack) int {
		return cmp.Or(cmp.Compare(a.board, b.board), cmp.Compare(b.used, a.used))
	})
	items := s.deal(job, stacks, left)
	var out []Layout
	seen := map[string]int{}
	for k, st := range stacks {
		l := s.draft(job, st, items[k])
		strips := slices.ContainsFunc(l.Parts, func(p Placed) bool { return p.Strip > 0 })
		mark := fmt.Sprint(l.Sheet, l.Parts)
		if at, ok := seen[mark]; ok && !strips {
			out[at].Copies++
			continue
		}
		seen[mark] = len(out)
		out = append(out, l)
	}
	return out
}

// draft carves a board up in the way that leaves the better rests.
func (s *boardSearch) draft(job *Job, st *stack, items []Placed) Layout {
	b := &s.boards[st.board]
	best := b.carved(st.parts, true, false)
	if c := b.carved(st.parts, false, false); b.order == AnyOrder && s.neat(c) > s.neat(best) {
		best = c
	}
	sheet := s.p.sheets[st.board].job
	l := Layout{Sheet: sheet, Copies: 1}
	if best.part == isSplit {
		l.Order = RipFirst
		if best.vert {
			l.Order = CrosscutFirst
		}
	}
	d := boardDrafter{job: job, b: b, lay: &l, items: items}
	sh := job.Sheets[sheet]
	w, h := sh.Usable()
	e := drafter{job: job, p: s.p, lay: &l}
	inner := d.node(best, Node{X: b.x, Y: b.y, W: w, H: h})
	l.Root = e.trimmed(sh, inner)
	slices.SortStableFunc(l.Parts, func(a, b Placed) int {
		return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
	})
	slices.SortStableFunc(l.Offcuts, func(a, b Node) int {
		return cmp.Compare(b.W.Metres()*b.H.Metres(), a.W.Metres()*a.H.Metres())
	})
	return l
}

type boardDrafter struct {
	job   *Job
	b     *board
	lay   *Layout
	items []Placed // of each part of the stack: its item, panel and strip
}

// node drafts a carving into the rectangle given, its kerfs taken off. Where
// the carving has a rest no wider than the kerf the blade takes it: at the
// edges as it is, between two parts by a second cut.
func (d *boardDrafter) node(c carving, r Node) Node {
	switch c.part {
	case isRest:
		r.Kind = Waste
		if d.job.keeps(r.W, r.H) {
			r.Kind = Offcut
			d.lay.Offcuts = append(d.lay.Offcuts, r)
		}
		return r
	case isSplit:
	default:
		p := d.items[c.part]
		p.X, p.Y, p.W, p.H = r.X, r.Y, r.W, r.H
		d.lay.Parts = append(d.lay.Parts, p)
		r.Kind, r.Item, r.Turned = Part, p.Item, p.Turned
		return r
	}
	kerf := d.job.Kerf
	r.Kind, r.Vertical = Split, c.vert
	for i, k := range c.kids {
		lo, hi := k.along(c.vert)
		thin := k.part == isRest && hi-lo <= kerf
		switch n := len(r.Children); {
		case thin && n > 0 && i < len(c.kids)-1:
			was := r.Children[n-1]
			wide := was
			wide.Kind, wide.Vertical, wide.Item, wide.Turned = Split, c.vert, 0, false
			wide.Children = []Node{was}
			if c.vert {
				wide.W += hi - lo
			} else {
				wide.H += hi - lo
			}
			r.Children[n-1] = wide
		case !thin:
			sub := Node{X: r.X, Y: r.Y, W: r.W, H: r.H}
			if c.vert {
				sub.X, sub.W = d.b.x+lo, hi-lo-kerf
			} else {
				sub.Y, sub.H = d.b.y+lo, hi-lo-kerf
			}
			r.Children = append(r.Children, d.node(k, sub))
		}
	}
	return r
}
