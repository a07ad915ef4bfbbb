package build

import (
	"fmt"
	"slices"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

// toMeasure marks the parts that are cut once the openings are measured: box
// parts, and fronts and doors that lie within an opening. Packers wait with
// them where no panel must be cut up for other parts before. Where one must,
// what is fitted comes out of it as a blank, larger than the part.
func (b *builder) toMeasure() {
	fitted := map[string]bool{} // letters
	for _, p := range b.m.Parts {
		switch p.Role {
		case RoleBoxSide, RoleBoxEnd, RoleBoxBottom:
			fitted[p.Letter] = true
		case RoleFront, RoleDoor:
			fitted[p.Letter] = slices.ContainsFunc(b.m.Openings, func(o Opening) bool {
				return o.Inset && slices.ContainsFunc(p.Places, func(at Place) bool { return belongs(at.Name, o.Name) })
			})
		}
	}
	early, late := map[string]bool{}, map[string]bool{} // materials
	for _, p := range b.m.Parts {
		late[p.Material] = late[p.Material] || fitted[p.Letter]
		early[p.Material] = early[p.Material] || !fitted[p.Letter] && p.Role != RolePacker && !b.isCut(p)
	}
	for i := range b.m.Parts {
		p := &b.m.Parts[i]
		mixed := !p.Solid && early[p.Material]
		p.ToMeasure = fitted[p.Letter] || p.Role == RolePacker && late[p.Material] && !mixed
		if fitted[p.Letter] && mixed && !b.isCut(*p) {
			p.ToMeasure = b.blank(p)
		}
	}
}

// blank leaves a part larger than it is wanted (common practice, no source),
// unless no sheet has room for more than the part.
func (b *builder) blank(p *Part) bool {
	over := b.metric(3*unit.Millimetre, unit.Inch/8)
	if b.onSheet(p, 0) && !b.onSheet(p, over) {
		return false
	}
	p.Oversize.Blank = over
	p.Oversize.Length += over
	p.Oversize.Width += over
	why := fmt.Sprintf("a blank, %s longer and wider than it will be, to be cut to the measured opening", b.show(over))
	if p.Oversize.Why != "" {
		why += "; " + p.Oversize.Why
	}
	p.Oversize.Why = why
	return true
}

// onSheet reports whether a sheet has room for a part that much larger.
func (b *builder) onSheet(p *Part, over unit.Length) bool {
	panel := b.shop.Panels[p.Material]
	l, w := p.CutLength()+over, p.CutWidth()+over
	return slices.ContainsFunc(panel.Sheets, func(s shop.Sheet) bool {
		trim := panel.TrimOf(s)
		long, wide := s.Length-2*trim, s.Width-2*trim
		return l <= long && w <= wide || panel.NoGrain && l <= wide && w <= long
	})
}

// isCut says that the record has all of a part as cut.
func (b *builder) isCut(p Part) bool {
	n := 0
	for _, c := range b.record.Cut {
		if c.Part == p.Letter {
			n += c.Count
		}
	}
	return n >= p.Count*max(1, b.piece.Count)
}
