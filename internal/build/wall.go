package build

import (
	"math"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// The four walls of a cell, as indices.
const (
	atLeft = iota
	atRight
	atBottom
	atTop
)

// wallNames are the walls as papers call them.
var wallNames = [4]string{"left", "right", "bottom", "top"}

// into is the direction in which the face of a wall looks: into the cell.
var into = [4]geom.Dir{geom.Right, geom.Left, geom.Up, geom.Down}

// wall is what bounds a cell on one side, behind the frame where there is
// one: at is x of the face for left and right, z for bottom and top.
type wall struct {
	at     unit.Length
	edge   unit.Length // what is seen of it from the front
	panel  bool        // a panel stands there; otherwise only a frame member, at its middle
	shared bool        // between two cells; otherwise the outside of the case
}

// flush is how close two faces must be to count as one: curved outlines are
// rounded to a nanometre, frames hold directions in float64.
const flush = 20 * unit.Micrometre

// spot is a place on the face of a part, in the part's own plane.
type spot struct {
	part  *Part
	place int // index into part.Places
	x, y  unit.Length
	face  Face
}

// spotAt finds the part that has a face at point p looking in direction dir,
// and where on that part p lies. Flat parts and the flats of bent ones count;
// a point on a bend is not found.
func (b *builder) spotAt(p geom.Vec, dir geom.Dir) (spot, bool) {
	for _, part := range b.parts {
		for i := range part.Places {
			if x, y, face, ok := onFace(part, i, p, dir); ok {
				return spot{part, i, x, y, face}, true
			}
		}
	}
	return spot{}, false
}

// onFace maps a point in space that lies on a face of a part, where that face
// looks in direction dir, to the part's flat drawing.
func onFace(part *Part, place int, p geom.Vec, dir geom.Dir) (x, y unit.Length, face Face, ok bool) {
	f := part.Places[place].Frame
	d := geom.Vec{X: p.X - f.Origin.X, Y: p.Y - f.Origin.Y, Z: p.Z - f.Origin.Z}
	n := f.N()
	u, v, w := along(d, f.U), along(d, f.V), along(d, n)
	if part.Bent != nil {
		y = w
		x, face, ok = onFlat(part, u, v, dir.Dot(f.U), dir.Dot(f.V))
	} else {
		x, y = u, v
		switch c := dir.Dot(n); {
		case c > 1-1e-9 && touches(w, part.Thickness.Size):
			face, ok = FaceOther, true
		case c < -1+1e-9 && touches(w, 0):
			face, ok = FaceReference, true
		}
	}
	if f.Mirror {
		y = part.Width.Size - y
	}
	if !ok || !within(x, 0, part.Length.Size) || !within(y, 0, part.Width.Size) {
		return 0, 0, "", false
	}
	return x, y, face, true
}

// flat is one straight run of a bent part's uncut face: from a along the
// unit vector (tx, ty) for the given length, with the panel on the side of
// (nx, ny); start is where it begins on the flat part.
type flat struct {
	a              geom.Point
	tx, ty, nx, ny float64
	length, start  unit.Length
}

// flats lists the straight runs of a bent part. Where a bend has its kerf
// group, the run after it starts where the kerf zone ends, so that what is
// drilled into the flat panel comes out where it is wanted after bending.
func flats(part *Part) []flat {
	var out []flat
	var at unit.Length
	bends := 0
	path := part.Bent.Profile
	for i := 0; i+1 < len(path); i++ {
		dx, dy := (path[i+1].X - path[i].X).MM(), (path[i+1].Y - path[i].Y).MM()
		chord := math.Hypot(dx, dy)
		if chord == 0 {
			continue
		}
		if bulge := path[i].Bulge; bulge != 0 {
			angle := 4 * math.Atan(math.Abs(bulge))
			at += unit.MM(chord / 2 / math.Sin(angle/2) * angle)
			if bends < len(part.Kerfs) {
				at = part.Kerfs[bends].Start + part.Kerfs[bends].Zone
			}
			bends++
			continue
		}
		f := flat{a: path[i].Point, tx: dx / chord, ty: dy / chord, length: unit.MM(chord), start: at}
		f.nx, f.ny = f.ty, -f.tx
		if part.Bent.Left {
			f.nx, f.ny = -f.nx, -f.ny
		}
		out = append(out, f)
		at += f.length
	}
	return out
}

// onFlat finds the flat whose uncut or kerfed face holds (u, v) and looks in
// direction (du, dv), and the place along the flat part.
func onFlat(part *Part, u, v unit.Length, du, dv float64) (x unit.Length, face Face, ok bool) {
	kerfed := FaceReference
	if len(part.Kerfs) > 0 {
		kerfed = part.Kerfs[0].Face
	}
	uncut := FaceOther
	if kerfed == FaceOther {
		uncut = FaceReference
	}
	for _, f := range flats(part) {
		ru, rv := (u - f.a.X).MM(), (v - f.a.Y).MM()
		s, depth := unit.MM(ru*f.tx+rv*f.ty), unit.MM(ru*f.nx+rv*f.ny)
		if !within(s, 0, f.length) {
			continue
		}
		looks := du*f.nx + dv*f.ny
		switch {
		case looks > 1-1e-9 && touches(depth, part.Thickness.Size):
			return f.start + s, kerfed, true
		case looks < -1+1e-9 && touches(depth, 0):
			return f.start + s, uncut, true
		}
	}
	return 0, "", false
}

func along(v geom.Vec, d geom.Dir) unit.Length {
	return v.X.Scale(d.X) + v.Y.Scale(d.Y) + v.Z.Scale(d.Z)
}

// touches says that two faces lie in one plane.
func touches(a, b unit.Length) bool { return (a - b).Abs() <= flush }

// within says that a place lies on a part, its edge included.
func within(v, least, most unit.Length) bool { return v >= least-flush && v <= most+flush }

// work adds a feature to the part, on the face of the spot. Of a part that
// stands in several places it is only for the one that was met.
func (s spot) work(f Feature) {
	f.Face = s.face
	if len(s.part.Places) > 1 {
		f.Place = s.part.Places[s.place].Name
	}
	s.part.feature(f)
}

// trench works a groove or housing for a part that stands on a wall: a strip
// of the given width centred on the line from p to q.
func (b *builder) trench(kind FeatureKind, p, q geom.Vec, dir geom.Dir, width, depth unit.Length, what string) (spot, bool) {
	s, ok := b.spotAt(p, dir)
	if !ok {
		return spot{}, false
	}
	x, y, _, ok := onFace(s.part, s.place, q, dir)
	if !ok {
		return spot{}, false
	}
	h := width / 2
	x0, x1, y0, y1 := min(s.x, x), max(s.x, x), min(s.y, y), max(s.y, y)
	if x1-x0 > y1-y0 {
		y0, y1 = y0-h, y0-h+width
	} else {
		x0, x1 = x0-h, x0-h+width
	}
	s.work(Feature{Kind: kind, Region: box(geom.P(x0, y0), geom.P(x1, y1)), Depth: depth, For: what})
	return s, true
}

// slot is the region of a hole that is longer one way, its ends round.
func slot(x, y, lx, ly unit.Length) geom.Outline {
	r := min(lx, ly) / 2
	if lx == ly {
		return disc(geom.P(x, y), lx)
	}
	return moved(rounded(lx, ly, [4]unit.Length{r, r, r, r}), x-lx/2, y-ly/2)
}
