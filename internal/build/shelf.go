package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// The hole system: 32 mm pitch, first row 37 mm behind the front edge, plus
// the thickness of an inset door; pins in holes 5 mm wide and 12 to 13 deep.
// Pitch and rows as hinge and pin makers state them in common; the rest is
// common practice without a source.
const (
	pitch        = 32 * unit.Millimetre
	firstRow     = 37 * unit.Millimetre
	usualPin     = 5 * unit.Millimetre
	usualPinDeep = 25 * unit.Millimetre / 2
	shelfPlay    = 2 * unit.Millimetre  // shelf shorter than its space, in all
	pinBehind    = 3 * unit.Millimetre  // wood left behind a pin's hole
	plateHalf    = 25 * unit.Millimetre // of a hinge plate's height
)

// BackPlay is how far a loose shelf stays clear of the back (common practice,
// no source).
const BackPlay = unit.Millimetre

// Rows is where the two rows of pin holes lie behind the front edge of a side
// of that depth: the front one at first, the back one a multiple of 32 mm
// from it, about as far from the back as the first is from the front.
func Rows(first, depth unit.Length) (front, back unit.Length, ok bool) {
	n := (depth - first - firstRow) / pitch
	if n < 1 {
		return 0, 0, false
	}
	return first, first + n*pitch, true
}

// shelves adds what stands in an opening: fixed shelves with their joints,
// and loose ones on pins with the rows of holes.
func (b *builder) shelves(s piece.Shelves, door *piece.Door, c cell) {
	path := c.path + ".shelves"
	m := b.material("shelves")
	if m.thickness <= 0 {
		b.cannot(path, "how thick the shelves are, is not known. Give it under thicknesses: shelves.")
		return
	}
	for _, side := range []int{atLeft, atRight} {
		if !c.walls[side].panel {
			b.cannot(path, "at the %s there is no panel to carry shelves, only a frame member. Set panel: true for what stands there.", wallNames[side])
			return
		}
	}
	inset := unit.Length(0) // of the shelf's front behind the case's front edge
	if door != nil && cmp.Or(door.Front, "overlaid") == "inset" {
		t, _ := b.doorThickness(*door)
		inset = t
		if b.piece.Frame != nil {
			inset = max(0, t-b.space.front) // it lies in the frame
		}
	}
	b.fixedShelves(s, c, m, inset, path)
	if s.OnPins <= 0 || b.failed() {
		return
	}
	first := 1 // number of the next loose shelf
	blocked := b.hingesAt(s, door, c)
	for _, y := range bays(s, c, m.thickness) {
		if y.loose > 0 {
			b.looseShelves(s, y, m, inset, first, blocked, path)
			first += y.loose
		}
	}
}

// hingesAt is where hinges, and packers under their plates, stand in the way
// of loose shelves: z from the floor.
func (b *builder) hingesAt(s piece.Shelves, door *piece.Door, c cell) []stretch {
	if door == nil {
		return nil
	}
	t, _ := b.doorThickness(*door)
	f := b.facing(c, measured{w: c.w, h: c.h, corner: c.corner}, cmp.Or(door.Front, "overlaid"), door.Gap, door.Overlay, t)
	half := plateHalf
	if b.piece.Frame != nil {
		half = b.packerSize().high / 2
	}
	var out []stretch
	for _, z := range b.hingeHeights(*door, &s, c, f, t) {
		out = append(out, stretch{c.z + z - half, c.z + z + half})
	}
	return out
}

// bay is the room between two fixed shelves, with the loose ones in it.
type bay struct {
	cell
	loose int
}

func countShelves(n int) string {
	if n == 1 {
		return "1 shelf"
	}
	return fmt.Sprintf("%d shelves", n)
}

// bays shares the loose shelves out over what the fixed ones leave: each goes
// where it makes the spaces most alike.
func bays(s piece.Shelves, c cell, thick unit.Length) []bay {
	heights := slices.Clone(s.Fixed)
	slices.Sort(heights)
	var out []bay
	from := unit.Length(0)
	for _, h := range append(heights, c.h.Size) {
		y := bay{cell: c}
		y.z += from
		if len(heights) > 0 {
			y.h = From("between fixed shelves", h-from)
		}
		out = append(out, y)
		from = h + thick
	}
	for range s.OnPins {
		best := 0
		for i, y := range out {
			if y.h.Size/unit.Length(y.loose+1) > out[best].h.Size/unit.Length(out[best].loose+1) {
				best = i
			}
		}
		out[best].loose++
	}
	return out
}

