// Package route puts the whole work into order: operations with what must
// come before each, the time they take, what has to dry, who is needed and
// what to mind; the glue-ups with their clocks and clamps; grits and coats;
// and the calendar from the first day to delivery.
package route

import (
	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Input is all that the route follows from.
type Input struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Record record.Record
	Model  build.Model
	Panels []yard.Panel
	Woods  []yard.Wood
	Setups []saw.Sequence
	Show   func(unit.Length) string // prints a length in the piece's units
}

// Place is a place of work.
type Place string

// The places.
const (
	AtDesk     Place = "desk"
	AtSaw      Place = "saw"
	AtMachines Place = "machines"
	AtBench    Place = "bench"
	AtGlue     Place = "glue-up"
	AtFinish   Place = "finish"
	AtDelivery Place = "delivery"
)

// Route is the order of the work for all pieces that are made together.
type Route struct {
	Steps    []Step            `json:"steps"`
	Glueups  []GlueUp          `json:"glue_ups,omitempty"`
	Finishes []Schedule        `json:"finishes,omitempty"`
	Sticks   []Stick           `json:"sticks,omitempty"`
	Hours    []Hours           `json:"hours"`
	Calendar Calendar          `json:"calendar"`
	Pieces   int               `json:"pieces"`
	Findings []finding.Finding `json:"findings,omitempty"`
}

// Step is one operation on some parts, for all pieces.
type Step struct {
	N       int      `json:"n"`
	Op      Op       `json:"operation"`
	Place   Place    `json:"place"`
	Title   string   `json:"title"`
	Parts   []string `json:"parts,omitempty"` // letters
	Makes   []string `json:"makes,omitempty"` // things that exist from here on: letters, assemblies
	Uses    []string `json:"uses,omitempty"`  // things that must exist
	After   []int    `json:"after,omitempty"` // numbers of the steps that must be done, their waits over
	Machine string   `json:"machine,omitempty"`
	Setups  int      `json:"setups"`        // how often it is set up, however many pieces are made
	Units   float64  `json:"units"`         // of the operation's unit, for one piece
	Setup   Minutes  `json:"setup_minutes"` // for all setups
	Run     Minutes  `json:"run_minutes"`   // for all pieces
	Each    float64  `json:"each_minutes"`  // run for one piece, unrounded
	Wait    Minutes  `json:"wait_minutes"`  // afterwards, without hands
	WaitFor string   `json:"wait_for,omitempty"`
	Rounds  int      `json:"rounds,omitempty"` // how often work and wait alternate: clamps for one at a time
	People  int      `json:"people"`
	Whole   bool     `json:"whole,omitempty"` // not left lying overnight
	What    string   `json:"what"`
	Why     string   `json:"why"`
	Check   string   `json:"check"`
	Mind    []Work   `json:"mind,omitempty"` // whose cautions hold
	Start   Moment   `json:"start"`
	End     Moment   `json:"end"`   // of the work
	Ready   Moment   `json:"ready"` // when what follows may begin
	Source  string   `json:"time_source"`
}

// Minutes are what the step asks of hands, for all pieces.
func (s Step) Minutes() Minutes { return s.Setup + s.Run }

// Hours sums up one operation. Estimated is for all pieces; Each is the run of
// one more piece. Actual and Done are from the record.
type Hours struct {
	Op        Op      `json:"operation"`
	Name      string  `json:"name"`
	Unit      string  `json:"unit"`
	Units     float64 `json:"units"` // in one piece
	Setup     Minutes `json:"setup_minutes"`
	Each      float64 `json:"each_minutes"`
	Estimated Minutes `json:"estimated_minutes"`
	Actual    Minutes `json:"actual_minutes,omitempty"`
	Done      bool    `json:"done,omitempty"`
	Learned   float64 `json:"learned_run_minutes,omitempty"` // run for each unit, as the record has it
	Source    string  `json:"source"`
}

// For is the time of the operation for so many pieces: setups once.
func (h Hours) For(pieces int) Minutes { return h.Setup + minutes(h.Each*float64(pieces)) }

// For is the time of all work for so many pieces made together: setups once.
func (r Route) For(pieces int) Minutes {
	var sum Minutes
	for _, h := range r.Hours {
		sum += h.For(pieces)
	}
	return sum
}

// Make works the route out. Nothing in it is an error: what does not go is
// among the findings.
func Make(in Input) Route {
	m := newMaker(in)
	m.desk()
	m.panels()
	m.solids()
	m.joinery()
	m.shell()
	m.early()
	m.frame()
	m.carcass()
	m.openings()
	m.boxes()
	m.base()
	m.fitting()
	m.finishing()
	m.assembly()
	m.handOver()
	return m.route()
}
