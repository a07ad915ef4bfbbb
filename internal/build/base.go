package build

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// bottomBoard lets a bottom into the legs of a shell that is open below,
// unless the piece says no. Where a base is screwed under it, its underside
// lies flush with the lower edges of the shell, so that base and case add up to
// the height asked for and a plinth bears on both: its ends are rebated below
// to a tongue, and the groove stands above that. Else the whole bottom stands
// in grooves a little above the lower edges. Either way there is wood below the
// groove. It slides in from behind; a back in grooves then comes up behind it,
// so it ends at the front of that.
func (b *builder) bottomBoard(s *shell) {
	h := b.hull
	k := b.piece.Back
	if !h.open[sideBottom] || h.open[sideLeft] || h.open[sideRight] || b.piece.Case.Shape == "free" || k != nil && k.Bottom != nil && !*k.Bottom {
		return
	}
	m := b.material("case")
	if st := b.material("inside"); !st.solid && st.key != "" {
		m = st
	}
	t, in := m.thickness, b.grooveDepth()
	lip := min(6*unit.Millimetre, h.thick/2) // wood below the groove
	up := lip
	flush := b.piece.Base != nil
	if flush {
		lip = b.tidy(min(lip, t*2/5))
		up = 0
	}
	for _, r := range s.runs {
		if !r.bends() && r.length < up+t {
			b.problem("case.height", "the legs of the shell are straight for %s below the bend, too short for a bottom of %s in grooves. Make the case higher, or set back.bottom: no.", b.show(r.length), b.show(t))
			return
		}
	}
	b.bottomUp, b.bottomThick = up, t
	length := From("outside width", h.width).Less(2, "case panel", h.thick).Plus(2, "groove", in).Less(2, "room to go in", slipGroove)
	x := h.thick - in + slipGroove
	wide := From("case depth", h.depth)
	if b.backBehindBottom() {
		wide = wide.Less(1, "back and what it is set in", h.rear()-b.backFront())
	}
	p := b.add(Part{
		Name: "bottom", Role: RoleBottom, Material: m.key, Grain: m.grain(GrainLength),
		Length: length, Width: wide, Thickness: b.thickDim(m),
		Places: []Place{{Frame: downward(x+length.Size, h.front, h.under+up+t)}},
	})
	p.edged(b.frontEdge(), EdgeY0)
	b.bottom = p
	tongue := t
	if flush {
		tongue = t - lip
		p.Note = fmt.Sprintf("Its ends are rebated from below to a tongue %s thick; the underside lies flush with the lower edges of the shell.", b.show(tongue))
		for _, e := range []Edge{EdgeX0, EdgeX1} {
			p.feature(Feature{Kind: Rebate, Face: FaceOther, Region: p.strip(e, in-slipGroove), Depth: lip, For: "tongue in the shell"})
		}
	}
	for _, x := range []unit.Length{h.thick, h.width - h.thick} {
		dir := geom.Right
		if x > h.width/2 {
			dir = geom.Left
		}
		z := h.under + up + t - tongue/2
		if at, ok := b.trench(Groove, geom.Vec{X: x, Y: h.front, Z: z}, geom.Vec{X: x, Y: h.rear(), Z: z}, dir, tongue, in, "bottom"); ok {
			b.joint(Joint{Kind: "grooved", A: p.Letter, B: at.part.Letter, Depth: in, With: "glue"})
		}
	}
}

// backBehindBottom says that a back in grooves runs down behind the bottom of a
// shell: it slides up from below when the bottom is in, which could not go
// between the legs with the back in a groove of its own.
func (b *builder) backBehindBottom() bool {
	k := b.piece.Back
	return k != nil && k.Fit == "grooved" && b.shell != nil
}

// base puts the piece on its feet.
func (b *builder) base() {
	k := b.piece.Base
	if k == nil {
		return
	}
	var h shop.Hardware
	if k.Hardware != "" {
		h, _ = b.hardware(k.Hardware, "base.hardware")
	}
	if k.Kind != "plinth" && b.hull.open[sideBottom] && b.bottomThick == 0 {
		b.problem("base", "the case is open below, so there is nothing to screw %s to. Leave the base out, or close the case below.", k.Kind)
		return
	}
	if b.shell != nil && b.piece.Case.Shape == "free" {
		b.note(finding.Finding{
			ID: "base-of-free-shape", Level: finding.Care, Place: "base",
			Says:   "The base is placed under the rectangle round the profile, not under its flats.",
			Advice: "Check that every foot stands under a flat, and set it in until it does.", Source: "derived",
		})
	}
	switch k.Kind {
	case "legs":
		b.legs(h)
	case "plinth":
		b.plinth()
	default:
		b.castersOrFeet(h)
	}
}

