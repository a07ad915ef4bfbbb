package build

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Customs of fronts; common practice, no source.
const (
	edgeLeft     = unit.Millimetre * 3 / 2 // an overlaid front stays this far inside the case's edge
	frameOverlay = 10 * unit.Millimetre    // over a face frame
	leastFront   = 10 * unit.Millimetre
)

// overlays is how far an overlaid front covers each edge of its opening, at
// left, right, bottom and top. On the outside of the case it stops 1.5 mm
// short; what stands between two openings is shared with the neighbour.
func (b *builder) overlays(c cell, asked, gap unit.Length) [4]Dim {
	var out [4]Dim
	for i, w := range c.walls {
		switch {
		case asked > 0:
			out[i] = From("overlay given", asked)
		case w.shared:
			out[i] = From("what stands between", w.edge).Less(1, "gap", gap).Over(2, "fronts")
			if b.piece.Frame != nil && out[i].Size > frameOverlay {
				out[i] = From("overlay on a frame", frameOverlay)
			}
		case b.piece.Frame != nil:
			out[i] = From("overlay on a frame", min(frameOverlay, w.edge))
		default:
			out[i] = From("edge of the case", w.edge).Less(1, "left free", edgeLeft)
		}
		if out[i].Size < 0 {
			out[i] = Dim{}
		}
	}
	return out
}

// facing is the size and place of a front or door, seen from the front.
type facing struct {
	x, z   unit.Length
	w, h   Dim
	corner [4]unit.Length
	y      unit.Length // of its hidden face

	// Where the opening was measured and is no true rectangle: the outline
	// that fits it, from the lower left of w × h.
	outline geom.Outline
}

// drawn is the outline of a front whose length runs across.
func (f facing) drawn() geom.Outline {
	if f.outline != nil {
		return f.outline
	}
	return rounded(f.w.Size, f.h.Size, [4]unit.Length{f.corner[bottomLeft], f.corner[bottomRight], f.corner[topRight], f.corner[topLeft]})
}

// facing fits a front to an opening: inside with an even gap, its corners
// following those of the opening less the gap; or over its edges.
func (b *builder) facing(c cell, m measured, front string, gap, overlay, thick unit.Length) facing {
	if front == "overlaid" {
		o := b.overlays(c, overlay, gap)
		f := facing{
			x: c.x - o[atLeft].Size, z: c.z - o[atBottom].Size,
			w: m.w.Plus(1, "overlay left", o[atLeft].Size).Plus(1, "overlay right", o[atRight].Size),
			h: m.h.Plus(1, "overlay below", o[atBottom].Size).Plus(1, "overlay above", o[atTop].Size),
		}
		side := [4][2]int{{atLeft, atTop}, {atRight, atTop}, {atRight, atBottom}, {atLeft, atBottom}}
		for i, r := range m.corner {
			if r > 0 {
				f.corner[i] = r + min(o[side[i][0]].Size, o[side[i][1]].Size)
			}
		}
		return f
	}
	f := facing{y: thick, w: m.w.Less(2, "gap", gap), h: m.h.Less(2, "gap", gap)}
	for i, r := range m.corner {
		f.corner[i] = max(0, r-gap)
	}
	if o, ok := m.shape.Front(gap); ok && !m.shape.Squared {
		r := o.Bounds()
		f.outline = moved(o, -r.Min.X, -r.Min.Y)
		f.w, f.h = From("fitted to the opening as measured", r.Width()), From("fitted to the opening as measured", r.Height())
	}
	// What was measured is taken to lie about the middle of what was planned.
	f.x, f.z = c.x+(c.w.Size-f.w.Size)/2, c.z+(c.h.Size-f.h.Size)/2
	return f
}

// grainNote says how fronts keep the grain that runs on over them: layouts put
// those of a panel side by side, in the order in which they stand; boards are
// laid out part by part.
func (b *builder) grainNote(solid bool) string {
	switch fronts, _, _ := b.piece.Grain.Match(); {
	case !fronts:
		return ""
	case solid:
		return "the layouts do not match the grain of solid fronts: choose their boards, and their order, before you cut"
	}
	return "number the fronts in the order of the layout as they come off the panel, so that the grain runs on"
}

