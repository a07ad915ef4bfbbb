package cutting

import "context"

// A walk goes over the rectangles of a sheet that may lie in a pattern worth
// more than a floor, the smallest first, and lists for each the sets of parts
// that it may hold: those of smaller rectangles, single parts, and two sets side
// by side. Which sets are kept is up to the walker.
type walk struct {
	slots []slot    // of each rectangle: where its lists are
	cols  [][]int32 // of each y: the x with sets
	along []int32   // of the x at hand: the y with sets
	sets  []int32   // listed of the rectangle at hand
	arena []int32   // the lists of all rectangles
	home  []int32   // of each set: the rectangle that it was found in
	here  int32     // the one at hand
	work  int
	limit int
}

// A slot says where in the arena the lists of a rectangle are: all its sets, then
// those of them that come first in a row, then those in a column. Most rectangles
// have none, and a table of slices would be several times as large.
type slot struct{ from, wide, high, to int32 }

func (l *walk) at(k int) []int32 { return l.arena[l.slots[k].from:l.slots[k].wide] }

func (l *walk) wide(k int) []int32 { return l.arena[l.slots[k].wide:l.slots[k].high] }

func (l *walk) high(k int) []int32 { return l.arena[l.slots[k].high:l.slots[k].to] }

// A walker keeps the sets of a rectangle. Those worth no more than need are of no
// use.
type walker interface {
	begin(at int32)
	inherit(list *[]int32, from []int32, need int64)
	addPart(list *[]int32, arg int32, need int64)
	join(list *[]int32, as, bs []int32, need int64, vert bool)
	settle(list *[]int32) // ends the list of the rectangle
	full() bool           // gives up
}

// over returns the sets of the whole sheet, whose table is filled; whole is
// false where the walker gave up or ctx ended.
func (l *walk) over(ctx context.Context, q *proper, r *raster, floor int64, asked func(t int) bool, v walker) (found []int32, whole bool) {
	nx, ny := len(r.x), len(r.y)
	q.down(r, floor)
	if len(l.slots) < nx*ny {
		l.slots = make([]slot, nx*ny)
	}
	clear(l.slots)
	l.arena = l.arena[:0]
	for len(l.cols) < ny {
		l.cols = append(l.cols, nil)
	}
	for j := range ny {
		l.cols[j] = l.cols[j][:0]
	}
	in, along := -1, l.along[:0] // the last row with sets, and where
	defer func() { l.along = along }()
	q.sitAll(r, asked)
	for k := len(q.alive) - 1; k >= 0; k-- {
		at := q.alive[k]
		i, j := int(at)/ny, int(at)%ny
		need := floor - q.beside[at]
		list := &l.sets
		*list = (*list)[:0]
		v.begin(at)
		if i > 0 {
			v.inherit(list, l.at(int(at)-ny), need)
		}
		if j > 0 {
			v.inherit(list, l.at(int(at)-1), need)
		}
		for _, arg := range q.seats[at] {
			v.addPart(list, arg, need)
		}
		// What fits beside k in a rectangle one step narrower is known from there.
		dx, last := r.dx[i], r.dx[max(0, i-1)]
		for _, k := range l.cols[j] {
			o := dx[k]
			if o < k {
				break
			}
			l.work++
			from := k
			if int(k) < i-1 {
				from = max(k, last[k]+1)
			}
			for ; from <= o && l.work <= l.limit; from++ {
				v.join(list, l.wide(int(k)*ny+j), l.wide(int(from)*ny+j), need, true)
			}
		}
		if i != in {
			in, along = i, along[:0]
			if ctx.Err() != nil {
				return nil, false
			}
		}
		dy, last := r.dy[j], r.dy[max(0, j-1)]
		for _, k := range along {
			o := dy[k]
			if o < k {
				break
			}
			l.work++
			from := k
			if int(k) < j-1 {
				from = max(k, last[k]+1)
			}
			for ; from <= o && l.work <= l.limit; from++ {
				v.join(list, l.high(i*ny+int(k)), l.high(i*ny+int(from)), need, false)
			}
		}
		v.settle(list)
		l.store(*list, int(at), ny)
		if s := l.slots[at]; s.high > s.wide {
			l.cols[j] = append(l.cols[j], int32(i))
		}
		if s := l.slots[at]; s.to > s.high {
			along = append(along, int32(j))
		}
		l.work += 4
		if v.full() {
			return nil, false
		}
	}
	return l.at(nx*ny - 1), true
}

// store keeps the list of a rectangle, and which of its sets are worth laying
// beside others. Of sets in a row the narrowest may come first, so it is no row
// itself; and where it fits a narrower rectangle it is laid beside others there.
func (l *walk) store(list []int32, at, ny int) {
	i, j := at/ny, at%ny
	s := slot{from: int32(len(l.arena))}
	l.arena = append(l.arena, list...)
	s.wide = int32(len(l.arena))
	for _, a := range list {
		if int(l.home[a])/ny == i {
			l.arena = append(l.arena, a)
		}
	}
	s.high = int32(len(l.arena))
	for _, a := range list {
		if int(l.home[a])%ny == j {
			l.arena = append(l.arena, a)
		}
	}
	s.to = int32(len(l.arena))
	l.slots[at] = s
	l.work += len(list) / 4
}
