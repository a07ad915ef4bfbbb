package drawing

import (
	"math"
	"sort"

	"casewright/internal/unit"
)

// Chain is a row of dimensions along one side of a view. Rows stack outward in
// the order of View.Chains: the finest first, the overall last.
type Chain struct {
	Side  Side
	Dims  []Dim
	Spare bool // left out where its figures would crowd; a table says the same
}

// Dim is one dimension: from and to are places along the side in the view's
// millimetres (x for Below and Above, y for LeftOf and RightOf), Size is the
// exact size to show. Says, when given, stands in place of the figures.
type Dim struct {
	From, To float64
	Size     unit.Length
	Says     string
	Field    string // path in the piece of the size, where it can be typed over
}

// ChainOf is the chain through the stops, each given by its exact place.
func ChainOf(side Side, stops ...unit.Length) Chain {
	c := Chain{Side: side}
	for i := 1; i < len(stops); i++ {
		if stops[i] != stops[i-1] {
			c.Dims = append(c.Dims, Dim{From: stops[i-1].MM(), To: stops[i].MM(), Size: stops[i] - stops[i-1]})
		}
	}
	return c
}

const (
	dimText   = 3.0 // of the master figure
	dimOther  = 2.5 // of the other unit's
	dimFirst  = 8.0 // from the view to the first row
	dimRow    = 6.5 // from row to row
	dimLift   = 5.2 // more where figures are moved out
	dimPad    = 1.1 // least gap between a figure and a tick, or another figure
	dimTick   = 1.0 // half a tick
	dimCrowd  = 9.0 // farther aside than this, figures turn to stand across the row
	dimCorner = 6.0 // less than dimFirst by half a figure's height and more
	dimOffset = 1.2 // from the view to an extension line
)

// acrossWidth is what a figure across the row takes along it, less the gap
// that spread adds.
const acrossWidth = dimText*CapHeight + 1 - 2*dimPad

// figure is the text of one dimension with its place along the row.
type figure struct {
	master, other Text
	width         float64 // along the row
	long          float64 // of a figure that stands across the row, else 0
	mid           float64 // where it would stand, between its ticks
	at            float64 // where it stands: its middle
	out           bool    // moved out, with a leader
}

// layOut places the figures of one row: those with room stand between their
// ticks, the others are moved out beyond the line in one or more levels, in
// order, so that leaders do not cross. gap is the room between the ticks of
// each; no figure moved out begins before least.
func layOut(figs []figure, gap []float64, least float64) {
	var outs []int
	for i := range figs {
		figs[i].at = figs[i].mid
		if figs[i].width+2*dimPad > gap[i] {
			figs[i].out = true
			outs = append(outs, i)
		}
	}
	spread(figs, outs, least)
}

// spread moves the figures named by idx along the row so that they keep their
// order, stand dimPad apart and move as little as can be in the sum of
// squares (pool adjacent violators); none begins before least.
func spread(figs []figure, idx []int, least float64) {
	type block struct {
		first, n int
		sum      float64 // of wanted starts of the block
		at       float64
	}
	sort.SliceStable(idx, func(i, j int) bool { return figs[idx[i]].mid < figs[idx[j]].mid })
	offset := make([]float64, len(idx)) // from the start of the row to each left edge, if all were packed
	acc := 0.0
	for i, f := range idx {
		offset[i] = acc
		acc += figs[f].width + 2*dimPad
	}
	var blocks []block
	for i, f := range idx {
		want := figs[f].mid - figs[f].width/2 - offset[i]
		b := block{first: i, n: 1, sum: want, at: want}
		for len(blocks) > 0 && blocks[len(blocks)-1].at >= b.at {
			p := blocks[len(blocks)-1]
			blocks = blocks[:len(blocks)-1]
			b = block{first: p.first, n: p.n + b.n, sum: p.sum + b.sum}
			b.at = b.sum / float64(b.n)
		}
		blocks = append(blocks, b)
	}
	for _, b := range blocks {
		b.at = max(b.at, least)
		for i := b.first; i < b.first+b.n; i++ {
			f := &figs[idx[i]]
			f.at = b.at + offset[i] + f.width/2
		}
	}
}

