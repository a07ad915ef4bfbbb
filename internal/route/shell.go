package route

import (
	"fmt"
	"slices"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/unit"
)

// longPanel is the length from which a kerfed panel is carried by two (common
// practice, no source).
const longPanel = 1200 * unit.Millimetre

// hardEnough is the hours after which even a glue that goes on curing for days
// holds a bend (common practice, no source).
const hardEnough = 24

// kerfsToAJoint is how many kerfs are filled in the time of one joint (first
// guess, no source).
const kerfsToAJoint = 4

// shell kerfs the strips, bends them and glues the bends.
func (m *maker) shell() {
	kerfed := m.pick(func(p build.Part) bool { return len(p.Kerfs) > 0 })
	if len(kerfed) == 0 {
		return
	}
	m.testBend(kerfed)
	people := 1
	for _, l := range kerfed {
		if m.parts[l].Length.Size > longPanel {
			people = 2
		}
	}
	for _, q := range m.Setups {
		if q.Part == "" {
			continue
		}
		p := m.parts[q.Part]
		settings, passes := cuts(q)
		depth := unit.Length(0)
		for _, s := range q.Setups {
			depth = max(depth, s.Depth)
		}
		m.add(Step{
			Op: Kerf, Title: fmt.Sprintf("Kerf %s %s", p.Letter, p.Name), Parts: []string{p.Letter}, Machine: q.Saw, Setups: settings, Units: float64(passes) / float64(m.n), People: people,
			What:  fmt.Sprintf("Saw the kerfs from the card: %s, %s, %s deep. All kerfs from one datum; the far half turned end for end at the same setting.", document.Count(settings, "setting"), document.Count(passes, "cut"), m.Show(depth)),
			Why:   "Kerfed last of all: every cut before this needs a stiff panel. The middle kerfs come last, so the panel stays stiff as long as it can.",
			Check: "Caliper the skin at the first kerf and again after each ten: within 0.1 mm (0.004 in). Carry it with a board along it.",
			Mind:  append(sawWork(q), Kerfing),
		})
	}
	m.bends(kerfed, people)
	m.bandStep(bandedAndKerfed(m), "Band the edges of the shell", "Bands go on after bending: before, they would bridge the kerfs and buckle.")
}

func bandedAndKerfed(m *maker) []string {
	return m.pick(func(p build.Part) bool { return len(p.Bands) > 0 && len(p.Kerfs) > 0 })
}

// testBend is asked for until the record has one for panel and saw.
func (m *maker) testBend(kerfed []string) {
	for _, l := range kerfed {
		p := m.parts[l]
		b := m.Model.Bends[p.Kerfs[0].Bend]
		for _, t := range m.Record.TestBends {
			if t.Panel == p.Material && t.Saw == b.Saw {
				return
			}
		}
	}
	m.add(Step{
		Op: BendOp, Title: "Make a test bend", Parts: kerfed, Units: 1 / float64(m.n),
		What:  "Kerf a strip of the same panel, grain the same way, close it by hand, measure angle, kerf and skin, and write them on the bend card and into the record.",
		Why:   "Skin, glue lines and blade differ from the book by more than a bend forgives. The next plan takes what was measured.",
		Check: "The angle at which all kerfs close agrees with the card within its band; the face shows no flats and no crack.",
		Mind:  []Work{Kerfing, Bending},
	})
}

