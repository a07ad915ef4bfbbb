package build

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// outside is the size over all: case, frame, back, top and base.
func (b *builder) outside() {
	h := b.hull
	left, right := unit.Length(0), h.width
	front, rear := unit.Length(0), h.rear()
	if k := b.piece.Back; k != nil && k.Fit == "overlaid" {
		rear += b.material("back").thickness
	}
	if k := b.piece.Case.Top; k != nil {
		left, right = -k.Sides, right+k.Sides
		front = -k.Front
		rear = max(rear, h.rear()+k.Back)
	}
	b.m.Outside = geom.Vec{X: right - left, Y: rear - front, Z: h.over() + b.slabThick}
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
