package unit

import (
	"strconv"
	"strings"
)

// Approx stands before a size that was rounded to a fraction of an inch or to
// half a millimetre. Tenths of a millimetre go without it: the last digit of
// a decimal says how far it was rounded.
const Approx = "≈"

// Style is a way to show a size.
type Style int

// The styles. The zero value is TenthMM.
const (
	TenthMM   Style = iota // 302.4 mm, to the nearest 0.1
	HalfMM                 // ≈302.5 mm, to the nearest 0.5
	Inch32nds              // 11-29/32 in, to the nearest 1/32, lowest terms
	Inch64ths              // 11-29/32 in, to the nearest 1/64, lowest terms
	Feet32nds              // 5 ft 7-1/2 in, to the nearest 1/32
	Feet64ths              // 5 ft 7-1/2 in, to the nearest 1/64
)

// System is the system of units that the style belongs to.
func (st Style) System() System {
	if st >= Inch32nds {
		return Imperial
	}
	return Metric
}

// Step is the distance between two sizes that the style can show.
func (st Style) Step() Length {
	switch st {
	case HalfMM:
		return Millimetre / 2
	case Inch32nds, Feet32nds:
		return Inch32
	case Inch64ths, Feet64ths:
		return Inch64
	}
	return Millimetre / 10
}

// Format shows l in the style, with its unit.
func (l Length) Format(st Style) string {
	r := l.Round(st.Step())
	var s string
	switch st {
	case Inch32nds, Inch64ths:
		s = r.Fraction(int64(Inch/st.Step())).String() + " in"
	case Feet32nds, Feet64ths:
		s = r.feet(int64(Inch / st.Step()))
	default:
		s = decimalText(int64(r), 6) + " mm"
	}
	if r != l && st != TenthMM {
		return Approx + s
	}
	return s
}

// Dual shows l in both systems, the master first: 302.4 mm (≈11-29/32 in).
func (l Length) Dual(master, other Style) string {
	return l.Format(master) + " (" + l.Format(other) + ")"
}

// Exact shows l so that ParseLength gives it back: as decimal millimetres, or
// as inches with a fraction up to 1/64 where that is l and with decimals (at
// most eight, which is finer than half a nanometre) where it is not.
func (l Length) Exact(s System) string {
	if s != Imperial {
		return decimalText(int64(l), 6) + " mm"
	}
	if l%Inch64 == 0 {
		return l.Fraction(64).String() + " in"
	}
	whole, rest := magnitude(l)
	const scale = 100_000_000
	dec := (2*rest*scale + uint64(Inch)) / (2 * uint64(Inch))
	whole, dec = whole+dec/scale, dec%scale
	s8 := strconv.FormatUint(scale+dec, 10)[1:]
	out := strconv.FormatUint(whole, 10) + "." + s8
	out = strings.TrimRight(strings.TrimRight(out, "0"), ".") + " in"
	if l < 0 {
		return "-" + out
	}
	return out
}

// String is the exact length in millimetres, for logs and tests.
func (l Length) String() string { return l.Exact(Metric) }

// Fraction is a number of inches as a whole number and a fraction in lowest
// terms, kept apart so that the fraction can be set as one. Num is 0 and Den 1
// when the inches are whole.
type Fraction struct {
	Neg             bool
	Whole, Num, Den int64
	Rounded         bool // the fraction is the nearest, not the exact one
}

// Fraction is l in inches to the nearest 1/den, halves away from zero; den
// from 1 to a million, and one outside that is taken for the nearer end.
func (l Length) Fraction(den int64) Fraction {
	den = max(1, min(den, 1_000_000))
	whole, rest := magnitude(l)
	scaled := rest * uint64(den)
	num := (2*scaled + uint64(Inch)) / (2 * uint64(Inch))
	f := Fraction{
		Whole:   int64(whole) + int64(num)/den,
		Num:     int64(num) % den,
		Den:     den,
		Rounded: scaled%uint64(Inch) != 0,
	}
	d := gcd(f.Num, f.Den)
	f.Num, f.Den = f.Num/d, f.Den/d
	f.Neg = l < 0 && (f.Whole != 0 || f.Num != 0)
	return f
}

// String is the fraction in one line, without its unit: 11-29/32. It does not
// say whether the fraction was rounded.
func (f Fraction) String() string {
	var b strings.Builder
	if f.Neg {
		b.WriteByte('-')
	}
	if f.Whole != 0 || f.Num == 0 {
		b.WriteString(strconv.FormatInt(f.Whole, 10))
		if f.Num != 0 {
			b.WriteByte('-')
		}
	}
	if f.Num != 0 {
		b.WriteString(strconv.FormatInt(f.Num, 10) + "/" + strconv.FormatInt(f.Den, 10))
	}
	return b.String()
}

// feet shows l as feet and inches; below a foot as inches alone.
func (l Length) feet(den int64) string {
	f := l.Fraction(den)
	feet := f.Whole / 12
	if feet == 0 {
		return f.String() + " in"
	}
	sign := ""
	if f.Neg {
		sign = "-"
	}
	s := sign + strconv.FormatInt(feet, 10) + " ft"
	inches := Fraction{Whole: f.Whole % 12, Num: f.Num, Den: f.Den}
	if inches.Whole == 0 && inches.Num == 0 {
		return s
	}
	return s + " " + inches.String() + " in"
}

// Format is the amount with two decimals and a point: 12.50. The currency is
// the shop's to add.
func (m Money) Format() string {
	u := uint64(m)
	sign := ""
	if m < 0 {
		u, sign = -u, "-"
	}
	cents := strconv.FormatUint(100+u%100, 10)[1:]
	return sign + strconv.FormatUint(u/100, 10) + "." + cents
}

// magnitude is l without its sign in whole inches and the nanometres left.
func magnitude(l Length) (inches, rest uint64) {
	u := uint64(l)
	if l < 0 {
		u = -u
	}
	return u / uint64(Inch), u % uint64(Inch)
}

// decimalText is v/10^places with the zeros at its end dropped.
func decimalText(v int64, places int) string {
	u := uint64(v)
	sign := ""
	if v < 0 {
		u, sign = -u, "-"
	}
	s := strconv.FormatUint(u, 10)
	if len(s) <= places {
		s = strings.Repeat("0", places+1-len(s)) + s
	}
	cut := len(s) - places
	s = strings.TrimRight(s[:cut]+"."+s[cut:], "0")
	return sign + strings.TrimSuffix(s, ".")
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
