package cutting

import (
	"cmp"
	"slices"
)

// A filler finds sets of pieces that fill a bar end to end and are worth most.
// Its table says, for the types from one on and a room counted in steps, what
// those types are worth at most in that room. Lengths are rounded down to the
// steps, so the table never says too little; the search for sets goes by the
// true lengths and turns back where the table says that nothing more is to be
// gained. Where a step is the unit itself it makes no false turn.
type filler struct {
	p     *problem
	order []int // types, longest first

	size  int // cells of the table times passes over them, at most
	step  int64
	row   int
	ids   []int // types with a worth, longest first
	w, v  []int64
	n     []int
	short []int64   // the shortest length from here on
	table [][]int64 // of ids from i on, by room in steps
	cells []int64

	work  int // cells and turns made
	turns int // left in this search
	picks []run
	good  []run
	top   int64
	list  []worthy
}

// fillCells is the size of a table where nothing else is said.
const fillCells = 400_000

func newFiller(p *problem) *filler {
	f := &filler{p: p, size: fillCells}
	for t := range p.types {
		f.order = append(f.order, t)
	}
	slices.SortStableFunc(f.order, func(a, b int) int {
		switch {
		case p.types[a].w > p.types[b].w:
			return -1
		case p.types[a].w < p.types[b].w:
			return 1
		}
		return 0
	})
	return f
}

// load sets the worths, at least 0, and how many pieces of a type are wanted.
func (f *filler) load(worth []int64, most []int) {
	var room int64
	for _, s := range f.p.sheets {
		room = max(room, s.w)
	}
	f.ids, f.w, f.v, f.n = f.ids[:0], f.w[:0], f.v[:0], f.n[:0]
	passes := 1
	for _, t := range f.order {
		if w := f.p.types[t].w; worth[t] > 0 && most[t] > 0 && w <= room {
			f.ids, f.w, f.v = append(f.ids, t), append(f.w, w), append(f.v, worth[t])
			n := int(min(int64(most[t]), room/w))
			f.n = append(f.n, n)
			if int64(n) == room/w {
				passes++
			} else {
				passes += n
			}
		}
	}
	f.step = max(1, (room*int64(passes)+int64(f.size)-1)/int64(f.size))
	f.row = int(room/f.step) + 1
	if need := f.row * (len(f.ids) + 1); cap(f.cells) < need {
		f.cells = make([]int64, need)
	}
	f.cells = f.cells[:f.row*(len(f.ids)+1)]
	f.table = f.table[:0]
	for i := range len(f.ids) + 1 {
		f.table = append(f.table, f.cells[i*f.row:(i+1)*f.row])
	}
	clear(f.table[len(f.ids)])
	f.short = slices.Grow(f.short[:0], len(f.ids)+1)[:len(f.ids)+1]
	f.short[len(f.ids)] = room + 1
	for i := len(f.ids) - 1; i >= 0; i-- {
		f.short[i] = min(f.short[i+1], f.w[i])
		f.fill(i, room)
	}
	f.work += f.row * (passes + len(f.ids))
}

// fill makes the table of type i from that of the types after it.
func (f *filler) fill(i int, room int64) {
	t := f.table[i]
	copy(t, f.table[i+1])
	c, v := int(f.w[i]/f.step), f.v[i]
	if c >= len(t) {
		return
	}
	if c == 0 { // shorter than a step
		for k := range t {
			t[k] += v * int64(f.n[i])
		}
		return
	}
	if int64(f.n[i]) == room/f.w[i] { // as many as fit
		far := t[c:]
		for k := range far {
			far[k] = max(far[k], t[k]+v)
		}
		return
	}
	for range f.n[i] {
		near, far := t[:len(t)-c], t[c:]
		for k := len(near) - 1; k >= 0; k-- {
			if s := near[k] + v; s > far[k] {
				far[k] = s
			}
		}
	}
}

// best is the pricer of a program whose sheets are bars. It may return more
// than the set is worth, never less than the best is.
func (f *filler) best(sheet int, worth []int64, most []int, floor int64) (int64, pattern) {
	f.load(worth, most)
	top, use := f.fullest(f.p.sheets[sheet].w, max(0, floor), mixTurns)
	return top, pattern{sheet: sheet, use: slices.Clone(use)}
}

