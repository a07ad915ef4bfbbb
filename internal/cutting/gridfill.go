package cutting

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// The table of a sheet is filled forwards: as soon as it is known what a
// rectangle is worth, it is laid beside those before it that are as high, and
// beside those as wide, and what they are worth together is noted where both
// just fit. Left out are rectangles that are worth no more than a narrower one
// as high, or than a lower one as wide; and pairs of which both are worth no
// more than one step lower (or narrower): there they were laid side by side
// before. So far fewer pairs come up than when every rectangle looks for its cuts.

// A rise is where the worth rises in a row or a column of a table.
type rise struct {
	val int64
	at  uint32
}

// The rises of a row or a column that fit the sheet beside others as large, and
// those of them, called corners, where the worth rises the other way too.
type rises struct{ all, corners []rise }

// add adds a rise, whose sums with those before it are given, and notes along the
// line what they are worth together.
func (r *rises) add(x rise, corner bool, line []int64, sum []uint32) {
	for _, k := range r.beside(x, corner, sum) {
		if int(k.at) >= len(sum) {
			return
		}
		t := int(sum[k.at])
		if t >= len(line) {
			return
		}
		line[t] = max(line[t], x.val+k.val)
	}
}

// addFrom is add where the places before first are done by another core: what
// just fits one of them is noted at first.
func (r *rises) addFrom(x rise, corner bool, line []int64, sum []uint32, first int) {
	for _, k := range r.beside(x, corner, sum) {
		if int(k.at) >= len(sum) || int(sum[k.at]) >= len(line) {
			return
		}
		t := max(int(sum[k.at]), first)
		line[t] = max(line[t], x.val+k.val)
	}
}

// beside takes a rise in and returns those that it is to be laid beside.
func (r *rises) beside(x rise, corner bool, sum []uint32) []rise {
	fits := int(x.at) < len(sum) // beside itself
	if fits {
		r.all = append(r.all, x)
	}
	if !corner {
		return r.corners
	}
	if fits {
		r.corners = append(r.corners, x)
	}
	return r.all
}

func (r *rises) clear() { r.all, r.corners = r.all[:0], r.corners[:0] }

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
		r.rises = append(r.rises, rises{})
	}
	for j := range r.rises {
		r.rises[j].clear()
	}
	clear(r.val)
	clear(r.mirror)
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
// soon as they are done below, which it tells in turn, and returns its steps:
// the cuts at rises that the rectangles have, up to the middle.
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
		row := r.val[i*ny : i*ny+to]
		along := &r.rises[scratch]
		along.clear()
		for j, before := 0, int64(0); j < from; j++ {
			if v := row[j]; v > before {
				along.addFrom(rise{v, uint32(j)}, i == 0 || v > r.val[i*ny-ny+j], row, r.sy[j], from)
				before = v
				steps += halved(r.sy[j], j, from, to)
			}
		}
		sx := r.sx[i]
		halves := halved(sx, i, 0, nx)
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
			least := max(under, before) // smaller ones are worth as much
			v := max(least, col[i], row[j])
			if i*ny+j == at {
				v = max(v, r.parts[next].val)
				next++
				at = nextAt()
			}
			if v > least && g.limit != nil {
				area := float64(r.x[i]) * float64(r.y[j])
				for cap+1 < len(g.caps) && g.caps[cap+1].area <= area {
					cap++
				}
				v = max(least, min(v, g.caps[cap].most(area)))
				if w := max(col[i], row[j]); w > v { // larger rectangles may be worth that
					if i+1 < nx {
						col[i+1] = max(col[i+1], w)
					}
					if j+1 < to {
						row[j+1] = max(row[j+1], w)
					}
				}
			}
			row[j], col[i] = v, v
			if v > under {
				r.rises[j].add(rise{v, uint32(i)}, v > before || j == from, col, sx)
				steps += halves
			}
			if v > before {
				along.add(rise{v, uint32(j)}, v > under, row, r.sy[j])
				steps += halved(r.sy[j], j, j+1, to)
			}
		}
		if done != nil {
			done.Store(int32(i + 1))
		}
	}
	return steps
}

// halved is how many places from one to another hold twice the rise at k, whose
// sums are given.
func halved(sum []uint32, k, from, to int) int {
	if k >= len(sum) {
		return 0
	}
	return max(0, to-max(from, int(sum[k])))
}
