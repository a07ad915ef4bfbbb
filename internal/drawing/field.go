package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// Axis is one of the three directions of a piece.
type Axis int

// The axes: across from left to right, from front to back, and upward.
const (
	AxisX Axis = iota
	AxisY
	AxisZ
)

// Field is a size of the piece document as it stands in space: from one place
// along an axis to another. Giving the field another size moves the two places
// apart by as much, and leaves no other given size at odds with it.
type Field struct {
	Path     string // such as inside.columns[0].width
	Axis     Axis
	From, To unit.Length
}

// Size is the size the field has, whether it was given or followed.
func (f Field) Size() unit.Length { return f.To - f.From }

// Words is the path as it is said: "inside, column 1, width".
func Words(path string) string {
	var out []string
	for _, step := range strings.Split(path, ".") {
		name, n := step, ""
		if i := strings.IndexByte(step, '['); i >= 0 {
			at := 0
			if _, err := fmt.Sscanf(step[i:], "[%d]", &at); err == nil {
				name, n = strings.TrimSuffix(step[:i], "s"), fmt.Sprintf(" %d", at+1)
			}
		}
		out = append(out, strings.ReplaceAll(name, "-", " ")+n)
	}
	if len(out) == 2 {
		return strings.Join(out, " ")
	}
	return strings.Join(out, ", ")
}

// Fields are the sizes of a piece that a drawing can show as one dimension and
// that can be given another value there. Sums, such as the height over all on
// a base, are none; neither is the last size left to follow in a row of which
// all others are given.
func Fields(p piece.Piece, m build.Model) []Field {
	f := &fieldsOf{p: p, m: m, width: p.Case.Width, high: p.Case.Height}
	f.boxed = p.Case.Kind != "shell" || p.Case.Shape != "free"
	if p.Base != nil {
		f.under = p.Base.Height
		f.add("base.height", AxisZ, 0, f.under)
	}
	f.outside()
	f.frame()
	f.inside(p.Inside, "inside")
	return f.out
}

// Corner is a rounded corner of a case, seen from the front, whose radius is a
// field of the piece.
type Corner struct {
	Path   string
	Radius unit.Length
	Centre Pt // in a view from the front
	On     Pt // a point of the curve
}

// Corners are the rounded corners of a bent case, one for each radius given.
func Corners(p piece.Piece, m build.Model) []Corner {
	c := p.Case
	if c.Kind != "shell" || c.Shape == "free" {
		return nil
	}
	under := unit.Length(0)
	if p.Base != nil {
		under = p.Base.Height
	}
	var out []Corner
	// The upper ones first: there is most room about them.
	for _, key := range []string{"top-left", "top-right", "bottom-right", "bottom-left"} {
		round := slices.ContainsFunc(m.Bends, func(b build.Bend) bool { // alike ones are named together
			return strings.Contains(b.Name, strings.ReplaceAll(key, "-", " "))
		})
		k := Corner{Path: "case.radius", Radius: c.Radius}
		if r := c.Radii[key]; r > 0 {
			k = Corner{Path: "case.radii." + key, Radius: r}
		}
		if !round || k.Radius <= 0 || slices.ContainsFunc(out, func(o Corner) bool { return o.Path == k.Path }) {
			continue
		}
		r := k.Radius.MM()
		x, z, dx, dz := r, (under+c.Height).MM()-r, -1.0, 1.0
		if strings.HasSuffix(key, "right") {
			x, dx = c.Width.MM()-r, 1
		}
		if strings.HasPrefix(key, "bottom") {
			z, dz = under.MM()+r, -1
		}
		k.Centre = Pt{x, z}
		k.On = k.Centre.Add(dx*r*math.Sqrt2/2, dz*r*math.Sqrt2/2)
		out = append(out, k)
	}
	return out
}

// ForScreen is the options for drawings on a screen of a piece and its model:
// parts can be picked, and sizes that are fields of the piece typed over.
func (o Options) ForScreen(p piece.Piece, m build.Model) Options {
	o.Live, o.Dims = true, true
	o.Fields, o.Corners = Fields(p, m), Corners(p, m)
	return o
}

type fieldsOf struct {
	p           piece.Piece
	m           build.Model
	boxed       bool // the case has a width and a height of its own
	width, high unit.Length
	under       unit.Length
	out         []Field
}

func (f *fieldsOf) add(path string, a Axis, from, to unit.Length) {
	if to > from {
		f.out = append(f.out, Field{path, a, from, to})
	}
}

