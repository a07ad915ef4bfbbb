package cutting

import (
	"cmp"
	"slices"
)

// A grid prices guillotine patterns exactly, but for the demand: any number of
// pieces of a type may be on a sheet. It tabulates the greatest worth of every
// rectangle whose sides are sums of part sizes (Gilmore and Gomory 1966;
// Beasley 1985).
type grid struct {
	p      *problem
	thin   bool
	sheets []raster
	pack   packer
	tree   bin
	steps  int   // done so far
	limit  []int // of each type: how many a pattern may have; nil: any number
	caps   []worthCap

	low, high []int64 // scratch, where stages are limited
	rises     []int32
}

// A raster holds one sheet's table.
type raster struct {
	x, y   []int64    // the sums of sizes that matter, up to the sheet's sides; least first, none 0
	dx, dy [][]int32  // index of the largest sum not above x[i]-x[k]; -1: below the least
	val    []int64    // by row: val[i*len(y)+j]
	mirror []int64    // by column: mirror[j*len(x)+i]
	parts  []seated   // the parts, by place
	sx, sy [][]uint32 // index of the least sum not below x[i]+x[k], of those k <= i that fit the sheet
	rises  []rises    // of each y: where the worth rises with x; the last are scratch
	share  float64    // of the heights that are filled on one core, where there are two

	arg        []int32 // where stages are limited: how, by part and turn or by cut
	depth      int     // stages of cuts, where they are limited (see staged.go)
	wide, high []int32 // and where widths and heights of parts are
}

// A seated part just fits a rectangle; of several it is the one worth most.
type seated struct {
	at  int
	val int64
	arg int32 // its number and turn
}

// Marks of a cut, beside the index of where it is.
const cutX, cutY = 1 << 29, 1 << 30

// maxGrid bounds the steps to fill the tables of all sheets once, mostStates
// the rectangles of a sheet.
const (
	maxGrid    = 6_000_000
	mostStates = 1 << 20
)

// newGrid returns a grid with full tables, or with thinned ones where those
// would be too large, or nil. A thinned grid gives good patterns but no bound.
func newGrid(p *problem) *grid {
	if g := p.grid(0, maxGrid); g != nil {
		return g
	}
	return p.grid(max(12, 30/max(1, len(p.sheets))), maxGrid)
}

// grid sets up tables that take at most so many steps to fill, or returns nil.
// With few above 0 they are thinned to about so many lengths along each side.
func (p *problem) grid(few int, most float64) *grid {
	g := &grid{p: p, thin: few > 0, pack: p.packer()}
	cost := 0.0
	for s, sh := range p.sheets {
		var r raster
		if g.thin {
			r = raster{x: p.fewSums(sh.w, few, true), y: p.fewSums(sh.h, few, false)}
		} else {
			r = raster{x: needed(p.sums(s, true)), y: needed(p.sums(s, false))}
			if r.x == nil || r.y == nil {
				return nil
			}
		}
		states := len(r.x) * len(r.y)
		if p.depth > 0 {
			r.stage(p)
			states = r.states(p.depth)
		}
		if cost += float64(r.cost()); cost > most || states > mostStates {
			return nil
		}
		r.dx, r.dy = differences(r.x), differences(r.y)
		r.val = make([]int64, states)
		if p.depth > 0 {
			r.arg = make([]int32, states)
		} else {
			r.mirror = make([]int64, states)
			r.sx, r.sy = additions(r.x), additions(r.y)
		}
		g.sheets = append(g.sheets, r)
	}
	return g
}

// cost is the number of steps to price all sheets once.
func (g *grid) cost() int {
	c := 0
	for _, r := range g.sheets {
		c += r.cost()
	}
	return c
}

func (g *grid) best(sheet int, worth []int64, most []int, _ int64) (int64, pattern) {
	r := &g.sheets[sheet]
	if len(r.x) == 0 || len(r.y) == 0 {
		return 0, pattern{sheet: sheet}
	}
	g.fill(r, worth, most)
	return r.val[len(r.val)-1], g.read(sheet)
}

// how tells what gives a rectangle its worth, where stages are not limited: a
// part and its turn, a cut, or nothing (-1).
func (r *raster) how(i, j int) int32 {
	nx, ny := len(r.x), len(r.y)
	for {
		v, a := int64(0), int32(-1)
		if k, ok := slices.BinarySearchFunc(r.parts, i*ny+j, func(p seated, at int) int { return p.at - at }); ok {
			v, a = r.parts[k].val, r.parts[k].arg
		}
		left, below := false, false
		if i > 0 && r.val[(i-1)*ny+j] > v {
			v, left = r.val[(i-1)*ny+j], true
		}
		if j > 0 && r.val[i*ny+j-1] > v {
			v, left, below = r.val[i*ny+j-1], false, true
		}
		cut := int32(-1)
		col, dx := r.mirror[j*nx:j*nx+nx], r.dx[i]
		for k := int32(0); k < int32(i) && dx[k] >= k; k++ {
			if w := col[k] + col[dx[k]]; w > v {
				v, cut = w, cutX|k
			}
		}
		row, dy := r.val[i*ny:i*ny+ny], r.dy[j]
		for k := int32(0); k < int32(j) && dy[k] >= k; k++ {
			if w := row[k] + row[dy[k]]; w > v {
				v, cut = w, cutY|k
			}
		}
		switch {
		case cut >= 0:
			return cut
		case left: // by the same as a smaller rectangle
			i--
		case below:
			j--
		default:
			return a
		}
	}
}

