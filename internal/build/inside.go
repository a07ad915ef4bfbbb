package build

import (
	"cmp"
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// cell is one space of the tree of openings: the rectangle seen from the
// front, and what bounds it behind the frame.
type cell struct {
	rect
	name  string // "column 1 row 2"
	path  string // inside.columns[0].rows[1]
	walls [4]wall
}

// clear is the width between the panels beside the cell. Where only a frame
// member bounds it, the wall stands at the member's middle.
func (c cell) clear() Dim {
	return c.w.
		Plus(1, "behind the frame at the left", c.x-c.walls[atLeft].at).
		Plus(1, "behind the frame at the right", c.walls[atRight].at-c.x-c.w.Size)
}

// axis is the way in which a cell is split.
type axis struct {
	across       bool // columns, from left to right; else rows, from top to bottom
	one, many    string
	field, cross string // the size that is shared out, and the other
	member       string // what stands between in a frame
}

var (
	columns = axis{true, "column", "columns", "width", "height", "divider"}
	rows    = axis{false, "row", "rows", "height", "width", "rail"}
)

func (a axis) size(o piece.Opening) unit.Length {
	if a.across {
		return o.Width
	}
	return o.Height
}

// inside divides the clear space as the tree of openings says, with the frame
// members and panels that stand between, and fills what is left.
func (b *builder) inside(o piece.Opening, r rect, path string) {
	c := cell{rect: r, path: path, name: "opening"}
	c.walls = [4]wall{
		{at: b.space.left, edge: r.x, panel: true},
		{at: b.space.right, panel: true},
		{at: b.space.bottom, panel: true},
		{at: b.space.top, panel: true},
	}
	outside := b.outsideEdges(r)
	for i := range c.walls {
		c.walls[i].edge = outside[i]
	}
	if r.w.Size <= 0 || r.h.Size <= 0 {
		b.cannot(path, "no clear space is left inside: %s wide, %s high. Make the case larger or the frame narrower.",
			b.show(r.w.Size), b.show(r.h.Size))
		return
	}
	if n := spaces(o); n > mostSpaces {
		b.cannot(path, "it is split into %d spaces; up to %d can be built as one piece. Make it as several pieces.", n, mostSpaces)
		return
	}
	if spaces(o) > 1 || b.piece.Back != nil { // something is housed in the case, or it in something
		b.noteNominal(b.material("case").key, b.material("case").thickness)
	}
	b.split(o, c)
}

// mostSpaces bounds what one piece is split into, so that a slip in a file
// does not ask for thousands of parts.
const mostSpaces = 500

// spaces counts the leaves of a tree of openings.
func spaces(o piece.Opening) int {
	n := 0
	for _, p := range o.Columns {
		n += spaces(p)
	}
	for _, p := range o.Rows {
		n += spaces(p)
	}
	return max(n, 1)
}

// outsideEdges is what is seen from the front between the opening and the
// outside of the case, at left, right, bottom and top.
func (b *builder) outsideEdges(r rect) [4]unit.Length {
	s := b.space
	if f := b.piece.Frame; f != nil {
		return [4]unit.Length{f.Stile, f.Stile, given(f.BottomRail, f.Stile), given(f.TopRail, f.Stile)}
	}
	t := b.material("case").thickness
	return [4]unit.Length{
		t + r.x - s.left, t + s.right - r.x - r.w.Size,
		t + r.z - s.bottom, t + s.top - r.z - r.h.Size,
	}
}

// split goes down the tree: a cell is divided or filled.
func (b *builder) split(o piece.Opening, c cell) {
	if c.path == "inside" {
		b.agrees(o.Width, c.w.Size, c.path+".width", "width")
		b.agrees(o.Height, c.h.Size, c.path+".height", "height")
	}
	switch {
	case len(o.Columns) > 0 && len(o.Rows) > 0:
		b.cannot(c.path, "a space is split into columns or into rows, not both. Put the rows inside a column.")
	case (len(o.Columns) > 0 || len(o.Rows) > 0) && (o.Drawer != nil || o.Door != nil || o.Shelves != nil):
		b.cannot(c.path, "this space is split, so its parts are filled, not the whole. Move the drawer, door or shelves into one of them.")
	case len(o.Columns) > 0:
		b.divide(o, o.Columns, c, columns)
	case len(o.Rows) > 0:
		b.divide(o, o.Rows, c, rows)
	default:
		b.fill(o, c)
	}
}

// cannot notes what cannot be built, the path before the sentence.
func (b *builder) cannot(path, says string, args ...any) {
	b.problem(path, "%s: %s", path, strings.TrimSuffix(fmt.Sprintf(says, args...), ".")+".")
}

// agrees checks a size that also follows from others.
func (b *builder) agrees(given, follows unit.Length, path, what string) {
	if given != 0 && given != follows {
		b.cannot(path, "a %s of %s is asked for, but the space is %s. Leave it out, or make the difference of %s elsewhere.",
			what, b.exact(given), b.exact(follows), b.exact((given - follows).Abs()))
	}
}

// exact writes a size without rounding, where a sentence must add up; in inches
// as the fraction that is read off a rule, unless that is nothing.
func (b *builder) exact(l unit.Length) string {
	if b.piece.Units == unit.Imperial && l.Round(unit.Inch64) != 0 {
		return b.show(l)
	}
	return l.Exact(b.piece.Units)
}

// divide splits a cell along one axis: frame members and panels between, then
// each part in turn.
func (b *builder) divide(o piece.Opening, parts []piece.Opening, c cell, a axis) {
	gap, stands, ok := b.between(o, c, a)
	if !ok {
		return
	}
	total := c.h
	if a.across {
		total = c.w
	}
	sizes, ok := b.share(parts, total, gap, stands, c.path, a)
	if !ok {
		return
	}
	cells := b.lay(parts, sizes, gap, c, a)
	if b.failed() {
		return
	}
	floors := make([]bool, len(parts)) // a panel below or right of part i
	for i := range len(parts) - 1 {
		floors[i] = b.wantsPanel(o, parts[i], parts[i+1], a)
	}
	// Panels first, in order: a part must know the panels on both its sides.
	for i := range len(parts) - 1 {
		near, far := &cells[i], &cells[i+1]
		var member *Part
		if b.piece.Frame != nil {
			member = b.member(c, *near, gap, a, i)
		}
		edge, panel := b.divider(c, *near, gap, floors[i], a, i)
		if member != nil && panel != nil {
			b.joint(Joint{Kind: "glued on", A: member.Letter, B: panel.Letter, With: "glue"})
		}
		if a.across {
			near.walls[atRight], far.walls[atLeft] = edge[0], edge[1]
		} else {
			near.walls[atBottom], far.walls[atTop] = edge[0], edge[1]
		}
	}
	if b.failed() {
		return
	}
	for i, part := range parts {
		b.split(part, cells[i])
	}
}

// between is what stands between the parts of a space, seen from the front.
func (b *builder) between(o piece.Opening, c cell, a axis) (gap unit.Length, stands string, ok bool) {
	path := c.path + ".between"
	f := b.piece.Frame
	if f != nil {
		gap = given(f.Divider, f.Stile)
		if !a.across {
			gap = given(f.Rail, gap)
		}
		gap = given(o.Between, gap)
		t := b.material("inside").thickness
		if b.anyPanel(o, a) && t > gap {
			b.cannot(path, "the panel behind is %s thick and shows behind a %s of %s. Make the %s at least %s, or set panel: false.",
				b.show(t), a.member, b.show(gap), a.member, b.show(t))
			return 0, "", false
		}
		return gap, a.member, true
	}
	t, ok := b.insideThickness(path)
	if !ok {
		return 0, "", false
	}
	if o.Panel != nil && !*o.Panel {
		b.cannot(c.path+".panel", "nothing would stand between these %s: the piece has no frame. Leave panel out.", a.many)
		return 0, "", false
	}
	if o.Between != 0 && o.Between != t {
		b.cannot(path, "the panel between is %s thick, not %s. Leave between out, or name another panel for the inside.",
			b.exact(t), b.exact(o.Between))
		return 0, "", false
	}
	return t, "divider", true
}

// insideThickness is that of the panels between; a wood needs it stated.
func (b *builder) insideThickness(path string) (unit.Length, bool) {
	s := b.material("inside")
	if s.thickness <= 0 {
		b.cannot(path, "how thick the %s between is, is not known. Give it under thicknesses: inside.", cmp.Or(s.key, "panel"))
		return 0, false
	}
	return s.thickness, true
}

func (b *builder) anyPanel(o piece.Opening, a axis) bool {
	parts := o.Rows
	if a.across {
		parts = o.Columns
	}
	for i := range len(parts) - 1 {
		if b.wantsPanel(o, parts[i], parts[i+1], a) {
			return true
		}
	}
	return false
}

// wantsPanel says whether a panel stands behind what is between two parts:
// as the piece says; else between columns, between rows without a frame, and
// between rows where a divider of one of them must stand on something.
func (b *builder) wantsPanel(o, first, second piece.Opening, a axis) bool {
	switch {
	case o.Panel != nil:
		return *o.Panel
	case a.across || b.piece.Frame == nil:
		return true
	}
	return hasDivider(first) || hasDivider(second)
}

func hasDivider(o piece.Opening) bool {
	if len(o.Columns) > 1 && (o.Panel == nil || *o.Panel) {
		return true
	}
	for _, r := range o.Rows {
		if hasDivider(r) {
			return true
		}
	}
	return false
}

// share gives each part its size: those given, and an equal share of the rest
// for the others. Shares are rounded down to a nanometre and are all alike,
// so that like openings get like boxes; at most one nanometre for each share
// is left over at the end.
func (b *builder) share(parts []piece.Opening, total Dim, gap unit.Length, stands, path string, a axis) ([]Dim, bool) {
	n := len(parts)
	field := path + "." + a.many
	rest := total.Less(n-1, stands, gap)
	sum := unit.Length(n-1) * gap
	open := 0
	for i, p := range parts {
		size := a.size(p)
		if size < 0 {
			b.cannot(fmt.Sprintf("%s[%d].%s", field, i, a.field), "a %s of %s cannot be made. Give more than 0, or leave it out.", a.field, b.exact(size))
			return nil, false
		}
		if size == 0 {
			open++
			continue
		}
		sum += size
		rest = rest.Less(1, fmt.Sprintf("%s %d", a.one, i+1), size)
	}
	what := fmt.Sprintf("%s and %s", document.Count(n, a.one), document.Count(n-1, stands))
	switch diff := sum - total.Size; {
	case open == 0 && diff > 0:
		b.cannot(field, "%s add up to %s, the space is %s; take %s off, or leave one %s out so that it follows",
			what, b.exact(sum), b.exact(total.Size), b.exact(diff), a.field)
		return nil, false
	case open == 0 && diff < 0:
		b.cannot(field, "%s add up to %s, the space is %s; add %s, or leave one %s out so that it follows",
			what, b.exact(sum), b.exact(total.Size), b.exact(-diff), a.field)
		return nil, false
	case open > 0 && rest.Size < unit.Length(open)*unit.Millimetre:
		b.cannot(field, "%s given and %s add up to %s, the space is %s; nothing is left for %s without a %s. Make the others smaller",
			document.Count(n-open, a.one), document.Count(n-1, stands), b.exact(sum), b.exact(total.Size), document.Count(open, a.one), a.field)
		return nil, false
	}
	shared := rest.Over(open, a.many)
	out := make([]Dim, n)
	for i, p := range parts {
		if size := a.size(p); size > 0 {
			out[i] = From("given", size)
		} else {
			out[i] = shared
		}
	}
	return out, true
}

// lay places the parts one after the other and hands the rounded corners of
// the cell to those that touch them.
func (b *builder) lay(parts []piece.Opening, sizes []Dim, gap unit.Length, c cell, a axis) []cell {
	out := make([]cell, len(parts))
	x, top := c.x, c.z+c.h.Size
	for i, p := range parts {
		n := cell{rect: c.rect, walls: c.walls}
		n.path = fmt.Sprintf("%s.%s[%d]", c.path, a.many, i)
		n.name = fmt.Sprintf("%s %d", a.one, i+1)
		if c.path != "inside" {
			n.name = c.name + " " + n.name
		}
		first, last := i == 0, i == len(parts)-1
		if a.across {
			n.x, n.w = x, sizes[i]
			x += sizes[i].Size + gap
			n.corner = keep(c.corner, first, last, last, first)
			b.agrees(p.Height, c.h.Size, n.path+".height", "height")
		} else {
			n.h = sizes[i]
			n.z = top - sizes[i].Size
			top = n.z - gap
			n.corner = keep(c.corner, first, first, last, last)
			b.agrees(p.Width, c.w.Size, n.path+".width", "width")
		}
		b.roomForCorners(n)
		out[i] = n
	}
	return out
}

func keep(r [4]unit.Length, which ...bool) [4]unit.Length {
	for i, k := range which {
		if !k {
			r[i] = 0
		}
	}
	return r
}

// roomForCorners checks that the rounded corners a cell has fit into it.
func (b *builder) roomForCorners(c cell) {
	r := c.corner
	if w := max(r[0]+r[1], r[3]+r[2]); w > c.w.Size {
		b.cannot(c.path, "the rounded corners take %s of the width, this space is %s wide. Make it wider or the radius smaller.", b.show(w), b.show(c.w.Size))
	}
	if h := max(r[0]+r[3], r[1]+r[2]); h > c.h.Size {
		b.cannot(c.path, "the rounded corners take %s of the height, this space is %s high. Make it higher or the radius smaller.", b.show(h), b.show(c.h.Size))
	}
}

// fill puts into a leaf what the piece asks for.
func (b *builder) fill(o piece.Opening, c cell) {
	out := Opening{
		Name: c.name, Path: c.path, Width: c.w, Height: c.h, X: c.x, Z: c.z,
		Corners: c.corner, Fill: "nothing",
	}
	m := b.measure(c)
	switch {
	case o.Drawer != nil && (o.Door != nil || o.Shelves != nil):
		b.cannot(c.path, "a drawer fills its space. Give door and shelves a space of their own.")
		return
	case o.Drawer != nil:
		out.Fill = "drawer"
		b.drawer(*o.Drawer, c, m, &out)
	default:
		if o.Shelves != nil {
			out.Fill = "shelves"
			b.shelves(*o.Shelves, o.Door, c)
		}
		if o.Door != nil {
			out.Fill = "door"
			b.door(*o.Door, o.Shelves, c, m, &out)
		}
	}
	b.floorOf(o, c)
	b.opening(out)
}

// floorOf says so when what is put into a space finds no floor: behind a
// frame only a rail stands between rows, unless the piece asks for a panel.
func (b *builder) floorOf(o piece.Opening, c cell) {
	if o.Drawer != nil || c.walls[atBottom].panel {
		return
	}
	b.once(finding.Finding{
		ID: "no-floor", Level: finding.Note, Place: c.name,
		Says:   fmt.Sprintf("%s has no floor: behind the frame only a rail stands below it", c.name),
		Advice: "Set panel: true where the rows are split, or leave it open to the space below if that is meant.", Source: "common practice, no source",
	})
}
