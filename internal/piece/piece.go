// Package piece is the document that says what is to be made: readable,
// versioned, edited by hand. It holds no results; a size that follows from
// others is left out.
//
// The struct tags are the one source of defaults, limits, words and the JSON
// Schema: need (must be given), min and max (sizes with units), one (allowed
// words), keys (allowed keys of a map), default, yes (what a plain yes means), zero (no: 0
// is refused, since it is not the same as left out), doc (a sentence for the
// reader). Package document reads them.
package piece

import "casewright/internal/unit"

// Format is the version of the document this program writes.
const Format = 1

// Piece is what is to be made.
type Piece struct {
	Format int         `yaml:"format" need:"true" min:"1" doc:"version of this document"`
	Name   string      `yaml:"name" need:"true" doc:"what the piece is called on its papers"`
	Count  int         `yaml:"count,omitempty" default:"1" min:"1" max:"1000" doc:"how many to make"`
	Pair   bool        `yaml:"mirrored-pair,omitempty" doc:"every second piece is the mirror image of the first; count is then even"`
	Units  unit.System `yaml:"units" need:"true" one:"mm|in" doc:"unit of bare numbers, and the one shown first"`
	Notes  string      `yaml:"notes,omitempty" doc:"anything to print on the first page"`

	// Materials names the stock of the shop for each role in the piece.
	Materials map[string]string `yaml:"materials" need:"true" keys:"case|top|inside|shelves|frame|fronts|doors|boxes|bottoms|back|base|packers|strip" of:"material" doc:"for each role the key of a panel or a wood of the shop"`

	// Thicknesses gives the finished thickness of roles made of solid wood; a
	// panel brings its own.
	Thicknesses map[string]unit.Length `yaml:"thicknesses,omitempty" keys:"case|top|inside|shelves|frame|fronts|doors|boxes|bottoms|back|base|packers|strip" min:"1 mm" max:"200 mm" doc:"finished thickness of a role in solid wood; a panel has its own"`

	Case   Case    `yaml:"case" need:"true" doc:"the box itself"`
	Frame  *Frame  `yaml:"frame,omitempty" doc:"solid face frame over the front edge of the case"`
	Inside Opening `yaml:"inside,omitempty" doc:"how the clear space is divided and filled"`
	Back   *Back   `yaml:"back,omitempty" doc:"the back"`
	Base   *Base   `yaml:"base,omitempty" doc:"what it stands on"`
	Finish Finish  `yaml:"finish,omitempty" doc:"how the surface is treated"`
	Loose  []Loose `yaml:"loose,omitempty" doc:"any further part, by size"`
	Grain  *Grain  `yaml:"matched-grain,omitempty" doc:"which parts are cut side by side from one panel, in order, so that the grain runs on; left out: all of them"`
	Use    Use     `yaml:"use,omitempty" doc:"what it is for; checks depend on it"`
	Home   *Home   `yaml:"home,omitempty" doc:"air of the room it will stand in; left out: what heated rooms go through"`
	WayIn  *WayIn  `yaml:"way-in,omitempty" doc:"door and stair it must pass"`

	Glue      string    `yaml:"glue,omitempty" of:"glue" doc:"key of the glue in the shop; left out: the shop's first that gives time enough, else yellow glue"`
	Start     string    `yaml:"start,omitempty" of:"date" doc:"day on which the work begins, such as 2027-03-01; left out: counted from day 1"`
	DeliverBy string    `yaml:"deliver-by,omitempty" of:"date" doc:"day by which it must be delivered"`
	Customer  *Customer `yaml:"customer,omitempty" doc:"for whom it is made; left out: no quote and no delivery note"`
}

// Grain says which parts of panel are cut side by side from one panel in the
// order in which they stand. What is left out is matched.
type Grain struct {
	Fronts *bool `yaml:"fronts,omitempty" doc:"drawer fronts one above the other, or side by side; left out: yes"`
	Doors  *bool `yaml:"doors,omitempty" doc:"the two doors of a pair; left out: yes"`
	Shell  *bool `yaml:"shell,omitempty" doc:"the parts of a shell, following round; left out: yes"`
}

// Match reports for fronts, doors and shell whether they are matched.
func (g *Grain) Match() (fronts, doors, shell bool) {
	if g == nil {
		return true, true, true
	}
	yes := func(b *bool) bool { return b == nil || *b }
	return yes(g.Fronts), yes(g.Doors), yes(g.Shell)
}

