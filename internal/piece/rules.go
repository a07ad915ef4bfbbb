package piece

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/unit"
)

// maxFills is the most openings a piece may have.
const maxFills = 500

// rules collects what the fields are wrong beside one another. Whether given
// sizes add up is found where the piece is built, which knows the panels.
type rules struct {
	document.Rules
	piece *Piece
	fills int
}

func (v *Piece) rules() document.Problems {
	r := &rules{piece: v}
	if v.Pair && v.Count%2 != 0 {
		r.Say("count", "count is %d; mirrored pairs need an even count. Write %d, or leave mirrored-pair out.", v.Count, v.Count+1)
	}
	if _, ok := v.Materials["case"]; !ok && len(v.Materials) > 0 {
		r.Say("materials", "materials has no case. Name the panel or wood that the case is made of.")
	}
	switch v.Case.Kind {
	case "shell":
		r.shell(&v.Case)
	case "carcass":
		r.carcass(&v.Case)
	}
	if v.Frame != nil {
		r.frame(v.Frame, &v.Case)
	}
	r.opening(&v.Inside, "inside")
	if v.Back != nil {
		r.back(v.Back, &v.Case)
	}
	if v.Base != nil {
		r.base(v.Base, &v.Case)
	}
	r.rolling(v)
	r.dates(v)
	r.home(v.Home)
	r.wayIn(v.WayIn)
	return r.Problems
}

// size is a length as the piece's owner writes it.
func (r *rules) size(l unit.Length) string { return l.Exact(r.piece.Units) }

// wants says that a field must be given.
func (r *rules) wants(given bool, path, why string) {
	if !given {
		r.Say(path, "%s is missing: %s. Add it.", path, why)
	}
}

// idle says that a field that is given does nothing here.
func (r *rules) idle(given bool, path, why string) {
	if given {
		r.Say(path, "%s does nothing here: %s. Leave it out.", path, why)
	}
}

// rolling refuses to fix to a wall what stands on casters.
func (r *rules) rolling(v *Piece) {
	if v.Base == nil || v.Base.Kind != "casters" || v.Use.Hung() {
		return
	}
	const why = "the piece stands on casters, and what rolls cannot be fixed to a wall"
	if v.Use.Anchor {
		r.Say("use.anchored", "use.anchored is yes, but %s. Leave anchored out, or write feet, legs or a plinth under base.kind.", why)
	}
	if v.Customer != nil && v.Customer.FixedBy == "maker" && !v.Use.Free() {
		r.Say("customer.fixed-by", "customer.fixed-by is maker, but %s. Leave fixed-by out, or write feet, legs or a plinth under base.kind.", why)
	}
}

func (r *rules) frame(f *Frame, c *Case) {
	if c.Kind == "carcass" {
		r.idle(f.Inner == "follow", "frame.inner-corner", "the corners of a carcass are square")
	}
	if w := 2 * f.Stile; c.Width > 0 && f.Stile > 0 && w >= c.Width {
		r.Say("frame.stile", "Two stiles of %s leave nothing of the width of %s. Write narrower stiles.", r.size(f.Stile), r.size(c.Width))
	}
	top, bottom := f.TopRail, f.BottomRail
	if top == 0 {
		top = f.Stile
	}
	if bottom == 0 {
		bottom = f.Stile
	}
	if c.Height > 0 && top+bottom >= c.Height {
		r.Say("frame.top-rail", "Rails of %s and %s leave nothing of the height of %s. Write narrower rails.", r.size(top), r.size(bottom), r.size(c.Height))
	}
	r.idle(f.ToFloorBase && r.piece.Base == nil, "frame.stiles-to-floor", "the piece has no base to run down over")
}

