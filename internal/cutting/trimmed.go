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

// A spare is room for a second table of a sheet.
type spare struct {
	val, mirror []int64
	arg         []int32
}

// swap gives the raster the spare table and keeps its own, or takes it back.
func (s *spare) swap(r *raster) {
	if cap(s.val) < len(r.val) {
		s.val, s.mirror, s.arg = make([]int64, len(r.val)), make([]int64, len(r.val)), make([]int32, len(r.val))
	}
	s.val, s.mirror, s.arg = s.val[:len(r.val)], s.mirror[:len(r.mirror)], s.arg[:len(r.arg)]
	r.val, s.val = s.val, r.val
	r.mirror, s.mirror = s.mirror, r.mirror
	r.arg, s.arg = s.arg, r.arg
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