// Case is a bent shell or a carcass of flat panels. Width runs left to right,
// depth front to back (without frame and overlaid back), height upward
// with the top that lies on it, without the base.
type Case struct {
	Kind   string      `yaml:"kind" need:"true" one:"shell|carcass" doc:"shell: a strip of panel bent round; carcass: flat panels"`
	Width  unit.Length `yaml:"width,omitempty" min:"20 mm" max:"10 m" doc:"outside width"`
	Height unit.Length `yaml:"height,omitempty" min:"20 mm" max:"10 m" doc:"outside height with the top that lies on it, without the base"`
	Depth  unit.Length `yaml:"depth" need:"true" min:"20 mm" max:"5 m" doc:"front edge to back edge, without frame and overlaid back"`

	// Shell.
	Shape   string                 `yaml:"shape,omitempty" one:"closed|u|l|free" doc:"closed loop, U, L, or a profile of flats and bends"`
	Open    string                 `yaml:"open,omitempty" one:"bottom|top|left|right" default:"bottom" doc:"the open side of a U"`
	Corner  string                 `yaml:"corner,omitempty" one:"top-left|top-right|bottom-left|bottom-right" default:"bottom-left" doc:"the bent corner of an L"`
	Radius  unit.Length            `yaml:"radius,omitempty" min:"1 mm" max:"5 m" doc:"outside radius of every corner"`
	Radii   map[string]unit.Length `yaml:"radii,omitempty" keys:"top-left|top-right|bottom-left|bottom-right" min:"1 mm" max:"5 m" doc:"outside radius of single corners, where they differ"`
	Heading string                 `yaml:"heading,omitempty" one:"right|up|left|down" default:"right" doc:"free shape: which way the first flat runs, seen from the front"`
	Profile []Leg                  `yaml:"profile,omitempty" doc:"free shape: flats and bends in order, seen from the front"`
	Skin    unit.Length            `yaml:"skin,omitempty" min:"0.1 mm" max:"20 mm" doc:"wood left under a kerf"`
	Kerfs   int                    `yaml:"kerfs,omitempty" min:"1" max:"500" doc:"kerfs in each bend; left out: chosen"`
	Saw     string                 `yaml:"saw,omitempty" of:"saw" doc:"key of the saw that cuts the kerfs; left out: the first that can"`
	Form    bool                   `yaml:"form,omitempty" doc:"the bends are glued up on a form and filled, so the kerfs may stay open"`
	Seams   []Seam                 `yaml:"seams,omitempty" doc:"where the shell is joined; left out: placed where they hide, as many as the panel asks for"`
	Grain   string                 `yaml:"grain,omitempty" one:"round|along" default:"round" doc:"face grain runs round the shell, or along its depth"`

	// Carcass.
	Through string            `yaml:"through,omitempty" one:"sides|top-bottom" default:"sides" doc:"which parts run through at the corners"`
	Joints  map[string]string `yaml:"joints,omitempty" keys:"top|bottom|dividers|shelves" one:"butt|housing|rebate|mitre|loose-tenon|dowel|pocket-screw" doc:"joint for top, bottom, dividers, shelves"`
	Top     *Slab             `yaml:"top,omitempty" doc:"a top that lies on the case and may overhang"`

	Edges string `yaml:"edges,omitempty" of:"band" doc:"key of the edge band on the front edges of the case"`
}

// Leg is one flat or one bend of a free profile. A bend turns left
// (anticlockwise seen from the front) for positive angles.
type Leg struct {
	Flat   unit.Length `yaml:"flat,omitempty" min:"0 mm" max:"10 m" doc:"length of a flat"`
	Bend   unit.Angle  `yaml:"bend,omitempty" min:"-180 deg" max:"180 deg" doc:"angle of a bend, positive to the left, negative to the right"`
	Radius unit.Length `yaml:"radius,omitempty" min:"1 mm" max:"5 m" doc:"radius of the uncut face"`
	Kerfs  string      `yaml:"kerfs,omitempty" one:"inside|outside" doc:"kerfs in the hollow or on the round side; left out: on the side away from the show face"`
}

