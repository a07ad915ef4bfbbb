package cutting

import (
	"context"
	"math"
	"slices"

	"casewright/internal/unit"
)

// boardTables is the pricer of the pattern model on boards with defects: for
// every rectangle of a board, by its place, the most that guillotine cuts can
// make of it. Parts may always be pushed to the lower left until they touch
// another part, a defect or the edge, so cuts are needed only at sums of part
// sizes from the edge or from the far side of a defect. Where those are too
// many, all lengths and places are rounded down to steps: what fits then still
// fits, so the model still bounds, but its patterns cannot be cut.
type boardTables struct {
	s      *boardSearch
	tables []*boardTable // of each sheet of the problem
	known  map[*run][]laid
}

type boardTable struct {
	xs, ys []int64
	w, h   []int64  // of each type, twice where it may turn: as asked, then turned
	typ    []int32  // of each of those
	bad    [][]bool // of each of those, by place: it would touch a defect there
	val    []int64
	exact  bool
}

// pairs numbers the ranges i..j of n places, i < j.
func pairs(i, j int) int { return j*(j-1)/2 + i }

func newBoardTables(s *boardSearch, most int) (*boardTables, int) {
	out := &boardTables{s: s, known: map[*run][]laid{}}
	cost := 0
	for i := range s.boards {
		t := s.table(&s.boards[i], most/len(s.boards))
		if t == nil {
			return nil, 0
		}
		out.tables = append(out.tables, t)
		cost += t.cost()
	}
	return out, cost
}

// cost is how many sums filling the table takes.
func (t *boardTable) cost() int {
	nx, ny := len(t.xs), len(t.ys)
	return nx * nx / 2 * (ny * ny / 2) * (nx/3 + ny/3 + len(t.w)/2 + 1)
}

// table sets up the finest table of a board that takes at most so many sums,
// or nil.
func (s *boardSearch) table(b *board, sums int) *boardTable {
	for _, most := range [][2]int{{0, 0}, {128, 24}, {96, 18}, {64, 16}, {48, 14}, {32, 12}, {24, 8}} {
		sx, sy := unit.Length(1), unit.Length(1)
		if most[0] > 0 {
			sx, sy = s.steps(b.w, most[0], true), s.steps(b.h, most[1], false)
		}
		t := &boardTable{exact: most[0] == 0}
		for i, ty := range s.types {
			if w, h := int64(ty.w/sx), int64(ty.h/sy); w > 0 && h > 0 {
				t.w, t.h, t.typ = append(t.w, w), append(t.h, h), append(t.typ, int32(i))
			} else {
				return nil
			}
			if w, h := int64(ty.h/sx), int64(ty.w/sy); ty.turn && w > 0 && h > 0 {
				t.w, t.h, t.typ = append(t.w, w), append(t.h, h), append(t.typ, int32(i))
			}
		}
		t.xs = s.places(b, t, sx, true)
		t.ys = s.places(b, t, sy, false)
		if t.xs == nil || t.ys == nil || t.cost() > sums {
			continue
		}
		t.mark(b, sx, sy)
		t.val = make([]int64, pairs(0, len(t.xs))*pairs(0, len(t.ys)))
		return t
	}
	return nil
}

// steps is the length of step, about size/most, by which the parts lose least.
func (s *boardSearch) steps(size unit.Length, most int, along bool) unit.Length {
	top := max(1, size/unit.Length(most))
	best, least := unit.Length(0), math.Inf(1)
	for k := unit.Length(0); k < 40; k++ {
		step := top + top*k/80
		lost, fits := 0.0, true
		for t, ty := range s.types {
			l := ty.h
			if along {
				l = ty.w
			}
			if l < step || ty.turn && min(ty.w, ty.h) < step {
				fits = false
			}
			lost += float64(s.p.types[t].qty) * ty.area * float64(l%step) / float64(l)
		}
		if fits && lost < least {
			best, least = step, lost
		}
	}
	return max(best, 1)
}

// mostPlaces keeps the sums of one axis few.
const mostPlaces = 200

// places are the sums of part sizes from the edge and from the far sides of
// defects, and the ends; nil when they are too many.
func (s *boardSearch) places(b *board, t *boardTable, step unit.Length, along bool) []int64 {
	end := int64(b.h / step)
	if along {
		end = int64(b.w / step)
	}
	seen := map[int64]bool{0: true}
	out := []int64{0}
	add := func(v int64) {
		if v < end && !seen[v] {
			seen[v] = true
			out = append(out, v)
		}
	}
	for _, d := range b.defects {
		_, far := d.along(along)
		add(int64(max(0, far) / step))
	}
	for i, typ := range t.typ {
		size := t.h[i]
		if along {
			size = t.w[i]
		}
		for _, from := range slices.Clone(out) {
			for n := 1; n <= s.p.types[typ].qty && from+int64(n)*size < end; n++ {
				add(from + int64(n)*size)
			}
		}
		if len(out) > mostPlaces {
			return nil
		}
	}
	out = append(out, end)
	slices.Sort(out)
	return out
}

// mark notes where parts would touch a defect.
func (t *boardTable) mark(b *board, sx, sy unit.Length) {
	nx, ny := len(t.xs), len(t.ys)
	for i := range t.w {
		bad := make([]bool, nx*ny)
		for _, d := range b.defects {
			x1, x2, y1, y2 := int64(max(0, d.x1)/sx), int64(max(0, d.x2)/sx), int64(max(0, d.y1)/sy), int64(max(0, d.y2)/sy)
			for a, x := range t.xs {
				for c, y := range t.ys {
					if x < x2 && x+t.w[i] > x1 && y < y2 && y+t.h[i] > y1 {
						bad[a*ny+c] = true
					}
				}
			}
		}
		t.bad = append(t.bad, bad)
	}
}

