// Package shop is the document of the maker's tools, stock, hardware and
// habits. The struct tags are its schema; see package piece.
package shop

import "casewright/internal/unit"

// Format is the version of the document this program writes.
const Format = 1

// Shop is what the maker works with.
type Shop struct {
	Format   int                 `yaml:"format" need:"true" min:"1" doc:"version of this document"`
	Name     string              `yaml:"name,omitempty" doc:"name of the shop on papers"`
	Units    unit.System         `yaml:"units" need:"true" one:"mm|in" doc:"unit of bare numbers"`
	Currency string              `yaml:"currency,omitempty" doc:"sign or code printed before prices"`
	Paper    string              `yaml:"paper,omitempty" one:"a4|letter" default:"a4" doc:"paper in the printer"`
	Saws     map[string]Saw      `yaml:"saws" need:"true" doc:"saws, each with a key"`
	Panels   map[string]Panel    `yaml:"panels,omitempty" doc:"sheet goods that can be bought or are on hand"`
	Woods    map[string]Wood     `yaml:"woods,omitempty" doc:"solid woods"`
	Bands    map[string]Band     `yaml:"bands,omitempty" doc:"edge bands"`
	Hardware map[string]Hardware `yaml:"hardware,omitempty" doc:"bought fittings, as the box says"`
	Habits   Habits              `yaml:"habits,omitempty" doc:"how this shop works"`
	Rates    *Rates              `yaml:"rates,omitempty" doc:"what work costs and what is earned; left out: no price is worked out"`
	Tax      *Tax                `yaml:"tax,omitempty" doc:"tax on the price; left out: none is shown"`
	Terms    Terms               `yaml:"terms,omitempty" doc:"what stands on every quote"`
	Supplies map[string]Supply   `yaml:"supplies,omitempty" doc:"glue, finish, abrasive and what else is used up, each with a key"`
	Working  Working             `yaml:"working,omitempty" doc:"who works when, and in what air"`
	Times    map[string]Time     `yaml:"times,omitempty" keys:"design|break-down|kerf|bend|band|rough-cut|mill|size|joint|drill|shape|sand|dry-fit|glue-up|flush|fit|finish|assemble|deliver" doc:"minutes that operations take here; left out: first guesses"`
	Machines Machines            `yaml:"machines,omitempty" doc:"what planer and jointer take"`
	Clamps   []Clamp             `yaml:"clamps,omitempty" doc:"clamps on the wall"`
	Glues    map[string]Glue     `yaml:"glues,omitempty" doc:"glues on the shelf, each with a key"`
	Coats    map[string]Coat     `yaml:"coats,omitempty" keys:"oil|hardwax-oil|wiping-varnish|varnish|shellac|lacquer|waterborne" doc:"finishes as their tins say"`
}

// Saw is one saw with the blade that is in it.
type Saw struct {
	Kind   string      `yaml:"kind" need:"true" one:"table|track|hand-guide" doc:"table saw with fence, track saw on its rail, or hand-held against a guide"`
	Kerf   unit.Length `yaml:"kerf" need:"true" min:"0.3 mm" max:"20 mm" doc:"measured width of the kerf"`
	Tooth  string      `yaml:"tooth,omitempty" one:"flat|alternate" default:"flat" doc:"tooth form; alternate bevels leave two deep corners"`
	Bevel  unit.Angle  `yaml:"bevel,omitempty" default:"15 deg" min:"0 deg" max:"45 deg" doc:"angle of alternate bevels"`
	Depth  unit.Length `yaml:"depth,omitempty" zero:"no" default:"55 mm" doc:"deepest cut"`
	Reach  unit.Length `yaml:"reach,omitempty" zero:"no" default:"700 mm" doc:"table saw: farthest fence setting; track saw: length of the rail"`
	Least  unit.Length `yaml:"least,omitempty" default:"20 mm" doc:"nearest fence setting you work at"`
	Base   unit.Length `yaml:"guide-offset,omitempty" zero:"no" doc:"hand-held: edge of the saw's base to the near side of the kerf"`
	Breaks bool        `yaml:"breaks-down,omitempty" doc:"full panels are cut on this one"`
	Blades []Blade     `yaml:"blades,omitempty" doc:"other blades at hand"`
}

// Blade is a further blade for a saw.
type Blade struct {
	Name  string      `yaml:"name" need:"true" doc:"how the maker calls it"`
	Kerf  unit.Length `yaml:"kerf" need:"true" min:"0.3 mm" max:"20 mm" doc:"measured width of its kerf"`
	Tooth string      `yaml:"tooth,omitempty" one:"flat|alternate" default:"flat" doc:"tooth form"`
}

