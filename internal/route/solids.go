package route

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Stick is a length of board that goes through jointer and planer in one
// piece. Parts too short for the machines stay together in it and are cut
// apart once they are milled.
type Stick struct {
	Wood      string      `json:"wood"`
	Class     string      `json:"class"`
	Letter    string      `json:"letter"`
	Name      string      `json:"name"`
	Count     int         `json:"count"`           // sticks, for all pieces
	Parts     int         `json:"parts_in_each"`   // parts (or strips of glued-up parts) that come out of one
	Length    unit.Length `json:"length"`          // as rough-cut
	Width     unit.Length `json:"width"`           // as rough-cut
	Rough     unit.Length `json:"rough_thickness"` // as bought
	Thickness unit.Length `json:"thickness"`       // finished
	Carrier   bool        `json:"carrier,omitempty"`
}

// rest is how thick solid wood is left over its final size before it settles,
// and how long it settles (machine manuals and handbooks: 3 mm, 24 to 48 h).
const (
	restOver          = 3 * unit.Millimetre
	restTime  Minutes = 24 * 60
	curveTime Minutes = 24 * 60
)

// shortest is the shortest piece that jointer and planer of a shop take.
func shortest(m shop.Machines) unit.Length {
	return max(m.PlanerShortest, m.JointerShortest)
}

// sticks are what the parts of a wood are milled from: no stick is shorter
// than the machines take.
func sticks(w yard.Wood, parts map[string]build.Part, pieces int, machines shop.Machines) []Stick {
	least := shortest(machines)
	var out []Stick
	for _, l := range w.Parts {
		p, ok := parts[l]
		if !ok || p.Rough == nil {
			continue
		}
		sizes := w.Strips(l)
		switch {
		case sizes != nil:
		case p.Rough.Strips > 1:
			sizes = []yard.StripSize{{Width: p.Rough.Strip, Count: p.Count * pieces * p.Rough.Strips}}
		default:
			sizes = []yard.StripSize{{Width: p.Rough.Width, Count: p.Count * pieces}}
		}
		for _, z := range sizes {
			s := Stick{
				Wood: w.Key, Class: w.Class, Letter: l, Name: p.Name, Count: z.Count, Parts: 1, Length: p.Rough.Length, Width: z.Width, Rough: p.Rough.Thickness, Thickness: p.Thickness.Size,
				Carrier: p.Thickness.Size < machines.PlanerThinnest,
			}
			if s.Length < least && s.Length > 0 {
				k := int((least + s.Length - 1) / s.Length)
				s.Parts = min(k, z.Count)
				s.Count = (z.Count + s.Parts - 1) / s.Parts
				s.Length = max(least, s.Length*unit.Length(s.Parts))
			}
			out = append(out, s)
		}
	}
	return out
}

// solids mills solid wood: rough, rest, final, edge glue, size.
func (m *maker) solids() {
	for _, w := range m.Woods {
		m.mill(w)
	}
	for _, q := range m.Setups {
		letters := m.milled(q.Stock, false)
		if len(letters) == 0 || q.Part != "" || q.After {
			continue
		}
		settings, passes := cuts(q)
		m.add(Step{
			Op: Size, Title: "Cut " + m.Shop.StockCalled(q.Stock) + " to width and length", Parts: letters, Machine: q.Saw, Setups: settings, Units: float64(passes) / float64(m.n),
			What:  fmt.Sprintf("Rip to width, then crosscut to length, in the order of the saw paper: %s. Sticks of several short parts are cut apart here.", document.Count(settings, "setting")) + m.leftRough(q.Stock),
			Why:   "Widths first, from the jointed edge; lengths last, from an end squared to that edge.",
			Check: "Stand pairs on end side by side: no step to feel. What is to be trimmed flush later is left proud as the parts list says.",
			Mind:  append(sawWork(q), SolidWood),
		})
	}
}

// milled are the parts of a wood that are cut to size before the openings are
// measured, or after.
func (m *maker) milled(wood string, after bool) []string {
	var out []string
	for _, w := range m.Woods {
		if w.Key != wood {
			continue
		}
		for _, l := range w.Parts {
			if m.parts[l].ToMeasure == after {
				out = append(out, l)
			}
		}
	}
	return out
}

func (m *maker) mill(w yard.Wood) {
	mine := sticks(w, m.parts, m.n, m.Shop.Milling())
	m.stick = append(m.stick, mine...)
	if len(mine) == 0 {
		return
	}
	n, settings := countSticks(mine)
	var together []string
	for _, s := range mine {
		if s.Parts > 1 || s.Length > m.parts[s.Letter].Rough.Length {
			together = append(together, fmt.Sprintf("%s %s, %d to a stick of %s", s.Letter, s.Name, s.Parts, m.Show(s.Length)))
		}
	}
	each := float64(n) / float64(m.n)
	what := fmt.Sprintf("Crosscut and rip %s to rough size: %s for %s.", w.Called(), document.Count(n, "stick"), m.names(w.Parts))
	if len(together) > 0 {
		what += fmt.Sprintf(" Too short for the machines (%s) are: %s; leave them together until they are milled.", m.Show(shortest(m.Shop.Milling())), strings.Join(together, "; "))
	}
	m.add(Step{
		Op: RoughCut, Title: fmt.Sprintf("Rough-cut %s", w.Called()), Makes: w.Parts, Parts: w.Parts, Units: each, Machine: m.sizer(),
		What: what, Why: "Longest parts first, from the best boards; what is left makes the short ones.",
		Check: "Every stick lettered, no check or knot where a show face comes, one spare stick of each thickness for setting machines.",
		Mind:  []Work{SolidWood},
	})
	m.add(Step{
		Op: Mill, Title: fmt.Sprintf("Mill %s oversize", w.Called()), Parts: w.Parts, Setups: settings, Units: each, Machine: "jointer and planer",
		Wait: restTime, WaitFor: "the wood to settle, on stickers",
		What:  fmt.Sprintf("Flatten one face, joint one edge square to it, plane the other face parallel, %s over final thickness. Stack on stickers for a day or two.", m.Show(restOver)),
		Why:   "Fresh faces let tension out; what cups in the night is planed straight before it is a part.",
		Check: "Sight along each; two sticks held to the light show no gap. Mark face and edge: they are the references from here on.",
		Mind:  []Work{Milling, SolidWood},
	})
	late := m.latePackers(w)
	left := ""
	if len(late) > 0 {
		left = fmt.Sprintf(" Left %s over until the openings are measured: %s.", m.Show(restOver), m.names(late))
	}
	m.millLast(w, without(w.Parts, late), left)
	m.edgeGlue(w)
}

