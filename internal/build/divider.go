package build

import (
	"cmp"
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// member adds the frame's stile or rail between two parts of a cell. Stiles
// between columns run through from top to bottom of the cell, rails between
// rows from side to side.
func (b *builder) member(c, before cell, gap unit.Length, a axis, i int) *Part {
	f := b.piece.Frame
	p := Part{
		Material: b.material("frame").key, Solid: b.material("frame").solid, Grain: GrainLength,
		Width: From(a.member, gap), Thickness: From("frame", f.Thickness),
	}
	place := c.name + ", "
	if c.path == "inside" {
		place = ""
	}
	place += fmt.Sprintf("between %s %d and %d", a.one, i+1, i+2)
	mid := f.Thickness / 2
	var ends [2]geom.Vec // the middle of each shoulder
	if a.across {
		p.Role, p.Name, p.Length = RoleStile, "mid stile", c.h
		x := before.x + before.w.Size
		ends = [2]geom.Vec{{X: x + gap/2, Y: mid, Z: c.z}, {X: x + gap/2, Y: mid, Z: c.z + c.h.Size}}
		p.Places = []Place{{facingUp(x+gap, f.Thickness, c.z), place}}
	} else {
		p.Role, p.Name, p.Length = RoleRail, "mid rail", c.w
		z := before.z - gap
		ends = [2]geom.Vec{{X: c.x, Y: mid, Z: z + gap/2}, {X: c.x + c.w.Size, Y: mid, Z: z + gap/2}}
		p.Places = []Place{{facingAcross(c.x, f.Thickness, z), place}}
	}
	return b.frameMember(p, ends)
}

// frameMember adds a stile or rail whose ends meet other frame members: their
// mortises, tenons or dowels, and the joints.
func (b *builder) frameMember(p Part, ends [2]geom.Vec) *Part {
	kind := cmp.Or(b.piece.Frame.Joint, "loose-tenon")
	out := p.Places[0].Frame.U
	var others [2]*Part
	var on [2]Edge
	var at, deep, in [2]unit.Length
	for i, e := range ends {
		step := out.Times(unit.Millimetre)
		if i == 0 {
			step = geom.Vec{X: -step.X, Y: -step.Y, Z: -step.Z}
		}
		others[i] = b.partAround(e.Add(step))
		if others[i] == nil {
			continue
		}
		var wood unit.Length
		on[i], at[i], wood = meets(others[i], e, step)
		in[i] = others[i].Width.Size - wood
		if on[i] == EdgeX0 || on[i] == EdgeX1 {
			in[i] = others[i].Length.Size - wood
		}
		if in[i] = max(in[i], 0); in[i] > flush && !strings.Contains(others[i].Note, shapeFirst) {
			others[i].Note = strings.TrimSpace(others[i].Note + " " + shapeFirst)
		}
		deep[i] = wood - behind
		if others[i].Name == "mid stile" || others[i].Name == "mid rail" {
			deep[i] = (wood - behind) / 2 // another may come from the far side
		}
		deep[i] = b.tidy(max(deep[i], 0))
	}
	w, t := p.Width.Size, p.Thickness.Size
	tenon := b.tidy(min(t*4/3, room(deep[0]), room(deep[1])))
	if kind == "mortise-tenon" && tenon > 0 {
		p = b.tenoned(p, tenon, [2]unit.Length{w, w}, true)
	}
	part := b.add(p)
	for i, end := range []Edge{EdgeX0, EdgeX1} {
		other := others[i]
		if other == nil {
			continue
		}
		x := at[i]
		if kind != "mortise-tenon" || tenon <= 0 {
			b.hold(kind, butted{part: part, edge: end}, butted{part: other, edge: on[i], from: geom.P(x-w/2, 0), reach: deep[i], in: in[i]}, w, t, part.Name+" to frame")
			continue
		}
		thick, wide := b.tenonSize(t, w)
		other.feature(Feature{Kind: Mortise, On: on[i], In: in[i], Depth: tenon + glueRoom, For: part.named(), Region: slot(x, t/2, wide, thick)})
		b.joint(Joint{
			Kind: "mortise and tenon", A: part.Letter, B: other.Letter, Depth: tenon,
			With: fmt.Sprintf("tenon %s × %s × %s", b.show(thick), b.show(wide), b.show(tenon)),
		})
	}
	return part
}

// shapeFirst is said of a stile whose inner edge sweeps round a corner: the
// edge of its board is no place to work from.
const shapeFirst = "Shape its inner edge first, then work the joints of the rails between into that edge."

// room is what a mortise leaves for the tenon.
func room(deep unit.Length) unit.Length { return deep - glueRoom }

// partAround is the flat part that holds a point within its wood.
func (b *builder) partAround(p geom.Vec) *Part {
	for _, part := range b.parts {
		if part.Bent != nil {
			continue
		}
		for _, at := range part.Places {
			q, h := local(at.Frame, p), along(geom.Vec{
				X: p.X - at.Frame.Origin.X, Y: p.Y - at.Frame.Origin.Y, Z: p.Z - at.Frame.Origin.Z,
			}, at.Frame.N())
			if within(q.X, 0, part.Length.Size) && within(q.Y, 0, part.Width.Size) && within(h, 0, part.Thickness.Size) {
				return part
			}
		}
	}
	return nil
}

// meets is where something that comes from p in the direction of step runs
// into a flat part: on which edge, how far along it, and how much wood lies
// ahead. Where the part is shaped, p may lie within its sizes.
func meets(part *Part, p, step geom.Vec) (Edge, unit.Length, unit.Length) {
	f := part.Places[0].Frame
	q := local(f, p)
	du, dv := along(step, f.U), along(step, f.V)
	if f.Mirror {
		q.Y, dv = part.Width.Size-q.Y, -dv
	}
	l, w := part.Length.Size, part.Width.Size
	switch {
	case dv.Abs() >= du.Abs() && dv > 0:
		return EdgeY0, q.X, w - q.Y
	case dv.Abs() >= du.Abs():
		return EdgeY1, q.X, q.Y
	case du > 0:
		return EdgeX0, q.Y, l - q.X
	}
	return EdgeX1, q.Y, q.X
}

// divider adds the panel between two parts of a cell, behind the middle of
// the frame member where there is a frame, and gives the walls it makes for
// the part before and the part after it, and the panel.
func (b *builder) divider(c, before cell, gap unit.Length, panel bool, a axis, i int) ([2]wall, *Part) {
	start := before.x + before.w.Size
	if !a.across {
		start = before.z - gap
	}
	if !panel {
		w := wall{at: start + gap/2, edge: gap, shared: true}
		return [2]wall{w, w}, nil
	}
	field := fmt.Sprintf("%s.%s", c.path, a.many)
	t, ok := b.insideThickness(field)
	if !ok {
		return [2]wall{}, nil
	}
	face := start + (gap-t)/2
	what := fmt.Sprintf("the divider between %s %d and %d", a.one, i+1, i+2)
	low, high := atBottom, atTop
	if !a.across {
		low, high = atLeft, atRight
	}
	for _, side := range []int{low, high} {
		if !c.walls[side].panel {
			b.cannot(field, "%s has nothing to be fixed to at the %s: only a frame member stands there. Set panel: true for what bounds this space, or panel: false here.",
				what, wallNames[side])
			return [2]wall{}, nil
		}
	}
	part := b.standDivider(c, a, low, high, face, t, what, field, i)
	first := wall{at: face, edge: gap, panel: true, shared: true}
	after := wall{at: face + t, edge: gap, panel: true, shared: true}
	if !a.across {
		first, after = after, first // rows run downward: the part before stands on it
	}
	return [2]wall{first, after}, part
}

// standDivider adds a divider panel between two walls, with its joints.
func (b *builder) standDivider(c cell, a axis, low, high int, face, t unit.Length, what, path string, i int) *Part {
	s := b.space
	line := func(side int) (p, q geom.Vec) {
		p = geom.Vec{X: face + t/2, Y: s.front, Z: c.walls[side].at}
		if !a.across {
			p = geom.Vec{X: c.walls[side].at, Y: s.front, Z: face + t/2}
		}
		q = p
		q.Y = s.back
		return p, q
	}
	var seats [2]seat
	for k, side := range []int{low, high} {
		p, q := line(side)
		var ok bool
		if seats[k], ok = b.seatAt(b.piece.Case.Joints["dividers"], p, q, into[side], t, what, path); !ok {
			return nil
		}
	}
	m := b.material("inside")
	length := From("clear inside", c.walls[high].at-c.walls[low].at)
	p := Part{
		Name: "divider", Role: RoleDivider, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: length.Plus(1, "into the "+wallNames[low], seats[0].depth).Plus(1, "into the "+wallNames[high], seats[1].depth),
		Width:  b.depthInside(), Thickness: From("panel", t),
	}
	if a.across {
		p.Places = []Place{{leftward(face+t, s.front, c.walls[low].at-seats[0].depth), fmt.Sprintf("between %s %d and %d", a.one, i+1, i+2)}}
	} else {
		p.Name = "dust panel"
		if b.piece.Frame == nil {
			p.Name = "level divider"
		}
		p.Places = []Place{{upward(c.walls[low].at-seats[0].depth, s.front, face), fmt.Sprintf("between %s %d and %d", a.one, i+1, i+2)}}
	}
	if c.path != "inside" {
		p.Places[0].Name = c.name + ", " + p.Places[0].Name
	}
	part := b.add(p)
	if b.piece.Frame == nil {
		part.edged(b.piece.Case.Edges, EdgeY0)
	}
	b.sit(seats[0], part, EdgeX0)
	b.sit(seats[1], part, EdgeX1)
	b.heldAtBothEnds(seats, [2]int{low, high}, what, c)
	if high == atTop && !seats[1].found && !c.walls[high].shared && b.slabThick > 0 {
		b.underStretchers(part)
	}
	return part
}

// underStretchers screws the upper end of a divider to the stretchers it stands
// under, from above, where the top that lies on them hides the heads: two
// screws through each (common practice, no source).
func (b *builder) underStretchers(p *Part) {
	n := 0
	shank, _ := screwKind(b.shop.Units, 0).Clearance()
	for _, s := range b.parts {
		if s.Name == "top stretcher" {
			n += 2 * s.Count
			for _, at := range b.overDivider(s, p) {
				s.feature(Feature{Kind: Hole, Face: FaceReference, Region: disc(at, shank), Through: true, Depth: s.Thickness.Size, For: "screw into the divider"})
			}
			b.joint(Joint{Kind: "screwed", A: s.Letter, B: p.Letter, With: "2 screws, from above", Note: "before the top goes on"})
		}
	}
	if n > 0 {
		into := EdgeWood
		if p.Solid { // it stands on end
			into = EndWood
		}
		b.screws(screwing{where: "stretchers to dividers", count: n, fastened: From("stretcher", b.hull.thick), holding: p.Length.Size, into: into, material: p.Material, hidden: true, most: 3 * b.hull.thick})
	}
}

// overDivider is where the two screws go through a stretcher: over the middle of
// the divider's thickness, a quarter in from both ends of what lies on it.
func (b *builder) overDivider(stretcher, divider *Part) []geom.Point {
	f, g := stretcher.Places[0].Frame, divider.Places[0].Frame
	near := local(f, g.At(0, 0, divider.Thickness.Size/2))
	far := local(f, g.At(0, divider.Width.Size, divider.Thickness.Size/2))
	lo, hi := max(0, min(near.Y, far.Y)), min(stretcher.Width.Size, max(near.Y, far.Y))
	return []geom.Point{geom.P(near.X, lo+(hi-lo)/4), geom.P(near.X, hi-(hi-lo)/4)}
}

// heldAtBothEnds says so when a panel or shelf ends at an open side.
func (b *builder) heldAtBothEnds(seats [2]seat, at [2]int, what string, c cell) {
	open := map[int]int{atLeft: sideLeft, atRight: sideRight, atBottom: sideBottom, atTop: sideTop}
	for i, s := range seats {
		if s.found || c.walls[at[i]].shared || !b.hull.open[open[at[i]]] || at[i] == atBottom && b.bottomThick > 0 || at[i] == atTop && b.slabThick > 0 {
			continue
		}
		b.once(finding.Finding{
			ID: "held-at-one-end", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("%s is held at the %s only: at the %s the case is open", what, wallNames[at[1-i]], wallNames[at[i]]),
			Advice: "Fix it to the back as well, stand something under its free end, or leave it out.", Source: "derived",
		})
	}
}

// depthInside is from the front edge of the case to the front of the back.
func (b *builder) depthInside() Dim {
	return From("front to back inside", b.space.back).Less(1, "frame", b.space.front)
}
