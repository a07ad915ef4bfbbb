package fit

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
)

// blanks says which parts of a measured opening come out of blanks that lie
// there, and at which size.
func (f *fitting) blanks() {
	if !f.out.Measured {
		return
	}
	for _, p := range f.in.Model.Parts {
		if p.OffSaw == nil || !slices.ContainsFunc(p.Places, func(at build.Place) bool {
			rest, ok := strings.CutPrefix(at.Name, f.op.Name)
			return ok && (rest == "" || rest[0] == ' ')
		}) {
			continue
		}
		f.out.Do = append(f.out.Do, fmt.Sprintf("Cut %s %s, %s × %s, out of a blank %s that lies there, %s × %s.",
			p.Letter, p.Name, f.show(p.FitLength()), f.show(p.FitWidth()), p.OffSaw.Of, f.show(p.OffSaw.Length), f.show(p.OffSaw.Width)))
	}
}
