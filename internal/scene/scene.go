// Package scene is what the three-dimensional view of a piece needs, as plain
// values: bodies with their places, the strip that a shell is bent from, what
// moves when it is opened or pulled apart, and the sizes to be written beside
// it. All in the piece's axes (x right, y to the back, z up), in millimetres,
// rounded to a hundredth.
package scene

import (
	"math"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/plan"
	"casewright/internal/station"
	"casewright/internal/unit"
)

// Vec is a place or a direction in the piece's axes.
type Vec [3]float64

// Scene is one piece.
type Scene struct {
	LowMM    Vec       `json:"low_mm" doc:"corner of the box round all bodies"`
	HighMM   Vec       `json:"high_mm"`
	Bodies   []Body    `json:"bodies"`
	Fixtures []Fixture `json:"fixtures" doc:"bought hardware, in simple shapes"`
	Motions  []Motion  `json:"motions" doc:"drawers and doors"`
	Measures []Measure `json:"measures" doc:"sizes written in the view"`
}

// Body is one part: its surface or its strip, and where its alike copies
// stand.
type Body struct {
	Letter    string `json:"letter"`
	Name      string `json:"name"`
	Role      string `json:"role"`
	Material  string `json:"material"`
	Solid     bool   `json:"solid" doc:"solid wood; else a panel, whose edges show its plies"`
	Count     int    `json:"count" doc:"in one piece"`
	Note      string `json:"note,omitempty"`
	Length    Sized  `json:"length"`
	Width     Sized  `json:"width"`
	Thickness Sized  `json:"thickness"`
	// Grain is the direction of the grain in the part's plane, x along its
	// length; none for a panel without grain.
	Grain []float64 `json:"grain,omitempty"`
	Mesh  *Mesh     `json:"mesh,omitempty" doc:"in the part's own axes"`
	Strip *Strip    `json:"strip,omitempty" doc:"instead of a mesh, for a part bent by kerfs"`
	Spots []Spot    `json:"spots"`
}

// Sized is a size with the sum it came from.
type Sized struct {
	station.Size
	Why string `json:"why,omitempty"`
}

// Spot is where one of the alike parts stands.
type Spot struct {
	Name string `json:"name,omitempty"`
	// Matrix takes the part's axes to the piece's: the columns of x, y and z,
	// then the origin. That of a mirrored part turns its surface inside out.
	Matrix  [12]float64 `json:"matrix"`
	ApartMM Vec         `json:"apart_mm" doc:"the way it comes out when the piece is pulled apart"`
	Lay     *Lay        `json:"lay,omitempty" doc:"of a strip: how it lies when it is flat"`

	place int // index into the part's places
}

// Mesh is a closed surface of triangles; each corner has the normal of its
// face, shared where arcs run on.
type Mesh struct {
	PointsMM  []float64 `json:"points_mm" doc:"x, y, z of each corner"`
	Normals   []float64 `json:"normals"`
	Triangles []int     `json:"triangles"`
}

// Make gathers the scene of a plan.
func Make(p plan.Plan) Scene {
	m := maker{plan: p, solids: map[spotKey]drawing.Body{}}
	for _, b := range drawing.Bodies(p.Model) {
		m.solids[spotKey{b.Letter, b.At}] = b
	}
	m.bounds()
	for i := range p.Model.Parts {
		m.body(&p.Model.Parts[i])
	}
	m.layFlat()
	m.fixtures()
	m.motions()
	m.measures()
	return m.out
}

type spotKey struct {
	letter string
	at     int
}

type maker struct {
	plan   plan.Plan
	solids map[spotKey]drawing.Body
	out    Scene
}

func (m *maker) bounds() {
	lo, hi := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, b := range m.solids {
		l, h := extent(b)
		for i := range lo {
			lo[i], hi[i] = min(lo[i], l[i]), max(hi[i], h[i])
		}
	}
	if len(m.solids) == 0 {
		lo, hi = Vec{}, Vec{}
	}
	lo[2] = min(lo[2], 0) // the floor
	m.out.LowMM, m.out.HighMM = lo.round(), hi.round()
}

// extent is the box round a body.
func extent(b drawing.Body) (lo, hi Vec) {
	lo, hi = Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, p := range b.Points {
		for i := range lo {
			lo[i], hi[i] = min(lo[i], p[i]), max(hi[i], p[i])
		}
	}
	return lo, hi
}

// shown writes a length in both units, the piece's own first.
func (m *maker) shown(l unit.Length) station.Size {
	sys := m.plan.Piece.Units
	return station.Size{Own: l.Format(sys.Leading()), Other: l.Format(sys.Other().Following())}
}

func (m *maker) sized(d build.Dim) Sized {
	return Sized{m.shown(d.Size), d.Text(m.plan.Show)}
}

// mm rounds to a hundredth of a millimetre, without a negative zero.
func mm(v float64) float64 { return math.Round(v*100)/100 + 0 }

// fine rounds a component of a direction.
func fine(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }

func (v Vec) round() Vec { return Vec{mm(v[0]), mm(v[1]), mm(v[2])} }
