package build

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/opening"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// measured is an opening as it is taken for fitting: as measured where the
// record has it, else as planned.
type measured struct {
	w, h    Dim
	corner  [4]unit.Length
	spreadW unit.Length   // most less least width of what was measured
	rack    unit.Length   // out of square over its height
	shape   opening.Shape // empty where nothing was measured, or it contradicts itself
}

// planned is a cell as it was planned.
func planned(c cell) measured { return measured{w: c.w, h: c.h, corner: c.corner} }

// Measured is what the record says of an opening.
func Measured(o record.MeasuredOpening) opening.Measures {
	var m opening.Measures
	copy(m.Widths[:], o.Widths)
	copy(m.Heights[:], o.Heights)
	copy(m.Diagonals[:], o.Diagonals)
	copy(m.Corners[:], o.Corners)
	return m
}

// measure looks an opening up in the record. The least width and height rule
// for what must pass everywhere; the shape, for what is fitted to the edges.
func (b *builder) measure(c cell) measured {
	m := planned(c)
	for _, o := range b.record.Openings {
		if o.Opening != c.name {
			continue
		}
		given := Measured(o)
		if len(o.Corners) != len(given.Corners) {
			given.Corners = c.corner
		}
		shape, doubt := opening.Fit(given)
		if doubt != nil { // as planned, until it is measured again
			b.once(finding.Finding{
				ID: "opening-doubt", Level: finding.Stop, Place: c.name,
				Says: c.name + ": " + doubt.Says(b.show), Figure: b.show(doubt.Reads), Limit: b.show(doubt.Asks),
				Advice: doubt.Advice(), Source: "least squares over all measures of the opening",
			})
			return m
		}
		m.shape, m.rack = shape, shape.Lean().Abs()
		if least, most, ok := ends(o.Widths); ok {
			m.w, m.spreadW = From(fmt.Sprintf("measured, least of %d", len(o.Widths)), least), most-least
		}
		if least, _, ok := ends(o.Heights); ok {
			m.h = From(fmt.Sprintf("measured, least of %d", len(o.Heights)), least)
		}
		for i, r := range given.Corners {
			m.corner[i] = min(max(r, 0), m.w.Size/2, m.h.Size/2)
		}
		b.offPlan(c, "wide", m.w.Size, c.w.Size)
		b.offPlan(c, "high", m.h.Size, c.h.Size)
	}
	return m
}

// offPlan notes an opening that came out otherwise than planned.
func (b *builder) offPlan(c cell, what string, taken, asPlanned unit.Length) {
	off := (taken - asPlanned).Abs()
	if off <= 3*unit.Millimetre {
		return
	}
	b.once(finding.Finding{
		ID: "opening-measured", Level: finding.Care, Place: c.name,
		Says:   fmt.Sprintf("%s measures %s %s, planned was %s", c.name, b.show(taken), what, b.show(asPlanned)),
		Figure: b.show(off), Limit: b.show(3 * unit.Millimetre),
		Advice: "Measure once more before you cut box and front to it.", Source: "common practice, no source",
	})
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

// checkOpening looks at how true a measured opening is, against what the gap
// and the runner forgive.
func (b *builder) checkOpening(c cell, m measured, gap, parallel unit.Length) {
	if parallel > 0 && m.spreadW > parallel {
		b.once(finding.Finding{
			ID: "opening-parallel", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("%s is out of parallel by %s; the runner takes %s", c.name, b.show(m.spreadW), b.show(parallel)),
			Figure: b.show(m.spreadW), Limit: b.show(parallel),
			Advice: fmt.Sprintf("Shim the packer at the wide end, or plane it at the narrow one, by %s in all.", b.show(m.spreadW-parallel)), Source: "the runner's entry in the shop",
		})
	}
	if m.rack >= gap/2+unit.Millimetre/20 { // less does not show in the figures
		b.once(finding.Finding{
			ID: "opening-square", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("%s leans by %s over its height; half the gap is %s", c.name, b.show(m.rack), b.show(gap/2)),
			Figure: b.show(m.rack), Limit: b.show(gap / 2),
			Advice: "Plane the front to its template, not square.", Source: "derived from the diagonals",
		})
	}
}
