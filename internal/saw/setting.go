package saw

import (
	"casewright/internal/unit"
)

// A want is one cut to be made: take keep off a piece that is whole long in
// that direction, leaving left beyond the kerf.
type want struct {
	of    string
	keep  unit.Length // from the reference edge to the near side of the kerf
	whole unit.Length
	left  unit.Length
	long  unit.Length // length of the cut
	edge  string      // name of the reference edge
	other string      // name of the edge opposite
	cross bool        // across the grain direction of the panel
	gives string
	rest  string // name of what remains, when that is not cut off any more
	part  bool   // what comes off is a finished part
	trim  bool
	times int // on all pieces
	alike int // pieces at hand alike
}

// how decides how a cut is set on the machine: the way, the setting, and
// whether it counts from the opposite edge.
func (m Machine) how(w want) (way Way, setting unit.Length, fromOther bool) {
	switch m.Kind {
	case "track":
		return RailMark, w.keep, false
	case "hand-guide":
		return GuideMark, w.keep, false
	}
	// A piece guided by an edge shorter than its distance from the blade turns
	// and kicks back; such cuts belong on the sled (common practice, no source).
	if w.cross && w.long < w.keep && w.keep <= m.Reach {
		return Stop, w.keep, false
	}
	if w.keep <= m.Reach && w.keep >= m.Least {
		return Fence, w.keep, false
	}
	if w.left <= m.Reach && w.left >= m.Least {
		return Fence, w.left, true
	}
	if w.keep <= m.Reach {
		return Fence, w.keep, false
	}
	return Beyond, w.keep, false
}

// words gives the sentences of a setting: what lies against the fence, which
// side is the part, and what to look out for.
func (m Machine) words(w want, way Way, fromOther bool) (reference, keep, note string) {
	switch way {
	case Fence:
		if fromOther {
			return w.other, "outside the blade; the setting is what remains", "the fence does not reach from the " + w.edge + ", so the remainder runs along it"
		}
		reference, keep = w.edge, "between fence and blade"
		if w.keep < m.Least {
			note = "nearer to the blade than this saw is used at: push block and a sacrificial fence, or cut it by hand"
		}
	case Stop:
		reference, keep = w.edge, "between stop and blade"
	case RailMark:
		reference, keep = w.edge, "between reference and mark; the rail lies on it, the kerf beyond the mark"
		if m.Reach > 0 && w.long > m.Reach {
			note = "the cut is longer than the rail: join rails or move it along a straightedge"
		}
	case GuideMark:
		reference, keep = w.edge, "between reference and mark; the kerf lies beyond the mark"
		if w.keep < m.Base {
			note = "the guide would stand off the piece: clamp it to a board of the same thickness"
		}
	default:
		reference, keep = w.edge, "between reference and mark; the kerf lies beyond the mark"
		note = "farther than the fence reaches from either edge: use a track saw, a guide, or a sled with a stop"
	}
	return reference, keep, note
}
