package build

import (
	"fmt"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// plinth is a frame of boards under the case, set back from its edges; its
// front corners are mitred, the back board stands between.
func (b *builder) plinth() {
	k, h := b.piece.Base, b.hull
	m := b.material("base")
	t := m.thickness
	if m.solid {
		t = given(k.Thick, given(m.thickness, 20*unit.Millimetre))
	}
	if m.key == "" || t <= 0 {
		b.problem("materials.base", "the piece stands on a plinth, but no material is named for it. Name one under materials.base.")
		return
	}
	wide := From("outside width", h.width).Less(2, "set back", k.InsetX)
	deep := From("case depth", h.depth).Less(2, "set back", k.InsetY)
	x0, y0 := k.InsetX, k.InsetY
	if f := b.piece.Frame; f != nil && f.ToFloorBase {
		y0 += h.front // behind the stiles that run down over it
	} else {
		deep = From("case depth", h.depth).Plus(1, "before it: frame or band", h.front).Less(2, "set back", k.InsetY)
	}
	if wide.Size <= 4*t || deep.Size <= 4*t || k.InsetX < 0 || k.InsetY < 0 {
		b.problem("base", "the plinth comes to %s by %s, of boards %s thick. Set it back less.", b.show(wide.Size), b.show(deep.Size), b.show(t))
		return
	}
	x1, y1 := x0+wide.Size, y0+deep.Size
	board := func(name string, l Dim, f geom.Frame) *Part {
		return b.add(Part{
			Name: name, Role: RolePlinth, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
			Length: l, Width: From("height of the base", k.Height), Thickness: From("board", t), Places: []Place{{Frame: f}},
		})
	}
	front := board("plinth front", wide, facingAcross(x0, y0+t, 0))
	// Sides are drawn from front to back, outside out.
	left := board("plinth side", deep, geom.Frame{Origin: geom.Vec{X: x0 + t, Y: y1}, U: geom.Front, V: geom.Up})
	right := board("plinth side", deep, geom.Frame{Origin: geom.Vec{X: x1 - t, Y: y0}, U: geom.Back, V: geom.Up})
	back := board("plinth back", wide.Less(2, "plinth side", t), rearAcross(x1-t, y1-t, 0))
	left.Places[0].Name, right.Places[0].Name = "left", "right"
	for _, s := range []struct {
		side       *Part
		front, far Edge // the front board's end, the side's front end
	}{{left, EdgeX0, EdgeX1}, {right, EdgeX1, EdgeX0}} {
		front.feature(Feature{Kind: Chamfer, Face: FaceReference, Region: front.strip(s.front, t), Depth: t, Angle: unit.Deg(45), For: "mitre"})
		s.side.feature(Feature{Kind: Chamfer, Face: FaceReference, Region: s.side.strip(s.far, t), Depth: t, Angle: unit.Deg(45), For: "mitre"})
		b.joint(Joint{Kind: "mitre", A: front.Letter, B: s.side.Letter, Depth: t, With: "glue and corner blocks"})
		b.joint(Joint{Kind: "butt", A: back.Letter, B: s.side.Letter, With: "glue and corner blocks"})
	}
	n, block := b.cornerBlocks(x0+t, y0+t, x1-t, y1-t)
	floor, note := b.caseMark(), ""
	if b.bottom != nil {
		floor = b.bottom.Letter
		if move, how := b.movesOf(b.bottom, b.bottom.Width.Size); move > 0 && b.bottom.Grain == GrainLength {
			note = fmt.Sprintf("tight along the front; behind in slots %s longer than the screw is thick, for the bottom %s and the sides of the plinth do not", b.show(move+2*slotSpare), b.seasons(move, how))
		}
	}
	b.joint(Joint{Kind: "screwed", A: front.Letter, B: floor, With: fmt.Sprintf("%d screws, one through each corner block", n), Note: note})
	b.screws(screwing{
		where: "plinth to case, through corner blocks", count: n, fastened: From("corner block", block),
		holding: b.floorThick(), material: b.material("case").key,
	})
}

// blocksApart is how far the blocks inside a plinth stand apart at the most
// (common practice, no source).
const blocksApart = 300 * unit.Millimetre

// cornerBlocks are glued inside a plinth, flush with its upper edge: one in each
// corner and more between where a board is long, each with a screw up into the
// case. The shop makes them from offcuts. It says how many, and how thick.
func (b *builder) cornerBlocks(x0, y0, x1, y1 unit.Length) (int, unit.Length) {
	thick := min(b.metric(20*unit.Millimetre, 3*unit.Inch/4), b.piece.Base.Height)
	long := min(b.metric(60*unit.Millimetre, 5*unit.Inch/2), (x1-x0)/2)
	wide := min(b.metric(40*unit.Millimetre, 3*unit.Inch/2), (y1-y0)/2)
	between := func(l unit.Length) int { return max(0, int((l-1)/blocksApart)) }
	n := 4 + 2*between(x1-x0) + 2*between(y1-y0)
	b.fit(Fitting{
		Name: fmt.Sprintf("corner block %s × %s, %s thick, of offcuts", b.show(long), b.show(wide), b.show(thick)), Count: n, For: "plinth",
	})
	return n, thick
}
