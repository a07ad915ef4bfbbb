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
		p := m.parts[j.A]
		if j.A != j.B || p.Bent == nil || p.Count != 1 || !slices.Contains(letters, j.A) {
			continue
		}
		how := fmt.Sprintf("the ends of %s %s together at its seam", p.Letter, p.Name)
		if j.Kind == "butt with spline" {
			how = fmt.Sprintf("the ends of %s %s together over the spline of its seam", p.Letter, p.Name)
		}
		return how
	}
	return ""
}

// throughSeam is how a part that is joined to two walls of such a shell comes
// between them: the walls give as long as the ends of the strip are apart.
func (m *maker) throughSeam(i int, c closing) string {
	l := c.all[i].letter
	return fmt.Sprintf("%s goes between its walls while the seam of the shell is open: they spring apart by %s at each end. Try it without glue.", m.names([]string{l}), m.Show(m.letIn(l)))
}
