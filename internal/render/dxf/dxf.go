// Package dxf writes outlines of parts and layouts of panels as drawings in
// the DXF of release 2000 (AC1015), ASCII, in millimetres at full size. Only
// what every reader knows is used: LWPOLYLINE, LINE, CIRCLE and TEXT on named
// layers; arcs are bulges.
package dxf

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/drawing"
	"casewright/internal/unit"
)

// The layers.
const (
	Outline = "OUTLINE"
	Holes   = "HOLES"
	Grooves = "GROOVES"
	Kerfs   = "KERFS"
	Bands   = "BANDS"
	Words   = "TEXT"
)

// layers with the colour numbers of the DXF reference: 7 is black on white.
var layers = []struct {
	name   string
	colour int
}{{"0", 7}, {Outline, 7}, {Holes, 5}, {Grooves, 3}, {Kerfs, 1}, {Bands, 6}, {Words, 8}}

// Drawing gathers entities.
type Drawing struct {
	b      strings.Builder
	handle int
	box    [4]float64 // least x, y, greatest x, y
	any    bool
}

const firstHandle = 0x100 // the fixed objects stay below

// New is an empty drawing.
func New() *Drawing { return &Drawing{handle: firstHandle} }

func (d *Drawing) grow(x, y float64) {
	if !d.any {
		d.box, d.any = [4]float64{x, y, x, y}, true
	}
	d.box = [4]float64{min(d.box[0], x), min(d.box[1], y), max(d.box[2], x), max(d.box[3], y)}
}

func (d *Drawing) entity(kind, layer, class string) {
	d.handle++
	tags(&d.b, 0, kind, 5, hex(d.handle), 330, hex(modelSpace), 100, "AcDbEntity", 8, layer, 100, class)
}

// Path draws a path of lines and arcs.
func (d *Drawing) Path(layer string, p drawing.Path) {
	closed := 0
	if p.Closed {
		closed = 1
	}
	d.entity("LWPOLYLINE", layer, "AcDbPolyline")
	tags(&d.b, 90, len(p.Nodes), 70, closed)
	for _, n := range p.Nodes {
		d.grow(n.X, n.Y)
		tags(&d.b, 10, n.X, 20, n.Y)
		if n.Bulge != 0 {
			tags(&d.b, 42, n.Bulge)
		}
	}
}

// Line draws a straight line.
func (d *Drawing) Line(layer string, a, b drawing.Pt) {
	d.grow(a.X, a.Y)
	d.grow(b.X, b.Y)
	d.entity("LINE", layer, "AcDbLine")
	tags(&d.b, 10, a.X, 20, a.Y, 30, 0.0, 11, b.X, 21, b.Y, 31, 0.0)
}

// Circle draws a circle.
func (d *Drawing) Circle(layer string, c drawing.Pt, r float64) {
	d.grow(c.X-r, c.Y-r)
	d.grow(c.X+r, c.Y+r)
	d.entity("CIRCLE", layer, "AcDbCircle")
	tags(&d.b, 10, c.X, 20, c.Y, 30, 0.0, 40, r)
}

// Text sets one line, its lower left corner at p.
func (d *Drawing) Text(p drawing.Pt, height float64, s string) {
	d.grow(p.X, p.Y)
	d.entity("TEXT", Words, "AcDbText")
	tags(&d.b, 10, p.X, 20, p.Y, 30, 0.0, 40, height, 1, escape(s), 100, "AcDbText")
}

