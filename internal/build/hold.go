package build

import (
	"fmt"

	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Sizes of what holds an edge joint. Common practice, no source, unless said.
const (
	behind      = 3 * unit.Millimetre     // wood left behind a mortise or dowel hole at the least
	glueRoom    = 3 * unit.Millimetre / 2 // holes and mortises are deeper by this
	dowelApart  = 96 * unit.Millimetre    // most between dowels in case work
	tenonApart  = 150 * unit.Millimetre   // most between loose tenons in a long joint
	pocketApart = 150 * unit.Millimetre
	firstFrom   = 50 * unit.Millimetre // first dowel from the edge at the most
)

// butted is one side of a joint between an edge and an edge or a face. The
// joint's line is counted along the edge, or along x or y of the face.
type butted struct {
	part *Part
	edge Edge       // worked into this edge; empty: into the face
	face Face       //
	from geom.Point // edge: X where the line begins along it; face: where it begins
	up   bool       // face: the line runs along y, else along x
	// reach is the wood there is to go into, in what a shaped edge lies inside
	// the part's width.
	reach, in unit.Length
}

// peg is what stands across a joint.
type peg struct {
	kind         FeatureKind // Hole for dowels, Mortise for loose tenons
	name, key    string
	thick, width unit.Length // along the joint width; for dowels both the diameter
	length       unit.Length
	at           []unit.Length // centres along the joint
}

// hold joins two parts along a line of the given length by what is named:
// loose-tenon, dowel, pocket-screw, or glue alone. thick is the thinner of
// the two. Holes are worked into both, the centre of the thickness apart.
func (b *builder) hold(held string, one, two butted, length, thick unit.Length, what string) {
	switch held {
	case "dowel", "loose-tenon":
		g := b.peg(held, length, thick)
		in1, in2 := g.depths(one.room(), two.room())
		if in1 <= 0 || in2 <= 0 || len(g.at) == 0 {
			b.joint(Joint{Kind: "butt", A: one.part.Letter, B: two.part.Letter, With: "glue", Note: "too small for a " + words(held)})
			return
		}
		g.length = in1 + in2
		g.call(b)
		g.work(one, in1+glueRoom, what)
		g.work(two, in2+glueRoom, what)
		f := Fitting{Key: g.key, Name: g.name, Count: len(g.at), For: what}
		if g.key == "" && g.kind == Mortise {
			f.Stock = [3]unit.Length{g.thick, g.width, g.length}
		}
		b.fit(f)
		b.joint(Joint{Kind: words(held), A: one.part.Letter, B: two.part.Letter, Depth: in1 + in2, With: fmt.Sprintf("%d × %s", len(g.at), g.name)})
	case "pocket-screw":
		b.pockets(one, two, length, thick, what)
	case "glue", "butt", "spline", "":
		b.joint(Joint{Kind: "butt", A: one.part.Letter, B: two.part.Letter, With: "glue"})
	default:
		b.joint(Joint{Kind: words(held), A: one.part.Letter, B: two.part.Letter})
	}
}

// room is how deep a hole may go.
func (s butted) room() unit.Length {
	if s.reach > 0 {
		return s.reach
	}
	if s.edge == "" {
		return s.part.Thickness.Size - behind
	}
	if s.edge == EdgeX0 || s.edge == EdgeX1 {
		return s.part.Length.Size/2 - behind
	}
	return s.part.Width.Size - behind
}

// peg chooses dowels or loose tenons for a joint: from the shop's hardware
// the size nearest to the rule, else the rule itself.
func (b *builder) peg(held string, length, thick unit.Length) peg {
	if held == "dowel" {
		return b.dowel(length, thick)
	}
	return b.tenon(length, thick)
}

// dowel: a third to half as thick as the wood and three tenths of a narrow
// rail at the most, two at the least, the first
// within 50 mm of the edge, up to 96 mm apart.
func (b *builder) dowel(length, thick unit.Length) peg {
	g := peg{kind: Hole}
	d, long := unit.Length(0), unit.Length(0)
	for _, key := range sorted(b.shop.Hardware) {
		h := b.shop.Hardware[key]
		if h.Kind == "dowel" && h.Diameter > d && h.Diameter <= thick/2 && (d == 0 || h.Diameter <= length*3/10) {
			g.key, d, long = key, h.Diameter, h.Length
			g.name = shop.Called(h.Name, key)
		}
	}
	if d == 0 {
		for _, m := range b.sizesSold() {
			if m <= thick/2 && (d == 0 || m <= length*3/10) { // two in a narrow rail leave wood beside them
				d = m
			}
		}
		if d == 0 {
			return g
		}
	}
	g.thick, g.width, g.length = d, d, given(long, 5*d)
	g.at = spread(length, d, firstFrom, dowelApart, 2)
	return g
}

// tenon: a third of the wood thick, two thirds of a rail wide but not over
// six times its thickness; long joints get several, up to 150 mm apart.
func (b *builder) tenon(length, thick unit.Length) peg {
	g := peg{kind: Mortise}
	off := func(t unit.Length) unit.Length { return (3*t - thick).Abs() }
	for _, key := range sorted(b.shop.Hardware) {
		h := b.shop.Hardware[key]
		fits := h.Kind == "loose-tenon" && h.Thickness > 0 && h.Thickness <= thick/2 && h.Width > 0 && h.Width < length
		if fits && (g.thick == 0 || off(h.Thickness) < off(g.thick)) {
			g.key, g.name, g.thick, g.width, g.length = key, shop.Called(h.Name, key), h.Thickness, h.Width, h.Length
		}
	}
	if g.thick == 0 {
		for _, m := range b.sizesSold() {
			if m <= thick/2 && (g.thick == 0 || off(m) < off(g.thick)) {
				g.thick = m
			}
		}
		if g.thick == 0 {
			return g
		}
		g.width = max(min(2*length/3, 6*g.thick, 40*unit.Millimetre).RoundDown(unit.Millimetre), g.thick)
		g.length = 8 * g.thick
	}
	if g.length == 0 {
		g.length = 8 * g.thick
	}
	g.at = spread(length, g.width, 75*unit.Millimetre, tenonApart, 1)
	return g
}

// call names a peg that the shop has no name for by its sizes.
func (g *peg) call(b *builder) {
	if g.name != "" {
		return
	}
	if g.kind == Hole {
		g.name = fmt.Sprintf("dowel %s × %s", b.bought(g.thick), b.bought(g.length))
		return
	}
	g.name = fmt.Sprintf("loose tenon %s × %s × %s", b.bought(g.thick), b.bought(g.width), b.bought(g.length))
}

// sizesSold are the diameters of dowels and thicknesses of cutters, thinnest
// first, in the system the shop works in.
func (b *builder) sizesSold() []unit.Length {
	if b.shop.Units == unit.Imperial {
		var out []unit.Length
		for _, n := range []unit.Length{4, 6, 8, 10, 12, 16, 20, 24} {
			out = append(out, n*unit.Inch32)
		}
		return out
	}
	var out []unit.Length
	for _, mm := range []unit.Length{3, 4, 5, 6, 8, 10, 12, 16, 20} {
		out = append(out, mm*unit.Millimetre)
	}
	return out
}

// spread places things of a width evenly along a line: first and last at most
// first from its ends, no two further apart than apart, at least so many where
// there is room, none over the ends. The places are symmetrical.
func spread(length, width, first, apart unit.Length, least int) []unit.Length {
	if width <= 0 || length < width {
		return nil
	}
	edge := max(min(first, length/4), width/2)
	run := length - 2*edge
	n := 1 + int((run+apart-1)/apart)
	n = max(n, least)
	if run < width*3/2 || length <= 4*width && least == 1 { // one will do, or no more go in
		n = 1
	}
	if n == 1 {
		return []unit.Length{length / 2}
	}
	at := make([]unit.Length, n)
	for i := range at {
		at[i] = edge + run*unit.Length(i)/unit.Length(n-1)
		if j := n - 1 - i; j <= i { // alike from both ends, to the nanometre
			at[i] = length - at[j]
		}
	}
	if n%2 == 1 {
		at[n/2] = length / 2
	}
	return at
}

// depths are how deep a peg stands in each side: half its length, less where
// there is not the wood. A peg cut by the maker is then as short as that; a
// bought one goes deeper into the other side.
func (g peg) depths(room1, room2 unit.Length) (unit.Length, unit.Length) {
	half := g.length / 2
	in1, in2 := min(half, room1-glueRoom), min(half, room2-glueRoom)
	if g.key != "" {
		in1 = max(in1, min(g.length-in2, room1-glueRoom))
		in2 = max(in2, min(g.length-in1, room2-glueRoom))
	}
	if in1 <= 0 || in2 <= 0 {
		return 0, 0
	}
	return in1, in2
}

// work sinks the pegs' holes or mortises into one side.
func (g peg) work(s butted, depth unit.Length, what string) {
	for _, at := range g.at {
		f := Feature{Kind: g.kind, Depth: depth, For: what}
		c := geom.P(s.from.X+at, s.part.Thickness.Size/2)
		if s.edge != "" {
			f.On, f.In = s.edge, s.in
			f.Region = slot(c.X, c.Y, g.width, g.thick)
		} else {
			f.Face = s.face
			c = geom.P(s.from.X+at, s.from.Y)
			if s.up {
				c = geom.P(s.from.X, s.from.Y+at)
			}
			f.Region = slot(c.X, c.Y, g.width, g.thick)
			if s.up {
				f.Region = upright(f.Region, c)
			}
		}
		s.part.feature(f)
	}
}

// upright turns a region a quarter round about c.
func upright(o geom.Outline, c geom.Point) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, v := range o {
		out[i] = geom.Vertex{Point: geom.P(c.X-(v.Y-c.Y), c.Y+(v.X-c.X)), Bulge: v.Bulge}
	}
	return out
}

