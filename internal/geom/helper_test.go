package geom

import "casewright/internal/unit"

// circle is the circle about c, anticlockwise from its rightmost point.
func circle(c Point, radius unit.Length) Outline {
	return Outline{{P(c.X+radius, c.Y), 1}, {P(c.X-radius, c.Y), 1}}
}

// roundRect is the rectangle from (0,0) to (w,h) with its corners rounded; the
// radii are those at (0,0), (w,0), (w,h) and (0,h).
func roundRect(w, h unit.Length, r [4]unit.Length) (Outline, error) {
	return Rect(w, h).RoundCorners(r[:])
}
