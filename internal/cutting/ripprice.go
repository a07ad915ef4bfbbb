package cutting

import (
	"math"
	"slices"
)

// A ripDual is the duals of a ripMix in whole numbers: what parts are worth and
// what limits count for. All that follows from them is exact, so that a bound
// does not rest on rounding.
type ripDual struct {
	x     *ripMix
	scale float64
	worth []int64
	limit []int64
	low   float64 // what is asked for is worth in all, but for strips that are fixed
}

// dual makes whole numbers of duals.
func (x *ripMix) dual(at []float64) ripDual {
	m, parts := x.m, len(x.l.p.types)
	// What a sheet's strips can come to in a table must be counted.
	limits := float64(len(x.rows))
	strip := m.miss * (float64(x.l.p.pieces())*(1+limits) + limits)
	d := ripDual{x: x, scale: min(dualScale*ripMiss/m.miss, (1<<61)/(strip*float64(x.l.many+1))), worth: make([]int64, parts), limit: make([]int64, len(x.rows))}
	for i := range d.worth {
		d.worth[i] = int64(max(0, min(at[i], m.out[i])) * d.scale)
		d.low += float64(d.worth[i]) * float64(m.demand[i])
	}
	for i := range d.limit {
		k := parts + len(x.l.kinds) + i
		d.limit[i] = int64(max(0, min(at[k], m.out[k])) * d.scale)
		d.low += float64(d.limit[i]) * float64(m.demand[k])
	}
	return d
}

// bonus is what the limits make of something.
func (d *ripDual) bonus(is func(r *ripRow) bool) (v int64) {
	for i := range d.x.rows {
		if r := &d.x.rows[i]; d.limit[i] > 0 && is(r) {
			v += int64(r.sign()) * d.limit[i]
		}
	}
	return v
}

// A ripSeek is told of the best strip or sheet that is worth more than the floor
// it gives.
type ripSeek struct {
	floor func(at int, bonus int64) int64
	found func(at int, use []run)
	each  bool // and of others
}

// strips returns what strips of each kind must cost at least, so that none pays:
// what one is worth at most. It is no less than the floor.
func (d *ripDual) strips(asked []bool, s ripSeek) []int64 {
	l := d.x.l
	cost := make([]int64, len(l.kinds))
	var mine, were []int64
	for k, kind := range l.kinds {
		if !asked[k] {
			continue
		}
		w := &l.widths[kind.width]
		bonus := d.bonus(func(r *ripRow) bool { return r.kinds != nil && r.kinds[k] && r.typ < 0 })
		mine = append(mine[:0], int64(kind.width))
		for _, t := range w.of {
			more := d.bonus(func(r *ripRow) bool { return r.kinds != nil && r.kinds[k] && r.typ == t })
			mine = append(mine, max(1, d.worth[t]+more)) // so that something is found where a limit alone pays
		}
		if !slices.Equal(mine, were) {
			most := make([]int, len(w.of))
			for i, t := range w.of {
				most[i] = d.x.left[t]
			}
			w.from.load(mine[1:], most)
			were = append(were[:0], mine...)
		}
		floor := max(0, s.floor(k, bonus))
		top, use := w.from.fullest(kind.room, floor, mixTurns)
		cost[k] = max(0, top+bonus)
		if len(use) > 0 && s.found != nil {
			s.found(k, use)
			if s.each {
				w.from.each(kind.room, floor, mixEach, func(_ int64, use []run) { s.found(k, use) })
			}
		}
		*l.work += w.from.spent()
	}
	return cost
}

// sheets returns what strips make each way to rip a sheet worth at most, limits
// aside. It is no less than the floor.
func (d *ripDual) sheets(cost []int64, s ripSeek) []int64 {
	l := d.x.l
	worth := make([]int64, len(l.ways))
	for i := range l.ways {
		w := &l.ways[i]
		mine := make([]int64, len(w.kinds))
		for i, k := range w.kinds {
			mine[i] = max(1, cost[k])
		}
		most := w.most
		if d.x.fixed {
			most = make([]int, len(w.kinds))
			for i, k := range w.kinds {
				most[i] = min(w.most[i], d.x.made[k])
			}
		}
		w.from.load(mine, most)
		bonus := d.bonus(func(r *ripRow) bool { return r.way == i || r.sheet == w.sheet })
		top, use := w.from.fullest(w.across, max(0, s.floor(i, bonus)), mixTurns)
		worth[i] = top
		if len(use) > 0 && s.found != nil {
			s.found(i, use)
		}
		*l.work += w.from.spent()
	}
	return worth
}

