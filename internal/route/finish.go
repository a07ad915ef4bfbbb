package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/table"
	"casewright/internal/unit"
)

// Class is a class of finish with the figures it is planned by.
type Class struct {
	Key      string  `json:"key"`
	Name     string  `json:"name"`
	Coats    int     `json:"coats"`
	Fewest   int     `json:"coats_fewest"`
	Most     int     `json:"coats_most"`
	Recoat   float64 `json:"recoat_hours"` // the long end
	Soonest  float64 `json:"recoat_soonest_hours"`
	Cure     float64 `json:"cure_days"`         // the long end
	Coverage float64 `json:"coverage_m2_per_l"` // the low end: so much is bought for
	Density  float64 `json:"density_kg_per_l"`
	Last     int     `json:"last_grit"`
	Raises   bool    `json:"raises_grain,omitempty"`
	Oily     bool    `json:"oily,omitempty"`
	Cleaner  string  `json:"cleaned_with"`
	Source   string  `json:"source"`
}

func classOf(r *table.Row) Class {
	return Class{
		Key: r.Text("key"), Name: r.Text("name"), Coats: int(r.Number("coats")), Fewest: int(r.Number("coats_low")), Most: int(r.Number("coats_high")),
		Recoat: r.Number("recoat_high_h"), Soonest: r.Number("recoat_low_h"), Cure: r.Number("cure_high_d"), Coverage: r.Number("coverage_low"), Density: r.Number("density_kg_l"),
		Last: int(r.Number("last_grit")), Raises: r.Text("raises_grain") == "yes", Oily: r.Text("oily") == "yes", Cleaner: r.Text("cleaned_with"), Source: r.Text("source"),
	}
}

// ClassOf is a class of finish as the shop's tin says, else with the usual
// figures; false for none. How far it goes is said by the coat of the shop,
// else by the supply that is bought of it.
func ClassOf(key string, s shop.Shop) (Class, bool) {
	i := slices.IndexFunc(known.finishes, func(c Class) bool { return c.Key == key })
	if i < 0 {
		return Class{}, false
	}
	c := known.finishes[i]
	if t, ok := s.Coats[key]; ok {
		c.Name, c.Coats = cmp.Or(t.Name, c.Name), cmp.Or(t.Coats, c.Coats)
		c.Recoat, c.Cure, c.Coverage = cmp.Or(t.Recoat, c.Recoat), cmp.Or(t.Cure, c.Cure), cmp.Or(t.Coverage, c.Coverage)
		c.Soonest = min(c.Soonest, c.Recoat)
		c.Source = "the label, from the shop; else " + c.Source
		if t.Coverage > 0 {
			return c, true
		}
	}
	if _, x, ok := s.SupplyFor("finish", key); ok && x.PerLitre(c.Density) > 0 {
		c.Coverage = x.PerLitre(c.Density)
		c.Source = "how far it goes: the label, from the shop's supplies; else " + c.Source
	}
	return c, true
}

// Schedule is one finish on one group of surfaces.
type Schedule struct {
	Name     string    `json:"name"` // insides, outside
	Class    Class     `json:"class"`
	Coats    int       `json:"coats"`
	Letters  []string  `json:"letters"`
	Area     unit.Area `json:"area_m2"` // in one piece
	Litres   float64   `json:"litres"`  // for all coats on all pieces
	PerCoat  float64   `json:"litres_per_coat"`
	Solid    []int     `json:"grits_solid,omitempty"`
	Veneered []int     `json:"grits_veneered,omitempty"`
	EndGrain int       `json:"end_grain_grit,omitempty"`
	Between  int       `json:"between_coats_grit"`
	Sanding  int       `json:"sanding_step"`
	Steps    []int     `json:"coat_steps"` // one for each coat
	Notes    []string  `json:"notes,omitempty"`
}

// grades are the abrasive grits sold, FEPA P, coarse to fine.
var grades = []int{80, 100, 120, 150, 180, 220, 240, 320}

