// Package drawing makes drawings of models, parts and layouts: views with
// hidden lines removed, sections, dimensions, tables, and the sheets they
// stand on. A sheet is a list of things to draw, in millimetres on paper; the
// renderers turn it into bytes and know nothing of furniture.
//
// On a sheet x runs right and y runs down from the top left corner of the
// paper. In a View x runs right and y runs up, in millimetres of the real
// thing; View.Fit puts it on a sheet at a scale of the standard series. These
// float64 coordinates are for showing only: no size is ever read back from
// them.
package drawing

// Pt is a point, in millimetres.
type Pt struct{ X, Y float64 }

// Add is p moved by (x, y).
func (p Pt) Add(x, y float64) Pt { return Pt{p.X + x, p.Y + y} }

// Rect is an upright rectangle, in millimetres; X, Y is its corner of least
// coordinates.
type Rect struct{ X, Y, W, H float64 }

// Right is the greatest x of r.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the greatest y of r: the lower edge on a sheet.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Inset is r made smaller by d on every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Overlaps reports whether r and s share more than an edge.
func (r Rect) Overlaps(s Rect) bool {
	return r.X < s.Right() && s.X < r.Right() && r.Y < s.Bottom() && s.Y < r.Bottom()
}

// Holds reports whether s lies within r.
func (r Rect) Holds(s Rect) bool {
	const slack = 1e-9
	return s.X >= r.X-slack && s.Y >= r.Y-slack && s.Right() <= r.Right()+slack && s.Bottom() <= r.Bottom()+slack
}

// Left cuts the part of width w off the left of r, and gives the rest after a
// gap.
func (r Rect) Left(w, gap float64) (left, rest Rect) {
	return Rect{r.X, r.Y, w, r.H}, Rect{r.X + w + gap, r.Y, r.W - w - gap, r.H}
}

// Top cuts the part of height h off the top of r on a sheet, and gives the
// rest after a gap.
func (r Rect) Top(h, gap float64) (top, rest Rect) {
	return Rect{r.X, r.Y, r.W, h}, Rect{r.X, r.Y + h + gap, r.W, r.H - h - gap}
}

// Paper is a size of paper, upright.
type Paper struct {
	Name string
	W, H float64
}

// The papers.
var (
	A4     = Paper{"A4", 210, 297}         // ISO 216
	Letter = Paper{"Letter", 215.9, 279.4} // ANSI/ASME Y14.1 size A: 8.5 × 11 in
)

// Across is the paper laid on its long side.
func (p Paper) Across() Paper { return Paper{p.Name, p.H, p.W} }

// Sheet is one printed side.
type Sheet struct {
	W, H  float64
	Title string
	Items []Item
}

// NewSheet is an empty sheet of the paper.
func NewSheet(p Paper, title string) *Sheet { return &Sheet{W: p.W, H: p.H, Title: title} }

// Item is a thing to draw: a Stroke, Fill, Text, Clip or Group.
type Item interface{ item() }

// Node is a corner of a path. Bulge is the tangent of a quarter of the angle
// of the arc to the next corner, as in geom.Vertex: positive turns
// anticlockwise in a frame whose y runs up, so clockwise as seen on a sheet.
// (On a sheet the sign is that of the sheet's own y-down frame.)
type Node struct {
	Pt
	Bulge float64
}

// Path is a run of lines and arcs.
type Path struct {
	Nodes  []Node
	Closed bool
}

// Stroke is a line drawn with a pen.
type Stroke struct {
	Pen   Pen
	Paths []Path
}

// Fill is an area laid flat; where paths overlap an odd number of times it is
// inside (even-odd rule), so holes are further paths.
type Fill struct {
	Tone  Tone
	Paths []Path
}

// Clip shows its items within the window only.
type Clip struct {
	Window Rect
	Items  []Item
}

// Group is items that belong together on a screen: what a part covers, or the
// figures of a dimension that can be typed over. On paper they are its items
// and no more.
type Group struct {
	Part  string // letter of the part that is picked here
	Field string // path in the piece document of the size that is shown
	Value string // the size, exact, in the piece's own units
	Says  string // the same in words, for a reader of screens
	Items []Item
}

func (Stroke) item() {}
func (Fill) item()   {}
func (Text) item()   {}
func (Clip) item()   {}
func (Group) item()  {}

