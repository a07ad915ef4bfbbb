package fit_test

import (
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/fit"
	"casewright/internal/record"
)

// Fronts of one letter lie turned and mirrored in their openings: cut as drawn,
// each goes in as it is, its round corner where the opening has one.
func TestFrontsThatAreTurned(t *testing.T) {
	for _, name := range []string{"record-cabinet", "record-cabinet, seams where they fall", "chest", "clinic-cabinet"} {
		demoOf, free, _ := strings.Cut(name, ", ")
		p, s := demo(t, demoOf)
		if free != "" {
			p.Case.Seams, p.Inside.Columns = nil, p.Inside.Columns[:2] // the divider stands in the middle, where seams fall
		}
		m, _, _ := fits(t, p, s, record.Record{})
		made := record.Record{Cut: cutOf(m, build.RoleFront, build.RoleDoor)}
		for _, o := range m.Openings {
			if o.Front != "" {
				as := square(o.Name, o.Width.Size.MM(), o.Height.Size.MM())
				as.Corners = o.Corners[:]
				made.Openings = append(made.Openings, as)
			}
		}
		_, all, _ := fits(t, p, s, made)
		fronts := 0
		for _, o := range all {
			if o.Front == nil {
				continue
			}
			fronts++
			if o.Front.Verdict != fit.AsIs || len(o.Do) > 0 {
				t.Errorf("%s: front %s in %s: %s %v", name, o.Front.Letter, o.Name, o.Front.Verdict, o.Do)
			}
			for i, want := range o.Shape.FrontRadius(o.Front.Gap) {
				if o.Front.Inset && (o.Front.Corners[i]-want).Abs() > mm {
					t.Errorf("%s: corner %d of front %s in %s is R %v, the opening wants R %v", name, i, o.Front.Letter, o.Name, o.Front.Corners[i], want)
				}
			}
		}
		if fronts == 0 {
			t.Errorf("%s has no fronts", name)
		}
	}
}
