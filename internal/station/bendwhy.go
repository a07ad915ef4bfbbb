package station

import (
	"fmt"
	"math"

	"casewright/internal/bend"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// BendSlope is what one small change at the saw does to a bend whose kerfs
// are cut as planned.
type BendSlope struct {
	What   string `json:"what"`
	Closes string `json:"closes,omitempty" doc:"change of the angle at which the kerfs close"`
	Radius string `json:"radius,omitempty" doc:"change of the radius when they are closed"`
	Strain string `json:"strain" doc:"change of the strain, of itself"`
	Force  string `json:"force,omitempty" doc:"change of the force, of itself"`
}

// bendSlopes works the bend out again with one figure changed; count and
// pitch stay as they were cut.
func bendSlopes(p plan.Plan, r bend.Result) []BendSlope {
	const step = unit.Millimetre / 10
	cut := r.Spec
	cut.Count, cut.Draws = r.Count, 1 // nothing of the band is read
	cut.Radius, cut.Pitch = 0, r.Pitch
	was, err := bend.Evaluate(cut)
	if err != nil {
		return []BendSlope{}
	}
	tenth := fine(p, step)
	out := []BendSlope{}
	add := func(what string, change func(*bend.Spec)) {
		s := cut
		change(&s)
		now, err := bend.Evaluate(s)
		if err != nil {
			return
		}
		x := BendSlope{What: what, Strain: relative(now.Strain, was.Strain)}
		if was.Force > 0 {
			x.Force = relative(float64(now.Force), float64(was.Force))
		}
		if !s.Outside {
			x.Closes = signed(now.ClosesAt.Deg()-was.ClosesAt.Deg(), 1) + "°"
			by := now.ClosedRadius - was.ClosedRadius
			x.Radius = signed(by.MM(), 1) + " mm"
			if p.Piece.Units == unit.Imperial {
				x.Radius = signed(by.In(), 3) + " in"
			}
		}
		out = append(out, x)
	}
	if r.Spec.Tooth.Form != bend.VeeTooth {
		add("a kerf "+tenth.Own+" wider", func(s *bend.Spec) { s.Kerf += step })
	}
	add("a cut "+tenth.Own+" shallower, so a skin so much thicker", func(s *bend.Spec) { s.Skin += step })
	add("a panel "+tenth.Own+" thicker, cut to the same depth", func(s *bend.Spec) {
		s.Thickness += step
		if s.DepthFrom == bend.FromKerfedFace {
			s.Skin += step
		}
	})
	add("a pitch "+tenth.Own+" longer", func(s *bend.Spec) { s.Pitch += step })
	add("one kerf more", func(s *bend.Spec) { s.Count++ })
	return out
}

func relative(now, was float64) string {
	if was == 0 {
		return ""
	}
	return signed(100*(now/was-1), 0) + " %"
}

// signed is a number with its sign, a true minus.
func signed(v float64, places int) string {
	t := decimals(v, places)
	switch {
	case t == "0":
		return "±0"
	case t[0] == '-':
		return "−" + t[1:]
	}
	return "+" + t
}

// bendFigures are the numbers of a bend, each with its sum.
func bendFigures(p plan.Plan, r bend.Result, tested bool) []Figure {
	w := bendWhy{p, r}
	var out []Figure
	add := func(name string, v Size, why string, a ...any) {
		out = append(out, Figure{name, v.Own, v.Other, fmt.Sprintf(why, a...)})
	}
	text := func(name, value, why string, a ...any) {
		out = append(out, Figure{Name: name, Value: value, Why: fmt.Sprintf(why, a...)})
	}
	spec := r.Spec
	add("Depth of cut", fine(p, r.Depth), "thickness %s − skin %s", w.n(spec.Thickness), w.n(spec.Skin))
	add("The skin bends about a line at", fine(p, r.NeutralDepth), "%s", w.neutral(tested))
	if !spec.Outside {
		add("Lever", fine(p, r.Lever), "thickness %s − %s: from the line about which the skin bends to the mouth of the kerf", w.n(spec.Thickness), w.n(r.NeutralDepth))
		text("Each kerf closes at", degrees2(r.ClosingEach), "kerf %s ÷ lever %s = %s rad", w.n(r.Kerf), w.n(r.Lever), decimals(r.ClosingEach.Rad(), 4))
		text("Kerfs", fmt.Sprint(r.Count), "%s", w.count())
		text("Closes at", degrees(r.ClosesAt), "%d kerfs × %s; by simulation of %d bends with the shop's errors 5 in 100 close before %s, 5 in 100 past %s, and %s in 100 reach %s",
			r.Count, degrees2(r.ClosingEach), spec.Draws, degrees(r.Band.AngleP05), degrees(r.Band.AngleP95), decimals(100*r.Band.Reaches, 0), degrees(r.Turn))
	} else {
		text("Kerfs", fmt.Sprint(r.Count), "the least whose skin bends dry, failing that softened")
	}
	add("Pitch", fine(p, r.Pitch), "%s", w.pitch())
	add("Kerfed zone", sized(p, r.Zone), "%d × pitch %s", r.Count, w.n(r.Pitch))
	add("Wood between kerfs", fine(p, r.Land), "pitch %s − kerf %s; under %s it breaks out in handling (common practice, no source)", w.n(r.Pitch), w.n(r.Kerf), w.n(spec.LeastLand))
	text("Each kerf turns", degrees2(r.AngleEach), "%s ÷ %d", degrees(r.Turn), r.Count)
	add("Gap left at each mouth", fine(p, max(r.Gap, 0)), "what is left of the kerf at %s of its %s", degrees2(r.AngleEach), w.n(r.Kerf))
	add("Radius of the show face", sized(p, r.FaceRadius), "as the piece asks for; the kerfed side has %s", sized(p, r.KerfedRadius).Own)
	text("Strain of the skin", percent(r.Strain), "%s", w.strain())
	text("It stands", percent(max(r.AllowDry, r.AllowWet)), "%s", w.allowed())
	text("Flats under the crests", decimals(r.Facet.MM(), 3)+" mm", "(pitch %s − bent length %s) ÷ 2 × tan(%s ÷ 4); %s", w.n(r.Pitch), w.n(r.BentEach), degrees2(r.AngleEach), w.sheen())
	if r.Force > 0 {
		text("Force at "+sized(p, spec.Lever).Own, forceWords(p, r.Force), "moment %s N·mm for each mm of kerf × %s of kerf ÷ lever %s; elastic, dry", decimals(r.Moment, 1), sized(p, spec.Width).Own, sized(p, spec.Lever).Own)
	}
	text("Springs back unglued", degrees(r.Springback), "what the bent skins give back when let go before the glue holds; glued, %s", degrees2(r.GluedBack))
	if r.LaterMovement != 0 {
		text("Moves later", signed(r.LaterMovement.Deg(), 2)+"°", "when the wood takes up %s points of moisture: it swells more through its thickness than along the panel", decimals(spec.Moisture, 0))
	}
	if r.Glue > 0 {
		text("Filler to mix", decimals(r.Glue, 0)+" ml", "%d kerfs × %s mm² left open × %s long, a tenth over for waste (common practice, no source)", r.Count, decimals(r.VoidEach, 2), sized(p, spec.Width).Own)
	}
	return out
}

// bendWhy writes sums in the units of the piece.
type bendWhy struct {
	p plan.Plan
	r bend.Result
}

// n is a length as it stands in a sum, without its unit.
func (w bendWhy) n(l unit.Length) string {
	if w.p.Piece.Units == unit.Imperial {
		return decimals(l.In(), 3)
	}
	return decimals(l.MM(), 2)
}

func (w bendWhy) neutral(tested bool) string {
	s := w.r.Spec
	switch {
	case s.NeutralRatio > 0 && tested:
		return fmt.Sprintf("under the show face: %s of the skin of %s, as the test bends of this panel on this saw gave it", decimals(s.NeutralRatio, 2), w.n(s.Skin))
	case len(s.Material.Layers) > 0:
		return fmt.Sprintf("under the show face: the plies of the skin of %s weighed by their stiffness; a test bend measures it", w.n(s.Skin))
	}
	return fmt.Sprintf("under the show face: half the skin of %s, as for one stuff all through; a test bend measures it", w.n(s.Skin))
}

func (w bendWhy) count() string {
	r := w.r
	said := fmt.Sprintf("%s ÷ %s = %s", degrees(r.Turn), degrees2(r.ClosingEach), decimals(r.WantedCount, 2))
	least := int(math.Ceil(r.WantedCount - 1e-9))
	switch {
	case w.p.Piece.Case.Kerfs > 0:
		return said + "; the piece gives the count"
	case r.Count > least:
		return said + fmt.Sprintf(", so %d; %d, for 95 bends in 100 to reach the angle with the shop's errors, or for what the skin and the finish ask", least, r.Count)
	}
	return said + ", rounded up"
}

func (w bendWhy) pitch() string {
	r := w.r
	sign := "−"
	if r.Spec.Outside {
		sign = "+"
	}
	return fmt.Sprintf("(radius %s %s depth of the line %s) × %s rad ÷ %d", w.n(r.FaceRadius), sign, w.n(r.NeutralDepth), decimals(r.Turn.Rad(), 4), r.Count)
}

func (w bendWhy) strain() string {
	r := w.r
	said := fmt.Sprintf("distance from the line it bends about to the stretched side × %s rad ÷ %s of skin that bends at each kerf, roots in the lands included", decimals(r.AngleEach.Rad(), 4), w.n(r.BentEach))
	if r.StrainYielded > r.Strain*1.01 {
		said += fmt.Sprintf("; %s when the hollow side gives way as expected", percent(r.StrainYielded))
	}
	return said
}

func (w bendWhy) allowed() string {
	m, r := w.r.Spec.Material, w.r
	law := func(l bend.Law) string {
		return fmt.Sprintf("%s × skin in mm to the power −%s", decimals(l.A, 4), decimals(l.P, 2))
	}
	said := fmt.Sprintf("dry %s: %s", percent(r.AllowDry), law(m.Dry))
	if m.Wet.A > 0 {
		said += fmt.Sprintf("; soaked hot %s", percent(r.AllowWet))
	} else {
		said += "; wetting does not soften it"
	}
	if r.Spec.Outside {
		said += "; half of it is taken, for the corners of the kerfs lie in the stretched side"
	}
	if m.Source != "" {
		said += ". " + m.Name + ": " + m.Source
	}
	return said
}

func (w bendWhy) sheen() string {
	l := w.r.Spec.Sheen.Limit()
	if l == 0 {
		return "no finish is named"
	}
	return fmt.Sprintf("a %s finish shows %s mm (common practice, no source)", w.r.Spec.Sheen, decimals(l.MM(), 2))
}