func (r *rules) opening(o *Opening, path string) {
	if r.fills++; r.fills == maxFills+1 {
		r.Say(path, "The inside has more than %d openings. Make it as two pieces.", maxFills)
	}
	split := len(o.Columns) > 0 || len(o.Rows) > 0
	filled := o.Drawer != nil || o.Door != nil || o.Shelves != nil
	if len(o.Columns) > 0 && len(o.Rows) > 0 {
		r.Say(path, "%s has columns and rows. Split it one way, and the spaces in it the other.", path)
	}
	if split && filled {
		r.Say(path, "%s is split and filled. Move the %s into one of its spaces.", path, fillOf(o))
	}
	if o.Drawer != nil && (o.Door != nil || o.Shelves != nil) {
		r.Say(path, "%s holds a drawer and something else. Keep one of them, or split the space.", path)
	}
	r.idle(!split && o.Between > 0, path+".between", "the space is not split")
	r.idle(!split && o.Panel != nil, path+".panel", "the space is not split")
	if o.Drawer != nil {
		r.idle(o.Drawer.Front == "inset" && o.Drawer.Overlay > 0, path+".drawer.overlay", "the front is inset")
	}
	if o.Door != nil {
		r.idle(o.Door.Front == "inset" && o.Door.Overlay > 0, path+".door.overlay", "the door is inset")
	}
	if o.Shelves != nil {
		r.shelves(o.Shelves, path+".shelves")
	}
	for i := range o.Columns {
		r.opening(&o.Columns[i], fmt.Sprintf("%s.columns[%d]", path, i))
	}
	for i := range o.Rows {
		r.opening(&o.Rows[i], fmt.Sprintf("%s.rows[%d]", path, i))
	}
}

func fillOf(o *Opening) string {
	switch {
	case o.Drawer != nil:
		return "drawer"
	case o.Door != nil:
		return "door"
	}
	return "shelves"
}

func (r *rules) shelves(s *Shelves, path string) {
	if len(s.Fixed) == 0 && s.OnPins == 0 {
		r.Say(path, "%s holds no shelf. Give heights under fixed, or a number under on-pins.", path)
	}
	for i := 1; i < len(s.Fixed); i++ {
		if s.Fixed[i] <= s.Fixed[i-1] {
			r.Say(fmt.Sprintf("%s.fixed[%d]", path, i), "%s.fixed[%d] is %s, not above the one before it (%s). List fixed shelves from the bottom up.",
				path, i, r.size(s.Fixed[i]), r.size(s.Fixed[i-1]))
		}
	}
	if s.OnPins > 0 {
		r.wants(s.Pin != "", path+".pin", "shelves on pins need to know which pin of the shop's hardware")
	}
	r.idle(s.OnPins == 0 && s.Pin != "", path+".pin", "no shelf is on pins")
}

func (r *rules) back(b *Back, c *Case) {
	r.idle(b.Fit == "overlaid" && b.Depth > 0, "back.depth", "an overlaid back lies in no groove or rebate")
	r.idle(b.Fit != "overlaid" && b.Chamfer > 0, "back.chamfer", "only the edge of an overlaid back is seen")
	r.idle(b.Fit == "rebated" && b.SetIn != nil && *b.SetIn > 0, "back.set-in", "a rebated back lies flush with the back edge")
	if b.Fit == "grooved" && b.SetIn != nil && *b.SetIn == 0 {
		r.Say("back.set-in", "back.set-in is 0; a groove at the very edge is a rebate. Write fit: rebated, or a size such as 10 mm.")
	}
	r.idle(b.Bottom != nil && (c.Kind != "shell" || c.Shape != "u" || c.Open != "bottom"), "back.bottom", "only a U open at the bottom has none of its own")
}

func (r *rules) base(b *Base, c *Case) {
	if b.Kind == "casters" || b.Kind == "feet" {
		r.wants(b.Hardware != "", "base.hardware", b.Kind+" are bought, so they need their key in the shop's hardware")
	}
	r.idle(b.Kind == "plinth" && b.Hardware != "", "base.hardware", "a plinth is made, not bought")
	if b.Kind != "legs" {
		r.idle(b.Splay > 0, "base.splay", "only legs lean")
		r.idle(b.Rake != nil && *b.Rake > 0, "base.rake", "only legs lean")
		r.idle(b.Foot > 0, "base.foot", "only legs taper")
	}
	r.idle(b.Kind == "plinth" && b.Block > 0, "base.block", "a plinth has no plates to screw on")
	if c.Width > 0 && 2*b.InsetX >= c.Width {
		r.Say("base.inset-side", "At each side an inset of %s leaves nothing of the width of %s. Write a smaller inset.", r.size(b.InsetX), r.size(c.Width))
	}
	if c.Depth > 0 && 2*b.InsetY >= c.Depth {
		r.Say("base.inset-front", "In front and behind an inset of %s leaves nothing of the depth of %s. Write a smaller inset.", r.size(b.InsetY), r.size(c.Depth))
	}
}
