package cutting

import (
	"context"
	"slices"
)

// decide looks for a layout on the lot; too tells that there is none. Prices of
// the parts to begin with are in center. The need is what the prices say of
// other lots.
func (f *fitter) decide(ctx context.Context, lot []int, center []float64, moves int, d *settler) (bins []*bin, too bool, out need) {
	f.ctx, f.stop = ctx, f.moves+moves
	t := f.newFitting(lot, center)
	if t == nil {
		return nil, false, need{}
	}
	more := t.tighten(fitFails)
	if t.spare < 0 {
		return nil, true, f.need(t.worth, t.top, lot)
	}
	if t.worth == nil || t.spare > f.loss {
		return nil, false, need{}
	}
	tree := t.tree(fitWhole / 4)
	if tree == nil && t.spare < f.loss/2 {
		for more {
			more = t.tighten(2 * fitFails)
		}
		if t.spare < 0 {
			return nil, true, f.need(t.worth, t.top, lot)
		}
		tree = t.tree(fitWhole)
	}
	if tree == nil {
		return nil, false, need{}
	}
	all := make([]int32, len(tree.cols))
	for i := range all {
		all[i] = int32(i)
	}
	if tree.node(slices.Clone(f.most), slices.Clone(lot), all) {
		demand := slices.Clone(f.most)
		for _, i := range tree.picks {
			c := &tree.cols[i]
			k := f.kinds[c.kind]
			b := k.list.tree(k.q, 0, c.label)
			b.sheet = c.kind
			bins = append(bins, d.cut(b, demand))
		}
		return bins, false, need{}
	}
	return nil, tree.whole, need{}
}

// decide asks outright whether the lot can hold all parts. It begins with the
// prices of coarse tables, as a dive does; one has come before it and left its
// settler.
func (r *proof) decide(ctx context.Context, stop int) (bins []*bin, too bool) {
	if r.p.flat() || r.p.pieces() > mostSettled {
		return nil, false
	}
	if r.fit == nil {
		r.fit = newFitter(r.p)
		for _, l := range r.dense.bins {
			for _, b := range l {
				r.fit.kinds[b.sheet].learn(r.p.pattern(b).use)
			}
		}
	}
	f := r.fit
	d := &settler{p: r.p, ctx: ctx, known: newAlbum()}
	if r.set.start == nil { // the dive was too short for them
		at := r.set.moves
		q, _, sheets := r.p.left(f.most, r.lot)
		some := make([]int, len(sheets)) // the lot in numbers of q
		for i, s := range sheets {
			some[i] = r.lot[s]
		}
		r.set.stop = at + min(decideMoves, stop-r.spent)
		_, too := r.set.prices(q, some)
		if r.spent += r.set.moves - at; too {
			return nil, true
		}
	}
	if r.set.start == nil || r.spent >= stop {
		return nil, false
	}
	center := slices.Clone(r.set.start)
	at := f.moves
	var n need
	bins, too, n = f.decide(ctx, r.lot, center, min(decideMoves, stop-r.spent), d)
	r.spent += f.moves - at
	if n.gives != nil {
		r.needs = append(r.needs, n)
	}
	return bins, too
}
