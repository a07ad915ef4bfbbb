package bend

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// LeastRadius is the least radius of the uncut face that the spec's kerf and
// skin can be bent to through its angle: the kerfs close at the wanted angle
// in all but 5 of 100 bends, the lands keep their least width, and the skin
// stands it when softened if its stuff can be. Every whole count is tried; it
// is exact for the model. The spec's radius, pitch and count do not matter.
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
	least := s.LeastLand.MM() + k.wide() // pitch
	first := max(int(math.Ceil(k.phi/(math.Pi/2)-1e-9)), 1)
	if k.side > 0 {
		n, ok := k.leastClosing(s, maxCount*least/k.phi, maxCount)
		if !ok {
			return 0, k.tooMany()
		}
		first = n
	}
	dry, wet := k.allowed()
	best := math.Inf(1)
	for n := first; n <= maxCount; n++ {
		// The skin stands its turn if this much of it bends.
		needed := k.far(k.t) * k.phi / (float64(n) * max(dry, wet))
		pitch, ok := k.pitchFor(needed, least)
		if ok {
			best = math.Min(best, float64(n)*pitch/k.phi)
		}
		if float64(n)*least/k.phi >= best {
			break // more kerfs take more room
		}
	}
	if math.IsInf(best, 1) {
		return 0, fmt.Errorf("more than %d kerfs would be needed to spare the skin; leave a thinner skin", maxCount)
	}
	return unit.MM(math.Max(best, k.h*max(k.side, 0)) + k.side*k.yn), nil
}

// pitchFor is the least pitch, from least up, at which the length needed
// bends at each kerf.
func (k *model) pitchFor(needed, least float64) (float64, bool) {
	lo, hi := least, least+40*k.m.reach(k.t)
	switch {
	case k.bent(lo) >= needed:
		return lo, true
	case k.bent(hi) < needed:
		return 0, false
	}
	for range 60 {
		if mid := (lo + hi) / 2; k.bent(mid) < needed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, true
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
		return 0, k.tooMany()
	}
	return unit.MM(math.Max(float64(n)*pitch/k.phi, k.h) + k.yn), nil
}

// tooMany is the error for a blade too thin for the bend.
func (k model) tooMany() error {
	return fmt.Errorf("more than %d kerfs of %s would be needed; use a wider blade", maxCount, k.show.mm(k.wide(), 4))
}
