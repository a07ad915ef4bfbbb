package geom

import (
	"math"

	"casewright/internal/unit"
)

// Sub is the way from w to v.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Len is the length of v, to the nearest nanometre.
func (v Vec) Len() unit.Length {
	return unit.Length(math.Round(math.Sqrt(v.along(Dir{float64(v.X), float64(v.Y), float64(v.Z)}))))
}

// Along is how far v reaches in the direction d, to the nearest nanometre.
func (v Vec) Along(d Dir) unit.Length { return unit.Length(math.Round(v.along(d))) }

func (v Vec) along(d Dir) float64 {
	return float64(v.X)*d.X + float64(v.Y)*d.Y + float64(v.Z)*d.Z
}

// Norm is d brought to unit length; the zero Dir stays zero.
func (d Dir) Norm() Dir {
	l := math.Sqrt(d.Dot(d))
	if l == 0 {
		return Dir{}
	}
	return Dir{d.X / l, d.Y / l, d.Z / l}
}

// Neg is the opposite direction.
func (d Dir) Neg() Dir { return Dir{-d.X, -d.Y, -d.Z} }

// Place is the outline of a part of the given width as it lies in the plane of
// the frame, x along U and y along V: the mirror image when the frame says so,
// else the outline itself. What comes out goes through At without a further
// look at Mirror.
func (f Frame) Place(o Outline, width unit.Length) Outline {
	if f.Mirror {
		return o.MirrorY(width)
	}
	return o
}

// PlacePath is Place for a groove or another open line.
func (f Frame) PlacePath(p Path, width unit.Length) Path {
	if f.Mirror {
		return p.MirrorY(width)
	}
	return p
}

// PlacePoint is Place for a hole or another single point.
func (f Frame) PlacePoint(p Point, width unit.Length) Point {
	if f.Mirror {
		return P(p.X, width-p.Y)
	}
	return p
}

// PlaceRegion is Place for a face with holes.
func (f Frame) PlaceRegion(r Region, width unit.Length) Region {
	out := make(Region, len(r))
	for i, o := range r {
		out[i] = f.Place(o, width)
	}
	return out
}

// Bounds3 is an upright box, Min its corner at the lower left front and Max
// the one opposite.
type Bounds3 struct{ Min, Max Vec }

// BoundsOf is the smallest upright box round the places; the zero box for
// none.
func BoundsOf(vs ...Vec) Bounds3 {
	if len(vs) == 0 {
		return Bounds3{}
	}
	b := Bounds3{vs[0], vs[0]}
	for _, v := range vs[1:] {
		b = b.Union(Bounds3{v, v})
	}
	return b
}

// Union is the smallest upright box round both.
func (b Bounds3) Union(c Bounds3) Bounds3 {
	return Bounds3{
		Vec{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y), min(b.Min.Z, c.Min.Z)},
		Vec{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y), max(b.Max.Z, c.Max.Z)},
	}
}

// Size is the width, depth and height of the box.
func (b Bounds3) Size() Vec { return b.Max.Sub(b.Min) }

// Meets says that the two boxes share more than a face.
func (b Bounds3) Meets(c Bounds3) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X &&
		b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y &&
		b.Min.Z < c.Max.Z && c.Min.Z < b.Max.Z
}
