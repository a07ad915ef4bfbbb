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
	pitch := k.wide() + s.LeastLand.MM()
	far := k.far(k.t)
	dry, wet := k.allowed()
	n := int(math.Ceil(k.phi*far/(max(dry, wet)*k.bent(pitch)) - 1e-9))
	if k.side > 0 {
		rn := float64(maxCount) * pitch / k.phi // any radius at which maxCount would fit
		closing, ok := k.leastClosing(s, rn, maxCount)
		if !ok {
			return 0, fmt.Errorf("more than %d kerfs would be needed; use a wider blade", maxCount)
		}
		n = max(n, closing)
	}
	if n > maxCount {
		return 0, fmt.Errorf("more than %d kerfs would be needed to spare the skin; leave a thinner skin", maxCount)
	}
	rn := max(float64(n), 1) * pitch / k.phi
	return unit.MM(math.Max(rn, k.h*max(k.side, 0)) + k.side*k.yn), nil
}

// leastRadius is the least radius of the uncut face by closing and lands
// alone, without counting whole kerfs.
func (k model) leastRadius(land unit.Length) unit.Length {
	pitch := k.wide() + land.MM()
	if k.side < 0 {
		return unit.MM(math.Max(pitch/k.phi-k.yn, 1))
	}
	return unit.MM(math.Max(pitch/k.kerfHinge(pitch).closing(), k.h) + k.yn)
}

// roundUp prints a length rounded up to a tenth of a millimetre.
func roundUp(l unit.Length) string {
	return fmt.Sprintf("%.1f mm", math.Ceil(l.MM()*10-1e-6)/10)
}
