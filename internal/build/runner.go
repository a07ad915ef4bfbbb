package build

import (
	"cmp"
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Customs of runners and what carries them; common practice, no source.
const (
	runnerLeast = 6 * unit.Millimetre // thinner ones are left out
	runnerBear  = 8 * unit.Millimetre // a wooden runner reaches past the box side by this
	runnerMetal = unit.Millimetre * 12 / 10
	runnerScrew = 16 * unit.Millimetre
	catchScrews = 2           // of one catch under a box
	boxTip      = unit.Inch64 // left of a box side before a tip: screws of 12 mm or 1/2 in go into sides as thick
	packerApart = 200 * unit.Millimetre
	runnerClear = 10 * unit.Millimetre // screws from two sides pass each other so far apart
	glueOnly    = 4 * unit.Millimetre  // thinner packers are glued, not screwed
)

// runners adds the runners of a drawer with what carries them: packers where
// the frame stands in front of the panel beside, bearers where there is no
// panel, and the strips of wooden runners.
func (b *builder) runners(w drawing, bx drawerBox) {
	wooden := w.hardware.Kind == "wooden-runner"
	var holding [2]unit.Length // by side, behind the runner
	for i, side := range []int{atLeft, atRight} {
		wall := w.cell.walls[side]
		stands := b.stepIn(w.cell, side)
		switch {
		case !wall.panel:
			b.bearer(w, side)
			holding[i] = wall.edge
		case stands > flush:
			b.packer(w, side, stands)
			holding[i] = stands + b.wallThick(w.cell, side)
		case stands < -flush:
			b.once(finding.Finding{
				ID: "runner-behind", Level: finding.Stop, Place: w.cell.name,
				Says:   fmt.Sprintf("at the %s of %s the panel stands %s into the opening", wallNames[side], w.cell.name, b.show(-stands)),
				Figure: b.show(-stands), Limit: b.show(0), Source: "derived",
				Advice: "Make the frame member in front of it as wide as the panel, or wider.",
			})
		default:
			holding[i] = b.wallThick(w.cell, side)
			b.runnerOnFlat(w, side)
		}
		if wooden {
			b.woodenRunner(w, side, true)
			b.woodenRunner(w, side, false)
		}
	}
	h := w.hardware
	if wooden {
		b.stops(w)
		return
	}
	y := max(w.y, b.space.front)
	z := w.z + w.height.Size/2
	if h.Kind != "side-runner" {
		z = w.z
	}
	b.fit(Fitting{
		Key: w.Runner, Name: shop.Called(h.Name, w.Runner), Count: 1, Length: w.runner, For: "drawers",
		At: []geom.Vec{{X: w.cell.x, Y: y, Z: z}, {X: w.cell.x + w.cell.w.Size, Y: y, Z: z}},
	})
	n := h.Screws
	if n == 0 {
		n = 6 // three each side
	}
	for i, side := range []int{atLeft, atRight} {
		of := n / 2
		if side == atLeft {
			of = n - n/2
		}
		b.screws(screwing{
			where: "runners to the case", count: of, gauge: cmp.Or(h.Gauge, 6), hidden: false, most: b.runnerReach(w, side, holding[i], z),
			fastened: From("runner", runnerMetal), metal: true, holding: holding[i], material: b.material("packers").key,
		})
	}
	where := "runners to the boxes"
	if h.Kind == "under-runner" { // its other half lies under the box and clips to it
		where, n = "catches of runners to the boxes", 2*catchScrews
	}
	b.screws(screwing{
		where: where, count: n, gauge: cmp.Or(h.Gauge, 6), most: runnerScrew, tip: boxTip, own: true,
		fastened: From("runner", runnerMetal), metal: true, holding: w.side, material: b.material("boxes").key,
	})
}

// runnerReach is the longest screw wanted for a runner. In what stands between
// two openings screws come from both sides at the same places: each stops in
// the middle. Where no stock screw is as short as that, and a runner sits at
// the same height on the other side, they meet, which the maker has to avoid.
func (b *builder) runnerReach(w drawing, side int, holding, z unit.Length) unit.Length {
	wall := w.cell.walls[side]
	if !wall.shared {
		return runnerScrew
	}
	thick, between := wall.edge, "a bearer"
	if wall.panel {
		thick, between = b.wallThick(w.cell, side), "a divider"
	}
	middle := runnerMetal + holding - thick/2
	shortest := wood.StockLengths(b.shop.Units)[0]
	if middle >= shortest {
		return min(runnerScrew, middle)
	}
	face := w.cell.x
	if side == atRight {
		face += w.cell.w.Size
	}
	other := runnerLine{face: face, side: side, z: z}
	for _, l := range b.runnerLines {
		if l.side == side || (l.face-face).Abs() > wall.edge+thick || (l.z-z).Abs() > runnerClear {
			continue
		}
		reach := shortest - runnerMetal - (holding - thick)
		b.once(finding.Finding{
			ID: "screws-meet", Level: finding.Care, Place: "screws: runners to the case",
			Says: fmt.Sprintf("runners sit at one height on both sides of %s %s thick: even screws of %s reach %s into it from each side and meet",
				between, b.show(thick), b.bought(shortest), b.show(reach)),
			Figure: b.show(2 * reach), Limit: b.show(thick), Source: "derived",
			Advice: fmt.Sprintf("Screw the runners of one side through other holes of theirs than those of the other, %s or more apart; or make it %s thick.", b.show(runnerClear), b.show(2*reach)),
		})
	}
	b.runnerLines = append(b.runnerLines, other)
	return runnerScrew
}

// runnerLine is where a runner is screwed on: the side of its opening it sits
// at, the face there and its height.
type runnerLine struct {
	face, z unit.Length
	side    int
}

// runnerOnFlat checks that a runner that sits on the case itself does so on a
// flat.
func (b *builder) runnerOnFlat(w drawing, side int) {
	z := w.z
	if w.hardware.Kind == "side-runner" {
		z += w.height.Size / 2
	}
	p := geom.Vec{X: w.cell.walls[side].at, Y: (b.space.front + b.space.back) / 2, Z: z}
	if _, ok := b.spotAt(p, into[side]); !ok {
		b.once(stripAtBend(w.cell, side, "runner"))
	}
}

func stripAtBend(c cell, side int, what string) finding.Finding {
	advice := "Move the drawer clear of the bend, take side runners, which sit half way up the box, or give that corner a smaller radius."
	if strings.HasPrefix(what, "hinge") {
		advice = "Make the opening higher, so that the hinges stand clear of the bend, or give that corner a smaller radius."
	}
	return finding.Finding{
		ID: "strip-at-bend", Level: finding.Stop, Place: c.name,
		Says:   fmt.Sprintf("at the %s of %s the wall is not flat where the %s sits", wallNames[side], c.name, what),
		Advice: advice, Source: "derived",
	}
}

// stepIn is how far the edge of the opening stands in from the face of the
// panel beside it.
func (b *builder) stepIn(c cell, side int) unit.Length {
	if side == atLeft {
		return c.x - c.walls[side].at
	}
	return c.walls[side].at - c.x - c.w.Size
}

// wallThick is the thickness of the panel beside a cell at its middle.
func (b *builder) wallThick(c cell, side int) unit.Length {
	p := geom.Vec{X: c.walls[side].at, Y: (b.space.front + b.space.back) / 2, Z: c.z + c.h.Size/2}
	if s, ok := b.spotAt(p, into[side]); ok {
		return s.part.Thickness.Size
	}
	return b.material("case").thickness
}

// beside is the frame of a strip that lies on the wall at the side of a
// cell: x runs from front to back on the left and from back to front on the
// right, so that both sides have the same drawing; thickness grows into the
// cell.
func beside(side int, wall, front, length, z unit.Length) geom.Frame {
	if side == atLeft {
		return geom.Frame{Origin: geom.Vec{X: wall, Y: front, Z: z}, U: geom.Back, V: geom.Up}
	}
	return geom.Frame{Origin: geom.Vec{X: wall, Y: front + length, Z: z}, U: geom.Front, V: geom.Up}
}

// packer fills up from the panel beside to the edge of the opening, so that
// the runner passes the frame.
func (b *builder) packer(w drawing, side int, stands unit.Length) {
	s := b.space
	thick := From("edge of the opening in from the panel", stands)
	if in := b.narrower(w); in != 0 && !w.kept.packers && stands+in > flush {
		thick = thick.Plus(1, "edge as measured further in than planned", in)
		stands += in
	}
	m := b.packerStock(stands)
	length := From("front to back inside", s.back).Less(1, "frame", s.front)
	if w.runner > 0 && w.runner < length.Size && w.hardware.Kind != "wooden-runner" {
		length = From("runner", w.runner)
	}
	packerHigh := b.metric(50*unit.Millimetre, 2*unit.Inch)
	high, z := packerHigh, w.z+w.height.Size/2-packerHigh/2
	what := "runner packer"
	switch w.hardware.Kind {
	case "under-runner", "corner-runner":
		z = w.seat
	case "wooden-runner":
		high, z, what = b.metric(25*unit.Millimetre, unit.Inch), w.cell.z, "drawer guide"
	}
	high = min(high, w.cell.h.Size)
	z = max(min(z, w.cell.z+w.cell.h.Size-high), w.cell.z)
	p := b.add(Part{
		Name: what, Role: RolePacker, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: length, Width: From("height", high),
		Thickness: thick,
		Places:    []Place{{beside(side, w.cell.walls[side].at, s.front, length.Size, z), w.cell.name + " " + wallNames[side]}},
	})
	b.fixToSide(p, w.cell, side, stands)
}

// packerStock is what a packer of that thickness is made of: what the piece
// names, if that is solid or as thick; else the frame's wood, planed.
func (b *builder) packerStock(thick unit.Length) stock {
	m, f := b.material("packers"), b.material("frame")
	if m.solid || (m.thickness-thick).Abs() <= tenth || !f.solid {
		if !m.solid && (m.thickness-thick).Abs() > tenth {
			b.once(finding.Finding{
				ID: "packer-thickness", Level: finding.Care, Place: "materials.packers",
				Says:   fmt.Sprintf("a packer of %s is wanted, %s is %s thick", b.show(thick), cmp.Or(b.shop.StockCalled(m.key), "the panel"), b.show(m.thickness)),
				Figure: b.show(m.thickness), Limit: b.show(thick), Source: "derived",
				Advice: "Name a wood for packers and plane it to thickness, or build it up.",
			})
		}
		return m
	}
	b.once(finding.Finding{
		ID: "packer-thickness", Level: finding.Note, Place: "materials.packers",
		Says:   fmt.Sprintf("a packer of %s is wanted and %s is %s thick, so it is planed from %s", b.show(thick), b.shop.StockCalled(m.key), b.show(m.thickness), b.shop.StockCalled(f.key)),
		Figure: b.show(m.thickness), Limit: b.show(thick), Source: "derived",
		Advice: "Plane it from an offcut of the frame.",
	})
	return f
}

// fixToSide screws a strip to the panel beside. On solid wood, which moves
// across the strip, only the front screw is fixed; the others sit in slots as
// long as the movement and 1/16 in each way.
func (b *builder) fixToSide(p *Part, c cell, side int, thick unit.Length) {
	front := geom.Vec{X: c.walls[side].at, Y: b.space.front + p.Length.Size/2, Z: p.Places[0].Frame.Origin.Z + p.Width.Size/2}
	s, ok := b.spotAt(front, into[side])
	if !ok || b.shell != nil && !b.onFlatOfShell(front, into[side], p.Width.Size) {
		b.once(stripAtBend(c, side, p.Name))
		return
	}
	other := s.part
	if thick < glueOnly {
		b.joint(Joint{Kind: "glued on", A: p.Letter, B: other.Letter, With: "glue", Note: "the runner's screws go through it"})
		return
	}
	note := ""
	if other.Solid {
		note = fmt.Sprintf("glue the front %s only", b.show(b.metric(50*unit.Millimetre, 2*unit.Inch)))
	}
	b.joint(Joint{Kind: "screwed", A: p.Letter, B: other.Letter, Note: note})
	at := spread(p.Length.Size, 4*unit.Millimetre, 30*unit.Millimetre, packerApart, 2)
	shank, _ := screwKind(b.shop.Units, 0).Clearance()
	var move unit.Length
	if other.Solid {
		var how wood.Move
		move, how = b.movesOf(other, p.Length.Size)
		b.noteFloat(other, move, how)
	}
	for i, x := range at {
		if side == atRight {
			x = p.Length.Size - x
		}
		f := Feature{Kind: Hole, Face: FaceOther, Depth: thick, Through: true, For: "screw into the side", Region: disc(geom.P(x, p.Width.Size/2), shank)}
		if other.Solid && i > 0 {
			f.Region = slot(x, p.Width.Size/2, shank+move+unit.Inch/8, shank)
			f.For = "slotted screw into the side"
		}
		p.feature(f)
	}
	// In a divider screws come from both sides at the same places: each stops
	// in the middle.
	most := thick + other.Thickness.Size
	if c.walls[side].shared {
		most = thick + other.Thickness.Size/2 - wood.HeadUnder
	}
	b.screws(screwing{
		where: "packers and strips to the side", count: len(at), fastened: From(p.Name, thick),
		holding: other.Thickness.Size, material: other.Material, most: most,
	})
}

// noteFloat says once that strips across solid sides must be let move.
func (b *builder) noteFloat(side *Part, move unit.Length, how wood.Move) {
	b.once(finding.Finding{
		ID: "strips-float", Level: finding.Note, Place: side.Name,
		Says:   fmt.Sprintf("solid sides move %s over the length of runners and packers %s", b.fine(move), between(how)),
		Figure: b.fine(move), Source: "FPL-GTR-190 eq. 13-2",
		Advice: "Fix them at the front; the other screws sit in slots. No glue further back.",
	})
}

// bearer carries a runner where no panel stands beside: from the frame
// member to the back, shared by the drawers on both its sides.
func (b *builder) bearer(w drawing, side int) {
	s, wall := b.space, w.cell.walls[side]
	bearerHigh := b.metric(60*unit.Millimetre, 5*unit.Inch/2)
	z := max(w.z+w.height.Size/2-bearerHigh/2, w.cell.z)
	high := min(bearerHigh, w.cell.h.Size)
	z = min(z, w.cell.z+w.cell.h.Size-high)
	frame := geom.Frame{Origin: geom.Vec{X: wall.at - wall.edge/2, Y: s.front, Z: z}, U: geom.Back, V: geom.Up}
	for _, p := range b.parts {
		if p.Name == "runner bearer" && p.Places[0].Frame == frame {
			return
		}
	}
	m := b.material("packers")
	b.add(Part{
		Name: "runner bearer", Role: RoleRunner, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: b.depthInside(), Width: From("height", high), Thickness: From("as the frame member in front", wall.edge),
		Places: []Place{{frame, w.cell.name + " " + wallNames[side]}},
		Note:   "dowel or screw to the frame in front; screw through the back behind",
	})
	b.once(finding.Finding{
		ID: "bearer", Level: finding.Care, Place: w.cell.name,
		Says:   fmt.Sprintf("at the %s of %s no panel carries the runner: a bearer hangs between the frame and the back", wallNames[side], w.cell.name),
		Advice: "Make the back strong enough to be screwed to, or set panel: true between these columns.", Source: "common practice, no source",
	})
}

// woodenRunner adds the strip under a box side, flush with the lower edge of
// the opening, or the kicker above it. Where the case's panel lies that close
// the box slides on it.
func (b *builder) woodenRunner(w drawing, side int, under bool) {
	c, s := w.cell, b.space
	wall := c.walls[atTop]
	room := wall.at - c.z - c.h.Size
	name, z := "kicker", c.z+c.h.Size
	if under {
		wall = c.walls[atBottom]
		room = c.z - wall.at
		name = "runner"
	}
	thick := min(b.metric(20*unit.Millimetre, 3*unit.Inch/4), room)
	if thick < runnerLeast {
		return
	}
	if under {
		z = c.z - thick
	}
	step := max(b.stepIn(c, side), 0)
	from := c.walls[side].at
	if !c.walls[side].panel {
		from = c.x
		if side == atRight {
			from = c.x + c.w.Size
		}
		step = 0
	}
	play := (w.m.w.Size - w.width.Size) / 2
	wide := From("packing at the side", step).Plus(1, "play", play).Plus(1, "box side", w.side).Plus(1, "past it", runnerBear)
	x := from
	if side == atRight {
		x = from - wide.Size
	}
	m := b.material("packers")
	length := b.depthInside()
	// Length from front to back, thickness upward: U × V = Back × Left = Up.
	p := b.add(Part{
		Name: name, Role: RoleRunner, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: length, Width: wide, Thickness: From(name, thick),
		Places: []Place{{geom.Frame{Origin: geom.Vec{X: x + wide.Size, Y: s.front, Z: z}, U: geom.Back, V: geom.Left}, c.name + " " + wallNames[side]}},
		Note:   "wax where the box slides",
	})
	at := geom.Vec{X: c.walls[side].at, Y: s.front + length.Size/2, Z: z + thick/2}
	if on, ok := b.spotAt(at, into[side]); ok && c.walls[side].panel {
		if !on.part.Solid {
			b.joint(Joint{Kind: "glued on", A: p.Letter, B: on.part.Letter, With: "glue"})
			return
		}
		move, how := b.movesOf(on.part, length.Size)
		b.noteFloat(on.part, move, how)
		b.joint(Joint{
			Kind: "screwed", A: p.Letter, B: on.part.Letter,
			Note: fmt.Sprintf("glue the front %s only; one screw behind in a slot %s long", b.show(b.metric(50*unit.Millimetre, 2*unit.Inch)), b.show(move+unit.Inch/8)),
		})
		left := min(wide.Size, b.metric(20*unit.Millimetre, 3*unit.Inch/4))
		most := left + on.part.Thickness.Size
		if c.walls[side].shared {
			most = left + on.part.Thickness.Size/2 - wood.HeadUnder
		}
		b.screws(screwing{
			where: "runners and kickers to solid sides, counterbored", count: 1, fastened: From("left under the head", left),
			holding: on.part.Thickness.Size, material: on.part.Material, most: most,
		})
	}
}

// stops adds nothing to cut: drawers on wooden runners stop on the rail or
// the case's bottom, behind the front.
func (b *builder) stops(w drawing) {
	b.once(finding.Finding{
		ID: "drawer-stops", Level: finding.Note, Place: "drawers on wooden runners",
		Says:   "glue two stops behind each front, on the rail below, when the fronts are fitted",
		Advice: fmt.Sprintf("Set them %s behind the face of the frame, less a shaving.", b.show(w.front.Size)), Source: "common practice, no source",
	})
}
