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

// stander is one part of the case at one of its places, for the order in which
// the case is put together.
type stander struct {
	letter string
	part   build.Part
	at     build.Place
	lo, hi [3]float64 // where it stands, millimetres
}

func stand(p build.Part, at build.Place) stander {
	s := stander{letter: p.Letter, part: p, at: at}
	s.lo, s.hi = extent(p, at)
	return s
}

// shut is one place where the end of a part goes into another: the way along
// which the two are brought together.
type shut struct {
	end, into int // standers
	axis      int // 0 from side to side, 2 up and down
	slides    bool
}

// closing is the case taken apart into its places.
type closing struct {
	all   []stander
	shuts []shut
}

// closingOf finds the places where the letters of the case meet. Backs and
// splines are told of by themselves.
func (m *maker) closingOf(letters []string) closing {
	var c closing
	of := map[string][]int{}
	for _, l := range letters {
		p := m.parts[l]
		if p.Role == build.RoleBack || p.Role == build.RoleLoose {
			continue
		}
		for _, at := range p.Places {
			of[l] = append(of[l], len(c.all))
			c.all = append(c.all, stand(p, at))
		}
	}
	for _, j := range m.Model.Joints {
		if !gluedOrCaptive(j) || j.A == j.B {
			continue
		}
		for _, a := range of[j.A] {
			for _, b := range of[j.B] {
				if c.all[a].meets(c.all[b]) {
					axis := c.all[a].lengthways()
					if c.all[a].part.Bent != nil {
						axis = c.all[b].lengthways()
					}
					c.shuts = append(c.shuts, shut{end: a, into: b, axis: axis, slides: j.Kind == "grooved" || j.Kind == "housing"})
				}
			}
		}
	}
	c.seams()
	return c
}

// seams brings the bent strips of a shell together over their splines, the way
// they lie apart.
func (c *closing) seams() {
	for i, a := range c.all {
		for k := i + 1; k < len(c.all); k++ {
			if b := c.all[k]; a.part.Bent != nil && b.part.Bent != nil && a.meets(b) {
				axis := 0
				if math.Abs(a.mid(2)-b.mid(2)) > math.Abs(a.mid(0)-b.mid(0)) {
					axis = 2
				}
				c.shuts = append(c.shuts, shut{end: i, into: k, axis: axis})
			}
		}
	}
}

func (s stander) mid(axis int) float64 { return (s.lo[axis] + s.hi[axis]) / 2 }

// meets says that two parts touch, within 2 mm.
func (s stander) meets(o stander) bool {
	for k := range 3 {
		if s.lo[k] >= o.hi[k]+2 || o.lo[k] >= s.hi[k]+2 {
			return false
		}
	}
	return true
}

// lengthways is the axis along which the ends of a part lie.
func (s stander) lengthways() int {
	if math.Abs(s.at.Frame.U.Z) > 0.7 {
		return 2
	}
	return 0
}

// bothWalls says that both ends of a flat part lie at walls of one bent part.
func (s stander) bothWalls(bent stander) bool {
	return s.part.Bent == nil && bent.part.Bent != nil && math.Abs(s.at.Frame.U.Y) < 0.7 && s.endsAt(bent, s.lo) && s.endsAt(bent, s.hi)
}

// endsAt says that the end of a flat part on the side of a corner of its room
// lies at a wall of a bent part, which runs from front to back.
func (s stander) endsAt(bent stander, corner [3]float64) bool {
	var p [3]float64
	for k := range 3 {
		p[k] = s.mid(k)
	}
	k := s.lengthways()
	p[k] = corner[k]
	within := bent.part.Thickness.Size.MM() + 2
	f := bent.at.Frame
	line := f.PlacePath(bent.part.Bent.Profile, bent.part.Width.Size).Flatten(unit.Millimetre / 10)
	for i := 1; i < len(line); i++ {
		a, b := f.At(line[i-1].X, line[i-1].Y, 0), f.At(line[i].X, line[i].Y, 0)
		if apart(p[0], p[2], a.X.MM(), a.Z.MM(), b.X.MM(), b.Z.MM()) <= within {
			return true
		}
	}
	return false
}

