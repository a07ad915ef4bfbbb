package route

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// fitting hangs drawers, fronts and doors, and takes them off again for the
// finish.
func (m *maker) fitting() {
	drawers, doors := 0, 0
	for _, o := range m.Model.Openings {
		switch o.Fill {
		case "drawer":
			drawers++
		case "door":
			doors++
		}
	}
	if drawers > 0 {
		m.add(Step{
			Op: Fit, Title: "Fit runners and boxes", Parts: slices.Concat(m.roles(build.RolePacker, build.RoleRunner), m.caseParts(), m.roles(build.RoleBoxSide)), Units: float64(drawers) * (1 - measuring),
			What:  "Packers as the fitting card has them, then runners, the left and the right of an opening from one spacer; hang each box, note which belongs where.",
			Why:   "The opening as it came out is what a drawer runs in, not the one on the drawing.",
			Check: "Each box runs out and home by one finger, alike at both sides; its face stands parallel to the frame.",
			Mind:  []Work{Screwing, Drilling},
		})
	}
	fronts := m.roles(build.RoleFront)
	if len(fronts) > 0 {
		m.add(Step{
			Op: Fit, Title: "Fit the fronts", Parts: slices.Concat(fronts, m.roles(build.RoleBoxEnd), m.caseParts()), Units: float64(m.count(fronts)),
			What:  "Plane each front to its opening, set it on spacers, drive two screws in slack holes from inside, adjust, then the two that fix it. Bore for pulls with a template.",
			Why:   "A front fitted to its own opening shows an even gap; one made to the drawing shows the error of the case.",
			Check: "The same feeler goes all round. Pulls in line from front to front.",
			Mind:  []Work{Screwing, Drilling},
		})
	}
	hung := m.roles(build.RoleDoor)
	if len(hung) > 0 {
		m.add(Step{
			Op: Fit, Title: "Hang the doors", Parts: slices.Concat(hung, m.caseParts()), Units: float64(max(doors, 1)),
			What:  "Hinges into door and case, hang, adjust height, side and depth; bore for pulls. Take the door off again, leave plates marked.",
			Why:   "All boring is done before the finish, so no chip and no mark comes after it.",
			Check: "Even gaps, closes without touching, stands where it is left.",
			Mind:  []Work{Screwing, Drilling},
		})
	}
	if drawers+len(fronts)+len(hung) > 0 {
		m.add(Step{
			Op: Assemble, Title: "Take all off for the finish", Parts: slices.Concat(fronts, hung, m.roles(build.RoleBoxSide), m.caseParts()), Units: max(m.screws("runner", "front", "hinge")/2, float64(m.count(fronts)+2*m.count(hung))),
			What: "Boxes, runners, fronts, doors and pulls off; each lettered where it will not show; screws in a bag to each opening.", Why: "Finish on a runner gums it up, finish round a pull leaves a ring.",
			Check: "Nothing of metal is left on what gets a finish.",
		})
	}
}

// screws counts the screws of one piece whose place holds one of the words.
func (m *maker) screws(words ...string) float64 {
	n := 0
	for _, u := range m.Model.Screws {
		if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(u.Where, w) }) {
			n += u.Count
		}
	}
	return float64(n)
}

