package wood

import (
	"math"

	"casewright/internal/unit"
)

// The two documents on withdrawal count specific gravity differently, so it
// has two types that do not mix.
type (
	// SG12 is ovendry mass over volume at 12 % MC, as in the Wood Handbook.
	SG12 float64
	// SGOvendry is ovendry mass over ovendry volume, as in the National
	// Design Specification.
	SGOvendry float64
)

// Sources of the withdrawal loads.
var (
	WithdrawalBy       = Source{"FPL-GTR-190 ch. 8, average ultimate load", Agreed}
	WithdrawalDesignBy = Source{"NDS 2018 12.2.2, reference design value", Quoted}
)

// ScrewWithdrawal is the average ultimate load that draws a screw out of the
// side grain of seasoned wood: 108.25 G² D L newtons with D the shank and L
// the thread in the wood, in millimetres (FPL-GTR-190 ch. 8). Half of the
// screws hold less; it is no working load.
func ScrewWithdrawal(g SG12, shank, thread unit.Length) unit.Force {
	return unit.Force(108.25 * float64(g*g) * shank.MM() * thread.MM())
}

// ScrewWithdrawalDesign is the reference design value of the National Design
// Specification, 2850 G² D lbf per inch of thread in side grain, before the
// factors for duration and service. Its rules allow none in end grain.
func ScrewWithdrawalDesign(g SGOvendry, shank, thread unit.Length) unit.Force {
	return unit.Force(2850*float64(g*g)*shank.In()*thread.In()) * unit.PoundForce
}

// NailWithdrawal is the average ultimate load of a bright common nail in side
// grain, drawn at once: 54.12 G^2.5 D L newtons (FPL-GTR-190 ch. 8).
func NailWithdrawal(g SG12, shank, length unit.Length) unit.Force {
	return unit.Force(54.12 * math.Pow(float64(g), 2.5) * shank.MM() * length.MM())
}