// A worthy set is one that may be worth a pattern.
type worthy struct {
	worth int64
	use   []run
}

// offer is as offerer says: the fullest bar, and one for every longest piece.
func (f *filler) offer(sheet int, floor int64, yield func(pattern)) int64 {
	room := f.p.sheets[sheet].w
	top, use := f.fullest(room, floor, mixTurns)
	if len(use) == 0 {
		return top
	}
	yield(pattern{sheet: sheet, use: use})
	f.list = f.list[:0]
	f.each(room, floor, mixEach, func(worth int64, use []run) { f.list = append(f.list, worthy{worth, slices.Clone(use)}) })
	slices.SortStableFunc(f.list, func(a, b worthy) int { return cmp.Compare(b.worth, a.worth) })
	for _, l := range f.list[:min(len(f.list), mixMost)] {
		yield(pattern{sheet: sheet, use: l.use})
	}
	return top
}

func (f *filler) harder() bool { return false }

func (f *filler) part(q *problem, _ []int) offerer { return newFiller(q) }

func (f *filler) spent() int {
	w := f.work
	f.work = 0
	return w
}

// limit is the most that a bar with room can be worth, by the table.
func (f *filler) limit(room int64) int64 {
	if room < 0 {
		return 0
	}
	return f.table[0][room/f.step]
}

// fullest is the set worth most for a bar with room, if it is worth more than
// floor; the worth is never below that of the best set, or is floor when none
// is above it. After so many turns it stops, and says what the table says.
func (f *filler) fullest(room, floor int64, turns int) (int64, []run) {
	f.top, f.good, f.picks, f.turns = floor, f.good[:0], f.picks[:0], turns
	f.seek(0, room, 0)
	if f.turns <= 0 {
		return max(floor, f.limit(room)), f.good
	}
	return f.top, f.good
}

// each calls yield with a good set for every type that can be the longest of a
// set worth more than floor.
func (f *filler) each(room, floor int64, turns int, yield func(worth int64, use []run)) {
	for i := range f.ids {
		if f.table[i][room/f.step] <= floor {
			break
		}
		if f.w[i] > room {
			continue
		}
		f.top, f.good, f.picks, f.turns = floor, f.good[:0], f.picks[:0], turns
		f.take(i, room, 0, -1)
		if len(f.good) > 0 {
			yield(f.top, f.good)
		}
	}
}

// seek looks for a set of the types from i on that brings val above the best.
func (f *filler) seek(i int, room, val int64) {
	if f.turns--; f.turns <= 0 {
		return
	}
	f.work += 8
	at := int(room / f.step)
	for ; i < len(f.ids); i++ {
		if val+f.table[i][at] <= f.top {
			return
		}
		if room < f.short[i] {
			break
		}
		if f.w[i] > room {
			continue
		}
		skip := val + f.table[i+1][at]
		f.take(i, room, val, skip)
		if f.turns <= 0 {
			return
		}
	}
	if val > f.top {
		f.top = val
		f.good = append(f.good[:0], f.picks...)
	}
}

// take tries pieces of type i, the most promising number first: skip is what
// none of it promises, which is for the caller.
func (f *filler) take(i int, room, val, skip int64) {
	most := min(int64(f.n[i]), room/f.w[i])
	next := f.table[i+1]
	first := int64(-1)
	top := skip
	for k := int64(1); k <= most; k++ {
		if u := val + k*f.v[i] + next[(room-k*f.w[i])/f.step]; u >= top {
			top, first = u, k
		}
	}
	f.picks = append(f.picks, run{f.ids[i], 0})
	last := len(f.picks) - 1
	if first > 0 {
		f.picks[last].n = int(first)
		f.seek(i+1, room-first*f.w[i], val+first*f.v[i])
	}
	for k := most; k > 0 && f.turns > 0; k-- {
		if k == first || val+k*f.v[i]+next[(room-k*f.w[i])/f.step] <= f.top {
			continue
		}
		f.picks = append(f.picks[:last], run{f.ids[i], int(k)})
		f.seek(i+1, room-k*f.w[i], val+k*f.v[i])
	}
	f.picks = f.picks[:last]
}
