package cutting

import (
	"cmp"
	"context"
	"slices"
)

// Where the program says that a lot can hold more than all parts, when patterns
// may be cut any share of a time, it cannot be ruled out as it is, and may well
// hold them. Then a layout is picked from the patterns known of it, without a
// list of all of them: more good ones are made by prices that are blurred, and a
// tree over them begins with those that the program cuts most. It is short, and
// begins anew in another order.

// Tried on 22 drawn furniture cases with three seeds, 450,000 moves each: a tree of
// 20,000 moves without more patterns proves 15 of 66, with 3,000 moves for those
// 17; 40,000 moves with 3,000 and 8,000 18 and 19; nothing of all this 8. The
// other numbers are guesses.
const (
	knownMoves = 40_000 // after a lot was priced first
	knownMore  = 8_000  // before that, for more patterns of each kind of sheet
	knownTree  = 10_000 // before the tree begins anew
	knownBlur  = 0.1    // of worths, for more patterns; and by so much more of shares, from tree to tree
	knownMost  = 0.9    // the widest blur of shares
	knownGiven = 1_000  // patterns of each kind of sheet that dives are given
)

// roomy reports whether the patterns known hold more than all parts.
func (c *ruling) roomy() bool { return c.told() && c.tree == nil && c.t.least > 0 }

// pickKnown looks for a layout among the patterns known of the lot, in so many
// moves, and makes more known before.
func (f *fitter) pickKnown(ctx context.Context, c *ruling, moves int, d *settler) (bins []*bin) {
	t := c.t
	f.ctx = ctx
	l := &lotTree{f: f, draw: &c.draw}
	for s, n := range t.lot {
		if n == 0 {
			continue
		}
		k := f.kinds[s]
		f.stop = f.moves + min(knownMore, moves/4)
		f.more(k, t, &c.draw)
		for i, pat := range k.cols {
			if loss := t.top[s].worth - pat.worth(t.worth); loss <= t.spare {
				col := lotCol{kind: s, label: int32(i), n: make([]int32, len(f.most)), loss: loss}
				for _, u := range pat.use {
					col.n[u.typ] = int32(u.n)
				}
				l.cols = append(l.cols, col)
			}
		}
	}
	first := l.first(len(t.lot))
	found := false
	for end := f.moves + moves; !found && !l.whole && f.moves < end && ctx.Err() == nil; l.blur = min(knownMost, l.blur+knownBlur) {
		f.stop = min(end, f.moves+knownTree)
		found = l.find(f.most, t.lot, first)
	}
	if !found {
		return nil
	}
	demand := slices.Clone(f.most)
	for _, i := range l.picks {
		col := &l.cols[i]
		bins = append(bins, d.cut(f.kinds[col.kind].cols[col.label].tree, demand))
	}
	return bins
}

// more makes more patterns of a kind known, by worths that are blurred.
func (f *fitter) more(k *fitKind, t *fitting, draw *rng) {
	r := &k.g.sheets[0]
	if len(r.x) == 0 || len(r.y) == 0 {
		return
	}
	now, lower := slices.Clone(t.worth), slices.Clone(t.worth)
	for !f.over() {
		for ty, w := range t.worth {
			x := 1 - knownBlur + 2*knownBlur*draw.float()
			now[ty] = max(1, int64(float64(w)*x))
			lower[ty] = max(1, int64(float64(t.top[k.sheet].lower[ty])*x))
		}
		at := k.g.steps
		k.g.fill(r, lower, f.most)
		f.moves += 1 + (k.g.steps-at)/fitStep
		if pat := k.g.read(0); pat.tree != nil {
			f.mend(k, pat, now)
		}
	}
}

// pick looks for a layout among the patterns known of the lot at hand.
func (r *proof) pick(ctx context.Context, moves int) []*bin {
	f := r.fit
	at := f.moves
	bins := f.pickKnown(ctx, r.ruling, moves, &settler{p: r.p, ctx: ctx, known: newAlbum()})
	r.spent += f.moves - at
	return bins
}

// known is the lot at hand and the patterns known of it that lose the least,
// where they hold more than all parts.
func (r *proof) known() (lot []int, list []pattern) {
	if r == nil || !r.ruling.roomy() {
		return nil, nil
	}
	t := r.ruling.t
	for s, n := range t.lot {
		if n == 0 {
			continue
		}
		cols := slices.Clone(t.f.kinds[s].cols)
		slices.SortStableFunc(cols, func(a, b pattern) int { return cmp.Compare(b.worth(t.worth), a.worth(t.worth)) })
		for _, pat := range cols[:min(len(cols), knownGiven)] {
			pat.sheet = s
			list = append(list, pat)
		}
	}
	return slices.Clone(t.lot), list
}
