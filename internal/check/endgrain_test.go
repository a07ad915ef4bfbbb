package check_test

import (
	"strings"
	"testing"

	"casewright/internal/check"
	"casewright/internal/piece"
)

// Screws that hold a divider from above go into its edge where it is a panel,
// and into end grain, in which design rules allow no pull (NDS 2018 12.2.2, as
// quoted elsewhere), where it is solid wood that stands on end.
func TestScrewsIntoASolidDivider(t *testing.T) {
	_, s := demo(t, "record-cabinet")
	for stuff, want := range map[string]bool{"oak-18": false, "white-oak": true} {
		p, err := piece.Decode("piece", strings.NewReader(`
format: 1
name: low chest
units: mm
materials: {case: oak-18, inside: `+stuff+`, top: oak-18}
thicknesses: {inside: 18 mm}
case: {kind: carcass, width: 900, height: 600, depth: 400, joints: {top: dowel, bottom: housing}, top: {held: glue}}
inside: {columns: [{}, {}]}
`))
		if err != nil {
			t.Fatal(err)
		}
		in := (&good{t: t, p: p, s: s}).build()
		f, ok := found(check.All(in), "end-grain")
		if ok != want || want && !strings.Contains(f.Says, "into the end grain of divider") {
			t.Errorf("%s: %v %+v", stuff, ok, f)
		}
		for _, u := range in.Model.Screws {
			if u.Where == "stretchers to dividers" && (u.Into == "end grain") != want {
				t.Errorf("%s: screws into %q", stuff, u.Into)
			}
		}
	}
}
