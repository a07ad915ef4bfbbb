package bend

import (
	"math"
	"math/rand/v2"
	"slices"

	"casewright/internal/unit"
)

// Band is what the shop's errors do to a bend, by simulation of Spec.Draws
// panels from Spec.Seed. Percentiles p05 and p95 hold 90 bends in 100
// between them, p025 and p975 hold 95. Angles and radii are of the kerfs
// closed fully, and 0 for kerfs outside.
type Band struct {
	AngleMean, AngleSD   unit.Angle
	AngleP05, AngleP95   unit.Angle
	AngleP025, AngleP975 unit.Angle
	RadiusP05, RadiusP95 unit.Length // of the uncut face
	StrainP05, StrainP95 float64     // of the worst kerf of the bend at the wanted angle, fractions
	Reaches              float64     // share of bends that reach the wanted angle
}

// simulate bends Spec.Draws panels. Without strained only AngleP05 is wanted.
func (k *model) simulate(s Spec, count int, pitch float64, strained bool) Band {
	// The same seed gives the same panels whatever the count, so that the
	// band moves evenly from one count to the next.
	panel := rand.New(rand.NewPCG(s.Seed, 0x70616e656c))
	rng := rand.New(rand.NewPCG(s.Seed, 0x6b657266))
	angles := make([]float64, 0, s.Draws)
	radii := make([]float64, 0, s.Draws)
	strains := make([]float64, 0, s.Draws)
	c := s.Scatter
	kerfShared, kerfEach := c.KerfShared.MM(), c.Kerf.MM()
	depthShared, depthEach := c.DepthShared.MM(), c.Depth.MM()
	theta := k.phi / float64(count)
	reached := 0
	one := *k
	for range s.Draws {
		dw := kerfShared * panel.NormFloat64()
		dd := depthShared * panel.NormFloat64()
		dT := c.Thickness.MM() * panel.NormFloat64()
		dyn := c.NeutralRatio * panel.NormFloat64()
		T := math.Max(k.T+dT, k.T/2)
		var angle, length, worst float64
		for range count {
			t := k.t + dT - dd - depthEach*rng.NormFloat64() // depth from the kerfed face
			if s.DepthFrom == FromUncutFace {
				t -= dT
			}
			t = math.Min(math.Max(t, k.t/10), T/2)
			widen := math.Max(dw+kerfEach*rng.NormFloat64(), -k.bottom/2)
			one.set(k, T, t, widen)
			if dyn != 0 {
				one.yn = math.Min(math.Max(one.yn+dyn*t, 0), t)
				one.h = T - one.yn
			}
			step := math.Max(pitch+c.Pitch.MM()*rng.NormFloat64(), one.wide())
			if k.side > 0 {
				angle += one.kerfHinge(step).closing()
				length += step
			}
			if strained {
				worst = math.Max(worst, k.far(t)*theta/one.bent(step))
			}
		}
		strains = append(strains, worst)
		if k.side > 0 {
			angles = append(angles, angle)
			radii = append(radii, length/angle+k.yn)
			if angle >= k.phi {
				reached++
			}
		}
	}
	b := Band{Reaches: float64(reached) / float64(s.Draws)}
	slices.Sort(angles)
	if !strained {
		b.AngleP05 = unit.Angle(quantile(angles, 0.05))
		return b
	}
	slices.Sort(strains)
	b.StrainP05, b.StrainP95 = quantile(strains, 0.05), quantile(strains, 0.95)
	if k.side < 0 {
		b.Reaches = 1
		return b
	}
	mean, sd := spread(angles)
	b.AngleMean, b.AngleSD = unit.Angle(mean), unit.Angle(sd)
	slices.Sort(radii)
	b.AngleP05, b.AngleP95 = unit.Angle(quantile(angles, 0.05)), unit.Angle(quantile(angles, 0.95))
	b.AngleP025, b.AngleP975 = unit.Angle(quantile(angles, 0.025)), unit.Angle(quantile(angles, 0.975))
	b.RadiusP05, b.RadiusP95 = unit.MM(quantile(radii, 0.05)), unit.MM(quantile(radii, 0.95))
	return b
}

// spread is the mean and the standard deviation.
func spread(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x
	}
	mean /= float64(len(v))
	for _, x := range v {
		sd += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sd / math.Max(float64(len(v)-1), 1))
}

// quantile of sorted values, straight between neighbours.
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
