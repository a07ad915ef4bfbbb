package route

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// maker gathers the steps in the order in which they are told.
type maker struct {
	Input
	n     int
	parts map[string]build.Part
	steps []Step
	last  map[string]int    // thing -> index of the last step on it
	in    map[string]string // letter -> the assembly it is in by now
	glues []GlueUp
	coats []Schedule
	stick []Stick
	finds []finding.Finding
	rates map[Op]Rate
	inner map[string]bool // letters whose insides have their finish already

	measured int // number of the step that measures the openings, 0 before it
	pegs     int // number of the step that makes loose tenons and splines, 0: none
}

func newMaker(in Input) *maker {
	m := &maker{
		Input: in, n: max(1, in.Piece.Count), parts: map[string]build.Part{}, last: map[string]int{}, in: map[string]string{},
		rates: map[Op]Rate{}, inner: map[string]bool{},
	}
	for _, p := range in.Model.Parts {
		m.parts[p.Letter] = p
	}
	for _, op := range Ops() {
		m.rates[op] = RateOf(op, in.Shop)
	}
	if m.Show == nil {
		m.Show = func(l unit.Length) string { return l.Exact(in.Piece.Units) }
	}
	return m
}

// thing is what a letter has become part of by now: itself, or an assembly.
func (m *maker) thing(letter string) string {
	for {
		in, ok := m.in[letter]
		if !ok {
			return letter
		}
		letter = in
	}
}

// add puts a step on. Its Parts are worked on: it comes after the last step on
// each of them (or on the assembly they are in), and after the things in Uses.
// Makes are new things.
func (m *maker) add(s Step) int {
	i := len(m.steps)
	r := m.rates[s.Op]
	if s.Setups == 0 {
		s.Setups = 1
	}
	s.N, s.Place, s.People = i+1, cmp.Or(s.Place, r.place), max(1, s.People)
	s.Each = s.Units * r.Run
	s.Setup, s.Run, s.Source = minutes(float64(s.Setups)*r.Setup), minutes(s.Each*float64(m.n)), r.Source
	need := map[string]bool{}
	made := map[string]bool{}
	for _, t := range s.Makes {
		made[t] = true
	}
	for _, l := range s.Parts {
		if t := m.thing(l); !made[t] {
			need[t] = true
		}
	}
	for _, u := range s.Uses {
		need[m.thing(u)] = true
	}
	s.Uses = slices.Sorted(maps.Keys(need))
	after := map[int]bool{}
	for _, t := range s.Uses {
		if j, ok := m.last[t]; ok {
			after[j+1] = true
		}
	}
	for _, n := range s.After {
		if n > 0 {
			after[n] = true
		}
	}
	s.After = slices.Sorted(maps.Keys(after))
	for _, t := range append(slices.Clone(s.Uses), s.Makes...) {
		m.last[t] = i
	}
	m.steps = append(m.steps, s)
	return i
}

// assemble says that from here on the letters are in the assembly.
func (m *maker) assemble(assembly string, letters ...string) {
	for _, l := range letters {
		if t := m.thing(l); t != assembly {
			m.in[t] = assembly
		}
	}
}

func (m *maker) say(f finding.Finding) { m.finds = append(m.finds, f) }

// pick are the letters of parts that fit, in the model's order.
func (m *maker) pick(fits func(build.Part) bool) []string {
	var out []string
	for _, p := range m.Model.Parts {
		if fits(p) {
			out = append(out, p.Letter)
		}
	}
	return out
}

func (m *maker) roles(roles ...build.Role) []string {
	return m.pick(func(p build.Part) bool { return slices.Contains(roles, p.Role) })
}

// count is how many of the letters are in one piece.
func (m *maker) count(letters []string) int {
	n := 0
	for _, l := range letters {
		n += m.parts[l].Count
	}
	return n
}

// names lists letters with their names: C outer stile, D top rail.
func (m *maker) names(letters []string) string {
	if len(letters) == 0 {
		return ""
	}
	var out []string
	for i, l := range letters {
		if i == 6 && len(letters) > 8 {
			out = append(out, fmt.Sprintf("%d more", len(letters)-i))
			break
		}
		out = append(out, strings.TrimSpace(l+" "+m.parts[l].Name))
	}
	return and(out)
}

func and(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func without(list, drop []string) []string {
	var out []string
	for _, l := range list {
		if !slices.Contains(drop, l) {
			out = append(out, l)
		}
	}
	return out
}

// extent is where a part stands at one of its places.
func extent(p build.Part, at build.Place) (lo, hi [3]float64) {
	var corners [][3]float64
	add := func(x, y, z unit.Length) {
		v := at.Frame.At(x, y, z)
		corners = append(corners, [3]float64{v.X.MM(), v.Y.MM(), v.Z.MM()})
	}
	if p.Bent == nil {
		for _, x := range []unit.Length{0, p.Length.Size} {
			for _, y := range []unit.Length{0, p.Width.Size} {
				add(x, y, 0)
				add(x, y, p.Thickness.Size)
			}
		}
	} else {
		b := p.Bent.Profile.Bounds()
		for _, x := range []unit.Length{b.Min.X, b.Max.X} {
			for _, y := range []unit.Length{b.Min.Y, b.Max.Y} {
				add(x, y, 0)
				add(x, y, p.Width.Size)
			}
		}
	}
	lo, hi = corners[0], corners[0]
	for _, c := range corners {
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], c[k]), max(hi[k], c[k])
		}
	}
	return lo, hi
}

// meetings is how often the two parts of a joint meet in one piece: the pairs
// of their places that touch. A flat part between two sides of a bent one
// meets it at both ends.
func (m *maker) meetings(j build.Joint) int {
	a, okA := m.parts[j.A]
	b, okB := m.parts[j.B]
	if !okA || !okB {
		return 1
	}
	n := 0
	for i, pa := range a.Places {
		for k, pb := range b.Places {
			if j.A == j.B && k <= i {
				continue
			}
			x, y := stand(a, pa), stand(b, pb)
			if !x.meets(y) {
				continue
			}
			if x.part.Bent != nil && j.A == j.B { // like halves of a shell are told as one joint for all their seams
				n += x.endsOn(y)
				continue
			}
			n++
			if !captive(j) && (x.bothWalls(y) || y.bothWalls(x)) {
				n++
			}
		}
	}
	return max(n, 1)
}