// price looks for strips and sheets that pay, at the duals drawn to the center
// by alpha, and raises the bound by what it sees.
func (x *ripMix) price(alpha float64) (found int, better bool) {
	l, m, parts := x.l, x.m, len(x.l.p.types)
	for r, v := range m.y {
		m.at[r] = alpha*m.center[r] + (1-alpha)*v
	}
	d := x.dual(m.at)
	cost := d.strips(x.reach, ripSeek{
		// Strips that cost no less at the duals than they are worth are of no use.
		floor: func(k int, bonus int64) int64 { return int64(min(m.at[parts+k], m.out[parts+k])*d.scale) - bonus },
		found: func(k int, use []run) { found += x.pays(ripCol{way: -1, kind: k, use: l.partsOf(k, use)}) },
		each:  true,
	})
	low := d.low
	for k, n := range x.made {
		low += float64(cost[k]) * float64(n)
	}
	price := make([]float64, len(l.ways))
	worth := d.sheets(cost, ripSeek{
		floor: func(i int, bonus int64) int64 {
			s := l.ways[i].sheet
			price[i] = math.Floor(float64(l.p.sheets[s].price)*d.scale) - float64(bonus)
			return int64(price[i] + math.Ceil(max(0, -m.at[m.row[s]])*d.scale))
		},
		found: func(i int, use []run) { found += x.pays(ripCol{way: i, use: l.stripsOf(i, use)}) },
	})
	over := make([]float64, len(l.p.sheets))
	for i, w := range l.ways {
		over[w.sheet] = max(over[w.sheet], float64(worth[i])-price[i])
	}
	for s, z := range over {
		low -= z * float64(m.stock[s])
	}
	*l.work += 4 * m.rows * len(l.kinds)
	if b := low / d.scale; b > m.bound {
		m.bound, better = b, true
		copy(m.center, m.at)
	}
	return found, better
}

// need is what the best duals say of all lots of sheets, where no limits are
// set.
func (x *ripMix) need() need {
	l := x.l
	d := x.dual(x.m.center)
	all := make([]bool, len(l.kinds))
	for k := range all {
		all[k] = true
	}
	none := ripSeek{floor: func(int, int64) int64 { return 0 }}
	worth := d.sheets(d.strips(all, none), none)
	n := need{least: d.low, gives: make([]float64, len(l.p.sheets))}
	for i, w := range l.ways {
		n.gives[w.sheet] = max(n.gives[w.sheet], float64(worth[i]))
	}
	return n
}

// partsOf names the parts of a strip as the problem does, stripsOf the strips of
// a sheet as the ripping does.
func (l *ripping) partsOf(kind int, use []run) (out []run) {
	for _, u := range use {
		out = append(out, run{l.widths[l.kinds[kind].width].of[u.typ], u.n})
	}
	return out
}

func (l *ripping) stripsOf(way int, use []run) (out []run) {
	for _, u := range use {
		out = append(out, run{l.ways[way].kinds[u.typ], u.n})
	}
	return out
}

// pays learns a column if it pays at the duals, and returns how many are new.
func (x *ripMix) pays(c ripCol) int {
	l, y, parts := x.l, x.m.y, len(x.l.p.types)
	g := 0.0
	if c.way < 0 {
		g -= y[parts+c.kind]
		for _, u := range c.use {
			g += y[u.typ] * float64(u.n)
		}
	} else {
		sheet := l.ways[c.way].sheet
		g -= float64(l.p.sheets[sheet].price)
		for _, u := range c.use {
			g += y[parts+u.typ] * float64(u.n)
		}
		g += y[x.m.row[sheet]]
	}
	for i := range x.rows {
		r := &x.rows[i]
		g += y[parts+len(l.kinds)+i] * float64(r.sign()*r.counts(l, &c))
	}
	if g > 1e-7*x.m.top && l.learn(c) {
		return 1
	}
	return 0
}
