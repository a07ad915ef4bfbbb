package unit

import (
	"encoding/json"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		l     Length
		style Style
		want  string
	}{
		{302_400_000, TenthMM, "302.4 mm"},
		{302_449_999, TenthMM, "302.4 mm"},
		{302_450_000, TenthMM, "302.5 mm"},
		{-302_450_000, TenthMM, "-302.5 mm"},
		{302 * Millimetre, TenthMM, "302 mm"},
		{-49_999, TenthMM, "0 mm"},
		{0, TenthMM, "0 mm"},
		{302_400_000, HalfMM, "≈302.5 mm"},
		{302_500_000, HalfMM, "302.5 mm"},
		{302_200_000, HalfMM, "≈302 mm"},
		{11*Inch + 29*Inch32, Inch32nds, "11-29/32 in"},
		{11*Inch + 28*Inch32, Inch32nds, "11-7/8 in"},
		{11*Inch + 57*Inch64, Inch32nds, "≈11-29/32 in"}, // half a step goes up
		{11*Inch + 57*Inch64, Inch64ths, "11-57/64 in"},
		{302_400_000, Inch32nds, "≈11-29/32 in"},
		{Inch - 1, Inch32nds, "≈1 in"},
		{-3 * Inch / 4, Inch32nds, "-3/4 in"},
		{-(11*Inch + 29*Inch32), Inch32nds, "-11-29/32 in"},
		{-1, Inch32nds, "≈0 in"},
		{0, Inch64ths, "0 in"},
		{67*Inch + Inch/2, Feet32nds, "5 ft 7-1/2 in"},
		{60 * Inch, Feet32nds, "5 ft"},
		{60*Inch + Inch/2, Feet32nds, "5 ft 1/2 in"},
		{7*Inch + Inch/2, Feet32nds, "7-1/2 in"},
		{72*Inch - 1, Feet64ths, "≈6 ft"},
		{-67 * Inch, Feet64ths, "-5 ft 7 in"},
	}
	for _, tt := range tests {
		if got := tt.l.Format(tt.style); got != tt.want {
			t.Errorf("Length(%d).Format(%d) = %q, want %q", int64(tt.l), tt.style, got, tt.want)
		}
	}
	if got, want := Length(302_400_000).Dual(TenthMM, Inch32nds), "302.4 mm (≈11-29/32 in)"; got != want {
		t.Errorf("Dual = %q, want %q", got, want)
	}
	if got, want := (17*Inch+Inch/4).Dual(Inch32nds, TenthMM), "17-1/4 in (438.2 mm)"; got != want {
		t.Errorf("Dual = %q, want %q", got, want)
	}
}

func TestExact(t *testing.T) {
	tests := []struct {
		l      Length
		mm, in string
	}{
		{0, "0 mm", "0 in"},
		{1, "0.000001 mm", "0.00000004 in"},
		{-1, "-0.000001 mm", "-0.00000004 in"},
		{Inch64, "0.396875 mm", "1/64 in"},
		{9_525_000, "9.525 mm", "3/8 in"},
		{Millimetre, "1 mm", "0.03937008 in"},
		{Inch / 10, "2.54 mm", "0.1 in"},
		{Inch - 1, "25.399999 mm", "0.99999996 in"},
		{17*Inch + Inch/4, "438.15 mm", "17-1/4 in"},
		{-6 * Foot, "-1828.8 mm", "-72 in"},
		{Length(math.MinInt64), "-9223372036854.775808 mm", "-363124883340.73920504 in"},
	}
	for _, tt := range tests {
		if got := tt.l.Exact(Metric); got != tt.mm {
			t.Errorf("Length(%d).Exact(Metric) = %q, want %q", int64(tt.l), got, tt.mm)
		}
		if got := tt.l.Exact(Imperial); got != tt.in {
			t.Errorf("Length(%d).Exact(Imperial) = %q, want %q", int64(tt.l), got, tt.in)
		}
	}
}

// length draws sizes of furniture, whole fractions of an inch, and anything
// that may be read.
func length() *rapid.Generator[Length] {
	return rapid.OneOf(
		rapid.Map(rapid.Int64Range(-int64(MaxLength), int64(MaxLength)), func(n int64) Length { return Length(n) }),
		rapid.Map(rapid.Int64Range(-3000*10, 3000*10), func(n int64) Length { return Length(n) * Millimetre / 10 }),
		rapid.Map(rapid.Int64Range(-120*64, 120*64), func(n int64) Length { return Length(n) * Inch64 }),
		rapid.Map(rapid.Int64Range(-1000, 1000), func(n int64) Length { return Length(n) }),
	)
}

func TestExactReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length().Draw(t, "l")
		for _, sys := range []System{Metric, Imperial} {
			for _, bare := range []System{Metric, Imperial} {
				if got, err := ParseLength(l.Exact(sys), bare); err != nil || got != l {
					t.Fatalf("%d prints as %q, which reads as %d, %v", int64(l), l.Exact(sys), int64(got), err)
				}
			}
		}
	})
}

// What is shown is a size within half a step of the true one, and a rounded
// one carries the sign; fractions are in lowest terms.
func TestFormatRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length().Draw(t, "l") / 2 // so that rounding up does not pass MaxLength
		style := rapid.SampledFrom([]Style{TenthMM, HalfMM, Inch32nds, Inch64ths, Feet32nds, Feet64ths}).Draw(t, "style")
		s := l.Format(style)
		bare, signed := strings.CutPrefix(s, Approx)
		shown, err := ParseLength(bare, style.System().Other())
		if err != nil {
			t.Fatalf("%q does not read: %v", s, err)
		}
		if 2*(shown-l).Abs() > style.Step() {
			t.Fatalf("%d shown as %q, off by %d", int64(l), s, int64(shown-l))
		}
		if want := shown != l && style != TenthMM; signed != want {
			t.Fatalf("%d shown as %q; sign of rounding %v, want %v", int64(l), s, signed, want)
		}
	})
}

func TestFraction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length().Draw(t, "l")
		den := rapid.Int64Range(1, 128).Draw(t, "den")
		f := l.Fraction(den)
		if f.Den < 1 || den%f.Den != 0 || f.Num < 0 || f.Num >= f.Den {
			t.Fatalf("%d in 1/%d: %+v is no proper fraction", int64(l), den, f)
		}
		if new(big.Int).GCD(nil, nil, big.NewInt(f.Num), big.NewInt(f.Den)).Int64() != 1 {
			t.Fatalf("%d in 1/%d: %+v is not in lowest terms", int64(l), den, f)
		}
		value := new(big.Rat).Add(big.NewRat(f.Whole, 1), big.NewRat(f.Num, f.Den))
		if f.Neg {
			value.Neg(value)
		}
		off := value.Sub(value, big.NewRat(int64(l), int64(Inch)))
		if off.Abs(off).Cmp(big.NewRat(1, 2*den)) > 0 {
			t.Fatalf("%d in 1/%d: %+v is off by %v", int64(l), den, f, off)
		}
		if f.Rounded != (off.Sign() != 0) {
			t.Fatalf("%d in 1/%d: %+v, but off by %v", int64(l), den, f, off)
		}
	})
	for _, den := range []int64{0, -5} {
		if f := Inch.Fraction(den); f.Whole != 1 || f.Den != 1 {
			t.Errorf("Inch.Fraction(%d) = %+v", den, f)
		}
	}
}

func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length().Draw(t, "l")
		step := Length(rapid.Int64Range(1, int64(Metre)).Draw(t, "step"))
		near, down, up := l.Round(step), l.RoundDown(step), l.RoundUp(step)
		if near%step != 0 || down%step != 0 || up%step != 0 {
			t.Fatalf("%d by %d: %d, %d, %d are not all multiples", l, step, near, down, up)
		}
		if down > l || up < l || up-down != 0 && up-down != step || (up == down) != (l%step == 0) {
			t.Fatalf("%d by %d: down %d, up %d", l, step, down, up)
		}
		if 2*(near-l).Abs() > step || 2*(near-l).Abs() == step && near.Abs() < l.Abs() {
			t.Fatalf("%d by %d: nearest %d", l, step, near)
		}
		if l.Round(0) != l || l.RoundDown(-step) != l || l.RoundUp(0) != l {
			t.Fatalf("a step that is not positive changes %d", l)
		}
	})
}

func TestMoneyFormat(t *testing.T) {
	for m, want := range map[Money]string{
		1250: "12.50", 5: "0.05", 0: "0.00", -1: "-0.01", -1250: "-12.50",
		math.MinInt64: "-92233720368547758.08",
	} {
		if got := m.Format(); got != want {
			t.Errorf("Money(%d).Format() = %q, want %q", m, got, want)
		}
	}
}

