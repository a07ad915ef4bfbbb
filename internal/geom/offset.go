package geom

import (
	"math"

	"casewright/internal/unit"
)

// Offset is the outline with every edge moved d away from the material: an
// outer outline grows and a hole shrinks for a positive d, the other way round
// for a negative one. Sharp corners stay sharp; arcs keep their centres. The
// edges are true to a few nanometres; where they run smoothly into each other,
// the vertex between them may lie a fraction of a micrometre along.
//
// It is false when the outline does not keep its form: an edge vanishes or a
// narrow place closes.
func (o Outline) Offset(d unit.Length) (Outline, bool) {
	if len(o) < 2 {
		return nil, false
	}
	if d == 0 {
		return append(Outline(nil), o...), true
	}
	es := o.edges()
	for _, e := range es {
		if e.a == e.b || e.arc() && e.offsetRadius(d) <= 0 {
			return nil, false
		}
	}
	ends := make([]pt, len(o)) // the new vertices
	for i := range o {
		p, ok := offsetCorner(es[(i+len(es)-1)%len(es)], es[i], d)
		if !ok {
			return nil, false
		}
		ends[i] = p
	}
	out := make(Outline, len(o))
	for i, e := range es {
		bulge, ok := e.offsetBulge(ends[i], ends[(i+1)%len(ends)])
		if !ok {
			return nil, false
		}
		out[i] = Vertex{ends[i].point(), bulge}
	}
	if !o.clears(out, d.Abs()) || out.Area()*o.Area() <= 0 || !out.IsSimple() {
		return nil, false
	}
	return out, true
}

// offsetRadius is the radius of the arc moved d to its right.
func (e edge) offsetRadius(d unit.Length) float64 {
	if e.sweep > 0 {
		return e.r + float64(d)
	}
	return e.r - float64(d)
}

// offsetCorner is where the edges e and f, which meet at a vertex, meet again
// once both have moved d to their right.
func offsetCorner(e, f edge, d unit.Length) (pt, bool) {
	_, in := e.heading()
	out, _ := f.heading()
	cross, dot := in.cross(out), in.dot(out)
	if dot < 0 && math.Abs(cross) < 1e-9 {
		return pt{}, false // the edges fold back
	}
	// The mitre: the point at d from both tangents.
	mitre := e.b.plus(in.right().plus(out.right()).times(float64(d) / (1 + dot)))
	if dot > 0 && math.Abs(cross) < 1e-6 || !e.arc() && !f.arc() {
		return mitre, true
	}
	best, found := pt{}, false
	for _, p := range meet(e, f, d) {
		if !found || p.distance(mitre) < best.distance(mitre) {
			best, found = p, true
		}
	}
	return best, found
}

// meet gives the points common to e and f, of which at least one is an arc,
// when both have moved d to their right and are continued past their ends.
func meet(e, f edge, d unit.Length) []pt {
	// Reckoned from the smaller arc: the centre of a flat one is so far away
	// that the differences of its squares are lost.
	if !e.arc() || f.arc() && f.r < e.r {
		e, f = f, e
	}
	r := e.offsetRadius(d)
	// foot is the middle of the two points and along the direction from one to
	// the other; h² the square of half their distance.
	var foot, along pt
	var h2 float64
	if f.arc() {
		s := f.offsetRadius(d)
		apart := f.centre.minus(e.centre)
		c := apart.len()
		if c == 0 {
			return nil
		}
		x := (r*r + (c-s)*(c+s)) / (2 * c)
		foot = e.centre.plus(apart.times(x / c))
		along = apart.right().times(1 / c)
		h2 = r*r - x*x
	} else {
		along, _ = f.heading()
		start := f.a.plus(along.right().times(float64(d)))
		foot = start.plus(along.times(e.centre.minus(start).dot(along)))
		x := foot.distance(e.centre)
		h2 = r*r - x*x
	}
	if h2 < 0 {
		return nil
	}
	h := math.Sqrt(h2)
	return []pt{foot.plus(along.times(h)), foot.minus(along.times(h))}
}

// offsetBulge is the bulge of the moved edge between its new ends, false when
// the edge has vanished.
func (e edge) offsetBulge(a, b pt) (float64, bool) {
	if !e.arc() {
		return 0, e.b.minus(e.a).dot(b.minus(a)) > 0
	}
	sweep := turn(a.minus(e.centre).direction(), b.minus(e.centre).direction(), e.sweep)
	old := math.Abs(e.sweep)
	switch {
	case math.Abs(sweep-old) < 1e-9:
		return e.bulge, true // both ends run smoothly into their neighbours
	case sweep > old+math.Pi || sweep >= 2*math.Pi-1e-6:
		return 0, false // the ends have passed each other
	}
	return math.Copysign(math.Tan(sweep/4), e.bulge), true
}

// clears says that the corners and the middles of the edges of p all keep the
// distance d from o, but for the nanometres of rounding.
func (o Outline) clears(p Outline, d unit.Length) bool {
	es := o.edges()
	for _, e := range p.edges() {
		for _, q := range []pt{e.a, e.at(0.5)} {
			for _, old := range es {
				if old.distance(q) < float64(d)*(1-1e-6)-4 {
					return false
				}
			}
		}
	}
	return true
}
