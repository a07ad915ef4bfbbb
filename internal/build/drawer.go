package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// drawing is one drawer while it is worked out.
type drawing struct {
	piece.Drawer
	cell     cell
	m        measured // as the front is fitted
	box      measured // as the box is made
	kept     keeps
	hardware shop.Hardware

	front  Dim // thickness of the front
	side   unit.Length
	bottom stock
	y      unit.Length // of the front of the box
	z      unit.Length // of the lower edge of its sides

	width, depth, height Dim // of the box
	least, most          unit.Length
	low, high            unit.Length // limits of the space at each side
	above                unit.Length // room asked for above the box
	runner               unit.Length // length
	seat                 unit.Length // what the runner counts its room below from
	up                   unit.Length // underside of the bottom above the lower edge
}

// Clearances taken where the shop's entry leaves them out. All are common
// practice without a source; the box of the runner goes before them.
const (
	usualSideMin     = unit.Millimetre * 129 / 10 // side runner 12.7 thick and 0.2
	usualSideMax     = unit.Millimetre * 132 / 10
	usualCorner      = unit.Millimetre * 125 / 10 // corner roller
	usualCornerBelow = 3 * unit.Millimetre        // its angle lies under the box
	usualWoodSide    = unit.Inch / 32
	usualWoodAbove   = 2 * unit.Millimetre
	usualInside      = 42 * unit.Millimetre // under-mounted: opening less inside width
	usualSideMost    = 16 * unit.Millimetre
	usualRecess      = 13 * unit.Millimetre
	usualAbove       = 25 * unit.Millimetre / 2 // half an inch above and below
	usualBehind      = 3 * unit.Millimetre
	usualBehindWood  = 12 * unit.Millimetre

	thinnest    = 3 * unit.Millimetre  // no front or side is thinner
	leastInside = 65 * unit.Millimetre // lower boxes are of little use
)

// drawer works out one drawer and adds its box, front and runners.
func (b *builder) drawer(d piece.Drawer, c cell, m measured, out *Opening) {
	path := c.path + ".drawer"
	h, ok := b.hardware(d.Runner, path+".runner")
	if !ok {
		return
	}
	if !slices.Contains([]string{"side-runner", "under-runner", "corner-runner", "wooden-runner"}, h.Kind) {
		b.cannot(path+".runner", "%q is a %s, not a runner. Name a runner of the shop.", d.Runner, h.Kind)
		return
	}
	w := drawing{Drawer: d, cell: c, m: m, box: m, kept: b.kept[c.name], hardware: h, bottom: b.material("bottoms")}
	if w.kept.width {
		w.box.w = c.w
	}
	if w.kept.height {
		w.box.h, w.box.corner = c.h, c.corner
	}
	if !b.thicknesses(&w, path) {
		return
	}
	b.checkOpening(c, m, w.Gap, h.Parallel)
	if !b.boxWidth(&w, path) || !b.boxDepth(&w, path) || !b.boxHeight(&w, path) {
		return
	}
	b.clearOfCorners(w)
	box := b.box(w)
	front := b.drawerFront(w, box)
	if front == nil {
		return
	}
	b.runners(w, box)

	out.Front = front.Letter
	out.Gap = w.Gap
	out.BoxMin, out.BoxMax = w.least, w.most
	out.Kept = w.kept.letters
	out.Inset = w.Front != "overlaid"
	out.Drawer = b.fitted(w, box)
	out.Storage = DrawerVolume(w.width.Size-2*w.side, w.depth.Size-2*w.side, out.Height.Size)
	out.Box = fmt.Sprintf("%s wide, %s high, %s deep", b.limits(w.least, w.most), b.show(w.height.Size), b.show(w.depth.Size))
}

// limits writes a size that may lie between two.
func (b *builder) limits(least, most unit.Length) string {
	if least == most {
		return b.show(least)
	}
	return b.show(least) + " to " + b.show(most)
}

