package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// joined plans the assembly of parts from their joints among each other.
func (m *maker) joined(name string, letters []string) assembly {
	a := assembly{name: name, letters: letters}
	lo, hi := m.bounds(letters)
	for _, j := range m.Model.Joints {
		if !slices.Contains(letters, j.A) || !slices.Contains(letters, j.B) || !gluedOrCaptive(j) || j.Kind == "butt with spline" || j.Kind == "spline" {
			continue // a seam with a spline is counted by its spline
		}
		n := m.meetings(j)
		a.joints += n
		if captive(j) {
			continue
		}
		p := m.parts[j.A]
		length, area, axis := m.contact(j)
		span := unit.MM(hi[axis] - lo[axis])
		a.lines = append(a.lines, press{
			on: fmt.Sprintf("%s %s to %s %s", j.A, p.Name, j.B, m.parts[j.B].Name), count: (n + 1) / 2, part: p, length: length, area: area,
			span: span, toGlue: p.Thickness.Size, cheeks: cheeks(j, length),
		})
	}
	if seams := m.splined(letters); seams > 0 {
		shell := m.parts[m.roles(build.RoleShell)[0]]
		a.joints += seams
		a.lines = append(a.lines, press{
			on: "seams of the shell, straps or long bars across", count: seams, part: shell, length: shell.Width.Size, area: unit.AreaOf(shell.Width.Size, shell.Thickness.Size),
			span: unit.MM(hi[0] - lo[0]), toGlue: shell.Thickness.Size,
		})
	}
	if len(letters) > 0 {
		a.square = m.squareOf(letters, lo, hi)
		a.rack, a.rackWhy = m.rackLimit()
	}
	return a
}

// cheeks is the glue on both sides of what reaches into a joint at both ends of
// a part: tenons take about two thirds of the width (common practice, no
// source).
func cheeks(j build.Joint, length unit.Length) unit.Area {
	switch j.Kind {
	case "mortise and tenon", "loose tenon", "dowel":
		return 2 * 2 * unit.AreaOf(j.Depth, length*2/3)
	}
	return 0
}

// captive parts lie in grooves without glue.
func captive(j build.Joint) bool {
	return j.Kind == "groove" || j.Kind == "grooved" && j.With == ""
}

// rackLimit is how far an opening may rack before it eats half of the gap
// round an inset front.
func (m *maker) rackLimit() (unit.Length, string) {
	var least unit.Length
	for _, o := range m.Model.Openings {
		if o.Gap > 0 && o.Front != "" && (least == 0 || o.Gap < least) {
			least = o.Gap
		}
	}
	if least == 0 {
		return 0, ""
	}
	return least / 2, fmt.Sprintf("half of the gap of %s round the fronts", m.Show(least))
}

// bounds is the room that parts take, in millimetres.
func (m *maker) bounds(letters []string) (lo, hi [3]float64) {
	first := true
	for _, l := range letters {
		p := m.parts[l]
		for _, at := range p.Places {
			a, b := extent(p, at)
			if first {
				lo, hi, first = a, b, false
				continue
			}
			for k := range 3 {
				lo[k], hi[k] = min(lo[k], a[k]), max(hi[k], b[k])
			}
		}
	}
	return lo, hi
}

// contact is the line of glue between the parts of a joint at one place where
// they meet: its length, its area, and the axis across it.
func (m *maker) contact(j build.Joint) (length unit.Length, area unit.Area, axis int) {
	a, b := m.parts[j.A], m.parts[j.B]
	if a.Bent != nil || b.Bent != nil { // a flat part on the run of a bent one, or two ends of a shell
		bent, flat := a, b
		if a.Bent == nil {
			bent, flat = b, a
		}
		t := min(bent.Thickness.Size, flat.Thickness.Size)
		return bent.Width.Size, unit.AreaOf(bent.Width.Size, t), map[bool]int{true: 0, false: 2}[flat.Bent != nil]
	}
	if (a.Role == build.RoleRail || a.Role == build.RoleStile) && len(a.Places) > 0 { // a stick meets others with its end
		lo, hi := extent(a, a.Places[0])
		return a.Width.Size, unit.AreaOf(a.Width.Size, min(a.Thickness.Size, b.Thickness.Size)), longest3(lo, hi)
	}
	for _, pa := range a.Places {
		la, ha := extent(a, pa)
		for _, pb := range b.Places {
			lb, hb := extent(b, pb)
			var d [3]float64
			touch := true
			for k := range 3 {
				d[k] = min(ha[k], hb[k]) - max(la[k], lb[k])
				touch = touch && d[k] > -2
				d[k] = max(d[k], 0)
			}
			if !touch {
				continue
			}
			sorted := d
			slices.Sort(sorted[:])
			axis = 0
			for k := range 3 {
				if d[k] < d[axis] {
					axis = k
				}
			}
			wide := min(sorted[1], min(a.Thickness.Size, b.Thickness.Size).MM()*1.5)
			return unit.MM(sorted[2]), unit.Area(sorted[2] * wide / 1e6), axis
		}
	}
	return a.Width.Size, unit.AreaOf(a.Width.Size, a.Thickness.Size), 0
}

