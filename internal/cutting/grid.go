package cutting

import (
	"cmp"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
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
	x, y   []int64   // the sums of sizes that matter, up to the sheet's sides; least first, none 0
	dx, dy [][]int32 // index of the largest sum not above x[i]-x[k]; -1: below the least
	val    []int64   // by row: val[i*len(y)+j]
	mirror []int64   // by column: mirror[j*len(x)+i]
	parts  []seated  // the parts, by place
	rises  [][]int32 // of each y: where the worth rises with x; the last are scratch
	halves []int     // of each y: how many of those are no more than half of x
	share  float64   // of the heights that are filled on one core, where there are two

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

// fill works out the table of one sheet. Only worths are kept: read finds the
// cuts again where it needs them.
func (g *grid) fill(r *raster, worth []int64, most []int) {
	g.seats(r, worth, most)
	if r.depth > 0 {
		g.fillStaged(r)
		return
	}
	ny := len(r.y)
	for len(r.rises) <= ny+1 {
		r.rises, r.halves = append(r.rises, nil), append(r.halves, 0)
	}
	for j := range r.rises {
		r.rises[j], r.halves[j] = r.rises[j][:0], 0
	}
	g.steps += 8 * len(r.x) * ny
	if r.cost() < sharedCost || !g.p.cores.take() {
		g.steps += g.columns(r, 0, ny, nil, nil)
		return
	}
	// A rectangle asks for lower ones as wide, and for narrower ones: with the
	// higher half of a table on another core, a row behind, neither waits long.
	if r.share == 0 {
		r.share = firstShare
	}
	mid := max(1, min(ny-1, int(r.share*float64(ny))))
	var lower atomic.Int32 // rows of the lower half that are done
	var other sync.WaitGroup
	high := 0
	other.Go(func() {
		defer g.p.cores.give()
		high = g.columns(r, mid, ny, &lower, nil)
	})
	low := g.columns(r, 0, mid, nil, &lower)
	other.Wait()
	g.steps += low + high
	r.share = max(0.2, min(0.9, r.share+0.3*float64(high-low)/float64(max(1, high+low))))
}

// Tables that take fewer steps are filled on one core.
const (
	sharedCost = 500_000
	firstShare = 0.6 // of the lower half; then as the last table had it
)

// columns fills the table for the heights from one to another, row by row as
// soon as they are done below, which it tells in turn, and returns its steps.
func (g *grid) columns(r *raster, from, to int, below, done *atomic.Int32) (steps int) {
	nx, ny := len(r.x), len(r.y)
	next := 0
	nextAt := func() int {
		for ; next < len(r.parts); next++ {
			if j := r.parts[next].at % ny; from <= j && j < to {
				return r.parts[next].at
			}
		}
		return -1
	}
	at := nextAt()
	scratch, ready := ny, int32(0)
	if from > 0 {
		scratch++
	}
	for i := range nx {
		if below != nil && ready <= int32(i) {
			for ready = below.Load(); ready <= int32(i); ready = below.Load() {
				runtime.Gosched()
			}
		}
		dx := r.dx[i]
		row := r.val[i*ny : i*ny+ny]
		along, half := r.rises[scratch][:0], 0
		for j, before := 0, int64(0); j < from; j++ {
			if row[j] > before {
				before, along = row[j], append(along, int32(j))
			}
		}
		cap := 0
		for j := from; j < to; j++ {
			col := r.mirror[j*nx : j*nx+nx]
			var under, before int64
			if i > 0 {
				under = col[i-1]
			}
			if j > 0 {
				before = row[j-1]
			}
			v := max(under, before)
			least := v // smaller ones are worth as much
			if i*ny+j == at {
				v = max(v, r.parts[next].val)
				next++
				at = nextAt()
			}
			rises, h := r.rises[j], r.halves[j]
			for h < len(rises) && dx[rises[h]] >= rises[h] {
				h++
			}
			for _, k := range rises[:h] {
				v = max(v, col[k]+col[dx[k]])
			}
			r.halves[j] = h
			dy := r.dy[j]
			for half < len(along) && dy[along[half]] >= along[half] {
				half++
			}
			for _, k := range along[:half] {
				v = max(v, row[k]+row[dy[k]])
			}
			steps += h + half
			if v > least && g.limit != nil {
				area := float64(r.x[i]) * float64(r.y[j])
				for cap+1 < len(g.caps) && g.caps[cap+1].area <= area {
					cap++
				}
				v = max(least, min(v, g.caps[cap].most(area)))
			}
			row[j], col[i] = v, v
			if v > under {
				r.rises[j] = append(r.rises[j], int32(i))
			}
			if v > before {
				along = append(along, int32(j))
			}
		}
		r.rises[scratch] = along
		if done != nil {
			done.Store(int32(i + 1))
		}
	}
	return steps
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
