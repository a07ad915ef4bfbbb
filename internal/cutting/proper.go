package cutting

import (
	"math"
	"math/bits"
	"slices"
)

// A proper pricer finds the pattern of the greatest worth that holds no more
// pieces of a type than are asked for. The table of a grid knows no such
// limit. Its values bound what each rectangle can hold, and going down from
// the whole sheet bounds what can lie beside each rectangle. Where the two
// together are not worth more than the floor, the rectangle is out. For the
// few that stay all unbeaten sets of pieces are listed, each with its counts.
type proper struct {
	g      *grid
	most   []int
	fields []field
	words  int
	guard  counts // the top bit of each field
	fill   counts // what makes a field overflow into its top bit when it has too many
	beside []int64
	alive  []int32
	lists  [][]int32
	seats  map[int32][]int32
	labels []set
	work   int       // steps done in the present search
	loose  bool      // let a pattern have too many: quick, and weaker
	trees  bool      // patterns come with how they are cut
	limit  int       // steps of one search
	trims  int       // tries to trim a pattern
	extra  []pattern // further good patterns of the last search, with trees
	pack   packer
	spare  spare
	few    int // sets kept of each rectangle; 0: all

	counters []*counter // of each sheet: for where that would take too long

	met   []int32 // of each set: when it was met last, where stages are limited
	round int32
	fresh []int32 // scratch
}

// counts holds how many pieces of each type a set has, packed into fields.
type counts [4]uint64

// A field is where the count of a type is; word is below 0 for types that
// cannot be too many.
type field struct {
	word int8
	at   uint8
}

// A set is some pieces in a rectangle: two smaller sets, or one piece.
type set struct {
	val  int64
	n    counts
	a, b int32 // a is -1 for a piece: b is then its type and turn
	vert bool
}

// Limits of one search. Beyond them the table's value is what is known.
const (
	maxSteps   = 2_000_000
	maxLabels  = 200_000
	maxUnequal = 400 // unbeaten sets of one rectangle
	mostExtra  = 8
	countSteps = 4 // of counting, for each step of a search
)

// newProper returns nil when the counts do not fit.
func newProper(g *grid, most []int) *proper {
	g.limit = most
	q := &proper{g: g, most: most, limit: maxSteps, trims: trimTries, fields: make([]field, len(most)), pack: g.p.packer()}
	word, at := 0, 0
	for t := range g.p.types {
		ty := &g.p.types[t]
		q.fields[t].word = -1
		can := int64(0)
		for _, s := range g.p.sheets {
			n := (s.w / ty.w) * (s.h / ty.h)
			if ty.turn {
				n = int64(float64(s.w) * float64(s.h) / ty.area)
			}
			can = max(can, n)
		}
		if can <= int64(most[t]) {
			continue
		}
		size := bits.Len(uint(most[t])) + 1
		if at+size > 64 {
			word, at = word+1, 0
		}
		if word == len(q.guard) || size > 32 {
			return nil
		}
		q.field(t, word, at, size)
		at += size
	}
	q.words = word + 1
	return q
}

// field gives a type its place among the counts.
func (q *proper) field(t, word, at, size int) {
	q.fields[t] = field{int8(word), uint8(at)}
	top := uint64(1) << (at + size - 1)
	q.guard[word] |= top
	q.fill[word] |= top - (uint64(q.most[t])+1)<<at
}

// within reports whether no count is above what is asked for.
func (q *proper) within(n *counts) bool {
	for w := range q.words {
		if (n[w]+q.fill[w])&q.guard[w] != 0 {
			return false
		}
	}
	return true
}

// fewer reports whether set a has no more of any type than b.
func (q *proper) fewer(a, b *counts) bool {
	for w := range q.words {
		if ((b[w]|q.guard[w])-a[w])&q.guard[w] != q.guard[w] {
			return false
		}
	}
	return true
}

// best is as pricer says.
func (q *proper) best(sheet int, worth []int64, most []int, floor int64) (int64, pattern) {
	r := &q.g.sheets[sheet]
	if len(r.x) == 0 || len(r.y) == 0 {
		return 0, pattern{sheet: sheet}
	}
	q.g.fill(r, worth, most)
	top := r.val[len(r.val)-1]
	if top <= floor {
		return top, pattern{sheet: sheet}
	}
	pat := q.g.read(sheet)
	if q.loose || !q.over(pat) {
		return top, pat
	}
	floor = max(floor, 0)
	trimmed := q.trimmed(sheet, r, pat, worth, floor+(top-floor)/2)
	if trimmed.worth(worth) > floor+(top-floor)/8 {
		return top, trimmed
	}
	// From the top down: a search that asks for more is much shorter.
	high := top
	for _, part := range []float64{0.05, 0.15, 0.4, 1} {
		least := top - int64(part*float64(top-floor))
		if part == 1 {
			least = floor
		}
		found, whole := q.search(r, worth, least)
		switch {
		case found >= 0 && whole:
			if q.trees {
				list := q.lists[len(r.val)-1]
				for _, l := range list[1:min(len(list), mostExtra)] {
					q.extra = append(q.extra, q.draw(sheet, l))
				}
			}
			return q.labels[found].val, q.draw(sheet, found)
		case !whole:
			if found >= 0 && q.labels[found].val >= trimmed.worth(worth) {
				trimmed = q.draw(sheet, found)
			}
			high, trimmed = q.counted(sheet, worth, high, floor, trimmed)
			if high > floor && trimmed.worth(worth) <= floor {
				return high, pat // better too many than nothing
			}
			return high, trimmed
		}
		high = least
	}
	return floor, pattern{sheet: sheet}
}

