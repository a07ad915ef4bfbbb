package cutting

import "slices"

// Where stages are limited a grid has one table for each stage and direction of
// its cuts (Gilmore and Gomory 1965), all in one slice: table 0 is of single
// parts, trimmed to size; 1 and 2 are of one stage, its cuts along X and along
// Y, and so on. A rectangle of table t is cut into rectangles of the table of
// one stage less, cut the other way. Of the last stage only rectangles matter
// that are as long as the sheet across its cuts. The last rectangle of all is
// the whole sheet, its first cuts running either way.

// other marks the whole sheet as cut as in the table before.
const other = 1 << 28

// states is the number of rectangles of all tables.
func (r *raster) states(depth int) int { return (2*depth + 1) * len(r.x) * len(r.y) }

// stage sets up what limited stages need: where the sizes of parts are.
func (r *raster) stage(p *problem) {
	r.depth = p.depth
	for _, t := range p.types {
		r.note(t.w, t.h)
		if t.turn {
			r.note(t.h, t.w)
		}
	}
	slices.Sort(r.wide)
	slices.Sort(r.high)
	r.wide, r.high = slices.Compact(r.wide), slices.Compact(r.high)
}

func (r *raster) note(w, h int64) {
	i, _ := slices.BinarySearch(r.x, w)
	j, _ := slices.BinarySearch(r.y, h)
	if i < len(r.x) && j < len(r.y) {
		r.wide, r.high = append(r.wide, int32(i)), append(r.high, int32(j))
	}
}

// cost is the number of steps to fill the tables once, about.
func (r *raster) cost() int {
	nx, ny := len(r.x), len(r.y)
	if r.depth == 0 {
		return nx * ny * (nx + ny) / 4
	}
	full := nx * ny * (2 + (len(r.wide)+len(r.high))/8)
	return 2*(r.depth-1)*full + (nx*nx+ny*ny)/4
}

// fillStaged works out the tables of one sheet.
func (g *grid) fillStaged(r *raster) {
	nx, ny := len(r.x), len(r.y)
	n := nx * ny
	if n == 0 {
		return // no part fits
	}
	clear(r.val)
	for i := range r.arg {
		r.arg[i] = -1
	}
	for _, p := range r.parts {
		r.val[p.at], r.arg[p.at] = p.val, p.arg
	}
	for i := range nx {
		for j := range ny {
			at := i*ny + j
			if i > 0 && r.val[at-ny] > r.val[at] {
				r.val[at], r.arg[at] = r.val[at-ny], r.arg[at-ny]
			}
			if j > 0 && r.val[at-1] > r.val[at] {
				r.val[at], r.arg[at] = r.val[at-1], r.arg[at-1]
			}
		}
	}
	g.steps += 4 * n
	for t := 1; t <= 2*r.depth; t++ {
		below, last := int(stageBelow(t))*n, t > 2*r.depth-2
		if t%2 == 1 {
			for j := range ny {
				if j == ny-1 || !last {
					g.line(r, below+j, t*n+j, ny, r.x, r.y[j], r.dx, cutX)
				}
			}
			continue
		}
		for i := range nx {
			if i == nx-1 || !last {
				g.line(r, below+i*ny, t*n+i*ny, 1, r.y, r.x[i], r.dy, cutY)
			}
		}
	}
	if root, way := len(r.val)-1, len(r.val)-1-n; !g.p.run.begins(false) || g.p.run.begins(true) && r.val[way] > r.val[root] {
		r.val[root], r.arg[root] = r.val[way], other
	}
}

// line works out a row or a column of a table: rectangles of one side, cut into
// those of the table below.
func (g *grid) line(r *raster, below, to, stride int, side []int64, across int64, d [][]int32, cut int32) {
	if len(g.low) < len(side) {
		g.low, g.high = make([]int64, len(side)), make([]int64, len(side))
	}
	low, high, rises := g.low, g.high, g.rises[:0]
	cap := 0
	for k := range side {
		low[k] = r.val[below+k*stride]
		v, a := low[k], int32(-1)
		if v > 0 {
			a = cut | int32(k)
		}
		if k > 0 && high[k-1] > v {
			v, a = high[k-1], r.arg[to+(k-1)*stride]
		}
		for _, c := range rises {
			g.steps++
			o := d[k][c]
			if o < c {
				break // the narrowest of them can be cut first
			}
			if w := low[c] + high[o]; w > v {
				v, a = w, cut|c
			}
		}
		if g.limit != nil && v > 0 {
			area := float64(side[k]) * float64(across)
			for cap+1 < len(g.caps) && g.caps[cap+1].area <= area {
				cap++
			}
			v = min(v, g.caps[cap].most(area))
		}
		if low[k] > 0 && (k == 0 || low[k] > low[k-1]) {
			rises = append(rises, int32(k))
		}
		high[k] = v
		r.val[to+k*stride], r.arg[to+k*stride] = v, a
	}
	g.steps += 6 * len(side)
	g.rises = rises
}

// splits calls f with the rectangles on both sides of every cut of rectangle at
// that can matter, and with the near one of the cut before, or -1.
func (r *raster) splits(at int32, f func(near, before, far int32)) {
	ny := int32(len(r.y))
	n := int32(len(r.x)) * ny
	t := at / n
	i, j := at%n/ny, at%ny
	low := int32(stageBelow(int(t))) * n
	before := int32(-1)
	try := func(c, o int32) bool {
		near, far := low+i*ny+c, t*n+i*ny+o
		if t%2 == 1 {
			near, far = low+c*ny+j, t*n+o*ny+j
		}
		if o < c {
			return false // the narrowest of them can be cut first
		}
		f(near, before, far)
		before = near
		return true
	}
	d, sizes, end := r.dy[j], r.high, j
	if t%2 == 1 {
		d, sizes, end = r.dx[i], r.wide, i
	}
	if t > 4 { // of two stages: any sum is a width
		for c := int32(0); c < end && try(c, d[c]); c++ {
		}
		return
	}
	for _, c := range sizes { // as wide as the widest part in it
		if c >= end || !try(c, d[c]) {
			return
		}
	}
}

// readStaged follows the tables from the whole sheet down to its parts.
func (g *grid) readStaged(r *raster, link func(parent int32, last *int32, n node) int32, part func(parent int32, last *int32, arg int32)) {
	ny := len(r.y)
	n := len(r.x) * ny
	var walk func(parent int32, last *int32, t, i, j int)
	walk = func(parent int32, last *int32, t, i, j int) {
		if i < 0 || j < 0 {
			return
		}
		a := r.arg[t*n+i*ny+j]
		switch {
		case a < 0:
		case t == 0:
			part(parent, last, a)
		case a == other:
			walk(parent, last, t-1, i, j)
		default:
			k, below := int(a&^(cutX|cutY)), int(stageBelow(t))
			at, first := link(parent, last, node{typ: splitAt, vert: a&cutX != 0}), int32(-1)
			if a&cutX != 0 {
				walk(at, &first, below, k, j)
				walk(at, &first, t, int(r.dx[i][k]), j)
			} else {
				walk(at, &first, below, i, k)
				walk(at, &first, t, i, int(r.dy[j][k]))
			}
		}
	}
	last := int32(-1)
	walk(0, &last, 2*r.depth, len(r.x)-1, ny-1)
}