// thicknesses finds how thick the front and the sides are.
func (b *builder) thicknesses(w *drawing, path string) bool {
	t, what := b.frontThickness(w.Thickness)
	if t <= 0 {
		b.cannot(path+".front-thickness", "how thick the front is, is not known. Give it, such as %s.", b.show(19*unit.Millimetre))
		return false
	}
	if t < thinnest {
		b.cannot(path+".front-thickness", "the front is %s thick. Give at least %s.", b.exact(t), b.show(thinnest))
		return false
	}
	w.front = From(what, t)
	s := b.material("boxes")
	w.side = s.thickness
	if s.solid {
		w.side = given(w.Side, given(s.thickness, b.metric(12*unit.Millimetre, unit.Inch/2)))
	}
	if w.side < thinnest {
		b.cannot(path+".side", "the sides of the box are %s thick. Give at least %s.", b.exact(w.side), b.show(thinnest))
		return false
	}
	if w.bottom.thickness <= 0 {
		w.bottom.thickness = b.metric(6*unit.Millimetre, unit.Inch/4)
	}
	if 2*w.bottom.thickness > w.side*3 {
		b.cannot(path, "the drawer bottom is %s thick, the sides %s: no groove can take it. Name a thinner panel for bottoms.", b.show(w.bottom.thickness), b.show(w.side))
		return false
	}
	return true
}

// metric picks the metric or the inch custom.
func (b *builder) metric(mm, inch unit.Length) unit.Length {
	if b.shop.Units == unit.Imperial {
		return inch
	}
	return mm
}

// frontThickness is as asked for, else that of the panel, else the frame's.
func (b *builder) frontThickness(asked unit.Length) (unit.Length, string) {
	s := b.material("fronts")
	switch {
	case s.thickness > 0 && !s.solid:
		return s.thickness, "panel"
	case asked > 0:
		return asked, "given"
	case s.thickness > 0:
		return s.thickness, "given"
	case b.piece.Frame != nil:
		return b.piece.Frame.Thickness, "as the frame"
	}
	return 0, ""
}

// boxWidth follows from the opening and what the runner asks for: for side
// runners within limits, of which the middle is taken; for under-mounted ones
// from the inside width.
func (b *builder) boxWidth(w *drawing, path string) bool {
	h, open := w.hardware, w.box.w
	if h.Kind == "under-runner" {
		less := given(h.Inside, usualInside)
		inside := open.Less(1, "inside width less, by the runner", less)
		w.width = inside.Plus(2, "side", w.side)
		w.least, w.most = w.width.Size, w.width.Size
		w.low = (open.Size - w.width.Size) / 2
		w.high = w.low
		if most := given(h.SideMost, usualSideMost); w.side > most {
			var fix *finding.Fix
			if b.material("boxes").solid {
				fix = finding.SetSize(w.cell.path+".drawer.side", most, b.piece.Units, fmt.Sprintf("Make the sides %s thick", b.show(most)))
			}
			b.once(finding.Finding{
				ID: "drawer-side", Level: finding.Stop, Place: w.cell.name,
				Says:   fmt.Sprintf("the drawer sides are %s thick, the runner takes %s", b.show(w.side), b.show(most)),
				Figure: b.show(w.side), Limit: b.show(most), Source: "the runner's entry in the shop",
				Advice: fmt.Sprintf("Make the sides %s or thinner, or take side runners.", b.show(most)), Fix: fix,
			})
		}
	} else {
		low, high := h.SideMin, h.SideMax
		switch {
		case low > 0 && high == 0:
			high = low
		case high > 0 && low == 0:
			low = high
		case low == 0 && h.Kind == "side-runner":
			low, high = usualSideMin, usualSideMax
		case low == 0 && h.Kind == "corner-runner":
			low, high = usualCorner, usualCorner
		case low == 0:
			low, high = usualWoodSide, usualWoodSide
		}
		if low > high {
			low, high = high, low
		}
		w.least, w.most = open.Size-2*high, open.Size-2*low
		w.low, w.high = low, high
		each := b.middle(open.Size, low, high)
		what := "space for the runner"
		if low != high {
			what = fmt.Sprintf("space for the runner, from %s to %s", b.show(low), b.show(high))
		}
		if h.Kind == "wooden-runner" {
			what = "play at the side"
		}
		w.width = open.Less(2, what, each)
	}
	if w.least < 4*w.side {
		b.cannot(path, "the opening is %s wide; less the runners, a box of %s is left, too narrow for sides of %s. Make the opening wider.",
			b.show(open.Size), b.show(w.least), b.show(w.side))
		return false
	}
	return true
}