// search lists the sets worth more than floor on the whole sheet and returns
// the best, or -1; whole tells that none was left out.
func (q *proper) search(r *raster, worth []int64, floor int64) (found int32, whole bool) {
	if r.depth > 0 {
		return q.searchStaged(r, worth, floor)
	}
	nx, ny := len(r.x), len(r.y)
	q.down(r, floor)
	q.labels, q.work = q.labels[:0], 0
	defer func() { q.g.steps += 3 * q.work }()
	if len(q.lists) < nx*ny {
		q.lists = make([][]int32, nx*ny)
	}
	for i := range q.lists {
		q.lists[i] = q.lists[i][:0]
	}
	q.sitAll(r, func(t int) bool { return q.most[t] > 0 && worth[t] > 0 })
	for k := len(q.alive) - 1; k >= 0; k-- {
		at := q.alive[k]
		i, j := int(at)/ny, int(at)%ny
		need := floor - q.beside[at]
		list := &q.lists[at]
		if i > 0 {
			q.inherit(list, q.lists[int(at)-ny], need)
		}
		if j > 0 {
			q.inherit(list, q.lists[int(at)-1], need)
		}
		for _, arg := range q.seats[at] {
			t := arg >> 1
			s := set{val: worth[t], a: -1, b: arg}
			if f := q.fields[t]; f.word >= 0 {
				s.n[f.word] = 1 << f.at
			}
			if s.val > need {
				q.add(list, s)
			}
		}
		for k, o := range r.dx[i][:i] {
			if int(o) < k {
				break
			}
			a, b := q.lists[k*ny+j], q.lists[int(o)*ny+j]
			if len(a) > 0 && len(b) > 0 {
				q.join(list, a, b, need, true, k == int(o))
			}
		}
		row := q.lists[i*ny : i*ny+ny]
		for k, o := range r.dy[j][:j] {
			if int(o) < k {
				break
			}
			if a, b := row[k], row[o]; len(a) > 0 && len(b) > 0 {
				q.join(list, a, b, need, false, k == int(o))
			}
		}
		q.work += i + j
		if q.work > q.limit || len(q.labels) > maxLabels || len(*list) > maxUnequal {
			break
		}
	}
	whole = q.work <= q.limit && len(q.labels) <= maxLabels
	for _, at := range q.alive {
		whole = whole && len(q.lists[at]) <= maxUnequal
	}
	last := q.lists[nx*ny-1]
	if len(last) == 0 {
		return -1, whole
	}
	return last[0], whole
}

func (q *proper) sit(r *raster, w, h int64, arg int32) {
	i, _ := slices.BinarySearch(r.x, w)
	j, _ := slices.BinarySearch(r.y, h)
	if i < len(r.x) && j < len(r.y) {
		k := int32(i*len(r.y) + j)
		q.seats[k] = append(q.seats[k], arg)
	}
}

// unknown makes room for what can lie beside so many rectangles; none is known
// to be alive.
func (q *proper) unknown(states int) []int64 {
	if len(q.beside) < states {
		q.beside = make([]int64, states)
	}
	g := q.beside[:states]
	for i := range g {
		g[i] = math.MinInt64
	}
	q.alive = q.alive[:0]
	return g
}

// down bounds for each rectangle what can lie beside it, and lists those that
// can be in a pattern worth more than floor, the largest first.
func (q *proper) down(r *raster, floor int64) {
	nx, ny := len(r.x), len(r.y)
	g := q.unknown(len(r.val))
	g[nx*ny-1] = 0
	for i := nx - 1; i >= 0; i-- {
		for j := ny - 1; j >= 0; j-- {
			at := i*ny + j
			v := g[at]
			if v < 0 || r.val[at]+v <= floor {
				continue
			}
			q.alive = append(q.alive, int32(at))
			if i > 0 {
				g[at-ny] = max(g[at-ny], v)
			}
			if j > 0 {
				g[at-1] = max(g[at-1], v)
			}
			col := r.mirror[j*nx : j*nx+nx]
			for k, o := range r.dx[i][:i] {
				if int(o) < k {
					break
				}
				a, b := k*ny+j, int(o)*ny+j
				if x, y := col[k], col[o]; v+x+y > floor {
					g[a], g[b] = max(g[a], v+y), max(g[b], v+x)
				}
			}
			row := r.val[i*ny : i*ny+ny]
			for k, o := range r.dy[j][:j] {
				if int(o) < k {
					break
				}
				a, b := i*ny+k, i*ny+int(o)
				if x, y := row[k], row[o]; v+x+y > floor {
					g[a], g[b] = max(g[a], v+y), max(g[b], v+x)
				}
			}
		}
	}
	q.g.steps += len(q.alive) * (nx + ny) / 2
}