// fill works the table out for the worth of each type.
func (t *boardTable) fill(worth []int64) {
	nx, ny := len(t.xs), len(t.ys)
	row := pairs(0, ny)
	for j := 1; j < nx; j++ {
		for i := j - 1; i >= 0; i-- {
			at := t.val[pairs(i, j)*row:][:row]
			clear(at)
			for c := i + 1; c < j; c++ {
				left, right := t.val[pairs(i, c)*row:][:row], t.val[pairs(c, j)*row:][:row]
				for k := range at {
					at[k] = max(at[k], left[k]+right[k])
				}
			}
			for m := 1; m < ny; m++ {
				for l := m - 1; l >= 0; l-- {
					v := at[pairs(l, m)]
					for k, w := range t.w {
						if w <= t.xs[j]-t.xs[i] && t.h[k] <= t.ys[m]-t.ys[l] && worth[t.typ[k]] > v && !t.bad[k][i*ny+l] {
							v = worth[t.typ[k]]
						}
					}
					for c := l + 1; c < m; c++ {
						v = max(v, at[pairs(l, c)]+at[pairs(c, m)])
					}
					at[pairs(l, m)] = v
				}
			}
		}
	}
}

// read finds the parts of the best pattern of a rectangle in a filled table.
func (t *boardTable) read(i, j, l, m int, worth []int64, f func(k int, x, y int64)) {
	row := pairs(0, len(t.ys))
	v := t.val[pairs(i, j)*row+pairs(l, m)]
	if v == 0 {
		return
	}
	for k, w := range t.w {
		if w <= t.xs[j]-t.xs[i] && t.h[k] <= t.ys[m]-t.ys[l] && worth[t.typ[k]] == v && !t.bad[k][i*len(t.ys)+l] {
			f(k, t.xs[i], t.ys[l])
			return
		}
	}
	for c := i + 1; c < j; c++ {
		if t.val[pairs(i, c)*row+pairs(l, m)]+t.val[pairs(c, j)*row+pairs(l, m)] == v {
			t.read(i, c, l, m, worth, f)
			t.read(c, j, l, m, worth, f)
			return
		}
	}
	for c := l + 1; c < m; c++ {
		if t.val[pairs(i, j)*row+pairs(l, c)]+t.val[pairs(i, j)*row+pairs(c, m)] == v {
			t.read(i, j, l, c, worth, f)
			t.read(i, j, c, m, worth, f)
			return
		}
	}
}

// ready makes boardTables a readier: every board has its own table.
func (b *boardTables) ready(worth []int64) {
	b.s.p.cores.Each(len(b.tables), func(i int) { b.tables[i].fill(worth) })
}

// best makes boardTables a pricer, of the worths that it is ready for.
func (b *boardTables) best(sheet int, worth []int64, _ []int, _ int64) (int64, pattern) {
	t := b.tables[sheet]
	pat := pattern{sheet: sheet}
	var parts []laid
	counts := map[int32]int{}
	t.read(0, len(t.xs)-1, 0, len(t.ys)-1, worth, func(k int, x, y int64) {
		typ := t.typ[k]
		counts[typ]++
		ty := &b.s.types[typ]
		if t.exact {
			parts = append(parts, laid{cell{unit.Length(x), unit.Length(y), unit.Length(x + t.w[k]), unit.Length(y + t.h[k])}, typ, t.w[k] != int64(ty.w)})
		}
	})
	for typ := range b.s.types {
		if n := counts[int32(typ)]; n > 0 {
			pat.use = append(pat.use, run{typ, n})
		}
	}
	if t.exact && len(pat.use) > 0 {
		b.known[&pat.use[0]] = parts
	}
	return t.val[pairs(0, len(t.xs)-1)*pairs(0, len(t.ys))+pairs(0, len(t.ys)-1)], pat
}

// tables bounds the job by the pattern model, and takes its patterns where
// they can be cut.
func (s *boardSearch) tables(ctx context.Context, moves int) bound {
	b, cost := newBoardTables(s, moves/tableRounds)
	if b == nil || cost == 0 {
		return bound{value: math.MinInt64}
	}
	demand := make([]int, len(s.p.types))
	for t, ty := range s.p.types {
		demand[t] = ty.qty
	}
	m := newMaster(s.p, demand, b)
	m.solve(ctx, moves/cost)
	shares, _ := m.answer()
	slices.SortStableFunc(shares, func(a, b share) int {
		switch {
		case a.x > b.x:
			return -1
		case a.x < b.x:
			return 1
		}
		return 0
	})
	var raw []*stack
	for _, sh := range shares {
		if len(sh.pat.use) == 0 {
			continue
		}
		if parts := b.known[&sh.pat.use[0]]; parts != nil {
			raw = append(raw, slices.Repeat([]*stack{{board: sh.pat.sheet, parts: parts}}, int(math.Ceil(sh.x-1e-9)))...)
		}
	}
	if len(raw) > 0 {
		s.adopt(raw)
	}
	return bound{ceilSafe(m.bound), s.p.whyPatterns(m.bound)}
}
