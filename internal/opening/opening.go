// Package opening finds the true shape of an opening from what was measured
// in it: three widths, three heights, two diagonals and the radius of each
// corner give a figure of four straight sides, whose angles need not be
// right. From it follow the outline of the front that fits and how far the
// opening is out of parallel and out of square.
//
// On the figure x runs right and y up, as seen from the front; the lower left
// corner is the origin and the lower edge lies along x.
package opening

import (
	"math"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// The corners, in the order in which they are recorded.
const (
	TopLeft = iota
	TopRight
	BottomRight
	BottomLeft
)

// The edges.
const (
	Left = iota
	Right
	Bottom
	Top
)

// The measures, as they are counted in a Shape.
const (
	WidthTop = iota
	WidthMiddle
	WidthBottom
	HeightLeft
	HeightMiddle
	HeightRight
	DiagonalTopLeft  // top left to bottom right
	DiagonalTopRight // top right to bottom left
	measures
)

// Names are what the measures are called.
var Names = [measures]string{
	"width at the top", "width in the middle", "width at the bottom",
	"height at the left", "height in the middle", "height at the right",
	"diagonal from top left", "diagonal from top right",
}

// Measures is what was measured in one opening. Widths and heights are taken
// as near the corner as its curve allows; a diagonal is the longest rod that
// goes in. Both diagonals are 0 where none was measured.
type Measures struct {
	Widths    [3]unit.Length // top, middle, bottom
	Heights   [3]unit.Length // left, middle, right
	Diagonals [2]unit.Length // from top left, from top right
	Corners   [4]unit.Length // radius at top left, top right, bottom right, bottom left
}

// Valid says that every size can be one of an opening: more than nothing, and
// less than 100 m.
func (m Measures) Valid() bool {
	in := func(l, least unit.Length) bool { return l >= least && l < 100*unit.Metre }
	for i := range 3 {
		if !in(m.Widths[i], unit.Millimetre) || !in(m.Heights[i], unit.Millimetre) {
			return false
		}
	}
	for _, d := range m.Diagonals {
		if !in(d, 0) || (d > 0) != m.diagonals() {
			return false
		}
	}
	for _, r := range m.Corners {
		if !in(r, 0) {
			return false
		}
	}
	return true
}

func (m Measures) diagonals() bool { return m.Diagonals[0] > 0 || m.Diagonals[1] > 0 }

// Shape is the figure that agrees best with what was measured.
type Shape struct {
	Corner   [4]geom.Point         // where the sides would meet, at top left, top right, bottom right, bottom left
	Radius   [4]unit.Length        // of the corners
	Fitted   [measures]unit.Length // what each measure would be in this figure
	Off      [measures]unit.Length // measured less fitted; 0 for what was not measured
	Squared  bool                  // a true rectangle, exactly as wide and high as measured
	Assumed  bool                  // no diagonals: taken as not leaning
	Bare     bool                  // the diagonals run to where the sides would meet, past round corners
	measured [measures]bool
}

// reading is what a measure taken with care is good for (half of a tenth of a
// millimetre, common practice, no source).
const reading = 50 * unit.Micrometre

// diagonalReading is how far diagonals that are alike may be from those of a
// rectangle that is alike all through: they are read off a rule.
const diagonalReading = unit.Millimetre / 2

// Fit finds the figure by least squares over all measures, each counted
// alike. Diagonals that do not go with round corners as rods are tried as
// measured to where the sides would meet. A Doubt says which measure cannot be
// right beside the others; the shape then leaves it out. Measures that are not Valid give a shape without
// corners and no doubt.
func Fit(m Measures) (Shape, *Doubt) {
	if !m.Valid() {
		return Shape{}, nil
	}
	m.Corners = clampRadii(m)
	s, d := fit(m, false)
	if d != nil && m.diagonals() && m.Corners != [4]unit.Length{} {
		// The maker may have gone to where the sides would meet.
		if bare, none := fit(m, true); none == nil {
			return bare, nil
		}
	}
	return s, d
}

func fit(m Measures, bare bool) (Shape, *Doubt) {
	if s, ok := rectangle(m, bare); ok {
		return s, nil
	}
	p := newProblem(m)
	p.bare = bare
	all, ok := p.solve()
	s := p.shape(all, m)
	if d := p.doubt(m, all, ok); d != nil {
		if d.Measure >= 0 {
			p.use[d.Measure] = false
			if without, ok := p.solve(); ok {
				s = p.shape(without, m)
			}
		}
		return s, d
	}
	return s, nil
}

// clampRadii keeps two corners from taking more than the side between them.
func clampRadii(m Measures) [4]unit.Length {
	half := min(m.Widths[0], m.Widths[1], m.Widths[2], m.Heights[0], m.Heights[1], m.Heights[2]) / 2
	out := m.Corners
	for i, r := range out {
		out[i] = min(r, half-half/1000)
	}
	return out
}

// rectangle is the shape of measures that are those of a rectangle: it keeps
// their figures to the nanometre.
func rectangle(m Measures, bare bool) (Shape, bool) {
	w, h := m.Widths[0], m.Heights[0]
	for i := range 3 {
		if m.Widths[i] != w || m.Heights[i] != h {
			return Shape{}, false
		}
	}
	s := Shape{
		Corner:  [4]geom.Point{geom.P(0, h), geom.P(w, h), geom.P(w, 0), geom.P(0, 0)},
		Radius:  m.Corners,
		Squared: true, Assumed: !m.diagonals(), Bare: bare,
	}
	p := newProblem(m)
	p.bare = bare
	true8 := p.predict([5]float64{w.MM(), 0, h.MM(), w.MM(), h.MM()})
	for i := range s.Fitted {
		s.Fitted[i] = unit.MM(true8[i])
		s.measured[i] = i < DiagonalTopLeft || m.diagonals()
	}
	if s.Assumed {
		return s, true
	}
	d1, d2 := m.Diagonals[0], m.Diagonals[1]
	s.Off[DiagonalTopLeft], s.Off[DiagonalTopRight] = d1-s.Fitted[DiagonalTopLeft], d2-s.Fitted[DiagonalTopRight]
	e1, e2 := s.Off[DiagonalTopLeft], s.Off[DiagonalTopRight]
	return s, max(e1.Abs(), e2.Abs()) <= reading || (e1-e2).Abs() <= reading && max(e1.Abs(), e2.Abs()) <= diagonalReading
}

// Measured says that a measure was taken.
func (s Shape) Measured(i int) bool { return s.measured[i] }

// Empty says that there is no shape.
func (s Shape) Empty() bool { return s.Corner == [4]geom.Point{} }

// Size is the width and height over all.
func (s Shape) Size() (w, h unit.Length) {
	c := s.Corner
	left, right := min(c[0].X, c[3].X), max(c[1].X, c[2].X)
	low, high := min(c[2].Y, c[3].Y), max(c[0].Y, c[1].Y)
	return right - left, high - low
}

// Lean is how far the top stands to the right of the bottom; less than 0, to
// the left.
func (s Shape) Lean() unit.Length {
	c := s.Corner
	return (c[TopLeft].X - c[BottomLeft].X + c[TopRight].X - c[BottomRight].X) / 2
}

// Parallel is how much wider it is at the top than at the bottom, and how
// much higher at the right than at the left, from corner to corner.
func (s Shape) Parallel() (width, height unit.Length) {
	c := s.Corner
	d := func(a, b int) float64 {
		return math.Hypot((c[a].X - c[b].X).MM(), (c[a].Y - c[b].Y).MM())
	}
	return unit.MM(d(TopLeft, TopRight) - d(BottomLeft, BottomRight)), unit.MM(d(TopRight, BottomRight) - d(TopLeft, BottomLeft))
}

// WidthAt is the level width at a height above the lower left corner.
func (s Shape) WidthAt(y unit.Length) unit.Length {
	at := func(low, high geom.Point) float64 {
		if high.Y == low.Y {
			return low.X.MM()
		}
		return low.X.MM() + (high.X-low.X).MM()*float64(y-low.Y)/float64(high.Y-low.Y)
	}
	c := s.Corner
	return unit.MM(at(c[BottomRight], c[TopRight]) - at(c[BottomLeft], c[TopLeft]))
}

// Rack is how far an opening leans over its height, by its diagonals d1 from
// top left and d2 from top right and its width w: (d1 − d2)(d1 + d2)/(4w),
// exact for two parallel pairs of sides. It is positive where the top stands
// to the left. A width of nothing gives 0.
func Rack(d1, d2, w unit.Length) unit.Length {
	if w <= 0 {
		return 0
	}
	return unit.MM((d1 - d2).MM() * (d1 + d2).MM() / (4 * w.MM()))
}