// drawerFront adds the front, screwed to the box from inside.
func (b *builder) drawerFront(w drawing, bx drawerBox) *Part {
	s := b.material("fronts")
	gap := w.Gap
	m := w.m
	if w.kept.front {
		m = planned(w.cell)
	}
	f := b.facing(w.cell, m, w.Front, gap, w.Overlay, w.front.Size)
	if f.w.Size < leastFront || f.h.Size < leastFront {
		b.cannot(w.cell.path+".drawer", "the front comes out %s wide and %s high, too small to be made. Make the opening larger or the gap smaller.",
			b.show(f.w.Size), b.show(f.h.Size))
		return nil
	}
	p := Part{
		Name: "drawer front", Role: RoleFront, Material: s.key, Solid: s.solid, Grain: s.grain(GrainLength),
		Length: f.w, Width: f.h, Thickness: w.front,
		Outline: f.drawn(),
		Places:  []Place{{facingAcross(f.x, f.y, f.z), w.cell.name}},
		Note:    b.grainNote(s.solid),
	}
	front := b.add(p)
	move := b.frontMoves(w, front)
	b.fixFront(w, bx, front, move)
	b.joint(Joint{Kind: "screwed", A: front.Letter, B: bx.front.Letter, Note: "through slack holes; adjust, then two fixing screws"})
	// The middle of the front, on the box front's own drawing: it lies with
	// its length to the left, seen from the front.
	cx, cz := f.x+f.w.Size/2, f.z+f.h.Size/2
	if w.kept.width || w.kept.height { // the box front stays as it was bored
		was := b.facing(w.cell, planned(w.cell), w.Front, gap, w.Overlay, w.front.Size)
		cx, cz = was.x+was.w.Size/2, was.z+was.h.Size/2
	}
	q := local(bx.front.Places[0].Frame, geom.Vec{X: cx, Y: w.y, Z: cz})
	if q.Y < 10*unit.Millimetre || q.Y > bx.front.Width.Size-10*unit.Millimetre {
		b.pull(w.Pull, w.cell.path+".drawer.pull", front, f.w.Size/2, f.h.Size/2, true, nil, 0, 0, "drawers")
	} else {
		b.pull(w.Pull, w.cell.path+".drawer.pull", front, f.w.Size/2, f.h.Size/2, true, bx.front, q.X, q.Y, "drawers")
	}
	return front
}

// fixFront bores the box front for the screws that hold the front: two slack
// holes with washers to adjust by, two fixing holes. A solid front keeps its
// lower row fixed and moves along slots at the upper one.
func (b *builder) fixFront(w drawing, bx drawerBox, front *Part, move unit.Length) {
	p := bx.front
	l, h := p.Length.Size, p.Width.Size
	slack := b.metric(5*unit.Millimetre, unit.Inch*3/16)
	kind := screwKind(b.shop.Units, 0)
	shank, _ := kind.Clearance()
	in := min(60*unit.Millimetre, l/4)
	low := w.up + w.bottom.thickness
	low, high := low+(h-low)/4, low+(h-low)*3/4
	for i, y := range []unit.Length{low, high} {
		for _, x := range []unit.Length{in, l - in} {
			f := Feature{Kind: Hole, Face: FaceOther, Depth: w.side, Through: true, For: "screw of the front", Region: disc(geom.P(x, y), shank)}
			if i == 1 {
				f.For = "slack hole for adjusting, with washer"
				f.Region = slot(x, y, slack, slack+move)
			}
			p.feature(f)
		}
	}
	b.screws(screwing{
		where: "drawer fronts from inside the box", count: 4, fastened: From("box front", w.side),
		holding: w.front.Size, material: front.Material,
	})
}

// frontMoves compares what an inset solid front moves with its gap, and
// gives the movement.
func (b *builder) frontMoves(w drawing, front *Part) unit.Length {
	s := b.material("fronts")
	move, how := b.moves(s, front.Width.Size)
	if move <= w.Gap || w.Front == "overlaid" {
		return move
	}
	says := fmt.Sprintf("%s of %s: %s high, it moves %s %s; the gap is %s",
		front.named(), w.cell.name, b.show(front.Width.Size), b.fine(move), between(how), b.fine(w.Gap))
	advice := []string{fmt.Sprintf("Leave %s above it", b.up(move))}
	if at := wood.Moisture(s.wood.Moisture); at > how.From && at < how.To {
		if sp, ok := wood.FindSpecies(s.wood.Species); ok {
			if swell, err := sp.Movement(front.Width.Size, wood.Tangential, at, how.To); err == nil {
				fits := "still more than the gap"
				if swell.Change <= w.Gap {
					fits = "within the gap"
				}
				advice = append(advice, fmt.Sprintf("make it at %.0f %%, from where it swells %s (%s)", float64(at), b.fine(swell.Change), fits))
			}
		}
	}
	advice = append(advice, "or take a veneered front.")
	b.once(finding.Finding{
		ID: "front-swells", Level: finding.Care, Place: w.cell.name, Says: says,
		Figure: b.fine(move), Limit: b.fine(w.Gap), Advice: strings.Join(advice, ", "),
		Source: how.Equation.String() + "; " + how.Figure.String(),
		Fix:    b.widerGap(w.cell.path+".drawer.gap", move),
	})
	return move
}

// widerGap leaves a gap of so much, rounded up to what can be set.
func (b *builder) widerGap(path string, gap unit.Length) *finding.Fix {
	gap = b.rounded(gap)
	return finding.SetSize(path, gap, b.piece.Units, fmt.Sprintf("Leave a gap of %s", b.show(gap)))
}

// rounded is a size rounded up to half a millimetre or a thirty-second of an
// inch, for a fix.
func (b *builder) rounded(l unit.Length) unit.Length {
	step := unit.Millimetre / 2
	if b.piece.Units == unit.Imperial {
		step = unit.Inch32
	}
	return l.RoundUp(step)
}

// fine writes a small size more finely than show: 0.1062 in, 2.70 mm.
func (b *builder) fine(l unit.Length) string {
	if b.piece.Units == unit.Imperial {
		return fmt.Sprintf("%.4f in", l.In())
	}
	return fmt.Sprintf("%.2f mm", l.MM())
}

// up rounds a gap up to what can be set.
func (b *builder) up(l unit.Length) string {
	return b.show(l.RoundUp(b.metric(unit.Millimetre/10, unit.Inch32)))
}
