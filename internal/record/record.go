// Package record is the document of what happened: what was measured, bent
// and cut. A plan takes these before the nominal figures.
package record

import "casewright/internal/unit"

// Format is the version of the document this program writes.
const Format = 1

// Record is what happened to one piece so far.
type Record struct {
	Format      int                      `yaml:"format" need:"true" min:"1" doc:"version of this document"`
	Piece       string                   `yaml:"piece,omitempty" doc:"name of the piece"`
	Units       unit.System              `yaml:"units" need:"true" one:"mm|in" doc:"unit of bare numbers"`
	Thicknesses map[string][]unit.Length `yaml:"thicknesses,omitempty" min:"0.4 mm" max:"200 mm" doc:"for a panel of the shop: measured at several points; their mean replaces the shop's figure"`
	Kerfs       map[string]unit.Length   `yaml:"kerfs,omitempty" min:"0.3 mm" max:"20 mm" doc:"for a saw of the shop: kerf as measured now"`
	TestBends   []TestBend               `yaml:"test-bends,omitempty" doc:"trial strips closed by hand"`
	Openings    []MeasuredOpening        `yaml:"openings,omitempty" doc:"openings as they came out"`
	Cut         []Cut                    `yaml:"cut,omitempty" doc:"parts already cut to their last size; what still is a blank stands under blanks"`
	Blanks      []Blanks                 `yaml:"blanks,omitempty" doc:"blanks off the saw whose last cut, to the measured opening, is still to come"`
	Left        []Left                   `yaml:"left,omitempty" doc:"what is left of panels already cut into; the rest of the parts goes on these first. The shop's panels on hand are then those still whole"`
	Bought      []Bought                 `yaml:"bought,omitempty" doc:"what was bought, as the bills say"`
	Changes     []Change                 `yaml:"changes,omitempty" doc:"changes after the quote"`
	Hours       []Spent                  `yaml:"hours,omitempty" doc:"time spent, by operation"`
}

// TestBend is a strip of the panel, kerfed and closed by hand.
type TestBend struct {
	Panel     string      `yaml:"panel" need:"true" doc:"key of the panel in the shop"`
	Saw       string      `yaml:"saw" need:"true" doc:"key of the saw in the shop"`
	Skin      unit.Length `yaml:"skin" need:"true" min:"0.1 mm" max:"20 mm" doc:"skin left, by caliper"`
	Kerfs     int         `yaml:"kerfs" need:"true" min:"1" max:"500" doc:"how many kerfs"`
	Angle     unit.Angle  `yaml:"angle" need:"true" min:"1 deg" max:"360 deg" doc:"angle at which all kerfs closed"`
	Kerf      unit.Length `yaml:"kerf,omitempty" zero:"no" doc:"measured width of a kerf"`
	Thickness unit.Length `yaml:"thickness,omitempty" zero:"no" doc:"measured thickness at the strip"`
}

// MeasuredOpening is an opening as it came out: widths and heights at three
// places, both diagonals, and the radius of each corner.
type MeasuredOpening struct {
	Opening   string        `yaml:"opening" need:"true" doc:"its name on the papers, such as column 1 row 2"`
	Widths    []unit.Length `yaml:"widths" need:"true" min:"1 mm" doc:"top, middle, bottom; just clear of round corners"`
	Heights   []unit.Length `yaml:"heights" need:"true" min:"1 mm" doc:"left, middle, right; just clear of round corners"`
	Diagonals []unit.Length `yaml:"diagonals,omitempty" min:"1 mm" doc:"longest rod that goes in: top left to bottom right, top right to bottom left"`
	Corners   []unit.Length `yaml:"corners,omitempty" doc:"radius at top left, top right, bottom right, bottom left"`
}

// Left is an offcut of a panel that parts were cut from already.
type Left struct {
	Panel  string      `yaml:"panel" need:"true" doc:"key of the panel in the shop"`
	Length unit.Length `yaml:"length" need:"true" min:"10 mm" max:"10 m" doc:"along the grain, clean edges"`
	Width  unit.Length `yaml:"width" need:"true" min:"10 mm" max:"10 m" doc:"across the grain, clean edges"`
	Count  int         `yaml:"count,omitempty" default:"1" min:"1" max:"1000" doc:"how many alike"`
}

// Blanks says how many blanks of a part lie there. Once one has its last cut
// it is taken from here and counted under cut.
type Blanks struct {
	Part  string `yaml:"part" need:"true" doc:"letter of the part as planned, such as M also where the opening makes it M1"`
	Count int    `yaml:"count" need:"true" min:"1" max:"100000" doc:"how many"`
}

// Cut says how many of a part are cut already.
type Cut struct {
	Part  string `yaml:"part" need:"true" doc:"letter of the part"`
	Count int    `yaml:"count" need:"true" min:"1" max:"100000" doc:"how many"`

	For []string `yaml:"for,omitempty" doc:"openings they are cut for, by name; left out: those that were not measured come first"`
}