func longest3(lo, hi [3]float64) int {
	axis := 0
	for k := range 3 {
		if hi[k]-lo[k] > hi[axis]-lo[axis] {
			axis = k
		}
	}
	return axis
}

// caseParts are those closed at the glue-up of the case.
func (m *maker) caseParts() []string {
	out := map[string]bool{}
	outside := map[string]bool{}
	for _, l := range m.frameParts() {
		outside[l] = true
	}
	for _, l := range m.roles(build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom, build.RolePacker, build.RoleRunner, build.RoleLeg, build.RolePlinth, build.RoleFront, build.RoleDoor) {
		outside[l] = true
	}
	for _, l := range m.roles(build.RoleShell, build.RoleSide) {
		out[l] = true
	}
	for _, j := range m.Model.Joints {
		if gluedOrCaptive(j) && !outside[j.A] && !outside[j.B] && j.A != "" && j.B != "" {
			out[j.A], out[j.B] = true, true
		}
	}
	return m.pick(func(p build.Part) bool { return out[p.Letter] })
}

// carcass is the case: dry fit, glue-up, frame on it, trimmed flush.
func (m *maker) carcass() {
	letters := m.caseParts()
	if len(letters) == 0 {
		return
	}
	a := m.joined("case", letters)
	a.title, a.makes = "Glue up the case", "case"
	a.cauls = "A caul as long as the joint over each line of clamps, bowed by 1 mm so that its middle presses first; tape where glue might hold it."
	a.why = "Inside parts go in first, what closes the case last: nothing can be put between two sides that are glued."
	a.check = "Diagonals in front and behind; a straightedge over the front edges: all flush. Back not twisted: sight over two sticks."
	if a.square.w == 0 {
		a.check = "Front and behind as the card says; a straightedge over the front edges: all flush."
	}
	a.what = m.caseOrder(letters)
	if lo, hi := m.bounds(letters); math.Max(hi[0]-lo[0], hi[2]-lo[2]) > longPanel.MM() {
		a.people = 2
	}
	if a.joints > 0 {
		m.dryFit(a)
		m.glueUp(a)
	}
	m.assemble("case", letters...)
	if _, ok := m.last["case"]; !ok { // a shell that needs no gluing up is the case as it stands
		m.last["case"] = m.last[letters[0]]
		for _, l := range letters {
			m.last["case"] = max(m.last["case"], m.last[l])
		}
	}
	m.frameOn(letters)
}

// frameOn glues the frame on the case and trims it flush.
func (m *maker) frameOn(caseLetters []string) {
	frame := m.frameParts()
	if m.Piece.Frame == nil || len(frame) == 0 {
		return
	}
	edge := m.parts[caseLetters[0]].Thickness.Size
	stile := m.parts[frame[0]]
	lo, hi := m.bounds(frame)
	round := unit.MM(2 * (hi[0] - lo[0] + hi[2] - lo[2]))
	depth := m.Piece.Case.Depth + stile.Thickness.Size
	a := assembly{
		name: "frame on the case", title: "Glue the frame on the case", letters: append(slices.Clone(frame), caseLetters...), makes: "case and frame",
		lines: []press{{
			on: "frame, all round the front edge", count: 1, part: stile, length: round, area: unit.Area(round.Metres() * edge.Metres()),
			span: depth, toGlue: stile.Thickness.Size, together: true,
		}},
		cauls:  "Straight cauls along stiles and rails spread the pressure; two brads with their heads nipped off keep the frame from sliding.",
		why:    "The frame goes on once the case is square, and brings its edges into one plane.",
		check:  "Proud all round by what the parts list says, no edge of the case showing. Openings still square: measure diagonals again.",
		what:   "Spread glue on the edge of the case only, lay the frame on, move it by the brads, clamp from the middle outward.",
		joints: (len(frame) + 1) / 2,
	}
	if math.Max(hi[0]-lo[0], hi[2]-lo[2]) > longPanel.MM() {
		a.people = 2
	}
	m.glueUp(a)
	m.add(Step{
		Op: Flush, Title: "Trim the frame flush", Parts: frame, Units: round.Metres(),
		What: m.roundOff(frame) + "Trim what stands proud with a flush cutter or plane, then scrape to the face of the case.", Why: "Made a little large and cut back, the frame meets the case without a step; cut to size before, it never would.",
		Check: "A fingernail across the joint feels nothing; the face veneer is not cut through.", Mind: []Work{Routing},
	})
}