// betweenCoats is the grit between coats (common practice, no source).
const betweenCoats = 320

// Grits is the way from the first grit to the last, skipping at most one grade
// at a time (common practice, no source).
func Grits(first, last int) []int {
	a, b := slices.Index(grades, first), slices.Index(grades, last)
	if a < 0 || b < a {
		return []int{last}
	}
	out := []int{first}
	for a < b {
		a = min(a+2, b)
		out = append(out, grades[a])
	}
	return out
}

// Coverage is how far a litre goes at a wet film so thick: 1 m² at 1 mm is a
// litre. Exact.
func Coverage(wet unit.Length) float64 {
	if wet <= 0 {
		return math.Inf(1)
	}
	return 1 / wet.MM()
}

// surface is the area of sides of a part in one piece.
func (m *maker) surface(letter string, sides float64) unit.Area {
	p := m.parts[letter]
	return unit.Area(sides * float64(p.Count) * float64(unit.AreaOf(p.Length.Size, p.Width.Size)))
}

// edgesToo is the area of both faces and the edges of a part in one piece.
func (m *maker) edgesToo(letter string) unit.Area {
	p := m.parts[letter]
	rim := 2 * (p.Length.Size.Metres() + p.Width.Size.Metres()) * p.Thickness.Size.Metres()
	return m.surface(letter, 2) + unit.Area(rim*float64(p.Count))
}

// group is a set of surfaces that are finished together.
type group struct {
	name    string
	letters []string
	area    unit.Area
}

func (g *group) add(letter string, a unit.Area) {
	g.letters = append(g.letters, letter)
	g.area += a
}

// insides are the surfaces inside case and drawers; those of boxes, and early
// ones of the case, must have their finish before glue-up, because no hand
// gets at them afterwards.
func (m *maker) insides() (early, boxes, late group) {
	early.name, boxes.name, late.name = "insides before glue-up", "insides of the boxes before glue-up", "insides"
	closed := m.Piece.Back != nil && m.Piece.Back.Fit == "grooved"
	inCase := m.caseParts()
	for _, p := range m.Model.Parts {
		l := p.Letter
		to := &late
		if closed {
			to = &early
		}
		switch p.Role {
		case build.RoleBoxSide, build.RoleBoxEnd:
			boxes.add(l, m.surface(l, 1))
			late.add(l, m.surface(l, 1))
		case build.RoleBoxBottom:
			boxes.add(l, m.surface(l, 2))
		case build.RoleShell, build.RoleSide, build.RoleBottom:
			to.add(l, m.surface(l, 1))
		case build.RoleTop:
			if !m.lidTop() {
				to.add(l, m.surface(l, 1))
			}
		case build.RoleDivider:
			to.add(l, m.surface(l, 2))
		case build.RoleBack:
			to.add(l, m.surface(l, 2))
		case build.RoleShelf:
			if !slices.Contains(inCase, l) {
				to = &late // it lies loose
			}
			to.add(l, m.edgesToo(l))
		}
	}
	return early, boxes, late
}

// outside are the surfaces that are seen.
func (m *maker) outside() group {
	g := group{name: "outside"}
	for _, p := range m.Model.Parts {
		l := p.Letter
		switch p.Role {
		case build.RoleShell, build.RoleSide, build.RoleBottom:
			g.add(l, m.surface(l, 1))
		case build.RoleTop:
			if m.lidTop() {
				g.add(l, m.edgesToo(l))
			} else {
				g.add(l, m.surface(l, 1))
			}
		case build.RoleFront, build.RoleDoor, build.RoleLeg, build.RolePlinth, build.RoleStile:
			g.add(l, m.edgesToo(l))
		case build.RoleRail:
			if slices.Contains(m.frameParts(), l) {
				g.add(l, m.edgesToo(l))
			}
		case build.RoleLoose:
			if !m.inside(l) {
				g.add(l, m.edgesToo(l))
			}
		}
	}
	return g
}

// lidTop says that the top is laid over the case, and finished all round; one
// that closes the case has an inner face.
func (m *maker) lidTop() bool { return m.Piece.Case.Top != nil }

