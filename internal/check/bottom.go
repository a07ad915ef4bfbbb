package check

import (
	"fmt"
	"math"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// bottoms looks at the sag of drawer bottoms: plates that lie in grooves on
// four sides, as stiff both ways as in their softer one, under the load of
// kitchen cabinets or their share of the load of the piece, if that is more.
func bottoms(in Input) []finding.Finding {
	loads := map[string]float64{}
	for _, d := range drawersOut(in) {
		loads[d.opening.Name] = d.load
	}
	var out []finding.Finding
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleBoxBottom || len(p.Places) == 0 {
			continue
		}
		one, ok1 := stiffness(in, *p, true)
		two, ok2 := stiffness(in, *p, false)
		if !ok1 || !ok2 {
			continue
		}
		pressure, by := loadKCMA, "load 15 lb/ft², ANSI/KCMA A161.1"
		for _, at := range p.Places {
			o := openingOf(in.Model, at.Name)
			if o == nil {
				continue
			}
			area := p.Length.Size.Metres() * p.Width.Size.Metres()
			if q := loads[o.Name] * gravity / area; q > pressure {
				pressure, by = q, "its share of the load of the piece"
			}
		}
		e := min(one.e, two.e)
		sag := PlateSag(p.Length.Size, p.Width.Size, p.Thickness.Size, e, pressure)
		limit := min(min(p.Length.Size, p.Width.Size)/kcmaRatio, kcmaMost)
		if sag <= limit {
			continue
		}
		thicker := p.Thickness.Size.Scale(math.Cbrt(float64(sag) / float64(limit)))
		out = append(out, finding.Finding{
			ID: "drawer-bottom-sags", Level: finding.Care, Place: partPlace(p),
			Says:   fmt.Sprintf("%s %s, %s by %s, sags %s under %s.", document.Capital(p.Name), p.Letter, in.Show(p.Length.Size), in.Show(p.Width.Size), fine(in, sag), kg(in, pressure*p.Length.Size.Metres()*p.Width.Size.Metres()/gravity)),
			Figure: fine(in, sag), Limit: fine(in, limit),
			Advice: fmt.Sprintf("Make it %s thick, or put a muntin under its middle.", up(in, thicker)),
			Source: "1/16 in per foot and at most 1/4 in, ANSI/KCMA A161.1; " + by + "; plate held on four sides, from memory; E from " + one.source,
		})
	}
	return out
}

// caseSags looks at the front edge of a case between its feet: top and bottom
// and the rails on them bend together, each about its own middle, tied by what
// stands between; half of the load hangs on the front. A back that is fixed
// all round carries the other half. Glue between rail and panel makes it
// stiffer, so that the figure is the most it can be.
func caseSags(in Input) []finding.Finding {
	b := in.Piece.Base
	if b == nil || b.Kind == "plinth" {
		return nil
	}
	feet, ok := stanceOf(in)
	if !ok {
		return nil
	}
	span := unit.MM(feet.right - feet.left)
	var ei float64 // N mm²
	what, creep := "", 0.0
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		lies := p.Role == build.RoleTop || p.Role == build.RoleBottom || p.Role == build.RoleRail && p.Length.Size > in.Model.Outside.X/2
		half := 0.5
		if p.Role == build.RoleRail {
			half = 1
		}
		if p.Role == build.RoleShell && p.Bent != nil {
			lies = true // one half is under, the other over
		}
		if !lies || p.Length.Size < span/2 {
			continue
		}
		e, ok := stiffness(in, *p, p.Grain != build.GrainWidth)
		if !ok {
			continue
		}
		creep = max(creep, e.creep)
		inertia := Beam{Width: p.Width.Size, Thickness: p.Thickness.Size}.inertia() * half
		if p.Role == build.RoleRail && len(p.Places) > 0 && along(p.Places[0].Frame.V, up3) {
			inertia = Beam{Width: p.Thickness.Size, Thickness: p.Width.Size}.inertia()
		}
		n := float64(p.Count)
		if p.Role == build.RoleShell && in.Piece.Case.Shape == "closed" && p.Count == 1 {
			n = 2
		}
		ei += n * float64(e.e) * inertia
		if what == "" {
			what = e.source
		}
	}
	if ei <= 0 || span <= 0 {
		return nil
	}
	mass := float64(Mass(in.Model, in.Shop)) + in.Piece.Use.LoadKg
	perMM := mass / 2 * gravity / in.Model.Outside.X.MM()
	l := span.MM()
	sag := sagOf(evenSag[Simple]*perMM*l*l*l*l, ei)
	f := finding.Finding{
		ID: "case-sags", Level: finding.Note, Place: "base", Figure: fine(in, sag), Limit: fine(in, span/seenRatio),
		Says:   fmt.Sprintf("Between its feet the front of the case spans %s and may sag up to %s under %s, %s in the long run.", in.Show(span), fine(in, sag), kg(in, mass), fine(in, sag.Scale(1+creep))),
		Source: "span/600, common practice; E from " + what,
	}
	switch {
	case sag > span/awsRatio:
		f.Level, f.Limit, f.Source = finding.Care, fine(in, span/awsRatio), "span/144, AWS 2009 1.2.21; E from "+what
	case sag <= span/seenRatio:
		return nil
	}
	limit := span / seenRatio
	f.Advice = fmt.Sprintf("Set a foot under the middle of the front, or bring the feet to %s apart, or glue a rail %s thick and %s high under the front.",
		down(in, span.Scale(1/math.Cbrt(float64(sag)/float64(limit)))), in.Show(railThick(in)), up(in, railFor(ei, float64(sag)/float64(limit), railThick(in))))
	return []finding.Finding{f}
}

// railThick is that of a rail as shops plane them: 20 mm or 3/4 in.
func railThick(in Input) unit.Length {
	if in.Piece.Units == unit.Imperial {
		return unit.Inch * 3 / 4
	}
	return 20 * unit.Millimetre
}

// railFor is how high a rail so thick, of a common hardwood (10 000 MPa taken),
// must be to make EI so many times as much.
func railFor(ei, over float64, thick unit.Length) unit.Length {
	return mmOf(math.Cbrt((over - 1) * ei * 12 / (10000 * thick.MM())))
}
