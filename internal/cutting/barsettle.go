package cutting

// Limits of deciding a number of bars outright.
const (
	settleGap   = 0.05      // bars that may be lost, at most
	settleList  = 20_000    // patterns
	settleTurns = 2_000_000 // of the search for them
)

// settle decides for bars of one size whether as many as the bound says are
// enough, where next to nothing may be lost, so that few patterns are of use.
func (l *lengths) settle(b *bound, moves int) {
	m, price := l.m, l.s.p.sheets[0].price
	from := *m.work
	stop := from + moves*moveWork
	defer func() { l.s.iter += (*m.work - from) / moveWork }()
	for l.s.unproven(*b) && *m.work < stop {
		bars := (b.value - l.base) / price
		most := float64(bars) - settleGap
		if m.value() < most*float64(price) {
			return
		}
		m.relax(func() bool { return *m.work >= stop || m.value() < most*float64(price) })
		t := m.tree(bars)
		if t == nil {
			return
		}
		if found, ok := t.find(stop); ok {
			value := l.s.bestValue
			if l.offer(liftAll(found, t.of)); l.s.bestValue >= value {
				return
			}
		} else if t.whole {
			b.raise(bound{b.value + price, whyAll})
		} else {
			return
		}
	}
}

// tree is the tree for so many bars, by the duals of the mix's bound: no bar
// of theirs may be worth less than the best one by more than all together can
// lose. Types without a worth are left out. It is nil when there are too many
// patterns.
func (m *mix) tree(bars int64) *barTree {
	var all int64
	scale := treeUnit / m.top
	for i, n := range m.p.types {
		m.worth[i] = int64(max(0, m.center[i]) * scale)
		if m.worth[i] < treeUnit>>20 {
			m.worth[i] = 0
		}
		all += m.worth[i] * int64(n.qty)
	}
	demand := make([]int, len(m.p.types))
	for i, t := range m.p.types {
		demand[i] = t.qty
	}
	f := newFiller(m.p)
	f.load(m.worth, demand)
	room := m.p.sheets[0].w
	top, _ := f.fullest(room, 0, mixTurns)
	list, whole := f.listAll(room, max(1, all-top*(bars-1)), settleList, settleTurns)
	*m.work += f.work
	if !whole {
		return nil
	}
	q := *m.p
	q.types, q.sheets = nil, []psheet{m.p.sheets[0]}
	q.sheets[0].price, q.sheets[0].stock = 1, m.p.pieces()
	to, of := make([]int, len(m.p.types)), []int(nil)
	for i, ty := range m.p.types {
		if m.worth[i] > 0 {
			to[i] = len(q.types)
			q.types, of = append(q.types, ty), append(of, i)
		}
	}
	c := newMix(m.ctx, &q, nil)
	c.firm, c.work = true, m.work
	for _, l := range list {
		for k := range l.use {
			l.use[k].typ = to[l.use[k].typ]
		}
		c.learn(pattern{use: l.use})
	}
	c.cap = 50*c.rows + 1000
	t := newBarTree(c, bars)
	t.of = of
	return t
}
