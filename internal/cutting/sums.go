package cutting

import "slices"

// The sides of the rectangles of a grid are sums of part sizes.

// sums lists the lengths that parts side by side can make on a sheet, or nil
// when there are too many. Every piece counts as often as it is asked for.
func (p *problem) sums(sheet int, along bool) []int64 {
	s := p.sheets[sheet]
	c := s.h
	if along {
		c = s.w
	}
	const most = 3000
	if c <= maxReach {
		return p.reach(s, c, along, most)
	}
	found := []int64{0}
	for _, t := range p.types {
		sizes := t.along(s, along)
		for n := 0; n < t.qty && len(sizes) > 0; n++ {
			before := len(found)
			more := slices.Clone(found)
			for _, f := range found {
				for _, x := range sizes {
					if f+x <= c {
						more = append(more, f+x)
					}
				}
			}
			slices.Sort(more)
			found = slices.Compact(more)
			if len(found) == before {
				break
			}
			if len(found) > most {
				return nil
			}
		}
	}
	return found[1:]
}

// along is the sizes that a part can have along an axis of a sheet; none when
// it does not fit.
func (t ptype) along(s psheet, x bool) []int64 {
	switch {
	case !(t.w <= s.w && t.h <= s.h || t.turn && t.h <= s.w && t.w <= s.h):
		return nil
	case t.turn:
		return []int64{t.w, t.h}
	case x:
		return []int64{t.w}
	}
	return []int64{t.h}
}

// maxReach is the side in steps up to which sums are marked on a rule rather
// than listed.
const maxReach = 50_000

// reach is sums for a side of few steps.
func (p *problem) reach(s psheet, c int64, along bool, most int) []int64 {
	can := make([]bool, c+1)
	can[0] = true
	count, top := 1, int64(0)
	for _, t := range p.types {
		sizes := t.along(s, along)
		for n := 0; n < t.qty && len(sizes) > 0; n++ {
			before := count
			last := top
			for v := min(c, last+slices.Max(sizes)); v > 0; v-- { // downwards: each piece once
				if can[v] {
					continue
				}
				for _, x := range sizes {
					if v >= x && can[v-x] {
						can[v] = true
						count++
						top = max(top, v)
						break
					}
				}
			}
			if count == before {
				break
			}
			if count > most {
				return nil
			}
		}
	}
	out := make([]int64, 0, count)
	for v := int64(1); v <= top; v++ {
		if can[v] {
			out = append(out, v)
		}
	}
	return out
}

// needed thins sums out to those that the table asks for: of a side x, the
// sums up to half of it and the largest sums beside each of those.
func needed(x []int64) []int64 {
	if len(x) == 0 {
		return x
	}
	in := make([]bool, len(x))
	in[len(x)-1] = true
	for i := len(x) - 1; i >= 0; i-- { // what is asked for is always smaller
		if !in[i] {
			continue
		}
		beside := i // the largest sum not above what k leaves
		for k := 0; k < i && 2*x[k] <= x[i]; k++ {
			in[k] = true
			for beside >= 0 && x[beside] > x[i]-x[k] {
				beside--
			}
			if beside >= 0 {
				in[beside] = true
			}
		}
	}
	var out []int64
	for i, v := range x {
		if in[i] {
			out = append(out, v)
		}
	}
	return out
}

// differences lists for each sum the largest sum beside each smaller one.
func differences(x []int64) [][]int32 {
	d := make([][]int32, len(x))
	for i := range x {
		d[i] = make([]int32, i+1)
		at := int32(i)
		for k := 0; k <= i; k++ {
			for at >= 0 && x[at] > x[i]-x[k] {
				at--
			}
			d[i][k] = at
		}
	}
	return d
}

// additions tells for each sum x[i] and those x[k] up to it, as far as both fit
// side by side, the index of the least sum that is not below x[i]+x[k].
func additions(x []int64) [][]uint32 {
	s := make([][]uint32, len(x))
	for i := range x {
		at := i
		for k := 0; k <= i && x[i]+x[k] <= x[len(x)-1]; k++ {
			for x[at] < x[i]+x[k] {
				at++
			}
			s[i] = append(s[i], uint32(at))
		}
	}
	return s
}

// fewSums lists sums of the fewest pieces, about few of them, and what they
// leave of the side c.
func (p *problem) fewSums(c int64, few int, along bool) []int64 {
	var sizes []int64
	for _, t := range p.types {
		if t.turn || along {
			sizes = append(sizes, t.w)
		}
		if t.turn || !along {
			sizes = append(sizes, t.h)
		}
	}
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	found := map[int64]bool{0: true}
	ring := []int64{0}
	for len(found) < few && len(ring) > 0 {
		var next []int64
		for _, r := range ring {
			for _, x := range sizes {
				if v := r + x; v <= c && !found[v] {
					found[v] = true
					next = append(next, v)
				}
			}
		}
		slices.Sort(next)
		for len(found) > 2*few { // keep some of all lengths
			keep := next[:0]
			for i, v := range next {
				if i%2 == 0 {
					keep = append(keep, v)
				} else {
					delete(found, v)
				}
			}
			if len(keep) == len(next) {
				break
			}
			next = keep
		}
		ring = next
	}
	out := []int64{c}
	for v := range found {
		out = append(out, v, c-v)
	}
	slices.Sort(out)
	out = slices.Compact(out)
	if out[0] == 0 {
		out = out[1:]
	}
	return out
}
