package wood

import (
	"slices"

	"casewright/internal/unit"
)

// BoardFeet is the tally of a board: rough thickness by width by length over
// 144 cubic inches, where anything thinner than an inch counts as an inch
// (trade rule; tallied before edging).
func BoardFeet(rough, width, length unit.Length) float64 {
	return unit.VolumeOf(max(rough, unit.Inch), width, length).BoardFeet()
}

// Class is a thickness in which sawn wood is sold.
type Class struct {
	System unit.System
	Name   string // "5/4", "27 mm"
	Rough  unit.Length
	// Surfaced and SurfacedLeast are what planing leaves as a rule and at the
	// least; 0: not published.
	Surfaced, SurfacedLeast unit.Length
	Source                  Source
}

// Classes is the thickness classes of a system, thinnest first.
func Classes(system unit.System) []Class {
	return slices.DeleteFunc(slices.Clone(known.classes), func(c Class) bool { return c.System != system })
}

// ClassFor is the thinnest class that is at least the finished thickness and
// the allowance; false where the table has none so thick, and the part has to
// be glued up from thinner stuff.
func ClassFor(finished, allowance unit.Length, system unit.System) (Class, bool) {
	for _, c := range Classes(system) {
		if c.Rough >= finished+allowance {
			return c, true
		}
	}
	return Class{}, false
}

// Allowance is what a solid part is cut larger than finished.
type Allowance struct {
	Length, Width, Thickness unit.Length
}

// UsualAllowance is 1 in of length, 1/4 in of width and of thickness (common
// practice).
func UsualAllowance() Allowance {
	return Allowance{Length: unit.Inch, Width: unit.Inch / 4, Thickness: unit.Inch / 4}
}

// Rough is the rough size of a part of the finished size.
func (a Allowance) Rough(length, width, thickness unit.Length) (l, w, t unit.Length) {
	return length + a.Length, width + a.Width, thickness + a.Thickness
}

func classOf(r row) Class {
	c := Class{System: r.system(), Name: r.Text("name"), Source: r.source("")}
	if c.System == unit.Imperial {
		c.Rough, c.Surfaced, c.SurfacedLeast = r.inch("rough"), r.inch("surfaced"), r.inch("surfaced_least")
	} else {
		c.Rough = r.mm("rough")
	}
	return c
}
