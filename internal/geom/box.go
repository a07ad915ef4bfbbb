package geom

import (
	"math"

	"casewright/internal/unit"
)

// Box is a block that may stand askew: X, Y and Z are its sizes along the
// frame's U, V and N, from its origin. A block is its own mirror image, so the
// frame's Mirror does not matter.
type Box struct {
	Frame   Frame
	X, Y, Z unit.Length
}

// Corners are the eight corners: bit 0 of the index is the far end in U, bit 1
// in V, bit 2 in N.
func (b Box) Corners() [8]Vec {
	var out [8]Vec
	for i := range out {
		x, y, z := unit.Length(i&1), unit.Length(i>>1&1), unit.Length(i>>2&1)
		out[i] = b.Frame.At(x*b.X, y*b.Y, z*b.Z)
	}
	return out
}

// Bounds is the smallest upright box round the block.
func (b Box) Bounds() Bounds3 {
	cs := b.Corners()
	return BoundsOf(cs[:]...)
}

// Penetration is how deep the two blocks reach into each other: the least
// distance by which one would have to move to be clear of the other. It is 0
// when they touch and negative when they are apart; then its size is at most
// the distance between them. To the nearest nanometre.
//
// Two convex bodies are apart when the shadows they cast on some line are, and
// for two blocks the lines along their faces' normals and along the products
// of one edge with the other are enough (the separating axis theorem; Gottschalk,
// Lin and Manocha, OBBTree, SIGGRAPH 1996).
func (b Box) Penetration(c Box) unit.Length {
	depth, _ := b.separate(c)
	return unit.Length(math.Round(depth))
}

// separate is the penetration in nanometres and the direction in which c would
// have to move by it.
func (b Box) separate(c Box) (float64, Dir) {
	ub, uc := b.axes(), c.axes()
	apart := c.centre(b.Frame.Origin)
	mid := b.centre(b.Frame.Origin)
	for i := range apart {
		apart[i] -= mid[i]
	}
	depth, way := math.Inf(1), Dir{}
	try := func(d Dir) {
		gap := apart[0]*d.X + apart[1]*d.Y + apart[2]*d.Z
		if gap < 0 {
			gap, d = -gap, d.Neg()
		}
		if in := b.reach(ub, d) + c.reach(uc, d) - gap; in < depth {
			depth, way = in, d
		}
	}
	for i := range 3 {
		try(ub[i])
		try(uc[i])
	}
	for _, u := range ub {
		for _, w := range uc {
			// Edges that run alike have no product, and no need of it.
			if d := u.Cross(w); d.Dot(d) > 1e-12 {
				try(d.Norm())
			}
		}
	}
	return depth, way
}

func (b Box) axes() [3]Dir { return [3]Dir{b.Frame.U, b.Frame.V, b.Frame.N()} }

// centre is the middle of the block in nanometres from the place o.
func (b Box) centre(o Vec) [3]float64 {
	from := b.Frame.Origin.Sub(o)
	c := [3]float64{float64(from.X), float64(from.Y), float64(from.Z)}
	for i, d := range b.axes() {
		half := float64([3]unit.Length{b.X, b.Y, b.Z}[i]) / 2
		c[0] += half * d.X
		c[1] += half * d.Y
		c[2] += half * d.Z
	}
	return c
}

// reach is half the length of the block's shadow on the direction d.
func (b Box) reach(axes [3]Dir, d Dir) float64 {
	return float64(b.X)/2*math.Abs(axes[0].Dot(d)) +
		float64(b.Y)/2*math.Abs(axes[1].Dot(d)) +
		float64(b.Z)/2*math.Abs(axes[2].Dot(d))
}

// Prism is a part cut square to its face: a face as drawn, in a part of the
// given width, with a thickness. The frame places it, mirrored if it says so.
type Prism struct {
	Frame            Frame
	Face             Region
	Width, Thickness unit.Length
}

// Box is the smallest block, square to the frame, that holds the prism.
func (p Prism) Box() Box {
	b := p.Frame.PlaceRegion(p.Face, p.Width).Bounds()
	f := p.Frame
	f.Origin = f.At(b.Min.X, b.Min.Y, 0)
	return Box{f, b.Width(), b.Height(), p.Thickness}
}

// Overlap is what two prisms whose faces are parallel have in common: the area
// seen along the normal, and the depth along it. The depth is 0 when they
// touch face to face and negative when they are apart; the area is then 0. It
// is false when the faces are not parallel (to 1 in 10⁹); then only their
// boxes can be compared.
func (p Prism) Overlap(q Prism) (area unit.Area, depth unit.Length, parallel bool) {
	n := p.Frame.N()
	across := n.Cross(q.Frame.N())
	if across.Dot(across) > 1e-18 {
		return 0, 0, false
	}
	low := q.Frame.Origin.Sub(p.Frame.Origin).Along(n)
	high := low + q.Thickness
	if n.Dot(q.Frame.N()) < 0 {
		low, high = low-q.Thickness, low
	}
	depth = min(high, p.Thickness) - max(low, 0)
	if depth <= 0 {
		return 0, depth, true
	}
	return OverlapArea(p.Frame.PlaceRegion(p.Face, p.Width), q.seenFrom(p.Frame)), depth, true
}

// seenFrom is the placed face of q in the plane of the frame f, parallel to
// its own.
func (q Prism) seenFrom(f Frame) Region {
	bulge := 1.0
	if f.N().Dot(q.Frame.N()) < 0 {
		bulge = -1 // seen from behind, left turns are right turns
	}
	var out Region
	for _, o := range q.Frame.PlaceRegion(q.Face, q.Width) {
		out = append(out, mapped(o, bulge, func(p Point) Point {
			v := q.Frame.At(p.X, p.Y, 0).Sub(f.Origin)
			return P(v.Along(f.U), v.Along(f.V))
		}))
	}
	return out
}
