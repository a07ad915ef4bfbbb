package cutting

import (
	"context"
	"math"
	"slices"
)

// A planner works with the pattern model: it bounds the job by the linear
// program and rounds the program's answer to whole patterns.
type planner struct {
	p     *problem
	price pricer
	cost  int // steps of the search that one pricing is worth
	spent int
	thin  bool // the pricing is not exact, so that nothing is proven
	pack  packer
}

// maxTypes bounds the rows of the linear program.
const maxTypes = 400

// newPlanner returns nil when the model is too large for this job.
func newPlanner(p *problem) *planner {
	if len(p.types) == 0 || len(p.types) > maxTypes || p.value == LeastHeight {
		return nil
	}
	n := &planner{p: p}
	if p.flat() {
		n.price, n.cost = newFiller(p), 30
		return n
	}
	g := newGrid(p)
	if g == nil {
		return nil
	}
	n.thin = g.thin
	n.price, n.cost = g, 1+g.cost()/6000+len(p.types)*len(p.types)/4000
	return n
}

// flat reports whether all pieces and sheets are one step high, so that only
// lengths matter.
func (p *problem) flat() bool {
	for _, s := range p.sheets {
		if s.h != 1 {
			return false
		}
	}
	for _, t := range p.types {
		if t.h != 1 {
			return false
		}
	}
	return true
}

// relax solves the linear program for the demand as far as moves allow.
func (n *planner) relax(ctx context.Context, demand []int, moves int, known []pattern) *master {
	m := newMaster(n.p, demand, n.price)
	m.duals()
	for _, pat := range known {
		if m.pays(pat) {
			m.add(pat)
		}
	}
	m.solve(ctx, max(1, moves/n.cost))
	n.spent += m.steps * n.cost
	return m
}

// pays reports whether a pattern improves the program, by the duals as they are.
func (m *master) pays(pat pattern) bool { return m.gain(pat) > 1e-9*max(m.top, 1) }

// bound is what the linear program proves; with thinned tables, nothing.
func (n *planner) bound(m *master) bound {
	if n.thin {
		return bound{value: math.MinInt64}
	}
	return bound{ceilSafe(m.bound), n.p.whyPatterns(m.bound)}
}

// nearlyWhole is the share from which further patterns are cut along with the
// one nearest to whole.
const nearlyWhole = 0.75

// round turns the linear program's answer into sheets: patterns are cut as
// often as they go whole, the program is solved again for what is left, and
// when nothing goes whole the pattern nearest to whole is cut once. What is
// left at the end, or when moves are used up, is for the search.
func (n *planner) round(ctx context.Context, m *master, moves int) []*bin {
	demand := slices.Clone(m.demand)
	var bins []*bin
	used := make([]int, len(n.p.sheets))
	stop := n.spent + moves
	for {
		shares, _ := m.answer()
		if len(shares) == 0 {
			break
		}
		took := false
		top := 0
		for i, s := range shares {
			if s.x > shares[top].x {
				top = i
			}
			for k := 0; k < int(s.x+1e-6); k++ {
				if b := n.cut(s.pat, demand, used, true); b != nil {
					bins = append(bins, b)
					took = true
				}
			}
		}
		left := 0
		for _, d := range demand {
			left += d
		}
		if left == 0 || ctx.Err() != nil || n.spent > stop {
			break
		}
		if !took {
			slices.SortStableFunc(shares, func(a, b share) int {
				switch {
				case a.x > b.x:
					return -1
				case a.x < b.x:
					return 1
				}
				return 0
			})
			for _, s := range shares {
				if took && s.x < nearlyWhole {
					break
				}
				if b := n.cut(s.pat, demand, used, took); b != nil {
					bins = append(bins, b)
					took = true
				}
			}
			if !took {
				break
			}
		}
		m = n.relax(ctx, demand, max(0, stop-n.spent), m.pats)
	}
	return bins
}

