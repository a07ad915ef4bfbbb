package check

import (
	"fmt"
	"math"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// leansOn is the breadth of a top over which somebody leaning on its edge
// bears (common practice, no source).
const leansOn = 300 * unit.Millimetre

// overhangs looks at a top that stands out: a cantilever with a child's weight
// on its edge.
func overhangs(in Input) []finding.Finding {
	slab := in.Piece.Case.Top
	if slab == nil {
		return nil
	}
	var out []finding.Finding
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleTop || p.Bent != nil || len(p.Places) == 0 {
			continue
		}
		grainAcross := along(grainDir(p, p.Places[0]), axes[0]) // the grain runs from left to right
		for _, o := range []struct {
			field string
			long  unit.Length
			along bool // the grain runs out with the overhang
		}{{"front", slab.Front, !grainAcross}, {"sides", slab.Sides, grainAcross}, {"back", slab.Back, !grainAcross}} {
			e, ok := stiffness(in, *p, o.along)
			if !ok || o.long <= 0 {
				continue
			}
			b := Beam{Span: o.long, Width: leansOn, Thickness: p.Thickness.Size, E: e.e, Support: Cantilever}
			load := unit.Force(float64(childMass) * gravity)
			sag, limit := b.PointSag(load), o.long/awsRatio
			if sag <= limit {
				continue
			}
			over := float64(sag) / float64(limit)
			f := finding.Finding{
				ID: "top-overhangs", Level: finding.Care, Place: "case.top." + o.field,
				Says:   fmt.Sprintf("%s %s stands out %s and gives %s at its edge under 60 lb (27.2 kg).", document.Capital(p.Name), p.Letter, in.Show(o.long), fine(in, sag)),
				Figure: fine(in, sag), Limit: fine(in, limit),
				Advice: fmt.Sprintf("Let it stand out %s, or make it %s thick, or set brackets under it.", down(in, o.long.Scale(1/math.Sqrt(over))), up(in, p.Thickness.Size.Scale(math.Cbrt(over)))),
				Fix:    setTo(in, "case.top."+o.field, o.long.Scale(1/math.Sqrt(over)).RoundDown(step(in)), "Let the top stand out %s"),
				Source: "span/144 as for shelves, AWS 2009 1.2.21; load: common practice, no source; E from " + e.source,
			}
			if e.mor > 0 && b.PointStress(load) > e.mor {
				f.Level, f.Says = finding.Stop, f.Says+" It breaks."
			}
			out = append(out, f)
		}
	}
	return out
}
