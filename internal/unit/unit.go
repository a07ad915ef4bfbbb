// Package unit holds the quantities of the trade as types of their own, so
// that a bare number is never a length, an angle or a price.
//
// Nominal sizes are exact: a Length is a whole number of nanometres, in which
// both one millimetre and 1/64 inch (396 875 nm) have no remainder. Mechanics
// is done in float64 inside the package that needs it, through conversions
// whose names state the unit.
package unit

import "math"

// Length is a signed distance in whole nanometres. Its range is about
// ±9.2 million kilometres; sums of furniture sizes never overflow.
type Length int64

// The lengths that others are counted in. All are exact.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre // 25.4 mm exactly
	Foot              = 12 * Inch
	Inch64            = Inch / 64 // 396 875 nm, exact
	Inch32            = Inch / 32
)

// MM is the length nearest to v millimetres, halves away from zero.
func MM(v float64) Length { return Length(math.Round(v * float64(Millimetre))) }

// In is the length nearest to v inches, halves away from zero.
func In(v float64) Length { return Length(math.Round(v * float64(Inch))) }

// MM is l in millimetres; exact up to the 53 bits of a float64.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// In is l in inches; exact up to the 53 bits of a float64.
func (l Length) In() float64 { return float64(l) / float64(Inch) }

// Metres is l in metres, for mechanics in SI.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Scale is l times f, rounded to the nearest nanometre.
func (l Length) Scale(f float64) Length { return Length(math.Round(float64(l) * f)) }

// Abs is l without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Angle is a plane angle in radians.
type Angle float64

// Right is a quarter turn.
const Right Angle = math.Pi / 2

// Deg is the angle of v degrees.
func Deg(v float64) Angle { return Angle(v * math.Pi / 180) }

// Deg is a in degrees.
func (a Angle) Deg() float64 { return float64(a) * 180 / math.Pi }

// Rad is a in radians.
func (a Angle) Rad() float64 { return float64(a) }

// Area is a surface in square metres.
type Area float64

// AreaOf is the surface of a rectangle of the two sides.
func AreaOf(a, b Length) Area { return Area(a.Metres() * b.Metres()) }

// Volume is a volume in cubic metres.
type Volume float64

// VolumeOf is the volume of a block of the three sides.
func VolumeOf(a, b, c Length) Volume { return Volume(a.Metres() * b.Metres() * c.Metres()) }

// BoardFoot is 144 cubic inches, the measure by which solid wood is sold.
const BoardFoot Volume = 144 * 0.0254 * 0.0254 * 0.0254

// BoardFeet is v in board feet.
func (v Volume) BoardFeet() float64 { return float64(v / BoardFoot) }

// Mass is a mass in kilograms.
type Mass float64

// Pound is the avoirdupois pound, exact by definition.
const Pound Mass = 0.45359237

// Density is a mass per volume in kilograms per cubic metre.
type Density float64

// Of is the mass of a volume v of the stuff.
func (d Density) Of(v Volume) Mass { return Mass(float64(d) * float64(v)) }

// Force is a force in newtons.
type Force float64

// PoundForce is the pound-force, exact by definition.
const PoundForce Force = 4.4482216152605

// Stress is a force per area, or a modulus, in megapascals (N/mm²).
type Stress float64

// Money is an amount in the minor unit of the shop's currency (cents). It is
// exact; the currency is a setting of the shop.
type Money int64
