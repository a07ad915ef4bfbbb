package fit

import "slices"

// MadeTo names what is made to measured openings: boxes and fronts where there
// are drawers, doors where there are doors.
func MadeTo(all []Opening) string {
	has := func(box bool) bool {
		return slices.ContainsFunc(all, func(o Opening) bool { return box == (o.Box != nil) })
	}
	switch {
	case has(true) && has(false):
		return "boxes, fronts and doors"
	case has(false):
		return "doors"
	}
	return "boxes and fronts"
}