// baseCorners are the four places where something stands under the case: the
// outer corner of a plate of that size, and the directions inward.
type baseCorner struct {
	x, y   unit.Length // middle of the plate
	dx, dy float64     // outward
	name   string
}

func (b *builder) baseCorners(long, wide unit.Length) ([4]baseCorner, bool) {
	k, h := b.piece.Base, b.hull
	if k.InsetX < 0 || k.InsetY < 0 || 2*(k.InsetX+long) > h.width || 2*(k.InsetY+wide) > h.depth {
		b.problem("base", "plates of %s by %s set in %s and %s do not find room under a case of %s by %s. Set them in less.",
			b.show(long), b.show(wide), b.show(k.InsetX), b.show(k.InsetY), b.show(h.width), b.show(h.depth))
		return [4]baseCorner{}, false
	}
	if r := max(h.corner[bottomLeft], h.corner[bottomRight]); r > k.InsetX && b.bottomThick == 0 {
		b.note(finding.Finding{
			ID: "plate-on-bend", Level: finding.Care, Place: "base.inset-side",
			Says:   fmt.Sprintf("Plates set in %s reach over the bend of the shell, which is round up to %s from its side.", b.show(k.InsetX), b.show(r)),
			Figure: b.show(k.InsetX), Limit: b.show(r), Advice: fmt.Sprintf("Set base.inset-side to %s at least, so that they lie flat.", b.show(r)), Source: "derived",
			Fix: finding.SetSize("base.inset-side", b.rounded(r), b.piece.Units, fmt.Sprintf("Set the plates in %s", b.show(b.rounded(r)))),
		})
	}
	if short := h.rear() - b.backFront() - k.InsetY; short > 0 && b.bottomThick > 0 && b.backBehindBottom() {
		in := b.rounded(k.InsetY + short)
		b.note(finding.Finding{
			ID: "plate-behind-bottom", Level: finding.Care, Place: "base.inset-front",
			Says:   fmt.Sprintf("Plates set in %s from the back edge reach %s past the bottom, which ends at the front of the back.", b.show(k.InsetY), b.show(short)),
			Figure: b.show(k.InsetY), Limit: b.show(k.InsetY + short), Advice: fmt.Sprintf("Set base.inset-front to %s at least.", b.show(in)), Source: "derived",
			Fix: finding.SetSize("base.inset-front", in, b.piece.Units, fmt.Sprintf("Set the plates in %s", b.show(in))),
		})
	}
	x, y := k.InsetX+long/2, k.InsetY+wide/2
	rear := h.rear()
	return [4]baseCorner{
		{x, h.front + y, -1, -1, "front left"},
		{h.width - x, h.front + y, 1, -1, "front right"},
		{h.width - x, rear - y, 1, 1, "back right"},
		{x, rear - y, -1, 1, "back left"},
	}, true
}

// plateSize is that of the plate, its longer side first; 50 mm square where
// the shop does not say.
func plateSize(h shop.Hardware) (unit.Length, unit.Length) {
	l := given(h.Length, 50*unit.Millimetre)
	return l, given(h.Width, l)
}