// Panel is a sheet good. Length runs along the face grain.
type Panel struct {
	Kind      string      `yaml:"kind" need:"true" doc:"what it is made of: a key of the built-in table (see casewright schema panels)"`
	Name      string      `yaml:"name,omitempty" doc:"what the yard calls it"`
	Thickness unit.Length `yaml:"thickness" need:"true" min:"0.4 mm" max:"100 mm" doc:"as measured with a caliper, not the nominal"`
	Tolerance unit.Length `yaml:"tolerance,omitempty" zero:"no" doc:"half of the spread of thickness met; left out: that of the standard for its kind"`
	Sheets    []Sheet     `yaml:"sheets" need:"true" doc:"sizes sold and offcuts on hand"`
	Trim      unit.Length `yaml:"trim,omitempty" doc:"cut off all edges before anything else"`
	FacePly   unit.Length `yaml:"face-ply,omitempty" zero:"no" doc:"thickness of the face ply; left out: that of its kind"`
	Density   float64     `yaml:"density-kg-m3,omitempty" min:"50" max:"2000" doc:"density; left out: that of its kind"`
	NoGrain   bool        `yaml:"no-grain,omitempty" doc:"parts may be turned"`
}

// Sheet is one size of a panel.
type Sheet struct {
	Length unit.Length  `yaml:"length" need:"true" min:"20 mm" max:"20 m" doc:"along the face grain"`
	Width  unit.Length  `yaml:"width" need:"true" min:"20 mm" max:"20 m" doc:"across the face grain"`
	Price  *unit.Money  `yaml:"price,omitempty" doc:"of one sheet; 0 where it costs nothing"`
	OnHand int          `yaml:"on-hand,omitempty" min:"0" max:"10000" doc:"how many lie in the shop"`
	Offcut bool         `yaml:"offcut,omitempty" doc:"only what is on hand; it is not bought"`
	Trim   *unit.Length `yaml:"trim,omitempty" doc:"where it differs from the panel's"`
}

// TrimOf is what is cut off all edges of one of its sheets.
func (p Panel) TrimOf(s Sheet) unit.Length {
	if s.Trim != nil {
		return *s.Trim
	}
	return p.Trim
}

// Wood is solid wood of one species.
type Wood struct {
	Species  string                `yaml:"species" need:"true" doc:"a key of the built-in table"`
	Price    *unit.Money           `yaml:"price,omitempty" doc:"of one board foot or one cubic metre, see per; 0 where it costs nothing"`
	Per      string                `yaml:"per,omitempty" one:"board-foot|cubic-metre" default:"board-foot" doc:"what the price is for"`
	Classes  map[string]unit.Money `yaml:"class-prices,omitempty" doc:"price of a thickness class, such as 8/4, where it differs"`
	Moisture float64               `yaml:"moisture-percent,omitempty" zero:"no" default:"8" min:"0" max:"30" doc:"moisture content in the shop"`
	Waste    float64               `yaml:"waste-percent,omitempty" default:"30" min:"0" max:"80" doc:"what is lost; see waste-of"`
	WasteOf  string                `yaml:"waste-of,omitempty" one:"purchase|net" default:"purchase" doc:"what waste-percent is a share of: of what is bought, or added to the net"`
	Boards   []Board               `yaml:"boards,omitempty" doc:"boards on hand or picked at the yard"`
	Widest   unit.Length           `yaml:"widest,omitempty" zero:"no" default:"150 mm" doc:"widest board to be had; wider parts are glued up"`
}

// Board is one board, or several alike.
type Board struct {
	Thickness unit.Length `yaml:"thickness" need:"true" min:"1 mm" max:"500 mm" doc:"rough thickness"`
	Width     unit.Length `yaml:"width" need:"true" min:"10 mm" max:"2 m" doc:"where it is narrowest"`
	Length    unit.Length `yaml:"length" need:"true" min:"50 mm" max:"10 m" doc:"usable length"`
	Count     int         `yaml:"count,omitempty" default:"1" min:"1" max:"1000" doc:"how many alike"`
	Straight  bool        `yaml:"straight-edge,omitempty" doc:"one edge is straight already: none is straightened before parts are ripped off it"`
	Tone      int         `yaml:"tone,omitempty" min:"0" max:"9" doc:"colour, from 1, the lightest, to 9, the darkest: panels are glued up from boards near to each other; 0 or left out: not looked at"`
	Cut       string      `yaml:"cut,omitempty" one:"any|crosscut-first|rip-first" doc:"how this one is cut up; left out: as the habits say"`
	Defects   []Defect    `yaml:"defects,omitempty" doc:"what parts keep clear of"`
}

