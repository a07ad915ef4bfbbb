// Package finding holds what a check has to say to the maker: values, not
// errors, so that every screen and paper can show them beside the thing they
// are about.
package finding

import (
	"cmp"
	"slices"

	"casewright/internal/unit"
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

	// Path is the field that the finding is about, where there is one, in the
	// document that Doc names: "piece", "shop" or "record"; empty is the piece.
	Path string `json:"path,omitempty"`
	Doc  string `json:"doc,omitempty"`
	Fix  *Fix   `json:"fix,omitempty"` // where the advice is one certain change
}

// Fix is advice that can be put in with one press.
type Fix struct {
	Says    string      `json:"says"` // what it does, as a button says it: "Make the stile 18 mm wide"
	Changes []FixChange `json:"changes"`
}

// FixChange is one change of the document: Do is set or remove, Value what a
// maker would type.
type FixChange struct {
	Path  string `json:"path"`
	Do    string `json:"do"`
	Value string `json:"value,omitempty"`
}

// Set is a fix that sets one field.
func Set(path, value, says string) *Fix {
	return &Fix{Says: says, Changes: []FixChange{{Path: path, Do: "set", Value: value}}}
}

// SetSize is a fix that sets a size, written exactly in a system of units.
func SetSize(path string, size unit.Length, units unit.System, says string) *Fix {
	return Set(path, size.Exact(units), says)
}

// MarshalText writes the level as its word.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Sort puts the gravest findings first; within a level they keep their order.
func Sort(fs []Finding) {
	slices.SortStableFunc(fs, func(a, b Finding) int { return cmp.Compare(b.Level, a.Level) })
}