// sideEdge is y of the front edge of the case's sides as finished: behind the
// frame, or the face of the edge band.
func (b *builder) sideEdge() unit.Length {
	if b.piece.Frame != nil {
		return b.space.front
	}
	return 0
}

// depthBehind is from that edge to the front of the back.
func (b *builder) depthBehind() Dim {
	return From("front to back inside", b.space.back).Less(1, "frame", b.sideEdge())
}

// shelfDepth is from the shelf's front to what it stops at behind.
func (b *builder) shelfDepth(s piece.Shelves, inset, play unit.Length) Dim {
	d := b.depthBehind().Less(1, "inset door", inset).Less(1, "set back", s.Setback).Less(1, "clear of the back", play)
	if kind, ok := b.shop.Bands[s.Edges]; ok && !kind.Before {
		d = d.Less(1, "edge band", kind.Thickness)
	}
	return d
}

// shelfFront is y of the front of a shelf's core.
func (b *builder) shelfFront(s piece.Shelves, inset unit.Length) unit.Length {
	y := b.sideEdge() + inset + s.Setback
	if kind, ok := b.shop.Bands[s.Edges]; ok && !kind.Before {
		y += kind.Thickness
	}
	return y
}

// fixedShelves adds shelves at given heights.
func (b *builder) fixedShelves(s piece.Shelves, c cell, m stock, inset unit.Length, path string) {
	heights := slices.Clone(s.Fixed)
	slices.Sort(heights)
	for i, h := range heights {
		where := fmt.Sprintf("%s.fixed[%d]", path, slices.Index(s.Fixed, h))
		if h < 0 || h+m.thickness > c.h.Size {
			b.cannot(where, "a shelf %s thick with its underside at %s does not lie in an opening %s high. Keep it between 0 and %s.",
				b.show(m.thickness), b.exact(h), b.exact(c.h.Size), b.exact(c.h.Size-m.thickness))
			return
		}
		if i > 0 && h < heights[i-1]+m.thickness {
			b.cannot(where, "this shelf runs into the one at %s: they are %s thick. Keep them apart.", b.exact(heights[i-1]), b.show(m.thickness))
			return
		}
		b.fixedShelf(s, c, m, h, inset, where)
		if b.failed() {
			return
		}
	}
}

func (b *builder) fixedShelf(s piece.Shelves, c cell, m stock, h, inset unit.Length, path string) {
	width := b.shelfDepth(s, inset, 0)
	if width.Size < 30*unit.Millimetre {
		b.cannot(path, "the shelf would be %s deep. Set it back less.", b.show(width.Size))
		return
	}
	front := b.shelfFront(s, inset)
	var seats [2]seat
	for i, side := range []int{atLeft, atRight} {
		p := geom.Vec{X: c.walls[side].at, Y: front, Z: c.z + h + m.thickness/2}
		q := p
		q.Y = front + width.Size
		var ok bool
		if seats[i], ok = b.seatAt(cmp.Or(s.Joint, b.piece.Case.Joints["shelves"]), p, q, into[side], m.thickness, "the shelf", path); !ok {
			return
		}
	}
	p := b.add(Part{
		Name: "fixed shelf", Role: RoleShelf, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
		Length: c.clear().Plus(1, "into the left", seats[0].depth).Plus(1, "into the right", seats[1].depth),
		Width:  width, Thickness: From("shelf", m.thickness),
		Places: []Place{{upward(c.walls[atLeft].at-seats[0].depth, front, c.z+h), c.name}},
	})
	p.edged(s.Edges, EdgeY0)
	b.sit(seats[0], p, EdgeX0)
	b.sit(seats[1], p, EdgeX1)
	b.heldAtBothEnds(seats, [2]int{atLeft, atRight}, "the fixed shelf", c)
}

