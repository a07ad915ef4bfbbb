package bend

import (
	"math"

	"casewright/internal/unit"
)

// Sensitivity is what one error does to a bend. Derived, first order.
type Sensitivity struct {
	What   string      // the error
	Step   unit.Length // its size, one standard deviation
	Turn   unit.Angle  // change of the closing angle
	Strain float64     // relative change of the strain
}

// Sensitivities lists what each error of the scatter does to the closing
// angle (0 for kerfs outside) and the strain. Errors of each kerf divide by
// the root of the count; shared ones do not. The neutral depth is given by
// its share of the skin. A scatter out of range is taken as the spec's.
func (r Result) Sensitivities(c Scatter) []Sensitivity {
	if c.validate(r.show()) != nil {
		c = *r.Spec.Scatter
	}
	k := newModel(r.Spec)
	total, root := r.ClosesAt.Rad(), math.Sqrt(float64(r.Count))
	w, h, t := r.Kerf.MM(), r.Lever.MM(), k.t
	share := k.over() / math.Max(r.BentEach.MM(), 1e-9) // of the bending that lies over the kerf
	ratio := k.yn / t
	// Lever: h = T - ratio·t. Depth from the kerfed face: t = T - d.
	depth, thick := ratio, 1-ratio // dh for dd, dT
	skinByThick := 1.0
	if r.Spec.DepthFrom == FromUncutFace {
		depth, thick, skinByThick = ratio, 1, 0 // dh for a skin thinner by dd
	}
	row := func(what string, step unit.Length, turn, strain float64) Sensitivity {
		return Sensitivity{what, step, unit.Angle(math.Abs(turn)), math.Abs(strain)}
	}
	mm := unit.Length.MM
	return []Sensitivity{
		row("kerf, the same for all", c.KerfShared, total*mm(c.KerfShared)/w, share*mm(c.KerfShared)/w),
		row("kerf, each", c.Kerf, total*mm(c.Kerf)/w/root, share*mm(c.Kerf)/w),
		row("depth, the same for all", c.DepthShared, total*depth*mm(c.DepthShared)/h, share*mm(c.DepthShared)/t),
		row("depth, each", c.Depth, total*depth*mm(c.Depth)/h/root, share*mm(c.Depth)/t),
		row("panel thickness", c.Thickness, total*thick*mm(c.Thickness)/h, skinByThick*share*mm(c.Thickness)/t),
		row("neutral depth", r.Spec.Skin.Scale(c.NeutralRatio), total*c.NeutralRatio*t/h, 0),
		row("pitch, each", c.Pitch, 0, 0),
	}
}

// Together is the root of the sum of squares of the closing-angle changes.
func Together(all []Sensitivity) unit.Angle {
	sum := 0.0
	for _, s := range all {
		sum += s.Turn.Rad() * s.Turn.Rad()
	}
	return unit.Angle(math.Sqrt(sum))
}
