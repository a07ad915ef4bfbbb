package check

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// rails looks at rails that drawers on wooden runners ride on: half of a
// drawer and of what is in it stands on the rail while it is shut, all of it
// while it is open. Tenons glued into stiles come near to fixed ends; the rail
// is taken as simply supported.
func rails(in Input) []finding.Finding {
	var out []finding.Finding
	for _, d := range drawersOut(in) {
		at := openingAt(in.Piece.Inside, d.opening.Path)
		if d.out == 0 || at == nil || in.Shop.Hardware[at.Drawer.Runner].Kind != "wooden-runner" {
			continue
		}
		p := railUnder(in, d.opening)
		if p == nil {
			continue
		}
		e, ok := stiffness(in, *p, p.Grain != build.GrainWidth)
		if !ok {
			continue
		}
		carried := d.load
		for i := range in.Model.Parts {
			q := &in.Model.Parts[i]
			for _, pl := range q.Places {
				if moving(q, pl.Name, d.opening.Name) {
					carried += float64(PartMass(*q, in.Shop))
				}
			}
		}
		b := Beam{Span: d.opening.Width.Size, Width: p.Thickness.Size, Thickness: p.Width.Size, E: e.e}
		sag, limit := b.Sag(carried*gravity/b.Span.Metres()), b.Span/seenRatio
		if sag <= limit {
			continue
		}
		high := p.Width.Size.Scale(math.Cbrt(float64(sag) / float64(limit)))
		out = append(out, finding.Finding{
			ID: "rail-sags", Level: finding.Care, Place: partPlace(p),
			Says:   fmt.Sprintf("%s %s under %s carries %s while the drawer is open and sags %s over %s.", document.Capital(p.Name), p.Letter, d.opening.Name, kg(in, carried), fine(in, sag), in.Show(b.Span)),
			Figure: fine(in, sag), Limit: fine(in, limit),
			Advice: fmt.Sprintf("Make it %s high, or set a stile under its middle.", up(in, high)), Fix: railFix(in, p, high), Source: "span/600, common practice; E from " + e.source,
		})
	}
	return out
}

// railFix makes a rail higher by its field of the frame.
func railFix(in Input, p *build.Part, high unit.Length) *finding.Fix {
	field := map[string]string{"top rail": "frame.top-rail", "mid rail": "frame.rail", "bottom rail": "frame.bottom-rail"}[p.Name]
	if field == "" || in.Piece.Frame == nil {
		return nil
	}
	return setTo(in, field, high.RoundUp(step(in)), "Make the "+p.Name+" %s high")
}

// railUnder is the rail of the frame right under an opening.
func railUnder(in Input, o *build.Opening) *build.Part {
	middle := o.X + o.Width.Size/2
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleRail || strings.Contains(p.Name, "stretcher") {
			continue
		}
		for _, pl := range p.Places {
			b := solidBox(p, pl).Bounds()
			if (b.Max.Z-o.Z).Abs() < unit.Millimetre && b.Min.X < middle && middle < b.Max.X {
				return p
			}
		}
	}
	return nil
}