// outside are the sizes of the case and of a top that lies on it.
func (f *fieldsOf) outside() {
	c := f.p.Case
	in := f.p.Inside
	if f.boxed && in.Width == 0 && gives(in, true) {
		f.add("case.width", AxisX, 0, f.width)
	}
	if f.boxed && in.Height == 0 && gives(in, false) {
		f.add("case.height", AxisZ, f.under, f.under+f.high)
	}
	front := unit.Length(0)
	if f.p.Frame != nil {
		front = f.p.Frame.Thickness
		f.add("frame.thickness", AxisY, 0, front)
	} else if y, ok := f.edge(); ok {
		front = y
	}
	f.add("case.depth", AxisY, front, front+c.Depth)
	if k := c.Top; k != nil && f.boxed {
		f.add("case.top.sides", AxisX, -k.Sides, 0)
		f.add("case.top.sides", AxisX, f.width, f.width+k.Sides)
		f.add("case.top.front", AxisY, -k.Front, 0)
		f.add("case.top.back", AxisY, front+c.Depth, front+c.Depth+k.Back)
		if t, solid := f.slab(); solid && in.Height == 0 && gives(in, false) {
			f.add("case.top.thickness", AxisZ, f.under+f.high-t, f.under+f.high)
		}
	}
}

// edge is where the case begins behind a band on its front edge.
func (f *fieldsOf) edge() (unit.Length, bool) {
	least := math.Inf(1)
	for _, s := range solids(f.m) {
		if s.part.Role == build.RoleSide || s.part.Role == build.RoleShell {
			y, _ := s.along(vec{0, 1, 0})
			least = min(least, y)
		}
	}
	return unit.MM(least).Round(unit.Micrometre), !math.IsInf(least, 1)
}

// slab is the thickness of a top that lies on the case.
func (f *fieldsOf) slab() (t unit.Length, solid bool) {
	for _, p := range f.m.Parts {
		if p.Role == build.RoleTop {
			t, solid = p.Thickness.Size, p.Solid
		}
	}
	return t, solid
}

// frame are the widths of the outer stiles and rails. A size left out follows
// from the stile, so the stile may be changed only where what follows may.
func (f *fieldsOf) frame() {
	k := f.p.Frame
	if k == nil || !f.boxed {
		return
	}
	in := f.p.Inside
	x, z := in.Width == 0 && gives(in, true), in.Height == 0 && gives(in, false)
	follows := x && (k.TopRail != 0 && k.BottomRail != 0 || z) &&
		(k.Divider != 0 || betweens(in, true)) && (k.Divider != 0 || k.Rail != 0 || betweens(in, false))
	if follows {
		f.add("frame.stile", AxisX, 0, k.Stile)
		f.add("frame.stile", AxisX, f.width-k.Stile, f.width)
	}
	if z {
		bottom, top := cmp.Or(k.BottomRail, k.Stile), cmp.Or(k.TopRail, k.Stile)
		over := f.under + f.high
		if t, _ := f.slab(); f.p.Case.Top != nil {
			over -= t
		}
		f.add("frame.bottom-rail", AxisZ, f.under, f.under+bottom)
		f.add("frame.top-rail", AxisZ, over-top, over)
	}
}

// gives reports whether a space can become larger or smaller along an axis
// without a size given inside it standing against that.
func gives(o piece.Opening, across bool) bool {
	along, cross := ways(o, across)
	for _, c := range cross {
		if sizeOf(c, across) != 0 || !gives(c, across) {
			return false
		}
	}
	open := len(along) == 0
	for _, c := range along {
		if sizeOf(c, across) == 0 {
			if !gives(c, across) {
				return false
			}
			open = true
		}
	}
	return open
}

// betweens reports whether what stands between the spaces, where it is not
// given there, can become wider along an axis everywhere at once.
func betweens(o piece.Opening, across bool) bool {
	along, cross := ways(o, across)
	if len(along) > 1 && o.Between == 0 && !gives(o, across) {
		return false
	}
	for _, c := range append(slices.Clone(along), cross...) {
		if !betweens(c, across) {
			return false
		}
	}
	return true
}

// ways are the spaces that lie along an axis, and those that lie across it.
func ways(o piece.Opening, across bool) (along, cross []piece.Opening) {
	if across {
		return o.Columns, o.Rows
	}
	return o.Rows, o.Columns
}

func sizeOf(o piece.Opening, across bool) unit.Length {
	if across {
		return o.Width
	}
	return o.Height
}

// space is where an opening stands, as seen from the front.
type spaceAt struct{ x0, x1, z0, z1 unit.Length }

