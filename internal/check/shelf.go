package check

import (
	"fmt"
	"math"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Loads on shelves in pascals, and how far a shelf may sag.
const (
	loadGeneral = 40 * poundPerFoot2 // AWS 2009 1.2.21
	loadBooks   = 50 * poundPerFoot2 // AWS 2009 1.2.21: books, schools
	loadKCMA    = 15 * poundPerFoot2 // ANSI/KCMA A161.1

	seenRatio = 600 // 0.02 in per foot is seen by eye; common practice
	awsRatio  = 144 // AWS 2009 1.2.21
	kcmaRatio = 192 // 1/16 in per foot, ANSI/KCMA A161.1
	kcmaMost  = unit.Inch / 4
)

// poundPerFoot2 is a pound-force per square foot in pascals.
const poundPerFoot2 = 4.4482216152605 / (0.3048 * 0.3048)

const gravity = 9.80665 // m/s²

// stiff is how a part bends along a span.
type stiff struct {
	e      unit.Stress
	mor    unit.Stress // 0: not known
	creep  float64     // k_def
	source string
}

// Creep of solid wood indoors: EN 1995-1-1:2004 table 3.2, service class 1.
const creepSolid = 0.60

// Across the grain solid wood is about a twentieth as stiff as along it: from
// 0.03 to 0.09 in FPL-GTR-190 table 5-1, from memory.
const acrossShare = 20

// stiffness is that of a part with its grain along the span or across it.
func stiffness(in Input, p build.Part, along bool) (stiff, bool) {
	if p.Solid {
		s, ok := wood.FindSpecies(in.Shop.Woods[p.Material].Species)
		if !ok || s.MOE <= 0 {
			return stiff{}, false
		}
		if !along {
			return stiff{s.MOE / acrossShare, 0, creepSolid, "a twentieth of " + s.StrengthBy.String() + ", FPL-GTR-190 table 5-1, from memory"}, true
		}
		return stiff{s.MOE, s.MOR, creepSolid, s.StrengthBy.String()}, true
	}
	k, ok := wood.FindPanel(in.Shop.Panels[p.Material].Kind)
	if !ok {
		return stiff{}, false
	}
	e := k.EAlong
	if !along {
		e = k.EAcross
	}
	return stiff{e, 0, k.Creep, k.ModulusBy.String()}, e > 0
}

// shelfLoad is the even load on a shelf in newtons per metre, and where it
// comes from.
func shelfLoad(u piece.Use, s *piece.Shelves, depth unit.Length) (float64, string) {
	if s != nil && s.Load > 0 {
		return s.Load * gravity, "load from the piece"
	}
	if u.For == "books" {
		return loadBooks * depth.Metres(), "load for books 50 lb/ft², AWS 2009 1.2.21"
	}
	return loadGeneral * depth.Metres(), "load 40 lb/ft², AWS 2009 1.2.21"
}

// shelves looks at the sag of every shelf between what carries it: over the
// width of its opening, or behind a frame from panel to panel, which stand
// wider apart.
func shelves(in Input) []finding.Finding {
	var out []finding.Finding
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleShelf || p.Bent != nil || len(p.Places) == 0 {
			continue
		}
		o := openingOf(in.Model, p.Places[0].Name)
		var fill *piece.Shelves
		span := p.Length.Size
		if o != nil {
			if in.Piece.Frame == nil {
				span = min(o.Width.Size, span)
			}
			if s := openingAt(in.Piece.Inside, o.Path); s != nil {
				fill = s.Shelves
			}
		}
		perMetre, loadBy := shelfLoad(in.Piece.Use, fill, p.Width.Size)
		if f, ok := sags(in, p, span, perMetre, loadBy); ok {
			out = append(out, f)
		}
		if in.Piece.Use.For == "kitchen" {
			if f, ok := sagsKCMA(in, p, span); ok {
				out = append(out, f)
			}
		}
	}
	return out
}

