package bend

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// Centres are the kerf centres measured from the reference edge, when the
// straight leg before the bend is leg long on the flat panel:
// leg + (k - 1/2)·pitch, each rounded singly to the nanometre.
func (r Result) Centres(leg unit.Length) []unit.Length {
	pitch := r.pitch()
	at := make([]unit.Length, r.Count)
	for i := range at {
		at[i] = leg + unit.MM((float64(i)+0.5)*pitch)
	}
	return at
}

// pitch in mm, not rounded.
func (r Result) pitch() float64 {
	if r.Spec.Pitch != 0 {
		return r.Spec.Pitch.MM()
	}
	k := newModel(r.Spec)
	return (k.radius - k.side*k.yn) * k.phi / float64(r.Count)
}

// Arc is one bend of a flat length.
type Arc struct {
	Radius  unit.Length // of the uncut face
	Neutral unit.Length // depth of the neutral surface under it; half the skin unless known better
	Angle   unit.Angle
	Outside bool // kerfs on the outside of the curve
}

// NeutralRadius is the radius of the neutral surface: the face radius less
// the neutral depth, plus it when the kerfs are outside.
func (a Arc) NeutralRadius() unit.Length {
	if a.Outside {
		return a.Radius + a.Neutral
	}
	return a.Radius - a.Neutral
}

// Flat is the length of panel the bend takes up: neutral radius times angle.
func (a Arc) Flat() unit.Length { return a.NeutralRadius().Scale(a.Angle.Rad()) }

// FlatLength is the length to cut a panel of straight legs and bends. Derived.
func FlatLength(legs []unit.Length, bends []Arc) unit.Length {
	var sum unit.Length
	for _, l := range legs {
		sum += l
	}
	for _, b := range bends {
		sum += b.Flat()
	}
	return sum
}

// Leg is the straight part of an outside dimension up to the tangent point of
// a bend of outside radius radius: outside - radius·tan(angle/2). Angles from
// 180 degrees have no corner to measure to: an error.
func Leg(outside, radius unit.Length, angle unit.Angle) (unit.Length, error) {
	if !(angle >= 0 && angle < math.Pi-1e-9) {
		return 0, fmt.Errorf("a bend of %.4g degrees has no corner to measure to; give the straight length itself", angle.Deg())
	}
	return outside - radius.Scale(math.Tan(angle.Rad()/2)), nil
}

// BenchRule is the count of kerfs by the bench rule, angle × depth / kerf: a
// pivot at the bottom of the kerf, too few by 3 to 12 per cent. Common
// practice, no source.
func BenchRule(angle unit.Angle, depth, kerf unit.Length) float64 {
	return angle.Rad() * depth.MM() / kerf.MM()
}

// Lift is how far the free side of a trial kerf has risen at the distance
// mark from its centre when the kerf, kerf wide, has turned by angle: the
// lifted-board method, in which the lift at the mark of the radius is the
// pitch. Derived; exact for a skin that bends evenly over the kerf.
func Lift(mark, kerf unit.Length, angle unit.Angle) unit.Length {
	return unit.MM(lift(mark.MM(), kerf.MM(), angle.Rad()))
}

func lift(mark, arc, theta float64) float64 {
	half := theta / 2
	return arc*sinc(half)*math.Sin(half) + (mark-arc/2)*math.Sin(theta)
}
