package scene

import (
	"cmp"
	"math"
	"slices"
)

// hanging is a strip at one of its places, while it is laid flat. Its plane is
// upright and runs with the front of the piece.
type hanging struct {
	spot   *Spot
	strip  *Strip
	lands  []Pose    // as bent, in the plane of the front: x right, y up
	ends   []float64 // of the lands, along the strip
	turned float64   // of the place in that plane
	lead   int
}

// layFlat says how the strips of the shell lie when they are flat: on the
// level of their lowest point, kerfs up, end to end in the order of the run,
// as the panel they were cut from. Each follows one of its lands, its lead:
// one near the middle of the strip that has not far to turn, so that little
// swings through the air; a flat that lies kerfs up at the bottom of the case
// stays where it is.
func (m *maker) layFlat() {
	all := m.hanging()
	if len(all) == 0 {
		return
	}
	lay, level := laying(all)
	for _, h := range all {
		h.follow(lay)
	}
	all = best(inOrder(all), lay)
	at := starts(all, lay)
	shift := 0.0
	for i, h := range all {
		shift += h.leadAt() - h.laid(at[i], lay)
	}
	shift /= float64(len(all))
	for i, h := range all {
		y := level
		if lay != 0 {
			y += h.strip.ThicknessMM
		}
		flat := Pose{at[i] + shift, y, h.lands[h.lead].Rad + h.turn(h.lead, lay)}
		h.spot.Lay = &Lay{h.lead, h.inPlane(flat), []float64{}}
	}
	joinSeams(all)
}

func (m *maker) hanging() []*hanging {
	var out []*hanging
	for i := range m.out.Bodies {
		b := &m.out.Bodies[i]
		if b.Strip == nil || len(b.Strip.Bends) == 0 {
			continue
		}
		for j := range b.Spots {
			s := &b.Spots[j]
			if math.Abs(s.Matrix[1]) > 1e-6 || math.Abs(s.Matrix[4]) > 1e-6 {
				continue // not in a plane along the front
			}
			h := &hanging{spot: s, strip: b.Strip, ends: b.Strip.landEnds(), turned: math.Atan2(s.Matrix[2], s.Matrix[0])}
			stand := Pose{s.Matrix[9], s.Matrix[11], h.turned}
			for _, l := range b.Strip.Lands(1) {
				x, y := stand.at(l.XMM, l.YMM)
				h.lands = append(h.lands, Pose{x, y, stand.Rad + l.Rad})
			}
			out = append(out, h)
		}
	}
	return out
}

// laying is the heading of a strip that lies with most of its kerfs up, 0 or
// a half turn, and the height of the lowest point of the bent shell.
func laying(all []*hanging) (lay, level float64) {
	up := 0
	level = math.Inf(1)
	for _, h := range all {
		for _, b := range h.strip.Bends {
			if b.ShowFace {
				up -= len(b.KerfsMM)
			} else {
				up += len(b.KerfsMM)
			}
		}
		for i, l := range h.lands {
			for _, x := range h.ends[i : i+2] {
				for _, y := range []float64{0, h.strip.ThicknessMM} {
					_, z := l.at(x, y)
					level = min(level, z)
				}
			}
		}
	}
	if up < 0 {
		lay = math.Pi
	}
	return lay, level
}

// follow chooses the land that the others follow.
func (h *hanging) follow(lay float64) {
	least, half := math.Inf(1), h.strip.LengthMM/2
	for i := range h.lands {
		if h.ends[i+1]-h.ends[i] < h.strip.LengthMM/50 {
			continue // between two kerfs of a bend
		}
		off := math.Abs(h.middle(i)-half) / half
		// Turning right over is not twice as far as standing up.
		if c := math.Pow(math.Abs(h.turn(i, lay))/(math.Pi/2), 0.7) + 1.2*off; c < least-1e-9 {
			least, h.lead = c, i
		}
	}
}

// turn is how far a land turns from bent to flat.
func (h *hanging) turn(land int, lay float64) float64 {
	return math.Remainder(lay-h.lands[land].Rad, 2*math.Pi)
}

