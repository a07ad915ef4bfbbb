package bend

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// findings lists what the maker should look at, gravest first.
func (r Result) findings() []finding.Finding {
	var stops, cares, notes []finding.Finding
	add := func(f finding.Finding) {
		f.Place = r.Spec.Place
		switch f.Level {
		case finding.Stop:
			stops = append(stops, f)
		case finding.Care:
			cares = append(cares, f)
		default:
			notes = append(notes, f)
		}
	}
	r.strainFindings(add)
	r.closingFindings(add)
	r.cutFindings(add)
	r.faceFindings(add)
	return append(append(stops, cares...), notes...)
}

func (r Result) show() show { return show(r.Spec.Units) }

func (r Result) strainFindings(add func(finding.Finding)) {
	limit := max(r.AllowDry, r.AllowWet)
	thin := "Leave a thinner skin, use more kerfs or a thinner blade, or a larger radius"
	if r.Spec.Outside {
		thin += "; or cut the kerfs on the inside"
	}
	f := finding.Finding{Figure: percent(r.Strain), Limit: percent(limit), Advice: thin + ".", Source: r.Spec.Material.Source}
	switch {
	case r.Verdict == WillCrack:
		f.ID, f.Level = "bend-cracks", finding.Stop
		f.Says = fmt.Sprintf("The skin stretches %s; it stands about %s%s. It will crack.", percent(r.Strain), percent(limit), r.state())
	case r.Verdict == Marginal || r.Borderline:
		f.ID, f.Level = "bend-marginal", finding.Care
		f.Says = fmt.Sprintf("The skin stretches %s and stands about %s; that is too close to call.", percent(r.Strain), percent(r.deciding()))
		f.Limit = percent(r.deciding())
		f.Advice = "Bend a coupon from the same sheet first. " + f.Advice
	case r.Verdict == SoftenFirst:
		f.ID, f.Level = "bend-soften", finding.Note
		f.Says = fmt.Sprintf("The skin stretches %s: more than the %s it stands dry, less than the %s it stands soaked hot.", percent(r.Strain), percent(r.AllowDry), percent(r.AllowWet))
		f.Limit, f.Advice = percent(r.AllowDry), "Soften the skin with hot water before bending, and let it dry on the form."
	default:
		return
	}
	add(f)
	if t := r.Spec.Skin.MM(); r.Spec.Material.Dry.P > 0 && (t < 0.9 || t > 4.7) {
		add(finding.Finding{
			ID: "bend-skin-range", Level: finding.Note,
			Says:   fmt.Sprintf("The strain a skin of %s stands is drawn out from data on %s.", r.show().mm(t, 3), r.show().span(0.9, 4.7)),
			Figure: r.show().size(r.Spec.Skin), Limit: r.show().span(0.9, 4.7), Advice: "Trust a coupon over the figure.", Source: r.Spec.Material.Source,
		})
	}
}

// deciding is the allowable the verdict was decided by.
func (r Result) deciding() float64 {
	if r.Verdict == BendsDry {
		return r.AllowDry
	}
	return max(r.AllowDry, r.AllowWet)
}

func (r Result) state() string {
	if r.AllowWet > r.AllowDry {
		return " even softened"
	}
	return ""
}

// gapGlued is the widest gap that wood glue fills (common practice, no source).
const gapGlued = unit.Millimetre / 4

// StaysOpen says that the kerfs, at the wanted angle, stay open by more than
// wood glue fills: they want a filler that does not shrink.
func (r Result) StaysOpen() bool {
	return !r.Spec.Outside && r.Gap > gapGlued && r.ClosesAt >= r.Turn
}

func (r Result) closingFindings(add func(finding.Finding)) {
	if r.Spec.Outside {
		return
	}
	needed := int(r.WantedCount) + 1
	switch turn := r.Turn; {
	case r.ClosesAt < turn-1e-9:
		add(finding.Finding{
			ID: "bend-closes-short", Level: finding.Stop,
			Says:   fmt.Sprintf("The kerfs close at %s, short of %s.", degrees(r.ClosesAt), degrees(turn)),
			Figure: degrees(r.ClosesAt), Limit: degrees(turn),
			Advice: fmt.Sprintf("Cut at least %d kerfs, or wider ones.", needed), Source: "derived",
		})
	case r.Band.AngleP05 < turn:
		add(finding.Finding{
			ID: "bend-closes-short", Level: finding.Care,
			Says:   fmt.Sprintf("The kerfs close at %s, but with shop errors 5 bends in 100 close before %s.", degrees(r.ClosesAt), degrees(r.Band.AngleP05)),
			Figure: degrees(r.Band.AngleP05), Limit: degrees(turn),
			Advice: "Cut one kerf more: a gap can be filled, an angle not reached cannot be glued. Or set depth and count by a test bend.", Source: "derived; by simulation",
		})
	case r.ClosesYielded < turn:
		add(finding.Finding{
			ID: "bend-closes-yielded", Level: finding.Care,
			Says:   fmt.Sprintf("If the hollow side of the skin gives way as expected, the kerfs close at %s.", degrees(r.ClosesYielded)),
			Figure: degrees(r.ClosesYielded), Limit: degrees(turn),
			Advice: "Bend a test piece, or cut one kerf more.", Source: "derived",
		})
	}
	if r.StaysOpen() {
		advice := "Bend over a form, which sets the radius, and fill with thickened epoxy or strips of wood; plain wood glue shrinks."
		if !r.Spec.Form && r.Count > 1 {
			free := r.FreeBend()
			advice += fmt.Sprintf(" Without a form the worst kerf turns about %.2f times the mean, and the face stands up to %s off its circle.", free.Worst, r.show().fixed(free.Away, 1))
		}
		add(finding.Finding{
			ID: "bend-gap", Level: finding.Note,
			Says:   fmt.Sprintf("Each kerf stays open by %s at its mouth.", r.show().fixed(r.Gap, 2)),
			Figure: r.show().fixed(r.Gap, 2), Limit: r.show().mm(gapGlued.MM(), 6),
			Advice: advice, Source: "common practice, no source; without a form: derived, by simulation",
		})
	}
}