// seenInside says that neither drawer nor door closes the piece: its insides are
// seen, and air gets at them.
func (m *maker) seenInside() bool {
	return !slices.ContainsFunc(m.Model.Openings, func(o build.Opening) bool { return o.Fill == "drawer" || o.Fill == "door" })
}

// inside says that a loose part is let into others and not seen.
func (m *maker) inside(l string) bool {
	for _, j := range m.Model.Joints {
		if (j.A == l || j.B == l) && (j.Kind == "spline" || j.Depth > 0) {
			return true
		}
	}
	return false
}

// insideClass is the finish for insides: oil and varnish smell for weeks where
// no air gets at them, so shellac is taken there unless the piece says else.
// In an open piece they are seen like the outside and get what it gets.
func (m *maker) insideClass() (Class, bool) {
	key := m.Piece.Finish.Inside
	outer, ok := ClassOf(m.Piece.Finish.Kind, m.Shop)
	if key == "" {
		if !ok {
			return Class{}, false
		}
		if key = outer.Key; outer.Oily && !m.seenInside() {
			key = "shellac"
		}
	}
	return ClassOf(key, m.Shop)
}

// early finishes what cannot be reached after glue-up.
func (m *maker) early() {
	g, _, _ := m.insides()
	m.beforeGlue(g, "All of a case with a back in grooves is out of reach once it is glued.")
}

// beforeGlue finishes insides that are glued up next.
func (m *maker) beforeGlue(g group, why string) {
	c, ok := m.insideClass()
	if !ok || g.area == 0 {
		return
	}
	m.coatGroup(g, c, c.Coats, "Tape glue faces and grooves first: glue does not hold on finish.", why)
}

// finishing is all the rest: insides, then what is seen.
func (m *maker) finishing() {
	_, _, late := m.insides()
	if c, ok := m.insideClass(); ok && late.area > 0 {
		m.coatGroup(late, c, c.Coats, "All hardware is off. Both faces of loose panels get the same coats, so they stay flat.",
			"Insides first: what runs over an edge is sanded off with the outside.")
	}
	g := m.outside()
	c, ok := ClassOf(m.Piece.Finish.Kind, m.Shop)
	if g.area == 0 {
		return
	}
	if !ok {
		m.sand(g, 180, "Sand what is seen")
		return
	}
	n := cmp.Or(m.Piece.Finish.Coats, c.Coats)
	m.coatGroup(g, c, n, "Hardware is off, screw holes are stopped, glue spots looked for with a wet sponge under low light.",
		"Fronts and doors get their finish off the case, flat, on points: no runs, and all edges at once.")
	m.conditions(c)
}

func (m *maker) sand(g group, last int, title string) (int, Schedule) {
	s := Schedule{Name: g.name, Letters: g.letters, Area: g.area, Between: betweenCoats}
	var solid, veneered bool
	for _, l := range g.letters {
		solid = solid || m.parts[l].Solid
		veneered = veneered || !m.parts[l].Solid
	}
	grits := 0
	what := ""
	if solid {
		s.Solid = Grits(100, last)
		if i := slices.Index(grades, last); i >= 0 && i+1 < len(grades) {
			s.EndGrain = grades[i+1]
		}
		grits = len(s.Solid)
		what = fmt.Sprintf("Solid wood %s, end grain on to %d. ", through(s.Solid), s.EndGrain)
	}
	if veneered {
		s.Veneered = Grits(150, last)
		grits = max(grits, len(s.Veneered))
		what += fmt.Sprintf("Veneered panels only %s, by hand at the edges. ", through(s.Veneered))
	}
	i := m.add(Step{
		Op: Sand, Title: title, Parts: g.letters, Units: float64(g.area) * float64(grits),
		What:  what + "With the grain, dust off between grits, pencil marks gone before the next grit.",
		Why:   "Each grit takes out the scratches of the last; one that is left out shows under the first coat. A face veneer of 0.5 mm has about 0.2 mm to give.",
		Check: "Low light from the side: no scratch across the grain, no glue spot, no edge sanded through.",
		Mind:  []Work{Sanding, SolidWood},
	})
	s.Sanding = i + 1
	return i, s
}

