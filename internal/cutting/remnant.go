package cutting

import "slices"

// left is the problem of what is left: the parts demanded and the sheets of
// the lot. It tells which type and which sheet of p is which.
func (p *problem) left(demand, lot []int) (q *problem, types, sheets []int) {
	q = &problem{unitX: p.unitX, unitY: p.unitY, kerf: p.kerf, value: LeastPrice, depth: p.depth, run: p.run, cores: p.cores}
	for i, t := range p.types {
		if demand[i] > 0 {
			t.qty = demand[i]
			q.types = append(q.types, t)
			types = append(types, i)
		}
	}
	for i, s := range p.sheets {
		if lot[i] > 0 {
			s.stock = lot[i]
			q.sheets = append(q.sheets, s)
			sheets = append(sheets, i)
		}
	}
	return q, types, sheets
}

// setupMove is how long sides times pieces are in one move.
const setupMove = 24_000

// setup is what making tables takes in moves, beside filling them.
func (p *problem) setup() int {
	steps := int64(0)
	for _, s := range p.sheets {
		steps += min(s.w, maxReach) + min(s.h, maxReach)
	}
	return int(steps) * p.pieces() / setupMove
}

// roomy reports whether each part fits a sheet and there is enough area.
func (p *problem) roomy() bool {
	area := 0.0
	for _, s := range p.sheets {
		area += float64(s.stock) * float64(s.w) * float64(s.h)
	}
	for _, t := range p.types {
		if !slices.ContainsFunc(p.sheets, func(s psheet) bool {
			return t.w <= s.w && t.h <= s.h || t.turn && t.h <= s.w && t.w <= s.h
		}) {
			return false
		}
	}
	return p.area() <= area*(1+1e-9)
}

// knownOf lists the patterns known in numbers of q, less what is no longer
// asked for.
func (d *settler) knownOf(q *problem, types, sheets []int, lifted map[*bin]*bin) []pattern {
	typ, sheet := make([]int, len(d.p.types)), make([]int, len(d.p.sheets))
	for i, t := range types {
		typ[t] = i + 1
	}
	for i, s := range sheets {
		sheet[s] = i + 1
	}
	var out []pattern
	for _, pat := range d.known.list {
		s := sheet[pat.sheet] - 1
		if s < 0 {
			continue
		}
		o := pattern{sheet: s, tree: pat.tree}
		area := 0.0
		for _, u := range pat.use {
			if t := typ[u.typ] - 1; t >= 0 {
				n := min(u.n, q.types[t].qty)
				o.use = append(o.use, run{t, n})
				area += float64(n) * q.types[t].area
			}
		}
		if area > 0.5*float64(q.sheets[s].w)*float64(q.sheets[s].h) {
			out = append(out, o)
			lifted[pat.tree] = pat.tree
		}
	}
	return out
}

// lift is a tree in the numbers of p.
func (d *settler) lift(b *bin, types, sheets []int) *bin {
	c := &bin{}
	c.copyFrom(b)
	c.sheet = sheets[b.sheet]
	for i := range c.n {
		if t := c.n[i].typ; t >= 0 {
			c.n[i].typ = int32(types[t])
		}
	}
	return c
}

// cut makes a sheet by a tree, less what is no longer needed, and puts on it
// what else is left and has room.
func (d *settler) cut(tree *bin, demand []int) *bin { return d.cutOf(d.p, tree, demand) }

func (d *settler) cutOf(p *problem, tree *bin, demand []int) *bin {
	d.pack.stages(p)
	b := d.pack.needed(tree, demand)
	b.stamp = 0
	s := newSearch(p, 0)
	s.bins = append(s.bins, b)
	copy(s.pool, demand)
	for i, sh := range p.sheets {
		s.used[i] = sh.stock // no further sheet
	}
	s.fill(0)
	copy(demand, s.pool)
	return s.bins[0]
}
