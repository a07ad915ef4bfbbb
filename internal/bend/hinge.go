package bend

import "math"

// A hinge is one kerf as a mechanism: the neutral line bends evenly over the
// length arc and is straight beside it; the walls stand square to it, and the
// kerf is mouth wide at the lever h above the neutral line. All mm.
//
// It holds every tooth form: a straight kerf has arc = mouth = kerf; a hinge
// drawn to a point has arc 0; a hinge that reaches into the lands has arc
// greater than mouth; a V has arc 0 and mouth 2·depth·tan(half angle).
type hinge struct{ arc, mouth, h float64 }

// gap is the width of the mouth when the kerf has turned by theta; negative
// past closing. sign is +1 for kerfs inside the bend, -1 outside. Derived;
// exact for the mechanism.
func (j hinge) gap(theta, sign float64) float64 {
	half := theta / 2
	return 2*j.arc*sinc(half)/2 - 2*sign*j.h*math.Sin(half) + (j.mouth-j.arc)*math.Cos(half)
}

// closing is the angle at which the mouth corners touch: mouth/h for an even
// arc as long as the kerf is wide, 2·atan(mouth/2h) for a point, in between
// the root of the gap. Derived.
func (j hinge) closing() float64 {
	switch {
	case j.arc == j.mouth:
		return j.mouth / j.h
	case j.arc == 0:
		return 2 * math.Atan(j.mouth/(2*j.h))
	}
	theta := j.mouth / j.h
	for range 30 {
		half := theta / 2
		sin, cos := math.Sincos(half)
		g := (j.arc/theta-j.h)*2*sin + (j.mouth-j.arc)*cos
		slope := -2*j.arc/(theta*theta)*sin + (j.arc/theta-j.h)*cos - (j.mouth-j.arc)/2*sin
		next := theta - g/slope
		if !(next > 0 && next < math.Pi) {
			break
		}
		if math.Abs(next-theta) < 1e-13 {
			return next
		}
		theta = next
	}
	// Far from straight walls: halve the interval.
	lo, hi := 1e-9, math.Pi
	for range 100 {
		theta = (lo + hi) / 2
		if j.gap(theta, 1) > 0 {
			lo = theta
		} else {
			hi = theta
		}
	}
	return theta
}

// sinc is sin(x)/x.
func sinc(x float64) float64 {
	if math.Abs(x) < 1e-4 {
		return 1 - x*x/6
	}
	return math.Sin(x) / x
}

// rooted is the length of land, both sides together, that bends with a kerf
// when the wide-land reach is r and the land is land wide: a narrow land
// stiffens, and no more than the land itself can bend. Fit to finite elements
// within 5 per cent. Derived.
func rooted(r, land float64) float64 {
	if land <= 0 || r <= 0 {
		return 0
	}
	return math.Min(r*(1-math.Exp(-land/(0.9*r))), land)
}

// taper is the length of even skin t0 that bends as much as a skin which
// thickens from t0 by the slope over the width half, on two sides: the
// alternate-bevel kerf with its ridge, and the V. Derived.
func taper(t0, slope, half float64) float64 {
	if slope < 1e-9 {
		return 2 * half
	}
	q := t0 / (t0 + half*slope)
	return t0 / slope * (1 - q*q)
}

// facet is the height between the crest over a kerf and the middle of the
// flat beside it: (f/2)·tan(theta/4) with the flat f = pitch - bent, none
// when the whole pitch bends. Derived; exact for even curvature.
func facet(pitch, bent, theta float64) float64 {
	return math.Max(pitch-bent, 0) / 2 * math.Tan(theta/4)
}