// draw sets the chain beyond core, the drawn bounds on paper, at the distance
// already used on its side. The words go over all lines; depth is how much it
// adds.
func (c Chain) draw(m mapping, core Rect, used float64, o Options) (items, words []Item, depth float64) {
	if len(c.Dims) == 0 {
		return nil, nil, 0
	}
	dims := append([]Dim(nil), c.Dims...)
	upright := c.Side == LeftOf || c.Side == RightOf
	along := func(v float64) float64 {
		if upright {
			return -m.pt(Pt{0, v}).Y // so that the row runs upward, as its text does
		}
		return m.pt(Pt{v, 0}).X
	}
	// put is the paper point at t along the row and d out of the view.
	put := func(t, d float64) Pt {
		switch c.Side {
		case LeftOf:
			return Pt{core.X - d, -t}
		case RightOf:
			return Pt{core.Right() + d, -t}
		case Above:
			return Pt{t, core.Y - d}
		}
		return Pt{t, core.Bottom() + d}
	}
	figs := make([]figure, len(dims))
	gaps := make([]float64, len(dims))
	any := false
	for i, d := range dims {
		a, b := along(d.From), along(d.To)
		figs[i] = o.figure(d)
		figs[i].mid, gaps[i] = (a+b)/2, math.Abs(b-a)
		any = any || figs[i].width+2*dimPad > gaps[i]
	}
	// Rows of two sides meet at a corner: figures moved out keep clear of it.
	least := core.X - dimCorner
	if upright {
		least = -core.Bottom() - dimCorner
	}
	layOut(figs, gaps, least)
	across := crowded(figs, dimCrowd)
	if across {
		// Figures that stand across the row need their height along it only.
		var outs []int
		for i := range figs {
			if figs[i].out {
				figs[i].long, figs[i].width = figs[i].width, acrossWidth
				outs = append(outs, i)
			}
		}
		spread(figs, outs, least)
		if c.Spare && crowded(figs, 2*dimCrowd) {
			return nil, nil, 0
		}
	}
	line := dimFirst + used
	if used > 0 {
		line = used + dimRow
	}
	depth = line - used
	lift := 0.0
	if any {
		lift = dimLift
		depth += lift
	}
	if across {
		longest := 0.0
		for _, f := range figs {
			longest = max(longest, f.long)
		}
		depth += longest - dimText*CapHeight
	}
	seen := map[float64]bool{}
	for _, d := range dims {
		a, b := along(d.From), along(d.To)
		items = append(items, Segment(PenDimension, put(a, line), put(b, line)))
		for _, t := range []float64{a, b} {
			if key := math.Round(t * 1000); !seen[key] {
				seen[key] = true
				items = append(items,
					Segment(PenDimension, put(t, dimOffset), put(t, line+dimTick)),
					tick(put(t, line)))
			}
		}
	}
	turn := 0.0
	if upright {
		turn = 90
	}
	for i, f := range figs {
		d, t := line, turn
		if f.out {
			near := line + lift - dimText*CapHeight/2 - 0.7 // where the leader ends
			items = append(items, Polyline(PenDimension, put(f.mid, line), put(f.at, near)))
			d = line + lift
			if f.long > 0 {
				d, t = near+0.7+f.long/2, 90-turn
			}
		}
		words = append(words, o.field(dims[i].Field, dims[i].Size, f.draw(put(f.at, d), t))...)
	}
	return items, words, depth
}

// crowded reports whether a figure was moved aside by more than the distance.
func crowded(figs []figure, most float64) bool {
	for _, f := range figs {
		if f.out && math.Abs(f.at-f.mid) > most {
			return true
		}
	}
	return false
}

// tick is the oblique stroke at the end of a dimension line, one way
// everywhere.
func tick(p Pt) Item { return Segment(PenMedium, p.Add(-dimTick, dimTick), p.Add(dimTick, -dimTick)) }

func (o Options) figure(d Dim) figure {
	master, other := d.Says, ""
	if master == "" {
		master, other = o.Size(d.Size)
	}
	f := figure{
		master: Text{S: master, Size: dimText},
		other:  Text{S: other, Size: dimOther, Grey: 0.35},
	}
	f.width = f.master.Width()
	if other != "" {
		f.width += 0.9 + f.other.Width()
	}
	return f
}

// draw sets the figure with its middle at p, on white.
func (f figure) draw(p Pt, turn float64) []Item {
	drop, width := dimText*CapHeight/2, max(f.width, f.long)
	place := func(t Text, from float64) Text {
		t.Turn = turn
		if turn == 90 {
			t.At = p.Add(drop, -from)
		} else {
			t.At = p.Add(from, drop)
		}
		return t
	}
	master := place(f.master, -width/2)
	out := []Item{}
	if f.other.S != "" {
		other := place(f.other, width/2-f.other.Width())
		out = append(out, master.Knock(0.5), other.Knock(0.5), master, other)
		return out
	}
	return append(out, master.Knock(0.5), master)
}

// Ordinates are places along a side, each measured from one end, with the
// figures standing across the row: for kerfs, holes and grooves, where chains
// would crowd and errors would add up. Leaders take a figure aside where its
// neighbours need room.
type Ordinates struct {
	Side  Side
	Stops []Ordinate
	Spare bool // left out where the figures would crowd
}

// Ordinate is one place: where it is in the view, and what is said of it.
type Ordinate struct {
	At   float64
	Says string
}

func (o Ordinates) draw(m mapping, core Rect, used float64) (items, words []Item, depth float64) {
	const lead, size = 5.0, 2.6
	upright := o.Side == LeftOf || o.Side == RightOf
	figs := make([]figure, len(o.Stops))
	idx := make([]int, len(o.Stops))
	widest := 0.0
	for i, s := range o.Stops {
		f := figure{master: Text{S: s.Says, Size: size}, mid: m.pt(Pt{s.At, 0}).X, width: size*CapHeight - 2*dimPad + 1, out: true}
		if upright {
			f.mid = -m.pt(Pt{0, s.At}).Y
		} else {
			f.master.Turn = 90
		}
		figs[i], idx[i] = f, i
		widest = max(widest, f.master.Width())
	}
	least := core.X - dimCorner
	if upright {
		least = -core.Bottom() - dimCorner
	}
	if !o.Spare {
		least = math.Inf(-1)
	}
	spread(figs, idx, least)
	if len(figs) == 0 || o.Spare && crowded(figs, 2*dimCrowd) {
		return nil, nil, 0
	}
	put := func(t, d float64) Pt {
		switch o.Side {
		case LeftOf:
			return Pt{core.X - used - d, -t}
		case RightOf:
			return Pt{core.Right() + used + d, -t}
		case Above:
			return Pt{t, core.Y - used - d}
		}
		return Pt{t, core.Bottom() + used + d}
	}
	for _, f := range figs {
		t := f.master
		t.At = put(f.at, lead+1)
		if upright {
			t.At.Y += size * CapHeight / 2
		} else {
			t.At.X += size * CapHeight / 2
		}
		if o.Side == Below || o.Side == LeftOf {
			t.Anchor = End
		}
		items = append(items, Polyline(PenDimension, put(f.mid, 0.6-used), put(f.mid, 1.6), put(f.at, lead-0.6), put(f.at, lead+0.3)))
		words = append(words, t.Knock(0.3), t)
	}
	return items, words, lead + 1 + widest
}