// middle is the side space that brings the box to the middle of its limits,
// on a size that can be set (0.1 mm, 1/32 in) where one lies within them.
func (b *builder) middle(open, low, high unit.Length) unit.Length {
	mid := (low + high) / 2
	step := b.metric(unit.Millimetre/10, unit.Inch32)
	if box := (open - 2*mid).Round(step); box <= open-2*low && box >= open-2*high && (open-box)%2 == 0 {
		return (open - box) / 2
	}
	return mid
}

// usualLengths are the runner lengths taken where the shop lists none: steps
// of 50 mm, or 2 in (common practice).
func (b *builder) usualLengths() []unit.Length {
	var out []unit.Length
	for i := range 10 {
		out = append(out, b.metric(unit.Length(250+50*i)*unit.Millimetre, unit.Length(10+2*i)*unit.Inch))
	}
	return out
}

// boxDepth is the length of the longest runner that fits behind the front.
func (b *builder) boxDepth(w *drawing, path string) bool {
	h := w.hardware
	room := From("front to back inside", b.space.back)
	if w.Front != "overlaid" {
		w.y = w.front.Size
		room = room.Less(1, "front", w.front.Size)
	}
	back := stated(h.Behind, usualBehind)
	if h.Kind == "wooden-runner" {
		back = stated(h.Behind, usualBehindWood)
		room = room.Less(1, "room behind", back)
		w.runner = b.space.back - b.space.front
		w.depth = From("front to back inside less front and room behind", room.Size.RoundDown(b.metric(unit.Millimetre, unit.Inch/8)))
	} else {
		lengths := h.Lengths
		if len(lengths) == 0 {
			lengths = b.usualLengths()
		}
		for _, l := range lengths {
			if l+back <= room.Size {
				w.runner = max(w.runner, l)
			}
		}
		if w.runner == 0 {
			shortest := slices.Min(lengths)
			b.once(finding.Finding{
				ID: "runner-too-long", Level: finding.Stop, Place: w.cell.name,
				Says: fmt.Sprintf("no runner fits: behind the front %s are left, the shortest runner takes %s",
					b.show(room.Size), b.show(shortest+back)),
				Figure: b.show(shortest + back), Limit: b.show(room.Size),
				Advice: fmt.Sprintf("Make the case %s deeper, or take a shorter runner or wooden ones.", b.show(shortest+back-room.Size)),
				Source: "the runner's entry in the shop",
				Fix:    finding.SetSize("case.depth", b.rounded(b.piece.Case.Depth+shortest+back-room.Size), b.piece.Units, fmt.Sprintf("Make the case %s deep", b.show(b.rounded(b.piece.Case.Depth+shortest+back-room.Size)))),
			})
			w.runner = shortest
			w.depth = room.Less(1, "room behind", back)
		} else {
			w.depth = From("runner", w.runner)
		}
	}
	if w.BoxDepth > 0 {
		if w.BoxDepth > room.Size {
			b.cannot(path+".box-depth", "a box %s deep does not go in: %s are left behind the front. Take %s off.",
				b.exact(w.BoxDepth), b.exact(room.Size), b.exact(w.BoxDepth-room.Size))
			return false
		}
		w.depth = From("given", w.BoxDepth)
	}
	if w.depth.Size < 6*w.side {
		b.cannot(path, "the box would be %s deep: behind the front only %s are left. Make the case deeper.", b.show(w.depth.Size), b.leaves(room.Size))
		return false
	}
	return true
}

