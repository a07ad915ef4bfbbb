package station

import (
	"testing"

	"casewright/internal/drawing"
)

// Two thin strips side by side: their names stand beside the piece, and neither
// lies on the other.
func TestNamesOfThinStripsStandClear(t *testing.T) {
	for _, edge := range []string{"lower long edge", "upper long edge", "left end", "right end"} {
		d := &sawDrawing{sheet: &drawing.Sheet{W: sawWide}, reference: edge}
		d.place(0, 600, 1200)
		d.label(10, 14, "strip 1.4", sawType)
		d.label(16, 20, "strip 1.5", sawType)
		d.label(22, 26, "strip 1.6", sawType)
		d.words()
		if len(d.names) != 3 {
			t.Fatalf("%s: %d names beside the piece", edge, len(d.names))
		}
		for i, r := range d.names {
			for _, o := range d.names[:i] {
				if r.Overlaps(o) {
					t.Errorf("%s: a name at %v lies on another at %v", edge, r, o)
				}
			}
		}
	}
}
