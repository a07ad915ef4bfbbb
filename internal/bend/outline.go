package bend

import (
	"math"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// The outlines are drawn in the bend's own plane: the panel comes in along
// the x axis with its uncut face on y = 0, the kerfed zone starts at x = 0,
// and the bend turns left. With kerfs inside, the panel lies above its face
// (y from 0 to the thickness); with kerfs outside, below it.

// Face is the outline of the uncut face, bent by turn: flats over the lands
// and arcs over the kerfs and their roots, with leg of straight panel before
// and after. Its facets are those of Result.Facet. A turn under 0 is taken
// as 0, one past closing as closing, so that a drawing can run from flat to
// closed.
func (r Result) Face(turn unit.Angle, leg unit.Length) geom.Path {
	c := r.chain(turn)
	if c.n == 0 {
		return nil
	}
	c.arc = c.k.bent(c.pitch)
	face, _ := c.sides(leg.MM())
	return geom.Path(face)
}

// FacePoints is Face as points, per of them along each arc (at least 1).
func (r Result) FacePoints(turn unit.Angle, leg unit.Length, per int) []geom.Point {
	per = min(max(per, 1), 1000)
	var pts []geom.Point
	face := r.Face(turn, leg)
	for i, v := range face {
		pts = append(pts, v.Point)
		if v.Bulge == 0 || i+1 == len(face) {
			continue
		}
		pts = append(pts, arcPoints(v, face[i+1].Point, per)...)
	}
	return pts
}

// SectionPoints is Section as points, per of them along each arc (at least 1).
// Their number and order do not depend on the turn, so that a drawing can go
// from one turn to the next point by point.
func (r Result) SectionPoints(turn unit.Angle, leg unit.Length, per int) []geom.Point {
	per = min(max(per, 1), 1000)
	arcs := r.Section(r.most(), leg) // flat, the arcs are straight and do not show
	section := r.Section(turn, leg)
	var pts []geom.Point
	for i, v := range section {
		pts = append(pts, v.Point)
		if i+1 < len(section) && arcs[i].Bulge != 0 {
			pts = append(pts, arcPoints(v, section[i+1].Point, per)...)
		}
	}
	return pts
}

// FaceLoose is Face without being held at closing: where the face would lie
// if the kerfs let it turn so far, as those of a wider blade do.
func (r Result) FaceLoose(turn unit.Angle, leg unit.Length) geom.Path {
	c := r.chain(turn)
	if c.n == 0 || !(turn <= 2*math.Pi) {
		return nil
	}
	c.theta = max(turn.Rad(), 0) / float64(c.n)
	c.arc = c.k.bent(c.pitch)
	face, _ := c.sides(leg.MM())
	return geom.Path(face)
}

// GapAt is how far each kerf is open at its mouth when the bend has turned by
// turn, held between 0 and closing: Result.Gap for any turn. Derived.
func (r Result) GapAt(turn unit.Angle) unit.Length {
	c := r.chain(turn)
	if c.n == 0 {
		return 0
	}
	return unit.MM(c.k.kerfHinge(c.pitch).gap(c.theta, c.k.side))
}

// most is the turn at which the kerfs close, or with kerfs outside the turn
// wanted.
func (r Result) most() unit.Angle {
	if r.Spec.Outside {
		return r.Turn
	}
	return r.ClosesAt
}

// arcPoints are the points between the ends of an arc cut in per equal parts.
func arcPoints(v geom.Vertex, to geom.Point, per int) []geom.Point {
	sweep := 4 * math.Atan(v.Bulge)
	dx, dy := (to.X - v.X).MM(), (to.Y - v.Y).MM()
	if math.Abs(sweep) < 1e-9 {
		var pts []geom.Point
		for i := 1; i < per; i++ {
			part := float64(i) / float64(per)
			pts = append(pts, geom.P(v.X+unit.MM(dx*part), v.Y+unit.MM(dy*part)))
		}
		return pts
	}
	chord, heading := math.Hypot(dx, dy), math.Atan2(dy, dx)-sweep/2
	var pts []geom.Point
	for i := 1; i < per; i++ {
		part := sweep * float64(i) / float64(per)
		length := chord * math.Sin(part/2) / math.Sin(sweep/2)
		sin, cos := math.Sincos(heading + part/2)
		pts = append(pts, geom.P(v.X+unit.MM(length*cos), v.Y+unit.MM(length*sin)))
	}
	return pts
}

// Section is the outline of the panel across its kerfs, bent by turn, with
// leg of straight panel before and after: face, kerf walls and kerf bottoms
// as the tooth leaves them. It is the mechanism by which the closing angle is
// reckoned, so at ClosesAt the mouth corners touch. Turn is held between 0
// and closing, as in Face.
func (r Result) Section(turn unit.Angle, leg unit.Length) geom.Outline {
	c := r.chain(turn)
	if c.n == 0 {
		return nil
	}
	first, second := c.sides(leg.MM())
	if c.k.side < 0 {
		first, second = second, first
	}
	return append(geom.Outline(first), reversed(second)...)
}

// reversed is a run of vertices the other way round; each arc keeps its place.
func reversed(run []geom.Vertex) []geom.Vertex {
	out := make([]geom.Vertex, 0, len(run))
	for i := len(run) - 1; i >= 0; i-- {
		v := geom.Vertex{Point: run[i].Point}
		if i > 0 {
			v.Bulge = -run[i-1].Bulge
		}
		out = append(out, v)
	}
	return out
}

// chain is a row of hinges to be drawn.
type chain struct {
	k          model
	n          int
	pitch, arc float64
	theta      float64 // turn of each
	x, y, head float64 // the pen, on the neutral line
}

// chain is the bend at the given turn.
func (r Result) chain(turn unit.Angle) chain {
	if r.Count == 0 {
		return chain{}
	}
	if !(turn > 0) { // also NaN
		turn = 0
	}
	k, pitch := newModel(r.Spec), r.pitch()
	return chain{
		k: k, n: r.Count, pitch: pitch, arc: k.kerfHinge(pitch).arc,
		theta: min(turn, r.most()).Rad() / float64(r.Count),
	}
}

// ahead moves the pen straight on.
func (c *chain) ahead(l float64) {
	sin, cos := math.Sincos(c.head)
	c.x += l * cos
	c.y += l * sin
}

// round moves the pen over one hinge.
func (c *chain) round() {
	half := c.theta / 2
	c.head += half
	c.ahead(c.arc * sinc(half))
	c.head += half
}

// at is the point at depth under the face and along ahead of the pen.
func (c *chain) at(depth, along float64) geom.Point {
	sin, cos := math.Sincos(c.head)
	up := (depth - c.k.yn) * c.k.side
	return geom.P(unit.MM(c.x+along*cos-up*sin), unit.MM(c.y+along*sin+up*cos))
}

// sides draws the face and the kerfed side, both in the direction of travel.
func (c chain) sides(leg float64) (face, kerfed []geom.Vertex) {
	k := c.k
	c.x, c.y, c.head = -math.Max(leg, 0), k.side*k.yn, 0
	line := func(run *[]geom.Vertex, p geom.Point) { *run = append(*run, geom.Vertex{Point: p}) }
	bend := func(run *[]geom.Vertex) { (*run)[len(*run)-1].Bulge = math.Tan(c.theta / 4) }

	line(&face, c.at(0, 0))
	line(&kerfed, c.at(k.T, 0))
	mouth, bottom := (k.mouth-c.arc)/2, (k.bottom-c.arc)/2 // beyond the hinge, in the land
	c.ahead(math.Max(leg, 0))
	for range c.n {
		c.ahead((c.pitch - c.arc) / 2)
		line(&face, c.at(0, 0))
		bend(&face)
		line(&kerfed, c.at(k.T, -mouth))
		middle := c
		middle.theta /= 2
		middle.arc /= 2
		middle.round()
		switch k.tooth.Form {
		case VeeTooth:
			line(&kerfed, middle.at(k.t, 0))
		case BevelTooth:
			line(&kerfed, c.at(k.t, -bottom))
			line(&kerfed, middle.at(k.t+k.bottom/2*math.Tan(k.tooth.Bevel.Rad()), 0))
		default:
			line(&kerfed, c.at(k.t, -bottom))
			if bottom == 0 {
				bend(&kerfed)
			}
		}
		c.round()
		line(&face, c.at(0, 0))
		if k.tooth.Form != VeeTooth {
			line(&kerfed, c.at(k.t, bottom))
		}
		line(&kerfed, c.at(k.T, mouth))
		c.ahead((c.pitch - c.arc) / 2)
	}
	c.ahead(math.Max(leg, 0))
	line(&face, c.at(0, 0))
	line(&kerfed, c.at(k.T, 0))
	return face, kerfed
}
