// Package fit is the plan of fitting: from what was measured in each opening
// to the front that fits it, the gaps all round, the box and its packers,
// spacer strips and screws; and, where parts are cut already, what to do with
// them. An opening that was not measured is fitted as planned.
package fit

import (
	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Input is all that fitting looks at.
type Input struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Record record.Record
	Model  build.Model
	Show   func(unit.Length) string // prints a length in the piece's units
}

// Opening is how one opening is fitted. Lengths in its own plane count from
// its lower left corner, x to the right along its lower edge, y up.
type Opening struct {
	Name     string            `json:"name"`
	Fill     string            `json:"fill"`
	Width    unit.Length       `json:"planned_width"`
	Height   unit.Length       `json:"planned_height"`
	Measured bool              `json:"measured"`
	Measures []Measure         `json:"measures,omitempty"`
	Corners  [4]unit.Length    `json:"corners"` // radius at top left, top right, bottom right, bottom left
	Doubt    string            `json:"doubt,omitempty"`
	Shape    opening.Shape     `json:"shape"`
	Outline  geom.Outline      `json:"outline,omitempty"`    // of the opening
	Taper    unit.Length       `json:"wider_at_top"`         // less than 0: wider at the bottom
	Slope    unit.Length       `json:"higher_at_right"`      // less than 0: higher at the left
	Lean     unit.Length       `json:"leans_right"`          // less than 0: to the left, over its height
	Front    *Front            `json:"front,omitempty"`      // drawer front or door
	Box      *Box              `json:"box,omitempty"`        // drawer box
	Packers  []Packer          `json:"packers,omitempty"`    // under the runners
	Spacers  []Spacer          `json:"spacers,omitempty"`    // strips to set things by
	Screws   []Screw           `json:"screws,omitempty"`     // from the real stacks
	Do       []string          `json:"what_to_do,omitempty"` // with parts that are cut
	Findings []finding.Finding `json:"findings,omitempty"`
}

// Measure is one measure beside what it would be in the figure found.
type Measure struct {
	Name     string      `json:"name"`
	Measured unit.Length `json:"measured"`
	Fitted   unit.Length `json:"fitted"`
	Off      unit.Length `json:"off"` // measured less fitted
}

// Verdict is what becomes of a part.
type Verdict string

// The verdicts.
const (
	ToMake   Verdict = "make"   // not cut yet: make it to the size given
	AsIs     Verdict = "leave"  // cut, and right as it is
	ToPlane  Verdict = "plane"  // cut, and takes planing
	ToShim   Verdict = "shim"   // cut, and takes shims
	ToRemake Verdict = "remake" // cut, and of no use here
)

// Front is the front or door of an opening; of a pair of doors, the left one,
// and both among its leaves.
type Front struct {
	Letter  string         `json:"letter"`
	Verdict Verdict        `json:"verdict"`
	Inset   bool           `json:"inset"`
	Width   unit.Length    `json:"width"` // of the blank that holds the outline
	Height  unit.Length    `json:"height"`
	Corners [4]unit.Length `json:"corners"`
	Outline geom.Outline   `json:"outline,omitempty"` // in the opening's plane, as it ends up; none for a pair of doors
	Leaves  []Leaf         `json:"leaves,omitempty"`  // of a pair of doors: left, right
	Gap     unit.Length    `json:"gap"`               // wanted
	Gaps    []Gap          `json:"gaps,omitempty"`    // left, right, bottom, top; of a pair of doors round both
	Between *Gap           `json:"between,omitempty"` // where a pair of doors meets; Plane is off both together
}

// Leaf is one of a pair of doors.
type Leaf struct {
	Side    string         `json:"side"`
	Letter  string         `json:"letter"`
	Verdict Verdict        `json:"verdict"` // one may be cut, and the other made beside it
	Width   unit.Length    `json:"width"`   // of the blank that holds the outline
	Height  unit.Length    `json:"height"`
	Corners [4]unit.Length `json:"corners"`
	Outline geom.Outline   `json:"outline"` // in the opening's plane, as it ends up
}

// Gap is the gap along one edge, at both its ends: the lower and the upper,
// or the left and the right. Plane is what comes off the front there first.
type Gap struct {
	Edge  string         `json:"edge"`
	Ends  [2]unit.Length `json:"ends"`
	Plane [2]unit.Length `json:"plane"`
}

// Box is a drawer box.
type Box struct {
	Verdict Verdict     `json:"verdict"`
	Width   unit.Length `json:"width"` // as made, or as cut
	Least   unit.Length `json:"least"` // what this opening takes
	Most    unit.Length `json:"most"`
	Height  unit.Length `json:"height"`
	Highest unit.Length `json:"highest"`
	Depth   unit.Length `json:"depth"`
	Side    unit.Length `json:"side_space"` // each side, at the runners
}

// Packer is what stands under a runner at one side. Thickness is what makes
// it flush with the edge of the opening (none where there is no packer), and
// Proud what the runner sits beyond the edge; less than 0, behind it.
type Packer struct {
	Side      string      `json:"side"`
	Thickness unit.Length `json:"thickness"`
	Proud     unit.Length `json:"proud"`
}

// Spacer is a strip to set something by.
type Spacer struct {
	For  string      `json:"for"`
	Size unit.Length `json:"size"`
}

