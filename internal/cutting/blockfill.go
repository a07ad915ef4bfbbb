package cutting

import (
	"context"
	"math"
)

// blockLosses are the shares of a block's area that may be lost, tried one after
// another until a sheet is full enough: where next to nothing need be lost,
// that is found in a moment, and where more must be, the first ones end at once.
var blockLosses = [...]float64{0.002, 0.004, 0.006, 0.008, 0.012, 0.016, 0.024}

const (
	firstBlocks = 400       // of a band, at first
	mostInBag   = 250       // pieces that a set has room for
	blockTries  = 300       // for one move
	blockMost   = 4_000_000 // for one share
)

// blockFull fills a sheet with blocks of what is asked for, until no more than
// the share may of it is lost, and returns it with the moves it took. It is nil
// where stages are limited, which blocks know nothing of, and where the pieces
// do not fill a sheet.
func (p *problem) blockFull(ctx context.Context, r *rng, kind, width int, may float64, moves int) (top *bin, took int) {
	if !p.blockable() {
		return nil, 0
	}
	if p.pieces() > mostInBag {
		sub, back := p.rest(p.drawn(r, mostInBag), p.stocks())
		if top, took = sub.blockFull(ctx, r, kind, width, may, moves); top != nil {
			named([]*bin{top}, back)
		}
		return top, took
	}
	size := p.size(kind)
	if p.area() < (1-may)*size {
		return nil, 0 // a sheet is more than all of them need
	}
	best := 0.0
	tries, most := 0, math.MaxInt
	if moves < most/blockTries {
		most = moves * blockTries
	}
	for _, loss := range blockLosses {
		b := newBuilder(p, kind, width, loss, r)
		b.enough = (1 - may) * size
		b.build(ctx, min(blockMost, most-tries))
		tries += b.tries
		if b.best.used > best {
			best, top = b.best.used, b.sheet(kind)
		}
		if best >= (1-may)*size || tries >= most || ctx.Err() != nil {
			break
		}
	}
	return top, 1 + tries/blockTries
}

// blockable reports whether sheets can be filled with blocks.
func (p *problem) blockable() bool {
	return p.depth == 0 && !p.flat()
}

// drawn is how many of each type are among n pieces drawn by lot.
func (p *problem) drawn(r *rng, n int) []int {
	var all []int
	for t, ty := range p.types {
		for range ty.qty {
			all = append(all, t)
		}
	}
	some := make([]int, len(p.types))
	for k := range n {
		i := k + r.below(len(all)-k)
		all[k], all[i] = all[i], all[k]
		some[all[k]]++
	}
	return some
}

// stocks is how many there are of each kind of sheet.
func (p *problem) stocks() []int {
	n := make([]int, len(p.sheets))
	for i, s := range p.sheets {
		n[i] = s.stock
	}
	return n
}
