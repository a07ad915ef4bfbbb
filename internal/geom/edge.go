package geom

import (
	"math"

	"casewright/internal/unit"
)

// pt is a point or vector of the plane in nanometres.
type pt struct{ x, y float64 }

func (p Point) pt() pt { return pt{float64(p.X), float64(p.Y)} }

// point is p to the nearest nanometre.
func (p pt) point() Point {
	return Point{unit.Length(math.Round(p.x)), unit.Length(math.Round(p.y))}
}

func (p pt) plus(q pt) pt           { return pt{p.x + q.x, p.y + q.y} }
func (p pt) minus(q pt) pt          { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(f float64) pt     { return pt{p.x * f, p.y * f} }
func (p pt) dot(q pt) float64       { return p.x*q.x + p.y*q.y }
func (p pt) cross(q pt) float64     { return p.x*q.y - p.y*q.x }
func (p pt) len() float64           { return math.Hypot(p.x, p.y) }
func (p pt) right() pt              { return pt{p.y, -p.x} }
func (p pt) turned(rad float64) pt  { s, c := math.Sincos(rad); return pt{c*p.x - s*p.y, s*p.x + c*p.y} }
func (p pt) distance(q pt) float64  { return p.minus(q).len() }
func (p pt) direction() float64     { return math.Atan2(p.y, p.x) }
func polar(r, rad float64) (out pt) { s, c := math.Sincos(rad); return pt{r * c, r * s} }

// edge is one line or arc of an outline, from a to b.
type edge struct {
	a, b  pt
	bulge float64 // 0 for a line
	// Of an arc only:
	sweep  float64 // the angle it turns through, positive to the left
	centre pt
	r      float64
}

// newEdge is the edge from vertex v to w. An arc that rises less than
// ten nanometres above its chord is taken for a line, since its centre is too
// far away for float64; so is one whose bulge is not a finite number.
func newEdge(v, w Vertex) edge {
	e := edge{a: v.pt(), b: w.pt()}
	chord := e.b.minus(e.a)
	c := chord.len()
	rise := c / 2 * math.Abs(v.Bulge)
	if !(rise >= 10) || math.IsInf(rise, 0) {
		return e
	}
	e.bulge = v.Bulge
	e.sweep = 4 * math.Atan(v.Bulge)
	e.r = c * (1 + v.Bulge*v.Bulge) / (4 * math.Abs(v.Bulge))
	// The centre lies on the chord's perpendicular bisector, to the left of a
	// left-hand arc of less than half a turn.
	left := chord.right().times(-1)
	e.centre = e.a.plus(chord.times(0.5)).plus(left.times((1 - v.Bulge*v.Bulge) / (4 * v.Bulge)))
	return e
}

func (e edge) arc() bool { return e.bulge != 0 }

func (e edge) length() float64 {
	if e.arc() {
		return e.r * math.Abs(e.sweep)
	}
	return e.a.distance(e.b)
}

// at is the point at the share t (0 to 1) of the edge's length. It is worked
// out from the chord, so that flat arcs lose no digits to their far centre.
func (e edge) at(t float64) pt {
	chord := e.b.minus(e.a)
	if !e.arc() {
		return e.a.plus(chord.times(t))
	}
	f := math.Sin(t*e.sweep/2) / math.Sin(e.sweep/2)
	return e.a.plus(chord.turned(-e.sweep / 2 * (1 - t)).times(f))
}

// heading is the direction of travel, of unit length, at the start and at the
// end of the edge.
func (e edge) heading() (start, end pt) {
	chord := e.b.minus(e.a)
	chord = chord.times(1 / chord.len())
	return chord.turned(-e.sweep / 2), chord.turned(e.sweep / 2)
}

// segment is the area between the arc and its chord, positive for a left-hand
// arc.
func (e edge) segment() float64 {
	if !e.arc() {
		return 0
	}
	return e.r * e.r / 2 * (e.sweep - math.Sin(e.sweep))
}

// passes says that the arc passes through the direction rad, seen from its
// centre.
func (e edge) passes(rad float64) bool {
	start := e.a.minus(e.centre).direction()
	return turn(start, rad, e.sweep) <= math.Abs(e.sweep)
}

// turn is the angle from one direction to another, 0 to 2π, in the sense of
// the sign of sweep.
func turn(from, to, sweep float64) float64 {
	d := to - from
	if sweep < 0 {
		d = -d
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d
}

// distance is how far p is from the nearest point of the edge.
func (e edge) distance(p pt) float64 {
	ends := math.Min(p.distance(e.a), p.distance(e.b))
	if e.arc() {
		if from := p.minus(e.centre); e.passes(from.direction()) {
			return math.Min(ends, math.Abs(from.len()-e.r))
		}
		return ends
	}
	along := e.b.minus(e.a)
	c := along.len()
	if c == 0 {
		return ends
	}
	along = along.times(1 / c)
	if s := p.minus(e.a).dot(along); s < 0 || s > c {
		return ends
	}
	return math.Abs(along.cross(p.minus(e.a)))
}

// edges are the edges of the outline; the last leads back to the first vertex.
func (o Outline) edges() []edge {
	es := make([]edge, len(o))
	for i, v := range o {
		es[i] = newEdge(v, o[(i+1)%len(o)])
	}
	return es
}

// edges are the edges of the path, one fewer than its vertices.
func (p Path) edges() []edge {
	var es []edge
	for i := 1; i < len(p); i++ {
		es = append(es, newEdge(p[i-1], p[i]))
	}
	return es
}