// boxHeight is the opening less what the runner asks for above and below.
func (b *builder) boxHeight(w *drawing, path string) bool {
	h := w.hardware
	above, below := stated(h.Above, 0), stated(h.Below, 0)
	switch {
	case h.Kind == "wooden-runner":
		above = stated(h.Above, usualWoodAbove)
	case h.Above == nil && h.Below == nil:
		above, below = usualAbove, usualAbove
	case h.Kind == "corner-runner":
		below = stated(h.Below, b.metric(usualCornerBelow, unit.Inch/8))
	}
	// A square box must pass the rounded corners of its opening. Bought runners
	// are set higher for it; wooden ones lie where the rail is.
	w.seat = w.cell.z
	whatAbove, whatBelow := "above", "below"
	side := (w.box.w.Size - w.width.Size) / 2
	if rise := b.clearing(w.box.corner[topLeft], w.box.corner[topRight], side); rise > above {
		above, whatAbove = rise, "above, clear of the rounded corner"
	}
	if rise := b.clearing(w.box.corner[bottomLeft], w.box.corner[bottomRight], side); rise > below && h.Kind != "wooden-runner" {
		w.seat += rise - below
		below, whatBelow = rise, "below, clear of the rounded corner"
	}
	w.above = above
	most := w.box.h.Less(1, whatAbove, above).Less(1, whatBelow, below)
	w.height = most
	w.z = w.cell.z + below
	if w.BoxHeight > 0 {
		w.height = From("given", w.BoxHeight)
		if w.BoxHeight > most.Size {
			b.once(finding.Finding{
				ID: "box-too-high", Level: finding.Stop, Place: w.cell.name,
				Says:   fmt.Sprintf("a box %s high does not go into %s: the runner leaves %s", b.show(w.BoxHeight), w.cell.name, b.leaves(most.Size)),
				Figure: b.show(w.BoxHeight), Limit: b.show(most.Size), Source: "the runner's entry in the shop",
				Advice: fmt.Sprintf("Take %s off, or leave box-height out.", b.show(w.BoxHeight-most.Size)),
				Fix:    b.lowerBox(w.cell, w.BoxHeight-most.Size, w.BoxHeight),
			})
		}
	}
	b.boxSwells(*w)
	w.up = b.metric(10*unit.Millimetre, unit.Inch*3/8)
	if h.Kind == "under-runner" {
		w.up = stated(h.Recess, usualRecess)
	} else {
		w.up = stated(h.Recess, w.up)
	}
	inside := w.height.Size - w.up - w.bottom.thickness
	if inside < 15*unit.Millimetre {
		higher := b.show(15*unit.Millimetre - inside)
		if w.height.Size <= 0 {
			b.cannot(path, "the opening is %s high, which the runner takes for itself: no room is left for a box. Make the opening at least %s higher.", b.show(w.box.h.Size), higher)
		} else {
			b.cannot(path, "the box would be %s high, with %s clear inside above its bottom. Make the opening at least %s higher.", b.show(w.height.Size), b.leaves(inside), higher)
		}
		return false
	}
	if inside < leastInside {
		b.once(finding.Finding{
			ID: "shallow-drawer", Level: finding.Note, Place: w.cell.name,
			Says:   fmt.Sprintf("the drawer is %s high inside; under %s it is of little use", b.show(inside), b.show(leastInside)),
			Figure: b.show(inside), Limit: b.show(leastInside), Source: "common practice, no source",
			Advice: "Make the opening higher, or a tray of it.",
		})
	}
	return true
}

