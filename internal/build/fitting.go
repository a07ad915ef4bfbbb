package build

import (
	"fmt"
	"math"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// measured is an opening as it is taken for fitting: as measured where the
// record has it, else as planned.
type measured struct {
	w, h             Dim
	corner           [4]unit.Length
	spreadW, spreadH unit.Length // most less least of what was measured
	rack             unit.Length // out of square over its height, by the diagonals
}

// measure looks an opening up in the record. The least width and height rule,
// since what goes in must pass everywhere.
func (b *builder) measure(c cell) measured {
	m := measured{w: c.w, h: c.h, corner: c.corner}
	for _, o := range b.record.Openings {
		if o.Opening != c.name {
			continue
		}
		if least, most, ok := ends(o.Widths); ok {
			m.w, m.spreadW = From(fmt.Sprintf("measured, least of %d", len(o.Widths)), least), most-least
		}
		if least, most, ok := ends(o.Heights); ok {
			m.h, m.spreadH = From(fmt.Sprintf("measured, least of %d", len(o.Heights)), least), most-least
		}
		if len(o.Corners) == 4 {
			for i, r := range o.Corners {
				m.corner[i] = min(max(r, 0), m.w.Size/2, m.h.Size/2)
			}
		}
		if len(o.Diagonals) == 2 {
			m.rack = rack(o.Diagonals[0], o.Diagonals[1], m.w.Size)
		}
		for _, d := range []struct {
			what            string
			taken, asPlaned unit.Length
		}{{"wide", m.w.Size, c.w.Size}, {"high", m.h.Size, c.h.Size}} {
			if off := (d.taken - d.asPlaned).Abs(); off > 3*unit.Millimetre {
				b.once(finding.Finding{
					ID: "opening-measured", Level: finding.Care, Place: c.name,
					Says:   fmt.Sprintf("%s measures %s %s, planned was %s", c.name, b.show(d.taken), d.what, b.show(d.asPlaned)),
					Figure: b.show(off), Limit: b.show(3 * unit.Millimetre),
					Advice: "Measure once more before you cut box and front to it.", Source: "common practice, no source",
				})
			}
		}
	}
	return m
}

func ends(all []unit.Length) (least, most unit.Length, ok bool) {
	for _, l := range all {
		if l <= 0 {
			continue
		}
		if !ok || l < least {
			least = l
		}
		most, ok = max(most, l), true
	}
	return least, most, ok
}

// rack is how far an opening leans over its height: (d1 - d2)(d1 + d2)/(4 w)
// of the two diagonals and the width.
func rack(d1, d2, w unit.Length) unit.Length {
	if w <= 0 {
		return 0
	}
	return unit.MM(math.Abs((d1-d2).MM()*(d1+d2).MM()) / (4 * w.MM())).Abs()
}

// checkOpening looks at how true a measured opening is, against what the gap
// and the runner forgive.
func (b *builder) checkOpening(c cell, m measured, gap, parallel unit.Length) {
	if parallel > 0 && m.spreadW > parallel {
		b.once(finding.Finding{
			ID: "opening-parallel", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("%s is out of parallel by %s; the runner takes %s", c.name, b.show(m.spreadW), b.show(parallel)),
			Figure: b.show(m.spreadW), Limit: b.show(parallel),
			Advice: "Shim the packer at the wide end.", Source: "the runner's entry in the shop",
		})
	}
	if m.rack > gap/2 && m.rack > 0 {
		b.once(finding.Finding{
			ID: "opening-square", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("%s leans by %s over its height; half the gap is %s", c.name, b.show(m.rack), b.show(gap/2)),
			Figure: b.show(m.rack), Limit: b.show(gap / 2),
			Advice: "Plane the front to the opening, not square.", Source: "derived from the diagonals",
		})
	}
}

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
	b.fit(Fitting{Key: key, Name: h.Name, Count: 1, Length: h.Centres, At: []geom.Vec{at}, For: what})
	if l, ok := wood.MachineLength(stack, 5*unit.Millimetre, 10*unit.Millimetre, b.shop.Units); ok {
		kind := screwKind(b.shop.Units, 8)
		b.countScrews(ScrewUse{
			Where: "machine screws, pulls of " + what, Count: len(offsets), Gauge: gaugeOf(kind), Diameter: kind.Diameter,
			Stack: stack, Length: l, Shank: d, Stop: stack, Source: "common practice, no source",
		})
	}
}
