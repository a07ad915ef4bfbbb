package cutting

import "math"

// A nook is where a part goes on a sheet, turned or not and with which cut
// first. The lower the score the less is wasted; it is infinite, or the limit
// asked for, where there is no nook.
type nook struct {
	score     float64
	slot      int32 // into bin.free
	rot, vert bool
	sought    bool
}

// spot is a place on one of the sheets.
type spot struct {
	nook
	bin int
}

// find finds the place of the least waste for a part of type t among the bins.
// On sheets that this move has left alone the best place of each type is looked
// up: most of them stay as they are for many moves. Most sheets are too full, so
// the sizes of their rooms are looked at before all else.
func (s *search) find(t int, skip uint32) (spot, bool) {
	found := spot{nook{score: math.Inf(1)}, -1}
	ty := &s.p.types[t]
	small, large := min(ty.w, ty.h), max(ty.w, ty.h)
	for i, b := range s.bins {
		if b.thick < small || b.long < large {
			continue
		}
		if b.stamp == s.stamp {
			if c := s.nook(b, t, skip, found.score, nil); c.score < found.score {
				found = spot{c, i}
			}
			continue
		}
		c := s.nookOn(b, t)
		if c.score >= found.score {
			continue
		}
		if skip == 0 || s.rng.next32() >= skip {
			found = spot{*c, i}
		} else if c := s.nook(b, t, skip, found.score, c); c.score < found.score {
			found = spot{c, i}
		}
	}
	return found, found.bin >= 0
}

// nookOn is the best place for type t on a sheet that is not changed any more.
func (s *search) nookOn(b *bin, t int) *nook {
	if b.owner != s {
		b.owner = s
		if n := len(s.p.types); cap(b.nooks) < n {
			b.nooks = make([]nook, n)
		} else {
			b.nooks = b.nooks[:n]
			clear(b.nooks)
		}
	}
	c := &b.nooks[t]
	if !c.sought {
		*c = s.nook(b, t, 0, math.Inf(1), nil)
	}
	return c
}

// nook finds the best place for type t on one sheet with a score below limit,
// other than but.
func (s *search) nook(b *bin, t int, skip uint32, limit float64, but *nook) nook {
	ty := &s.p.types[t]
	w, h := ty.w, ty.h
	scale := 1 / float64(min(w, h))
	found := nook{score: limit, sought: true}
	for turned := false; ; turned = true {
		for slot := range b.free {
			f := &b.free[slot]
			dw, dh := f.w-w, f.h-h
			if dw|dh < 0 {
				continue
			}
			var score float64
			switch {
			case dw == 0 && dh == 0:
				score = -2
			case dw == 0:
				score = -1 + float64(dh)/float64(f.h)
			case dh == 0:
				score = -1 + float64(dw)/float64(f.w)
			default:
				if score = float64(min(dw, dh)) * scale; score >= found.score {
					continue
				}
				score += 0.1 * float64(max(dw, dh)) / float64(max(f.w, f.h))
			}
			if score >= found.score || skip > 0 && s.rng.next32() < skip {
				continue
			}
			if but != nil && but.slot == int32(slot) && but.rot == turned {
				continue
			}
			vert := float64(dw)*float64(f.h) > float64(dh)*float64(f.w) // leaves the larger rest whole
			if (s.strip || s.tidying) && dw > 0 && dh > 0 && s.rng.below(crossCut) == 0 {
				vert = !vert
			}
			if s.p.depth > 0 {
				ok := false
				if vert, ok = s.p.within(b, f.at, dw > 0 && dh > 0, vert); !ok {
					continue
				}
			}
			found = nook{score, int32(slot), turned, vert, true}
		}
		if turned || !ty.turn {
			return found
		}
		w, h = h, w
	}
}
