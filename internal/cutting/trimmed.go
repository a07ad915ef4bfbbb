package cutting

import "slices"

// trimmed looks for a good pattern by making what is too many worth less, a
// few times, and taking out what is still too many. One worth more than enough
// will do. The table stays as it is.
func (q *proper) trimmed(sheet int, r *raster, pat pattern, worth []int64, enough int64) pattern {
	q.spare.swap(r)
	defer q.spare.swap(r)
	lower := slices.Clone(worth)
	var best pattern
	var most int64 = -1
	for k := 1; ; k++ {
		out := pattern{sheet: sheet, tree: pat.tree}
		for _, u := range pat.use {
			n := min(u.n, q.most[u.typ])
			out.use = append(out.use, run{u.typ, n})
			if n < u.n {
				lower[u.typ] = lower[u.typ] * int64(n+u.n) / int64(2*u.n)
			} else if lower[u.typ] < worth[u.typ] {
				lower[u.typ] += (worth[u.typ] - lower[u.typ]) / 8
			}
		}
		if v := out.worth(worth); v > most {
			best, most = out, v
		}
		if k == q.trims || most > enough {
			return best
		}
		q.g.fill(r, lower, q.most)
		pat = q.g.read(sheet)
	}
}

// lowered makes the types that a pattern has too many of worth less, so far that
// all of it is worth gap less, and those that were lowered before and that it
// has too few of more again; full are the true worths. It returns what all parts
// asked for have lost; ok is false when there is nothing to do.
func lowered(worth, full []int64, most []int, pat pattern, gap int64) (lost int64, ok bool) {
	over := make([]int, len(worth)) // too many
	for t, n := range most {
		over[t] = -n
	}
	for _, u := range pat.use {
		over[u.typ] += u.n
	}
	square := 0.0
	for t, d := range over {
		if d > 0 || worth[t] < full[t] {
			square += float64(d) * float64(d)
		}
	}
	if square == 0 {
		return 0, false
	}
	step := float64(gap) / square
	for t, d := range over {
		if d > 0 || worth[t] < full[t] {
			worth[t] = min(full[t], max(0, worth[t]-int64(step*float64(d))))
		}
		lost += (full[t] - worth[t]) * int64(most[t])
	}
	return lost, true
}

// A spare is room for a second table of a sheet.
type spare struct {
	val, mirror []int64
	arg         []int32
	parts       []seated
}

// swap gives the raster the spare table and keeps its own, or takes it back.
func (s *spare) swap(r *raster) {
	if cap(s.val) < len(r.val) {
		s.val, s.mirror, s.arg = make([]int64, len(r.val)), make([]int64, len(r.mirror)), make([]int32, len(r.arg))
	}
	s.val, s.mirror, s.arg = s.val[:len(r.val)], s.mirror[:len(r.mirror)], s.arg[:len(r.arg)]
	r.val, s.val = s.val, r.val
	r.mirror, s.mirror = s.mirror, r.mirror
	r.arg, s.arg = s.arg, r.arg
	r.parts, s.parts = s.parts, r.parts
}

const trimTries = 3

func (p pattern) worth(worth []int64) int64 {
	var v int64
	for _, u := range p.use {
		v += int64(u.n) * worth[u.typ]
	}
	return v
}

// over reports whether a pattern has more of a type than are asked for.
func (q *proper) over(pat pattern) bool {
	for _, u := range pat.use {
		if u.n > q.most[u.typ] {
			return true
		}
	}
	return false
}
