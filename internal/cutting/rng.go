package cutting

import "math/bits"

// rng is the splitmix64 generator (Steele, Lea, Flood 2014): small, fast and
// the same on every machine.
type rng uint64

func newRNG(seed uint64) rng { return rng(seed*0x9E3779B97F4A7C15 + 0x1234567) }

func (r *rng) next() uint64 {
	*r += 0x9E3779B97F4A7C15
	z := uint64(*r)
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

func (r *rng) next32() uint32 { return uint32(r.next() >> 32) }

// below is a number from 0 to n-1.
func (r *rng) below(n int) int {
	hi, _ := bits.Mul64(r.next(), uint64(n))
	return int(hi)
}

// float is a number in [0, 1).
func (r *rng) float() float64 { return float64(r.next()>>11) / (1 << 53) }
