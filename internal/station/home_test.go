package station

import (
	"strings"
	"testing"
)

// A card says in a line what a maker wants to know of a piece before opening
// it: name, size in both units, how many, what is not settled.
func TestCards(t *testing.T) {
	for name, want := range map[string]Card{
		"record-cabinet": {Name: "Low record cabinet", Size: Size{"1500 × 446 × 562.5 mm", "≈59-1/16 × 17-9/16 × 22-5/32 in"}, Count: 1},
		"clinic-cabinet": {Name: "Mobile clinic cabinet", Count: 6},
	} {
		p := demo(t, name, "")
		got := CardOf(p)
		if got.Name != want.Name || got.Count != want.Count || want.Size.Own != "" && got.Size != want.Size {
			t.Errorf("%+v, want %+v", got, want)
		}
		if got.Parts < 5 || got.Unsettled == "" || got.Worst != p.Worst().String() {
			t.Errorf("%+v", got)
		}
		pic := Picture(p, 320, 240)
		for _, no := range []string{"<text", "style=", "role=", "data-path"} {
			if strings.Contains(pic, no) {
				t.Errorf("%s: the picture carries %s", name, no)
			}
		}
		if !strings.Contains(pic, "currentColor") {
			t.Errorf("%s: the picture has no ink", name)
		}
	}
}
