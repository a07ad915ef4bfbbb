package build

import (
	"strings"
	"testing"
)

// A screw through a back meets the back and then the edge of the panel before
// it, which reaches from the front of the case to the back: by plain adding up,
// a rebated back of 6 in a case 300 deep lies within the 300, and an overlaid
// one behind it.
func TestScrewsOfABackMeetItOnce(t *testing.T) {
	text := `
format: 1
name: cupboard
units: mm
materials: {case: ply-18, inside: ply-18, back: ply-6}
case: {kind: carcass, width: 600, height: 500, depth: 300}
back: {fit: FIT}
`
	for _, fit := range []string{"rebated", "overlaid"} {
		m, err := quick(decoded(t, strings.Replace(text, "FIT", fit, 1)))
		if err != nil {
			t.Fatal(err)
		}
		back, want, n := find(t, m, "back"), 300*mm, 0
		if fit == "overlaid" {
			want += back.Thickness.Size
		}
		for _, u := range m.Screws {
			if u.Where != "back to case" {
				continue
			}
			n++
			if u.Stack != want || u.Under != back.Thickness.Size || u.Into != EdgeWood {
				t.Errorf("%s: %+v, want %s in all", fit, u, want)
			}
		}
		if n != 1 {
			t.Errorf("%s: %d lines", fit, n)
		}
	}
}
