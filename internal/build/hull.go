package build

import (
	"casewright/internal/unit"
)

// hull is the case from outside, without frame, slab and base.
type hull struct {
	width, height, depth unit.Length
	under                unit.Length    // z of its lower edge
	front                unit.Length    // y of its front edge, bands included
	thick                unit.Length    // of its panel
	corner               [4]unit.Length // outside radius at top left, top right, bottom right, bottom left
	open                 [4]bool        // no panel at bottom, right, top, left
}

func (h hull) over() unit.Length { return h.under + h.height }
func (h hull) rear() unit.Length { return h.front + h.depth }

// The corners of a rectangle in the order of rect.corner.
const (
	topLeft = iota
	topRight
	bottomRight
	bottomLeft
)

// The sides in the order in which a shell runs round them, anticlockwise seen
// from the front.
const (
	sideBottom = iota
	sideRight
	sideTop
	sideLeft
)

var sideNames = [4]string{"bottom", "right", "top", "left"}

// cornerAfter is the corner between a side and the next one round.
var cornerAfter = [4]int{bottomRight, topRight, topLeft, bottomLeft}

var cornerKeys = [4]string{"top-left", "top-right", "bottom-right", "bottom-left"}

// measureHull takes the outer sizes from the piece and checks that they can be.
func (b *builder) measureHull() bool {
	c, p := b.piece.Case, b.piece
	s := b.material("case")
	b.hull = hull{width: c.Width, height: c.Height, depth: c.Depth, thick: s.thickness, front: b.frontBand()}
	if p.Base != nil {
		b.hull.under = p.Base.Height
	}
	if p.Frame != nil {
		b.hull.front = p.Frame.Thickness
	}
	ok := true
	size := func(path string, l unit.Length, need bool) {
		switch {
		case l == 0 && !need:
		case l == 0:
			b.problem(path, "%s is missing. Give the outside size.", path)
			ok = false
		case l < 0 || l > most:
			b.problem(path, "%s is %s. Give a size over 0, up to %s.", path, b.show(l), b.show(most))
			ok = false
		}
	}
	free := c.Kind == "shell" && c.Shape == "free"
	size("case.width", c.Width, !free)
	size("case.height", c.Height, !free)
	size("case.depth", c.Depth, true)
	if p.Base != nil {
		size("base.height", p.Base.Height, true)
	}
	if p.Frame != nil {
		size("frame.thickness", p.Frame.Thickness, true)
	}
	if !ok || free {
		return ok
	}
	for _, d := range []struct {
		path string
		l    unit.Length
	}{{"case.width", c.Width}, {"case.height", c.Height}} {
		if d.l <= 2*s.thickness {
			b.problem(d.path, "%s is %s, but two panels of %s already take %s. Make it larger.", d.path, b.show(d.l), b.show(s.thickness), b.show(2*s.thickness))
			ok = false
		}
	}
	return ok
}

const (
	tenth = unit.Millimetre / 10
	most  = 20 * unit.Metre // no case is larger
)

// carcassOrShell builds the case and leaves the space inside it.
func (b *builder) carcassOrShell() {
	if !b.measureHull() {
		return
	}
	if b.piece.Case.Kind == "shell" {
		b.bentCase()
	} else {
		b.carcass()
	}
	if b.failed() {
		return
	}
	b.clearSpace()
}

// clearSpace is what the case leaves inside: up to the panels, or to the
// outline where a side is open.
func (b *builder) clearSpace() {
	h := b.hull
	in := func(side int) unit.Length {
		if h.open[side] {
			return 0
		}
		return h.thick
	}
	s := &b.space
	s.left, s.right = in(sideLeft), h.width-in(sideRight)
	s.bottom, s.top = h.under+in(sideBottom), h.over()-in(sideTop)
	if b.bottomThick > 0 {
		s.bottom = h.under + b.bottomUp + b.bottomThick
	}
	s.front, s.back = h.front, b.backFront()
	w := From("outside width", h.width).Less(closed(h, sideLeft)+closed(h, sideRight), "case panel", h.thick)
	z := From("outside height", b.piece.Case.Height)
	if b.slabThick > 0 {
		z = z.Less(1, "top", b.slabThick)
	}
	if h.height != z.Size {
		z = From("outside height", h.height)
	}
	z = z.Less(closed(h, sideTop), "case panel", h.thick)
	if b.bottomThick > 0 {
		z = z.Less(1, "lower edge below the bottom", b.bottomUp).Less(1, "bottom", b.bottomThick)
	} else {
		z = z.Less(closed(h, sideBottom), "case panel", h.thick)
	}
	s.opening = rect{x: s.left, z: s.bottom, w: w, h: z}
	for i, r := range h.corner {
		s.opening.corner[i] = max(0, r-h.thick)
	}
	if b.bottomThick > 0 {
		s.opening.corner[bottomLeft], s.opening.corner[bottomRight] = 0, 0
	}
}

func closed(h hull, side int) int {
	if h.open[side] {
		return 0
	}
	return 1
}
