package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
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
	for _, s := range c.shuts { // what ends at one that slides in between two walls is caught beside it
		if (halves || ring != "") && !out[s.end] && slices.Contains(slid, s.into) && c.all[s.end].part.Bent == nil && c.allSlide(s.end) {
			out[s.end], slid = true, append(slid, s.end)
		}
	}
	var rest []int
	for i := range c.all {
		if closes := ring != "" && c.all[i].part.Role == build.RoleStrip; !out[i] && !closes {
			rest = append(rest, i)
		}
	}
	up := m.backUp(letters, back)
	if halves && up == "" {
		c.back = m.names(back)
	}
	sprung = unique(sprung)
	steps, last := m.stages(c, rest), []string{} // last: what may be called so where it is
	if len(slid) > 0 {
		last = append(last, m.slide(c, slid))
	}
	screws := m.screwedDown(letters)
	switch {
	case ring != "":
		steps = slices.Concat(steps, sprung, []string{"draw " + ring + " with straps round it."}, last, screws)
	case halves: // before they close
		steps = slices.Concat(sprung, last, steps, screws)
	default:
		steps, last = slices.Concat(steps, last, screws), append(last, sprung...)
	}
	if up != "" {
		steps, last = append(steps, up), append(last, up)
	}
	if ring == "" && !halves {
		steps = append(steps, sprung...)
	}
	says := told(steps, last)
	if named := c.back != "" && slices.ContainsFunc(steps, func(s string) bool { return strings.Contains(s, c.back) }); len(back) > 0 && up == "" && !named {
		says += " " + m.names(back) + " slides into its groove before the case is closed."
	}
	return says
}

// told says which step comes first, which then, and which last, where it is
// one of those that may be; a step alone is neither.
func told(steps, last []string) string {
	says := slices.Clone(steps)
	for i, s := range steps {
		switch {
		case len(steps) == 1:
			says[i] = document.Capital(s)
		case i == 0:
			says[i] = "First " + s
		case i == len(steps)-1 && slices.Contains(last, s):
			says[i] = "Last " + s
		default:
			says[i] = "Then " + s
		}
	}
	return strings.Join(says, " ")
}

// screwedDown are the dividers that are screwed to what they stand on.
func (m *maker) screwedDown(letters []string) []string {
	var out []string
	for _, j := range m.Model.Joints {
		if p := m.parts[j.B]; j.Kind == "screwed" && p.Role == build.RoleDivider && slices.Contains(letters, j.A) && slices.Contains(letters, j.B) {
			out = append(out, "screw "+m.names([]string{j.A})+" down to "+m.names([]string{j.B})+".")
		}
	}
	return out
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
	between := "bring " + m.names([]string{e.letter}) + " in between two walls of one bent piece"
	if deep == 0 {
		return between + "."
	}
	return fmt.Sprintf("%s: they must spring apart by %s at each end. Try it without glue; where they do not, leave its joint out of the piece: in a housing it slides in from behind.", between, m.Show(deep))
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
	case seam && ends == "" && c.back == "":
		says = append(says, "the two halves of the shell together"+m.over(", ", "their"))
	case seam && ends == "":
		says = append(says, c.back+" into its groove in one half of the shell, then the other half over it"+m.over(" and ", "the"))
	case seam && c.back != "":
		says = append(says, ends+" into one half of the shell, "+c.back+" into its groove in it, then the other half over them"+m.over(" and ", "the"))
	case seam:
		says = append(says, ends+" into one half of the shell, then the other half over them"+m.over(" and ", "the"))
	case axis == 0:
		says = append(says, ends+" into one side, then the other side over them")
	default:
		says = append(says, fmt.Sprintf("%s into %s, then %s over them", ends, m.names([]string{c.all[outer[0]].letter}), m.names([]string{c.all[outer[len(outer)-1]].letter})))
	}
	return strings.Join(says, ", then ") + "."
}
