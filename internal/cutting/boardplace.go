package cutting

import (
	"math"

	"casewright/internal/unit"
)

// place is where a part may go: cuts first in the direction vert.
type place struct {
	stack, rest int
	at          cell
	rot, vert   bool
	score       float64
}

// find is the place of the least waste for a part among stacks from..to.
func (s *boardSearch) find(t int32, from, to int, blinks uint32) (place, bool) {
	if s.types[t].glue != nil {
		return s.findStrip(t, from, to, blinks)
	}
	found := place{stack: -1, score: math.Inf(1)}
	ty := &s.types[t]
	for k := from; k < to; k++ {
		st := s.stacks[k]
		b := &s.boards[st.board]
		if b.area-st.used < ty.area {
			continue
		}
		for ri := range st.rests {
			for turn := range 2 {
				w, h := ty.w, ty.h
				if turn == 1 {
					if !ty.turn {
						break
					}
					w, h = h, w
				}
				r := &st.rests[ri]
				if r.x2-r.x1 < w || r.y2-r.y1 < h || blinks > 0 && s.rng.next32() < blinks {
					continue
				}
				if spareFree*(r.area()-ty.area)/s.unit >= found.score {
					continue // no place in it is better
				}
				s.corners(b, &st.rests[ri], w, h, func(at cell, vert bool, score float64) {
					if score < found.score {
						found = place{k, ri, at, turn == 1, vert, score}
					}
				})
			}
		}
	}
	return found, found.stack >= 0
}

// corners calls f with every place for a part in a rest.
func (s *boardSearch) corners(b *board, r *rest, w, h unit.Length, f func(at cell, vert bool, score float64)) {
	b.starts(r, func(x, y unit.Length) {
		if at := (cell{x, y, x + w, y + h}); at.x2 <= r.x2 && at.y2 <= r.y2 && b.clear(at) {
			s.score(b, r, at, f)
		}
	})
}

// spareFree is what wood left beside a part counts, even in one piece.
const spareFree = 0.1

// score calls f with what a place in a rest wastes, cut off either way.
func (s *boardSearch) score(b *board, r *rest, at cell, f func(at cell, vert bool, score float64)) {
	for _, vert := range [2]bool{true, false} {
		if b.order != AnyOrder && r.lastStage(at, vert) > orderedStages {
			continue
		}
		high, wide := r.y2-r.y1, at.x2-at.x1 // the rests beside it, and those below and above
		if !vert {
			high, wide = at.y2-at.y1, r.x2-r.x1
		}
		most := max(float64(max(at.x1-r.x1, r.x2-at.x2))*float64(high), float64(max(at.y1-r.y1, r.y2-at.y2))*float64(wide))
		free := r.area() - at.area()
		f(at, vert, ((free-most)+spareFree*free)/s.unit)
	}
}

// starts are where parts may begin in a rest: at its lower left corner, or
// right after a defect.
func (b *board) starts(r *rest, try func(x, y unit.Length)) {
	try(r.x1, r.y1)
	for i := range b.defects {
		d := &b.defects[i]
		if !d.over(r.cell) {
			continue
		}
		if d.x2 > r.x1 {
			try(d.x2, r.y1)
			for k := range b.defects {
				if e := &b.defects[k]; e.y2 > r.y1 && e.over(r.cell) {
					try(d.x2, e.y2)
				}
			}
		}
		if d.y2 > r.y1 {
			try(r.x1, d.y2)
		}
	}
}

// lastStage is the stage of the last cut that frees a part.
func (r *rest) lastStage(at cell, vert bool) int {
	stage, was := r.stage, r.vert
	for _, v := range [2]bool{vert, !vert} {
		lo, hi := r.along(v)
		if a, b := at.along(v); a == lo && b == hi {
			continue
		}
		if v != was {
			stage, was = stage+1, v
		}
	}
	return stage
}

// around adds to out the rests round a part, when cuts go first in the
// direction vert.
func (r *rest) around(at cell, vert bool, out []rest) []rest {
	c, stage, was := r.cell, r.stage, r.vert
	for _, v := range [2]bool{vert, !vert} {
		lo, hi := c.along(v)
		a, b := at.along(v)
		if a == lo && b == hi {
			continue
		}
		if v != was || stage == 0 {
			stage, was = stage+1, v
		}
		if a > lo {
			out = append(out, rest{c.slice(v, lo, a), v, stage})
		}
		if b < hi {
			out = append(out, rest{c.slice(v, b, hi), v, stage})
		}
		c = c.slice(v, a, b)
	}
	return out
}
