package build

import (
	"cmp"
	"math"
	"slices"

	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Cup hinges. Geometry as hinge makers' sheets state it in common; the counts
// and distances are custom. The box of the hinge goes before them.
const (
	usualCup      = 35 * unit.Millimetre
	usualCupDepth = 25 * unit.Millimetre / 2
	usualBoring   = 5 * unit.Millimetre
	usualFixed    = 13 * unit.Millimetre // straight arm
	usualSetback  = 37 * unit.Millimetre
	boringLeast   = 3 * unit.Millimetre
	boringMost    = 6 * unit.Millimetre
	boringNear    = unit.Millimetre * 2 / 5 // the hinge's side screw takes so much
	plateApart    = 32 * unit.Millimetre
	plateHole     = 5 * unit.Millimetre
	plateDepth    = 12 * unit.Millimetre
	hingeMetal    = unit.Millimetre * 12 / 10
	hingeScrew    = 16 * unit.Millimetre
	cupSkin       = 3 * unit.Millimetre // left before the face of the door
	leastDoor     = 80 * unit.Millimetre
	firstHinge    = 90 * unit.Millimetre
	hingeStep     = 15 * unit.Pound // one more hinge for each of these
)

// Overlay is how far a door on a cup hinge covers the edge of the side: the
// hinge's fixed distance, plus the boring distance, less the height of the
// plate. It is negative for a door that lies inside.
func Overlay(fixed, boring, plate unit.Length) unit.Length { return fixed + boring - plate }

// HingeCount is how many cup hinges a door takes: two up to 40 in high, one
// more up to each of 60, 80 and 100 in, and one more for each 15 lb over the
// first 15. Common practice, no source.
func HingeCount(height unit.Length, mass unit.Mass) int {
	n := 2
	for _, upTo := range []unit.Length{40 * unit.Inch, 60 * unit.Inch, 80 * unit.Inch} {
		if height > upTo {
			n++
		}
	}
	if height > 100*unit.Inch {
		n += int((height - 100*unit.Inch + 20*unit.Inch - 1) / (20 * unit.Inch))
	}
	if mass > 0 && !math.IsInf(float64(mass), 0) {
		n = max(n, 1+int(math.Ceil(float64(mass/hingeStep)-1e-9)))
	}
	return min(n, mostHinges)
}

// usualHingeGauge is that of the screws of a hinge whose box does not say.
const usualHingeGauge = 6

// mostHinges bounds the count for absurd doors.
const mostHinges = 20

// hingeHeights is where the hinges of a door sit above the bottom of its
// opening: the first and last near its ends, the others between, and none
// where a fixed shelf is in the way.
func (b *builder) hingeHeights(d piece.Door, s *piece.Shelves, c cell, f facing, thick unit.Length) []unit.Length {
	mass := b.material("doors").density.Of(unit.VolumeOf(f.w.Size, f.h.Size, thick))
	n := HingeCount(f.h.Size, mass)
	first := min(firstHinge, f.h.Size/4)
	span := f.h.Size - 2*first
	half := b.packerSize().high/2 + unit.Millimetre
	var blocked []stretch
	if s != nil {
		for _, h := range s.Fixed {
			blocked = append(blocked, stretch{h - half, h + b.material("shelves").thickness + half})
		}
	}
	blocked = append(blocked, b.bendsAt(d, c, half)...)
	grid := b.plateGrid(s, c, b.shop.Hardware[d.Hinge].Screws > 0)
	out := make([]unit.Length, n)
	for i := range out {
		z := f.z - c.z + first + span*unit.Length(i)/unit.Length(n-1)
		out[i] = clearOf(z, blocked, c.h.Size-half)
		if at, ok := nearestFree(z, grid, blocked); ok && !slices.Contains(out[:i], at) {
			out[i] = at
		}
	}
	return out
}

// hingeScrews counts the wood screws of so many hinges, where the shop says how
// many one takes: half of them beside the cup, the others through the plate.
func (b *builder) hingeScrews(l hung, n int, stands unit.Length) {
	h := l.hardware
	plate := h.Screws / 2
	for _, s := range []struct {
		where    string
		each     int
		holding  unit.Length
		material string
	}{
		{"hinge cups to the doors", h.Screws - plate, l.thick.Size, b.material("doors").key},
		{"hinge plates to the case", plate, stands + b.wallThick(l.cell, l.side), b.material("case").key},
	} {
		if s.each > 0 {
			b.screws(screwing{
				where: s.where, count: n * s.each, gauge: cmp.Or(h.Gauge, usualHingeGauge), most: hingeScrew, own: true,
				fastened: From("hinge", hingeMetal), metal: true, holding: s.holding, material: s.material,
			})
		}
	}
}

// hingePilot is the hole for a wood screw of a plate; 0 where the plate's own
// screws go into the holes of its system.
func (b *builder) hingePilot(h shop.Hardware, material string) unit.Length {
	if h.Screws < 2 {
		return 0
	}
	pilot, _, _ := screwKind(b.shop.Units, cmp.Or(h.Gauge, usualHingeGauge)).Pilot(b.hard(material))
	return pilot
}

// bendsAt is where no plate lies flat because the shell bends: heights of a
// plate's middle above the bottom of the opening.
func (b *builder) bendsAt(d piece.Door, c cell, half unit.Length) []stretch {
	if b.shell == nil {
		return nil
	}
	sides := []int{atLeft}
	switch d.Hung {
	case "right":
		sides = []int{atRight}
	case "pair":
		sides = []int{atLeft, atRight}
	}
	var out []stretch
	for _, side := range sides {
		p := geom.Vec{X: c.walls[side].at, Y: b.space.front, Z: c.z + c.h.Size/2}
		for _, r := range b.stretches(p, into[side]) {
			if r.from <= p.Z && p.Z <= r.to { // two parts may share a side; joined they are flat
				out = append(out, stretch{-most, b.flatFrom(r, p, side, -1) + half - c.z}, stretch{b.flatFrom(r, p, side, 1) - half - c.z, most})
				break
			}
		}
	}
	return out
}

// flatFrom is how far down (way -1) or up (way 1) the flats of a wall reach
// without a gap, starting from one of them.
func (b *builder) flatFrom(r stretch, p geom.Vec, side, way int) unit.Length {
	end := r.to
	if way < 0 {
		end = r.from
	}
	all := b.stretches(p, into[side])
	for range all {
		for _, o := range all {
			if way < 0 && o.from < end && o.to >= end-flush {
				end = o.from
			}
			if way > 0 && o.to > end && o.from <= end+flush {
				end = o.to
			}
		}
	}
	return end
}

// plateGrid is where a hinge's plate takes two holes of the rows for shelf
// pins, so that no hole breaks into another: heights of its middle above the
// bottom of the opening. A plate that is held by wood screws has them halfway
// between those holes, for they hold in none. Behind a frame the plates sit on
// packers of their own.
func (b *builder) plateGrid(s *piece.Shelves, c cell, screwed bool) []unit.Length {
	if s == nil || s.OnPins <= 0 || b.piece.Frame != nil {
		return nil
	}
	var out []unit.Length
	for _, y := range bays(*s, c, b.material("shelves").thickness) {
		n := (y.h.Size - 2*pitch) / pitch
		if y.loose == 0 || n < 1 {
			continue
		}
		start := y.z - c.z + (y.h.Size-n*pitch)/2
		for k := range n {
			at := start + k*pitch + plateApart/2
			if screwed {
				at += pitch / 2
			}
			out = append(out, at)
		}
	}
	return out
}

// nearestFree is the place of a list nearest to z, within one pitch, that
// lies in none of the stretches.
func nearestFree(z unit.Length, list []unit.Length, blocked []stretch) (unit.Length, bool) {
	best, found := unit.Length(0), false
	for _, at := range list {
		if (at-z).Abs() > pitch || slices.ContainsFunc(blocked, func(s stretch) bool { return at > s.from && at < s.to }) {
			continue
		}
		if !found || (at-z).Abs() < (best-z).Abs() {
			best, found = at, true
		}
	}
	return best, found
}

// clearOf is the place nearest to z, up to most, that lies in none of the
// stretches; z itself where there is none.
func clearOf(z unit.Length, blocked []stretch, most unit.Length) unit.Length {
	free := func(z unit.Length) bool {
		return !slices.ContainsFunc(blocked, func(s stretch) bool { return z > s.from && z < s.to })
	}
	if free(z) {
		return z
	}
	best, found := z, false
	for _, s := range blocked {
		for _, at := range []unit.Length{s.from, s.to} {
			if at > 0 && at <= most && free(at) && (!found || (at-z).Abs() < (best-z).Abs()) {
				best, found = at, true
			}
		}
	}
	return best
}