// looseShelves adds shelves on pins and their holes.
func (b *builder) looseShelves(s piece.Shelves, c bay, m stock, inset unit.Length, first int, blocked []stretch, path string) {
	length := c.clear().Less(1, "play", shelfPlay)
	width := b.shelfDepth(s, inset, BackPlay)
	if width.Size < 30*unit.Millimetre || length.Size < 30*unit.Millimetre {
		b.cannot(path, "a shelf of %s × %s is too small to be of use. Set it back less, or leave it out.", b.show(length.Size), b.show(width.Size))
		return
	}
	front, back, ok := Rows(firstRow+inset, b.space.back-b.sideEdge())
	if !ok {
		b.cannot(path, "the case is %s deep inside, too shallow for two rows of pin holes. Use fixed shelves.", b.show(b.space.back-b.sideEdge()))
		return
	}
	rows := pinRows(c.h.Size, c.loose, max(s.Holes, 1))
	if len(rows) < c.loose {
		b.cannot(path, "%s on pins do not go into a space %s high: it has room for %s. Ask for fewer.",
			countShelves(c.loose), b.show(c.h.Size), document.Count(len(rows), "row")+" of holes")
		return
	}
	b.pinHoles(s, c.cell, front, back, rows)
	b.comesIn(c.cell, length.Size, m.thickness)

	deep := given(b.shop.Hardware[s.Pin].Diameter, usualPin)
	rows = slices.DeleteFunc(rows, func(r unit.Length) bool {
		under := c.z + r + deep/2
		return slices.ContainsFunc(blocked, func(p stretch) bool { return under < p.to && under+m.thickness > p.from })
	})
	if len(rows) < c.loose {
		b.cannot(path, "the hinges leave no hole where %s can lie. Give more holes for each shelf.", countShelves(c.loose))
		return
	}
	for i := range c.loose {
		// Drawn on the hole nearest to an even share of the height.
		want := c.h.Size * unit.Length(i+1) / unit.Length(c.loose+1)
		k := 0
		for j, r := range rows {
			if (r - want).Abs() < (rows[k] - want).Abs() {
				k = j
			}
		}
		z := rows[k]
		rows = slices.Delete(slices.Clone(rows), k, k+1) // one shelf to a row
		p := b.add(Part{
			Name: "shelf", Role: RoleShelf, Material: m.key, Solid: m.solid, Grain: m.grain(GrainLength),
			Length: length, Width: width, Thickness: From("shelf", m.thickness),
			Places: []Place{{upward(c.walls[atLeft].at+shelfPlay/2, b.shelfFront(s, inset), c.z+z+deep/2), fmt.Sprintf("%s shelf %d", c.name, first+i)}},
		})
		p.edged(s.Edges, EdgeY0)
	}
	if s.Pin != "" {
		if h, ok := b.hardware(s.Pin, path+".pin"); ok {
			b.fit(Fitting{Key: s.Pin, Name: shop.Called(h.Name, s.Pin), Count: 4 * c.loose, For: "loose shelves"})
		}
	}
}

// pinRows is the heights of the pin holes above the bottom of an opening of
// that height: a grid of 32 mm that lies alike from top and bottom; for each
// shelf so many positions about its even share of the height.
func pinRows(height unit.Length, shelves, holes int) []unit.Length {
	n := int((height - 2*pitch) / pitch) // whole pitches between the outer holes
	if height < 2*pitch || shelves < 1 {
		return nil
	}
	use := make([]bool, n+1)
	for i := range shelves {
		mid := float64(n) * float64(i+1) / float64(shelves+1)
		from := int(math.Ceil(mid - float64(holes)/2))
		for k := from; k < from+holes; k++ {
			if k >= 0 && k <= n {
				use[k], use[n-k] = true, true
			}
		}
	}
	start := (height - unit.Length(n)*pitch) / 2
	var out []unit.Length
	for k, u := range use {
		if u {
			out = append(out, start+unit.Length(k)*pitch)
		}
	}
	return out
}

// pinHoles bores the rows into whatever stands on either side: panel, divider
// or the flat of a shell. Rows that reach a bend are a finding.
func (b *builder) pinHoles(s piece.Shelves, c cell, front, back unit.Length, rows []unit.Length) {
	h := b.shop.Hardware[s.Pin]
	d, deep := given(h.Diameter, usualPin), given(h.Depth, usualPinDeep)
	missed := 0
	for _, side := range []int{atLeft, atRight} {
		at := func(shift unit.Length) (out []spot, missed int, meet *spot) {
			for _, y := range []unit.Length{front, back} {
				for _, z := range rows {
					s, ok := b.spotAt(geom.Vec{X: c.walls[side].at, Y: b.sideEdge() + y + shift, Z: c.z + z}, into[side])
					if !ok {
						missed++
						continue
					}
					out = append(out, s)
					if s.meets(d, deep) {
						meet = &s
					}
				}
			}
			return out, missed, meet
		}
		holes, gone, meet := at(0)
		if meet != nil { // those of the neighbour lie opposite: past them by half a pitch
			if try, more, still := at(pitch / 2); still == nil && more == gone {
				holes, meet = try, nil
			}
		}
		missed += gone
		least := deep
		for _, s := range holes {
			least = min(least, s.bore(d, min(deep, s.part.Thickness.Size-pinBehind), "shelf pin"))
		}
		b.pinsProud(s, c, wallNames[side], h.Depth, least, meet)
	}
	if missed > 0 {
		b.once(finding.Finding{
			ID: "pins-at-bend", Level: finding.Care, Place: c.name,
			Says:   fmt.Sprintf("the pin rows of %s reach a bend; %s left out", c.name, leftOut(missed)),
			Advice: "Give fewer holes, or a smaller radius.", Source: "derived",
		})
	}
}

