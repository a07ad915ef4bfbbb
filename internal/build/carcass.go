package build

import (
	"cmp"
	"fmt"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// carcass builds a case of flat panels: two sides, bottom and top. Which run
// through is the maker's; the others lie between, let in by the joint's depth.
func (b *builder) carcass() {
	if !b.slabSize() {
		return
	}
	h, s := b.hull, b.material("case")
	t := s.thickness
	c := b.piece.Case
	sides := c.Through != "top-bottom"
	top, bottom := cmp.Or(c.Joints["top"], "dowel"), cmp.Or(c.Joints["bottom"], "dowel")
	slab := c.Top != nil
	b.hull.corner = [4]unit.Length{}
	height := From("outside height", c.Height)
	if slab {
		height = height.Less(1, "top", b.slabThick)
	}
	width := From("outside width", c.Width)

	// How far the ends of the parts between reach into those that run through.
	inTop, inBottom := b.letIn(top, t), b.letIn(bottom, t)
	if !sides {
		height = height.Less(1, "bottom", t).Plus(1, words(bottom), inBottom)
		if !slab {
			height = height.Less(1, "top", t).Plus(1, words(top), inTop)
		}
	}
	z := h.under
	if !sides {
		z += t - inBottom
	}
	if height.Size <= 0 {
		b.problem("case.height", "case.height is %s: nothing is left for the sides. Make the case higher.", b.show(c.Height))
		return
	}
	side := func(name string, f geom.Frame) *Part {
		p := b.add(Part{
			Name: "side", Role: RoleSide, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
			Length: height, Width: From("case depth", c.Depth), Thickness: b.thickDim(s),
			Places: []Place{{Frame: f, Name: name}},
		})
		return p
	}
	b.left = side("left", leftward(t, h.front, z))
	b.right = side("right", rightward(h.width-t, h.rear(), z))
	b.left.edged(b.frontEdge(), EdgeY0)
	b.right.edged(b.frontEdge(), EdgeY1)

	length := func(joint string, in unit.Length) (Dim, unit.Length) {
		if !sides || joint == "mitre" {
			return width, 0
		}
		return width.Less(2, "side", t).Plus(2, words(joint), in), t - in
	}
	l, x := length(bottom, inBottom)
	b.bottom = b.add(Part{
		Name: "bottom", Role: RoleBottom, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: l, Width: From("case depth", c.Depth), Thickness: b.thickDim(s),
		Places: []Place{{Frame: downward(x+l.Size, h.front, h.under+t)}},
	})
	b.bottom.edged(b.frontEdge(), EdgeY0)
	b.corner(bottom, b.bottom, sides, h.under, inBottom)
	if slab {
		b.stretchers(top, width)
		b.slab()
		return
	}
	l, x = length(top, inTop)
	b.top = b.add(Part{
		Name: "top", Role: RoleTop, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: l, Width: From("case depth", c.Depth), Thickness: b.thickDim(s),
		Places: []Place{{Frame: upward(x, h.front, h.over()-t)}},
	})
	b.top.edged(b.frontEdge(), EdgeY0)
	b.corner(top, b.top, sides, h.over()-t, inTop)
}

func (b *builder) thickDim(s stock) Dim {
	if s.solid {
		return From("finished thickness", s.thickness)
	}
	return From("panel as measured", s.thickness)
}

// letIn is how far a joint lets one part into another of thickness t: a
// quarter for housings and rebates (a handbook rule: a quarter of the
// receiving thickness, never over a third).
func (b *builder) letIn(joint string, t unit.Length) unit.Length {
	switch joint {
	case "housing", "rebate":
		return b.tidy(t / 4)
	}
	return 0
}

// corner joins top or bottom, lying at height z, to both sides. At a corner a
// housing has no wood beyond it and is a rebate.
func (b *builder) corner(joint string, p *Part, sides bool, z, in unit.Length) {
	h := b.hull
	t := h.thick
	what := p.Name + " to side"
	for i, side := range []*Part{b.left, b.right} {
		end := EdgeX1 // of bottom, drawn from right to left
		if (p.Name == "bottom") == (i == 1) {
			end = EdgeX0
		}
		top := p.Name == "top"
		x := unit.Length(0) // of the side's outer face
		if i == 1 {
			x = h.width
		}
		switch joint {
		case "housing", "rebate":
			into, f := side, side.Places[0].Frame
			r := region(f, geom.Vec{X: x, Y: h.front, Z: z}, geom.Vec{X: x, Y: h.rear(), Z: z + t})
			if !sides {
				into, f = p, p.Places[0].Frame
				x0, x1 := unit.Length(0), t
				if i == 1 {
					x0, x1 = h.width-t, h.width
				}
				r = region(f, geom.Vec{X: x0, Y: h.front, Z: z}, geom.Vec{X: x1, Y: h.rear(), Z: z})
			}
			into.feature(Feature{Kind: Rebate, Face: FaceReference, Region: r, Depth: in, For: p.Name})
			b.joint(Joint{Kind: "rebate", A: p.Letter, B: side.Letter, Depth: in, With: "glue"})
		case "mitre":
			up := EdgeX0
			if top {
				up = EdgeX1
			}
			for _, m := range []struct {
				part *Part
				edge Edge
			}{{p, end}, {side, up}} {
				m.part.feature(Feature{Kind: Chamfer, Face: FaceReference, Region: m.part.strip(m.edge, t), Depth: t, Angle: unit.Deg(45), For: "mitre"})
			}
			b.joint(Joint{Kind: "mitre", A: p.Letter, B: side.Letter, Depth: t, With: "glue"})
		default:
			one := butted{part: p, edge: end}
			two := butted{part: side, face: FaceReference, up: true, from: local(side.Places[0].Frame, geom.Vec{X: x, Y: h.front, Z: z + t/2})}
			if i == 1 {
				two.from.Y = 0
			}
			if !sides {
				up := EdgeX0
				if top {
					up = EdgeX1
				}
				mid := t / 2
				if i == 1 {
					mid = h.width - t/2
				}
				one = butted{part: side, edge: up}
				two = butted{part: p, face: FaceReference, up: true, from: local(p.Places[0].Frame, geom.Vec{X: mid, Y: h.front, Z: z})}
			}
			b.hold(joint, one, two, h.depth, t, what)
		}
	}
}

// strip is the region along an edge of a part, so wide.
func (p *Part) strip(e Edge, wide unit.Length) geom.Outline {
	l, w := p.Length.Size, p.Width.Size
	switch e {
	case EdgeX0:
		return box(geom.P(0, 0), geom.P(wide, w))
	case EdgeX1:
		return box(geom.P(l-wide, 0), geom.P(l, w))
	case EdgeY0:
		return box(geom.P(0, 0), geom.P(l, wide))
	}
	return box(geom.P(0, w-wide), geom.P(l, w))
}

// stretcher is the width of a top stretcher (common practice): 80 mm, or 3 in.
func (b *builder) stretcher() unit.Length { return b.metric(80*unit.Millimetre, 3*unit.Inch) }

// stretchers are the two rails that lie between the sides under a top that
// lies on the case: one at the front, one at the back.
func (b *builder) stretchers(joint string, width Dim) {
	h, s := b.hull, b.material("case")
	t := s.thickness
	if joint == "mitre" || joint == "rebate" || joint == "housing" {
		joint = "dowel" // they have no wood beyond them to be let into
	}
	wide := min(b.stretcher(), h.depth/3)
	for i, y := range []unit.Length{h.front, b.backFrontFor(wide)} {
		p := b.add(Part{
			Name: "top stretcher", Role: RoleRail, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
			Length: width.Less(2, "side", t), Width: From("stretcher", wide), Thickness: b.thickDim(s),
			Places: []Place{{Frame: upward(t, y, h.over()-t), Name: [2]string{"front", "back"}[i]}},
		})
		if i == 0 {
			p.edged(b.frontEdge(), EdgeY0)
		}
		for k, side := range []*Part{b.left, b.right} {
			end := [2]Edge{EdgeX0, EdgeX1}[k]
			x := [2]unit.Length{t, h.width - t}[k]
			from := local(side.Places[0].Frame, geom.Vec{X: x, Y: y, Z: h.over() - t/2})
			if k == 1 {
				from.Y -= wide
			}
			b.hold(joint, butted{part: p, edge: end}, butted{part: side, face: FaceReference, up: true, from: from}, wide, t, "stretcher to side")
		}
	}
}

// backFrontFor is where a part of that width ends in front of the back.
func (b *builder) backFrontFor(wide unit.Length) unit.Length {
	return b.backFront() - wide
}

// slabSize works out the thickness of a top that lies on, and takes it off
// the case.
func (b *builder) slabSize() bool {
	k := b.piece.Case.Top
	if k == nil {
		return true
	}
	s := b.material("top")
	t := given(k.Thickness, s.thickness)
	ok := true
	switch {
	case s.key == "" || t <= 0:
		b.problem("case.top.thickness", "case.top.thickness is missing. %q is solid wood, so give its finished thickness here or under thicknesses.top.", s.key)
		ok = false
	case !s.solid && (t-s.thickness).Abs() > 2*tenth:
		b.problem("case.top.thickness", "case.top.thickness is %s, but panel %q is %s. Leave it out.", b.show(t), s.key, b.show(s.thickness))
		ok = false
	case t >= b.hull.height-2*b.hull.thick:
		b.problem("case.top.thickness", "the top is %s thick, the whole case %s high. Make the top thinner.", b.show(t), b.show(b.hull.height))
		ok = false
	}
	for i, l := range []unit.Length{k.Front, k.Sides, k.Back} {
		path := [3]string{"front", "sides", "back"}[i]
		if ok && (l < 0 || l > most) {
			b.problem("case.top."+path, "case.top.%s is %s. Give 0 or more.", path, b.show(l))
			ok = false
		}
	}
	b.slabThick = t
	b.hull.height -= t
	return ok
}

// slab adds the top that lies on the case.
func (b *builder) slab() {
	k, h, s := b.piece.Case.Top, b.hull, b.material("top")
	depth := From("case depth", h.depth).Plus(1, "before it: frame or band", h.front).Plus(1, "overhang in front", k.Front).Plus(1, "overhang behind", k.Back)
	p := b.add(Part{
		Name: "top", Role: RoleTop, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: From("outside width", h.width).Plus(2, "overhang", k.Sides), Width: depth, Thickness: From("finished thickness", b.slabThick),
		Places: []Place{{Frame: upward(-k.Sides, -k.Front, h.over())}},
	})
	b.holdDown(cmp.Or(k.Held, "buttons"), p, depth.Size)
}

// Buttons and slots: 300 mm apart at the most, the slot as long as the top
// moves and 1/16 in each way more (common practice, no source).
const (
	buttonApart = 300 * unit.Millimetre
	slotSpare   = unit.Inch / 16
)

// holdDown fastens the top so that it can move across its grain.
func (b *builder) holdDown(held string, top *Part, depth unit.Length) {
	h := b.hull
	along := spread(h.width-2*h.thick, 20*unit.Millimetre, 75*unit.Millimetre, buttonApart, 2)
	move, how := b.moves(b.material("top"), depth)
	if held == "glue" || len(along) == 0 {
		b.joint(Joint{Kind: "glued on", A: top.Letter, B: b.left.Letter, With: "glue"})
		b.noteGluedTop(move, how)
		return
	}
	n := 2 * len(along)
	under := From("stretcher", h.thick)
	if held == "buttons" { // the screw goes through the button
		under = From("button", b.metric(20*unit.Millimetre, 3*unit.Inch/4))
	}
	if held == "buttons" {
		b.fit(Fitting{Name: "wooden button", Count: n, For: "top to stretchers"})
		b.joint(Joint{Kind: "buttons", A: top.Letter, B: b.left.Letter, With: fmt.Sprintf("%d buttons", n), Note: b.seasons(move, how)})
	} else {
		b.joint(Joint{Kind: "slots", A: top.Letter, B: b.left.Letter, With: fmt.Sprintf("%d screws in slots", n), Note: b.seasons(move, how)})
	}
	b.slots(held, along, move)
	b.screws(screwing{where: "top, from below", count: n, fastened: under, holding: b.slabThick, material: top.Material})
}

// slots works what holds the top into the stretchers: mortises for buttons;
// for screws, round holes along the front, where the top stays in line, and
// slots across the back one, along which it moves.
func (b *builder) slots(held string, along []unit.Length, move unit.Length) {
	const shank = 5 * unit.Millimetre
	for _, p := range b.parts {
		if p.Name != "top stretcher" {
			continue
		}
		w := p.Width.Size
		for _, x := range along {
			if held == "buttons" {
				p.feature(Feature{Kind: Mortise, On: innerEdge(p), Region: slot(x, p.Thickness.Size/2, 25*unit.Millimetre, p.Thickness.Size/3), Depth: 12 * unit.Millimetre, For: "button"})
				continue
			}
			c := geom.P(x, w/2)
			if p.Places[0].Name == "front" {
				p.feature(Feature{Kind: Hole, Face: FaceReference, Region: disc(c, shank), Through: true, Depth: p.Thickness.Size, For: "screw into the top"})
				continue
			}
			l := min(shank+move+2*slotSpare, w-2*shank)
			p.feature(Feature{Kind: Hole, Face: FaceReference, Region: upright(slot(c.X, c.Y, l, shank), c), Through: true, Depth: p.Thickness.Size, For: "screw into the top, free to move"})
		}
	}
}

// innerEdge is the edge of a stretcher that faces the inside of the case.
func innerEdge(p *Part) Edge {
	if p.Places[0].Name == "front" {
		return EdgeY1
	}
	return EdgeY0
}
