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

// caseOrder says what goes in when: an order in which each part can still be
// brought to its place. Parts that are joined one way only are brought
// together along it; what holds several of them together comes before. A back
// in grooves stands in the way from behind, so it comes after all that slides.
func (m *maker) caseOrder(letters []string) string {
	c := m.closingOf(letters)
	back := m.pick(func(p build.Part) bool { return slices.Contains(letters, p.Letter) && p.Role == build.RoleBack })
	ring := m.ring(letters)
	var sprung []string
	var slid []int
	out := map[int]bool{} // told of apart
	for _, s := range c.shuts {
		e, bent := c.all[s.end], c.all[s.into]
		if out[s.end] || !e.bothWalls(bent) {
			continue
		}
		out[s.end] = true
		switch {
		case c.allSlide(s.end):
			slid = append(slid, s.end)
		case ring != "":
			sprung = append(sprung, m.throughSeam(e))
		default:
			sprung = append(sprung, m.sprung(e))
		}
	}
	halves := m.count(m.pick(func(p build.Part) bool { return p.Bent != nil && slices.Contains(letters, p.Letter) })) > 1
	for _, s := range c.shuts { // what ends at one that slides into a half is caught beside it
		if halves && !out[s.end] && slices.Contains(slid, s.into) && c.all[s.end].part.Bent == nil && c.allSlide(s.end) {
			out[s.end], slid = true, append(slid, s.end)
		}
	}
	var rest []int
	for i := range c.all {
		if closes := ring != "" && c.all[i].part.Role == build.RoleStrip; !out[i] && !closes {
			rest = append(rest, i)
		}
	}
	steps, slide := m.stages(c, rest), ""
	if len(slid) > 0 {
		slide = m.slide(c, slid)
	}
	switch {
	case slide == "":
	case halves: // before they close
		steps = append([]string{slide}, steps...)
	default:
		steps = append(steps, slide)
	}
	closed := len(steps) // of a ring: what is done before it is closed
	if slide != "" && !halves {
		closed--
	}
	for _, j := range m.Model.Joints {
		if p := m.parts[j.B]; j.Kind == "screwed" && p.Role == build.RoleDivider && slices.Contains(letters, j.A) && slices.Contains(letters, j.B) {
			steps = append(steps, "screw "+m.names([]string{j.A})+" down to "+m.names([]string{j.B})+".")
		}
	}
	up := m.backUp(letters, back)
	if up != "" {
		steps = append(steps, up)
	}
	for i := range steps {
		word := "Then "
		switch {
		case i == 0 && !(halves && len(sprung) > 0) && !(ring != "" && closed == 0):
			word = "First "
		case i == len(steps)-1 && (steps[i] == slide || steps[i] == up):
			word = "Last "
		}
		steps[i] = word + steps[i]
	}
	if len(back) > 0 && up == "" {
		steps = append(steps, m.names(back)+" slides into its groove before the case is closed.")
	}
	switch {
	case ring != "":
		steps = slices.Insert(steps, closed, append(unique(sprung), "Draw "+ring+" with straps round it.")...)
	case halves:
		steps = append(unique(sprung), steps...)
	default:
		steps = append(steps, unique(sprung)...)
	}
	return strings.Join(steps, " ")
}

// allSlide says that all that a part is joined to lets it slide in from behind.
func (c closing) allSlide(i int) bool {
	for _, s := range c.shuts {
		if (s.end == i || s.into == i) && s.slides == "" {
			return false
		}
	}
	return true
}

// slide is how parts come in from behind.
func (m *maker) slide(c closing, set []int) string {
	var along []string
	for _, s := range c.shuts {
		if slices.Contains(set, s.end) {
			along = append(along, s.slides)
		}
	}
	slices.Sort(along)
	return "slide " + m.names(c.letters(m, set)) + " in from behind, along the " + strings.Join(slices.Compact(along), "s and ") + "s."
}

// backUp is how a back in grooves comes behind the bottom of a shell that is
// open below, which holds it in no groove; "" for any other back.
func (m *maker) backUp(letters, back []string) string {
	bottom := m.pick(func(p build.Part) bool { return p.Role == build.RoleBottom && slices.Contains(letters, p.Letter) })
	shell := m.pick(func(p build.Part) bool { return p.Bent != nil && slices.Contains(letters, p.Letter) })
	if len(back) == 0 || len(bottom) == 0 || len(shell) == 0 {
		return ""
	}
	for _, j := range m.Model.Joints {
		if j.Kind == "grooved" && slices.Contains(back, j.A) && slices.Contains(bottom, j.B) {
			return ""
		}
	}
	return m.names(back) + " up from below in its grooves, behind " + m.names(bottom) + ", and screw it to the edge of that."
}

// sprung is how a part comes between two walls of one bent strip where its
// joints do not let it slide in.
func (m *maker) sprung(e stander) string {
	deep := m.letIn(e.letter)
	name := m.names([]string{e.letter})
	if deep == 0 {
		return name + " goes between two walls of one bent piece, last."
	}
	return fmt.Sprintf("%s goes between two walls of one bent piece: they must spring apart by %s at each end. Try it without glue; where they do not, leave its joint out of the piece: in a housing it slides in from behind.",
		name, m.Show(deep))
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