// apart is how far a point lies from a stretch.
func apart(x, z, ax, az, bx, bz float64) float64 {
	dx, dz, t := bx-ax, bz-az, 0.0
	if l := dx*dx + dz*dz; l > 0 {
		t = min(max(((x-ax)*dx+(z-az)*dz)/l, 0), 1)
	}
	return math.Hypot(x-ax-t*dx, z-az-t*dz)
}

// caseOrder says what goes in when: an order in which each part can still be
// brought to its place. Parts that are joined one way only are brought
// together along it; what holds several of them together comes before.
func (m *maker) caseOrder(letters []string) string {
	c := m.closingOf(letters)
	back := m.pick(func(p build.Part) bool { return slices.Contains(letters, p.Letter) && p.Role == build.RoleBack })
	ring := m.ring(letters)
	var sprung, slid []string
	out := map[int]bool{} // told of apart
	for _, s := range c.shuts {
		e, bent := c.all[s.end], c.all[s.into]
		if out[s.end] || !e.bothWalls(bent) {
			continue
		}
		out[s.end] = true
		if how, slides := m.betweenWalls(c, s.end, len(back) > 0); slides {
			slid = append(slid, how)
		} else if ring != "" {
			sprung = append(sprung, m.throughSeam(s.end, c))
		} else {
			sprung = append(sprung, how)
		}
	}
	sprung, slid = unique(sprung), unique(slid)
	var rest []int
	for i := range c.all {
		if closes := ring != "" && c.all[i].part.Role == build.RoleStrip; !out[i] && !closes {
			rest = append(rest, i)
		}
	}
	says := m.stages(c, rest)
	halves := m.count(m.pick(func(p build.Part) bool { return p.Bent != nil && slices.Contains(letters, p.Letter) })) > 1
	for i := range says {
		says[i] = map[bool]string{true: "First ", false: "Then "}[i == 0 && !(halves && len(sprung) > 0)] + says[i]
	}
	if halves { // before they close
		says, sprung = append(sprung, says...), nil
	}
	if len(back) > 0 {
		says = append(says, m.names(back)+" slides into its groove before the case is closed.")
	}
	says = append(says, sprung...)
	if ring != "" {
		says = append(says, "Draw "+ring+" with straps round it.")
	}
	return strings.Join(append(says, slid...), " ")
}

// betweenWalls is how a part comes between two walls of one bent strip, which
// cannot be brought to it from both sides: along its grooves, where all that it
// meets lets it slide and no back stands in its way, or else by springing them.
func (m *maker) betweenWalls(c closing, i int, back bool) (how string, slides bool) {
	e := c.all[i]
	slides = !back
	for _, s := range c.shuts {
		if s.end == i || s.into == i {
			slides = slides && s.slides
		}
	}
	name := m.names([]string{e.letter})
	if slides {
		return "Last slide " + name + " in from behind, along its grooves.", true
	}
	return fmt.Sprintf("%s goes between two walls of one bent piece: they must spring apart by %s at each end. Try it without glue; where they do not, shorten what goes in and screw it from the hidden side.",
		name, m.Show(m.letIn(e.letter))), false
}

// letIn is how far the ends of a part reach into the walls of a bent one, in
// whole millimetres.
func (m *maker) letIn(letter string) unit.Length {
	deep := 0.0
	for _, j := range m.Model.Joints {
		if j.A != letter || m.parts[j.B].Bent == nil {
			continue
		}
		d := j.Depth.MM()
		if j.Kind == "loose tenon" || j.Kind == "dowel" {
			d /= 2 // half in each part
		}
		deep = max(deep, d)
	}
	return unit.MM(math.Ceil(deep))
}

