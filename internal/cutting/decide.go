package cutting

import (
	"context"
	"slices"
)

// A ruling is the question whether a lot can hold all parts, as far as it has
// come: it can be left and gone on with. First prices are looked for by which
// sheets may lose little, then all patterns are listed that lose no more, then a
// tree over the list settles it.
type ruling struct {
	t     *fitting
	more  bool     // looks may find better prices
	fails int      // of them in a row that are no better, before patterns are listed
	limit int      // of the next list, in steps
	tried int      // steps of the list that was not finished, at the present prices
	tree  *lotTree // when they are listed; nothing may be listed after it
	first []int32  // of the list: what the first program begins with
	shut  bool     // settled, or this is no way to settle it
	draw  rng      // for picking among the patterns known
}

// newRuling begins with the prices in center; nil where a table is too large.
func (f *fitter) newRuling(ctx context.Context, lot []int, center []float64) *ruling {
	f.ctx = ctx
	t := f.newFitting(lot, center)
	if t == nil {
		return nil
	}
	return &ruling{t: t, more: true, fails: fitFails, limit: fitWhole / 4, draw: newRNG(1)}
}

// near reports whether going on may settle it: where it is listed, or little may
// be lost, or where that little may be lost is all that the patterns known say,
// while better prices may be found.
func (c *ruling) near() bool {
	if c == nil || c.shut {
		return false
	}
	t := c.t
	return c.tree != nil || t.spare < t.f.loss/2 || c.more && t.least < t.f.loss/2
}

// soon reports whether going on may settle it before a layout is looked for: where
// the program has more to spare it cannot be ruled out as it is, and lists of what
// may be lost come late.
func (c *ruling) soon() bool {
	return c.tree != nil || c.t.spare < c.t.f.loss/2 || c.t.least < c.t.f.loss/8
}

// told reports whether it came to prices by true lengths: programs with rounded
// ones say less.
func (c *ruling) told() bool { return c != nil && c.t.worth != nil }

// decide goes on for so many moves: it looks for a layout on the lot; too tells
// that there is none. The need is what the prices say of other lots.
func (f *fitter) decide(ctx context.Context, c *ruling, moves int, d *settler) (bins []*bin, too bool, out need) {
	f.ctx, f.stop = ctx, f.moves+moves
	t := c.t
	t.m.ctx = ctx
	for c.tree == nil && !c.shut {
		if c.more {
			c.more = t.tighten(c.fails) || f.over() && t.round < fitRounds
		}
		if t.spare < 0 {
			c.shut = true
			return nil, true, f.need(t.worth, t.top, t.lot)
		}
		if f.over() || (f.stop-f.moves)*fitMove < 2*c.tried {
			return nil, false, need{} // to be gone on with
		}
		if t.worth == nil || t.spare > f.loss || c.limit > fitWhole/4 && t.spare > f.loss/2 {
			c.shut = true
			break
		}
		c.tree, c.tried = t.tree(c.limit)
		switch {
		case c.tree != nil || f.over():
		case c.more:
			c.fails, c.tried = 2*fitFails, 0
			c.limit *= 4
		case c.tried == 0: // too many
			c.shut = true
		default:
			c.limit *= 4
		}
	}
	if c.shut || c.tree == nil {
		return nil, false, need{}
	}
	if c.first == nil {
		c.first = c.tree.first(len(t.lot))
	}
	return f.pick(c, d)
}

// pick settles a ruling whose patterns are listed.
func (f *fitter) pick(c *ruling, d *settler) (bins []*bin, too bool, out need) {
	tree := c.tree
	found := tree.find(f.most, c.t.lot, c.first)
	c.shut = found || tree.whole
	if !found {
		return nil, tree.whole, need{}
	}
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

// decide asks outright whether the lot can hold all parts, or goes on asking,
// with so many moves at most. It begins with the prices of coarse tables, which
// the dive before it worked out, or with the areas of the parts.
func (r *proof) decide(ctx context.Context, stop, most int) (bins []*bin, too bool) {
	if r.p.flat() || r.p.pieces() > mostSettled {
		return nil, false
	}
	if r.fit == nil {
		r.fit = newFitter(r.p)
		for _, l := range r.dense.bins {
			for _, b := range l {
				r.fit.kinds[b.sheet].learn(r.p.pattern(b).use, func() *bin { return b })
			}
		}
	}
	f := r.fit
	if r.ruling == nil {
		start := slices.Clone(r.set.start)
		if start == nil || !f.norm(start) { // there was no time for them
			start = start[:0]
			for _, t := range r.p.types {
				start = append(start, t.area)
			}
		}
		if r.ruling = f.newRuling(ctx, r.lot, start); r.ruling == nil {
			return nil, false
		}
	}
	at := f.moves
	bins, too, n := f.decide(ctx, r.ruling, min(most, stop-r.spent), &settler{p: r.p, ctx: ctx, known: newAlbum()})
	r.spent += f.moves - at
	if n.gives != nil {
		r.needs = append(r.needs, n)
	}
	return bins, too
}

// near reports whether the lot at hand may be decided by going on, or the one
// after it.
func (r *proof) near() bool {
	return r != nil && (r.ruling.near() || r.ruling.roomy() || r.ripping() || r.fresh)
}
