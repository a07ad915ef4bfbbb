package build

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// widest is taken for a wood whose widest board the shop does not give.
const widest = 150 * unit.Millimetre

// rough gives every solid part its rough size: the shop's habits over the
// size sawn, the thickness class it comes out of, and the number of strips
// where it is wider than the widest board.
func (b *builder) rough() {
	h := b.shop.Habits
	usual := wood.UsualAllowance()
	add := wood.Allowance{
		Length:    given(h.RoughLength, usual.Length),
		Width:     given(h.RoughWidth, usual.Width),
		Thickness: given(h.RoughThickness, usual.Thickness),
	}
	for _, p := range b.parts {
		if !p.Solid {
			continue
		}
		l, w, t := add.Rough(p.CutLength(), p.CutWidth(), p.Thickness.Size)
		if p.Grain == GrainWidth { // the board's length runs across the part
			l, w, _ = add.Rough(p.CutWidth(), p.CutLength(), p.Thickness.Size)
		}
		r := &Rough{Length: l, Width: w, Thickness: t}
		b.class(p, r, add.Thickness)
		if most := given(b.shop.Woods[p.Material].Widest, widest); w > most {
			r.Strips = strips(w, most, add.Width)
			if n := unit.Length(r.Strips); n > 1 { // each strip needs its own allowance for jointing
				step := unit.Millimetre
				if b.shop.Units == unit.Imperial {
					step = unit.Inch / 16
				}
				r.Strip = min(most, ((w-add.Width)/n + add.Width).RoundUp(step))
			}
		}
		p.Rough = r
	}
}

// strips is how many boards at most wide each make up a width, when every
// joint costs the allowance once more for jointing the edges.
func strips(width, most, joint unit.Length) int {
	if most <= joint {
		return 0
	}
	return int((width - joint + (most - joint) - 1) / (most - joint))
}

// class finds the thickness the part comes out of: of the boards on hand
// where the shop lists them, else of those sold.
func (b *builder) class(p *Part, r *Rough, allowance unit.Length) {
	if c, ok := wood.ClassFor(p.Thickness.Size, allowance, b.shop.Units); ok {
		r.Class, r.Thickness = c.Name, c.Rough
		return
	}
	r.Class = b.show(r.Thickness)
	b.note(finding.Finding{
		ID: "thick-wood", Level: finding.Care, Place: p.named(),
		Says:   fmt.Sprintf("%s is %s thick, more than any board sold leaves.", p.named(), b.show(p.Thickness.Size)),
		Figure: b.show(p.Thickness.Size),
		Advice: "Glue it up from two thinner boards, or ask the yard for a squared balk.",
	})
}

// stated is a size that may be stated as 0.
func stated(l *unit.Length, otherwise unit.Length) unit.Length {
	if l != nil {
		return *l
	}
	return otherwise
}

func given(l, otherwise unit.Length) unit.Length {
	if l > 0 {
		return l
	}
	return otherwise
}
