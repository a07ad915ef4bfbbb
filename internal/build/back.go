package build

import (
	"fmt"
	"slices"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// backScrews is how far apart an overlaid back is screwed: every 150 to
// 200 mm (common practice, no source).
const backScrews = 175 * unit.Millimetre

// rebateForScrews is how wide a rebate is whose back is screwed on, so that the
// heads lie on wood and the screws do not split the shoulder; half of the
// panel at most (common practice, no source).
const rebateForScrews = 10 * unit.Millimetre

// SlipRebate is what a back is made smaller at each edge so that it goes into
// its rebate (common practice).
const SlipRebate = unit.Millimetre / 2

// slipGroove is by how much a groove is deeper than what stands in it (common
// practice).
const slipGroove = unit.Millimetre

// backDepth is the depth of the groove, 6 mm or 1/4 in and at most a third of
// the panel; or the width of the rebate: 10 mm or 3/8 in and at most half of it.
func (b *builder) backDepth() unit.Length {
	if b.piece.Back.Fit == "rebated" {
		most := b.hull.thick / 2
		return given(b.piece.Back.Depth, given(b.tidy(min(b.metric(rebateForScrews, unit.Inch*3/8), most)), most))
	}
	return given(b.piece.Back.Depth, b.grooveDepth())
}

// grooveDepth is that of a groove in the case's panels, as it can be set.
func (b *builder) grooveDepth() unit.Length {
	third := b.hull.thick / 3
	return given(b.tidy(min(b.metric(6*unit.Millimetre, unit.Inch/4), third)), third)
}

func (b *builder) backSetIn() unit.Length {
	if in := b.piece.Back.SetIn; in != nil {
		return *in
	}
	if b.piece.Back.Fit == "grooved" {
		return 10 * unit.Millimetre
	}
	return 4 * unit.Millimetre
}

// backFront is y of the front of the back.
func (b *builder) backFront() unit.Length {
	k := b.piece.Back
	if k == nil {
		return b.hull.rear()
	}
	t := b.material("back").thickness
	switch k.Fit {
	case "grooved":
		return b.hull.rear() - b.backSetIn() - t
	case "rebated":
		return b.hull.rear() - t
	}
	return b.hull.rear()
}

// back closes the case behind, and works the grooves or rebates for it.
func (b *builder) back() {
	k := b.piece.Back
	if k == nil {
		return
	}
	m := b.material("back")
	if m.key == "" || m.thickness <= 0 {
		b.problem("materials.back", "the piece has a back, but no material with a thickness for it. Name a panel under materials.back.")
		return
	}
	if !b.backFits(m.thickness) {
		return
	}
	var w, h Dim
	var corner [4]unit.Length // top left, top right, bottom right, bottom left
	var x, z unit.Length
	switch k.Fit {
	case "grooved", "rebated":
		in := b.backDepth()
		what, slip := "groove", slipGroove
		if k.Fit == "rebated" {
			what, slip = "rebate", SlipRebate
		}
		into := func(d Dim, sides int) Dim {
			return d.Plus(sides, what, in).Less(2, "room to go in", slip)
		}
		s := b.space
		w = b.betweenPanels("outside width", b.hull.width, sideLeft, sideRight)
		w = into(w, closed(b.hull, sideLeft)+closed(b.hull, sideRight))
		h = b.clearHeight()
		behind := b.bottomThick > 0 && b.backBehindBottom()
		if behind {
			h = h.Plus(1, "bottom it runs down behind", b.bottomThick)
		}
		h = into(h, b.backEdges())
		x, z = s.left+slip, s.bottom+slip
		if !b.hull.open[sideLeft] {
			x -= in
		}
		switch {
		case behind:
			z -= b.bottomThick
		case !b.hull.open[sideBottom] || b.bottomThick > 0:
			z -= in
		}
		for i, r := range b.hull.corner {
			if r > b.hull.thick {
				corner[i] = max(0, r-b.hull.thick+in-slip)
			}
		}
		if b.bottomThick > 0 {
			corner[bottomLeft], corner[bottomRight] = 0, 0
		}
		b.backGrooves(what, in, m.thickness)
	default:
		in := b.backSetIn()
		w = From("outside width", b.hull.width).Less(2, "set in", in)
		h = From("outside height", b.hull.height).Less(2, "set in", in)
		x, z = in, b.hull.under+in
		for i, r := range b.hull.corner {
			corner[i] = max(0, r-in)
		}
	}
	if w.Size <= 0 || h.Size <= 0 {
		b.problem("back", "the back comes to %s by %s. Make the set-in smaller or the case larger.", b.show(w.Size), b.show(h.Size))
		return
	}
	if b.piece.Case.Shape == "free" && b.shell != nil {
		b.note(finding.Finding{
			ID: "back-of-free-shape", Level: finding.Care, Place: "back",
			Says:   fmt.Sprintf("The back is drawn as the rectangle of %s by %s round the profile.", b.show(w.Size), b.show(h.Size)),
			Advice: "Scribe it to the bent shell before you cut it.",
		})
	}
	b.addBack(m, w, h, corner, x, z)
}

// backFits checks the back's thickness and grooves against the case.
func (b *builder) backFits(t unit.Length) bool {
	k, h := b.piece.Back, b.hull
	ok := true
	in, set := unit.Length(0), b.backSetIn()
	if k.Fit != "overlaid" {
		in = b.backDepth()
	}
	if in < 0 || in > h.thick*2/3 {
		b.problem("back.depth", "back.depth is %s, more than two thirds of the case panel of %s. Give a third of it at most: %s.", b.show(in), b.show(h.thick), b.show(h.thick/3))
		ok = false
	}
	if set < 0 || 2*set >= min(h.width, h.height) {
		b.problem("back.set-in", "back.set-in is %s, too much for a case of %s by %s. Give %s or so.", b.show(set), b.show(h.width), b.show(h.height), b.show(b.metric(10*unit.Millimetre, 3*unit.Inch/8)))
		ok = false
	}
	room := h.depth - set
	if k.Fit == "rebated" {
		room = h.depth
	}
	if k.Fit != "overlaid" && t >= room {
		b.problem("back", "a back of %s does not go into a case %s deep. Take a thinner back.", b.show(t), b.show(h.depth))
		ok = false
	}
	if k.Fit == "rebated" && t >= h.depth/2 {
		b.problem("materials.back", "the back is %s thick, half of the depth of %s. Take a thinner panel.", b.show(t), b.show(h.depth))
		ok = false
	}
	if k.Chamfer.Rad() < 0 || k.Chamfer.Deg() > 80 || k.Chamfer != k.Chamfer {
		b.problem("back.chamfer", "back.chamfer is %.4g degrees. Give up to 80; 45 is usual.", k.Chamfer.Deg())
		ok = false
	}
	return ok
}

// betweenPanels is a size from outside to outside less the panels there are.
func (b *builder) betweenPanels(what string, size unit.Length, one, other int) Dim {
	return From(what, size).Less(closed(b.hull, one)+closed(b.hull, other), "case panel", b.hull.thick)
}

// clearHeight is the height between the case's panels or its let-in bottom.
func (b *builder) clearHeight() Dim {
	if b.slabThick > 0 { // behind the stretchers, up to the top that lies on them
		return From("outside height", b.hull.height+b.slabThick).Less(1, "top", b.slabThick).Less(1, "case panel", b.hull.thick)
	}
	if b.bottomThick > 0 {
		return From("outside height", b.hull.height).Less(closed(b.hull, sideTop), "case panel", b.hull.thick).
			Less(1, "lower edge below the bottom", b.bottomUp).Less(1, "bottom", b.bottomThick)
	}
	return b.betweenPanels("outside height", b.hull.height, sideTop, sideBottom)
}

// backEdges is how many of upper and lower edge stand in a groove.
func (b *builder) backEdges() int {
	n := closed(b.hull, sideTop) + closed(b.hull, sideBottom)
	if b.bottomThick > 0 && !b.backBehindBottom() {
		n++
	}
	if b.slabThick > 0 {
		n--
	}
	return n
}

// backGrooves works the groove or rebate for the back into the case's panels.
func (b *builder) backGrooves(what string, in, t unit.Length) {
	kind := Groove
	y0 := b.space.back
	if what == "rebate" {
		kind = Rebate
	}
	b.alongCase(kind, y0, y0+t, in, "back")
}

// alongCase works a groove or rebate round the inside of the case between two
// depths.
func (b *builder) alongCase(kind FeatureKind, y0, y1, in unit.Length, what string) {
	for _, p := range b.holdsBack() {
		if p.Bent != nil {
			rear := b.hull.rear()
			p.feature(Feature{Kind: kind, Face: FaceReference, Region: box(geom.P(0, rear-y1), geom.P(p.Length.Size, rear-y0)), Depth: in, For: what})
			continue
		}
		// Stopped short of the ends of panels that run through, so that it
		// does not show there.
		f := p.Places[0].Frame
		a := geom.Vec{X: b.space.left - in, Y: y0, Z: b.space.bottom - in}
		c := geom.Vec{X: b.space.right + in, Y: y1, Z: b.space.top + in}
		if b.slabThick > 0 {
			c.Z = b.hull.over()
		}
		r := clip(region(f, a, c), p.Length.Size, p.Width.Size)
		p.feature(Feature{Kind: kind, Face: FaceReference, Region: r, Depth: in, For: what})
	}
}

// addBack adds the back itself, its grain along the longer side.
func (b *builder) addBack(m stock, w, h Dim, corner [4]unit.Length, x, z unit.Length) {
	k := b.piece.Back
	y := b.space.back
	p := Part{
		Name: "back", Role: RoleBack, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Thickness: From("panel as measured", m.thickness),
	}
	if m.solid {
		p.Thickness = From("thickness given", m.thickness)
	}
	if w.Size >= h.Size {
		p.Length, p.Width = w, h
		p.Outline = rounded(w.Size, h.Size, [4]unit.Length{corner[bottomRight], corner[bottomLeft], corner[topLeft], corner[topRight]})
		p.Places = []Place{{Frame: rearAcross(x+w.Size, y, z)}}
	} else {
		p.Length, p.Width = h, w
		p.Outline = rounded(h.Size, w.Size, [4]unit.Length{corner[bottomLeft], corner[topLeft], corner[topRight], corner[bottomRight]})
		p.Places = []Place{{Frame: rearUp(x, y, z)}}
	}
	if k.Fit == "overlaid" && k.Chamfer > 0 {
		p.Features = append(p.Features, Feature{
			Kind: Chamfer, Face: FaceOther, Region: p.Outline, Angle: k.Chamfer,
			Depth: max(m.thickness-unit.Millimetre, m.thickness/2), For: "so that its edge is not seen from the side",
		})
	}
	back := b.add(p)
	if k.Fit != "overlaid" {
		for _, p := range b.holdsBack() {
			b.joint(Joint{Kind: k.Fit, A: back.Letter, B: p.Letter, Depth: b.backDepth()})
		}
	}
	if k.Fit == "grooved" {
		if b.bottomThick > 0 && b.backBehindBottom() {
			b.screwBack(back, b.bottom.Letter, "back to the edge of the bottom", b.bottom.Length.Size)
		}
		return
	}
	b.screwBack(back, b.caseMark(), "back to case", 2*(w.Size+h.Size))
}

// screwBack screws a back along a line to the edges of what stands before it.
func (b *builder) screwBack(back *Part, to, where string, line unit.Length) {
	n := int((line + backScrews - 1) / backScrews)
	b.joint(Joint{Kind: "screwed", A: back.Letter, B: to, With: fmt.Sprintf("%d screws, about %s apart", n, b.show((line / unit.Length(n)).Round(b.metric(5*unit.Millimetre, unit.Inch/4))))})
	t, gauge := back.Thickness.Size, 8
	if t < 9*unit.Millimetre { // a thin back lies on narrow shoulders
		gauge = 6
	}
	b.screws(screwing{
		where: where, count: n, fastened: From("back", t), holding: b.backFront() - b.hull.front, into: EdgeWood,
		material: b.material("case").key, hidden: true, most: max(3*t, 20*unit.Millimetre), gauge: gauge,
	})
}

// holdsBack are the panels of the case in whose grooves or rebates the back
// lies.
func (b *builder) holdsBack() []*Part {
	return slices.DeleteFunc(b.casePanels(), func(p *Part) bool { return p == b.bottom && b.bottomThick > 0 && b.backBehindBottom() })
}

// casePanels are the parts that make up the case.
func (b *builder) casePanels() []*Part {
	var out []*Part
	if b.shell != nil {
		out = append(append(out, b.shell.parts...), b.shell.strips...)
	}
	for _, p := range []*Part{b.left, b.right, b.top, b.bottom} {
		if p != nil {
			out = append(out, p)
		}
	}
	return out
}

// caseMark is the mark of the case's first part, for joints with the case.
func (b *builder) caseMark() string {
	if all := b.casePanels(); len(all) > 0 {
		return all[0].Letter
	}
	return ""
}
