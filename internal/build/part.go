package build

import (
	"slices"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// The ways flat parts stand. Each starts from the corner of the reference
// face where x and y begin; the thickness grows towards the side named.
// Reference faces are the hidden ones.

// facing stands upright in the plane of the front, thickness growing towards
// the front, length upward: y = 0 is the right edge as seen from the front.
func facingUp(right, back, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: right, Y: back, Z: bottom}, U: geom.Up, V: geom.Left}
}

// facingAcross is the same with the length to the right: y = 0 is the lower
// edge.
func facingAcross(left, back, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: left, Y: back, Z: bottom}, U: geom.Right, V: geom.Up}
}

// rearUp stands upright, thickness growing towards the back, length upward:
// y = 0 is the left edge as seen from the front.
func rearUp(left, front, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: left, Y: front, Z: bottom}, U: geom.Up, V: geom.Right}
}

// rearAcross is the same with the length to the left: y = 0 is the lower edge.
func rearAcross(right, front, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: right, Y: front, Z: bottom}, U: geom.Left, V: geom.Up}
}

// leftward stands upright from front to back, thickness growing to the left,
// length upward: y = 0 is the front edge. The left side of a case.
func leftward(right, front, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: right, Y: front, Z: bottom}, U: geom.Up, V: geom.Back}
}

// rightward is its mirror image: y = 0 is the back edge. The right side.
func rightward(left, back, bottom unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: left, Y: back, Z: bottom}, U: geom.Up, V: geom.Front}
}

// upward lies flat, thickness growing upward, length to the right: y = 0 is
// the front edge.
func upward(left, front, under unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: left, Y: front, Z: under}, U: geom.Right, V: geom.Back}
}

// downward lies flat, thickness growing downward, length to the left: y = 0 is
// the front edge.
func downward(right, front, over unit.Length) geom.Frame {
	return geom.Frame{Origin: geom.Vec{X: right, Y: front, Z: over}, U: geom.Left, V: geom.Back}
}

// local is a place in space in the plane of a frame.
func local(f geom.Frame, v geom.Vec) geom.Point {
	d := geom.Vec{X: v.X - f.Origin.X, Y: v.Y - f.Origin.Y, Z: v.Z - f.Origin.Z}
	along := func(e geom.Dir) unit.Length {
		return d.X.Scale(e.X) + d.Y.Scale(e.Y) + d.Z.Scale(e.Z)
	}
	return geom.P(along(f.U), along(f.V))
}

// region is the upright rectangle, in the plane of a frame, between two
// opposite corners in space.
func region(f geom.Frame, a, b geom.Vec) geom.Outline {
	p, q := local(f, a), local(f, b)
	return box(p, q)
}

// box is the rectangle between two opposite corners.
func box(p, q geom.Point) geom.Outline {
	x0, x1 := min(p.X, q.X), max(p.X, q.X)
	y0, y1 := min(p.Y, q.Y), max(p.Y, q.Y)
	return geom.Outline{{Point: geom.P(x0, y0)}, {Point: geom.P(x1, y0)}, {Point: geom.P(x1, y1)}, {Point: geom.P(x0, y1)}}
}

// clip is what of a box lies on a part of length l and width w.
func clip(o geom.Outline, l, w unit.Length) geom.Outline {
	p, q := o[0].Point, o[2].Point
	return box(geom.P(max(p.X, 0), max(p.Y, 0)), geom.P(min(q.X, l), min(q.Y, w)))
}

// disc is the outline of a round hole.
func disc(c geom.Point, diameter unit.Length) geom.Outline {
	r := diameter / 2
	return geom.Outline{
		{Point: geom.P(c.X-r, c.Y), Bulge: 1},
		{Point: geom.P(c.X+r, c.Y), Bulge: 1},
	}
}

// rounded is the rectangle w × h with corner radii at (0,0), (w,0), (w,h),
// (0,h); radii under a nanometre are square corners.
func rounded(w, h unit.Length, r [4]unit.Length) geom.Outline {
	corner := [4]geom.Point{geom.P(0, 0), geom.P(w, 0), geom.P(w, h), geom.P(0, h)}
	along := [4]geom.Point{geom.P(1, 0), geom.P(0, 1), geom.P(-1, 0), geom.P(0, -1)} // leaving each corner
	var o geom.Outline
	for i, c := range corner {
		if r[i] <= 0 {
			o = append(o, geom.Vertex{Point: c})
			continue
		}
		in, out := along[(i+3)%4], along[i]
		o = append(o,
			geom.Vertex{Point: geom.P(c.X-r[i]*in.X, c.Y-r[i]*in.Y), Bulge: geom.QuarterBulge},
			geom.Vertex{Point: geom.P(c.X+r[i]*out.X, c.Y+r[i]*out.Y)})
	}
	return o
}

// moved is the outline shifted by (dx, dy).
func moved(o geom.Outline, dx, dy unit.Length) geom.Outline {
	o = slices.Clone(o)
	for i := range o {
		o[i].X += dx
		o[i].Y += dy
	}
	return o
}

// feature works something into a part.
func (p *Part) feature(f Feature) {
	if p != nil {
		p.Features = append(p.Features, f)
	}
}

// named is a part's mark with its name, for sentences: "C side".
func (p *Part) named() string { return p.Letter + " " + p.Name }
