// Package wood holds what is known of solid wood, panels and screws: tables
// with their sources, and the few formulas that go with them.
//
// Every figure carries the Source it was copied from and how sure the copy
// is, so that a paper can print where a number comes from. A zero in a field
// that is documented so means "not published", never nought.
//
// The tables are embedded, read once when the program starts, and never
// change. Formulas that are asked for something outside the range their
// source gives return a *RangeError and no figure.
package wood

import (
	"fmt"
	"strconv"
)

// Source says where a figure comes from.
type Source struct {
	Name string     `json:"name"` // document with table, equation or page
	How  Provenance `json:"how"`  // how the figure was obtained from it
}

// String is the source as papers print it.
func (s Source) String() string {
	switch {
	case s.Name == "":
		return s.How.Words()
	case s.How == Seen || s.How == "":
		return s.Name
	}
	return s.Name + " (" + s.How.Words() + ")"
}

// Provenance is how a figure was obtained, as coded in the tables.
type Provenance string

// The codes of the tables, the surest first.
const (
	Seen     Provenance = "seen"      // read in the document itself
	Quoted   Provenance = "seen2"     // read in a second document that cites it
	Checked  Provenance = "mem+check" // from memory, confirmed by an independent check
	Agreed   Provenance = "mem+mem"   // two figures from memory that agree with each other
	Recalled Provenance = "memory"    // from memory, not confirmed
	Computed Provenance = "calc"      // computed from other figures
	Practice Provenance = "practice"  // common practice, no source
)

// Words is p for a reader; empty for a code that is not known.
func (p Provenance) Words() string {
	switch p {
	case Seen:
		return "read in the source"
	case Quoted:
		return "as quoted elsewhere"
	case Checked:
		return "from memory, confirmed by a check"
	case Agreed:
		return "from memory, two figures agree"
	case Recalled:
		return "from memory"
	case Computed:
		return "computed"
	case Practice:
		return "common practice, no source"
	}
	return ""
}

// RangeError says that a figure lies outside what a formula or table is good
// for. Error is one sentence for the maker.
type RangeError struct {
	What      string  // "moisture content", "relative humidity"
	Value     float64 // as given
	Low, High float64 // what is allowed, both ends included
	Unit      string  // "%", "°C"
	Source    Source  // who says so; empty where it is plain sense
}

func (e *RangeError) Error() string {
	s := fmt.Sprintf("%s of %s %s is outside %s to %s %s",
		e.What, short(e.Value), e.Unit, short(e.Low), short(e.High), e.Unit)
	if e.Source.Name != "" {
		s += ", for which " + e.Source.Name + " holds"
	}
	return s
}

// within returns a *RangeError unless low <= v <= high; NaN is outside.
func within(what string, v, low, high float64, unit string, s Source) error {
	if v >= low && v <= high {
		return nil
	}
	return &RangeError{what, v, low, high, unit, s}
}

func short(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
