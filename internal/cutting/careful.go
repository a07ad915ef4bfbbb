package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// What the search for boards takes, at most.
const (
	boardMoves  = 60_000
	boardTidy   = 3_000
	boardClean  = 20_000 // of the search that overlooks the defects
	tableMoves  = 1_500  // sums in the tables of the pattern model to one iteration
	tableRounds = 80     // times that the tables can be filled at least
)

// solveCareful lays out boards that have defects or an order of cuts, and
// parts that are glued up from strips. What fits a board with defects fits it
// without, so a bound that overlooks them holds; a layout that happens to be
// clear of them is taken as it is.
func solveCareful(ctx context.Context, job Job, budget Budget) (Result, error) {
	of := budget.Iterations
	if of <= 0 {
		of = DefaultIterations
	}
	first, err := Draft(ctx, job.clean(), Budget{Iterations: min(of, boardClean), Cores: budget.Cores})
	if err != nil {
		return Result{}, err
	}
	p, misfits := newProblem(job)
	p.cores = budget.Cores
	s := newBoardSearch(&job, p)
	low := bound{first.Bound, first.Why}
	low.raise(s.woodBound())
	tell := func() {
		if budget.Progress != nil {
			budget.Progress(Progress{Iterations: s.iter, Of: of, Value: s.bestValue, Bound: low.value})
		}
	}
	s.start()
	s.offer(first.Layouts)
	moves := max(1, min(boardMoves, of))
	search := moves - moves/10 // the rest is for tidying
	if !s.settled(low) {
		s.run(ctx, low.value, search/3, tell)
	}
	if !s.settled(low) && !s.outright(ctx, &low, min(of, DefaultIterations)*exactSteps) {
		low.raise(s.tables(ctx, min(of, DefaultIterations)*tableMoves))
		s.run(ctx, low.value, search-search/3, tell)
		s.squeeze(ctx, min(of, DefaultIterations)*exactSteps)
	}
	if !budget.valued {
		s.order(ctx, min(boardTidy, moves/10))
	}

	left := make([]int, len(p.types))
	for _, t := range s.bestPool {
		left[t]++
	}
	r := Result{Layouts: s.draftBoards(&job, s.best, left), Iterations: s.iter, Value: s.bestValue, Bound: low.value, Why: low.why}
	r.Short = shortfalls(&job, p, misfits, left)
	for i := range r.Short {
		if sh := &r.Short[i]; sh.Sheet < 0 {
			sh.Marred = s.marred(sh.Item)
		}
	}
	r.Proven = len(r.Short) == 0 && r.Value == r.Bound
	r.Settings, r.Turns = settings(&job, r.Layouts)
	return r, nil
}

// clean is a job without defects, orders of cuts and strips.
func (j Job) clean() Job {
	j.Sheets, j.Items = slices.Clone(j.Sheets), slices.Clone(j.Items)
	for i := range j.Sheets {
		s := &j.Sheets[i]
		s.Defects, s.Order, s.Tone = nil, AnyOrder, 0
	}
	for i := range j.Items {
		j.Items[i].Strips = 0
	}
	return j
}

// settled reports whether the best is complete and at the bound.
func (s *boardSearch) settled(low bound) bool {
	return s.best != nil && len(s.bestPool) == 0 && s.bestValue <= low.value
}

// start makes the first layout.
func (s *boardSearch) start() {
	s.fill(0, 0)
	s.keep()
}

// offer takes layouts of boards without defects where they are clear of them;
// what is not is laid out anew.
func (s *boardSearch) offer(layouts []Layout) {
	var raw []*stack
	for _, l := range layouts {
		at := slices.IndexFunc(s.p.sheets, func(sh psheet) bool { return sh.job == l.Sheet })
		b := &s.boards[at]
		st := &stack{board: at}
		for _, q := range l.Parts {
			c := b.cellOf(q, s.p.kerf)
			t := s.typeOf(q.Item)
			if b.clear(c) {
				st.parts = append(st.parts, laid{c, t, c.x2-c.x1 != s.types[t].w})
			}
		}
		raw = append(raw, slices.Repeat([]*stack{st}, l.Copies)...)
	}
	s.adopt(raw)
}

