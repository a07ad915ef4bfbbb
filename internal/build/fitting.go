package build

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Pulls are fixed by machine screws through clearance holes. An M4 or #8
// screw slips through 5 mm, or 3/16 in (common practice, no source).
func (b *builder) pullHole() unit.Length {
	if b.shop.Units == unit.Imperial {
		return unit.Inch * 3 / 16
	}
	return 5 * unit.Millimetre
}

// pull bores a front for a pull whose centre lies at (x, y) of the part, with
// its screws in a row along x or y, and adds what to buy. Behind is a further
// part the screws pass, with its own place of the centre; nil for none.
func (b *builder) pull(key, path string, front *Part, x, y unit.Length, alongX bool, behind *Part, bx, by unit.Length, what string) {
	if key == "" {
		return
	}
	h, ok := b.hardware(key, path)
	if !ok {
		return
	}
	offsets := []unit.Length{0}
	if h.Centres > 0 {
		offsets = []unit.Length{-h.Centres / 2, h.Centres - h.Centres/2}
	}
	room := front.Length.Size
	if !alongX {
		room = front.Width.Size
	}
	if h.Centres+40*unit.Millimetre > room {
		b.once(finding.Finding{
			ID: "pull-too-long", Level: finding.Stop, Place: front.named(),
			Says:   fmt.Sprintf("the pull's holes are %s apart, %s has %s", b.show(h.Centres), front.named(), b.show(room)),
			Figure: b.show(h.Centres), Limit: b.show(max(room-40*unit.Millimetre, 0)), Advice: "Take a shorter pull, or a knob.",
			Source: "common practice, no source",
		})
		return
	}
	d := given(h.Diameter, b.pullHole())
	stack := front.Thickness.Size
	at := front.Places[0].Frame.At(x, y, front.Thickness.Size)
	for _, o := range offsets {
		p, q := geom.P(x+o, y), geom.P(bx+o, by)
		if !alongX {
			p, q = geom.P(x, y+o), geom.P(bx, by+o)
		}
		front.feature(Feature{Kind: Hole, Face: FaceReference, Region: disc(p, d), Depth: front.Thickness.Size, Through: true, For: "pull"})
		if behind != nil {
			behind.feature(Feature{Kind: Hole, Face: FaceReference, Region: disc(q, 2*d), Depth: behind.Thickness.Size, Through: true, For: "pull screw, slack for adjusting"})
		}
	}
	if behind != nil {
		stack += behind.Thickness.Size
	}
	b.fit(Fitting{Key: key, Name: shop.Called(h.Name, key), Count: 1, Length: h.Centres, At: []geom.Vec{at}, For: what})
	if l, ok := wood.MachineLength(stack, 5*unit.Millimetre, 10*unit.Millimetre, b.shop.Units); ok {
		kind := screwKind(b.shop.Units, 8)
		b.countScrews(ScrewUse{
			Where: "machine screws, pulls of " + what, Count: len(offsets), Machine: true, Gauge: gaugeOf(kind), Diameter: kind.Diameter,
			Stack: stack, Length: l, Shank: d, Stop: stack, Source: "common practice, no source",
		})
	}
}
