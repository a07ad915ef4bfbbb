package bend

import (
	"math"
	"math/rand/v2"
	"slices"

	"casewright/internal/unit"
)

// Free is how unevenly a bend with open kerfs shares its angle when no form
// holds it: with the same moment in every kerf, one turns as its bent length
// over the cube of its skin, elastic all through. Derived; by simulation.
type Free struct {
	Worst    float64     // turn of the worst kerf over the mean turn, on average
	WorstP95 float64     // the same, 95 bends in 100 are under it
	Away     unit.Length // most the face stands away from its circle, on average
}

// FreeBend simulates the bend without a form.
func (r Result) FreeBend() Free {
	if r.Count == 0 {
		return Free{}
	}
	s := r.Spec
	rng := rand.New(rand.NewPCG(s.Seed, 0x66726565))
	each, pitch, n := s.Scatter.Depth.MM(), r.pitch(), r.Count
	phi, mean := r.Turn.Rad(), r.Turn.Rad()/float64(n)
	k := newModel(s)
	one := k
	turns := make([]float64, n)
	worst := make([]float64, min(s.Draws, 500)) // plenty for two figures
	var sumWorst, sumAway float64
	for i := range worst {
		sum := 0.0
		for j := range turns {
			t := math.Max(s.Skin.MM()+each*rng.NormFloat64(), s.Skin.MM()/5)
			one.set(&k, k.T, t, 0)
			turns[j] = one.bent(pitch) / (t * t * t)
			sum += turns[j]
		}
		most := 0.0
		for j := range turns {
			turns[j] *= phi / sum
			most = math.Max(most, turns[j])
		}
		worst[i] = most / mean
		sumWorst += worst[i]
		sumAway += away(turns, pitch, phi)
	}
	slices.Sort(worst)
	draws := float64(len(worst))
	return Free{Worst: sumWorst / draws, WorstP95: quantile(worst, 0.95), Away: unit.MM(sumAway / draws)}
}

// away is how far the land middles of a chain with these turns stand from the
// circle of an even chain, the two laid with their chords on each other.
func away(turns []float64, pitch, phi float64) float64 {
	xs, ys := make([]float64, 1, len(turns)+1), make([]float64, 1, len(turns)+1)
	x, y, head := 0.0, 0.0, 0.0
	step := func(l float64) {
		sin, cos := math.Sincos(head)
		x, y = x+l*cos, y+l*sin
	}
	for _, turn := range turns {
		step(pitch / 2)
		head += turn
		step(pitch / 2)
		xs, ys = append(xs, x), append(ys, y)
	}
	radius := pitch / 2 / math.Tan(phi/float64(len(turns))/2)
	// The circle's centre lies square to the chord's middle, on its left
	// while the bend turns less than 180 degrees.
	chord := math.Atan2(y, x)
	if math.Hypot(x, y) < radius/2 { // nearly a ring: too short to point the way
		chord = phi / 2
	}
	rise := radius * math.Cos(phi/2)
	cx, cy := x/2-rise*math.Sin(chord), y/2+rise*math.Cos(chord)
	most := 0.0
	for i := range xs {
		most = math.Max(most, math.Abs(math.Hypot(xs[i]-cx, ys[i]-cy)-radius))
	}
	return most
}
