// Package build turns a piece, a shop and a record into parts: every part
// with its outline, its place in space, and for each size the sum it came
// from.
package build

import (
	"casewright/internal/bend"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// Model is all that is built for ONE piece; Piece.Count multiplies it later.
type Model struct {
	Outside  geom.Vec          `json:"outside"` // width, depth, height over all, from the floor
	Parts    []Part            `json:"parts"`
	Joints   []Joint           `json:"joints"`
	Hardware []Fitting         `json:"hardware"`
	Fixtures []Fixture         `json:"-"` // hardware that has a place, for pictures
	Openings []Opening         `json:"openings"`
	Blanks   []Blank           `json:"blanks,omitempty"`
	Bends    []Bend            `json:"bends,omitempty"`
	Screws   []ScrewUse        `json:"screws,omitempty"`
	Findings []finding.Finding `json:"findings,omitempty"`
}

// Role says what a part does; papers group by it.
type Role string

// The roles.
const (
	RoleShell     Role = "shell"
	RoleSide      Role = "side"
	RoleTop       Role = "top"
	RoleBottom    Role = "bottom"
	RoleDivider   Role = "divider"
	RoleShelf     Role = "shelf"
	RoleStile     Role = "stile"
	RoleRail      Role = "rail"
	RoleBack      Role = "back"
	RoleBoxSide   Role = "box side"
	RoleBoxEnd    Role = "box front and back"
	RoleBoxBottom Role = "box bottom"
	RoleFront     Role = "front"
	RoleDoor      Role = "door"
	RolePacker    Role = "packer"
	RoleRunner    Role = "runner"
	RoleStrip     Role = "let-in strip"
	RoleLeg       Role = "leg"
	RolePlinth    Role = "plinth"
	RoleBlock     Role = "block"
	RoleLoose     Role = "loose"
)

// GrainWay is how the face grain lies in a part.
type GrainWay string

// The ways.
const (
	GrainLength GrainWay = "length"
	GrainWidth  GrainWay = "width"
	GrainFree   GrainWay = "free"
)

// Part is one thing to cut. Alike parts share one entry: Count of them stand
// at Places. In its own plane x runs along Length, y along Width; the
// thickness grows from the reference face (for show parts the hidden face, so
// that holes and grooves are drawn as they are cut).
type Part struct {
	Letter    string       `json:"letter"`
	Name      string       `json:"name"`
	Role      Role         `json:"role"`
	Count     int          `json:"count"` // in one piece
	Length    Dim          `json:"length"`
	Width     Dim          `json:"width"`
	Thickness Dim          `json:"thickness"`
	Material  string       `json:"material"` // key in the shop
	Solid     bool         `json:"solid"`    // a wood, else a panel
	Grain     GrainWay     `json:"grain"`
	Oversize  Oversize     `json:"oversize,omitempty"`
	ToMeasure bool         `json:"to_measure,omitempty"` // cut once the openings are measured
	OffSaw    *OffSaw      `json:"off_saw,omitempty"`    // blanks of it that lie there already
	Rough     *Rough       `json:"rough,omitempty"`      // solid wood
	Bands     []Band       `json:"bands,omitempty"`      // edge treatments
	Outline   geom.Outline `json:"outline"`              // finished, flat
	Features  []Feature    `json:"features,omitempty"`
	Kerfs     []KerfGroup  `json:"kerfs,omitempty"`
	Bent      *Bent        `json:"bent,omitempty"` // nil for flat parts
	Places    []Place      `json:"places"`
	Note      string       `json:"note,omitempty"`
}

// CutLength is the length to saw to: finished, plus what is left proud, less
// bands that count within the size.
func (p Part) CutLength() unit.Length { return p.Length.Size + p.Oversize.Length }

// CutWidth is the width to saw to.
func (p Part) CutWidth() unit.Length { return p.Width.Size + p.Oversize.Width }

// FitLength and FitWidth are what a blank is sawn to once its opening is
// measured; of any other part, what it is sawn to at once.
func (p Part) FitLength() unit.Length { return p.CutLength() - p.Oversize.Blank }

// FitWidth: see FitLength.
func (p Part) FitWidth() unit.Length { return p.CutWidth() - p.Oversize.Blank }

// Oversize is what is added (or, for bands within the size, taken) between
// the finished size and the size sawn.
type Oversize struct {
	Length unit.Length `json:"length,omitempty"`
	Width  unit.Length `json:"width,omitempty"`
	Blank  unit.Length `json:"blank,omitempty"` // of both: left until the openings are measured
	Why    string      `json:"why,omitempty"`
}

// Rough is the size to rough-cut a solid part to.
type Rough struct {
	Length    unit.Length `json:"length"`
	Width     unit.Length `json:"width"`
	Thickness unit.Length `json:"thickness"`
	Class     string      `json:"class"`            // such as 4/4, or 27 mm
	Strips    int         `json:"strips,omitempty"` // glued up from so many boards, 0: one
	Strip     unit.Length `json:"strip,omitempty"`  // rough width of each of them
}

// Edge names an edge of a part: of its outline's bounding box.
type Edge string

// The edges.
const (
	EdgeY0 Edge = "lower long edge" // y = 0
	EdgeX1 Edge = "far end"         // x = length
	EdgeY1 Edge = "upper long edge" // y = width
	EdgeX0 Edge = "near end"        // x = 0
)

// Band is an edge treatment.
type Band struct {
	Edge      Edge        `json:"edge"`
	Key       string      `json:"key"`
	Thickness unit.Length `json:"thickness"`
}

// FeatureKind says what is worked into a part.
type FeatureKind string

// The kinds.
const (
	Hole    FeatureKind = "hole"
	Groove  FeatureKind = "groove"
	Rebate  FeatureKind = "rebate"
	Housing FeatureKind = "housing"
	Mortise FeatureKind = "mortise"
	Tenon   FeatureKind = "tenon"
	Notch   FeatureKind = "notch" // already in the outline; named for the map
	Chamfer FeatureKind = "chamfer"
)

// Face says on which side of a part a feature is worked.
type Face string

// The faces.
const (
	FaceReference Face = "reference face" // z = 0
	FaceOther     Face = "other face"     // z = thickness
)

// Feature is one hole, groove, rebate, housing or mortise. Region lies in the
// part's plane for features worked from a face; for one worked into an edge,
// On names the edge and Region is measured along the edge (x) and from the
// reference face (y).
type Feature struct {
	Kind    FeatureKind  `json:"kind"`
	Face    Face         `json:"face,omitempty"`
	On      Edge         `json:"on,omitempty"`
	Region  geom.Outline `json:"region"`
	Depth   unit.Length  `json:"depth"`
	In      unit.Length  `json:"in,omitempty"` // by how much the shaped edge it is worked into lies inside the part's width
	Through bool         `json:"through,omitempty"`
	Angle   unit.Angle   `json:"angle,omitempty"` // chamfers
	For     string       `json:"for"`             // what goes there
	Place   string       `json:"place,omitempty"` // only for parts at this place ("left"), empty: all
}

// KerfGroup is all kerfs of one bend as they lie on a flat part.
type KerfGroup struct {
	Bend      int           `json:"bend"`      // index into Model.Bends
	Start     unit.Length   `json:"start"`     // tangent point, from the near end of the finished part
	Zone      unit.Length   `json:"zone"`      // count × pitch
	Positions []unit.Length `json:"positions"` // kerf centres from the near end, rounded singly
	Face      Face          `json:"face"`
}

// Bent is the shape a flat part takes. Profile is the path of its uncut face
// in the (u, v) plane of its places; the panel lies to the left of the path
// when Left is set, else to the right; Width runs along the normal.
type Bent struct {
	Profile geom.Path `json:"profile"`
	Left    bool      `json:"left"`
}

// Place is where one of the alike parts stands.
type Place struct {
	Frame geom.Frame `json:"frame"`
	Name  string     `json:"name,omitempty"` // such as "left", "column 1 row 2"
}

// Bend is one bend of the shell with its chosen design.
type Bend struct {
	Name   string        `json:"name"` // such as "top left"
	Part   string        `json:"part"` // letter
	Saw    string        `json:"saw"`  // key of the saw that cuts its kerfs
	Spec   bend.Spec     `json:"spec"`
	Design bend.Design   `json:"design"`
	Others []bend.Design `json:"others,omitempty"` // the other workable ones, ranked
}

// Joint says how two parts meet, for the papers and for the test that parts
// overlap nowhere else. Depth is how far one reaches into the other.
type Joint struct {
	Kind  string      `json:"kind"`
	A     string      `json:"a"` // letters
	B     string      `json:"b"`
	Depth unit.Length `json:"depth,omitempty"`
	With  string      `json:"with,omitempty"` // such as "3 loose tenons 8 × 40 × 22"
	Note  string      `json:"note,omitempty"`
}

// Fitting is bought hardware with where it goes.
type Fitting struct {
	Key    string      `json:"key"`
	Name   string      `json:"name"`
	Count  int         `json:"count"`
	Length unit.Length `json:"length,omitempty"`
	At     []geom.Vec  `json:"at,omitempty"`
	For    string      `json:"for"`

	Stock [3]unit.Length `json:"stock,omitzero"` // thick, wide and long, of loose tenons and splines that the shop makes
}

// Bite is what a screw goes into where that is not the face of a part.
type Bite string

// Wood that is screwed into otherwise than through a face.
const (
	EdgeWood Bite = "edge"
	EndWood  Bite = "end grain"
)

// ScrewUse is one line of the screw table.
type ScrewUse struct {
	Where    string      `json:"where"`
	Count    int         `json:"count"`
	Gauge    int         `json:"gauge,omitempty"`
	Machine  bool        `json:"machine,omitempty"` // a machine screw, into metal
	Diameter unit.Length `json:"diameter"`
	Stack    unit.Length `json:"stack"`                     // wood and metal from under the head to the show face
	Under    unit.Length `json:"under_head"`                // of that, what is fastened
	Into     Bite        `json:"into,omitempty"`            // EdgeWood, EndWood where it goes in lengthways and far from any face
	Sunk     unit.Length `json:"sunk,omitempty"`            // the head lies so far under the face; nothing on a plate of metal
	Clear    unit.Length `json:"clearance"`                 // left before the show face
	Length   unit.Length `json:"length"`                    // stock length, rounded down
	Least    unit.Length `json:"least_clearance,omitempty"` // where the shortest stock screw may come nearer than usual to a face inside
	Pilot    unit.Length `json:"pilot"`
	Shank    unit.Length `json:"shank_hole"`
	Stop     unit.Length `json:"depth_stop"`
	Source   string      `json:"source"`
}

// Opening is a clear space as it came out, with what fills it.
type Opening struct {
	Name    string         `json:"name"` // "column 1 row 2"
	Path    string         `json:"path"` // inside.columns[0].rows[1]
	Width   Dim            `json:"width"`
	Height  Dim            `json:"height"`
	X, Z    unit.Length    // left lower corner, from the piece's origin
	Corners [4]unit.Length `json:"corners"`         // radius at top left, top right, bottom right, bottom left
	Fill    string         `json:"fill"`            // drawer, door, shelves, nothing
	Front   string         `json:"front,omitempty"` // letter of front or door
	Gap     unit.Length    `json:"gap,omitempty"`
	Box     string         `json:"box,omitempty"`        // "437.6 to 438.2 wide" as a sentence for the fitting card
	Storage unit.Volume    `json:"storage_m3,omitempty"` // clear room in a drawer, by the rule of clothing storage
	BoxMin  unit.Length    `json:"box_width_least,omitempty"`
	BoxMax  unit.Length    `json:"box_width_most,omitempty"`
	Inset   bool           `json:"inset,omitempty"` // the front lies within the opening
	Kept    []string       `json:"kept,omitempty"`  // letters of its parts that are cut and stay as they are
	Drawer  *DrawerFit     `json:"drawer,omitempty"`
}
