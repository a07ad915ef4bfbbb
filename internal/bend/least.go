package bend

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// LeastRadius is the least radius of the uncut face that the spec's kerf and
// skin can be bent to through its angle: the kerfs close at the wanted angle
// in all but 5 of 100 bends, the lands keep their least width, and the skin
// stands it when softened if its stuff can be. It is exact for the model:
// with the lands at their least, the count is the greater of what closing and
// what strain ask for. The spec's radius, pitch and count do not matter.
func LeastRadius(s Spec) (unit.Length, error) {
	s = s.withDefaults()
	s.Radius, s.Pitch, s.Count = unit.Metre, 0, 0
	if err := s.validate(); err != nil {
		return 0, err
	}
	k := newModel(s)
	if err := k.possible(); err != nil {
		return 0, err
	}
	least, err := k.leastRadius(s)
	if err != nil {
		return 0, err
	}
	pitch := k.wide() + s.LeastLand.MM()
	dry, wet := k.allowed()
	n := math.Ceil(k.phi*k.far(k.t)/(max(dry, wet)*k.bent(pitch)) - 1e-9)
	if n > maxCount {
		return 0, fmt.Errorf("more than %d kerfs would be needed to spare the skin; leave a thinner skin", maxCount)
	}
	return max(least, unit.MM(n*pitch/k.phi+k.side*k.yn)), nil
}

// leastRadius is the least radius of the uncut face that closing and lands
// allow, whatever the strain.
func (k model) leastRadius(s Spec) (unit.Length, error) {
	pitch := k.wide() + s.LeastLand.MM()
	if k.side < 0 {
		return unit.MM(math.Max(pitch/k.phi-k.yn, 1)), nil
	}
	n, ok := k.leastClosing(s, maxCount*pitch/k.phi, maxCount)
	if !ok {
		return 0, fmt.Errorf("more than %d kerfs of %.4g mm would be needed; use a wider blade", maxCount, k.wide())
	}
	return unit.MM(math.Max(float64(n)*pitch/k.phi, k.h) + k.yn), nil
}

// roundUp prints a length rounded up to a tenth of a millimetre.
func roundUp(l unit.Length) string { return mm(l.RoundUp(unit.Millimetre / 10)) }
