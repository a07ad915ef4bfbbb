// Package saw puts cuts into the order in which a tired person can make them:
// one setup for each fence or stop setting, with all cuts made at it.
package saw

import "casewright/internal/unit"

// Sequence is all settings for one stretch of work: breaking down the panels
// of one material, or kerfing one kind of part.
type Sequence struct {
	Title   string  `json:"title"`          // "White oak ply 18: panels 1 and 2"
	Panel   string  `json:"panel"`          // key in the shop
	Layout  int     `json:"layout"`         // index in the result; −1 for kerfs
	Copies  int     `json:"copies"`         // sheets cut alike
	Part    string  `json:"part,omitempty"` // letter, for kerfs
	Saw     string  `json:"saw"`            // key in the shop
	Kind    string  `json:"kind"`           // table, track, hand-guide
	Setups  []Setup `json:"setups"`
	Account Account `json:"account"`
}

// Setup is one setting and all the cuts made at it.
type Setup struct {
	N         int         `json:"n"`
	Setting   unit.Length `json:"setting"`          // fence, stop or guide reading
	Reading   string      `json:"reading"`          // what is set: "fence", "stop", "rail at mark", "guide at mark"
	Height    unit.Length `json:"height,omitempty"` // blade height or depth, for kerfs: depth of cut
	Reference string      `json:"reference"`        // which edge lies against the fence
	Side      string      `json:"side"`             // which side of the kerf is kept
	Cuts      []Cut       `json:"cuts"`
	Parts     []string    `json:"parts,omitempty"` // letters that come off
	Remainder unit.Length `json:"remainder"`       // what is left beyond, after the last cut
	Check     unit.Length `json:"check"`           // measure this to trust the setting
	CheckWhat string      `json:"check_what"`
	Turn      string      `json:"turn,omitempty"` // "turn the panel end for end for the second cut"
	Note      string      `json:"note,omitempty"`
}

// Cut is one pass of the blade on a panel or part.
type Cut struct {
	Of     string      `json:"of"`               // the piece at hand: "panel 1", "strip 2", "B"
	At     unit.Length `json:"at"`               // near side of the kerf from the reference edge
	Centre unit.Length `json:"centre,omitempty"` // kerfs: centre from the near end of the part
	Long   unit.Length `json:"long"`             // length of the cut
	Times  int         `json:"times"`
	Gives  []string    `json:"gives,omitempty"` // letters of parts finished by it
}

// Account shows that nothing is lost: along each row of cuts parts + kerfs +
// trims + offcuts + waste make up the whole panel.
type Account struct {
	Rows []Row `json:"rows"`
}

// Row is one run across a panel or strip.
type Row struct {
	Of     string      `json:"of"`
	Whole  unit.Length `json:"whole"`
	Parts  unit.Length `json:"parts"`
	Kerfs  unit.Length `json:"kerfs"`
	Trims  unit.Length `json:"trims"`
	Offcut unit.Length `json:"offcut"`
	Waste  unit.Length `json:"waste"`
}