// adopt takes stacks whose rests are not worked out, if they are cut in the
// boards' order, less what the demand has no more of, lays out the rest, and
// keeps it if it is better.
func (s *boardSearch) adopt(raw []*stack) {
	o := *s
	o.stacks, o.pool, o.used, o.price, o.limit = nil, nil, make([]int, len(s.used)), 0, math.MaxInt64
	want := make([]int, len(s.types))
	for t, ty := range s.p.types {
		want[t] = ty.qty
	}
	for _, r := range raw {
		b := &s.boards[r.board]
		if c := b.carved(r.parts, true, false); o.used[r.board] >= s.p.sheets[r.board].stock || b.order != AnyOrder && c.last() > orderedStages {
			continue
		}
		st := &stack{board: r.board}
		for _, q := range r.parts {
			if want[q.typ] > 0 {
				want[q.typ]--
				st.parts = append(st.parts, q)
				st.used += o.types[q.typ].area
			}
		}
		if len(st.parts) == 0 {
			continue
		}
		st.rests = b.rests(st.parts, true)
		o.stacks = append(o.stacks, st)
		o.used[st.board]++
		o.price += s.p.sheets[st.board].price
	}
	for t, n := range want {
		o.pool = append(o.pool, slices.Repeat([]int32{int32(t)}, n)...)
	}
	o.fill(0, 0)
	o.keep()
	s.best, s.bestPool, s.bestLost, s.bestValue = o.best, o.bestPool, o.bestLost, o.bestValue
}

// rests are the free wood of a board, its parts pushed together.
func (b *board) rests(parts []laid, vert bool) []rest {
	var out []rest
	c := b.carved(parts, vert, true)
	c.each(func(r *carving) {
		if r.part == isRest {
			out = append(out, rest{r.cell, r.vert, r.stage})
		}
	})
	return out
}

// last is the stage of the last cut.
func (c *carving) last() int {
	n := 0
	if c.part == isSplit {
		n = c.stage
	}
	for i := range c.kids {
		n = max(n, c.kids[i].last())
	}
	return n
}

// typeOf is the type of an item, or -1.
func (s *boardSearch) typeOf(item int) int32 {
	for t := len(s.p.types); t < len(s.types); t++ {
		if s.types[t].glue.item == item {
			return int32(t)
		}
	}
	return int32(slices.IndexFunc(s.p.types, func(t ptype) bool {
		return slices.ContainsFunc(t.items, func(l lot) bool { return l.item == item })
	}))
}

// marred reports whether a part lies on no board clear of its defects, though
// it fits the size of one.
func (s *boardSearch) marred(item int) bool {
	t := s.typeOf(item)
	if t < 0 {
		return false
	}
	o := *s
	o.need = slices.Clone(s.need)
	if g := s.types[t].glue; g != nil {
		o.need[t], o.strips = g.want, make([]int32, len(s.strips))
	}
	for i := range s.boards {
		o.stacks = []*stack{s.empty(i)}
		if _, ok := o.find(t, 0, 1, 0); ok {
			return false
		}
	}
	return true
}

// woodBound counts the clear wood of the boards in stock against the parts,
// each with its kerf.
func (s *boardSearch) woodBound() bound {
	need := 0.0
	for t, ty := range s.p.types {
		need += s.types[t].area * float64(ty.qty)
	}
	return s.woodFor(need)
}

// woodFor is what so much wood costs at least, the cheapest for its clear area
// first: a defect takes no part.
func (s *boardSearch) woodFor(need float64) bound {
	clear := make([]float64, len(s.boards))
	order := make([]int, len(s.boards))
	for i := range s.boards {
		b := &s.boards[i]
		order[i], clear[i] = i, b.area
		for _, d := range b.defects {
			w, h := min(d.x2, b.w)-max(d.x1, 0), min(d.y2, b.h)-max(d.y1, 0)
			clear[i] -= float64(max(w, 0)) * float64(max(h, 0))
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(float64(s.p.sheets[i].price)*clear[j], float64(s.p.sheets[j].price)*clear[i])
	})
	v := 0.0
	for _, i := range order {
		if clear[i] <= 0 {
			continue
		}
		n := min(float64(s.p.sheets[i].stock), need/clear[i])
		need -= n * clear[i]
		v += n * float64(s.p.sheets[i].price)
	}
	return bound{ceilSafe(v), s.p.whyClear(v)}
}