// cut makes one sheet by a pattern, less pieces no longer needed, and takes it
// off the demand. With whole, a pattern that would lose pieces is refused. It
// returns nil also when stock is used up or nothing would be on the sheet.
func (n *planner) cut(pat pattern, demand, used []int, whole bool) *bin {
	sh := n.p.sheets[pat.sheet]
	if used[pat.sheet] >= sh.stock {
		return nil
	}
	some := false
	for _, u := range pat.use {
		if whole && demand[u.typ] < u.n {
			return nil
		}
		some = some || demand[u.typ] > 0
	}
	if !some {
		return nil
	}
	used[pat.sheet]++
	if pat.tree == nil {
		b := &bin{}
		b.reset(pat.sheet, sh.w, sh.h)
		for _, u := range pat.use {
			for range min(u.n, demand[u.typ]) {
				b.insert(len(b.free)-1, int32(u.typ), n.p.types[u.typ].w, 1, false, true)
			}
			demand[u.typ] -= min(u.n, demand[u.typ])
		}
		return b
	}
	n.pack.stages(n.p)
	return n.pack.needed(pat.tree, demand)
}

// coarseSteps is how many steps a side of a sheet has in a coarse problem.
const coarseSteps = 110

// coarse is the problem with all lengths rounded down to larger steps. Parts
// end to end that fit a side still do after rounding, so a bound of the coarse
// problem holds for the job. Its patterns are of no use.
func (p *problem) coarse(steps int64) (*problem, []int) {
	var from []int
	var w, h int64
	for _, s := range p.sheets {
		w, h = max(w, s.w), max(h, s.h)
	}
	gx, gy := max(1, w/steps), max(1, h/steps)
	both := false
	for _, t := range p.types {
		both = both || t.turn // both sides lie along both axes
	}
	if both {
		gx = p.step(max(gx, gy), true, true)
		gy = gx
	} else {
		gx, gy = p.step(gx, true, false), p.step(gy, false, true)
	}
	c := &problem{value: p.value, unitX: p.unitX, unitY: p.unitY, kerf: p.kerf, depth: p.depth, run: p.run, cores: p.cores}
	for _, s := range p.sheets {
		s.w, s.h = s.w/gx, s.h/gy
		c.sheets = append(c.sheets, s)
	}
	for i, t := range p.types {
		t.w, t.h = t.w/gx, t.h/gy
		if t.w == 0 || t.h == 0 {
			continue // may be left out of a bound
		}
		t.area = float64(t.w) * float64(t.h)
		c.types = append(c.types, t)
		from = append(from, i)
	}
	return c, from
}

// step looks for the length from g up to a third more at which rounding down
// takes the least from the parts, compared with what it takes from the sheet.
func (p *problem) step(g int64, along, across bool) int64 {
	s := p.sheets[0]
	share := func(size, side, g int64, counts bool) float64 {
		if !counts || side < g {
			return 1
		}
		return float64(size/g) * float64(side) / (float64(side/g) * float64(size))
	}
	best, top := g, 0.0
	for try := g; try <= g+g/3; try += 1 + g/200 {
		sum := 0.0
		for _, t := range p.types {
			sum += float64(t.qty) * t.area * share(t.w, s.w, try, along) * share(t.h, s.h, try, across)
		}
		if sum > top*(1+1e-9) {
			best, top = try, sum
		}
	}
	return best
}

// coarseBound is what the pattern model of the coarse problem proves.
func (p *problem) coarseBound(ctx context.Context, steps int64, moves int) (bound, int) {
	c, _ := p.coarse(steps)
	n := newPlanner(c)
	if n == nil || n.thin {
		return bound{value: math.MinInt64}, 0
	}
	demand := make([]int, len(c.types))
	for i, t := range c.types {
		demand[i] = t.qty
	}
	return n.bound(n.relax(ctx, demand, moves, nil)), n.spent
}
