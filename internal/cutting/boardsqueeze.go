package cutting

import "context"

// outright looks for the best layout of a small job by trying everything. It
// reports whether it is known.
func (s *boardSearch) outright(ctx context.Context, low *bound, steps int) bool {
	e := newBoardExact(ctx, s, steps)
	if e == nil || !e.settle() {
		return false
	}
	if len(s.bestPool) == 0 {
		*low = bound{s.bestValue, whyAll}
	}
	return true
}

// squeeze finds room for parts left over that the search, which lays parts into
// corners one by one, did not see: for every board it is decided whether it
// holds one part more.
func (s *boardSearch) squeeze(ctx context.Context, steps int) {
	if len(s.bestPool) == 0 || len(s.best) == 0 {
		return
	}
	each := steps / len(s.best)
	for k := 0; k < len(s.best); k++ {
		left := each
		for i := 0; i < len(s.bestPool) && left > 0 && ctx.Err() == nil; i++ {
			if i == 0 || s.bestPool[i] != s.bestPool[i-1] {
				if s.more(ctx, k, s.bestPool[i], &left) {
					i = -1
				}
			}
		}
	}
}

// more lays one part more on a board of the best layout if it holds it.
func (s *boardSearch) more(ctx context.Context, k int, t int32, steps *int) bool {
	was := s.best[k]
	counts := make([]int, len(s.types))
	counts[t]++
	for _, p := range was.parts {
		counts[p.typ]++
	}
	if was.used+s.types[t].area > s.boards[was.board].area*rounding {
		return false
	}
	q := *s.p
	q.types, q.sheets = nil, s.p.sheets[was.board:was.board+1]
	o := &boardSearch{p: &q, boards: s.boards[was.board : was.board+1]}
	var of []int32
	for i, n := range counts {
		if n > 0 {
			ty := s.p.types[i]
			ty.qty = n
			q.types, o.types, of = append(q.types, ty), append(o.types, s.types[i]), append(of, int32(i))
		}
	}
	e := newBoardExact(ctx, o, *steps)
	if e == nil {
		return false
	}
	b := e.board(0)
	*steps = e.work
	if b == nil || !b.holds[e.sets-1] {
		return false
	}
	e.whole()
	parts := b.draw(b.start(&o.boards[0], e.sets-1), nil)
	for i := range parts {
		parts[i].typ = of[parts[i].typ]
	}
	raw := append([]*stack{{board: was.board, parts: parts}}, s.best[:k]...)
	lost := s.bestLost
	s.adopt(append(raw, s.best[k+1:]...))
	return s.bestLost < lost-1e-12
}
