// Package saw puts cuts into the order in which a tired person can make them:
// one setup for each fence, stop or rail setting, with all cuts made at it.
//
// A setting counts from the edge that lies against the fence (or from which
// the mark is measured) to the near side of the kerf. The part between fence
// and blade is as wide as the setting; what falls outside has lost the kerf.
package saw

import "casewright/internal/unit"

// Sequence is all settings for one stretch of work: breaking down the panels
// of one material, kerfing one kind of part, or cutting solid wood to size.
type Sequence struct {
	Title   string  `json:"title"`
	Stock   string  `json:"stock"`          // key of the panel or wood in the shop
	Part    string  `json:"part,omitempty"` // letter, for kerfs
	Saw     string  `json:"saw"`            // key in the shop
	Kind    string  `json:"kind"`           // table, track or hand-guide
	Setups  []Setup `json:"setups"`
	Account []Row   `json:"account,omitempty"`
	Sizes   bool    `json:"sizes,omitempty"`           // brings milled parts or blanks to width and length
	After   bool    `json:"after_measuring,omitempty"` // its settings are those planned: what was measured takes their place
}

// Way says how the setting is made.
type Way string

// The ways.
const (
	Fence     Way = "fence"                // edge against the rip fence
	Stop      Way = "stop on the sled"     // end against a stop block, piece held by sled or mitre gauge
	RailMark  Way = "rail at the mark"     // track saw
	GuideMark Way = "guide at the mark"    // hand-held against a clamped guide
	Beyond    Way = "mark, track or guide" // farther than the fence reaches from either edge
)

// Setup is one setting and all the cuts made at it.
type Setup struct {
	N         int         `json:"n"`
	Way       Way         `json:"way"`
	Setting   unit.Length `json:"setting"`
	Guide     unit.Length `json:"guide,omitempty"` // hand-held: edge of the guide from the reference edge
	Depth     unit.Length `json:"depth,omitempty"` // of cut; 0: right through
	Reference string      `json:"reference"`       // which edge lies against the fence
	Keep      string      `json:"keep"`            // which side of the kerf is the part
	Cuts      []Cut       `json:"cuts"`
	Parts     []string    `json:"parts,omitempty"`  // letters that come off finished
	Blanks    []string    `json:"blanks,omitempty"` // letters of parts that come off larger than they will be
	Check     unit.Length `json:"check"`            // measure this to trust the setting
	CheckWhat string      `json:"check_what"`
	Turn      string      `json:"turn,omitempty"` // "then end for end: same setting"
	Note      string      `json:"note,omitempty"`
}

// Cut is one pass of the blade, or several alike.
type Cut struct {
	Of     string      `json:"of"`               // the piece at hand: panel 1, strip 1.2, part B
	Times  int         `json:"times"`            // how often, on all pieces alike
	Pieces int         `json:"pieces,omitempty"` // pieces at hand alike; Times is a multiple of it
	Whole  unit.Length `json:"whole,omitempty"`  // of the piece at hand before this cut, in the direction of the setting; 0: not known
	Long   unit.Length `json:"long"`             // length of the cut
	Centre unit.Length `json:"centre,omitempty"` // kerfs: centre from the near end of the part
	Kerf   string      `json:"kerf,omitempty"`   // kerfs: "top left 13"
	Left   unit.Length `json:"left"`             // what remains of the piece at hand beyond the kerf
	Gives  string      `json:"gives,omitempty"`  // letter of the part, or strip 1.2, trim
	Rest   string      `json:"rest,omitempty"`   // what the remainder is, when this was the last cut: a letter, a strip, offcut, waste
}

// Row accounts for one run across a panel or strip: the parts and strips, the
// kerfs, the trims, offcuts and waste make up the whole.
type Row struct {
	Of     string      `json:"of"`
	Whole  unit.Length `json:"whole"`
	Parts  unit.Length `json:"parts"` // parts, and strips cut further
	Kerfs  unit.Length `json:"kerfs"`
	Trims  unit.Length `json:"trims"`
	Offcut unit.Length `json:"offcut"`
	Waste  unit.Length `json:"waste"`
}

// Sum is what the row adds up to; it equals Whole.
func (r Row) Sum() unit.Length { return r.Parts + r.Kerfs + r.Trims + r.Offcut + r.Waste }

// Machine is the saw a sequence is made for.
type Machine struct {
	Key   string
	Kind  string // table, track or hand-guide
	Kerf  unit.Length
	Reach unit.Length // farthest fence setting, or the length of the rail
	Least unit.Length // nearest setting the maker works at
	Base  unit.Length // hand-held: edge of the saw's base to the near side of the kerf
}