// Screw is a screw for the stack as it is.
type Screw struct {
	For    string      `json:"for"`
	Stack  unit.Length `json:"stack"`
	Length unit.Length `json:"length"`
	Clear  unit.Length `json:"clear"` // left before the show face
}

// tenth is what is too little to plane or shim.
const tenth = unit.Millimetre / 10

// step is what packers, gaps and spacers are given to.
func (f *fitting) step() unit.Length {
	if f.in.Piece.Units == unit.Imperial {
		return unit.Inch64
	}
	return tenth
}

// Make plans the fitting of every opening that takes a drawer or a door, and
// of every other one that was measured.
func Make(in Input) []Opening {
	var out []Opening
	for _, op := range in.Model.Openings {
		rec, measured := find(in.Record, op.Name)
		if op.Front == "" && op.Drawer == nil && !measured {
			continue
		}
		f := fitting{in: in, op: op}
		f.measure(rec, measured)
		if f.out.Doubt == "" && !f.out.Shape.Empty() {
			f.front()
			f.box()
			f.blanks()
			f.spacers()
			f.screws()
		}
		out = append(out, f.out)
	}
	return out
}

// Findings are those of all openings, and of what was measured in openings
// that the piece does not have.
func Findings(in Input, all []Opening) []finding.Finding {
	var out []finding.Finding
	for _, o := range all {
		out = append(out, o.Findings...)
	}
	for _, r := range in.Record.Openings {
		known := ""
		for _, op := range in.Model.Openings {
			if op.Name == r.Opening {
				known = ""
				break
			}
			known += ", " + op.Name
		}
		if known != "" {
			out = append(out, finding.Finding{
				ID: "opening-unknown", Level: finding.Care, Place: r.Opening,
				Says:   "The record has measures of " + r.Opening + ", which this piece does not have.",
				Advice: "Name one of: " + known[2:] + ".", Source: "the record",
			})
		}
	}
	return out
}

func find(r record.Record, name string) (record.MeasuredOpening, bool) {
	for _, o := range r.Openings {
		if o.Opening == name {
			return o, true
		}
	}
	return record.MeasuredOpening{}, false
}

// fitting is one opening while it is worked out.
type fitting struct {
	in  Input
	op  build.Opening
	out Opening
}

// show prints what is planed and shimmed.
func (f *fitting) show(l unit.Length) string { return f.in.Show(l) }

// part is the part of a letter.
func (f *fitting) part(letter string) (build.Part, bool) {
	for _, p := range f.in.Model.Parts {
		if p.Letter == letter {
			return p, true
		}
	}
	return build.Part{}, false
}

// partAt is the part of a role and name that stands at a place.
func (f *fitting) partAt(role build.Role, name, place string) (build.Part, bool) {
	for _, p := range f.in.Model.Parts {
		if p.Role != role || name != "" && p.Name != name {
			continue
		}
		for _, at := range p.Places {
			if at.Name == place {
				return p, true
			}
		}
	}
	return build.Part{}, false
}

// measure finds the figure of the opening.
func (f *fitting) measure(rec record.MeasuredOpening, measured bool) {
	o := &f.out
	*o = Opening{Name: f.op.Name, Fill: f.op.Fill, Width: f.op.Width.Size, Height: f.op.Height.Size, Measured: measured, Corners: f.op.Corners}
	w, h := o.Width, o.Height
	m := opening.Measures{Widths: [3]unit.Length{w, w, w}, Heights: [3]unit.Length{h, h, h}, Corners: o.Corners}
	if measured {
		m = build.Measured(rec)
		if len(rec.Corners) != len(m.Corners) {
			m.Corners = o.Corners
		}
		o.Corners = m.Corners
	}
	shape, doubt := opening.Fit(m)
	if measured {
		for i, name := range opening.Names {
			if shape.Measured(i) {
				o.Measures = append(o.Measures, Measure{name, shape.Fitted[i] + shape.Off[i], shape.Fitted[i], shape.Off[i]})
			}
		}
	}
	if doubt != nil {
		o.Doubt = doubt.Says(f.in.Show) + " " + doubt.Advice()
		return
	}
	o.Shape, o.Outline, o.Lean = shape, shape.Outline(), shape.Lean()
	if !shape.Empty() {
		o.Taper, o.Slope = shape.Parallel()
	}
	f.belly()
}

// belly says how much the sides stand in between the corners.
func (f *fitting) belly() {
	w, h := f.out.Shape.Belly()
	for _, b := range []struct {
		what string
		by   unit.Length
	}{{"widths", w}, {"heights", h}} {
		if !f.op.Inset || b.by <= max(f.op.Gap/2, tenth) {
			continue
		}
		f.find(finding.Finding{
			ID: "opening-belly", Level: finding.Care,
			Says:   f.op.Name + ": one of its " + b.what + " is " + f.show(b.by) + " less than straight sides through the others would make it.",
			Figure: f.show(b.by), Limit: f.show(max(f.op.Gap/2, tenth)), Source: "least squares over all measures of the opening",
			Advice: "The front is made that much smaller so that it passes. For an even gap plane the high place of the frame first, and measure again.",
		})
	}
}

func (f *fitting) find(x finding.Finding) {
	x.Place = f.op.Name
	f.out.Findings = append(f.out.Findings, x)
}