// sags compares one simply supported part with the limits, the strictest it
// breaks by most.
func sags(in Input, p *build.Part, span unit.Length, perMetre float64, loadBy string) (finding.Finding, bool) {
	e, ok := stiffness(in, *p, p.Grain != build.GrainWidth)
	if !ok || span <= 0 {
		return finding.Finding{}, false
	}
	b := Beam{Span: span, Width: p.Width.Size, Thickness: p.Thickness.Size, E: e.e, Support: Simple}
	first := b.Sag(perMetre)
	long := first.Scale(1 + e.creep)
	seen, aws := span/seenRatio, span/awsRatio
	f := finding.Finding{
		ID: "shelf-sags", Place: partPlace(p),
		Says: fmt.Sprintf("%s spans %s and sags %s under %s, %s in the long run.",
			document.Capital(p.Name)+" "+p.Letter, in.Show(span), fine(in, first), kg(in, perMetre/gravity*span.Metres()), fine(in, long)),
	}
	if stiff := b; p.Name == "fixed shelf" {
		stiff.Support = Fixed
		f.Says += fmt.Sprintf(" Its joints, if they hold it stiff, make that %s.", fine(in, stiff.Sag(perMetre)))
	}
	by := "; E from " + e.source + "; " + loadBy
	limit, got := seen, first
	switch {
	case e.mor > 0 && b.Stress(perMetre) > e.mor:
		f.Level, f.Figure, f.Limit = finding.Stop, fmt.Sprintf("%.0f MPa", float64(b.Stress(perMetre))), fmt.Sprintf("%.0f MPa", float64(e.mor))
		f.Says += " It breaks."
		f.Source = "bending strength" + by
		limit, got = aws, first
	case first > aws:
		f.Level, f.Source = finding.Stop, "span/144, AWS 2009 1.2.21"+by
		limit = aws
	case long > aws:
		f.Level, f.Source = finding.Care, "span/144, AWS 2009 1.2.21; creep EN 1995-1-1 table 3.2"+by
		limit, got = aws, long
	case first > seen:
		f.Level, f.Source = finding.Care, "span/600, common practice"+by
	default:
		return finding.Finding{}, false
	}
	if f.Figure == "" {
		f.Figure, f.Limit = fine(in, got), fine(in, limit)
	}
	// The advice leaves nothing to say: good for the eye and the long run too.
	over := max(float64(first)/float64(seen), float64(long)/float64(aws))
	f.Advice = stiffer(in, p, span, over)
	if p.Solid {
		f.Fix = setTo(in, "thicknesses.shelves", p.Thickness.Size.Scale(math.Cbrt(over)).RoundUp(step(in)), "Make the shelves %s thick")
	}
	return f, true
}

// sagsKCMA is the test of kitchen cabinets: 15 lb/ft² for seven days.
func sagsKCMA(in Input, p *build.Part, span unit.Length) (finding.Finding, bool) {
	e, ok := stiffness(in, *p, p.Grain != build.GrainWidth)
	if !ok {
		return finding.Finding{}, false
	}
	b := Beam{Span: span, Width: p.Width.Size, Thickness: p.Thickness.Size, E: e.e}
	sag, limit := b.Sag(loadKCMA*p.Width.Size.Metres()), min(span/kcmaRatio, kcmaMost)
	if sag <= limit {
		return finding.Finding{}, false
	}
	return finding.Finding{
		ID: "shelf-sags-kitchen", Level: finding.Care, Place: partPlace(p),
		Says:   fmt.Sprintf("%s %s sags %s under the 15 lb/ft² of kitchen cabinets. Estimate only; the test is physical.", document.Capital(p.Name), p.Letter, fine(in, sag)),
		Figure: fine(in, sag), Limit: fine(in, limit),
		Advice: stiffer(in, p, span, float64(sag)/float64(limit)), Source: "ANSI/KCMA A161.1, 1/16 in per foot and at most 1/4 in; E from " + e.source,
	}, true
}

// stiffer says what to change where a sag is so many times its limit: the
// thickness goes with its cube root, and so does the span where the limit is a
// share of the span.
func stiffer(in Input, p *build.Part, span unit.Length, over float64) string {
	k := math.Cbrt(over)
	s := fmt.Sprintf("Make it %s thick, or shorten the span to %s", up(in, p.Thickness.Size.Scale(k)), down(in, span.Scale(1/k)))
	if p.Grain == build.GrainWidth {
		s += ", or turn the grain along the span"
	}
	return s + fmt.Sprintf(", or glue a lipping %s deep along the front.", up(in, lipping(p.Thickness.Size, p.Width.Size, over)))
}

// lipping is how deep a strip 20 mm thick on the front edge must be for the
// part to be over times as stiff, taken to be of like stiffness: the two bend
// together, each about its own middle.
func lipping(thick, wide unit.Length, over float64) unit.Length {
	return mmOf(math.Cbrt((over - 1) * wide.MM() * cube(thick.MM()) / 20))
}
