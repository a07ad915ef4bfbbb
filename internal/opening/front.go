package opening

import (
	"math"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// Outline is the figure with its corners, anticlockwise from the lower left;
// nil for no shape.
func (s Shape) Outline() geom.Outline {
	o, _ := s.inset([4]unit.Length{}, s.Radius)
	return o
}

// Belly is by how much the narrowest width and the least height were measured
// short of the figure: so much the sides stand in between its corners.
func (s Shape) Belly() (width, height unit.Length) {
	for i := range 3 {
		width, height = max(width, -s.Off[WidthTop+i]), max(height, -s.Off[HeightLeft+i])
	}
	return width.RoundUp(unit.Micrometre), height.RoundUp(unit.Micrometre)
}

// Setback is how far a front that leaves the gap everywhere stands from each
// edge of the figure: left, right, bottom, top. It is the gap, and half of
// the belly where there is one.
func (s Shape) Setback(gap unit.Length) [4]unit.Length {
	w, h := s.Belly()
	return [4]unit.Length{Left: gap + (w+1)/2, Right: gap + (w+1)/2, Bottom: gap + (h+1)/2, Top: gap + (h+1)/2}
}

// Front is the outline of a front that leaves the gap to the opening
// everywhere: edges that taper as the opening does, corners with the
// opening's radii less the gap. It lies in the figure's own plane. False
// where the gap leaves nothing.
func (s Shape) Front(gap unit.Length) (geom.Outline, bool) {
	return s.inset(s.Setback(gap), s.FrontRadius(gap))
}

// FrontRadius is the radius at each corner of the front.
func (s Shape) FrontRadius(gap unit.Length) [4]unit.Length {
	var out [4]unit.Length
	for i, r := range s.Radius {
		out[i] = max(0, r-gap)
	}
	return out
}

// line is a point and a direction of unit length; the figure lies to its left.
type line struct{ at, way xy }

// along is the line from a to b, moved in, to its left, by d.
func along(a, b xy, d unit.Length) line {
	w := unitTo(a, b)
	return line{xy{a.x - w.y*d.MM(), a.y + w.x*d.MM()}, w}
}

// edges are the sides, each moved in by its distance.
func (s Shape) edges(in [4]unit.Length) [4]line {
	var c [4]xy
	for i, p := range s.Corner {
		c[i] = xy{p.X.MM(), p.Y.MM()}
	}
	return [4]line{
		Left: along(c[TopLeft], c[BottomLeft], in[Left]), Right: along(c[BottomRight], c[TopRight], in[Right]),
		Bottom: along(c[BottomLeft], c[BottomRight], in[Bottom]), Top: along(c[TopRight], c[TopLeft], in[Top]),
	}
}

// meet is where two lines cross.
func (l line) meet(m line) (xy, bool) {
	cross := l.way.x*m.way.y - l.way.y*m.way.x
	if math.Abs(cross) < 0.05 {
		return xy{}, false
	}
	dx, dy := m.at.x-l.at.x, m.at.y-l.at.y
	t := (dx*m.way.y - dy*m.way.x) / cross
	return xy{l.at.x + t*l.way.x, l.at.y + t*l.way.y}, true
}

// inset is the figure with each side moved in and the corners rounded.
func (s Shape) inset(in, radius [4]unit.Length) (geom.Outline, bool) {
	if s.Empty() {
		return nil, false
	}
	return within(s.edges(in), radius)
}

// within is what four edges enclose, its corners rounded.
func within(e [4]line, radius [4]unit.Length) (geom.Outline, bool) {
	pairs := [4][2]int{{Left, Bottom}, {Bottom, Right}, {Right, Top}, {Top, Left}}
	from := [4]int{BottomLeft, BottomRight, TopRight, TopLeft}
	o := make(geom.Outline, 4)
	var r [4]unit.Length
	for i, pair := range pairs {
		p, ok := e[pair[0]].meet(e[pair[1]])
		if !ok {
			return nil, false
		}
		o[i].Point = geom.P(unit.MM(p.x), unit.MM(p.y))
		r[i] = radius[from[i]]
	}
	// Each side still runs the way it did.
	for i := range o {
		a, b := o[i].Point, o[(i+1)%4].Point
		w := e[pairs[i][1]].way
		if (b.X-a.X).MM()*w.x+(b.Y-a.Y).MM()*w.y < 1 {
			return nil, false
		}
	}
	out, err := o.RoundCorners(r[:])
	if err != nil {
		return nil, false
	}
	return out, true
}

// Margin is how far a point lies inside an edge of the figure; less than 0,
// outside.
func (s Shape) Margin(edge int, p geom.Point) unit.Length {
	l := s.edges([4]unit.Length{})[edge]
	dx, dy := p.X.MM()-l.at.x, p.Y.MM()-l.at.y
	return unit.MM(l.way.x*dy - l.way.y*dx)
}
