package geom

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// RoundCorners puts at each corner an arc of the given radius that runs into
// both sides; 0 leaves the corner as it is. Only corners between two straight
// sides can be rounded. Ends of arcs lie within a nanometre of the true point
// of contact. The error says which corner does not fit and why.
func (o Outline) RoundCorners(radii []unit.Length) (Outline, error) {
	if len(radii) != len(o) {
		return nil, fmt.Errorf("%d radii were given for %d corners; give one for each", len(radii), len(o))
	}
	n := len(o)
	es := o.edges()
	takes := make([]float64, n) // length that the arc at corner i takes off both sides
	turns := make([]float64, n)
	for i, r := range radii {
		if r == 0 {
			continue
		}
		before, after := es[(i+n-1)%n], es[i]
		if r < 0 {
			return nil, fmt.Errorf("the radius at corner %d is %s; it cannot be less than 0", i+1, r)
		}
		if before.arc() || after.arc() {
			return nil, fmt.Errorf("corner %d lies at an arc and cannot be rounded; only corners between straight sides can", i+1)
		}
		a, b := before.b.minus(before.a), after.b.minus(after.a)
		turns[i] = math.Atan2(a.cross(b), a.dot(b))
		if math.Abs(turns[i]) > math.Pi-1e-6 {
			return nil, fmt.Errorf("corner %d folds back on itself and cannot be rounded", i+1)
		}
		if take := float64(r) * math.Abs(math.Tan(turns[i]/2)); take >= 1 {
			takes[i] = take // under a nanometre, the sides are in line
		}
	}
	out := make(Outline, 0, 2*n)
	for i, v := range o {
		e, j := es[i], (i+1)%n
		if takes[i]+takes[j] > e.length()+2 {
			return nil, fmt.Errorf("the side from corner %d to corner %d is %s long, but its round corners take %s; make the radii smaller",
				i+1, j+1, unit.Length(e.length()).Format(unit.TenthMM), unit.MM((takes[i]+takes[j])/1e6).Format(unit.TenthMM))
		}
		if takes[i] == 0 {
			out = append(out, v)
			continue
		}
		_, in := es[(i+n-1)%n].heading()
		outward, _ := e.heading()
		out = append(out,
			Vertex{v.pt().minus(in.times(takes[i])).point(), math.Tan(turns[i] / 4)},
			Vertex{v.pt().plus(outward.times(takes[i])).point(), 0})
	}
	return out.withoutSpecks(), nil
}

// withoutSpecks drops straight edges of no more than two nanometres, which
// are left where two round corners take up a whole side.
func (o Outline) withoutSpecks() Outline {
	out := o[:0]
	for i, v := range o {
		next := o[(i+1)%len(o)]
		if i == len(o)-1 && len(out) > 0 {
			next = out[0]
		}
		if v.Bulge == 0 && v.pt().distance(next.pt()) <= 2 {
			continue
		}
		out = append(out, v)
	}
	return out
}
