package cutting

import (
	"testing"

	"pgregory.net/rapid"
)

// The table of a sheet says what the recursion of Gilmore and Gomory (1966)
// does, written down plainly: every cut of every rectangle, no more than the
// parts there are can be worth. What is read from it is worth as much where no
// such limit binds.
func TestFillAgainstPlainRecursion(t *testing.T) {
	capped := 0
	rapid.Check(t, func(t *rapid.T) {
		p := &problem{sheets: []psheet{{w: rapid.Int64Range(1, 60).Draw(t, "sheet"), h: rapid.Int64Range(1, 60).Draw(t, "high"), stock: 1}}}
		var worth []int64
		var most []int
		for range rapid.IntRange(1, 7).Draw(t, "types") {
			ty := ptype{
				w: rapid.Int64Range(1, 30).Draw(t, "w"), h: rapid.Int64Range(1, 30).Draw(t, "h"),
				qty: rapid.IntRange(1, 4).Draw(t, "qty"), turn: rapid.Bool().Draw(t, "turn"),
			}
			ty.area = float64(ty.w * ty.h)
			p.types = append(p.types, ty)
			worth = append(worth, rapid.Int64Range(0, 99).Draw(t, "worth"))
			most = append(most, ty.qty)
		}
		g := p.grid(0, maxGrid)
		if g == nil || len(g.sheets[0].x) == 0 || len(g.sheets[0].y) == 0 {
			return
		}
		if rapid.Bool().Draw(t, "limit") {
			g.limit = most
		}
		r := &g.sheets[0]
		for range 2 { // a table is filled again and again
			g.fill(r, worth, most)
			want, some := plainTable(g, r, worth)
			for i := range r.x {
				for j := range r.y {
					if at := i*len(r.y) + j; r.val[at] != want[at] || r.mirror[j*len(r.x)+i] != want[at] {
						t.Fatalf("%+v, worth %v: %d by %d is worth %d, the recursion says %d", p, worth, r.x[i], r.y[j], r.val[at], want[at])
					}
				}
			}
			pat := g.read(0)
			if some {
				capped++
			} else if pat.worth(worth) != want[len(want)-1] {
				t.Fatalf("%+v, worth %v: read %v, worth %d of %d", p, worth, pat.use, pat.worth(worth), want[len(want)-1])
			}
			worth[0] = 99 - worth[0]
		}
	})
	if capped == 0 {
		t.Error("no limit was ever of use")
	}
}

// plainTable works a table out cut by cut; some tells that a limit lowered it.
func plainTable(g *grid, r *raster, worth []int64) (val []int64, some bool) {
	ny := len(r.y)
	val = make([]int64, len(r.val))
	part := func(w, h, v int64, i, j int) int64 {
		if r.x[i] >= w && r.y[j] >= h {
			return v
		}
		return 0
	}
	for i := range r.x {
		for j := range r.y {
			v, least := int64(0), int64(0)
			if i > 0 {
				least = max(least, val[(i-1)*ny+j])
			}
			if j > 0 {
				least = max(least, val[i*ny+j-1])
			}
			for t, ty := range g.p.types {
				v = max(v, part(ty.w, ty.h, worth[t], i, j))
				if ty.turn {
					v = max(v, part(ty.h, ty.w, worth[t], i, j))
				}
			}
			for k := range i {
				if o := r.dx[i][k]; o >= 0 {
					v = max(v, val[k*ny+j]+val[int(o)*ny+j])
				}
			}
			for k := range j {
				if o := r.dy[j][k]; o >= 0 {
					v = max(v, val[i*ny+k]+val[i*ny+int(o)])
				}
			}
			if g.limit != nil && v > least {
				area := float64(r.x[i]) * float64(r.y[j])
				cap := 0
				for cap+1 < len(g.caps) && g.caps[cap+1].area <= area {
					cap++
				}
				if most := g.caps[cap].most(area); most < v {
					v, some = most, true
				}
			}
			val[i*ny+j] = max(v, least)
		}
	}
	return val, some
}
