package unit

import (
	"math"
	"strconv"
	"strings"
)

// SquareFoot is the square foot, exact by definition.
const SquareFoot Area = 0.3048 * 0.3048

// PoundFoot is the moment of a pound-force at a foot in newton metres, exact by
// definition.
const PoundFoot = float64(PoundForce) * 0.3048

// Litre volumes of the United States: a gallon of 231 cubic inches and its
// parts, in litres. NIST Handbook 44, appendix C (from memory).
const (
	Gallon     = 231 * 2.54 * 2.54 * 2.54 / 1000
	Quart      = Gallon / 4
	Pint       = Gallon / 8
	FluidOunce = Gallon / 128
)

// Ounce is the avoirdupois ounce.
const Ounce = Pound / 16

// fixed prints v with so many decimals.
func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// Led prints a mass in the leading unit of a piece: kilograms, or pounds with
// kilograms behind.
func (m Mass) Led(s System, decimals int) string {
	kg := fixed(float64(m), decimals) + " kg"
	if s == Imperial {
		return fixed(float64(m/Pound), decimals) + " lb (" + kg + ")"
	}
	return kg
}

// Small prints a small mass in grams, or in ounces with grams behind.
func (m Mass) Small(s System) string {
	g := fixed(float64(m)*1000, 0) + " g"
	if s == Imperial {
		decimals := 1
		if m < Ounce {
			decimals = 2
		}
		return fixed(float64(m/Ounce), decimals) + " oz (" + g + ")"
	}
	return g
}

// Led prints a force in newtons, or in pounds-force with newtons behind.
func (f Force) Led(s System) string {
	n := fixed(float64(f), 0) + " N"
	if s == Imperial {
		return fixed(float64(f/PoundForce), 0) + " lbf (" + n + ")"
	}
	return n
}

// Both prints a force in newtons and pounds-force, the leading one first.
func (f Force) Both(s System) string {
	if s == Imperial {
		return f.Led(s)
	}
	return f.Led(s) + " (" + fixed(float64(f/PoundForce), 0) + " lbf)"
}

// Both prints a mass in kilograms and pounds, the leading one first.
func (m Mass) Both(s System, decimals int) string {
	if s == Imperial {
		return m.Led(s, decimals)
	}
	return m.Led(s, decimals) + " (" + fixed(float64(m/Pound), decimals) + " lb)"
}

// Stated prints a mass that somebody gave, a load or a rating, in the leading
// unit: to a tenth, which says 26.5 lb for 12 kg and neither 26 nor 27, and
// without one where it is whole.
func (m Mass) Stated(s System) string {
	if s == Imperial {
		return tenths(float64(m/Pound)) + " lb (" + tenths(float64(m)) + " kg)"
	}
	return tenths(float64(m)) + " kg"
}

// StatedBoth prints it in kilograms and pounds, the leading one first.
func (m Mass) StatedBoth(s System) string {
	if s == Imperial {
		return m.Stated(s)
	}
	return m.Stated(s) + " (" + tenths(float64(m/Pound)) + " lb)"
}

// tenths prints v to one decimal, or none where that is 0.
func tenths(v float64) string { return strings.TrimSuffix(fixed(v, 1), ".0") }

// RoundedUp is a mass rounded up to a whole kilogram, or pound where inches
// lead, for what must not be less.
func (m Mass) RoundedUp(s System) Mass {
	if s == Imperial {
		return Mass(math.Ceil(float64(m/Pound)-1e-9)) * Pound
	}
	return Mass(math.Ceil(float64(m) - 1e-9))
}

// RoundedUp is a force rounded up to a whole newton, or pound-force where
// inches lead.
func (f Force) RoundedUp(s System) Force {
	if s == Imperial {
		return Force(math.Ceil(float64(f/PoundForce)-1e-9)) * PoundForce
	}
	return Force(math.Ceil(float64(f) - 1e-9))
}

// Led prints an area in square metres, or in square feet with metres behind.
func (a Area) Led(s System, decimals int) string {
	m2 := fixed(float64(a), decimals) + " m²"
	if s == Imperial {
		return fixed(float64(a/SquareFoot), max(0, decimals-1)) + " sq ft (" + m2 + ")"
	}
	return m2
}

// Moment prints a moment of so many newton metres, in pound-force feet with
// newton metres behind where inches lead.
func Moment(nm float64, s System) string {
	metric := fixed(nm, 0) + " N m"
	if s == Imperial {
		return fixed(nm/PoundFoot, 0) + " lbf ft (" + metric + ")"
	}
	return metric
}

// NoMoment is the limit of a piece that must not fall.
func NoMoment(s System) string {
	if s == Imperial {
		return "0 lbf ft"
	}
	return "0 N m"
}

// Liquid prints so many litres, in quarts with litres behind where inches lead.
func Liquid(litres float64, s System) string {
	l := fixed(litres, 2) + " l"
	if s == Imperial {
		n := fixed(litres/Quart, 2)
		if n == "1.00" {
			return "1 quart (" + l + ")"
		}
		return n + " quarts (" + l + ")"
	}
	return l
}
