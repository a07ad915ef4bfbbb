package geom

import (
	"math"

	"casewright/internal/unit"
)

// Coordinates may lie within ±1000 km; furniture stays far inside.

// Bounds is an upright rectangle, Min its lower left and Max its upper right
// corner.
type Bounds struct{ Min, Max Point }

// Width is the size in x.
func (b Bounds) Width() unit.Length { return b.Max.X - b.Min.X }

// Height is the size in y.
func (b Bounds) Height() unit.Length { return b.Max.Y - b.Min.Y }

// Meets says that the two rectangles share more than an edge.
func (b Bounds) Meets(c Bounds) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

func boundsOf(es []edge, first Point) Bounds {
	b := Bounds{first, first}
	add := func(p Point) {
		b.Min = P(min(b.Min.X, p.X), min(b.Min.Y, p.Y))
		b.Max = P(max(b.Max.X, p.X), max(b.Max.Y, p.Y))
	}
	for _, e := range es {
		add(e.b.point())
		for quarter := 0; e.arc() && quarter < 4; quarter++ {
			if rad := float64(quarter) * math.Pi / 2; e.passes(rad) {
				add(e.centre.plus(polar(e.r, rad)).point())
			}
		}
	}
	return b
}

// Bounds is the smallest upright rectangle round the outline, exact for lines,
// to the nearest nanometre for arcs; the zero rectangle for no outline.
func (o Outline) Bounds() Bounds {
	if len(o) == 0 {
		return Bounds{}
	}
	return boundsOf(o.edges(), o[0].Point)
}

// Bounds is the smallest upright rectangle round the path.
func (p Path) Bounds() Bounds {
	if len(p) == 0 {
		return Bounds{}
	}
	return boundsOf(p.edges(), p[0].Point)
}

// Area is the area inside, positive for an anticlockwise outline and negative
// for a clockwise one, so that an outer outline and its holes add up to the
// face. It is the shoelace sum over the chords and, for each arc, the circular
// segment r²/2·(θ − sin θ); its error is that of float64, about 1 in 10¹⁵.
func (o Outline) Area() unit.Area {
	sum := 0.0
	for _, e := range o.edges() {
		// From the first vertex, so that a far origin costs no digits.
		sum += e.a.minus(o[0].pt()).cross(e.b.minus(o[0].pt()))/2 + e.segment()
	}
	return unit.Area(sum * 1e-18)
}

// Length is the length round the outline, to the nearest nanometre.
func (o Outline) Length() unit.Length { return lengthOf(o.edges()) }

// Length is the length along the path, to the nearest nanometre.
func (p Path) Length() unit.Length { return lengthOf(p.edges()) }

func lengthOf(es []edge) unit.Length {
	sum := 0.0
	for _, e := range es {
		sum += e.length()
	}
	return unit.Length(math.Round(sum))
}

// Contains says that q lies inside the outline or within a nanometre of its
// edge. The sense in which the outline runs does not matter. It adds up the
// angles under which q sees the edges; inside, they make whole turns.
func (o Outline) Contains(q Point) bool {
	p := q.pt()
	sum := 0.0
	for _, e := range o.edges() {
		if e.distance(p) <= 1 {
			return true
		}
		a, b := e.a.minus(p), e.b.minus(p)
		side := a.cross(b) // > 0: p is to the left of the chord
		if side == 0 {
			side = 0 // −0 would be to the right
		}
		sum += math.Atan2(side, a.dot(b))
		if !e.arc() || p.distance(e.centre) > e.r {
			continue
		}
		// Between chord and arc, p sees the arc the other way round than the
		// chord. A p on the chord counts as left of it, as Atan2 takes it.
		switch {
		case e.bulge > 0 && side < 0:
			sum += 2 * math.Pi
		case e.bulge < 0 && side >= 0:
			sum -= 2 * math.Pi
		}
	}
	return math.Abs(sum) > math.Pi
}

// maxChords bounds the points that one arc is flattened to. A full turn of 3 m
// radius stays within a micrometre.
const maxChords = 1 << 12