// middle of a land, along the strip.
func (h *hanging) middle(land int) float64 { return (h.ends[land] + h.ends[land+1]) / 2 }

// leadAt is where the middle of the lead stands in the bent shell.
func (h *hanging) leadAt() float64 {
	x, _ := h.lands[h.lead].at(h.middle(h.lead), 0)
	return x
}

// laid is where it comes to lie when the strip begins at x.
func (h *hanging) laid(x, lay float64) float64 { return x + math.Cos(lay)*h.middle(h.lead) }

func (h *hanging) start() (x, y float64) { return h.lands[0].at(0, 0) }
func (h *hanging) end() (x, y float64) {
	return h.lands[len(h.lands)-1].at(h.strip.LengthMM, 0)
}

// gap is how far the end of one strip is from the start of the next.
func gap(a, b *hanging) float64 {
	ax, ay := a.end()
	bx, by := b.start()
	return math.Hypot(ax-bx, ay-by)
}

// inOrder sorts strips so that each begins where the one before ends. The
// first is one that no other leads up to, if there is one.
func inOrder(all []*hanging) []*hanging {
	first, far := 0, -1.0
	for i, h := range all {
		near := math.Inf(1)
		for _, o := range all {
			near = min(near, gap(o, h))
		}
		if near > far+1 {
			first, far = i, near
		}
	}
	left := slices.Clone(all)
	out := []*hanging{left[first]}
	left = slices.Delete(left, first, first+1)
	for len(left) > 0 {
		last := out[len(out)-1]
		i := slices.Index(left, slices.MinFunc(left, func(a, b *hanging) int { return cmp.Compare(gap(last, a), gap(last, b)) }))
		out = append(out, left[i])
		left = slices.Delete(left, i, i+1)
	}
	return out
}

// best turns the order of a closed run so that the strips have least far to
// go.
func best(all []*hanging, lay float64) []*hanging {
	n := len(all)
	if gap(all[n-1], all[0]) > seamRoom {
		return all
	}
	far := func(order []*hanging) float64 {
		at := starts(order, lay)
		sum := 0.0
		for i, h := range order {
			sum += h.leadAt() - h.laid(at[i], lay)
		}
		off := 0.0
		for i, h := range order {
			off += math.Abs(h.leadAt() - h.laid(at[i], lay) - sum/float64(n))
		}
		return off
	}
	out := all
	for k := 1; k < n; k++ {
		try := append(slices.Clone(all[k:]), all[:k]...)
		if far(try) < far(out)-1e-6 {
			out = try
		}
	}
	return out
}

// starts are the beginnings of the strips, end to end from 0, with the room
// of a strip let in between them.
func starts(all []*hanging, lay float64) []float64 {
	var out []float64
	at, way := 0.0, math.Cos(lay)
	for i, h := range all {
		if i > 0 {
			if g := gap(all[i-1], h); g < seamRoom {
				at += way * g
			}
		}
		out = append(out, at)
		at += way * h.strip.LengthMM
	}
	return out
}

// seamRoom is the most that lies between two ends that are joined: a strip
// let in.
const seamRoom = 200.0

// joinSeams notes the ends that meet another, within the room of a strip let
// in or a lap.
func joinSeams(all []*hanging) {
	add := func(l *Lay, at float64) {
		if !slices.Contains(l.SeamsMM, at) {
			l.SeamsMM = append(l.SeamsMM, at)
		}
	}
	for _, a := range all {
		for _, b := range all {
			if gap(a, b) < seamRoom {
				add(b.spot.Lay, 0)
				add(a.spot.Lay, a.strip.LengthMM)
			}
		}
	}
}

// inPlane brings a pose from the plane of the front into that of a place.
func (h *hanging) inPlane(p Pose) Pose {
	at := h.spot.Matrix
	x, y := p.XMM-at[9], p.YMM-at[11]
	return Pose{mm(x*at[0] + y*at[2]), mm(x*at[3] + y*at[5]), fine(p.Rad - h.turned)}
}
