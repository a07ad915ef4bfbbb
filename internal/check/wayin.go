package check

import (
	"fmt"
	"math"

	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// handRoom is what hands and wrapping take at each pass (20 mm in all, common
// practice).
const handRoom = 20 * unit.Millimetre

// wayIn looks at whether the piece, off its legs, passes the door, the stair
// and the turn on a landing, carried whichever way round it goes best.
func wayIn(in Input) []finding.Finding {
	w := in.Piece.WayIn
	if w == nil {
		return nil
	}
	size := [3]unit.Length{in.Model.Outside.X, in.Model.Outside.Y, in.Model.Outside.Z}
	off := ""
	if b := in.Piece.Base; b != nil && (b.Kind == "legs" || b.Kind == "casters" || b.Kind == "feet") {
		size[2] -= b.Height
		off = ", off its " + b.Kind + ","
	}
	var out []finding.Finding
	say := func(path, where string, short, limit unit.Length) {
		out = append(out, finding.Finding{
			ID: "way-in", Level: finding.Stop, Place: "way-in." + path,
			Says:   fmt.Sprintf("The piece, %s by %s by %s%s does not pass %s: it is too large by %s.", in.Show(size[0]), in.Show(size[1]), in.Show(size[2]), off, where, up(in, short)),
			Figure: in.Show(limit + short), Limit: in.Show(limit),
			Advice: fmt.Sprintf("Make it %s smaller that way, build it in two parts, or measure again with the door off its hinges.", up(in, short)), Source: "geometry; 20 mm of room, common practice",
		})
	}
	if s, l := passes(size, w.DoorWidth, w.DoorHeight); s > 0 {
		say("door-width", "the door", s, l)
	}
	if s, l := passes(size, w.Stair, w.Headroom); s > 0 {
		say("stair-width", "the stair", s, l)
	}
	if w.Landing > 0 {
		switch t := turns(size, w); {
		case t.long > 0:
			out = append(out, t.tooLong(in, size, off))
		case t.short > 0:
			say("landing", "round the landing", t.short, t.limit)
		}
	}
	return out
}

// passes is by how much a box is too large for a clear width and height
// (0: any), the best way round, and the limit it breaks; 0 if it passes.
func passes(size [3]unit.Length, width, height unit.Length) (short, limit unit.Length) {
	if width <= 0 && height <= 0 {
		return 0, 0
	}
	best := unit.Length(math.MaxInt64)
	for i := range size {
		for j := range size {
			if i == j {
				continue
			}
			s, l := unit.Length(0), width
			if width > 0 {
				s = max(s, size[i]+handRoom-width)
			}
			if height > 0 && size[j]+handRoom-height > s {
				s, l = size[j]+handRoom-height, height
			}
			if s < best {
				best, limit = s, l
			}
		}
	}
	return max(best, 0), limit
}

// turning is how a box fails to go round a landing: by how much it is too wide
// and for which limit, or, where no width would do at its length, that length
// with what it is across and the longest that turns.
type turning struct {
	short, limit        unit.Length
	long, wide, longest unit.Length
}

// turns looks at the turn between the stair (or the landing's own width, where
// no stair is given) and the landing: upright in any of its three ways that the
// headroom allows, or on its longest side.
func turns(size [3]unit.Length, w *piece.WayIn) turning {
	a := w.Landing
	if w.Stair > 0 {
		a = w.Stair
	}
	var tight, stuck *turning // the best way round at which a narrower box turns, and at which only a shorter one does
	for i := range size {
		if w.Headroom > 0 && size[i]+handRoom > w.Headroom {
			continue
		}
		long, wide := size[(i+1)%3], size[(i+2)%3]
		if long < wide {
			long, wide = wide, long
		}
		if room := Turn(a, w.Landing, long); room > handRoom {
			if t := (turning{short: max(wide+handRoom-room, 0), limit: room}); tight == nil || t.short < tight.short {
				tight = &t
			}
		} else if t := (turning{long: long, wide: wide, longest: longestTurned(a, w.Landing, wide, long)}); stuck == nil || t.nearer(*stuck) {
			stuck = &t
		}
	}
	switch {
	case tight != nil:
		return *tight
	case stuck != nil:
		return *stuck
	}
	return turning{short: min(size[0], size[1], size[2]) + handRoom - w.Headroom, limit: w.Headroom} // too high whichever way
}

// nearer reports whether less has to come off the length of t than off that
// of o; where no length turns at what it is across, the shorter is nearer.
func (t turning) nearer(o turning) bool {
	if (t.longest > 0) != (o.longest > 0) {
		return t.longest > 0
	}
	return t.long-t.longest < o.long-o.longest
}

// longestTurned is the longest that a box so wide may be to be turned, under a
// length that does not turn; 0 where that is less than it is wide.
func longestTurned(a, b, wide, under unit.Length) unit.Length {
	fits := func(long unit.Length) bool { return wide+handRoom <= Turn(a, b, long) }
	if !fits(wide) {
		return 0
	}
	lo, hi := wide, under
	for hi-lo > unit.Millimetre/100 {
		if mid := lo + (hi-lo)/2; fits(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// tooLong says that the box does not turn at its length, however narrow.
func (t turning) tooLong(in Input, size [3]unit.Length, off string) finding.Finding {
	f := finding.Finding{
		ID: "way-in", Level: finding.Stop, Place: "way-in.landing",
		Says:   fmt.Sprintf("The piece, %s by %s by %s%s does not pass round the landing: at a length of %s it does not turn there, however narrow it is.", in.Show(size[0]), in.Show(size[1]), in.Show(size[2]), off, in.Show(t.long)),
		Figure: in.Show(t.long), Source: "geometry; 20 mm of room, common practice",
		Advice: "Build it in parts, or find another way in.",
	}
	if most := t.longest.RoundDown(step(in)); most > 0 {
		f.Limit = in.Show(most)
		f.Says += fmt.Sprintf(" %s across, it turns up to a length of %s.", in.Show(t.wide), in.Show(most))
		f.Advice = fmt.Sprintf("Make it %s shorter, build it in two parts, or find another way in.", up(in, t.long-most))
	} else {
		f.Says += fmt.Sprintf(" %s across, it is too wide to turn at any length.", in.Show(t.wide))
	}
	return f
}

// Turn is the widest that a box of that length may be to be turned round the
// corner between two passages of widths a and b, on the flat: the least over
// the turn of a cos t + b sin t − length sin t cos t, and no wider than either
// passage. Derived; to a tenth of a degree.
func Turn(a, b, long unit.Length) unit.Length {
	least := min(a, b)
	for i := 1; i < 900; i++ {
		sin, cos := math.Sincos(float64(i) * math.Pi / 1800)
		least = min(least, unit.MM(a.MM()*cos+b.MM()*sin-long.MM()*sin*cos))
	}
	return least
}