// pinsProud says so where holes are not as deep as the pins are long.
func (b *builder) pinsProud(s piece.Shelves, c cell, where string, want, have unit.Length, meet *spot) {
	if want-have < tenth {
		return
	}
	why := ""
	if meet != nil {
		why = fmt.Sprintf(" and meet those from the other face of %s %s", meet.part.Name, meet.part.Letter)
	}
	b.once(finding.Finding{
		ID: "pins-proud", Level: finding.Care, Place: c.name,
		Says: fmt.Sprintf("at the %s of %s the holes for %s are %s deep%s; its pins want %s and stand %s further out",
			where, c.name, shop.Called(b.shop.Hardware[s.Pin].Name, s.Pin), b.show(have), why, b.show(want), b.show(want-have)),
		Figure: b.show(have), Limit: b.show(want), Source: "derived",
		Advice: fmt.Sprintf("Take pins for holes of %s, or a thicker panel.", b.show(have)),
	})
}

func leftOut(n int) string {
	if n == 1 {
		return "one hole is"
	}
	return fmt.Sprintf("%d holes are", n)
}

// bore bores a hole for a pin or a plate's screw. Where one lies opposite it
// already, both stop in the middle of the panel; where the same hole is there
// already, it serves for both. It gives the depth that the hole has.
func (s spot) bore(diameter, deep unit.Length, what string) unit.Length {
	f := Feature{Kind: Hole, Region: disc(geom.P(s.x, s.y), diameter), Depth: deep, For: what}
	t := s.part.Thickness.Size
	for i := range s.part.Features {
		o := &s.part.Features[i]
		if o.Kind != Hole || o.Face == "" {
			continue
		}
		if o.Face == s.face && sameOutline(o.Region, f.Region) && (o.Place == "" || o.Place == s.part.Places[s.place].Name) {
			o.For, o.Depth = what, max(o.Depth, min(f.Depth, t-pinBehind))
			return o.Depth
		}
		if o.Face != s.face && o.Depth+f.Depth > t && o.Region.Bounds().Meets(f.Region.Bounds()) {
			o.Depth, f.Depth = min(o.Depth, t/2), min(f.Depth, t/2)
		}
	}
	s.work(f)
	return f.Depth
}

// meets says that a hole of that depth would meet one from the other face.
func (s spot) meets(diameter, deep unit.Length) bool {
	t, r := s.part.Thickness.Size, disc(geom.P(s.x, s.y), diameter)
	return slices.ContainsFunc(s.part.Features, func(o Feature) bool {
		return o.Kind == Hole && o.Face != "" && o.Face != s.face && (o.Place == "" || o.Place == s.part.Places[s.place].Name) &&
			o.Depth+min(deep, t-pinBehind) > t && o.Region.Bounds().Meets(r.Bounds())
	})
}

// comesIn checks that a shelf longer than the frame's opening can be put in:
// tilted so far that it passes, it must still be lower than the opening.
func (b *builder) comesIn(c cell, length, thick unit.Length) {
	if length <= c.w.Size {
		return
	}
	l, w, t := length.MM(), c.w.Size.MM(), thick.MM()
	// Tilted by a, it takes l·cos a + t·sin a in width, l·sin a + t·cos a in
	// height; the least tilt that passes is where the width just fits.
	a := math.Acos(min(w/math.Hypot(l, t), 1)) + math.Atan2(t, l)
	if high := unit.MM(l*math.Sin(a) + t*math.Cos(a)); high > c.h.Size {
		b.once(finding.Finding{
			ID: "shelf-goes-in", Level: finding.Care, Place: c.name,
			Says: fmt.Sprintf("the shelf is %s long, the opening %s wide: tilted to pass it takes %s of the %s in height",
				b.show(length), b.show(c.w.Size), b.show(high), b.show(c.h.Size)),
			Figure: b.show(high), Limit: b.show(c.h.Size), Source: "derived",
			Advice: "Put it in before the frame is glued on, or make it shorter with packers under the pins.",
		})
	}
}