// assembly puts the finished parts together.
func (m *maker) assembly() {
	whole := m.caseParts()
	put := func(title string, parts []string, n float64, what, why, check string, mind ...Work) {
		if len(parts) == 0 && n == 0 {
			return
		}
		m.add(Step{Op: Assemble, Title: title, Parts: append(slices.Clone(parts), whole...), Units: max(n, float64(m.count(parts))), What: what, Why: why, Check: check, Mind: append(mind, Screwing)})
	}
	people := 1
	if m.heavy() {
		people = 2
	}
	if b := m.Piece.Base; b != nil {
		parts := m.roles(build.RoleLeg, build.RolePlinth, build.RoleBlock)
		how := ""
		if b.Kind == "plinth" && slices.ContainsFunc(m.Model.Parts, func(p build.Part) bool { return p.Role == build.RoleBottom && p.Solid }) {
			how = " Tight along the front; behind in slots, not tight: the solid bottom moves, the sides of the plinth do not."
		}
		m.add(Step{
			Op: Assemble, Title: "Put it on its " + b.Kind, Parts: append(slices.Clone(parts), whole...), Units: max(m.screws("leg", "plate", "caster", "foot", "plinth"), 4), People: people,
			What:  "Turn the piece on its back or top, on blankets; screw on " + b.Kind + " with the screws of the table, stop on the bit." + how,
			Why:   "The base goes on before drawers and doors: it is lightest now.",
			Check: "On a flat floor it does not rock; the case is level both ways.",
			Mind:  []Work{Screwing, Lifting},
		})
	}
	for _, j := range m.Model.Joints {
		if j.Kind == "buttons" || j.Kind == "slots" {
			put("Put the top on", []string{j.A}, m.screws("top"), "Lay the top on, even overhang, screw it down by its "+j.Kind+", not tight.", "A solid top moves across its grain; held tight, it splits or bends the sides.",
				"It can be felt to slide under a push at the back; no gap in front.")
		}
	}
	if backs := without(m.roles(build.RoleBack), whole); len(backs) > 0 {
		put("Screw on the back", backs, m.screws("back"), "Square the case by its diagonals, then screw the back all round, corners first.", "The back holds the case square; it goes on once inside and back have their finish.",
			"Diagonals of the front openings still agree.")
	}
	if boxes := m.roles(build.RoleBoxSide); len(boxes) > 0 {
		put("Runners and drawers in", slices.Concat(m.roles(build.RolePacker, build.RoleRunner, build.RoleFront), boxes), m.screws("runner", "front", "packer", "pull"),
			"Packers and runners back in their own holes, boxes in their openings, fronts on, pulls on.", "Each goes back where it was fitted.",
			"Every drawer opens and shuts with all others shut; then all open in turn. Gaps as before.")
	}
	if doors := m.roles(build.RoleDoor); len(doors) > 0 {
		put("Doors on", doors, m.screws("door", "hinge"), "Hang the doors, set gaps"+m.doorHardware()+".", "They are the last thing to be scratched.", "Gaps even, no rub, closes by itself the last of the way if the hinge does.")
	}
	if shelves := without(m.roles(build.RoleShelf), whole); len(shelves) > 0 {
		put("Pins and shelves in", shelves, float64(m.count(shelves)*4), "Pins into their holes, shelves on them.", "Last of all, so that no shelf lies on a coat that is still soft.", "No shelf rocks.")
	}
	var rest []string
	for _, p := range m.Model.Parts {
		if t := m.thing(p.Letter); t == p.Letter && !m.used(p.Letter, Assemble) {
			rest = append(rest, p.Letter)
		}
	}
	if len(rest) > 0 {
		put("Fit what is left", rest, float64(m.count(rest)), "Fit "+m.names(rest)+" as drawn.", "What has no place of its own in the order is easiest fitted when everything round it is there.", "Nothing of the parts list is left on the bench.")
	}
}

// doorHardware names what else is fitted to doors, where there is such.
func (m *maker) doorHardware() string {
	var have []string
	for _, w := range []string{"pull", "catch"} {
		if slices.ContainsFunc(m.Model.Hardware, func(f build.Fitting) bool {
			return strings.Contains(f.For, "door") && (m.Shop.Hardware[f.Key].Kind == w || strings.Contains(f.Name, w))
		}) {
			have = append(have, map[string]string{"pull": "pulls", "catch": "catches"}[w])
		}
	}
	if len(have) == 0 {
		return ""
	}
	return ", fit " + and(have)
}

// used says that a letter is in a step of an operation.
func (m *maker) used(letter string, op Op) bool {
	return slices.ContainsFunc(m.steps, func(s Step) bool { return s.Op == op && slices.Contains(s.Parts, letter) })
}

// heavy says that one person had better not lift the piece: over 23 kg by
// rough volume and the densities of its materials.
func (m *maker) heavy() bool { return m.mass() > 23 }

// mass is that of the parts, with 650 kg/m³ where no density is known; for
// lifting only.
func (m *maker) mass() float64 {
	sum := 0.0
	for _, p := range m.Model.Parts {
		rho := 650.0
		if w, ok := m.Shop.Panels[p.Material]; ok && w.Density > 0 {
			rho = w.Density
		}
		sum += rho * float64(p.Count) * float64(unit.VolumeOf(p.Length.Size, p.Width.Size, p.Thickness.Size))
	}
	return sum
}

// handOver is the last look, packing and delivery.
func (m *maker) handOver() {
	var all []string
	for _, p := range m.Model.Parts {
		all = append(all, p.Letter)
	}
	people, mind := 1, []Work{Lifting, InUse}
	if m.heavy() {
		people = 2
	}
	if slices.ContainsFunc(m.Model.Openings, func(o build.Opening) bool { return o.Fill == "drawer" || o.Fill == "door" }) {
		mind = append(mind, Storage)
	}
	o := m.Model.Outside
	m.add(Step{
		Op: Deliver, Title: "Check, pack and deliver", Parts: all, Units: 1, People: people, Machine: "",
		What:  fmt.Sprintf("Go over the piece with the findings in hand; wipe, photograph, wrap: %s × %s × %s and the wrapping. Deliver with %s.%s", m.Show(o.X), m.Show(o.Y), m.Show(o.Z), m.alongside(), m.hang()),
		Why:   "What is found here costs minutes, at the customer's a day.",
		Check: m.arrived(),
		Mind:  mind,
	})
}