// Defect is a rectangle of a board that no part may touch. It is measured from
// one end, and from the edge that is straight or will be straightened.
type Defect struct {
	What     string      `yaml:"what,omitempty" one:"knot|check|split|sapwood|wane|stain|figure" doc:"what it is"`
	FromEnd  unit.Length `yaml:"from-end,omitempty" doc:"from the end you measure from to where it begins"`
	FromEdge unit.Length `yaml:"from-edge,omitempty" doc:"from the straight edge to where it begins"`
	Length   unit.Length `yaml:"length" need:"true" min:"1 mm" doc:"along the board"`
	Width    unit.Length `yaml:"width" need:"true" min:"1 mm" doc:"across the board"`
}

// DefectKinds are the words for a defect.
func DefectKinds() []string {
	return []string{"knot", "check", "split", "sapwood", "wane", "stain", "figure"}
}

// Band is an edge band or a solid lipping.
type Band struct {
	Thickness unit.Length `yaml:"thickness" need:"true" min:"0.1 mm" max:"30 mm" doc:"as applied"`
	Name      string      `yaml:"name,omitempty" doc:"what the yard calls it"`
	Before    bool        `yaml:"within-size,omitempty" doc:"the finished size includes the band, so the core is cut smaller"`
	Price     *unit.Money `yaml:"price,omitempty" doc:"of one metre, foot or yard, see per; 0 where it costs nothing"`
	Per       string      `yaml:"per,omitempty" one:"metre|foot|yard" doc:"what it is sold and counted by; left out: the metre, in a shop in inches the foot"`
}

// SoldBy is what an edge band is sold by in a shop of those units, and how long
// that is.
func (b Band) SoldBy(s unit.System) (string, unit.Length) {
	per := b.Per
	if per == "" && s == unit.Imperial {
		per = "foot"
	}
	switch per {
	case "foot":
		return per, 12 * unit.Inch
	case "yard":
		return per, 36 * unit.Inch
	}
	return "metre", unit.Metre
}

// Hardware is a bought fitting with the clearances its box states. Kind says
// which fields matter; the others are left out.
type Hardware struct {
	Kind  string      `yaml:"kind" need:"true" one:"side-runner|under-runner|corner-runner|wooden-runner|cup-hinge|pin|leg-plate|caster|foot|pull|screw|machine-screw|dowel|loose-tenon" doc:"what it is"`
	Name  string      `yaml:"name,omitempty" doc:"what to ask for"`
	Price *unit.Money `yaml:"price,omitempty" doc:"of one, of a pair of runners, or of a pack where pack says how many are in it; 0 where it costs nothing"`
	Pack  int         `yaml:"pack,omitempty" default:"1" min:"1" max:"10000" doc:"how many in a pack"`

	// Runners.
	Lengths  []unit.Length `yaml:"lengths,omitempty" zero:"no" doc:"lengths sold; the longest that fits is taken"`
	SideMin  unit.Length   `yaml:"side-min,omitempty" zero:"no" doc:"least space each side between box and opening"`
	SideMax  unit.Length   `yaml:"side-max,omitempty" zero:"no" doc:"most space each side"`
	Inside   unit.Length   `yaml:"inside-less,omitempty" zero:"no" doc:"under-mounted: opening less inside width of box"`
	SideMost unit.Length   `yaml:"side-thickest,omitempty" zero:"no" doc:"thickest drawer side it takes"`
	Above    *unit.Length  `yaml:"above,omitempty" doc:"space needed above the box; left out: 12.5 mm where below is left out as well, 2 mm over wooden runners, else none"`
	Below    *unit.Length  `yaml:"below,omitempty" doc:"space needed below the box; left out: 12.5 mm where above is left out as well, 3 mm or 1/8 in for corner runners, else none; wooden runners: none"`
	Behind   *unit.Length  `yaml:"behind,omitempty" doc:"case depth needed beyond the runner's length; left out: 3 mm, 12 mm for wooden runners"`
	Recess   *unit.Length  `yaml:"bottom-recess,omitempty" doc:"underside of drawer bottom above the lower edge of the sides; left out: 13 mm under-mounted, else 10 mm or 3/8 in"`
	Parallel unit.Length   `yaml:"parallel,omitempty" zero:"no" doc:"most the opening may be out of parallel"`

	// Cup hinges.
	Cup      unit.Length  `yaml:"cup,omitempty" zero:"no" doc:"diameter of the cup"`
	CupDepth unit.Length  `yaml:"cup-depth,omitempty" zero:"no" doc:"depth of its hole"`
	Boring   unit.Length  `yaml:"boring,omitempty" zero:"no" doc:"edge of door to edge of cup"`
	Fixed    *unit.Length `yaml:"fixed,omitempty" min:"-30 mm" max:"50 mm" doc:"overlay with no boring distance and no plate; below 0 for inset doors"`
	Plate    unit.Length  `yaml:"plate,omitempty" doc:"height of the mounting plate"`
	Setback  unit.Length  `yaml:"setback,omitempty" zero:"no" doc:"front edge of the side to the plate's holes"`

	// Pins, plates, casters, feet, pulls, screws, dowels, tenons.
	Diameter   unit.Length `yaml:"diameter,omitempty" zero:"no" doc:"of the hole, shank or dowel"`
	Depth      unit.Length `yaml:"depth,omitempty" zero:"no" doc:"of its hole"`
	Length     unit.Length `yaml:"length,omitempty" zero:"no" doc:"of screw, dowel, tenon or plate; of a pull over all"`
	Width      unit.Length `yaml:"width,omitempty" zero:"no" doc:"of plate or tenon; of a pull as it is seen from the front"`
	Thickness  unit.Length `yaml:"thickness,omitempty" zero:"no" doc:"of plate or tenon"`
	Screws     int         `yaml:"screws,omitempty" zero:"no" min:"0" max:"50" doc:"wood screws each: of a hinge half in the door and half through its plate (left out: only the screws of its own system), of a pair of runners those into the case, with as many into the box"`
	Gauge      int         `yaml:"gauge,omitempty" zero:"no" min:"0" max:"24" doc:"screw gauge"`
	Centres    unit.Length `yaml:"centres,omitempty" doc:"hole spacing of a pull"`
	Wheel      unit.Length `yaml:"wheel,omitempty" zero:"no" doc:"diameter of a caster's wheel"`
	WheelWidth unit.Length `yaml:"wheel-width,omitempty" zero:"no" doc:"width of a caster's wheel"`
	RatedKg    float64     `yaml:"rated-kg,omitempty" zero:"no" doc:"load it is rated for, each (a pair for runners)"`
	Height     unit.Length `yaml:"height,omitempty" zero:"no" doc:"built height with its plate; of a pull: how far it stands out"`
}