// Seam is a place where a shell is joined.
type Seam struct {
	At     string      `yaml:"at" need:"true" one:"top|bottom|left|right" doc:"the side in whose middle it lies"`
	Offset unit.Length `yaml:"offset,omitempty" min:"-10 m" max:"10 m" doc:"from the middle, along the way round (anticlockwise)"`
	Joint  string      `yaml:"joint,omitempty" one:"strip|scarf|butt" default:"butt" doc:"let-in strip, scarf, or butt with spline"`
	Strip  unit.Length `yaml:"strip,omitempty" min:"3 mm" max:"1 m" doc:"width of a strip let in"`
	Held   string      `yaml:"held,omitempty" one:"loose-tenon|dowel|spline|glue" default:"spline" doc:"what holds the joint"`
	Slope  int         `yaml:"slope,omitempty" default:"8" min:"4" max:"20" doc:"scarf: length over thickness"`
}

// Slab is a top that lies on the carcass.
type Slab struct {
	Thickness unit.Length `yaml:"thickness,omitempty" zero:"no" doc:"finished thickness; left out: that of its material"`
	Front     unit.Length `yaml:"front,omitempty" doc:"overhang in front of the frame or case"`
	Sides     unit.Length `yaml:"sides,omitempty" doc:"overhang at each side"`
	Back      unit.Length `yaml:"back,omitempty" doc:"overhang behind the case"`
	Held      string      `yaml:"held,omitempty" one:"buttons|slots|glue" default:"buttons" doc:"how it is held down"`
}

// Frame is the face frame. Stiles run through, rails lie between.
type Frame struct {
	Thickness   unit.Length `yaml:"thickness" need:"true" min:"3 mm" max:"100 mm" doc:"finished thickness"`
	Stile       unit.Length `yaml:"stile" need:"true" min:"3 mm" max:"500 mm" doc:"width of the two outer stiles"`
	TopRail     unit.Length `yaml:"top-rail,omitempty" zero:"no" doc:"width of the top rail; left out: as the stile"`
	BottomRail  unit.Length `yaml:"bottom-rail,omitempty" zero:"no" doc:"width of the bottom rail; left out: as the stile"`
	Divider     unit.Length `yaml:"divider,omitempty" zero:"no" doc:"width of stiles between columns; left out: as the stile"`
	Rail        unit.Length `yaml:"rail,omitempty" zero:"no" doc:"width of rails between rows; left out: as the divider"`
	Inner       string      `yaml:"inner-corner,omitempty" one:"square|follow" default:"square" doc:"inner corner over a bent corner: square, or a curve that runs along with it"`
	Joint       string      `yaml:"joint,omitempty" one:"mortise-tenon|loose-tenon|dowel|pocket-screw" default:"loose-tenon" doc:"joint between rails and stiles"`
	Oversize    unit.Length `yaml:"oversize,omitempty" default:"1 mm" doc:"left proud all round and trimmed flush after glue-up"`
	ToFloorBase bool        `yaml:"stiles-to-floor,omitempty" doc:"the outer stiles run down over the base"`
}

// Opening is a clear space: split into columns (left to right) or rows (top
// to bottom), or filled. With a face frame the sizes are those of the frame's
// openings, otherwise those between the panels.
type Opening struct {
	Width   unit.Length `yaml:"width,omitempty" zero:"no" doc:"clear width; left out: an equal share of what the others leave"`
	Height  unit.Length `yaml:"height,omitempty" zero:"no" doc:"clear height; left out: an equal share of what the others leave"`
	Columns []Opening   `yaml:"columns,omitempty" doc:"spaces from left to right"`
	Rows    []Opening   `yaml:"rows,omitempty" doc:"spaces from top to bottom"`
	Between unit.Length `yaml:"between,omitempty" zero:"no" doc:"what stands between the spaces, seen from the front; left out: the frame's divider or rail, or the panel's thickness"`
	Panel   *bool       `yaml:"panel,omitempty" doc:"a panel behind what stands between; left out: yes between columns, no between rows under a frame"`
	Drawer  *Drawer     `yaml:"drawer,omitempty" doc:"filled by a drawer"`
	Door    *Door       `yaml:"door,omitempty" doc:"closed by a door"`
	Shelves *Shelves    `yaml:"shelves,omitempty" doc:"shelves in this space"`
}