// inside goes down the tree of openings: the sizes of the spaces, what stands
// between them, and the heights of fixed shelves.
func (f *fieldsOf) inside(o piece.Opening, path string) (spaceAt, bool) {
	across := len(o.Columns) > 0
	parts, name, field, axis := o.Rows, "rows", "height", AxisZ
	if across {
		parts, name, field, axis = o.Columns, "columns", "width", AxisX
	}
	if len(parts) == 0 {
		return f.leaf(o, path)
	}
	spans := make([]spaceAt, len(parts))
	for i, c := range parts {
		var ok bool
		if spans[i], ok = f.inside(c, fmt.Sprintf("%s.%s[%d]", path, name, i)); !ok {
			return spaceAt{}, false
		}
	}
	along := func(s spaceAt) (lo, hi unit.Length) {
		if across {
			return s.x0, s.x1
		}
		return s.z0, s.z1
	}
	for i := range parts {
		lo, hi := along(spans[i])
		if f.others(parts, i, across) {
			f.add(fmt.Sprintf("%s.%s[%d].%s", path, name, i, field), axis, lo, hi)
		}
		if i == 0 {
			continue
		}
		before, after := spans[i-1].x1, lo
		if !across {
			before, after = hi, spans[i-1].z0
		}
		if p, ok := f.between(o, path, across); ok {
			f.add(p, axis, before, after)
		}
	}
	first, last := spans[0], spans[len(spans)-1]
	if across {
		return spaceAt{first.x0, last.x1, first.z0, first.z1}, true
	}
	return spaceAt{first.x0, first.x1, last.z0, first.z1}, true
}

// others reports whether space i of a row can be given another size: what is
// within it must give way, and another space must be left that does.
func (f *fieldsOf) others(parts []piece.Opening, i int, across bool) bool {
	free := 0
	for j, c := range parts {
		switch {
		case j == i:
			if !gives(c, across) {
				return false
			}
		case sizeOf(c, across) == 0:
			if !gives(c, across) {
				return false
			}
			free++
		}
	}
	return free > 0
}

// between is the field of what stands between the spaces of o: its own, or
// that of the frame. Without a frame it is the thickness of a panel.
func (f *fieldsOf) between(o piece.Opening, path string, across bool) (string, bool) {
	if f.p.Frame == nil {
		return "", false
	}
	if o.Between != 0 {
		return path + ".between", gives(o, across)
	}
	if across {
		// Rails follow from a divider that is given.
		ok := betweens(f.p.Inside, true) && (f.p.Frame.Rail != 0 || betweens(f.p.Inside, false))
		return "frame.divider", ok
	}
	return "frame.rail", betweens(f.p.Inside, false)
}

func (f *fieldsOf) leaf(o piece.Opening, path string) (spaceAt, bool) {
	for _, op := range f.m.Openings {
		if op.Path != path {
			continue
		}
		if o.Shelves != nil {
			for i, h := range o.Shelves.Fixed {
				f.add(fmt.Sprintf("%s.shelves.fixed[%d]", path, i), AxisZ, op.Z, op.Z+h)
			}
		}
		return spaceAt{op.X, op.X + op.Width.Size, op.Z, op.Z + op.Height.Size}, true
	}
	return spaceAt{}, false
}

// sameAs reports whether a dimension from lo to hi shows the field; places on
// a drawing are rounded to a micrometre.
func (f Field) sameAs(lo, hi unit.Length) bool {
	const slack = 2 * unit.Micrometre
	return (f.From-lo).Abs() <= slack && (f.To-hi).Abs() <= slack
}

// outer leaves only the fields of what is seen from outside, not from the
// front: those of the inside and of the frame's members lie behind.
func (o Options) outer() Options {
	o.Fields = slices.DeleteFunc(slices.Clone(o.Fields), func(f Field) bool {
		return strings.HasPrefix(f.Path, "inside") || strings.HasPrefix(f.Path, "frame.") && f.Axis != AxisY
	})
	return o
}

// mostRows bounds the rows of dimensions that fields ask for by themselves.
const mostRows = 4

// fielded marks the dimensions of the chains of one side that show a field,
// and adds rows within the last chain, which is over all, for the fields that
// none of them shows.
func (o Options) fielded(chains []Chain, side Side, axis Axis) []Chain {
	if len(o.Fields) == 0 || len(chains) == 0 {
		return chains
	}
	shown := map[string]bool{}
	for _, c := range chains {
		for i := range c.Dims {
			d := &c.Dims[i]
			for _, f := range o.Fields {
				if f.Axis == axis && f.sameAs(unit.MM(d.From), unit.MM(d.To)) {
					d.Field, d.Size = f.Path, f.Size()
					shown[f.Path] = true
					break
				}
			}
		}
	}
	var rows []Chain
	for _, f := range o.Fields {
		if f.Axis != axis || shown[f.Path] {
			continue
		}
		shown[f.Path] = true
		d := Dim{From: f.From.MM(), To: f.To.MM(), Size: f.Size(), Field: f.Path}
		i := slices.IndexFunc(rows, func(c Chain) bool {
			return !slices.ContainsFunc(c.Dims, func(e Dim) bool { return d.From < e.To-1e-3 && e.From < d.To-1e-3 })
		})
		if i >= 0 {
			rows[i].Dims = append(rows[i].Dims, d)
		} else if len(rows) < mostRows {
			rows = append(rows, Chain{Side: side, Dims: []Dim{d}})
		}
	}
	for _, c := range rows {
		slices.SortStableFunc(c.Dims, func(a, b Dim) int { return cmp.Compare(a.From, b.From) })
	}
	return slices.Insert(chains, len(chains)-1, rows...)
}
