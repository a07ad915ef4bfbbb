package unit

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// MarshalText writes the exact length with its unit: "302.4 mm".
func (l Length) MarshalText() ([]byte, error) { return []byte(l.Exact(Metric)), nil }

// UnmarshalText reads what ParseLength reads, but the unit must be given.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := parseLength(string(text), "", false)
	if err != nil {
		return refuse(string(text), "a length", err, likeLength)
	}
	*l = v
	return nil
}

// MarshalJSON writes the exact length in millimetres as a number: 9.525.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(decimalText(int64(l), 6)), nil }

// UnmarshalJSON reads a number of millimetres; what is finer than a nanometre
// is rounded, halves away from zero. It takes the whole range of a Length, so
// that whatever was computed and written can be read again. As is usual, null
// leaves the length alone.
func (l *Length) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	r, err := jsonNumber(string(data))
	if err != nil {
		return refuse(string(data), "a length in millimetres", err, "438.2")
	}
	n := nearest(r.Mul(r, big.NewRat(int64(Millimetre), 1)))
	if !n.IsInt64() {
		return refuse(string(data), "a length in millimetres", errors.New("it is too large"), "438.2")
	}
	*l = Length(n.Int64())
	return nil
}

// MarshalJSON writes the angle in degrees as a number.
func (a Angle) MarshalJSON() ([]byte, error) {
	deg := a.Deg()
	if math.IsNaN(deg) || math.IsInf(deg, 0) {
		return nil, errors.New("an angle that is not a number cannot be written")
	}
	// 22.5 degrees may come back from radians as 22.500000000000004; fifteen
	// digits are kept where they give the same angle.
	if short, err := strconv.ParseFloat(strconv.FormatFloat(deg, 'g', 15, 64), 64); err == nil && Deg(short) == a {
		deg = short
	}
	return strconv.AppendFloat(nil, deg, 'g', -1, 64), nil
}

// UnmarshalJSON reads a number of degrees; null leaves the angle alone.
func (a *Angle) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	deg, err := strconv.ParseFloat(string(data), 64)
	if err != nil || math.IsNaN(deg) || math.IsInf(deg, 0) {
		return refuse(string(data), "an angle in degrees", errors.New("it is not a number"), "22.5")
	}
	*a = Deg(deg)
	return nil
}

// MarshalJSON writes the amount as a number with two decimals: 12.50.
func (m Money) MarshalJSON() ([]byte, error) { return []byte(m.Format()), nil }

// UnmarshalJSON reads a number with at most two decimals; null leaves the
// amount alone.
func (m *Money) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	r, err := jsonNumber(string(data))
	if err != nil {
		return refuse(string(data), "an amount of money", err, likeMoney)
	}
	r.Mul(r, big.NewRat(100, 1))
	if !r.IsInt() || !r.Num().IsInt64() {
		return refuse(string(data), "an amount of money",
			errors.New("it has more than two decimals or is too large"), likeMoney)
	}
	*m = Money(r.Num().Int64())
	return nil
}

// jsonNumber is the exact value of a JSON number. Its size is bounded before
// any arithmetic: 1e999999999 must not fill the memory.
func jsonNumber(s string) (*big.Rat, error) {
	if len(s) > maxText {
		return nil, errors.New("it is too long to be one number")
	}
	if s == "" || strings.Trim(s, "0123456789+-.eE") != "" {
		return nil, errors.New("it is not a number")
	}
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		if exp, err := strconv.Atoi(s[i+1:]); err != nil || exp > 40 || exp < -40 {
			return nil, fmt.Errorf("the exponent %s is out of reach", quote(s[i+1:]))
		}
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, errors.New("it is not a number")
	}
	return r, nil
}