// flatten adds the points of e after its start, its end among them.
func (e edge) flatten(tol float64, out []Point) []Point {
	if e.arc() {
		// A chord over the angle φ leaves the arc by r(1 − cos φ/2).
		step := 4 * math.Asin(math.Min(1, math.Sqrt(tol/(2*e.r))))
		n := math.Min(maxChords, math.Max(2, math.Ceil(math.Abs(e.sweep)/step)))
		end := e.b.point()
		for i := 1.0; i < n; i++ {
			p := e.at(i / n).point()
			if (len(out) == 0 || out[len(out)-1] != p) && p != end {
				out = append(out, p)
			}
		}
	}
	return append(out, e.b.point())
}

// Flatten is the outline as a polygon, whose sides leave an arc by at most tol
// (and the half nanometre of rounding); a tol under a nanometre counts as one,
// and an arc has at most 4096 sides.
// The corners lie on the outline, so the polygon is the smaller one at a round
// corner. The last point joins the first.
func (o Outline) Flatten(tol unit.Length) []Point {
	var out []Point
	for _, e := range o.edges() {
		out = e.flatten(float64(max(1, tol)), out)
	}
	if n := len(out); n > 0 { // begin with the first vertex, not the second
		out = append(out[n-1:n:n], out[:n-1]...)
	}
	return out
}

// Flatten is the path as a run of straight lines, within tol of it.
func (p Path) Flatten(tol unit.Length) []Point {
	if len(p) == 0 {
		return nil
	}
	out := []Point{p[0].Point}
	for _, e := range p.edges() {
		out = e.flatten(float64(max(1, tol)), out)
	}
	return out
}

// Reverse is the outline run through the other way, from the same first
// vertex; edge i of n becomes edge n−1−i.
func (o Outline) Reverse() Outline {
	n := len(o)
	out := make(Outline, n)
	for i := range o {
		out[i] = Vertex{o[(n-i)%n].Point, -o[n-1-i].Bulge}
	}
	return out
}

// Reverse is the path from its end to its start.
func (p Path) Reverse() Path {
	n := len(p)
	out := make(Path, n)
	for i := range p {
		out[i].Point = p[n-1-i].Point
		if i < n-1 {
			out[i].Bulge = -p[n-2-i].Bulge
		}
	}
	return out
}

// mapped is a copy of vs with each point sent through f and each bulge times
// bulge.
func mapped[S ~[]Vertex](vs S, bulge float64, f func(Point) Point) S {
	out := make(S, len(vs))
	for i, v := range vs {
		out[i] = Vertex{f(v.Point), v.Bulge * bulge}
	}
	return out
}

func moved(d Point) func(Point) Point {
	return func(p Point) Point { return P(p.X+d.X, p.Y+d.Y) }
}

func mirrored(width unit.Length) func(Point) Point {
	return func(p Point) Point { return P(p.X, width-p.Y) }
}

func rotated(a unit.Angle) func(Point) Point {
	return func(p Point) Point { return p.pt().turned(a.Rad()).point() }
}

// Translate is the outline moved by d. Exact.
func (o Outline) Translate(d Point) Outline { return mapped(o, 1, moved(d)) }

// Translate is the path moved by d. Exact.
func (p Path) Translate(d Point) Path { return mapped(p, 1, moved(d)) }

// MirrorY is the mirror image in a part of the given width: y becomes
// width − y. Exact. The image runs in the same sense as before, so an outer
// outline stays anticlockwise; edge i of n becomes edge n−1−i.
func (o Outline) MirrorY(width unit.Length) Outline {
	return mapped(o, -1, mirrored(width)).Reverse()
}

// MirrorY is the mirror image in a part of the given width: y becomes
// width − y. Exact. The path still runs from its start to its end.
func (p Path) MirrorY(width unit.Length) Path { return mapped(p, -1, mirrored(width)) }

// Rotate is the outline turned about the origin, anticlockwise for a positive
// angle, to the nearest nanometre; quarter turns are exact.
func (o Outline) Rotate(a unit.Angle) Outline { return mapped(o, 1, rotated(a)) }

// Rotate is the path turned about the origin.
func (p Path) Rotate(a unit.Angle) Path { return mapped(p, 1, rotated(a)) }