func TestJSON(t *testing.T) {
	type doc struct {
		L Length
		A Angle
		M Money
	}
	in := doc{9_525_000, Deg(22.5), 1250}
	data, err := json.Marshal(in)
	if want := `{"L":9.525,"A":22.5,"M":12.50}`; err != nil || string(data) != want {
		t.Fatalf("Marshal = %s, %v; want %s", data, err, want)
	}
	var out doc
	if err := json.Unmarshal(data, &out); err != nil || out != in {
		t.Fatalf("Unmarshal = %+v, %v; want %+v", out, err, in)
	}
	for s, want := range map[string]Length{
		`9.525`: 9_525_000, `1e3`: Metre, `-2.5E-1`: -250_000, `0.0000005`: 1, `null`: 7,
		`9223372036854.775807`: math.MaxInt64, `0e40`: 0,
	} {
		l := Length(7)
		if err := json.Unmarshal([]byte(s), &l); err != nil || l != want {
			t.Errorf("Unmarshal(%s) = %d, %v; want %d", s, int64(l), err, int64(want))
		}
	}
	for _, s := range []string{`"9.5"`, `9223372036854.775808`, `1e999999999`, `1e41`, `true`, `[]`, strings.Repeat("9", 200)} {
		l := Length(7)
		if err := json.Unmarshal([]byte(s), &l); err == nil || l != 7 {
			t.Errorf("Unmarshal(%s) = %v, %v; want a refusal", s, l, err)
		}
	}
	for _, a := range []float64{math.NaN(), math.Inf(1)} {
		if data, err := json.Marshal(Angle(a)); err == nil {
			t.Errorf("Marshal(Angle(%v)) = %s, want a refusal", a, data)
		}
	}
	var m Money
	if err := json.Unmarshal([]byte(`0.005`), &m); err == nil {
		t.Errorf("Unmarshal(0.005) into Money = %v, want a refusal", m)
	}
}

func TestJSONReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64().Draw(t, "l"))
		m := Money(rapid.Int64().Draw(t, "m"))
		a := Angle(rapid.Float64Range(-20, 20).Draw(t, "a"))
		var (
			l2 Length
			m2 Money
			a2 Angle
		)
		for _, p := range []struct{ from, to any }{{l, &l2}, {m, &m2}, {a, &a2}} {
			data, err := json.Marshal(p.from)
			if err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(data, p.to); err != nil {
				t.Fatal(err)
			}
		}
		if l2 != l || m2 != m {
			t.Fatalf("%d, %d came back as %d, %d", int64(l), m, int64(l2), m2)
		}
		if d := math.Abs(float64(a2 - a)); d > 4e-16*math.Abs(float64(a)) {
			t.Fatalf("angle %v came back as %v", float64(a), float64(a2))
		}
	})
}

func TestText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length().Draw(t, "l")
		text, _ := l.MarshalText()
		var back Length
		if err := back.UnmarshalText(text); err != nil || back != l {
			t.Fatalf("%d written as %q, read as %d, %v", int64(l), text, int64(back), err)
		}
	})
	var l Length
	if err := l.UnmarshalText([]byte("300")); err == nil || !strings.Contains(err.Error(), "it has no unit") {
		t.Errorf("UnmarshalText(300) = %v, %v; want a refusal for want of a unit", l, err)
	}
	for _, s := range []System{Metric, Imperial} {
		text, _ := s.MarshalText()
		back := s.Other()
		if err := back.UnmarshalText(text); err != nil || back != s {
			t.Errorf("system %v written as %q, read as %v, %v", s, text, back, err)
		}
	}
	var s System
	if err := s.UnmarshalText([]byte("yards")); err == nil {
		t.Error("yards taken for a system of units")
	}
}

func FuzzLengthJSON(f *testing.F) {
	for _, s := range []string{`9.525`, `1e3`, `-0`, `null`, `1e999999999`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var l, back Length
		if json.Unmarshal([]byte(s), &l) != nil {
			return
		}
		data, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &back); err != nil || back != l {
			t.Fatalf("%s reads as %d, writes as %s, reads as %d, %v", s, int64(l), data, int64(back), err)
		}
	})
}

func BenchmarkParseLength(b *testing.B) {
	for b.Loop() {
		if _, err := ParseLength(`17-1/4"`, Metric); err != nil {
			b.Fatal(err)
		}
	}
}