// Drawer fills an opening. Box sizes follow from the opening and the runner.
type Drawer struct {
	Runner    string      `yaml:"runner" need:"true" of:"runner" doc:"key of the runner in the shop's hardware"`
	Front     string      `yaml:"front,omitempty" one:"inset|overlaid" default:"inset" doc:"front inside or over the opening"`
	Gap       unit.Length `yaml:"gap,omitempty" default:"2 mm" min:"0 mm" max:"20 mm" doc:"even gap round an inset front, or to the neighbour of an overlaid one"`
	Overlay   unit.Length `yaml:"overlay,omitempty" zero:"no" doc:"how far an overlaid front covers each edge"`
	Thickness unit.Length `yaml:"front-thickness,omitempty" zero:"no" doc:"thickness of the front; left out: that of its panel, or of the frame"`
	BoxHeight unit.Length `yaml:"box-height,omitempty" min:"10 mm" max:"2 m" doc:"height of the box's sides; left out: the opening less what the runner asks for"`
	BoxDepth  unit.Length `yaml:"box-depth,omitempty" zero:"no" doc:"length of the box, front to back; left out: the runner's length"`
	Side      unit.Length `yaml:"side,omitempty" min:"3 mm" max:"100 mm" doc:"thickness of sides, for solid wood"`
	Corner    string      `yaml:"corner,omitempty" one:"rebate|butt|dovetail|finger" default:"rebate" doc:"corner joint of the box"`
	Pull      string      `yaml:"pull,omitempty" of:"pull" doc:"key of a pull in the shop's hardware"`
}

// Door closes an opening.
type Door struct {
	Hinge     string      `yaml:"hinge" need:"true" of:"hinge" doc:"key of the hinge in the shop's hardware"`
	Hung      string      `yaml:"hung,omitempty" one:"left|right|pair" default:"left" doc:"the side it is hung on, or a pair"`
	Front     string      `yaml:"front,omitempty" one:"inset|overlaid" default:"overlaid" doc:"inside or over the opening"`
	Gap       unit.Length `yaml:"gap,omitempty" default:"2 mm" min:"0 mm" max:"20 mm" doc:"gap round an inset door and between a pair"`
	Overlay   unit.Length `yaml:"overlay,omitempty" zero:"no" doc:"how far an overlaid door covers each edge; left out: the edge less 1.5 mm"`
	Thickness unit.Length `yaml:"thickness,omitempty" zero:"no" doc:"finished thickness, for solid wood"`
	Edges     string      `yaml:"edges,omitempty" of:"band" doc:"key of the edge band all round"`
	Pull      string      `yaml:"pull,omitempty" of:"pull" doc:"key of a pull in the shop's hardware"`
}

// Shelves stand in an opening, fixed or on pins.
type Shelves struct {
	Fixed   []unit.Length `yaml:"fixed,omitempty" doc:"heights of the undersides of fixed shelves above the bottom of the opening"`
	OnPins  int           `yaml:"on-pins,omitempty" min:"0" max:"50" doc:"how many loose shelves"`
	Pin     string        `yaml:"pin,omitempty" of:"pin" doc:"key of the pin in the shop's hardware"`
	Holes   int           `yaml:"holes,omitempty" default:"5" min:"1" max:"100" doc:"positions for each shelf"`
	Setback unit.Length   `yaml:"setback,omitempty" default:"2 mm" doc:"front edge behind the case edge or frame"`
	Joint   string        `yaml:"joint,omitempty" one:"housing|butt|dowel|loose-tenon|pocket-screw" doc:"joint of fixed shelves; left out: that of case.joints, else a housing"`
	Edges   string        `yaml:"edges,omitempty" of:"band" doc:"key of the edge band on the front edge"`
	Load    float64       `yaml:"load-kg-per-m,omitempty" zero:"no" doc:"load for each metre of shelf"`
}

// Back closes the case behind.
type Back struct {
	Fit     string       `yaml:"fit" need:"true" one:"rebated|grooved|overlaid" doc:"in a rebate, in a groove, or over the edges"`
	Depth   unit.Length  `yaml:"depth,omitempty" zero:"no" doc:"depth of groove or width of rebate; left out: a groove 6 mm, at most a third of the panel, a rebate 10 mm for its screws, at most half"`
	SetIn   *unit.Length `yaml:"set-in,omitempty" doc:"groove: from the back edge; overlaid: inside the outline; left out: 10 mm and 4 mm"`
	Chamfer unit.Angle   `yaml:"chamfer,omitempty" min:"0 deg" max:"80 deg" yes:"45 deg" doc:"overlaid: angle of the chamfer of its outer edge, 45 where given as plain yes"`
	Bottom  *bool        `yaml:"bottom,omitempty" doc:"a U open below gets a bottom in grooves; left out: yes"`
}

