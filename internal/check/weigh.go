package check

import (
	"math"
	"strings"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Weight is a mass at a place. Millimetres are held as float64: sums of
// moments of many parts need no exactness.
type Weight struct {
	Mass    unit.Mass
	X, Y, Z float64 // mm: to the right, to the back, upward from the floor
}

// sum is all the weights as one, at their common centre.
func sum(ws []Weight) Weight {
	var out Weight
	for _, w := range ws {
		m := float64(w.Mass)
		out.Mass += w.Mass
		out.X += m * w.X
		out.Y += m * w.Y
		out.Z += m * w.Z
	}
	if m := float64(out.Mass); m > 0 {
		out.X, out.Y, out.Z = out.X/m, out.Y/m, out.Z/m
	}
	return out
}

// Centre is the mass of the wood of one piece at its centre of gravity, all
// closed.
func Centre(m build.Model, s shop.Shop) Weight {
	var all []Weight
	for i := range m.Parts {
		all = append(all, weights(&m.Parts[i], s)...)
	}
	return sum(all)
}

// weights are those of a part at each of its places.
func weights(p *build.Part, s shop.Shop) []Weight {
	out := make([]Weight, len(p.Places))
	mass := PartMass(*p, s)
	for i, at := range p.Places {
		c := centre(p, at)
		out[i] = Weight{mass, c[0], c[1], c[2]}
	}
	return out
}

// centre is the centroid of a part at a place, in millimetres.
func centre(p *build.Part, at build.Place) [3]float64 {
	var u, v, n float64
	if p.Bent != nil {
		u, v = bentCentroid(at.Frame.PlacePath(p.Bent.Profile, p.Width.Size), p.Bent.Left != at.Frame.Mirror, p.Thickness.Size)
		n = p.Width.Size.MM() / 2
	} else {
		u, v = flatCentroid(at.Frame.Place(p.Outline, p.Width.Size))
		n = p.Thickness.Size.MM() / 2
	}
	f, z := at.Frame, at.Frame.N()
	return [3]float64{
		f.Origin.X.MM() + u*f.U.X + v*f.V.X + n*z.X,
		f.Origin.Y.MM() + u*f.U.Y + v*f.V.Y + n*z.Y,
		f.Origin.Z.MM() + u*f.U.Z + v*f.V.Z + n*z.Z,
	}
}

// flatten is fine enough for masses.
const flatten = unit.Millimetre / 10

func flatCentroid(o geom.Outline) (float64, float64) {
	return polygonCentroid(o.Flatten(flatten))
}

// polygonCentroid is the centroid of a simple polygon, in millimetres.
func polygonCentroid(ps []geom.Point) (x, y float64) {
	var area float64
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		c := p.X.MM()*q.Y.MM() - q.X.MM()*p.Y.MM()
		area += c
		x += (p.X.MM() + q.X.MM()) * c
		y += (p.Y.MM() + q.Y.MM()) * c
	}
	if area == 0 {
		return 0, 0
	}
	return x / (3 * area), y / (3 * area)
}

// bentCentroid is the centroid of a panel bent along a path, to the left or
// right of it: each short stretch weighs as the strip under it.
func bentCentroid(path geom.Path, left bool, thick unit.Length) (x, y float64) {
	t := thick.MM() / 2
	if !left {
		t = -t
	}
	ps := path.Flatten(flatten)
	var all float64
	for i := 1; i < len(ps); i++ {
		px, py, qx, qy := ps[i-1].X.MM(), ps[i-1].Y.MM(), ps[i].X.MM(), ps[i].Y.MM()
		l := math.Hypot(qx-px, qy-py)
		if l == 0 {
			continue
		}
		all += l
		x += l*(px+qx)/2 - t*(qy-py)
		y += l*(py+qy)/2 + t*(qx-px)
	}
	if all == 0 {
		return 0, 0
	}
	return x / all, y / all
}

// moving says whether a part goes out with the drawer or door of an opening.
func moving(p *build.Part, place, opening string) bool {
	switch p.Role {
	case build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom, build.RoleFront, build.RoleDoor:
		return lies(place, opening)
	}
	return strings.HasPrefix(p.Name, "box ") && lies(place, opening)
}