func through(grits []int) string {
	out := ""
	for i, g := range grits {
		switch {
		case i == 0:
		case i == len(grits)-1:
			out += " and "
		default:
			out += ", "
		}
		out += fmt.Sprint(g)
	}
	return out
}

// coatGroup sands a group and puts its coats on, each with its wait.
func (m *maker) coatGroup(g group, c Class, coats int, first, why string) {
	_, s := m.sand(g, c.Last, "Sand the "+g.name)
	s.Class, s.Coats = c, coats
	s.PerCoat = float64(g.area) * float64(m.n) / c.Coverage
	s.Litres = s.PerCoat * float64(coats)
	mind := []Work{Finishing}
	if c.Oily {
		mind = append(mind, OilyRags)
	}
	if c.Key == "lacquer" {
		mind = append(mind, Spraying)
	}
	for k := range coats {
		what := fmt.Sprintf("%s, about %s for %s.", document.Capital(c.Name), unit.Liquid(s.PerCoat, m.Piece.Units), (g.area*unit.Area(m.n)).Led(m.Piece.Units, 2))
		wait := c.Recoat
		switch {
		case k == 0:
			what = first + " " + what
			if c.Raises {
				what += " It raises the grain: wet the wood with water before, let it dry, take the fuzz off with the last grit."
			}
		default:
			what = fmt.Sprintf("Rub with %d, dust off, then the coat. ", betweenCoats) + what
		}
		if k == coats-1 { // before anything is set on it
			wait = max(wait, 24)
		}
		i := m.add(Step{
			Op: FinishOp, Title: fmt.Sprintf("Coat %d of %d, %s: %s", k+1, coats, g.name, c.Name), Parts: g.letters, Units: float64(g.area),
			Wait: minutes(wait * 60), WaitFor: "the coat to dry", Whole: true,
			What: what, Why: why, Check: "A fingertip in a corner where nobody looks: dry, not tacky, before the next coat. No runs at the edges.", Mind: mind,
		})
		s.Steps = append(s.Steps, i+1)
	}
	if c.Fewest < c.Most {
		s.Notes = append(s.Notes, fmt.Sprintf("%d to %d coats are usual.", c.Fewest, c.Most))
	}
	s.Notes = append(s.Notes, fmt.Sprintf("Hours are the long end of the usual range (%s to %s); the label comes first.", figure(c.Soonest), figure(c.Recoat)))
	m.coats = append(m.coats, s)
}

// conditions says so where the air of the shop slows the finish down: below
// 13 °C (55 °F) or above 70 % relative humidity (common practice, no source).
func (m *maker) conditions(c Class) {
	w := m.Shop.Working
	if w.People == 0 { // made in a program, without the defaults
		return
	}
	if w.Temperature < 13 {
		m.say(finding.Finding{
			ID: "finish-cold", Level: finding.Care, Place: "finish",
			Says:   fmt.Sprintf("The shop is at %s °C; below 13 °C (55 °F) %s dries slower than the dates say.", figure(w.Temperature), c.Name),
			Figure: figure(w.Temperature) + " °C", Limit: "13 °C", Advice: fmt.Sprintf("Warm the room by %s °C, or wait until a coat is dry, not until the date.", figure(13-w.Temperature)), Source: Common,
		})
	}
	if w.Humidity > 70 {
		m.say(finding.Finding{
			ID: "finish-damp", Level: finding.Care, Place: "finish",
			Says:   fmt.Sprintf("The air in the shop is at %s %%; above 70 %% %s dries slower than the dates say, and shellac and lacquer blush.", figure(w.Humidity), c.Name),
			Figure: figure(w.Humidity) + " %", Limit: "70 %", Advice: "Dry or warm the air first; keep coats thin.", Source: Common,
		})
	}
}