func (m *maker) bends(kerfed []string, people int) {
	perPiece, kerfs, soften, open := 0, 0, false, false
	for _, l := range kerfed {
		p := m.parts[l]
		perPiece += len(p.Kerfs) * p.Count
		for _, g := range p.Kerfs {
			kerfs = max(kerfs, len(g.Positions))
			r := m.Model.Bends[g.Bend].Design.Result
			soften = soften || r.Verdict == bend.SoftenFirst && !m.Shop.Habits.DrySkin
			open = open || r.StaysOpen()
		}
	}
	form := "over a form or between cauls cut to the outside radius"
	switch {
	case m.Piece.Case.Form:
	case open:
		form = "to a template of its round, a strap round the outside; its kerfs do not close"
	default:
		form = "until the kerfs close, a strap round the outside"
	}
	s := Step{
		Op: BendOp, Title: "Bend the shell without glue", Parts: kerfed, Units: float64(perPiece), People: people,
		What:  "Bend each corner " + form + "; check angle and width, let it back.",
		Why:   "A rehearsal: what sticks, cracks or wants another strap shows while there is no glue in it.",
		Check: "Square or template at each corner, winding sticks across the edges: no twist. Dust blown out of every kerf.",
		Mind:  []Work{Bending},
	}
	if soften {
		s.Title = "Soften and bend the shell"
		s.What = "Soak the kerfed face with hot water, bend each corner slowly " + form + ", and hold it so until it is dry."
		s.Why = "Dry, this skin would be strained past what it stands; wet and warm it gives. Glue wants dry wood, so it dries on the form first."
		s.Wait, s.WaitFor = curveTime, "the skin to dry on the form"
		s.Mind = append(s.Mind, WetSkin)
	}
	m.add(s)
	p := m.parts[kerfed[0]]
	a := assembly{
		name: "bends of the shell", title: "Glue the bends of the shell", letters: kerfed, repeat: m.count(kerfed), people: people,
		cauls:  "Cauls or a form cut to the outside radius, packing tape on them; a strap round the outside, corner blocks under it. Force comes from the strap, not from bar clamps.",
		why:    "Glue in the kerfs makes the corner stiff; a bend is under stress, so it stays held until the glue has its full strength.",
		check:  "Width inside against the drawing at both edges before the glue grabs; corner against the template; it lies flat on the bench.",
		what:   "Fill every kerf to its bottom, close the bend slowly, strap it.",
		open:   open,
		joints: (len(p.Kerfs)*kerfs + kerfsToAJoint - 1) / kerfsToAJoint,
		lines: []press{{
			on: "each bend, across its width", count: len(p.Kerfs), part: p, length: p.Width.Size, span: p.Thickness.Size, toGlue: p.Thickness.Size,
		}},
	}
	for _, k := range p.Kerfs { // millilitres of filler, at about 1.1 g each
		a.filler += 1.1 * m.Model.Bends[k.Bend].Design.Result.Glue
	}
	g := m.glueFor(a, float64(a.joints)*m.rates[GlueUpOp].Run)
	a.hold, a.holdWhy = Minutes(g.Full*60), g.Name+" to its full strength: the bend is under stress"
	if g.Full > hardEnough {
		a.hold, a.holdWhy = Minutes(hardEnough*60), g.Name+" to harden for a day: the bend is under stress"
	}
	if a.open {
		a.why = "The kerfs stay open, and what fills them makes the corner stiff: wood glue would shrink in them. A bend is under stress, so it stays held until the filler is hard."
		a.what = "Thicken " + g.Name + " until it stands, fill every kerf to its bottom, bend it slowly to its form or template, strap it, strike off what comes out. Or glue strips of wood into the kerfs with it."
	}
	m.glueUp(a)
}

// frame parts are stiles and the rails joined to them.
func (m *maker) frameParts() []string {
	in := map[string]bool{}
	for _, l := range m.roles(build.RoleStile) {
		in[l] = true
	}
	for changed := len(in) > 0; changed; {
		changed = false
		for _, j := range m.Model.Joints {
			for _, pair := range [][2]string{{j.A, j.B}, {j.B, j.A}} {
				if in[pair[0]] && !in[pair[1]] && m.parts[pair[1]].Role == build.RoleRail {
					in[pair[1]], changed = true, true
				}
			}
		}
	}
	return m.pick(func(p build.Part) bool { return in[p.Letter] })
}

// frame is dry-fitted, glued and flushed by itself: flat on the bench it can
// be made true; on the case it could not.
func (m *maker) frame() {
	letters := m.frameParts()
	if len(letters) == 0 {
		return
	}
	a := m.joined("frame", letters)
	a.title, a.makes = "Glue up the frame", "frame"
	a.cauls = "Scrap along the outer edges, so that jaws leave no mark; bars on the line of each rail, over and under in turn, the frame flat on two battens."
	a.why = "The frame is made by itself, where it can be measured and clamped flat; drawers and fronts follow its openings."
	a.check = "Both diagonals; each opening against the drawing; winding sticks on the battens. Wipe no glue into the grain of a show face."
	m.dryFit(a)
	m.glueUp(a)
	m.add(Step{
		Op: Flush, Title: "Flush the frame", Parts: letters, Units: m.metres(letters) * 2,
		What: "Plane or sand both faces of the frame flush at the joints, the hidden face first.", Why: "The hidden face lies on the case: a step there opens a joint in front.",
		Check: "Straightedge over every joint; no light. Sand across no joint with coarse grit.", Mind: []Work{Sanding},
	})
}

// metres is the running length of the letters in one piece.
func (m *maker) metres(letters []string) float64 {
	sum := 0.0
	for _, l := range letters {
		sum += m.parts[l].Length.Size.Metres() * float64(m.parts[l].Count)
	}
	return sum
}

// dryFit rehearses an assembly.
func (m *maker) dryFit(a assembly) {
	joints := a.joints
	if joints == 0 {
		return
	}
	m.add(Step{
		Op: DryFit, Title: "Dry-fit the " + a.name, Parts: a.letters, After: []int{m.pegged(a.letters)}, Units: float64(joints * max(1, a.repeat)),
		What:  fmt.Sprintf("Put the %s together without glue, clamps and cauls as on the card, in the order of the clock. Time it: %s must be closed.", a.name, document.Count(joints, "joint")),
		Why:   "What does not go together dry will not go together wet, and the clock of the glue does not stop.",
		Check: "Every shoulder closed by hand pressure, diagonals agree, clamps long enough. Minutes taken, written on the glue-up card.",
	})
}

// gluedOrCaptive says that a joint is closed at a glue-up: all but screws, what
// must move, and the rebate of a back, which goes on from behind.
func gluedOrCaptive(j build.Joint) bool {
	return !slices.Contains([]string{"screwed", "buttons", "slots", "rebated"}, j.Kind)
}
