package cutting

import "context"

// moveWork is how much work of the mix of patterns counts as a move of the
// search.
const moveWork = 3000

// A lengths search takes turns between dives from the best mix of patterns and
// moves of the search.
type lengths struct {
	s    *search
	m    *mix
	d    *dive
	unit int64 // all values are multiples of it

	of   []int     // the types that m is about
	cut  []pattern // bars about which there is no choice
	base int64     // their price
}

// Moves for the first dives, the first look at lots, and a first turn of the search.
const (
	firstDive = 80_000
	firstLots = 80_000
	firstTurn = 10_000
)

// newLengths bounds a layout of lengths by the best mix of patterns and dives
// for a cheaper one. It returns nil when there are too
// many lengths and bars for it, or the aim is the height.
func (s *search) newLengths(ctx context.Context, b *bound, moves int) *lengths {
	p := s.p
	if len(p.types) == 0 || len(p.types)+len(p.sheets) > maxTypes || p.value == LeastHeight {
		return nil
	}
	l := &lengths{s: s, unit: p.priceStep()}
	q := p
	if len(p.sheets) == 1 {
		q, l.of, l.cut = p.paired()
		l.base = int64(len(l.cut)) * p.sheets[0].price
		if len(q.types) == 0 {
			l.offer(nil)
			b.raise(bound{l.base, whyAll})
			return l
		}
	}
	l.m = newMix(ctx, q, newFiller(q))
	l.d = &dive{m: l.m, rng: s.rng}
	l.learn()
	stop := moves * moveWork
	up := func(v float64) int64 { return l.base + ceilSafe(max(0, v)/float64(l.unit))*l.unit }
	l.m.relax(func() bool {
		return *l.m.work >= stop || up(l.m.bound) >= min(up(l.m.value()), s.bestValue)
	})
	b.raise(bound{up(l.m.bound), p.whyPatterns(l.m.bound + float64(l.base))})
	if s.unproven(*b) && p.manyKinds() {
		b.raise(p.lotBound(*b))
	}
	s.iter += *l.m.work / moveWork
	if len(p.sheets) == 1 {
		l.settle(b, moves)
		l.dive(ctx, *b, min(moves/2, firstDive))
	} else {
		l.dive(ctx, *b, min(moves/2, firstLots/4))
		l.tryLots(ctx, b, min(moves/2, firstLots))
	}
	return l
}

// learn makes the best layout's patterns known.
func (l *lengths) learn() {
	to := make([]int, len(l.s.p.types)) // with 1 added; 0: none of those left
	for i, t := range l.of {
		to[t] = i + 1
	}
	for _, c := range l.s.best {
		use := c.runs()
		if l.of != nil {
			part := use[:0]
			for _, u := range use {
				if i := to[u.typ] - 1; i >= 0 {
					part = append(part, run{i, min(u.n, l.m.p.types[i].qty)})
				}
			}
			use = part
		}
		if len(use) > 0 {
			l.m.learn(pattern{sheet: c.sheet, use: use})
		}
	}
}

// offer takes patterns for all that is not cut without choice.
func (l *lengths) offer(found []pattern) {
	if l.of != nil {
		found = append(liftAll(found, l.of), l.cut...)
	}
	l.s.offer(l.s.p.bins(found))
}

// dive looks for cheaper layouts until the bound is met or moves are used up.
func (l *lengths) dive(ctx context.Context, b bound, moves int) {
	s := l.s
	from := *l.m.work
	for stop := from + moves*moveWork; s.unproven(b) && *l.m.work < stop; {
		found := l.d.find((s.bestValue-1)/l.unit*l.unit-l.base, stop)
		if found == nil {
			break
		}
		value := s.bestValue
		if l.offer(found); s.bestValue >= value {
			break // a dive that finds the same again costs no work
		}
	}
	s.iter += (*l.m.work - from) / moveWork
}

// run goes on with longer and longer turns until the bound is met or moves are
// used up.
func (l *lengths) run(ctx context.Context, b *bound, moves int, tell func()) {
	s := l.s
	for turn := firstTurn; s.iter < moves && ctx.Err() == nil; turn *= 2 {
		s.moves(ctx, *b, min(moves, s.iter+turn/4), tell)
		if !s.unproven(*b) {
			break
		}
		tell()
		l.dive(ctx, *b, min(moves-s.iter, turn))
		l.tryLots(ctx, b, min(moves-s.iter, 2*turn))
	}
}

// moves searches for lengths by moves.
func (s *search) moves(ctx context.Context, b bound, moves int, tell func()) {
	if len(s.p.sheets) == 1 && s.bestOut == 0 {
		s.searchBars(ctx, b, moves, tell)
	} else {
		s.run(ctx, b, moves, tell)
	}
}

// priceStep is the greatest number that divides the prices of all bars.
func (p *problem) priceStep() int64 {
	var g int64
	for _, s := range p.sheets {
		for a := s.price; a != 0; {
			g, a = a, g%a
		}
	}
	return max(g, 1)
}

// runs counts the pieces on a bar.
func (b *bin) runs() []run {
	var out []run
pieces:
	for _, n := range b.n {
		if n.typ < 0 {
			continue
		}
		for i := range out {
			if out[i].typ == int(n.typ) {
				out[i].n++
				continue pieces
			}
		}
		out = append(out, run{int(n.typ), 1})
	}
	return out
}

// bins cuts patterns, each piece no more often than it is asked for.
func (p *problem) bins(list []pattern) []*bin {
	left := make([]int, len(p.types))
	for i, t := range p.types {
		left[i] = t.qty
	}
	var out []*bin
	for _, pat := range list {
		b := &bin{}
		b.reset(pat.sheet, p.sheets[pat.sheet].w, 1)
		for _, u := range pat.use {
			for range min(u.n, left[u.typ]) {
				b.insert(len(b.free)-1, int32(u.typ), p.types[u.typ].w, 1, false, true)
				left[u.typ]--
			}
		}
		if b.used > 0 {
			out = append(out, b)
		}
	}
	return out
}