// roundOff takes off the corners of a frame that was glued up square over bent
// corners of the case.
func (m *maker) roundOff(frame []string) string {
	if !slices.ContainsFunc(frame, func(l string) bool { return curvedStile(m.parts[l]) }) {
		return ""
	}
	return "Saw the outer corners off 1 to 2 mm outside the bend of the case, so that the cutter has little to take. "
}

// boxes are the drawer boxes.
func (m *maker) boxes() {
	sides, ends, bottoms := m.roles(build.RoleBoxSide), m.roles(build.RoleBoxEnd), m.roles(build.RoleBoxBottom)
	drawers := m.count(sides) / 2
	if drawers == 0 || len(ends) == 0 {
		return
	}
	all := slices.Concat(sides, ends, bottoms)
	tall := slices.MaxFunc(sides, func(x, y string) int { return cmp.Compare(m.parts[x].Width.Size, m.parts[y].Width.Size) })
	s := m.parts[tall]
	e := m.parts[slices.MaxFunc(ends, func(x, y string) int { return cmp.Compare(m.parts[x].Length.Size, m.parts[y].Length.Size) })]
	wide, deep := m.boxSquare()
	a := assembly{
		name: "drawer boxes", title: "Glue up the drawer boxes", letters: all, makes: "drawer boxes", repeat: drawers, joints: 4,
		lines: []press{{
			on: "corners of the tallest box", count: 2, part: s, length: s.Width.Size, area: unit.AreaOf(s.Width.Size, e.Thickness.Size), span: wide, toGlue: s.Thickness.Size,
		}},
		square: square{w: wide, h: deep, between: "the outside corners of the widest box"},
		cauls:  "Blocks over the corners that press beside the joint, not on pins that stand proud.",
		why:    "Box by box: a box glued square and flat runs square and flat.",
		check:  "Both diagonals; the box lies on the flat bench without rocking. The bottom is loose in its groove: glue kept out.",
		what:   "Glue the corners, slide the bottom in dry, close the box.",
	}
	a.rack, a.rackWhy = m.rackLimit()
	m.dryFit(assembly{name: "drawer boxes", letters: all, joints: 4, repeat: drawers})
	m.glueUp(a)
	m.add(Step{
		Op: Flush, Title: "Flush the drawer boxes", Parts: all, Units: 2 * (s.Length.Size + wide).Metres() * float64(drawers),
		What: "Plane corners and edges flush, ease the edges, sand the outside.", Why: "Runners want straight, flush sides; hands find every sharp edge.",
		Check: "Width of each box at front and back against the fitting card: between least and most.", Mind: []Work{Sanding},
	})
}

// base is the plinth; legs are shaped already.
func (m *maker) base() {
	letters := m.roles(build.RolePlinth)
	if len(letters) < 2 {
		return
	}
	a := m.joined("plinth", letters)
	if a.joints == 0 {
		return
	}
	lo, hi := m.bounds(letters)
	a.square, a.rack, a.rackWhy = square{w: unit.MM(hi[0] - lo[0]), h: unit.MM(hi[1] - lo[1])}, 0, ""
	a.title, a.makes = "Glue up the plinth", "plinth"
	a.cauls = "Mitre blocks or tape across the outside of each mitre; corner blocks rubbed in from inside."
	a.why = "The plinth carries everything: out of flat, it racks each opening above it."
	a.check = "Both diagonals, and no rocking on a flat floor."
	m.dryFit(a)
	m.glueUp(a)
}
