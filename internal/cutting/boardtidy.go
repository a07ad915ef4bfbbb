package cutting

import (
	"context"
	"math"
	"slices"

	"casewright/internal/unit"
)

// untidy is what is worse of two layouts of the same value: panels glued up
// from strips of several boards first, then tones that jump, then rests that
// are small or many.
func (s *boardSearch) untidy() float64 {
	v := 0.0
	for _, st := range s.stacks {
		if st.neat == 0 {
			b := &s.boards[st.board]
			st.neat = max(s.neat(b.carved(st.parts, true, false)), s.neat(b.carved(st.parts, false, false)))
		}
		v -= st.neat
	}
	for t := range s.types {
		if n := s.types[t].strips; n > 1 {
			v += 10 * s.mixed(int32(t), n)
		}
	}
	return v + s.patched()
}

// patched is the same for panels of unlike strips: each that comes from several
// boards, their steps of tone, and a little for every strip and for how unlike
// they are.
func (s *boardSearch) patched() float64 {
	if len(s.types) == len(s.p.types) {
		return 0
	}
	type from struct {
		strips, boards, last, light, dark int
		narrow, wide                      unit.Length
	}
	panels := make([]from, len(s.types))
	for k, st := range s.stacks {
		tone := s.boards[st.board].tone
		for _, p := range st.parts {
			if s.types[p.typ].glue == nil {
				continue
			}
			f := &panels[p.typ]
			if f.strips == 0 {
				f.light, f.dark, f.last, f.narrow = tone, tone, -1, p.y2-p.y1
			}
			f.narrow, f.wide = min(f.narrow, p.y2-p.y1), max(f.wide, p.y2-p.y1)
			f.strips++
			f.light, f.dark = min(f.light, tone), max(f.dark, tone)
			if f.last != k {
				f.boards++
			}
			f.last = k
		}
	}
	v := 0.0
	for t, f := range panels {
		if f.strips == 0 {
			continue
		}
		v += 0.1*float64(f.strips) + float64(f.wide-f.narrow)/float64(s.types[t].glue.want)
		if f.boards > 1 {
			v += 10 + 0.1*float64(f.dark-f.light)
		}
	}
	return v
}

// neat is what the rests of a carving are worth: each by the square of its
// share of the largest board, so that one large one beats slivers; every piece
// it falls into costs a little. It is never 0.
func (s *boardSearch) neat(c carving) float64 {
	v := 1.0
	c.each(func(r *carving) {
		v -= 1e-3
		if r.part != isRest {
			return
		}
		if s.p.keepsRest(r.x2-r.x1, r.y2-r.y1) {
			a := r.area() / s.unit
			v += a * a
		}
	})
	return v
}

// mixed is how many panels of n strips cannot come from one board, and a
// little for each step of tone among their strips.
func (s *boardSearch) mixed(t int32, n int) float64 {
	var over []int // tones of the strips that no board has n of
	for _, st := range s.stacks {
		k := 0
		for _, p := range st.parts {
			if p.typ == t {
				k++
			}
		}
		over = append(over, slices.Repeat([]int{s.boards[st.board].tone}, k%n)...)
	}
	slices.Sort(over)
	v := math.Floor(float64(len(over)) / float64(n))
	for k := 0; k+n <= len(over); k += n {
		v += 0.01 * float64(over[k+n-1]-over[k])
	}
	return v
}

// order looks for a tidier layout of the same value.
func (s *boardSearch) order(ctx context.Context, moves int) {
	if len(s.best) == 0 {
		return
	}
	s.reset(s.bestValue)
	s.tidy = true
	s.stacks, s.pool = slices.Clone(s.best), slices.Clone(s.bestPool)
	s.bestNeat = s.untidy()
	s.reset(s.bestValue)
	for stop := s.iter + moves; s.iter < stop && len(s.stacks) > 0; {
		if s.iter&63 == 0 && ctx.Err() != nil {
			return
		}
		s.move()
	}
}