// Habits are how this shop works.
type Habits struct {
	RoughLength    unit.Length    `yaml:"rough-length,omitempty" zero:"no" default:"1 in" doc:"added to solid parts for rough cutting"`
	RoughWidth     unit.Length    `yaml:"rough-width,omitempty" zero:"no" default:"1/4 in" doc:"added to solid parts for rough cutting"`
	RoughThickness unit.Length    `yaml:"rough-thickness,omitempty" zero:"no" default:"1/4 in" doc:"least rough thickness over finished"`
	BoardEnds      unit.Length    `yaml:"board-ends,omitempty" max:"500 mm" doc:"cut off both ends of every board for checks and snipe, where rough-length does not hold it"`
	BoardEdge      unit.Length    `yaml:"board-edge,omitempty" default:"1/4 in" max:"100 mm" doc:"lost in straightening one edge of a board that has none"`
	BoardsCut      string         `yaml:"boards-cut,omitempty" one:"any|crosscut-first|rip-first" default:"any" doc:"how boards are cut up: crosscut into lengths and those ripped, or ripped into strips and those crosscut; any: each as it yields most"`
	StripsFirst    bool           `yaml:"strips-first,omitempty" doc:"panels are ripped into strips edge to edge before crosscuts, for a table saw"`
	StripStages    int            `yaml:"strip-stages,omitempty" min:"2" max:"3" default:"3" doc:"stages of cuts with strips-first: 3: strips, lengths, and those ripped once more; 2: strips and lengths; trimming a part to size is not counted"`
	StripsRun      string         `yaml:"strips-run,omitempty" one:"any|lengthwise|crosswise" default:"any" doc:"with strips-first, which way the strips run: lengthwise, as long as the panel, or crosswise, as long as it is wide; any: as it yields most"`
	GluedStrips    string         `yaml:"glued-strips,omitempty" one:"any|alike" default:"any" doc:"strips of a part glued up from boards: any: as wide as the boards give where that costs less, alike: all of one width"`
	FurtherStrips  int            `yaml:"further-strips,omitempty" min:"0" max:"5" default:"0" doc:"strips glued into a part beyond the fewest that would do, where that saves wood; each is one more to rip, joint and glue"`
	LeastStrip     unit.Length    `yaml:"least-strip,omitempty" default:"50 mm" min:"20 mm" max:"500 mm" doc:"narrowest strip glued into a part, as sawn"`
	LeastOffcut    [2]unit.Length `yaml:"least-offcut,omitempty" zero:"no" default:"300 mm, 150 mm" doc:"smaller pieces are waste: length and width"`
	TipClearance   unit.Length    `yaml:"tip-clearance,omitempty" zero:"no" default:"3 mm" doc:"wood left before the tip of a screw under a show face"`
	Spares         float64        `yaml:"spares-percent,omitempty" default:"10" min:"0" max:"100" doc:"spare screws and pins"`
	Overbend       unit.Angle     `yaml:"overbend,omitempty" min:"-30 deg" max:"30 deg" doc:"added to each bend on the form"`
	DrySkin        bool           `yaml:"bend-dry,omitempty" doc:"skins are bent without softening; left out: soften where asked"`
}