// boxSwells looks at a solid box that would grow in height, from the moisture
// it is made at to that of the dampest season, by more than the room above it.
func (b *builder) boxSwells(w drawing) {
	s := b.material("boxes")
	sp, ok := wood.FindSpecies(s.wood.Species)
	if !s.solid || !ok {
		return
	}
	at := cmp.Or(wood.Moisture(s.wood.Moisture), 8)
	_, dampest := b.piece.Home.Moistures()
	move, err := sp.Movement(w.height.Size, wood.Tangential, at, dampest)
	room := w.box.h.Size - (w.z - w.cell.z) - w.height.Size
	if err != nil || move.Change <= room {
		return
	}
	less := move.Change - room
	b.once(finding.Finding{
		ID: "box-swells", Level: finding.Care, Place: w.cell.name,
		Says: fmt.Sprintf("the box of %s is %s high in solid wood: made at %.0f %% moisture it grows %s at %g %%, and %s are left above it",
			w.cell.name, b.show(w.height.Size), float64(at), b.fine(move.Change), float64(dampest), b.fine(room)),
		Figure: b.fine(move.Change), Limit: b.fine(room), Source: move.Equation.String() + "; " + move.Figure.String(),
		Advice: fmt.Sprintf("Make the box %s lower, or of plywood.", b.up(less)),
		Fix:    b.lowerBox(w.cell, less, w.height.Size),
	})
}

// lowerBox takes something off the height of the box in a space.
func (b *builder) lowerBox(c cell, less, from unit.Length) *finding.Fix {
	high := (from - less).RoundDown(b.metric(unit.Millimetre/2, unit.Inch32))
	return finding.SetSize(c.path+".drawer.box-height", high, b.piece.Units, fmt.Sprintf("Make the box %s high", b.show(high)))
}

// clearOfCorners checks that a square box passes the rounded corners of its
// opening: at the box's side the curve must not reach above its lower, or
// below its upper edge.
func (b *builder) clearOfCorners(w drawing) {
	side := (w.box.w.Size - w.width.Size) / 2
	below := w.z - w.cell.z
	above := w.box.h.Size - below - w.height.Size
	if above < 0 { // a box higher than its opening: that is said already
		return
	}
	for i, r := range w.box.corner {
		room, way := above, "lower"
		if i == bottomRight || i == bottomLeft {
			room, way = below, "raise"
		}
		if rise := curveAt(r, side); rise > room {
			var fix *finding.Fix
			if way == "lower" {
				fix = b.lowerBox(w.cell, rise-room, w.height.Size)
			}
			b.once(finding.Finding{
				ID: "box-corner", Level: finding.Stop, Place: w.cell.name,
				Says: fmt.Sprintf("the box of %s meets the rounded corner: %s in from the side the curve stands %s from the edge, the box %s",
					w.cell.name, b.show(side), b.show(rise), b.show(room)),
				Figure: b.show(rise), Limit: b.show(room), Source: "derived",
				Advice: fmt.Sprintf("Give a box-height %s less and %s it, or a frame with square inner corners.", b.show(rise-room), way), Fix: fix,
			})
			return
		}
	}
}

// leaves writes what is left of a room: a size, or nothing.
func (b *builder) leaves(l unit.Length) string {
	if l <= 0 {
		return "nothing"
	}
	return b.show(l)
}

// clearing is the room a box needs for the rounded corners above or below it,
// with a millimetre to spare.
func (b *builder) clearing(left, right, side unit.Length) unit.Length {
	rise := max(curveAt(left, side), curveAt(right, side))
	if rise == 0 {
		return 0
	}
	return (rise + unit.Millimetre).RoundUp(b.metric(unit.Millimetre/2, unit.Inch32))
}

// curveAt is how far a corner of radius r stands from the horizontal edge at
// a distance from the side: r - √(r² - (r-d)²).
func curveAt(r, d unit.Length) unit.Length {
	if d >= r {
		return 0
	}
	d = max(d, 0)
	R, x := r.MM(), (r - d).MM()
	return unit.MM(R - math.Sqrt(R*R-x*x))
}

// DrawerVolume is what a drawer holds, as the clothing-storage rule counts
// it: clear width and depth inside the box, times the height of the opening
// less 1 in for what obstructs above the drawer, less 1/8 in (the rule's
// deduction, from the regulator's guidance as quoted elsewhere; the inch is
// common practice).
func DrawerVolume(width, depth, opening unit.Length) unit.Volume {
	return unit.VolumeOf(max(width, 0), max(depth, 0), max(opening-unit.Inch-unit.Inch/8, 0))
}
