package cutting

// downStaged is down where stages are limited.
func (q *proper) downStaged(r *raster, floor int64) {
	nx, ny := len(r.x), len(r.y)
	n := nx * ny
	g := q.unknown(len(r.val))
	root := len(r.val) - 1
	g[root] = 0
	work := 0
	for t := 2 * r.depth; t >= 0; t-- {
		last := t > 2*r.depth-2
		for k := n - 1; k >= 0; k-- {
			at := t*n + k
			v := g[at]
			if v < 0 || r.val[at]+v <= floor {
				continue
			}
			q.alive = append(q.alive, int32(at))
			if at == root {
				if q.g.p.run.begins(true) {
					g[at-n] = max(g[at-n], v)
				}
				if !q.g.p.run.begins(false) {
					continue
				}
			}
			if k >= ny && !(last && t%2 == 0) {
				g[at-ny] = max(g[at-ny], v)
			}
			if k%ny > 0 && !(last && t%2 == 1) {
				g[at-1] = max(g[at-1], v)
			}
			if t == 0 {
				continue
			}
			same := int(stageBelow(t))*n + k
			g[same] = max(g[same], v)
			r.splits(int32(at), func(near, _, far int32) {
				work++
				if x, y := r.val[near], r.val[far]; v+x+y > floor {
					g[near], g[far] = max(g[near], v+y), max(g[far], v+x)
				}
			})
		}
	}
	q.g.steps += 4*work + len(r.val)/2
}

// clearStaged makes room for the lists of a sheet; those filled before are
// emptied. It takes place before down.
func (q *proper) clearStaged(lists *[][]int32, states int) {
	for _, at := range q.alive {
		if int(at) < len(*lists) {
			(*lists)[at] = (*lists)[at][:0]
		}
	}
	if more := states - len(*lists); more > 0 {
		*lists = append(*lists, make([][]int32, more)...)
	}
}

// listStaged fills the lists of the rectangles alive, the least stages and the
// smallest first. With take a list takes over sets of another, with seat it
// gets a part, with join sets of two that lie side by side; more tells whether
// to go on.
func (q *proper) listStaged(r *raster, lists [][]int32, floor int64, s stagedLists) {
	ny := int32(len(r.y))
	n := int32(len(r.x)) * ny
	root := int32(len(r.val) - 1)
	var fresh []int32
	for k := len(q.alive) - 1; k >= 0; k-- {
		at := q.alive[k]
		need := floor - q.beside[at]
		list := &lists[at]
		if at == root && q.g.p.run.begins(true) {
			s.take(list, lists[root-n], need)
		}
		if at == root && !q.g.p.run.begins(false) {
			return
		}
		if at%n >= ny {
			s.take(list, lists[at-ny], need)
		}
		if at%ny > 0 {
			s.take(list, lists[at-1], need)
		}
		if at < n {
			for _, arg := range q.seats[at] {
				s.seat(list, arg, need)
			}
		} else {
			s.take(list, lists[int32(stageBelow(int(at/n)))*n+at%n], need)
			r.splits(at, func(near, before, far int32) {
				if len(lists[near]) == 0 || len(lists[far]) == 0 {
					return
				}
				fresh = lists[near]
				if before >= 0 { // what lies in a narrower one was joined with more
					fresh = q.beyond(fresh, lists[before])
				}
				s.join(list, fresh, lists[far], need, at/n%2 == 1)
			})
		}
		if !s.more(list) {
			return
		}
	}
}

// beyond lists the sets that are not among those that were.
func (q *proper) beyond(list, were []int32) []int32 {
	q.round++
	for _, a := range were {
		for int(a) >= len(q.met) {
			q.met = append(q.met, make([]int32, len(q.met)+1024)...)
		}
		q.met[a] = q.round
	}
	q.fresh = q.fresh[:0]
	for _, a := range list {
		if int(a) >= len(q.met) || q.met[a] != q.round {
			q.fresh = append(q.fresh, a)
		}
	}
	return q.fresh
}

// stagedLists is how sets are listed.
type stagedLists struct {
	take func(list *[]int32, from []int32, need int64)
	seat func(list *[]int32, arg int32, need int64)
	join func(list *[]int32, as, bs []int32, need int64, vert bool)
	more func(list *[]int32) bool
}

// searchStaged is search where stages are limited.
func (q *proper) searchStaged(r *raster, worth []int64, floor int64) (found int32, whole bool) {
	q.clearStaged(&q.lists, len(r.val))
	q.downStaged(r, floor)
	q.labels, q.work = q.labels[:0], 0
	defer func() { q.g.steps += 3 * q.work }()
	q.sitAll(r, func(t int) bool { return q.most[t] > 0 && worth[t] > 0 })
	whole = true
	q.listStaged(r, q.lists, floor, stagedLists{
		take: func(list *[]int32, from []int32, need int64) { q.inherit(list, from, need) },
		seat: func(list *[]int32, arg int32, need int64) {
			t := arg >> 1
			s := set{val: worth[t], a: -1, b: arg}
			if f := q.fields[t]; f.word >= 0 {
				s.n[f.word] = 1 << f.at
			}
			if s.val > need {
				q.add(list, s)
			}
		},
		join: func(list *[]int32, as, bs []int32, need int64, vert bool) {
			q.work += 2
			q.join(list, as, bs, need, vert, false)
		},
		more: func(list *[]int32) bool {
			q.work += 4
			whole = q.work <= q.limit && len(q.labels) <= maxLabels && len(*list) <= maxUnequal
			return whole
		},
	})
	if last := q.lists[len(r.val)-1]; len(last) > 0 {
		return last[0], whole
	}
	return -1, whole
}

// sitAll notes where the parts asked for lie at least.
func (q *proper) sitAll(r *raster, asked func(t int) bool) {
	q.seats = map[int32][]int32{}
	for t := range q.g.p.types {
		if !asked(t) {
			continue
		}
		ty := &q.g.p.types[t]
		q.sit(r, ty.w, ty.h, int32(t)<<1)
		if ty.turn {
			q.sit(r, ty.h, ty.w, int32(t)<<1|1)
		}
	}
}

// listStaged is list where stages are limited.
func (l *lister) listStaged(r *raster, worth []int64, floor int64) (found []int32, whole bool) {
	q := l.q
	q.clearStaged(&q.lists, len(r.val))
	q.downStaged(r, floor)
	q.sitAll(r, func(t int) bool { return l.most[t] > 0 })
	whole = true
	at := 0
	l.begin(0) // the places of sets do not matter
	q.listStaged(r, q.lists, floor, stagedLists{
		take: l.inherit,
		seat: func(list *[]int32, arg int32, need int64) {
			l.addPart(list, arg, need)
		},
		join: func(list *[]int32, as, bs []int32, need int64, vert bool) {
			l.work++
			l.join(list, as, bs, need, vert)
		},
		more: func(list *[]int32) bool {
			l.settle(list)
			l.begin(0)
			l.work += 4
			at++
			whole = l.work <= l.limit && len(l.labels) <= mostListed && (at%64 != 0 || l.ctx.Err() == nil)
			return whole
		},
	})
	if !whole {
		return nil, false
	}
	all := &q.lists[len(r.val)-1]
	l.settle(all)
	return *all, !l.lost
}
