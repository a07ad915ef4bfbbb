package unit

import "fmt"

// System is the family of units that a bare number is read in, and the one
// that leads where both are shown.
type System int

// The two systems. The zero value is Metric.
const (
	Metric   System = iota // bare numbers are millimetres
	Imperial               // bare numbers are inches
)

// String is the name of the system's unit of small sizes: "mm" or "in".
func (s System) String() string {
	if s == Imperial {
		return "in"
	}
	return "mm"
}

// Other is the system that is not s.
func (s System) Other() System {
	if s == Imperial {
		return Metric
	}
	return Imperial
}

// MarshalText writes "mm" or "in".
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads "mm" or "in".
func (s *System) UnmarshalText(text []byte) error {
	switch string(text) {
	case "mm":
		*s = Metric
	case "in":
		*s = Imperial
	default:
		return fmt.Errorf("%s is not a unit for bare numbers; write mm or in", quote(string(text)))
	}
	return nil
}

// Leading is the style of sizes where the system leads, on every screen and
// paper: a tenth of a millimetre, or 1/64 in, which is read off a rule.
func (s System) Leading() Style {
	if s == Imperial {
		return Inch64ths
	}
	return TenthMM
}

// Following is the style where the other system leads and sizes in this one
// stand beside for comparison: a tenth of a millimetre, or 1/32 in.
func (s System) Following() Style {
	if s == Imperial {
		return Inch32nds
	}
	return TenthMM
}