// Pen is a kind of line, named by what it means.
type Pen int

// The pens.
const (
	PenOutline   Pen = iota // edges that are seen, cut faces
	PenMedium               // edges within an outline, panel edges, table heads
	PenThin                 // leaders, table rules, light edges
	PenHidden               // edges behind something
	PenCentre               // axes
	PenDimension            // dimension and extension lines
	PenHatch                // section hatching, grain
	PenCut                  // where to cut paper or wood
	PenFrame                // border of the sheet and its title block
	PenGhost                // what is only hinted at
	pens
)

// Line is how a pen draws: width in millimetres, grey from 0 (black) to 1
// (white), and the lengths of dashes and gaps in millimetres.
type Line struct {
	Name  string
	Width float64
	Grey  float64
	Dash  []float64
}

// Widths after the groups of ISO 128-24 (thick 0.5, thin 0.18 to 0.25 for
// small sheets); dashes in the proportions of ISO 128-20, from memory.
var lines = [pens]Line{
	PenOutline:   {"outline", 0.5, 0, nil},
	PenMedium:    {"medium", 0.3, 0, nil},
	PenThin:      {"thin", 0.18, 0, nil},
	PenHidden:    {"hidden", 0.2, 0.25, []float64{1.6, 0.9}},
	PenCentre:    {"centre", 0.18, 0, []float64{6, 1, 0.6, 1}},
	PenDimension: {"dimension", 0.15, 0, nil},
	PenHatch:     {"hatch", 0.12, 0.35, nil},
	PenCut:       {"cut", 0.35, 0, []float64{4, 1.2}},
	PenFrame:     {"frame", 0.35, 0, nil},
	PenGhost:     {"ghost", 0.15, 0.55, nil},
}

// Line is how p draws.
func (p Pen) Line() Line {
	if p < 0 || p >= pens {
		p = PenThin
	}
	return lines[p]
}

// Tone is the grey of an area.
type Tone int

// The tones.
const (
	White Tone = iota
	Pale       // a rest, a row of a table
	Mid        // a thing marked out
	Black
	Clear // not seen, only picked; for screens
	tones
)

var greys = [tones]float64{White: 1, Pale: 0.93, Mid: 0.8, Black: 0, Clear: 1}

// Grey is the tone from 0 (black) to 1 (white).
func (t Tone) Grey() float64 {
	if t < 0 || t >= tones {
		return 1
	}
	return greys[t]
}

// Add puts items on the sheet, over those that are there.
func (s *Sheet) Add(items ...Item) { s.Items = append(s.Items, items...) }

// Segment is the line from a to b.
func Segment(pen Pen, a, b Pt) Stroke {
	return Stroke{pen, []Path{{Nodes: []Node{{Pt: a}, {Pt: b}}}}}
}

// Polyline is the line through the points.
func Polyline(pen Pen, pts ...Pt) Stroke { return Stroke{pen, []Path{pathOf(pts, false)}} }

// Box is the outline of r.
func Box(pen Pen, r Rect) Stroke { return Stroke{pen, []Path{RectPath(r)}} }

// Area is r filled.
func Area(tone Tone, r Rect) Fill { return Fill{tone, []Path{RectPath(r)}} }

// Circle is the circle about c.
func Circle(pen Pen, c Pt, radius float64) Stroke { return Stroke{pen, []Path{CirclePath(c, radius)}} }

// Disc is the circle about c, filled.
func Disc(tone Tone, c Pt, radius float64) Fill { return Fill{tone, []Path{CirclePath(c, radius)}} }

// RectPath is the path round r.
func RectPath(r Rect) Path {
	return pathOf([]Pt{{r.X, r.Y}, {r.Right(), r.Y}, {r.Right(), r.Bottom()}, {r.X, r.Bottom()}}, true)
}

// CirclePath is the path round c.
func CirclePath(c Pt, r float64) Path {
	return Path{Nodes: []Node{{c.Add(r, 0), 1}, {c.Add(-r, 0), 1}}, Closed: true}
}

func pathOf(pts []Pt, closed bool) Path {
	p := Path{Nodes: make([]Node, len(pts)), Closed: closed}
	for i, q := range pts {
		p.Nodes[i] = Node{Pt: q}
	}
	return p
}
