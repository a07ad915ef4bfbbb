package bend

import "math"

// A strip is the skin over a kerf as a beam section: plies of thickness and
// modulus from the uncut face inward, with the strain at which they give way
// in compression (0: never).
type strip struct {
	t     float64 // whole thickness, mm
	plies []ply
	yield float64
}

type ply struct{ top, bottom, e float64 } // depths under the uncut face, mm; N/mm2

// strip cuts the skin of thickness t out of the material.
func (m Material) strip(t float64) strip {
	s := strip{t: t, yield: m.Yield}
	if len(m.Layers) == 0 {
		s.plies = []ply{{0, t, float64(m.Ex)}}
		return s
	}
	y := 0.0
	for i, l := range m.Layers {
		bottom := math.Min(y+l.Thickness.MM(), t)
		if i == len(m.Layers)-1 {
			bottom = t
		}
		s.plies = append(s.plies, ply{y, bottom, float64(l.E)})
		if y = bottom; y >= t {
			break
		}
	}
	return s
}

// neutral is the depth of the neutral surface of the elastic strip under the
// uncut face: sum E t y / sum E t. Derived (transformed section).
func (s strip) neutral() float64 {
	var stretch, moment float64
	for _, p := range s.plies {
		stretch += p.e * (p.bottom - p.top)
		moment += p.e * (p.bottom*p.bottom - p.top*p.top) / 2
	}
	return moment / stretch
}

// stiffness is EI of the elastic strip about its neutral surface, per mm of
// kerf (N·mm).
func (s strip) stiffness() float64 {
	yn, sum := s.neutral(), 0.0
	for _, p := range s.plies {
		a, b := p.top-yn, p.bottom-yn
		sum += p.e * (b*b*b - a*a*a) / 3
	}
	return sum
}

// load is the push along the strip and the moment about its face, per mm,
// when it is bent to the curvature k with the neutral surface at depth yn:
// strain side·k·(yn-y), linear in tension, flat past the yield strain in
// compression. side is +1 when the uncut face is stretched, -1 when it is the
// hollow side.
func (s strip) load(k, yn, side float64) (force, moment float64) {
	add := func(e, a, b, strainA, strainB float64) {
		// strain runs straight from strainA at depth a to strainB at depth b
		f := e * (strainA + strainB) / 2 * (b - a)
		force += f
		moment += e * (b - a) * (strainA*(2*a+b) + strainB*(a+2*b)) / 6
	}
	for _, p := range s.plies {
		a, b := p.top, p.bottom
		if s.yield == 0 {
			add(p.e, a, b, side*k*(yn-a), side*k*(yn-b))
			continue
		}
		// The depth at which the strain reaches -yield; the flat part lies
		// below it when the face is stretched, above it otherwise.
		edge := math.Min(math.Max(yn+side*s.yield/k, a), b)
		if side > 0 {
			add(p.e, a, edge, k*(yn-a), k*(yn-edge))
			add(p.e, edge, b, -s.yield, -s.yield)
		} else {
			add(p.e, a, edge, -s.yield, -s.yield)
			add(p.e, edge, b, -k*(yn-edge), -k*(yn-b))
		}
	}
	return force, moment
}

// yielding is the neutral depth (mm) and the moment (N·mm per mm) of the
// strip at curvature k when the compressed side may give way and no force
// runs along the strip. Derived.
func (s strip) yielding(k, side float64) (yn, moment float64) {
	if s.yield == 0 || k <= 0 {
		return s.neutral(), s.stiffness() * math.Max(k, 0)
	}
	lo, hi := 0.0, s.t
	for range 48 {
		yn = (lo + hi) / 2
		// More depth to the neutral surface stretches the face more.
		if f, _ := s.load(k, yn, side); f*side > 0 {
			hi = yn
		} else {
			lo = yn
		}
	}
	_, moment = s.load(k, yn, side)
	return yn, -side * moment
}
