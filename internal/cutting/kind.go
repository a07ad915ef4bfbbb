package cutting

import "math/bits"

// A kind is the patterns listed for one kind of sheet.
type kind struct {
	list  *lister
	found []listed
	has   [][][]uint64 // of each type, of each count from 1: the patterns with as many
	with  []int        // of each type: how many patterns hold it
}

type listed struct {
	n   []int32
	val int64
	at  int32 // label
}

// index notes of each type and count which patterns have as many.
func (c *kind) index(most []int) {
	words := (len(c.found) + 63) / 64
	c.has = make([][][]uint64, len(most))
	c.with = make([]int, len(most))
	for t, q := range most {
		c.has[t] = make([][]uint64, q)
		for n := range q {
			c.has[t][n] = make([]uint64, words)
		}
	}
	for i, l := range c.found {
		for t, n := range l.n {
			for j := range n {
				c.has[t][j][i/64] |= 1 << (i % 64)
			}
			if n > 0 {
				c.with[t]++
			}
		}
	}
}

// holds is a pattern that holds all parts left, or -1.
func (c *kind) holds(left []int) int {
	for w := 0; w*64 < len(c.found); w++ {
		set := ^uint64(0)
		for t, n := range left {
			if n > 0 {
				if set &= c.has[t][n-1][w]; set == 0 {
					break
				}
			}
		}
		if set != 0 {
			if i := w*64 + bits.TrailingZeros64(set); i < len(c.found) {
				return i
			}
		}
	}
	return -1
}
