package build

import (
	"slices"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// turned is one of the eight ways a drawing can lie on itself: x counted from
// the far end, y from the upper edge, the thickness from the other face. Two
// of the three together are a turn of the part in space, one or all three its
// mirror image.
type turned struct{ x, y, over bool }

// turns are tried in this order: as it lies, turned, mirrored.
var turns = []turned{
	{},
	{true, true, false},
	{false, true, true},
	{true, false, true},
	{false, true, false},
	{true, false, false},
	{false, false, true},
	{true, true, true},
}

func (t turned) mirrors() bool { return t.x != t.y != t.over }

// Mirrored lists the letters of parts whose mirror image is another part, in
// the order of the parts. Of a mirrored pair of pieces, the second needs these
// as mirror images; all others serve both.
func (m Model) Mirrored() []string {
	var out []string
	for _, p := range m.Parts {
		if p.handed() {
			out = append(out, p.Letter)
		}
	}
	return out
}

// handed says that a part cannot be laid on its mirror image, and is not
// needed in equal numbers of both hands.
func (p Part) handed() bool {
	mirrored := 0
	for _, at := range p.Places {
		if at.Frame.Mirror {
			mirrored++
		}
	}
	if 2*mirrored == len(p.Places) && mirrored > 0 {
		return false
	}
	b := &builder{}
	for _, t := range turns {
		if t.mirrors() && b.same(&p, t.part(p)) {
			return false
		}
	}
	return true
}

// part is p's drawing, counted the other way.
func (t turned) part(p Part) Part {
	if t == (turned{}) {
		return p
	}
	l, w := p.Length.Size, p.Width.Size
	p.Outline = t.outline(p.Outline, l, w)
	p.Features = slices.Clone(p.Features)
	for i := range p.Features {
		f := &p.Features[i]
		switch f.On {
		case "":
			f.Region = t.outline(f.Region, l, w)
		case EdgeY0, EdgeY1:
			f.Region = turned{x: t.x, y: t.over}.outline(f.Region, l, p.Thickness.Size)
		default:
			f.Region = turned{x: t.y, y: t.over}.outline(f.Region, w, p.Thickness.Size)
		}
		f.On, f.Face = t.edge(f.On), t.face(f.Face)
	}
	p.Bands = slices.Clone(p.Bands)
	for i := range p.Bands {
		p.Bands[i].Edge = t.edge(p.Bands[i].Edge)
	}
	p.Kerfs = slices.Clone(p.Kerfs)
	for i := range p.Kerfs {
		p.Kerfs[i].Face = t.face(p.Kerfs[i].Face)
	}
	if t.x {
		slices.Reverse(p.Kerfs)
		for i := range p.Kerfs {
			k := &p.Kerfs[i]
			k.Start = l - k.Start - k.Zone
			k.Positions = slices.Clone(k.Positions)
			slices.Reverse(k.Positions)
			for j := range k.Positions {
				k.Positions[j] = l - k.Positions[j]
			}
		}
	}
	return p
}

func (t turned) edge(e Edge) Edge {
	switch {
	case t.y && e == EdgeY0:
		return EdgeY1
	case t.y && e == EdgeY1:
		return EdgeY0
	case t.x && e == EdgeX0:
		return EdgeX1
	case t.x && e == EdgeX1:
		return EdgeX0
	}
	return e
}

func (t turned) face(f Face) Face {
	switch {
	case t.over && f == FaceReference:
		return FaceOther
	case t.over && f == FaceOther:
		return FaceReference
	}
	return f
}

// outline counts x from l and y from w; an outline that would then run
// clockwise is run the other way.
func (t turned) outline(o geom.Outline, l, w unit.Length) geom.Outline {
	out := slices.Clone(o)
	for i := range out {
		if t.x {
			out[i].X = l - out[i].X
		}
		if t.y {
			out[i].Y = w - out[i].Y
		}
	}
	if t.x == t.y {
		return out
	}
	n := len(out)
	back := make(geom.Outline, n)
	for i := range out {
		back[i] = out[n-1-i]
		back[i].Bulge = out[(2*n-2-i)%n].Bulge // of the same side, mirrored and run backwards: the same sign
	}
	return back
}

// frame places q's drawing where p's was, when q is p turned by t.
func (t turned) frame(f geom.Frame, p *Part) geom.Frame {
	if t.mirrors() { // the drawing is mirrored in y before it is placed
		f.Mirror, t.y = !f.Mirror, !t.y
	}
	at := func(far bool, l unit.Length) unit.Length {
		if far {
			return l
		}
		return 0
	}
	f.Origin = f.At(at(t.x, p.Length.Size), at(t.y, p.Width.Size), at(t.over, p.Thickness.Size))
	if t.x {
		f.U = flip(f.U)
	}
	if t.y {
		f.V = flip(f.V)
	}
	return f
}

func flip(d geom.Dir) geom.Dir { return geom.Dir{X: 0 - d.X, Y: 0 - d.Y, Z: 0 - d.Z} }

// same says that two drawings show the same part.
func (b *builder) same(p *Part, q Part) bool {
	return sameOutline(p.Outline, q.Outline) && sameSet(p.Features, q.Features, sameFeature) &&
		sameSet(p.Bands, q.Bands, func(a, b Band) bool { return a == b }) &&
		slices.EqualFunc(p.Kerfs, q.Kerfs, b.sameKerfs) && sameBent(p.Bent, q.Bent)
}

// slack is how far two drawings of the same part may differ: rounding of
// arcs, no more.
const slack = 20 * unit.Nanometre

func near(a, b unit.Length) bool { return (a - b).Abs() <= slack }

func nearVertex(a, b geom.Vertex) bool {
	d := a.Bulge - b.Bulge
	return near(a.X, b.X) && near(a.Y, b.Y) && d < 1e-7 && d > -1e-7
}

// sameOutline compares outlines wherever they begin.
func sameOutline(a, b geom.Outline) bool {
	if len(a) != len(b) {
		return false
	}
	for shift := range a {
		ok := true
		for i := range a {
			if !nearVertex(a[i], b[(i+shift)%len(b)]) {
				ok = false
				break
			}
		}
		if ok {
			return true
		}
	}
	return len(a) == 0
}

// sameSet compares two lists in any order.
func sameSet[T any](a, b []T, same func(x, y T) bool) bool {
	if len(a) != len(b) {
		return false
	}
	used := make([]bool, len(b))
	for _, x := range a {
		i := slices.IndexFunc(b, func(y T) bool { return same(x, y) })
		for i >= 0 && used[i] {
			next := slices.IndexFunc(b[i+1:], func(y T) bool { return same(x, y) })
			if next < 0 {
				return false
			}
			i += 1 + next
		}
		if i < 0 {
			return false
		}
		used[i] = true
	}
	return true
}

// sameFeature looks at what is worked, not at what for.
func sameFeature(a, b Feature) bool {
	return a.Kind == b.Kind && a.Face == b.Face && a.On == b.On && near(a.In, b.In) && a.Depth == b.Depth &&
		a.Through == b.Through && a.Angle == b.Angle && a.Place == b.Place && sameOutline(a.Region, b.Region)
}

// sameKerfs compares kerf groups by what is cut and how the bend is designed.
func (b *builder) sameKerfs(x, y KerfGroup) bool {
	return x.Face == y.Face && x.Zone == y.Zone && near(x.Start, y.Start) &&
		slices.EqualFunc(x.Positions, y.Positions, near) && b.depth(x) == b.depth(y)
}

func (b *builder) depth(k KerfGroup) unit.Length {
	if k.Bend >= len(b.m.Bends) {
		return 0
	}
	return b.m.Bends[k.Bend].Design.Result.Depth
}

func sameBent(a, b *Bent) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Left == b.Left && slices.EqualFunc(a.Profile, b.Profile, nearVertex)
}

// sameBends says of q's bends that they stand at p's corners too, and takes
// the names off p's: letters then drops them.
func (b *builder) sameBends(q, p *Part) {
	for i := range p.Kerfs {
		x, y := &b.m.Bends[q.Kerfs[i].Bend], &b.m.Bends[p.Kerfs[i].Bend]
		x.Name += " and " + y.Name
		y.Name = ""
	}
}
