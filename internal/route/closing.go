package route

import (
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/geom"
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
	end, into int    // standers
	axis      int    // 0 from side to side, 2 up and down
	further   bool   // what it goes into lies further along
	slides    string // in what it can also slide in from behind, "" where it cannot
}

// closing is the case taken apart into its places.
type closing struct {
	all   []stander
	shuts []shut
	back  string // in grooves of halves that close round it, "" for any other
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
					c.shuts = append(c.shuts, shut{end: a, into: b, axis: axis, further: c.all[a].goesOn(c.all[b], axis), slides: slidesIn[j.Kind]})
				}
			}
		}
	}
	c.seams()
	return c
}

// slidesIn are the joints that run from front to back, so that what stands in
// them can also come in from behind.
var slidesIn = map[string]string{"grooved": "groove", "housing": "housing"}

// goesOn says that what a part goes into lies further along an axis: of a bent
// part, the wall at which it ends.
func (s stander) goesOn(into stander, axis int) bool {
	if s.part.Bent == nil && into.part.Bent != nil && axis == s.lengthways() {
		return s.endsAt(into, s.hi)
	}
	return into.mid(axis) > s.mid(axis)
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
				c.shuts = append(c.shuts, shut{end: i, into: k, axis: axis, further: b.mid(axis) > a.mid(axis)})
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
	return bent.passes(p[0], p[2])
}

// endsOn is how many ends of a bent part lie on another one: at its end where
// they butt, within its length where they overlap.
func (s stander) endsOn(other stander) int {
	n, line := 0, s.line()
	for i, at := range line {
		if (i == 0 || i == len(line)-1) && other.passes(at.X.MM(), at.Z.MM()) {
			n++
		}
	}
	return n
}

// passes says that a bent part, which runs from front to back, has a point in
// its wall or at it, in millimetres from side to side and up.
func (s stander) passes(x, z float64) bool {
	within, line := s.part.Thickness.Size.MM()+2, s.line()
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if apart(x, z, a.X.MM(), a.Z.MM(), b.X.MM(), b.Z.MM()) <= within {
			return true
		}
	}
	return false
}

// line is how a bent part runs, seen from the front.
func (s stander) line() []geom.Vec {
	var out []geom.Vec
	f := s.at.Frame
	for _, p := range f.PlacePath(s.part.Bent.Profile, s.part.Width.Size).Flatten(unit.Millimetre / 10) {
		out = append(out, f.At(p.X, p.Y, 0))
	}
	return out
}

// apart is how far a point lies from a stretch.
func apart(x, z, ax, az, bx, bz float64) float64 {
	dx, dz, t := bx-ax, bz-az, 0.0
	if l := dx*dx + dz*dz; l > 0 {
		t = min(max(((x-ax)*dx+(z-az)*dz)/l, 0), 1)
	}
	return math.Hypot(x-ax-t*dx, z-az-t*dz)
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
	// Between what is together already, only what slides comes in.
	in, rest := c.last(set)
	if len(in) > 0 && len(rest) > 0 {
		return append(m.stages(c, rest), m.slide(c, in))
	}
	return []string{m.names(c.letters(m, set)) + " together, each joint a little at a time."}
}

// last are the parts of a set that can slide in from behind when the rest is
// together: flat ones in which no other stands.
func (c closing) last(set []int) (in, rest []int) {
	for _, i := range set {
		holds := slices.ContainsFunc(c.shuts, func(s shut) bool { return s.into == i && slices.Contains(set, s.end) })
		if c.all[i].part.Bent == nil && !holds && c.allSlide(i) {
			in = append(in, i)
		} else {
			rest = append(rest, i)
		}
	}
	return in, rest
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
		further := s.further
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
