package route

import (
	"fmt"
	"slices"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/unit"
)

// measuring is the share of fitting an opening that its measuring takes (first
// guess, no source).
const measuring = 1.0 / 6

// openings are measured as soon as nothing moves them any more; only then is
// cut what must fit them.
func (m *maker) openings() {
	late := m.pick(func(p build.Part) bool { return p.ToMeasure })
	if len(late) == 0 {
		return
	}
	m.measure(late)
	for _, w := range m.Woods {
		m.millLast(w, m.latePackers(w), "")
	}
	m.breakDown(true)
	m.size()
	m.band(true)
	boxes := m.roles(build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom)
	rest := without(late, boxes)
	m.drill(rest, "Drill and groove the "+m.kinds(rest), "They have their size now, and their reference faces still.")
	m.mortises(rest, "Cut the joints of the "+m.kinds(rest))
	m.drill(boxes, "Groove and rebate the drawer boxes", "All grooves for bottoms are cut at one setting, so the bottoms line up round the corner.")
	m.corners(boxes)
	m.chamfers(rest)
	_, inside, _ := m.insides()
	m.beforeGlue(inside, "Corners inside a box are out of reach once it is glued.")
}

// kinds names what is fitted, but for boxes: fronts, doors and packers.
func (m *maker) kinds(letters []string) string {
	var out []string
	for _, k := range []struct {
		role  build.Role
		words string
	}{{build.RoleFront, "fronts"}, {build.RoleDoor, "doors"}, {build.RolePacker, "packers"}} {
		if slices.ContainsFunc(letters, func(l string) bool { return m.parts[l].Role == k.role }) {
			out = append(out, k.words)
		}
	}
	return and(out)
}

// measure takes the openings as they came out.
func (m *maker) measure(late []string) {
	n := 0
	for _, o := range m.Model.Openings {
		if o.Fill == "drawer" || o.Inset {
			n++
		}
	}
	when := "The case is glued up and nothing moves it any more"
	if m.Piece.Frame != nil && len(m.frameParts()) > 0 {
		when = "The frame is on and trimmed flush"
	}
	m.measured = 1 + m.add(Step{
		Op: Fit, Title: "Measure the openings", Parts: slices.Concat(m.caseParts(), m.frameParts()), Units: float64(max(n, 1)) * measuring,
		What:  fmt.Sprintf("%s: measure every opening as the fitting card shows and write it there and into the record; print the saw paper and the cards anew, or work the sizes out by hand as the card says. Now %s can be cut.", when, m.names(late)),
		Why:   "No opening comes out as drawn. A box or an inset front that is cut before cannot be made wider.",
		Check: "The fitting card finds no doubt in the measures; each box between its least and most, each front its opening less the gaps.",
	})
}

// size cuts what was left larger to the measured openings.
func (m *maker) size() {
	for _, q := range m.Setups {
		if !q.Sizes || !q.After {
			continue
		}
		letters, mind := m.milled(q.Stock, true), append(sawWork(q), SolidWood)
		how := "Rip %s to width, then crosscut to length, in the order of the saw paper: %s. Sticks of several short parts are cut apart here."
		if len(letters) == 0 {
			letters, mind = m.pick(func(p build.Part) bool { return p.Material == q.Stock && p.IsBlank() }), sawWork(q)
			how = "Cut the blanks of %s to width, then to length, in the order of the saw paper: %s."
		}
		if len(letters) == 0 {
			continue
		}
		settings, passes := cuts(q)
		name := m.Shop.StockCalled(q.Stock)
		m.add(Step{
			Op: Size, Title: "Cut " + name + " to the measured openings", Parts: letters, After: []int{m.measured}, Machine: q.Saw, Setups: settings, Units: float64(passes) / float64(m.n),
			What:  fmt.Sprintf(how, m.names(letters), document.Count(settings, "setting")) + asMeasured(true),
			Why:   "The opening as it came out is what they must fit, not the one on the drawing.",
			Check: "Hold the first of each to its opening before the next is cut. Stand pairs on end side by side: no step to feel.",
			Mind:  mind,
		})
	}
}

// asMeasured says whose sizes hold after the measuring.
func asMeasured(after bool) string {
	if after {
		return " Sizes as measured, from the fitting card, not as planned."
	}
	return ""
}

// blanks says which parts come out of a panel larger than they will be.
func (m *maker) blanks(letters []string) string {
	var over unit.Length
	var have []string
	for _, l := range letters {
		if b := m.parts[l].Oversize.Blank; b > 0 {
			over, have = b, append(have, l)
		}
	}
	if len(have) == 0 {
		return ""
	}
	return fmt.Sprintf(" Left %s longer and wider than they will be (common practice, no source): %s. The last cut waits until the openings are measured; the layout and the settings have the blanks.", m.Show(over), m.names(have))
}

// leftRough says which parts of a wood are not cut to size yet.
func (m *maker) leftRough(wood string) string {
	late := m.milled(wood, true)
	if len(late) == 0 {
		return ""
	}
	return fmt.Sprintf(" Left at their rough width and length until the openings are measured: %s.", m.names(late))
}