// inherit takes over the sets of a smaller rectangle.
func (q *proper) inherit(list *[]int32, from []int32, need int64) {
	for _, l := range from {
		if q.labels[l].val <= need {
			return
		}
		q.insert(list, l)
	}
}

// join lays the sets of two rectangles side by side.
func (q *proper) join(list *[]int32, as, bs []int32, need int64, vert, same bool) {
	for x, a := range as {
		la := &q.labels[a]
		from := 0
		if same {
			from = x
		}
		for _, b := range bs[from:] {
			lb := &q.labels[b]
			v := la.val + lb.val
			if v <= need {
				if q.work++; true {
					break
				}
			}
			q.work += 4
			s := set{val: v, a: a, b: b, vert: vert}
			for w := range q.words {
				s.n[w] = la.n[w] + lb.n[w]
			}
			if !q.within(&s.n) {
				continue
			}
			q.add(list, s)
			la = &q.labels[a]
		}
		if q.work > q.limit {
			return
		}
	}
}

// add makes a set known to a rectangle unless another is as good.
func (q *proper) add(list *[]int32, s set) {
	if q.beaten(*list, &s) {
		return
	}
	q.labels = append(q.labels, s)
	q.seat(list, int32(len(q.labels)-1))
}

func (q *proper) insert(list *[]int32, l int32) {
	if s := &q.labels[l]; !q.beaten(*list, s) {
		q.seat(list, l)
	}
}

// beaten reports whether a set of the list is worth as much with no more
// pieces.
func (q *proper) beaten(list []int32, s *set) bool {
	q.work += len(list) / 2
	for _, l := range list {
		o := &q.labels[l]
		if o.val < s.val {
			return false
		}
		if q.fewer(&o.n, &s.n) {
			return true
		}
	}
	return false
}

// seat puts set l into the list, most worth first, and drops what it beats.
func (q *proper) seat(list *[]int32, l int32) {
	s := &q.labels[l]
	out := *list
	k := 0
	for k < len(out) && q.labels[out[k]].val > s.val {
		k++
	}
	out = append(out, 0)
	copy(out[k+1:], out[k:])
	out[k] = l
	n := k + 1
	for _, o := range out[k+1:] {
		if !q.fewer(&s.n, &q.labels[o].n) {
			out[n] = o
			n++
		}
	}
	if q.few > 0 {
		n = min(n, q.few)
	}
	*list = out[:n]
}

// draw is the pattern of a set.
func (q *proper) draw(sheet int, l int32) pattern {
	pat := pattern{sheet: sheet}
	count := map[int32]int{}
	var order []int32
	var walk func(l int32)
	walk = func(l int32) {
		s := &q.labels[l]
		if s.a >= 0 {
			walk(s.a)
			walk(s.b)
			return
		}
		t := s.b >> 1
		if count[t]++; count[t] == 1 {
			order = append(order, t)
		}
	}
	walk(l)
	for _, t := range order {
		pat.use = append(pat.use, run{int(t), count[t]})
	}
	if q.trees {
		pat.tree = q.tree(sheet, l)
	}
	return pat
}

// tree is how set l is cut from a sheet.
func (q *proper) tree(sheet int, l int32) *bin {
	sh := q.g.p.sheets[sheet]
	var src bin
	src.reset(sheet, sh.w, sh.h)
	src.n[0].typ = splitAt
	var walk func(l, parent int32) int32
	walk = func(l, parent int32) int32 {
		s := &q.labels[l]
		at := int32(len(src.n))
		if s.a < 0 {
			ty := &q.g.p.types[s.b>>1]
			n := node{w: ty.w, h: ty.h, parent: parent, first: -1, next: -1, typ: s.b >> 1, rot: s.b&1 != 0}
			if n.rot {
				n.w, n.h = n.h, n.w
			}
			src.n = append(src.n, n)
			return at
		}
		src.n = append(src.n, node{parent: parent, next: -1, typ: splitAt, vert: s.vert})
		one := walk(s.a, at)
		two := walk(s.b, at)
		src.n[at].first, src.n[one].next = one, two
		return at
	}
	src.n[0].first = walk(l, 0)
	out := &bin{}
	q.pack.rebuild(out, &src, true)
	return out
}
