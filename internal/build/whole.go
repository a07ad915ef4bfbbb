package build

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
)

// outside is the size over all, as a mover would measure it: case, frame,
// back, top and base with its splayed feet, and what lies over the front edges.
// Pulls are not in it.
func (b *builder) outside() {
	h := b.hull
	lo, hi := geom.Vec{}, geom.Vec{X: h.width, Y: h.rear(), Z: h.over() + b.slabThick}
	reach := func(v geom.Vec) {
		lo = geom.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
		hi = geom.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
	}
	if k := b.piece.Back; k != nil && k.Fit == "overlaid" {
		reach(geom.Vec{Y: h.rear() + b.material("back").thickness})
	}
	if k := b.piece.Case.Top; k != nil {
		reach(geom.Vec{X: -k.Sides, Y: -k.Front})
		reach(geom.Vec{X: h.width + k.Sides, Y: h.rear() + k.Back})
	}
	if k := b.piece.Base; k != nil && k.Kind == "legs" {
		x, y := b.foot.x-k.InsetX, b.foot.y-k.InsetY
		reach(geom.Vec{X: -x, Y: h.front - y})
		reach(geom.Vec{X: h.width + x, Y: h.rear() + y})
	}
	for _, p := range b.parts {
		if p.Role != RoleDoor && p.Role != RoleFront {
			continue
		}
		for _, at := range p.Places {
			reach(at.Frame.At(0, 0, 0))
			reach(at.Frame.At(p.Length.Size, p.Width.Size, p.Thickness.Size))
		}
	}
	b.m.Outside = geom.Vec{X: hi.X - lo.X, Y: hi.Y - lo.Y, Z: hi.Z - lo.Z}
}

// pair says which parts the second of a mirrored pair needs as mirror images.
func (b *builder) pair() {
	if !b.piece.Pair {
		return
	}
	handed := b.m.Mirrored()
	n := max(b.piece.Count, 2) / 2
	f := finding.Finding{
		ID: "mirrored-pair", Level: finding.Note, Place: "mirrored-pair",
		Says: "All parts serve both pieces of the pair.", Advice: "Make them all alike.",
	}
	if len(handed) > 0 {
		f.Says = fmt.Sprintf("In the second of each pair %s are mirror images.", strings.Join(handed, ", "))
		f.Advice = fmt.Sprintf("Of these make %d sets as drawn and %d mirrored, and mark the reference faces; of all others make %d sets alike.", n, n, 2*n)
	}
	b.note(f)
}