// Part draws a part flat: its outline, features, kerf lines and bands. The
// reference face looks up; what is worked from the other face, or into an
// edge, is on the layers all the same and named by a text.
func Part(p build.Part) *Drawing {
	d := New()
	outline := drawing.OutlinePath(p.Outline)
	if len(p.Outline) == 0 {
		outline = drawing.RectPath(drawing.Rect{W: p.Length.Size.MM(), H: p.Width.Size.MM()})
	}
	d.Path(Outline, outline)
	for _, f := range p.Features {
		if f.On != "" || len(f.Region) == 0 {
			continue
		}
		path := drawing.OutlinePath(f.Region)
		if c, r, ok := circle(path); ok {
			d.Circle(Holes, c, r)
			continue
		}
		layer := Grooves
		if f.Kind == build.Hole || f.Kind == build.Mortise {
			layer = Holes
		}
		d.Path(layer, path)
	}
	w := p.Width.Size.MM()
	for _, g := range p.Kerfs {
		for _, at := range g.Positions {
			d.Line(Kerfs, drawing.Pt{X: at.MM()}, drawing.Pt{X: at.MM(), Y: w})
		}
	}
	l := p.Length.Size.MM()
	for _, b := range p.Bands {
		ends := map[build.Edge][2]drawing.Pt{
			build.EdgeY0: {{}, {X: l}}, build.EdgeX1: {{X: l}, {X: l, Y: w}},
			build.EdgeY1: {{Y: w}, {X: l, Y: w}}, build.EdgeX0: {{}, {Y: w}},
		}
		if e, ok := ends[b.Edge]; ok {
			d.Line(Bands, e[0], e[1])
		}
	}
	d.Text(drawing.Pt{X: 0, Y: -14}, 8, fmt.Sprintf("%s  %s  %s × %s × %s", p.Letter, p.Name,
		size(p.Length.Size), size(p.Width.Size), size(p.Thickness.Size)))
	y := -26.0
	for _, f := range p.Features {
		says := string(f.Kind)
		if f.For != "" {
			says += " for " + f.For
		}
		if f.Through {
			says += ", through"
		} else {
			says += ", " + size(f.Depth) + " deep"
		}
		switch {
		case f.On != "":
			says += ", into the " + string(f.On)
		case f.Face != "":
			says += ", from the " + string(f.Face)
		}
		d.Text(drawing.Pt{X: 0, Y: y}, 5, says)
		y -= 8
	}
	return d
}

// Layout draws a panel with its parts, the parts on OUTLINE and the panel's edge
// on BANDS. The letters stand in the order of Job.Items.
func Layout(job cutting.Job, l cutting.Layout, letters []string) *Drawing {
	d := New()
	if l.Sheet < 0 || l.Sheet >= len(job.Sheets) {
		return d
	}
	s := job.Sheets[l.Sheet]
	rect := func(x, y, w, h unit.Length) drawing.Path {
		return drawing.RectPath(drawing.Rect{X: x.MM(), Y: y.MM(), W: w.MM(), H: h.MM()})
	}
	d.Path(Bands, rect(0, 0, s.W, s.H))
	for _, p := range l.Parts {
		d.Path(Outline, rect(p.X, p.Y, p.W, p.H))
		if p.Item >= 0 && p.Item < len(letters) {
			h := min(30, p.H.MM()/3, p.W.MM()/4)
			d.Text(drawing.Pt{X: p.X.MM() + h/2, Y: p.Y.MM() + h/2}, h, letters[p.Item])
		}
	}
	return d
}

// circle tells a full circle of two half arcs.
func circle(p drawing.Path) (c drawing.Pt, r float64, ok bool) {
	if len(p.Nodes) != 2 || !p.Closed || math.Abs(math.Abs(p.Nodes[0].Bulge)-1) > 1e-9 || p.Nodes[0].Bulge != p.Nodes[1].Bulge {
		return c, 0, false
	}
	a, b := p.Nodes[0], p.Nodes[1]
	return drawing.Pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}, math.Hypot(a.X-b.X, a.Y-b.Y) / 2, true
}

func size(l unit.Length) string { return l.Exact(unit.Metric) }

// escape makes a text fit for group 1: no line ends, other than ASCII as
// \U+XXXX, which release 2000 readers know.
func escape(s string) string {
	var b strings.Builder
	for _, c := range drawing.Clean(s) {
		switch {
		case c == '^':
			b.WriteString("^ ")
		case c >= ' ' && c < 127:
			b.WriteRune(c)
		case c <= 0xFFFF:
			fmt.Fprintf(&b, `\U+%04X`, c)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

func hex(h int) string { return strings.ToUpper(strconv.FormatInt(int64(h), 16)) }

// tags writes pairs of group code and value.
func tags(b *strings.Builder, pairs ...any) {
	for i := 0; i+1 < len(pairs); i += 2 {
		fmt.Fprintf(b, "%3d\n", pairs[i])
		switch v := pairs[i+1].(type) {
		case float64:
			b.WriteString(number(v))
		default:
			fmt.Fprint(b, v)
		}
		b.WriteByte('\n')
	}
}

// number prints to the nanometre. What is no number is 0.
func number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0.0"
	}
	s := strings.TrimRight(fmt.Sprintf("%.9f", v), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

// Write writes the whole file.
func (d *Drawing) Write(w io.Writer) error {
	var b strings.Builder
	d.head(&b)
	tables(&b)
	blocks(&b)
	tags(&b, 0, "SECTION", 2, "ENTITIES")
	b.WriteString(d.b.String())
	tags(&b, 0, "ENDSEC")
	objects(&b)
	tags(&b, 0, "EOF")
	_, err := io.WriteString(w, b.String())
	return err
}
