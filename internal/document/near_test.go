package document

import "testing"

// TestDistance: kitten and sitting are 3 apart, the usual worked example of
// Levenshtein's distance; ca and abc are 3 apart in the restricted form with
// swaps, where the unrestricted one gives 2 (both from memory).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"ca", "abc", 3},
		{"", "abc", 3},
		{"raduis", "radius", 1},
		{"größe", "grösse", 2},
		{"same", "same", 0},
	} {
		if got := distance(c.a, c.b); got != c.want || distance(c.b, c.a) != got {
			t.Errorf("%s and %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"width", "height", "depth", "radius", "radii", "kerfs", "inner-corner", "side-runner", "under-runner"}
	for word, want := range map[string]string{
		"raduis": "radius", "hieght": "height", "Width": "width", "inner_corner": "inner-corner", "Inner Corner": "inner-corner",
		"kerf": "kerfs", "runner": "", "side-runer": "side-runner", "colour": "", "": "", "inner": "inner-corner", "x": "",
	} {
		got, ok := Nearest(word, known)
		if got != want || ok != (want != "") {
			t.Errorf("%q: %q, %v, want %q", word, got, ok, want)
		}
	}
}