// Base is what the case stands on.
type Base struct {
	Kind     string      `yaml:"kind" need:"true" one:"legs|plinth|casters|feet" doc:"kind of base"`
	Height   unit.Length `yaml:"height" need:"true" min:"1 mm" max:"2 m" doc:"floor to underside of the case"`
	Hardware string      `yaml:"hardware,omitempty" of:"stand" doc:"key of the plate, caster or foot in the shop's hardware"`
	Splay    unit.Angle  `yaml:"splay,omitempty" min:"0 deg" max:"45 deg" doc:"lean of each leg to the side, from plumb"`
	Rake     *unit.Angle `yaml:"rake,omitempty" min:"0 deg" max:"45 deg" doc:"lean of each leg to front or back; left out: as the splay"`
	Thick    unit.Length `yaml:"thick,omitempty" default:"40 mm" min:"5 mm" max:"200 mm" doc:"thickness of a leg at the top, or of a plinth board"`
	Foot     unit.Length `yaml:"foot,omitempty" min:"5 mm" max:"200 mm" doc:"thickness of a leg at the foot; left out: two thirds of the top"`
	InsetX   unit.Length `yaml:"inset-side,omitempty" default:"60 mm" doc:"edge of plate, caster or plinth from the side of the case"`
	InsetY   unit.Length `yaml:"inset-front,omitempty" default:"40 mm" doc:"the same from front and back edge"`
	Block    unit.Length `yaml:"block,omitempty" max:"200 mm" doc:"thickness of a block glued inside under the screws"`
}

// Finish says how the surface is treated.
type Finish struct {
	Kind  string `yaml:"kind,omitempty" one:"oil|hardwax-oil|wiping-varnish|varnish|shellac|lacquer|waterborne|none" default:"none" doc:"class of finish"`
	Sheen string `yaml:"sheen,omitempty" one:"matt|satin|gloss" default:"satin" doc:"facets show in gloss first"`

	Inside string `yaml:"inside,omitempty" one:"oil|hardwax-oil|wiping-varnish|varnish|shellac|lacquer|waterborne|none" doc:"insides of case and drawers; left out: shellac under an oil or varnish where drawers or doors close them in, else as outside"`
	Coats  int    `yaml:"coats,omitempty" zero:"no" min:"0" max:"20" doc:"coats outside; left out: as usual for its class"`
}

// Loose is any further part.
type Loose struct {
	Name      string      `yaml:"name" need:"true" doc:"what it is"`
	Count     int         `yaml:"count,omitempty" default:"1" min:"1" max:"1000" doc:"how many in one piece"`
	Length    unit.Length `yaml:"length" need:"true" min:"1 mm" max:"10 m" doc:"along the grain"`
	Width     unit.Length `yaml:"width" need:"true" min:"1 mm" max:"5 m" doc:"across the grain"`
	Thickness unit.Length `yaml:"thickness,omitempty" zero:"no" doc:"finished thickness; left out: that of the panel"`
	Material  string      `yaml:"material" need:"true" of:"material" doc:"key of a panel or wood of the shop, or a role of this piece"`
	Grain     string      `yaml:"grain,omitempty" one:"length|width|free" default:"length" doc:"how the grain runs"`
	Note      string      `yaml:"note,omitempty" doc:"anything to print beside it"`
}

// Use says what the piece is for.
type Use struct {
	For     string  `yaml:"for,omitempty" one:"display|media|clothing|books|clinic|office|kitchen|other" default:"other" doc:"what it holds"`
	LoadKg  float64 `yaml:"load-kg,omitempty" min:"0" max:"10000" doc:"what is put into it, in all"`
	Against string  `yaml:"against,omitempty" one:"wall|free|hung" default:"wall" doc:"whether it stands against a wall or free, or hangs on the wall off the floor"`
	Anchor  bool    `yaml:"anchored,omitempty" doc:"it will be fixed to the wall"`
	Carpet  bool    `yaml:"carpet,omitempty" doc:"it stands on carpet, which lets the front sink"`
	NoChild bool    `yaml:"no-children,omitempty" doc:"no child will come near it; left out: one may climb a drawer"`
}
