package unit

import (
	"errors"
	"fmt"
	"math/big"
)

// MaxLength is the longest size that is read, either way: one kilometre. A
// size beyond it is a slip of the keyboard.
const MaxLength = 1000 * Metre

const (
	likeLength = "17 1/4 in or 438.2 mm"
	likeAngle  = "90° or 1.5 rad"
	likeMoney  = "12.50"
)

// lengthUnits gives each name of a unit in nanometres.
var lengthUnits = map[string]Length{
	"mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"cm": Centimetre, "centimetre": Centimetre, "centimetres": Centimetre, "centimeter": Centimetre, "centimeters": Centimetre,
	"m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
	`"`: Inch, "in": Inch, "inch": Inch, "inches": Inch,
	"'": Foot, "ft": Foot, "foot": Foot, "feet": Foot,
}

// ParseLength reads a size the way makers write it: 17 1/4 in, 17-1/4",
// 11 29⁄32 in, 17¼", .75", 302.4 mm, 302,4 mm, 30 cm, 1.2 m, 6', 5' 7-1/2",
// 5 ft 7 1/2 in. A number without a unit is in millimetres or inches as bare
// says, but a bare fraction is read only in inches: among millimetres, "3/4"
// is more often a forgotten inch mark than three quarters of a millimetre.
//
// The arithmetic is exact; what is finer than a nanometre is rounded, halves
// away from zero. Sizes beyond ±MaxLength are refused. The error is one
// sentence with what was read and a good form.
func ParseLength(s string, bare System) (Length, error) {
	l, err := parseLength(s, bare.String(), bare == Imperial)
	if err != nil {
		return 0, refuse(s, "a length", err, likeLength)
	}
	return l, nil
}

// parseLength reads s; bare is the unit of a number without one, "" to refuse
// such a number.
func parseLength(s, bare string, bareFraction bool) (Length, error) {
	q, err := read(s, func(unit string) bool { return lengthUnits[unit] == Foot })
	if err != nil {
		return 0, err
	}
	first := &q.terms[0]
	if first.unit == "" {
		switch {
		case bare == "":
			return 0, errors.New("it has no unit")
		case first.frac && !bareFraction:
			return 0, fmt.Errorf("it is a fraction without a unit where sizes are in %s", bare)
		}
		first.unit = bare
	}
	if len(q.terms) == 2 {
		inches := &q.terms[1]
		if inches.unit == "" {
			inches.unit = "in"
		}
		if lengthUnits[inches.unit] != Inch {
			return 0, fmt.Errorf("only inches can follow feet, not %s", quote(inches.unit))
		}
		if !first.whole() {
			return 0, errors.New("feet with inches after them must be a whole number")
		}
		if inches.num.Cmp(big.NewRat(12, 1)) >= 0 {
			return 0, errors.New("inches after feet must be less than 12")
		}
	}
	for _, t := range q.terms {
		if _, ok := lengthUnits[t.unit]; !ok {
			return 0, fmt.Errorf("%s is not a unit of length that is known here", quote(t.unit))
		}
	}
	n := nearest(q.sum(func(unit string) *big.Rat { return big.NewRat(int64(lengthUnits[unit]), 1) }))
	if n.CmpAbs(big.NewInt(int64(MaxLength))) > 0 {
		return 0, errors.New("it is more than a kilometre, the longest size that is read")
	}
	return Length(n.Int64()), nil
}

// ParseAngle reads 90, 90 deg, 90°, 22 1/2° or 1.5 rad, up to 100 turns either
// way. A number without a unit is in degrees.
func ParseAngle(s string) (Angle, error) {
	a, err := parseAngle(s)
	if err != nil {
		return 0, refuse(s, "an angle", err, likeAngle)
	}
	return a, nil
}

func parseAngle(s string) (Angle, error) {
	q, err := read(s, func(string) bool { return false })
	if err != nil {
		return 0, err
	}
	v, _ := q.sum(func(string) *big.Rat { return big.NewRat(1, 1) }).Float64()
	var a Angle
	switch u := q.terms[0].unit; u {
	case "", "°", "deg", "degree", "degrees":
		a = Deg(v)
	case "rad", "radian", "radians":
		a = Angle(v)
	default:
		return 0, fmt.Errorf("%s is not a unit of angle that is known here", quote(u))
	}
	if a > 400*Right || a < -400*Right {
		return 0, errors.New("it is more than 100 turns")
	}
	return a, nil
}

// ParseMoney reads 12, 12.5, 12.50 or 12,50 in the shop's currency, exactly,
// up to a milliard either way. Fractions of the minor unit are refused, and so
// are currency signs: the currency is a setting of the shop.
func ParseMoney(s string) (Money, error) {
	m, err := parseMoney(s)
	if err != nil {
		return 0, refuse(s, "an amount of money", err, likeMoney)
	}
	return m, nil
}

func parseMoney(s string) (Money, error) {
	q, err := read(s, func(string) bool { return false })
	if err != nil {
		return 0, err
	}
	t := q.terms[0]
	switch {
	case t.unit != "":
		return 0, fmt.Errorf("%s is not needed, the shop says which currency", quote(t.unit))
	case t.frac:
		return 0, errors.New("money has no fraction bar")
	}
	minor := q.sum(func(string) *big.Rat { return big.NewRat(100, 1) })
	if !minor.IsInt() {
		return 0, errors.New("it has more than two decimals")
	}
	if minor.Num().CmpAbs(big.NewInt(100_000_000_000)) > 0 {
		return 0, errors.New("it is more than 1000000000")
	}
	return Money(minor.Num().Int64()), nil
}
