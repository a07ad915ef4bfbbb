// Package geom holds the plane and space geometry of parts: points and
// outlines with exact coordinates, and placed frames.
package geom

import (
	"math"

	"casewright/internal/unit"
)

// Point is a place in a part's own plane: X along its length, Y across.
type Point struct{ X, Y unit.Length }

// P is the point (x, y).
func P(x, y unit.Length) Point { return Point{x, y} }

// Vertex is a corner of an outline. Bulge is the tangent of a quarter of the
// angle of the arc that runs from this vertex to the next: 0 is a straight
// line, positive turns left (anticlockwise). The convention is that of the
// LWPOLYLINE entity of the DXF reference, so a quarter circle has
// tan(22.5°) = 0.41421.
type Vertex struct {
	Point
	Bulge float64
}

// Outline is a closed run of lines and arcs; the last vertex joins the first.
// Outer outlines run anticlockwise, holes clockwise.
type Outline []Vertex

// Path is an open run of lines and arcs; the bulge of its last vertex is 0.
type Path []Vertex

// QuarterBulge is the bulge of a left-hand quarter circle.
const QuarterBulge = math.Sqrt2 - 1

// Rect is the rectangle from (0,0) to (w,h).
func Rect(w, h unit.Length) Outline {
	return Outline{{Point: P(0, 0)}, {Point: P(w, 0)}, {Point: P(w, h)}, {Point: P(0, h)}}
}

// Vec is a place in space. The piece's axes: X to the right as one faces the
// front, Y from the front to the back, Z up; the origin is on the floor, at
// the left front corner of the case's bounding box. Right-handed.
type Vec struct{ X, Y, Z unit.Length }

// Add is v moved by w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Dir is a direction of unit length (dimensionless components).
type Dir struct{ X, Y, Z float64 }

// The axes of the piece and their opposites.
var (
	Right = Dir{X: 1}
	Left  = Dir{X: -1}
	Back  = Dir{Y: 1}
	Front = Dir{Y: -1}
	Up    = Dir{Z: 1}
	Down  = Dir{Z: -1}
)

// Dot is the scalar product.
func (d Dir) Dot(e Dir) float64 { return d.X*e.X + d.Y*e.Y + d.Z*e.Z }

// Cross is the vector product.
func (d Dir) Cross(e Dir) Dir {
	return Dir{d.Y*e.Z - d.Z*e.Y, d.Z*e.X - d.X*e.Z, d.X*e.Y - d.Y*e.X}
}

// Times is the vector of length l along d, to the nearest nanometre.
func (d Dir) Times(l unit.Length) Vec {
	return Vec{l.Scale(d.X), l.Scale(d.Y), l.Scale(d.Z)}
}

// Frame places a part in space: the part's (x, y) of its outline lies at
// Origin + x·U + y·V, and its thickness grows from there along N = U×V.
// When Mirror is set the part is the mirror image of its drawing: its outline
// is taken with y counted from the other long edge (y → width − y) before
// placing. U and V are perpendicular unit vectors.
type Frame struct {
	Origin Vec
	U, V   Dir
	Mirror bool
}

// N is the direction in which the thickness grows.
func (f Frame) N() Dir { return f.U.Cross(f.V) }

// At is the place in space of the part's point (x, y) at height z above its
// reference face. It does not look at Mirror.
func (f Frame) At(x, y, z unit.Length) Vec {
	return f.Origin.Add(f.U.Times(x)).Add(f.V.Times(y)).Add(f.N().Times(z))
}
