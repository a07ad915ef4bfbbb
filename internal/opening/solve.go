package opening

import (
	"math"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// problem is the least-squares problem, in millimetres. The five unknowns are
// x of the lower right corner and x, y of the upper left and upper right: the
// lower left is the origin, the lower edge lies along x.
type problem struct {
	m    [measures]float64
	use  [measures]bool
	tied bool       // no diagonals: the figure is taken as not leaning
	bare bool       // diagonals run to where the sides would meet, past round corners
	down [3]float64 // where widths are taken, as shares of the sides from the top
	in   [3]float64 // where heights are taken, as shares of the edges from the left
	r    [4]float64
}

type unknowns [5]float64

func newProblem(m Measures) *problem {
	p := &problem{}
	for i := range 3 {
		p.m[WidthTop+i], p.m[HeightLeft+i] = m.Widths[i].MM(), m.Heights[i].MM()
		p.use[WidthTop+i], p.use[HeightLeft+i] = true, true
	}
	for i, d := range m.Diagonals {
		p.m[DiagonalTopLeft+i], p.use[DiagonalTopLeft+i] = d.MM(), m.diagonals()
	}
	p.tied = !m.diagonals()
	for i, r := range m.Corners {
		p.r[i] = r.MM()
	}
	w, h := p.m[WidthMiddle], p.m[HeightMiddle]
	clear := func(a, b int, of float64) float64 { return math.Min(math.Max(p.r[a], p.r[b])/of, 0.45) }
	p.down = [3]float64{clear(TopLeft, TopRight, h), 0.5, 1 - clear(BottomLeft, BottomRight, h)}
	p.in = [3]float64{clear(TopLeft, BottomLeft, w), 0.5, 1 - clear(TopRight, BottomRight, w)}
	return p
}

type xy struct{ x, y float64 }

func (a xy) to(b xy, share float64) xy { return xy{a.x + (b.x-a.x)*share, a.y + (b.y-a.y)*share} }
func (a xy) far(b xy) float64          { return math.Hypot(a.x-b.x, a.y-b.y) }

// corners are those of the unknowns, in the order of the record.
func (u unknowns) corners() [4]xy {
	return [4]xy{{u[1], u[2]}, {u[3], u[4]}, {u[0], 0}, {0, 0}}
}

// predict is what each measure would be in the figure.
func (p *problem) predict(u unknowns) [measures]float64 {
	c := u.corners()
	var out [measures]float64
	for i := range 3 {
		out[WidthTop+i] = c[TopLeft].to(c[BottomLeft], p.down[i]).far(c[TopRight].to(c[BottomRight], p.down[i]))
		out[HeightLeft+i] = c[TopLeft].to(c[TopRight], p.in[i]).far(c[BottomLeft].to(c[BottomRight], p.in[i]))
	}
	out[DiagonalTopLeft] = p.rod(c, TopLeft, BottomRight)
	out[DiagonalTopRight] = p.rod(c, TopRight, BottomLeft)
	return out
}

// rod is the longest rod between two opposite corners: through the centres of
// their curves, and to the curves beyond.
func (p *problem) rod(c [4]xy, a, b int) float64 {
	if p.bare {
		return c[a].far(c[b])
	}
	return p.centre(c, a).far(p.centre(c, b)) + p.r[a] + p.r[b]
}

// centre is that of the curve at a corner.
func (p *problem) centre(c [4]xy, i int) xy {
	at, r := c[i], p.r[i]
	if r == 0 {
		return at
	}
	e, f := unitTo(at, c[(i+1)%4]), unitTo(at, c[(i+3)%4])
	// Along the bisector, r / sin of half the angle away.
	b := xy{e.x + f.x, e.y + f.y}
	half := math.Sqrt(math.Max(0, (1-(e.x*f.x+e.y*f.y))/2))
	l := math.Hypot(b.x, b.y)
	if half < 0.1 || l < 0.1 {
		return at // folded flat: no corner of an opening
	}
	return xy{at.x + b.x/l*r/half, at.y + b.y/l*r/half}
}

func unitTo(a, b xy) xy {
	d := a.far(b)
	if d == 0 {
		return xy{}
	}
	return xy{(b.x - a.x) / d, (b.y - a.y) / d}
}

// residuals are fitted less measured, for what is used.
func (p *problem) residuals(u unknowns) []float64 {
	f := p.predict(u)
	out := make([]float64, 0, measures+1)
	for i, v := range f {
		if p.use[i] {
			out = append(out, v-p.m[i])
		}
	}
	if p.tied {
		c := u.corners()
		out = append(out, c[TopLeft].far(c[BottomRight])-c[TopRight].far(c[BottomLeft]))
	}
	return out
}

func squares(r []float64) float64 {
	sum := 0.0
	for _, v := range r {
		sum += v * v
	}
	return sum
}

// start is the rectangle of the mean width and height.
func (p *problem) start() unknowns {
	mean := func(from int) float64 {
		sum, n := 0.0, 0.0
		for i := from; i < from+3; i++ {
			if p.use[i] {
				sum, n = sum+p.m[i], n+1
			}
		}
		return sum / n
	}
	w, h := mean(WidthTop), mean(HeightLeft)
	return unknowns{w, 0, h, w, h}
}

// solve is the method of Levenberg and Marquardt from the mean rectangle. It
// is false where the best figure is none: not convex, or not found.
func (p *problem) solve() (unknowns, bool) {
	u := p.start()
	r := p.residuals(u)
	best, damp := squares(r), 1e-6
	for range 100 {
		jac := p.jacobian(u, len(r))
		var a [5][6]float64
		for i := range 5 {
			for j := range 5 {
				for k := range r {
					a[i][j] += jac[k][i] * jac[k][j]
				}
			}
			a[i][i] += damp
			for k := range r {
				a[i][5] -= jac[k][i] * r[k]
			}
		}
		step, ok := gauss(a)
		if !ok {
			return u, false
		}
		next, size := u, 0.0
		for i, d := range step {
			next[i] += d
			size = math.Max(size, math.Abs(d))
		}
		rn := p.residuals(next)
		switch sum := squares(rn); {
		case math.IsNaN(sum):
			return u, false
		case sum <= best:
			u, r, best, damp = next, rn, sum, math.Max(damp/10, 1e-12)
			if size < 1e-9 {
				return u, u.convex()
			}
		default:
			damp = math.Max(damp, 1e-9) * 10
			if damp > 1e12 {
				return u, u.convex()
			}
		}
	}
	return u, u.convex()
}

func (p *problem) jacobian(u unknowns, n int) [][5]float64 {
	const h = 1e-4
	out := make([][5]float64, n)
	for i := range u {
		lo, hi := u, u
		lo[i] -= h
		hi[i] += h
		a, b := p.residuals(lo), p.residuals(hi)
		for k := range out {
			out[k][i] = (b[k] - a[k]) / (2 * h)
		}
	}
	return out
}

// gauss solves five equations; the sixth column is the right-hand side.
func gauss(a [5][6]float64) (out [5]float64, ok bool) {
	for i := range 5 {
		top := i
		for k := i + 1; k < 5; k++ {
			if math.Abs(a[k][i]) > math.Abs(a[top][i]) {
				top = k
			}
		}
		a[i], a[top] = a[top], a[i]
		if !(math.Abs(a[i][i]) > 1e-15) {
			return out, false
		}
		for k := range 5 {
			if k == i {
				continue
			}
			f := a[k][i] / a[i][i]
			for j := i; j < 6; j++ {
				a[k][j] -= f * a[i][j]
			}
		}
	}
	for i := range 5 {
		out[i] = a[i][5] / a[i][i]
		if math.IsNaN(out[i]) || math.IsInf(out[i], 0) {
			return out, false
		}
	}
	return out, true
}

// convex says that the figure is one of four corners, each less than straight
// and none nearly folded.
func (u unknowns) convex() bool {
	c := u.corners()
	for i := range c {
		e, f := unitTo(c[i], c[(i+1)%4]), unitTo(c[i], c[(i+3)%4])
		if !(f.x*e.y-f.y*e.x > 0.1) { // anticlockwise from the edge behind to the one before
			return false
		}
	}
	return true
}

// shape is the figure of the unknowns, its corners to the micrometre.
func (p *problem) shape(u unknowns, m Measures) Shape {
	if !u.convex() {
		return Shape{}
	}
	s := Shape{Radius: m.Corners, Assumed: p.tied, Bare: p.bare}
	for i, c := range u.corners() {
		s.Corner[i] = geom.P(unit.MM(c.x).Round(unit.Micrometre), unit.MM(c.y).Round(unit.Micrometre))
	}
	for i, v := range p.predict(u) {
		s.Fitted[i] = unit.MM(v)
		if s.measured[i] = i < DiagonalTopLeft || m.diagonals(); s.measured[i] {
			s.Off[i] = unit.MM(p.m[i] - v)
		}
	}
	return s
}
