package build

import (
	"fmt"
	"maps"
	"slices"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

// toMeasure marks the parts that are cut once the openings are measured: box
// parts, and fronts and doors that lie within an opening. Packers of solid wood
// wait with them, since the opening says how thick they are, others where no
// panel must be cut up for other parts before. Where one must,
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
	early, late, shared := map[string]bool{}, map[string]bool{}, map[string]bool{} // materials
	for _, p := range b.m.Parts {
		late[p.Material] = late[p.Material] || fitted[p.Letter]
		ofCase := !fitted[p.Letter] && p.Role != RolePacker
		shared[p.Material] = shared[p.Material] || ofCase
		early[p.Material] = early[p.Material] || ofCase && !b.isCut(p)
	}
	b.doubtCut()
	measured := slices.Contains(slices.Collect(maps.Values(fitted)), true)
	b.blanks(func(p Part) bool { return !p.Solid && fitted[p.Letter] && shared[p.Material] }, early)
	for i := range b.m.Parts {
		p := &b.m.Parts[i]
		mixed := !p.Solid && early[p.Material]
		p.ToMeasure = fitted[p.Letter] || p.Role == RolePacker && (p.Solid && measured || late[p.Material] && !mixed)
		if toCome := b.need(*p) - p.OffSaw.count(); fitted[p.Letter] && mixed && toCome > 0 {
			p.ToMeasure = b.blank(p) || p.OffSaw != nil
		}
	}
}

// over is by how much a blank is longer and wider than its part (common
// practice, no source); 0 where no sheet has room for more than the part.
func (b *builder) over(p Part) unit.Length {
	over := b.metric(3*unit.Millimetre, unit.Inch/8)
	if b.onSheet(p, 0) && !b.onSheet(p, over) {
		return 0
	}
	return over
}

// blank leaves a part larger than it is wanted, unless there is no room for it.
func (b *builder) blank(p *Part) bool {
	over := b.over(*p)
	if over == 0 {
		return false
	}
	p.leave(over, fmt.Sprintf("a blank, %s longer and wider than it will be, to be cut to the measured opening", b.show(over)))
	return true
}

// onSheet reports whether a sheet has room for a part that much larger.
func (b *builder) onSheet(p Part, over unit.Length) bool {
	panel := b.shop.Panels[p.Material]
	l, w := p.FitLength()+over, p.FitWidth()+over
	return slices.ContainsFunc(panel.Sheets, func(s shop.Sheet) bool {
		trim := panel.TrimOf(s)
		long, wide := s.Length-2*trim, s.Width-2*trim
		return l <= long && w <= wide || panel.NoGrain && l <= wide && w <= long
	})
}

// isCut says that the record has all of a part as cut.
func (b *builder) isCut(p Part) bool { return b.need(p) == 0 }

// need is how many of a part are still to be cut to size, for all pieces.
func (b *builder) need(p Part) int {
	n := p.Count * max(1, b.piece.Count)
	for _, c := range b.record.Cut {
		if c.Part == p.Letter {
			n -= c.Count
		}
	}
	return max(0, n)
}
