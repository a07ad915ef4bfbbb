package drawing

import (
	"math"

	"casewright/internal/geom"
)

// vec is a point or direction in space, in millimetres.
type vec struct{ x, y, z float64 }

func vecOf(v geom.Vec) vec { return vec{v.X.MM(), v.Y.MM(), v.Z.MM()} }
func dirOf(d geom.Dir) vec { return vec{d.X, d.Y, d.Z} }

func (a vec) add(b vec) vec           { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec           { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(k float64) vec     { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64       { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) len() float64            { return math.Sqrt(a.dot(a)) }
func (a vec) to(b vec, t float64) vec { return a.add(b.sub(a).times(t)) }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

func (a vec) unit() vec {
	if l := a.len(); l > 0 {
		return a.times(1 / l)
	}
	return a
}

// camera is how a view looks: right and up on the drawing, and toward the
// viewer, all of unit length.
type camera struct{ right, up, toward vec }

func look(toward, up vec) camera {
	t := toward.unit()
	r := up.cross(t).unit()
	return camera{r, t.cross(r), t}
}

// The cameras of the plane views: seen from the front, the right, the left,
// above and the back.
var (
	fromFront = look(vec{0, -1, 0}, vec{0, 0, 1})
	fromRight = look(vec{1, 0, 0}, vec{0, 0, 1})
	fromAbove = look(vec{0, 0, 1}, vec{0, 1, 0})
	fromBack  = look(vec{0, 1, 0}, vec{0, 0, 1})
)

// see gives a point's place on the drawing and its nearness to the viewer.
func (c camera) see(p vec) (Pt, float64) {
	return Pt{p.dot(c.right), p.dot(c.up)}, p.dot(c.toward)
}

func (c camera) pt(p vec) Pt { return Pt{p.dot(c.right), p.dot(c.up)} }
