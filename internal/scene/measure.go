package scene

import (
	"math"
	"regexp"

	"casewright/internal/build"
	"casewright/internal/station"
	"casewright/internal/unit"
)

// Measure is a size in the view: its two ends, the ways it may be moved out
// from the piece, and what it says.
type Measure struct {
	Kind   string       `json:"kind" enum:"outside,case,opening"`
	Name   string       `json:"name"`
	FromMM Vec          `json:"from_mm"`
	ToMM   Vec          `json:"to_mm"`
	Away   []Vec        `json:"away" doc:"directions in which its line may stand off; none: it stands where it is"`
	Row    int          `json:"row" doc:"0 nearest to the piece"`
	Size   station.Size `json:"size"`
	Why    string       `json:"why,omitempty"`
	Path   string       `json:"path,omitempty" doc:"in the piece, where it can be typed over"`
}

func (m *maker) measures() {
	m.out.Measures = []Measure{}
	if len(m.out.Bodies) == 0 {
		return
	}
	c, lo, hi := m.plan.Piece.Case, m.out.LowMM, m.out.HighMM
	lo[2] = 0 // a splayed leg's corner reaches below the floor until its foot is cut
	o := m.plan.Model.Outside
	front, below, right := Vec{0, -1, 0}, Vec{0, 0, -1}, Vec{1, 0, 0}
	m.outer("width", "case.width", []Vec{front, below}, 0, c.Width, o.X, Vec{lo[0], lo[1], lo[2]}, Vec{hi[0], lo[1], lo[2]}, 0)
	m.outer("depth", "case.depth", []Vec{right, below}, 1, c.Depth, o.Y, Vec{hi[0], lo[1], lo[2]}, Vec{hi[0], hi[1], lo[2]}, m.frontOf())
	base := 0.0
	if b := m.plan.Piece.Base; b != nil {
		base = b.Height.MM()
	}
	m.outer("height", "case.height", []Vec{right, front}, 2, c.Height, o.Z, Vec{hi[0], lo[1], lo[2]}, Vec{hi[0], lo[1], hi[2]}, base)
	if b := m.plan.Piece.Base; b != nil {
		m.out.Measures = append(m.out.Measures, Measure{
			Kind: "case", Name: "height of the base", FromMM: Vec{hi[0], lo[1], lo[2]}, ToMM: Vec{hi[0], lo[1], mm(base)},
			Away: []Vec{right, front}, Size: m.shown(b.Height), Path: "base.height",
		})
	}
	seen := map[string]bool{}
	for _, o := range m.plan.Model.Openings {
		m.opening(o, seen)
	}
}

// frontOf is where the front edge of the case stands: behind a frame.
func (m *maker) frontOf() float64 {
	if f := m.plan.Piece.Frame; f != nil {
		return f.Thickness.MM()
	}
	return 0
}

// outer adds a size over all along an axis, and that of the case beside it
// where the two differ. A size that the piece states can be typed over.
func (m *maker) outer(what, path string, away []Vec, axis int, stated, whole unit.Length, from, to Vec, caseFrom float64) {
	free := m.plan.Piece.Case.Shape == "free" && path != "case.depth"
	if free || stated == 0 {
		path = ""
	}
	out := Measure{Kind: "outside", Name: what + " over all", FromMM: from, ToMM: to, Away: away, Size: m.shown(whole)}
	if path != "" && math.Abs((whole-stated).MM()) < 0.005 {
		out.Name, out.Path = what, path
		m.out.Measures = append(m.out.Measures, out)
		return
	}
	out.Row = 1
	m.out.Measures = append(m.out.Measures, out)
	if path == "" {
		return
	}
	in := out
	in.Kind, in.Name, in.Row, in.Size, in.Path = "case", what+" of the case", 0, m.shown(stated), path
	in.FromMM[axis], in.ToMM[axis] = mm(caseFrom), mm(caseFrom+stated.MM())
	m.out.Measures = append(m.out.Measures, in)
}

// Where in the tree of openings a width or a height is given.
var (
	lastColumn = regexp.MustCompile(`^.*\.columns\[\d+\]`)
	lastRow    = regexp.MustCompile(`^.*\.rows\[\d+\]`)
)

// opening adds the clear sizes of an opening, each column and row once.
func (m *maker) opening(o build.Opening, seen map[string]bool) {
	x, z := o.X.MM(), o.Z.MM()
	w, h := o.Width.Size.MM(), o.Height.Size.MM()
	y := 0.0
	add := func(what string, d build.Dim, at string, from, to Vec) {
		path := ""
		if at != "" {
			path = at + "." + what
		}
		if seen[what+at] {
			return
		}
		seen[what+at] = true
		m.out.Measures = append(m.out.Measures, Measure{
			Kind: "opening", Name: "clear " + what + " of " + o.Name, FromMM: from.round(), ToMM: to.round(), Away: []Vec{},
			Size: m.shown(d.Size), Why: d.Text(m.plan.Show), Path: path,
		})
	}
	add("width", o.Width, lastColumn.FindString(o.Path), Vec{x, y, z + h*0.3}, Vec{x + w, y, z + h*0.3})
	add("height", o.Height, lastRow.FindString(o.Path), Vec{x + w*0.2, y, z}, Vec{x + w*0.2, y, z + h})
}