// A worthCap says what parts of some area are worth at most, where no more of
// each type are taken than the limit allows: from area on, worth and rate more
// for each step of area.
type worthCap struct{ area, worth, rate float64 }

func (c worthCap) most(area float64) int64 {
	return int64((c.worth+(area-c.area)*c.rate)*(1+1e-12)) + 2 // on the safe side of rounding
}

// capWorth works out the caps for these worths: parts of the greatest worth for
// their area first.
func (g *grid) capWorth(worth []int64) {
	if g.limit == nil {
		return
	}
	order := make([]int, 0, len(worth))
	for t, w := range worth {
		if w > 0 && g.limit[t] > 0 {
			order = append(order, t)
		}
	}
	rate := func(t int) float64 { return float64(worth[t]) / g.p.types[t].area }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(b), rate(a)) })
	g.caps = g.caps[:0]
	area, sum := 0.0, 0.0
	for _, t := range order {
		g.caps = append(g.caps, worthCap{area, sum, rate(t)})
		area += float64(g.limit[t]) * g.p.types[t].area
		sum += float64(g.limit[t]) * float64(worth[t])
	}
	g.caps = append(g.caps, worthCap{area: area, worth: sum})
}

// seats notes the parts of a sheet, each where it just fits, and the caps.
func (g *grid) seats(r *raster, worth []int64, most []int) {
	r.parts = r.parts[:0]
	for t := range g.p.types {
		if most[t] == 0 || worth[t] == 0 {
			continue
		}
		ty := &g.p.types[t]
		r.seat(ty.w, ty.h, worth[t], int32(t)<<1)
		if ty.turn {
			r.seat(ty.h, ty.w, worth[t], int32(t)<<1|1)
		}
	}
	slices.SortStableFunc(r.parts, func(a, b seated) int { return cmp.Or(a.at-b.at, cmp.Compare(b.val, a.val)) })
	r.parts = slices.CompactFunc(r.parts, func(a, b seated) bool { return a.at == b.at })
	g.capWorth(worth)
}

func (r *raster) seat(w, h, v int64, arg int32) {
	i, _ := slices.BinarySearch(r.x, w)
	j, _ := slices.BinarySearch(r.y, h)
	if i < len(r.x) && j < len(r.y) { // else it does not fit this sheet
		r.parts = append(r.parts, seated{i*len(r.y) + j, v, arg})
	}
}

// read follows the table from the whole sheet down to its parts.
func (g *grid) read(sheet int) pattern {
	r := &g.sheets[sheet]
	s := g.p.sheets[sheet]
	g.tree.reset(sheet, s.w, s.h)
	g.tree.n[0].typ = splitAt
	count := map[int]int{}
	var order []int
	var walk func(parent int32, last *int32, i, j int)
	link := func(parent int32, last *int32, n node) int32 {
		*last = g.tree.hang(parent, *last, n)
		return *last
	}
	part := func(parent int32, last *int32, a int32) {
		t := int(a >> 1)
		ty := &g.p.types[t]
		w, h := ty.w, ty.h
		if a&1 != 0 {
			w, h = h, w
		}
		link(parent, last, node{w: w, h: h, typ: int32(t), rot: a&1 != 0})
		if count[t]++; count[t] == 1 {
			order = append(order, t)
		}
	}
	walk = func(parent int32, last *int32, i, j int) {
		if i < 0 || j < 0 {
			return
		}
		a := r.how(i, j)
		switch {
		case a < 0:
		case a&cutX != 0 || a&cutY != 0:
			// The value may come from a smaller rectangle; the same cut of this one
			// is worth at least as much.
			k := int(a &^ (cutX | cutY))
			at := link(parent, last, node{typ: splitAt, vert: a&cutX != 0})
			first := int32(-1)
			if a&cutX != 0 {
				walk(at, &first, k, j)
				walk(at, &first, int(r.dx[i][k]), j)
			} else {
				walk(at, &first, i, k)
				walk(at, &first, i, int(r.dy[j][k]))
			}
		default:
			part(parent, last, a)
		}
	}
	if last := int32(-1); r.depth == 0 {
		walk(0, &last, len(r.x)-1, len(r.y)-1)
	} else {
		g.readStaged(r, link, part)
	}
	pat := pattern{sheet: sheet}
	for _, t := range order {
		pat.use = append(pat.use, run{t, count[t]})
	}
	if len(order) == 0 {
		return pat
	}
	pat.tree = &bin{}
	g.pack.rebuild(pat.tree, &g.tree, true)
	return pat
}