func (r Result) cutFindings(add func(finding.Finding)) {
	if r.Land < r.Spec.LeastLand {
		add(finding.Finding{
			ID: "bend-land-thin", Level: finding.Care,
			Says:   fmt.Sprintf("The land between two kerfs is %s thick.", r.show().fixed(r.Land, 2)),
			Figure: r.show().fixed(r.Land, 2), Limit: r.show().size(r.Spec.LeastLand),
			Advice: "Thin lands break out in handling. Use fewer kerfs, a thinner blade or a larger radius.", Source: "common practice, no source",
		})
	}
	blade := r.Spec.Kerf
	for i, p := range r.Spec.Passes {
		if most := blade - unit.MM(0.1); p > most {
			add(finding.Finding{
				ID: "bend-sliver", Level: finding.Stop,
				Says:   fmt.Sprintf("Pass %d is offset %s and leaves a sliver standing.", i+2, r.show().size(p)),
				Figure: r.show().size(p), Limit: r.show().size(most), Advice: fmt.Sprintf("Offset it by at most %s.", r.show().size(most)), Source: "common practice, no source",
			})
		}
	}
	if r.Spec.Tooth.Form == VeeTooth {
		add(finding.Finding{
			ID: "bend-vee", Level: finding.Note,
			Says:   "The strain of a skin under a V is an estimate.",
			Figure: percent(r.Strain), Advice: "Bend a coupon first.", Source: "derived; not checked by a second method",
		})
	}
	if r.Spec.Outside {
		add(finding.Finding{
			ID: "bend-outside", Level: finding.Note,
			Says:   "With the kerfs outside, their sharp bottom corners lie in the stretched side.",
			Figure: percent(r.Strain), Limit: percent(max(r.AllowDry, r.AllowWet)),
			Advice: "Expect the first crack there; the strain allowed is taken as half.", Source: "common practice, no source",
		})
	}
}

func (r Result) faceFindings(add func(finding.Finding)) {
	if limit := r.Spec.Sheen.Limit(); limit > 0 && r.Facet > limit {
		add(finding.Finding{
			ID: "bend-facets", Level: finding.Care,
			Says:   fmt.Sprintf("The flats between the kerfs stand %s under the crests and will show in a %s finish.", r.show().fixed(r.Facet, 3), r.Spec.Sheen),
			Figure: r.show().fixed(r.Facet, 3), Limit: r.show().size(limit),
			Advice: "Use more, thinner kerfs: half the pitch leaves a quarter of the facet.", Source: "derived; limit: common practice, no source",
		})
	}
	if face := r.facePly(); face > 0 && r.Facet > face/4 {
		add(finding.Finding{
			ID: "bend-sand-through", Level: finding.Care,
			Says:   fmt.Sprintf("Sanding the facets away takes %s off the crests; the face ply is %s.", r.show().fixed(r.Facet, 2), r.show().fixed(face, 2)),
			Figure: r.show().fixed(r.Facet, 2), Limit: r.show().fixed(face/4, 2),
			Advice: "Do not sand the facets round; use more kerfs.", Source: "derived",
		})
	}
	if r.AngleEach > unit.Deg(5) {
		add(finding.Finding{
			ID: "bend-felt", Level: finding.Note,
			Says:   fmt.Sprintf("Each kerf turns %s; flats over 4 to 5 degrees are felt by hand.", degrees(r.AngleEach)),
			Figure: degrees(r.AngleEach), Limit: "5.0°", Advice: "Use more, thinner kerfs for a face to be touched.", Source: "common practice, no source",
		})
	}
}

// facePly is the thickness of the face ply, as far as it is known.
func (r Result) facePly() unit.Length {
	switch {
	case len(r.Spec.Material.Layers) > 0:
		return r.Spec.Material.Layers[0].Thickness
	case r.Spec.Material.Kind == FacePlyRound:
		return r.Spec.Skin
	}
	return 0
}

func percent(f float64) string    { return fmt.Sprintf("%.2f %%", f*100) }
func degrees(a unit.Angle) string { return fmt.Sprintf("%.1f°", a.Deg()) }
