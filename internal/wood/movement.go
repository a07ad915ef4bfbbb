package wood

import (
	"fmt"

	"casewright/internal/unit"
)

// Moisture is a moisture content in percent of the ovendry mass.
type Moisture float64

// Direction is which way the growth rings lie across a board's width.
type Direction int

// The two directions. Along the grain wood is taken as still.
const (
	Tangential Direction = iota // flat-sawn: the width follows the rings
	Radial                      // quarter-sawn: the width crosses the rings
)

func (d Direction) String() string {
	if d == Radial {
		return "quarter-sawn"
	}
	return "flat-sawn"
}

// Coefficient is the change of width per percent of moisture content, as a
// fraction of the width.
type Coefficient float64

// The two movement equations of the Wood Handbook and what they hold for.
var (
	byCoefficient = Source{"FPL-GTR-190 eq. 13-2", Seen}
	byShrinkage   = Source{"FPL-GTR-190 eq. 13-3", Seen}
)

// fibreSaturation is where shrinkage is taken to start, in percent MC.
const fibreSaturation = 30

// Move is by how much a width changes, and how that was found.
type Move struct {
	Change      unit.Length // positive: it grows
	From, To    Moisture
	Coefficient Coefficient // zero where total shrinkage was used
	Shrinkage   float64     // total shrinkage in percent, where that was used
	Equation    Source
	Figure      Source // of the coefficient or the shrinkage
}

// Movement is the change of a width between two moisture contents by the
// dimensional change coefficient (FPL-GTR-190 eq. 13-2). It holds from 6 to
// 14 % MC; outside it returns a *RangeError. The result is rounded to the
// nearest nanometre.
func Movement(width unit.Length, c Coefficient, from, to Moisture) (unit.Length, error) {
	if err := within("movement coefficient", float64(c), 0, 0.01, "per % MC", byCoefficient); err != nil {
		return 0, err
	}
	for _, m := range []Moisture{from, to} {
		if err := within("moisture content", float64(m), 6, 14, "%", byCoefficient); err != nil {
			return 0, err
		}
	}
	return width.Scale(float64(c) * float64(to-from)), nil
}

// ShrinkageMovement is the change of a width by total shrinkage in percent
// from green to ovendry (FPL-GTR-190 eq. 13-3), for 0 to 30 % MC; outside it
// returns a *RangeError.
func ShrinkageMovement(width unit.Length, total float64, from, to Moisture) (unit.Length, error) {
	if err := within("total shrinkage", total, 0.1, 30, "%", byShrinkage); err != nil {
		return 0, err
	}
	for _, m := range []Moisture{from, to} {
		if err := within("moisture content", float64(m), 0, fibreSaturation, "%", byShrinkage); err != nil {
			return 0, err
		}
	}
	return width.Scale(float64(to-from) / (3000/total - fibreSaturation + float64(from))), nil
}

// Coefficient is the movement coefficient in a direction: the published one,
// else the one that follows from total shrinkage, else false.
func (s Species) Coefficient(d Direction) (Coefficient, Source, bool) {
	c, total := s.cT, s.ShrinkT
	if d == Radial {
		c, total = s.cR, s.ShrinkR
	}
	switch {
	case c > 0:
		return Coefficient(c), s.coefBy, true
	case total > 0:
		return CoefficientOf(total), Source{s.ShrinkBy.Name + ", coefficient from total shrinkage", Computed}, true
	}
	return 0, Source{}, false
}

// CoefficientOf is the movement coefficient that belongs to a total shrinkage
// in percent, taken about 10 % MC with shrinkage starting at 30 %. The
// handbook's tables 4-3 and 13-5 agree by it to 0.00001 for single species.
func CoefficientOf(total float64) Coefficient { return coefficientFrom(total, fibreSaturation) }

func coefficientFrom(total, start float64) Coefficient {
	return Coefficient((total / start) / (100 - total*(start-10)/start))
}

// Movement is the change of a width of this wood: by the coefficient where
// both moisture contents lie from 6 to 14 %, otherwise by total shrinkage.
// Errors are *RangeError, or *NoMovementError where neither is published.
func (s Species) Movement(width unit.Length, d Direction, from, to Moisture) (Move, error) {
	m := Move{From: from, To: to}
	if c, by, ok := s.Coefficient(d); ok {
		if change, err := Movement(width, c, from, to); err == nil {
			m.Change, m.Coefficient, m.Equation, m.Figure = change, c, byCoefficient, by
			return m, nil
		}
	}
	total := s.ShrinkT
	if d == Radial {
		total = s.ShrinkR
	}
	if total == 0 {
		if c, _, ok := s.Coefficient(d); ok {
			_, err := Movement(width, c, from, to)
			return Move{}, err
		}
		return Move{}, &NoMovementError{s.Name, d}
	}
	change, err := ShrinkageMovement(width, total, from, to)
	if err != nil {
		return Move{}, err
	}
	m.Change, m.Shrinkage, m.Equation, m.Figure = change, total, byShrinkage, s.ShrinkBy
	return m, nil
}

// NoMovementError says that no movement figures are known for a wood.
type NoMovementError struct {
	Wood      string
	Direction Direction
}

func (e *NoMovementError) Error() string {
	return fmt.Sprintf("no movement figures are known for %s, %s; allow for it as for a similar wood", e.Wood, e.Direction)
}
