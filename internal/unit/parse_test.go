package unit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// One inch is 25.4 mm and one foot 12 inches exactly: international yard and
// pound agreement of 1959, as in NIST SP 811 appendix B. All expected values
// follow from that by hand.
func TestParseLength(t *testing.T) {
	const in64 = 396_875 * Nanometre
	tests := []struct {
		in   string
		bare System
		want Length
	}{
		{`17 1/4 in`, Metric, 438_150_000},
		{`17-1/4"`, Metric, 438_150_000},
		{`17-1/4 inches`, Metric, 438_150_000},
		{`17 1/4 in.`, Metric, 438_150_000},
		{`17¼"`, Metric, 438_150_000},
		{`17 ¼"`, Metric, 438_150_000},
		{`17-¼”`, Metric, 438_150_000},
		{`17.25 IN`, Metric, 438_150_000},
		{`17,25"`, Metric, 438_150_000},
		{`17 1/4`, Imperial, 438_150_000},
		{`17¼`, Imperial, 438_150_000},
		{`17¹⁄₄ in`, Metric, 438_150_000},
		{`  17   1 / 4  in  `, Metric, 438_150_000},
		{`11-29/32"`, Metric, 11*Inch + 58*in64},
		{`11 29⁄32 in`, Metric, 11*Inch + 58*in64},
		{`3/4`, Imperial, 19_050_000},
		{`¾"`, Metric, 19_050_000},
		{`.75"`, Metric, 19_050_000},
		{`0,75 in`, Metric, 19_050_000},
		{`5/4 in`, Metric, 31_750_000}, // rough stock is called by quarters
		{`-3/4"`, Metric, -19_050_000},
		{`- 17 1/4 in`, Metric, -438_150_000},
		{`−2 mm`, Imperial, -2 * Millimetre},
		{`+2`, Metric, 2 * Millimetre},
		{`2`, Imperial, 2 * Inch},
		{`0`, Imperial, 0},
		{`-0`, Metric, 0},
		{`302.4 mm`, Imperial, 302_400_000},
		{`302,4 mm`, Imperial, 302_400_000},
		{`302.4MM`, Imperial, 302_400_000},
		{`30 cm`, Imperial, 300 * Millimetre},
		{`1.2 m`, Imperial, 1200 * Millimetre},
		{`1.2 Metres`, Imperial, 1200 * Millimetre},
		{`1250 mm`, Metric, 1250 * Millimetre},
		{`1.250 in`, Metric, 31_750_000},
		{`0,125 in`, Metric, 3_175_000},
		{`1250,125 mm`, Metric, 1_250_125_000},
		{`010 mm`, Metric, 10 * Millimetre},
		{`1/2 mm`, Imperial, 500 * Micrometre},
		{`6'`, Metric, 6 * Foot},
		{`6 ft`, Metric, 1_828_800_000},
		{`6½ feet`, Metric, 78 * Inch},
		{`5' 7-1/2"`, Metric, 1_714_500_000},
		{`5'7½"`, Metric, 1_714_500_000},
		{`5′ 7 1/2″`, Metric, 1_714_500_000},
		{`5’ 7 1/2''`, Metric, 1_714_500_000},
		{`5’ 7 1/2’’`, Metric, 1_714_500_000},
		{`5'-7 1/2"`, Metric, 1_714_500_000},
		{`5' - 7 1/2"`, Metric, 1_714_500_000},
		{`5 ft 7 1/2 in`, Metric, 1_714_500_000},
		{`5 ft. 7 1/2 in.`, Metric, 1_714_500_000},
		{`5 ft, 7.5 in`, Metric, 1_714_500_000},
		{`5' 7`, Metric, 67 * Inch},
		{`-5' 6"`, Metric, -66 * Inch},
		{"17\u00a01/4\u202fin", Metric, 438_150_000},
		{`1/3 in`, Metric, 8_466_667},   // 8.466 666… mm
		{`1/127 in`, Metric, 200_000},   // 25.4/127 = 0.2 mm
		{`0.0000005 mm`, Metric, 1},     // half a nanometre goes away from zero
		{`-0.0000005 mm`, Metric, -1},   //
		{`0.00000049999 mm`, Metric, 0}, //
		{`1000 m`, Metric, MaxLength},
		{`-1000 m`, Metric, -MaxLength},
	}
	for _, tt := range tests {
		got, err := ParseLength(tt.in, tt.bare)
		if err != nil || got != tt.want {
			t.Errorf("ParseLength(%q, %v) = %d, %v; want %d", tt.in, tt.bare, int64(got), err, int64(tt.want))
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	tests := []struct{ in, says string }{
		{``, `a length is missing`},
		{`   `, `a length is missing`},
		{`mm`, `a number should stand where “mm” does`},
		{`-`, `there is no number`},
		{`1,250 mm`, `1,250 can mean 1250 or 1.250; write 1250, or 1.250 with a point`},
		{`1,234,567 mm`, `more than one point or comma`},
		{`1.234,5 mm`, `more than one point or comma`},
		{`1.2.3 mm`, `more than one point or comma`},
		{`1 250 mm`, `“250” is left over after “1”`},
		{`17 18 in`, `is left over`},
		{`17-18 in`, `is left over`},
		{`17 -1/4 in`, `a dash with a space beside it could mean minus`},
		{`17 - 1/4 in`, `a dash with a space beside it could mean minus`},
		{`17.5 1/4 in`, `has a decimal and a fraction`},
		{`17.0 1/4 in`, `has a decimal and a fraction`},
		{`17 5/4 in`, `the fraction after 17 is not less than one`},
		{`1/0 in`, `divided by zero`},
		{`17 1/0 in`, `divided by zero`},
		{`1/2.5 in`, `whole numbers above and below`},
		{`1/ in`, `below the fraction bar is missing`},
		{`17/`, `below the fraction bar is missing`},
		{`/4`, `a number should stand where “/” does`},
		{`1/2/3 in`, `left over`},
		{`--2`, `a number should stand where “-” does`},
		{`NaN`, `a number should stand where “nan” does`},
		{`inf`, `a number should stand where “inf” does`},
		{`1e3`, `“3” is left over after “e”`},
		{`0x10`, `“10” is left over after “x”`},
		{`5 furlongs`, `“furlongs” is not a unit of length`},
		{`6 mil`, `“mil” is not a unit of length`}, // a thousandth of an inch to some, a millimetre to others
		{`5 mm 3 in`, `left over`},
		{`1 m 20 cm`, `left over`},
		{`5 ft 3 mm`, `only inches can follow feet`},
		{`5 ft 3 ft`, `only inches can follow feet`},
		{`5' 3" 2"`, `left over`},
		{`5.5' 3"`, `must be a whole number`},
		{`5' 14"`, `must be less than 12`},
		{`5' -`, `a number is missing at its end`},
		{`5' -3"x`, `left over`},
		{`3/4`, `it is a fraction without a unit where sizes are in mm`},
		{`¾`, `it is a fraction without a unit where sizes are in mm`},
		{`90°`, `“°” is not a unit of length`},
		{`≈11-29/32 in`, `rounded for show`},
		{`~12 mm`, `rounded for show`},
		{`17#`, `the sign “#” has no place in it`},
		{`1001 m`, `more than a kilometre`},
		{`-1000.1 m`, `more than a kilometre`},
		{strings.Repeat("9", 90) + ` mm`, `more than a kilometre`},
		{strings.Repeat("9", 1000), `too long`},
		{"5\x00mm", `the sign “�” has no place`},
		{"\xff\xfe", `has no place`},
	}
	for _, tt := range tests {
		got, err := ParseLength(tt.in, Metric)
		if err == nil {
			t.Errorf("ParseLength(%q) = %v, want a refusal", tt.in, got)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) {
			t.Errorf("ParseLength(%q) says %q, want it to hold %q", tt.in, err, tt.says)
		}
		if !strings.Contains(err.Error(), "write it like "+likeLength) || len(err.Error()) > 300 {
			t.Errorf("ParseLength(%q) says %q: no good form, or too long", tt.in, err)
		}
	}
}

func TestParseAngle(t *testing.T) {
	tests := []struct {
		in   string
		want Angle
	}{
		{`90`, Right},
		{`90 deg`, Right},
		{`90°`, Right},
		{`-90 Degrees`, -Right},
		{`22,5°`, math.Pi / 8},
		{`22 1/2°`, math.Pi / 8},
		{`22½ º`, math.Pi / 8},
		{`1.5 rad`, 1.5},
		{`0`, 0},
	}
	for _, tt := range tests {
		got, err := ParseAngle(tt.in)
		if err != nil || math.Abs(float64(got-tt.want)) > 1e-15 {
			t.Errorf("ParseAngle(%q) = %v, %v; want %v", tt.in, float64(got), err, float64(tt.want))
		}
	}
	for _, in := range []string{``, `NaN`, `90 mm`, `90 90`, `1/0`, `36001`, `-101 rad 5`, `12° 30'`} {
		if got, err := ParseAngle(in); err == nil || !strings.Contains(err.Error(), likeAngle) {
			t.Errorf("ParseAngle(%q) = %v, %v; want a refusal with a good form", in, got, err)
		}
	}
}

func TestParseMoney(t *testing.T) {
	tests := []struct {
		in   string
		want Money
	}{
		{`12.50`, 1250},
		{`12,50`, 1250},
		{`12.5`, 1250},
		{`12`, 1200},
		{`12.500`, 1250},
		{`.05`, 5},
		{`-0.01`, -1},
		{`0.29`, 29}, // 0.29·100 is 28.999… in binary floating point
		{`1000000000`, 100_000_000_000},
	}
	for _, tt := range tests {
		got, err := ParseMoney(tt.in)
		if err != nil || got != tt.want {
			t.Errorf("ParseMoney(%q) = %d, %v; want %d", tt.in, got, err, tt.want)
		}
	}
	for _, in := range []string{``, `12.505`, `1,250`, `1,250.00`, `$5`, `5 eur`, `1/2`, `NaN`, `1000000000.01`} {
		if got, err := ParseMoney(in); err == nil || !strings.Contains(err.Error(), likeMoney) {
			t.Errorf("ParseMoney(%q) = %v, %v; want a refusal with a good form", in, got, err)
		}
	}
}

// Any mixed number of inches, in any of its spellings, is what integer
// arithmetic makes of it.
func TestParseMixedNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		den := rapid.Int64Range(2, 1000).Draw(t, "den")
		num := rapid.Int64Range(1, den-1).Draw(t, "num")
		whole := rapid.Int64Range(0, 5000).Draw(t, "whole")
		gap := rapid.SampledFrom([]string{" ", "-", "  "}).Draw(t, "gap")
		unit := rapid.SampledFrom([]string{`"`, ` in`, ` inch`, `″`, ` IN.`}).Draw(t, "unit")
		s := fmt.Sprintf("%d%s%d/%d%s", whole, gap, num, den, unit)
		top := (whole*den + num) * int64(Inch)
		want := Length((2*top + den) / (2 * den))
		got, err := ParseLength(s, Metric)
		if err != nil || got != want {
			t.Fatalf("ParseLength(%q) = %v, %v; want %v", s, got, err, want)
		}
		if got, err = ParseLength("-"+s, Metric); err != nil || got != -want {
			t.Fatalf("ParseLength(-%q) = %v, %v; want %v", s, got, err, -want)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`17 1/4 in`, `5' 7-1/2"`, `302,4 mm`, `17¼`, `1,250`, `-.5 m`, `5 ft. 7`, `¹⁄₂`, `9e9`, "\xff"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, inches bool) {
		bare := Metric
		if inches {
			bare = Imperial
		}
		l, err := ParseLength(s, bare)
		if err != nil {
			if len(err.Error()) > 500 || strings.ContainsAny(err.Error(), "\n\x00") {
				t.Fatalf("ParseLength(%q) says %q", s, err)
			}
			return
		}
		if l.Abs() > MaxLength {
			t.Fatalf("ParseLength(%q) = %v, beyond a kilometre", s, l)
		}
		for _, sys := range []System{Metric, Imperial} {
			if back, err := ParseLength(l.Exact(sys), sys.Other()); err != nil || back != l {
				t.Fatalf("%q reads as %v, prints as %q, which reads as %v, %v", s, l, l.Exact(sys), back, err)
			}
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{`90`, `22½°`, `1.5 rad`, `-5 deg`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if a, err := ParseAngle(s); err == nil && !(math.Abs(a.Deg()) <= 36000.001) {
			t.Fatalf("ParseAngle(%q) = %v", s, a.Deg())
		}
	})
}

func FuzzParseMoney(f *testing.F) {
	for _, s := range []string{`12.50`, `12,5`, `-.05`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMoney(s)
		if err != nil {
			return
		}
		if back, err := ParseMoney(m.Format()); err != nil || back != m {
			t.Fatalf("%q reads as %d, prints as %q, which reads as %d, %v", s, m, m.Format(), back, err)
		}
	})
}
