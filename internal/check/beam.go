package check

import (
	"math"

	"casewright/internal/unit"
)

// Support is how the ends of a shelf or rail are held.
type Support int

// The supports. A loose shelf is simply supported; a long housing in a stiff
// side comes near to fixed, but creeps loose, so checks take it as simple.
const (
	Simple Support = iota
	Fixed
	Propped // one end fixed, one simple
	Cantilever
)

// Beam is a straight part of one thickness that bends over its span.
type Beam struct {
	Span, Width, Thickness unit.Length
	E                      unit.Stress // along the span
	Support                Support
}

// inertia is width × thickness³ / 12 in mm⁴.
func (b Beam) inertia() float64 { return b.Width.MM() * cube(b.Thickness.MM()) / 12 }

func cube(v float64) float64 { return v * v * v }

// Coefficients of elementary beam theory: sag is coefficient × w L⁴ / EI for
// an even load w, × P L³ / EI for a load P (in the middle, or at the free
// end); the greatest moment is × w L² and × P L. A load P on a propped beam is
// not given.
var (
	evenSag    = map[Support]float64{Simple: 5.0 / 384, Fixed: 1.0 / 384, Propped: 1.0 / 184.6, Cantilever: 1.0 / 8}
	evenMoment = map[Support]float64{Simple: 1.0 / 8, Fixed: 1.0 / 12, Propped: 1.0 / 8, Cantilever: 1.0 / 2}
	midSag     = map[Support]float64{Simple: 1.0 / 48, Fixed: 1.0 / 192, Cantilever: 1.0 / 3}
	midMoment  = map[Support]float64{Simple: 1.0 / 4, Fixed: 1.0 / 8, Cantilever: 1}
)

// Sag is the first deflection under an even load in newtons per metre.
func (b Beam) Sag(perMetre float64) unit.Length {
	w, l := perMetre/1000, b.Span.MM()
	return sagOf(evenSag[b.Support]*w*l*l*l*l, float64(b.E)*b.inertia())
}

// PointSag is the first deflection under one load in the middle, or at the
// free end.
func (b Beam) PointSag(p unit.Force) unit.Length {
	return sagOf(midSag[b.Support]*float64(p)*cube(b.Span.MM()), float64(b.E)*b.inertia())
}

// Stress is the greatest bending stress under an even load in newtons per
// metre.
func (b Beam) Stress(perMetre float64) unit.Stress {
	l := b.Span.MM()
	return b.stress(evenMoment[b.Support] * perMetre / 1000 * l * l)
}

// PointStress is the greatest bending stress under one load.
func (b Beam) PointStress(p unit.Force) unit.Stress {
	return b.stress(midMoment[b.Support] * float64(p) * b.Span.MM())
}

func (b Beam) stress(moment float64) unit.Stress {
	return unit.Stress(moment * b.Thickness.MM() / 2 / b.inertia())
}

// PlateSag is the first deflection in the middle of a thin plate held, not
// fixed, on four sides, under an even pressure in pascals: 0.1422 p b⁴ /
// (E t³ (1 + 2.21 (b/a)³)) with b the shorter side. A fit from memory, which
// agrees with Timoshenko's table for a Poisson's ratio of 0.3 to 2 %.
func PlateSag(a, b, thickness unit.Length, e unit.Stress, pressure float64) unit.Length {
	if a < b {
		a, b = b, a
	}
	s := b.MM()
	return sagOf(0.1422*pressure/1e6*s*s*s*s, float64(e)*cube(thickness.MM())*(1+2.21*cube(float64(b)/float64(a))))
}

// sagOf is n/d millimetres, at most a hundred metres: a part so soft is no
// shelf, and the figure must stay a length.
func sagOf(n, d float64) unit.Length {
	if !(d > 0) {
		return 0
	}
	return mmOf(n / d)
}

func mmOf(v float64) unit.Length { return unit.MM(math.Min(v, 1e5)) }