// legs stand on plates, leaning outward by splay and rake. Along its own axis
// a leg is as long as the rise and the two leans make it:
// h √(1 + tan² a + tan² b); its foot stands h tan a and h tan b outside its
// head (derived).
func (b *builder) legs(h shop.Hardware) {
	k := b.piece.Base
	m := b.material("base")
	thick := given(k.Thick, 40*unit.Millimetre)
	foot := given(k.Foot, 2*thick/3)
	rake := k.Splay
	if k.Rake != nil {
		rake = *k.Rake
	}
	if m.key == "" {
		b.problem("materials.base", "the piece stands on legs, but no material is named for them. Name a wood under materials.base.")
		return
	}
	for path, a := range [2]unit.Angle{k.Splay, rake} {
		if !(math.Abs(a.Deg()) <= 30) {
			b.problem([2]string{"base.splay", "base.rake"}[path], "a leg cannot lean by %.4g degrees. Give up to 30; 5 to 15 is usual.", a.Deg())
			return
		}
	}
	if thick < 0 || foot < 0 || thick > most || foot > most {
		b.problem("base.thick", "the legs are %s thick at the top and %s at the foot. Give sizes over 0.", b.show(thick), b.show(foot))
		return
	}
	rise := From("floor to underside", k.Height)
	if k.Hardware != "" {
		rise = rise.Less(1, "plate", h.Thickness)
	}
	if rise.Size <= 0 {
		b.problem("base.height", "base.height is %s, no more than the plate of %s. Make the base higher.", b.show(k.Height), b.show(h.Thickness))
		return
	}
	long, wide := plateSize(h)
	corners, ok := b.baseCorners(long, wide)
	if !ok {
		return
	}
	tx, ty := math.Tan(k.Splay.Rad()), math.Tan(rake.Rad())
	lean := math.Sqrt(1 + tx*tx + ty*ty)
	length := rise.Plus(1, fmt.Sprintf("lean of %s and %s", degrees(k.Splay), degrees(rake)), rise.Size.Scale(lean-1))
	taper := (thick - foot) / 2
	big := max(thick, foot)
	o := geom.Outline{vertex(0, (big-foot)/2), vertex(length.Size, (big-thick)/2), vertex(length.Size, (big+thick)/2), vertex(0, (big+foot)/2)}
	var notes []string
	if taper != 0 {
		notes = append(notes, fmt.Sprintf("Tapers from %s at the top to %s at the foot, alike on all sides.", b.show(thick), b.show(foot)))
	}
	if lean > 1 {
		notes = append(notes, fmt.Sprintf("Both ends are cut at %s to the side and %s to the front or back: a lean of %s. The foot stands %s and %s outside the head.",
			degrees(k.Splay), degrees(rake), degrees(Lean(k.Splay, rake)), b.show(rise.Size.Scale(tx).Abs()), b.show(rise.Size.Scale(ty).Abs())))
	}
	note := strings.Join(notes, " ")
	// The foot as it stands on the floor, for the size over all.
	b.foot.x = unit.MM(rise.Size.MM()*tx - long.MM()/2 + foot.MM()/2*math.Hypot(1, tx))
	b.foot.y = unit.MM(rise.Size.MM()*ty - wide.MM()/2 + foot.MM()/2*math.Hypot(1, ty))
	for _, c := range corners {
		up := geom.Dir{X: -c.dx * tx / lean, Y: -c.dy * ty / lean, Z: 1 / lean}
		head := geom.Vec{X: c.x, Y: c.y, Z: rise.Size}
		b.add(Part{
			Name: "leg", Role: RoleLeg, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
			Length: length, Width: From("at the top", big), Thickness: From("at the top", big), Outline: o, Note: note,
			Places: []Place{{Frame: legFrame(head, up, length.Size, big), Name: c.name}},
		})
	}
	b.fixed(h, "leg", corners[:], b.hull.under)
}

// Lean is the true lean from plumb of a leg that leans by a to the side and by
// b to the front or back: atan √(tan² a + tan² b). Derived.
func Lean(a, b unit.Angle) unit.Angle {
	return unit.Angle(math.Atan(math.Hypot(math.Tan(a.Rad()), math.Tan(b.Rad()))))
}

// legFrame stands a square leg with its axis along up and its head's middle
// at head.
func legFrame(head geom.Vec, up geom.Dir, length, thick unit.Length) geom.Frame {
	// v is level and square to the axis, as near to the piece's X as can be.
	v := unitDir(geom.Dir{X: up.Z, Z: -up.X})
	f := geom.Frame{U: up, V: v}
	n := f.N()
	half := thick / 2
	f.Origin = head.Add(up.Times(-length)).Add(v.Times(-half)).Add(n.Times(-half))
	return f
}

func unitDir(d geom.Dir) geom.Dir {
	l := math.Sqrt(d.Dot(d))
	return geom.Dir{X: d.X / l, Y: d.Y / l, Z: d.Z / l}
}

// degrees writes an angle for a sentence.
func degrees(a unit.Angle) string { return fmt.Sprintf("%.4g°", a.Deg()) }

// fixed adds plates, casters or feet with their screws, and the blocks glued
// inside under them.
func (b *builder) fixed(h shop.Hardware, what string, corners []baseCorner, z unit.Length) {
	k := b.piece.Base
	holding, material := b.floorThick(), b.material("case").key
	if k.Block > 0 {
		b.blocks(h, corners)
		holding += k.Block
	}
	if k.Hardware == "" {
		b.note(finding.Finding{
			ID: "base-hardware", Level: finding.Note, Place: "base.hardware",
			Says:   fmt.Sprintf("No hardware is named for the %ss, so their screws are not worked out.", what),
			Advice: "Name the plate under base.hardware.",
		})
		return
	}
	var spots []geom.Vec
	for _, c := range corners {
		spots = append(spots, geom.Vec{X: c.x, Y: c.y, Z: z})
	}
	b.fit(Fitting{Key: k.Hardware, Name: shop.Called(h.Name, k.Hardware), Count: len(corners), At: spots, For: what})
	if h.Screws > 0 {
		plate := From("plate", h.Thickness)
		if h.Thickness == 0 {
			plate = From("plate, thickness taken", 5*unit.Millimetre/2)
		}
		b.screws(screwing{where: what + " plate", count: h.Screws * len(corners), fastened: plate, metal: true, holding: holding, material: material, gauge: h.Gauge})
	}
}

