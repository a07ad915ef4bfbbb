package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// stock is a strip from which loose tenons or splines of one section are cut.
type stock struct {
	thick, wide unit.Length
	long        []unit.Length // of what is cut from it, longest first
	count       []int         // of each length, with spares
	need        int           // in one piece, without spares
	splines     bool
}

// tenons makes loose tenons and splines that the shop does not buy: strips of
// their section first, then cut to length.
func (m *maker) tenons() {
	all := m.tenonStock()
	if len(all) == 0 {
		return
	}
	saw := m.sizer()
	kerf := cmp.Or(m.Record.Kerfs[saw], m.Shop.Saws[saw].Kerf)
	settings, passes := 0, 0
	var lines []string
	words := map[bool]string{}
	for _, s := range all {
		words[s.splines] = map[bool]string{false: "loose tenons", true: "splines"}[s.splines]
		var strip unit.Length
		var of []string
		for i, l := range s.long {
			strip += unit.Length(s.count[i]) * (l + kerf)
			of = append(of, fmt.Sprintf("%d of %s", s.count[i], m.Show(l)))
			settings++
		}
		settings++
		passes += s.need + 2 // the strip is ripped twice; spares are not counted
		step := unit.Millimetre
		if m.Piece.Units == unit.Imperial {
			step = unit.Inch / 16
		}
		lines = append(lines, fmt.Sprintf("%s × %s, %s of strip for %s", m.Show(s.thick), m.Show(s.wide), m.Show(strip.RoundUp(step)), and(of)))
	}
	what := and(slices.DeleteFunc([]string{words[false], words[true]}, func(w string) bool { return w == "" }))
	grain := ""
	if words[false] != "" {
		grain += " Tenons of straight hardwood, grain along them, long edges rounded to the ends of the mortises."
	}
	if words[true] != "" {
		grain += " Splines of plywood, or with the grain across the seam (common practice, no source)."
	}
	m.pegs = 1 + m.add(Step{
		Op: Size, Title: "Make the " + what, Machine: saw, Setups: settings, Units: float64(passes),
		What: fmt.Sprintf("From offcuts, spares and a kerf of %s for each cut included: %s.%s Plane and rip strips until they slide into a mortise or groove cut on scrap, then crosscut. A strip shorter than %s does not go through the machines: mill it in a longer one.",
			m.Show(kerf), strings.Join(lines, "; "), grain, m.Show(shortest(m.Shop.Milling()))),
		Why:   "They are fitted to the cutter that makes their mortises, so the cutter comes first; a dry fit wants them all.",
		Check: "Each slides in by the push of a thumb and does not fall out; none is longer than both its mortises together.",
		Mind:  []Work{SolidWood, Crosscuts},
	})
}

// tenonStock gathers them by section, thickest and widest first.
func (m *maker) tenonStock() []stock {
	type kind struct {
		size    [3]unit.Length
		splines bool
	}
	need := map[kind]int{}
	for _, f := range m.Model.Hardware {
		if f.Key == "" && f.Stock[0] > 0 {
			need[kind{f.Stock, strings.HasPrefix(f.Name, "spline")}] += f.Count
		}
	}
	var kinds []kind
	for k := range need {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, b kind) int {
		if a.splines != b.splines {
			return map[bool]int{false: -1, true: 1}[a.splines]
		}
		return -slices.Compare(a.size[:], b.size[:])
	})
	var out []stock
	for _, k := range kinds {
		n := need[k] * m.n
		n += int(math.Ceil(float64(n)*m.Shop.Habits.Spares/100 - 1e-9)) // as many to spare as in the buying list
		i := len(out) - 1
		if i < 0 || out[i].splines != k.splines || out[i].thick != k.size[0] || out[i].wide != k.size[1] {
			out = append(out, stock{thick: k.size[0], wide: k.size[1], splines: k.splines})
			i++
		}
		out[i].long = append(out[i].long, k.size[2])
		out[i].count = append(out[i].count, n)
		out[i].need += need[k]
	}
	return out
}

// pegged says that letters are joined by what the tenons step makes: then they
// are fitted together after it.
func (m *maker) pegged(letters []string) int {
	if slices.ContainsFunc(m.Model.Joints, func(j build.Joint) bool {
		return (j.Kind == "loose tenon" || strings.Contains(j.Kind, "spline")) && slices.Contains(letters, j.A) && slices.Contains(letters, j.B)
	}) {
		return m.pegs
	}
	return 0
}