// countSticks is how many sticks there are, and of how many thicknesses.
func countSticks(all []Stick) (n, settings int) {
	thick := map[unit.Length]bool{}
	for _, s := range all {
		n += s.Count
		thick[s.Thickness] = true
	}
	return n, len(thick)
}

// latePackers are the packers of a wood whose thickness waits for the measured
// openings: it brings the runners in line with their edges.
func (m *maker) latePackers(w yard.Wood) []string {
	var out []string
	for _, l := range w.Parts {
		if p := m.parts[l]; p.Role == build.RolePacker && p.ToMeasure && !slices.Contains(w.Glued, l) {
			out = append(out, l)
		}
	}
	return out
}

// millLast brings settled sticks of a wood to their thickness; left says what
// is not.
func (m *maker) millLast(w yard.Wood, letters []string, left string) {
	mine := slices.DeleteFunc(sticks(w, m.parts, m.n, m.Shop.Milling()), func(s Stick) bool { return !slices.Contains(letters, s.Letter) })
	if len(mine) == 0 {
		return
	}
	var thin []string
	for _, s := range mine {
		if s.Carrier {
			thin = append(thin, s.Letter+" "+s.Name)
		}
	}
	title, what := fmt.Sprintf("Mill %s to thickness", w.Called()), "Flatten the marked face again, joint the marked edge, plane to final thickness; all sticks of one thickness at one setting, the spare first."
	if m.measured > 0 {
		title, what = title+" as measured", what+" The thickness of each packer as measured, from the fitting card: it brings the runner in line with the edge of the opening."
	}
	if len(thin) > 0 {
		what += " On a carrier board go, being thinner than the planer takes: " + and(thin) + "."
	}
	n, settings := countSticks(mine)
	m.add(Step{
		Op: Mill, Title: title, Parts: letters, After: []int{m.measured}, Setups: settings, Units: float64(n) / float64(m.n), Machine: "jointer and planer",
		What: what + left, Why: "Parts of one thickness from one setting meet flush; a second day's setting is never quite the first's.",
		Check: "Caliper at four corners of the first and the last stick: no more than 0.1 mm (0.004 in) apart.",
		Mind:  []Work{Milling, SolidWood},
	})
}

// sizer is the saw that rough-cuts: a table saw where there is one.
func (m *maker) sizer() string {
	best := ""
	for k, s := range m.Shop.Saws {
		if better := s.Kind == "table"; best == "" || better && (m.Shop.Saws[best].Kind != "table" || k < best) || !better && m.Shop.Saws[best].Kind != "table" && k < best {
			best = k
		}
	}
	return best
}

// edgeGlue glues wide parts up from strips and flattens them.
func (m *maker) edgeGlue(w yard.Wood) {
	if len(w.Glued) == 0 {
		return
	}
	a := assembly{name: w.Called() + " panels", kind: "edge joint", letters: w.Glued, widest: true}
	strips := map[string]int{} // in one panel: as planned, or as the boards give if those are more
	for _, l := range w.Glued {
		a.repeat += m.parts[l].Count
		strips[l] = max(m.parts[l].Rough.Strips, w.MostStrips(l))
	}
	// The largest panel sets the clock and the clamps.
	big := slices.MaxFunc(w.Glued, func(x, y string) int {
		a, b := m.parts[x].Rough, m.parts[y].Rough
		return cmp.Or(cmp.Compare(strips[x], strips[y]), cmp.Compare(a.Length*a.Width, b.Length*b.Width))
	})
	p := m.parts[big]
	a.lines = []press{{
		on: "edges of " + big + " " + p.Name, count: strips[big] - 1, part: p, length: p.Rough.Length, area: unit.AreaOf(p.Rough.Length, p.Thickness.Size),
		span: p.Rough.Width, toGlue: p.Rough.Width / unit.Length(2*strips[big]), together: true,
	}}
	a.cauls = "Cauls across the ends, waxed or taped, clamped lightly before the bars are drawn up; bars over and under in turn, so that the panel stays flat."
	a.title = "Glue up wide parts of " + w.Called()
	a.why = "Strips of matched colour and grain make a panel that no single board would give; freshly jointed edges take glue best, within a day."
	a.check = "Straightedge across: no hollow over 0.5 mm (0.02 in). A bead of glue all along, no starved joint."
	m.glueUp(a)
	m.add(Step{
		Op: Mill, Title: "Flatten the glued panels of " + w.Called(), Parts: w.Glued, Units: float64(a.repeat),
		What: "Scrape off glue, plane or sand both faces flat and to thickness with the parts they meet.", Why: "Taking wood off both faces keeps a panel flat.",
		Check: "Winding sticks at the ends agree; thickness at the edges as the joint needs it.", Mind: []Work{Milling, Sanding},
	})
}
