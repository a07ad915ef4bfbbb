package cutting

import "context"

// listStaged is list where stages are limited. A set that is cut in so many
// stages, the first of them in one direction, is pieces of one stage less, cut
// the other way, side by side. Parts are trimmed to size in the end, so each
// lies in as much room as the widest beside it takes.
func (e *exact) listStaged(ctx context.Context) bool {
	tables := 2*e.p.depth + 2 // single pieces; each stage both ways; what a sheet is to hold
	e.tables = make([][][]box, tables)
	for t := range e.tables {
		e.tables[t] = make([][]box, e.sets)
	}
	for t, b := range e.base {
		ty := e.p.types[t]
		out := e.keep(nil, box{w: ty.w, h: ty.h, a: -1, ib: int32(t)})
		if ty.turn {
			out = e.keep(out, box{w: ty.h, h: ty.w, a: -1, ib: int32(t), turn: true})
		}
		e.tables[0][b] = out
	}
	work := 0
	for s := 1; s < e.sets; s++ {
		if s&63 == 0 && ctx.Err() != nil {
			return false
		}
		for t := 1; t < tables-1; t++ {
			out, ok := e.join(s, int8(t), stageBelow(t), &work)
			if !ok {
				return false
			}
			e.tables[t][s] = out
		}
		var out []box
		for t := tables - 3; t <= tables-2; t++ { // all stages, the first of them along X, along Y
			if !e.p.run.begins(t%2 == 1) {
				continue
			}
			for _, x := range e.tables[t][s] {
				out = e.keep(out, x)
			}
		}
		e.tables[tables-1][s] = out
	}
	e.boxes = e.tables[tables-1]
	return true
}

// stageBelow is the table of one stage less, cut the other way. Table 1 and 2
// are those of one stage, along X and along Y, and so on.
func stageBelow(t int) int8 {
	switch {
	case t <= 2:
		return 0
	case t%2 == 1:
		return int8(t - 1)
	}
	return int8(t - 3)
}

// join lists the boxes of set s in table t: those of the table below, and such
// a box of some pieces, one of the first type among them, beside a box of the
// same table.
func (e *exact) join(s int, t, below int8, work *int) (out []box, ok bool) {
	for _, x := range e.tables[below][s] {
		out = e.keep(out, x)
	}
	vert := t%2 == 1
	first := 0
	for s/e.base[first]%e.radix[first] == 0 {
		first++
	}
	e.parts(s, false, func(a int) bool {
		if a/e.base[first]%e.radix[first] == 0 {
			return true
		}
		as, bs := e.tables[below][a], e.tables[t][s-a]
		*work += len(as) * len(bs)
		for i, x := range as {
			for j, y := range bs {
				z := box{w: x.w + y.w, h: max(x.h, y.h), a: int32(a), b: int32(s - a), ia: int32(i), ib: int32(j), ta: below, tb: t, vert: vert}
				if !vert {
					z.w, z.h = max(x.w, y.w), x.h+y.h
				}
				out = e.keep(out, z)
			}
		}
		return *work <= maxPairs && len(out) <= maxBoxes
	})
	return out, *work <= maxPairs && len(out) <= maxBoxes
}
