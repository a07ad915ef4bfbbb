package fit

import "testing"

// Nobody who makes a case with doors is told to make a box.
func TestMadeTo(t *testing.T) {
	drawer, door := Opening{Box: &Box{}}, Opening{Front: &Front{}}
	for want, all := range map[string][]Opening{"boxes and fronts": {drawer, drawer}, "doors": {door}, "boxes, fronts and doors": {door, drawer}} {
		if got := MadeTo(all); got != want {
			t.Errorf("%q, %q is wanted", got, want)
		}
	}
}