// floorThick is the wood above a plate.
func (b *builder) floorThick() unit.Length {
	if b.bottomThick > 0 {
		return b.bottomThick
	}
	return b.hull.thick
}

// blocks are glued to the inside of the bottom over each plate.
func (b *builder) blocks(h shop.Hardware, corners []baseCorner) {
	k := b.piece.Base
	m := b.material("base")
	if m.key == "" || !m.solid && (m.thickness-k.Block).Abs() > 2*tenth {
		m = stock{}
		for _, role := range []string{"frame", "packers", "boxes"} {
			if s := b.material(role); s.solid {
				m = s
				break
			}
		}
	}
	if m.key == "" {
		b.problem("base.block", "base.block is %s, but no role of the piece is of solid wood to make it from. Name one under materials.base.", b.show(k.Block))
		return
	}
	if k.Block >= b.space.top-b.space.bottom || k.Block < 0 {
		b.problem("base.block", "base.block is %s, more than the height inside. Give %s or so.", b.show(k.Block), b.show(b.metric(20*unit.Millimetre, 3*unit.Inch/4)))
		return
	}
	long, wide := plateSize(h)
	for _, c := range corners {
		// A block ends where the inside begins to round.
		length := From("plate", long)
		r := b.hull.corner[bottomLeft]
		if c.dx > 0 {
			r = b.hull.corner[bottomRight]
		}
		if over := r - k.InsetX; over > 0 && b.bottomThick == 0 {
			length = length.Less(1, "over the bend", over)
		}
		if length.Size < long/4 {
			b.problem("base.inset-side", "base.inset-side is %s, but the shell is round up to %s from its side, so a block of %s does not lie flat there. Set the plates in further.", b.show(k.InsetX), b.show(r), b.show(long))
			return
		}
		x := c.x + long/2 - length.Size
		if c.dx > 0 {
			x = c.x - long/2
		}
		p := b.add(Part{
			Name: "block", Role: RoleBlock, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
			Length: length, Width: From("plate", wide), Thickness: From("as given", k.Block),
			Places: []Place{{Frame: upward(x, c.y-wide/2, b.space.bottom), Name: c.name}},
		})
		b.blockClear(p)
	}
}

// blockClear says so when a block stands where something else is.
func (b *builder) blockClear(p *Part) {
	solid := func(p *Part, at Place) geom.Box {
		return geom.Box{Frame: at.Frame, X: p.Length.Size, Y: p.Width.Size, Z: p.Thickness.Size}
	}
	mine := solid(p, p.Places[0])
	for _, q := range b.parts {
		if q == p || q.Bent != nil || q.Name == "leg" {
			continue
		}
		for _, at := range q.Places {
			if deep := mine.Penetration(solid(q, at)); deep > tenth {
				b.once(finding.Finding{
					ID: "block-in-the-way", Level: finding.Care, Place: "base.block",
					Says:   fmt.Sprintf("The %s block under the %s plate stands %s into %s.", b.show(p.Thickness.Size), p.Places[0].Name, b.show(deep), q.named()),
					Figure: b.show(deep), Advice: "Make the block thinner, leave it out, or cut it to go round.", Source: "derived",
				})
			}
		}
	}
}

// castersOrFeet are bought and screwed under the bottom.
func (b *builder) castersOrFeet(h shop.Hardware) {
	k := b.piece.Base
	what := map[string]string{"casters": "caster", "feet": "foot"}[k.Kind]
	if what == "" {
		b.problem("base.kind", "base.kind is %q. Give legs, plinth, casters or feet.", k.Kind)
		return
	}
	if k.Hardware == "" {
		b.problem("base.hardware", "base.hardware is missing. Name the %s in the shop's hardware.", what)
		return
	}
	long, wide := plateSize(h)
	corners, ok := b.baseCorners(long, wide)
	if !ok {
		return
	}
	b.fixed(h, what, corners[:], b.hull.under)
	if high := k.Height; h.Height > 0 && (h.Height-high).Abs() > unit.Millimetre {
		b.note(finding.Finding{
			ID: "base-height", Level: finding.Care, Place: "base.height",
			Says:   fmt.Sprintf("The %s is %s high, the underside it is screwed to lies %s above the floor.", what, b.show(h.Height), b.show(high)),
			Figure: b.show(h.Height), Limit: b.show(high),
			Advice: fmt.Sprintf("Set base.height to %s, or take a %s of %s.", b.show(h.Height), what, b.show(high)), Source: "derived",
			Fix: finding.SetSize("base.height", h.Height, b.piece.Units, fmt.Sprintf("Set the base to %s", b.show(h.Height))),
		})
	}
}
