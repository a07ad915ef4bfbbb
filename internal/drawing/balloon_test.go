package drawing

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Balloons never touch each other, and leaders never cross.
func TestBalloonsStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 24).Draw(t, "n")
		box := Rect{0, 0, rapid.Float64Range(20, 240).Draw(t, "w"), rapid.Float64Range(20, 160).Draw(t, "h")}
		pts := make([]Pt, n)
		for i := range pts {
			pts[i] = Pt{rapid.Float64Range(0, 1).Draw(t, "x") * box.W, rapid.Float64Range(0, 1).Draw(t, "y") * box.H}
		}
		ring := slots(box, []Side{LeftOf, Above, RightOf, Below}, n)
		taken := assign(pts, ring)
		for i := range pts {
			for j := range i {
				a, b := ring[taken[i]].at, ring[taken[j]].at
				if d := math.Hypot(a.X-b.X, a.Y-b.Y); d < 2*balloonRadius {
					t.Fatalf("balloons %d and %d are %.2f apart", i, j, d)
				}
				if cross(a, pts[i], b, pts[j]) {
					t.Fatalf("leaders %d and %d cross", i, j)
				}
			}
		}
	})
}

// cross reports whether the segments ab and cd cross within both.
func cross(a, b, c, d Pt) bool {
	side := func(p, q, r Pt) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	// Leaders that only touch, or start at one point, do not count.
	const touch = 1e-4
	x, y, u, v := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
	if min(math.Abs(x), math.Abs(y), math.Abs(u), math.Abs(v)) < touch {
		return false
	}
	return (x > 0) != (y > 0) && (u > 0) != (v > 0)
}
