// Package cutting lays parts out on panels and boards so that they can be cut
// by a saw: every cut runs from edge to edge of the piece at hand (guillotine
// cuts), each as wide as the kerf.
//
// Solve lays out rectangles on panels, or on boards of solid wood of one class
// of thickness, SolveBars lengths on bars. Both give the best layout found, a
// proven lower bound for what it could cost, and say so when the two meet. The
// same job, seed and budget give the same answer.
//
// X runs along a panel's W (its length, the direction of the grain), Y along
// its H. Coordinates count from the lower left corner of the panel as bought,
// before its edges are trimmed.
package cutting

import (
	"casewright/internal/unit"
)

// Sheet is one size of panel on hand or to be bought, or one offcut.
type Sheet struct {
	ID     string
	W, H   unit.Length // length along the grain, width across it; as bought
	Price  unit.Money  // of one; an offcut on hand may cost nothing
	Stock  int         // how many there are; below 0: as many as needed
	Trim   Trim        // cut away from the edges before anything else
	Offcut bool        // left from an earlier job; used first when that saves money
	Label  string

	// Of boards: what parts keep clear of, how it is cut up, and its colour as
	// a number from light to dark, 0 where it is not known.
	Defects []Defect `json:",omitempty"`
	Order   CutOrder `json:",omitempty"`
	Tone    int      `json:",omitempty"`
}

// Trim is what is cut from each edge of a panel before it is used. The width
// of the trimming cut is part of it: 10 mm of trim leave the panel 10 mm
// smaller.
type Trim struct{ Left, Right, Bottom, Top unit.Length }

// Usable is the size of the sheet inside its trims.
func (s Sheet) Usable() (w, h unit.Length) {
	return s.W - s.Trim.Left - s.Trim.Right, s.H - s.Trim.Bottom - s.Trim.Top
}

// Item is one kind of part to be cut Qty times. W lies along the grain.
type Item struct {
	ID    string
	W, H  unit.Length
	Qty   int
	Turn  bool // may be turned by 90°, so that W lies across the sheet's grain
	Label string

	// Strips is how many of the pieces are glued side by side into one panel;
	// 0 or 1: none. Qty is a multiple of it.
	Strips int `json:",omitempty"`
	// Glue says that each piece is glued up from strips as wide as the boards
	// give; nil: it is not.
	Glue *Glue `json:",omitempty"`
}

// Objective is what a layout is judged by.
type Objective int

// The objectives. Among the fewest sheets offcuts do not count. LeastHeight uses one sheet only and leaves the largest clean
// offcut along its top.
const (
	FewestSheets Objective = iota
	LeastPrice
	LeastHeight
)

// Run is which way the strips of the first stage of cuts run. A sheet that is
// one strip from edge to edge is not ripped at all, and begins with the second.
type Run int

// Lengthwise strips are as long as the sheet (X, the grain), crosswise ones as
// its width (Y).
const (
	EitherWay Run = iota // each sheet as it yields more
	Lengthwise
	Crosswise
)

func (r Run) String() string { return [...]string{"either way", "lengthwise", "crosswise"}[r] }

// Job is what is to be cut, and from what.
type Job struct {
	Sheets      []Sheet
	Items       []Item
	Matched     []Matched // pieces cut side by side in order; a piece is in one group at most
	Kerf        unit.Length
	Objective   Objective
	Stages      int // of cuts at most, 2 or 3; 0: any number. Strips edge to edge, each crosscut; with 3 the pieces ripped once more. Trimming a part to size is none. Matched groups are cut up after those
	Run         Run // which way the strips of the first stage run, where stages are limited
	LeastOffcut struct{ W, H unit.Length }
	Seed        uint64
}

// Budget bounds the work of a search by counted steps, never by the clock:
// the same budget gives the same answer. A deadline is set by the context.
type Budget struct {
	Iterations int            // 0: a default that suits furniture jobs
	Progress   func(Progress) // called now and then from the calling goroutine; may be nil
	Cores      *Cores         // further ones that may be used; nil: none

	valued bool // only the value counts: how the layouts lie is not tidied
}

// Progress is how far a search has come.
type Progress struct {
	Iterations, Of int
	Value, Bound   int64
}

// NodeKind says what a rectangle of a layout is.
type NodeKind int

// The kinds of rectangle. An Offcut is a rest at least as large as the job's
// LeastOffcut; smaller rests are Waste.
const (
	Split NodeKind = iota
	Part
	Offcut
	Waste
)

func (k NodeKind) String() string {
	return [...]string{"split", "part", "offcut", "waste"}[k]
}

// Node is one rectangle in the order of cuts. The children of a Split lie in
// order along X when Vertical, else along Y, one kerf apart. A rest at an edge
// that the blade swallows whole is no child: between the last child (or the
// first, after a trim) and the edge of its parent lies then less than or just
// one kerf.
type Node struct {
	X, Y, W, H unit.Length
	Kind       NodeKind
	Item       int  // index into Job.Items, for a Part
	Turned     bool // the part's W lies along Y
	Vertical   bool // of a Split: its cuts run at constant X
	Children   []Node
}

// Placed is one part on a sheet; W and H as placed.
type Placed struct {
	Item       int
	X, Y, W, H unit.Length
	Turned     bool
	Group      int `json:",omitempty"` // number of its matched group, from 1; 0: none
	Panel      int `json:",omitempty"` // of a strip: the number of the panel of its item that it is glued into, from 1; H is then its own where the item has Glue
	Strip      int `json:",omitempty"` // of a strip: its place in that panel, from 1
}

// Layout is one pattern of cuts and how many sheets are cut alike.
type Layout struct {
	Sheet   int // index into Job.Sheets
	Copies  int
	Root    Node
	Parts   []Placed
	Offcuts []Node // rests worth keeping, largest first

	// Order is the way a board with defects, strips or an order of its own is
	// cut up; AnyOrder for other sheets, or where there is no cut to make.
	Order CutOrder `json:",omitempty"`
}

// Result is the best layout found and what is proven about it.
type Result struct {
	Layouts []Layout
	Short   []Shortfall // parts that could not be laid out, and why
	// Value is the number of sheets, their price in minor units, or the height
	// used in nanometres, as the objective says; Bound is the least value any
	// guillotine layout of all parts can have.
	Value, Bound int64
	Proven       bool   // no better layout exists: Value equals Bound
	Iterations   int    `json:"-"` // moves; on several cores those under way when it was proven are not counted alike
	Why          string // what the bound rests on, in a maker's words
	// Settings is how often the saw is set when equal cuts of one stage are
	// made together on all sheets, trims aside; Turns how often a strip or a
	// smaller piece is turned to be cut across.
	Settings, Turns int
}
