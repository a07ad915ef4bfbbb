package unit

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// Sums worked by hand.
func TestShare(t *testing.T) {
	for _, c := range []struct {
		m        Money
		num, den int64
		want     Money
	}{
		{100000, 10, 6, 166667},  // 1000.00 / 0.6 = 1666.67
		{100000, 14, 10, 140000}, // 1000.00 × 1.4
		{1, 1, 2, 1},
		{-1, 1, 2, -1},
		{1, -1, 2, -1},
		{1, 1, -2, -1},
		{3, 1, 2, 2},
		{1, 1, 3, 0},
		{5, 1, 0, 0},
		{0, 7, 3, 0},
		{math.MaxInt64, 3, 1, math.MaxInt64},
		{-math.MaxInt64, 3, 1, -math.MaxInt64},
	} {
		if got := c.m.Share(c.num, c.den); got != c.want {
			t.Errorf("%d × %d/%d is %d, want %d", c.m, c.num, c.den, got, c.want)
		}
	}
}

func TestShareIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Int64Range(-1e12, 1e12).Draw(t, "m")
		num, den := rapid.Int64Range(-1e6, 1e6).Draw(t, "num"), rapid.Int64Range(1, 1e6).Draw(t, "den")
		exact := new(big.Rat).Mul(big.NewRat(m, 1), big.NewRat(num, den))
		off := exact.Sub(exact, big.NewRat(int64(Money(m).Share(num, den)), 1))
		if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("off by %s", off)
		}
	})
}

func TestMoneyRoundUp(t *testing.T) {
	for _, c := range []struct{ m, step, want Money }{
		{166667, 500, 167000}, {166500, 500, 166500}, {1, 0, 1}, {0, 5, 0}, {-7, 5, -5}, {math.MaxInt64, 10, math.MaxInt64},
	} {
		if got := c.m.RoundUp(c.step); got != c.want {
			t.Errorf("%d up to %d is %d, want %d", c.m, c.step, got, c.want)
		}
	}
}
