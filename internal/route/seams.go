package route

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
)

// splined is how many seams of the shell are held by splines in one piece: by
// those that are parts, and those that are made of what lies about.
func (m *maker) splined(letters []string) int {
	if !slices.ContainsFunc(m.roles(build.RoleShell), func(l string) bool { return slices.Contains(letters, l) }) {
		return 0
	}
	n := m.count(m.pick(func(p build.Part) bool {
		return slices.Contains(letters, p.Letter) && slices.ContainsFunc(m.Model.Joints, func(j build.Joint) bool { return j.Kind == "spline" && j.A == p.Letter })
	}))
	for _, f := range m.Model.Hardware {
		if strings.HasPrefix(f.Name, "spline") {
			n += f.Count
		}
	}
	return n
}

// ring says how a shell of one strip, bent round to its own beginning, is
// closed at its seam; "" where there is none.
func (m *maker) ring(letters []string) string {
	for _, j := range m.Model.Joints {
		p, other := m.parts[j.A], m.parts[j.B]
		if p.Role == build.RoleStrip {
			p, other = other, p
		}
		if p.Bent == nil || p.Count != 1 || !slices.Contains(letters, p.Letter) {
			continue
		}
		ends := fmt.Sprintf("the ends of %s %s together ", p.Letter, p.Name)
		switch {
		case other.Role == build.RoleStrip && other.Count == 1:
			return ends + fmt.Sprintf("with %s between them", m.names([]string{other.Letter}))
		case p.Letter == other.Letter && j.Kind == "butt with spline":
			return ends + "over the spline of its seam"
		case p.Letter == other.Letter:
			return ends + "at its seam"
		}
	}
	return ""
}

// over says over what the halves of a shell come together: what holds their
// seams in them; "" where it is glue alone.
func (m *maker) over(before, whose string) string {
	for _, j := range m.Model.Joints {
		if m.parts[j.A].Bent == nil || m.parts[j.B].Bent == nil {
			continue
		}
		switch j.Kind {
		case "butt with spline":
			return before + "over the splines of " + whose + " seams"
		case "dowel", "loose tenon":
			return before + "over the " + j.Kind + "s of " + whose + " seams"
		}
	}
	return ""
}

// throughSeam is how a part that is joined to two walls of such a shell comes
// between them: the walls give as long as the ends of the strip are apart.
func (m *maker) throughSeam(e stander) string {
	says := "bring " + m.names([]string{e.letter}) + " in between the walls of the shell while its seam is open"
	if deep := m.letIn(e.letter); deep > 0 {
		says += fmt.Sprintf(": they spring apart by %s at each end. Try it without glue", m.Show(deep))
	}
	return says + "."
}
