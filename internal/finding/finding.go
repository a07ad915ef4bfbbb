// Package finding holds what a check has to say to the maker: values, not
// errors, so that every screen and paper can show them beside the thing they
// are about.
package finding

import (
	"cmp"
	"slices"
)

// Level is how much a finding matters, least first.
type Level int

// The levels, as the maker reads them.
const (
	Note Level = iota // worth knowing
	Care              // look at this before you cut
	Stop              // as drawn it will not work
)

func (l Level) String() string { return [...]string{"note", "care", "stop"}[l] }

// Finding is one thing to look at. Figure and Limit are printed values with
// their units ("3.9 mm"), so that a finding reads the same everywhere.
type Finding struct {
	ID     string `json:"id"`    // stable name of the check, such as "panel-short"
	Level  Level  `json:"level"` // how much it matters
	Place  string `json:"place"` // path in the piece, or part letter and name
	Says   string `json:"says"`  // one sentence: the thing and the figure
	Figure string `json:"figure,omitempty"`
	Limit  string `json:"limit,omitempty"`
	Advice string `json:"advice,omitempty"` // what to change and by how much
	Source string `json:"source,omitempty"` // where the limit comes from
}

// MarshalText writes the level as its word.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Sort puts the gravest findings first; within a level they keep their order.
func Sort(fs []Finding) {
	slices.SortStableFunc(fs, func(a, b Finding) int { return cmp.Compare(b.Level, a.Level) })
}
