package unit

import (
	"math"
	"math/big"
)

// Share is m × num/den, computed exactly and then rounded once to the minor
// unit, halves away from zero. A den of 0 gives 0; what is beyond the range of
// Money gives the end of it.
func (m Money) Share(num, den int64) Money {
	if den == 0 {
		return 0
	}
	x := new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(num))
	d := big.NewInt(den)
	negative := x.Sign()*d.Sign() < 0
	x.Abs(x)
	d.Abs(d)
	x.Add(x.Lsh(x, 1), d) // (2x + d) / 2d rounds halves up
	x.Quo(x, d.Lsh(d, 1))
	if !x.IsInt64() {
		x.SetInt64(math.MaxInt64)
	}
	if negative {
		x.Neg(x)
	}
	return Money(x.Int64())
}

// RoundUp is the least multiple of step that is not less than m. A step that
// is not positive leaves m as it is, and so does one that has no multiple
// within the range of Money.
func (m Money) RoundUp(step Money) Money {
	if step <= 0 || m%step == 0 {
		return m
	}
	down := m - m%step
	if m < 0 {
		return down
	}
	if down > math.MaxInt64-step {
		return m
	}
	return down + step
}
