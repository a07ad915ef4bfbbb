package check

import (
	"fmt"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// runners looks at what the runners carry and at how far their drawers come
// out. Length against the case, and openings out of parallel, are said where
// the drawers are built.
func runners(in Input) []finding.Finding {
	var out []finding.Finding
	over := map[string]bool{}
	for _, d := range drawersOut(in) {
		if d.out == 0 {
			continue
		}
		at := openingAt(in.Piece.Inside, d.opening.Path)
		h := in.Shop.Hardware[at.Drawer.Runner]
		own, box := 0.0, unit.Length(0)
		for i := range in.Model.Parts {
			p := &in.Model.Parts[i]
			for _, pl := range p.Places {
				if moving(p, pl.Name, d.opening.Name) {
					own += float64(PartMass(*p, in.Shop))
				}
				if p.Role == build.RoleBoxSide && lies(pl.Name, d.opening.Name) {
					box = max(box, p.Length.Size)
				}
			}
		}
		if all := own + d.load; h.RatedKg > 0 && all > h.RatedKg {
			out = append(out, finding.Finding{
				ID: "runner-load", Level: finding.Care, Place: d.opening.Name,
				Says:   fmt.Sprintf("The drawer of %s weighs %s and may carry %s, together %s; its runners are rated for %s a pair.", d.opening.Name, kg1(in, own), kg1(in, d.load), kg1(in, all), unit.Mass(h.RatedKg).Stated(in.Piece.Units)),
				Figure: kg1(in, all), Limit: unit.Mass(h.RatedKg).Stated(in.Piece.Units),
				Advice: fmt.Sprintf("Take runners rated for %s, or put %s less into it.", kg(in, float64(unit.Mass(all).RoundedUp(in.Piece.Units))), kg1(in, all-h.RatedKg)), Source: "rating of the runner, from the shop; load by the room of each opening",
			})
		}
		if long := runnerLength(h.Lengths, box); long > 0 && box-long > hidden && !over[at.Drawer.Runner] {
			over[at.Drawer.Runner] = true
			out = append(out, finding.Finding{
				ID: "drawer-stays-in", Level: finding.Note, Place: d.opening.Name,
				Says:   fmt.Sprintf("The box is %s deep and its runner %s long: open, %s of it stays in the case.", in.Show(box), in.Show(long), in.Show(box-long)),
				Figure: in.Show(box - long), Limit: in.Show(hidden),
				Fix:    setTo(in, d.opening.Path+".drawer.box-depth", long, "Make the box %s deep"),
				Advice: fmt.Sprintf("Make the box %s deep, or take the next longer runner.", in.Show(long)), Source: "box as deep as the runner is long, common practice",
			})
		}
	}
	return out
}

// hidden is how much of an open drawer may stay in the case.
const hidden = unit.Inch