func unique(says []string) []string {
	var out []string
	for _, s := range says {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// stages brings a set of parts together: along an axis where all that is
// joined along the others holds together already, that first.
func (m *maker) stages(c closing, set []int) []string {
	if len(set) < 2 {
		return nil
	}
	for _, axis := range []int{0, 2} {
		groups := c.groups(set, axis)
		if len(groups) < 2 || c.caught(groups, axis) {
			continue
		}
		var says []string
		for _, g := range groups {
			says = append(says, m.stages(c, g)...)
		}
		return unique(append(says, m.stage(c, set, axis)))
	}
	return []string{m.names(c.letters(m, set)) + " together, each joint a little at a time."}
}

// groups are the sets that hold together without the joints of an axis.
func (c closing) groups(set []int, axis int) [][]int {
	left := slices.Clone(set)
	var out [][]int
	for len(left) > 0 {
		g := []int{left[0]}
		left = left[1:]
		for k := 0; k < len(g); k++ {
			for _, s := range c.shuts {
				if s.axis == axis {
					continue
				}
				for _, pair := range [][2]int{{s.end, s.into}, {s.into, s.end}} {
					if i := slices.Index(left, pair[1]); pair[0] == g[k] && i >= 0 {
						g, left = append(g, pair[1]), slices.Delete(left, i, i+1)
					}
				}
			}
		}
		out = append(out, g)
	}
	return out
}

// caught says that one set would have to come in between two sides of another
// along an axis, where it cannot.
func (c closing) caught(groups [][]int, axis int) bool {
	in := map[int]int{}
	for g, set := range groups {
		for _, i := range set {
			in[i] = g
		}
	}
	from := map[[2]int]bool{} // of a pair of sets: that the second lies further along
	for _, s := range c.shuts {
		a, okA := in[s.end]
		b, okB := in[s.into]
		if s.axis != axis || !okA || !okB || a == b {
			continue
		}
		further := c.all[s.into].mid(axis) > c.all[s.end].mid(axis)
		if a > b {
			a, b, further = b, a, !further
		}
		if was, ok := from[[2]int{a, b}]; ok && was != further {
			return true
		}
		from[[2]int{a, b}] = further
	}
	return false
}

// letters are those of a set, in the order of the parts list.
func (c closing) letters(m *maker, set []int) []string {
	return m.pick(func(p build.Part) bool {
		return slices.ContainsFunc(set, func(i int) bool { return c.all[i].letter == p.Letter })
	})
}

// stage says how a set is brought together along an axis: what goes into parts
// inside the case before what goes into those that close it.
func (m *maker) stage(c closing, set []int, axis int) string {
	var inner, outer, toInner, toOuter []int
	add := func(to *[]int, i int) {
		if !slices.Contains(*to, i) {
			*to = append(*to, i)
		}
	}
	seam := false
	for _, s := range c.shuts {
		if s.axis != axis || !slices.Contains(set, s.end) || !slices.Contains(set, s.into) {
			continue
		}
		if c.all[s.end].part.Bent != nil { // two strips of a shell
			seam = true
			add(&outer, s.end)
			add(&outer, s.into)
			continue
		}
		switch c.all[s.into].part.Role {
		case build.RoleSide, build.RoleTop, build.RoleBottom, build.RoleShell:
			add(&outer, s.into)
			add(&toOuter, s.end)
		default:
			add(&inner, s.into)
			add(&toInner, s.end)
		}
	}
	slices.SortFunc(outer, func(a, b int) int { return cmp.Compare(c.all[a].mid(axis), c.all[b].mid(axis)) })
	var says []string
	if len(inner) > 0 {
		says = append(says, m.names(c.letters(m, toInner))+" into "+m.names(c.letters(m, inner)))
	}
	ends := m.names(c.letters(m, toOuter))
	switch {
	case len(outer) == 0:
	case len(outer) == 1 && len(inner) > 0 && slices.Equal(c.letters(m, toInner), c.letters(m, toOuter)):
		says = []string{ends + " into " + m.names(c.letters(m, append(inner, outer...)))}
	case len(outer) == 1:
		says = append(says, ends+" into "+m.names(c.letters(m, outer)))
	case seam && ends == "":
		says = append(says, "the two halves of the shell over the splines of their seams")
	case seam:
		says = append(says, ends+" into one half of the shell, then the other half over them and over the splines of the seams")
	case axis == 0:
		says = append(says, ends+" into one side, then the other side over them")
	default:
		says = append(says, fmt.Sprintf("%s into %s, then %s over them", ends, m.names([]string{c.all[outer[0]].letter}), m.names([]string{c.all[outer[len(outer)-1]].letter})))
	}
	return strings.Join(says, ", then ") + "."
}