// pockets drills pocket holes into the end of one part, on its hidden face.
// Screw lengths by thickness: common practice, from memory.
func (b *builder) pockets(one, two butted, length, thick unit.Length, what string) {
	s := one
	if s.edge == "" {
		s = two
	}
	if s.edge == "" {
		return
	}
	d := 19 * unit.Millimetre / 2
	at := spread(length, d, firstFrom, pocketApart, 2)
	run := 38 * unit.Millimetre // of the pocket along the part
	for _, a := range at {
		along := s.from.X + a
		c := geom.P(run/2, along)
		switch s.edge {
		case EdgeX1:
			c.X = s.part.Length.Size - run/2
		case EdgeY0:
			c = geom.P(along, run/2)
		case EdgeY1:
			c = geom.P(along, s.part.Width.Size-run/2)
		}
		r := slot(c.X, c.Y, run, d)
		if s.edge == EdgeY0 || s.edge == EdgeY1 {
			r = upright(r, c)
		}
		s.part.feature(Feature{Kind: Hole, Face: FaceReference, Region: r, Depth: thick / 2, Angle: unit.Deg(15), For: "pocket screw, " + what})
	}
	l := pocketScrew(thick)
	name := fmt.Sprintf("pocket screw %s", l.Format(unit.Inch64ths))
	b.fit(Fitting{Key: b.screwKey(l), Name: name, Count: len(at), Length: l, For: what})
	b.joint(Joint{Kind: "pocket screw", A: one.part.Letter, B: two.part.Letter, With: fmt.Sprintf("%d × %s", len(at), name)})
}

// pocketScrew is the screw for stock of a thickness.
func pocketScrew(thick unit.Length) unit.Length {
	for _, r := range []struct{ stock, screw unit.Length }{
		{unit.Inch / 2, unit.Inch}, {3 * unit.Inch / 4, 5 * unit.Inch / 4}, {unit.Inch, 3 * unit.Inch / 2},
	} {
		if thick <= r.stock+unit.Millimetre {
			return r.screw
		}
	}
	return 5 * unit.Inch / 2
}

// screwKey is the shop's screw of just that length, if it has one.
func (b *builder) screwKey(l unit.Length) string {
	for _, key := range sorted(b.shop.Hardware) {
		if h := b.shop.Hardware[key]; h.Kind == "screw" && (h.Length-l).Abs() < unit.Millimetre {
			return key
		}
	}
	return ""
}
