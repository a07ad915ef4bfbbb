package bend

import (
	"fmt"
	"math"
	"strconv"

	"casewright/internal/unit"
)

// show prints lengths in sentences, in the units asked for.
type show unit.System

func (u show) inches() bool { return unit.System(u) == unit.Imperial }

// size is a length without needless zeros.
func (u show) size(l unit.Length) string { return u.mm(l.MM(), 6) }

// mm is a length in millimetres to so many digits; inches have thousandths, and
// two digits where they are hardly more than that.
func (u show) mm(v float64, digits int) string {
	if u.inches() {
		in := unit.MM(v).In()
		if math.Abs(in) < 0.02 {
			return fmt.Sprintf("%.2g in", in)
		}
		return strconv.FormatFloat(math.Round(in*1000)/1000, 'f', -1, 64) + " in"
	}
	return fmt.Sprintf("%.*g mm", digits, v)
}

// fixed is a length to so many decimals of a millimetre; inches have three at
// least.
func (u show) fixed(l unit.Length, places int) string {
	if u.inches() {
		return fmt.Sprintf("%.*f in", max(places+1, 3), l.In())
	}
	return fmt.Sprintf("%.*f mm", places, l.MM())
}

// span is from one length in millimetres to another, the unit once.
func (u show) span(least, most float64) string {
	if u.inches() {
		return fmt.Sprintf("%.3g to %.3g in", unit.MM(least).In(), unit.MM(most).In())
	}
	return fmt.Sprintf("%.6g to %.6g mm", least, most)
}

// up is a length rounded up to what is set at a saw.
func (u show) up(l unit.Length) string {
	if u.inches() {
		return u.size(l.RoundUp(unit.Inch / 100))
	}
	return u.size(l.RoundUp(unit.Millimetre / 10))
}
