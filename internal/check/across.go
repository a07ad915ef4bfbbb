package check

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// acrossMost is how far glue is trusted to hold wood across the grain of what
// it meets: 1.6 mm of movement each way (common practice, no source), as in a
// rail of 3 in or so.
const acrossMost = unit.Inch / 16

// meeting is where two parts touch: along which way, how long, and which way
// the joint faces.
type meeting struct {
	line, normal geom.Dir
	length       unit.Length
}

var axes = [3]geom.Dir{{X: 1}, {Y: 1}, {Z: 1}}

var up3 = axes[2]

// meets is the contact of two parts, from the boxes they fill: the longest
// side of what the boxes share is the line, the shortest the normal. Parts
// that stand askew are not judged.
func meets(a *build.Part, pa build.Place, b *build.Part, pb build.Place) (meeting, bool) {
	if a.Bent != nil || b.Bent != nil || !square(pa.Frame) || !square(pb.Frame) {
		return meeting{}, false
	}
	x, y := solidBox(a, pa).Bounds(), solidBox(b, pb).Bounds()
	lo := geom.Vec{X: max(x.Min.X, y.Min.X), Y: max(x.Min.Y, y.Min.Y), Z: max(x.Min.Z, y.Min.Z)}
	hi := geom.Vec{X: min(x.Max.X, y.Max.X), Y: min(x.Max.Y, y.Max.Y), Z: min(x.Max.Z, y.Max.Z)}
	s := hi.Sub(lo)
	sides := [3]unit.Length{s.X, s.Y, s.Z}
	long, short := 0, 0
	for i, l := range sides {
		if l < -unit.Millimetre {
			return meeting{}, false
		}
		if l > sides[long] {
			long = i
		}
		if l < sides[short] {
			short = i
		}
	}
	if long == short || sides[long] <= 0 {
		return meeting{}, false
	}
	return meeting{axes[long], axes[short], sides[long]}, true
}

func square(f geom.Frame) bool {
	for _, d := range []geom.Dir{f.U, f.V} {
		if m := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)); m < 0.999 {
			return false
		}
	}
	return true
}

func along(d, e geom.Dir) bool { return math.Abs(d.Dot(e)) > 0.7 }

// glued says that a joint holds its parts together over its whole length.
func glued(j build.Joint) bool {
	if strings.Contains(j.Note, "no glue") || strings.Contains(j.Note, "only") {
		return false
	}
	switch j.Kind {
	case "groove", "buttons", "slots", "screwed", "dovetail", "finger":
		return strings.HasPrefix(j.With, "glue")
	case "grooved", "rebated", "overlaid":
		return strings.Contains(j.With, "glue")
	}
	return true
}

// acrossGrain finds joints in which glue holds a wide solid part across the
// grain of its neighbour, or on a panel that does not move.
func acrossGrain(in Input) []finding.Finding {
	var out []finding.Finding
	said := map[string]bool{}
	for _, j := range in.Model.Joints {
		a, b := partOf(in.Model, j.A), partOf(in.Model, j.B)
		if a == nil || b == nil || a == b || !glued(j) || !a.Solid && !b.Solid {
			continue
		}
		if j.Kind == "glued on" && a.Role == build.RoleTop {
			continue // said where the top is built
		}
		if f, ok := heldAcross(in, j, a, b); ok && !said[f.Place] {
			said[f.Place] = true
			out = append(out, f)
		}
	}
	return out
}

// heldAcross looks at the first places where the two meet.
func heldAcross(in Input, j build.Joint, a, b *build.Part) (finding.Finding, bool) {
	for _, pa := range a.Places {
		for _, pb := range b.Places {
			m, ok := meets(a, pa, b, pb)
			if !ok {
				continue
			}
			x, y := a, b
			move := movesAlong(in, a, pa, m) - movesAlong(in, b, pb, m)
			if move < 0 {
				move, x, y = -move, b, a
			}
			if move <= acrossMost {
				return finding.Finding{}, false
			}
			longest := m.length.Scale(float64(acrossMost) / float64(move))
			return finding.Finding{
				ID: "glued-across", Level: finding.Care, Place: fmt.Sprintf("joint %s to %s, %s", j.A, j.B, j.Kind),
				Says:   fmt.Sprintf("%s %s is glued along %s across its grain to %s %s, which does not move with it: %s over the year.", document.Capital(x.Name), x.Letter, in.Show(m.length), y.Name, y.Letter, fine(in, move)),
				Figure: fine(in, move), Limit: fine(in, acrossMost),
				Advice: fmt.Sprintf("Glue the front %s only and let the rest slide, in slots %s longer than the screw is thick; or make both of the same wood with the grain running the same way.", down(in, longest), fine(in, move+2*slotRoom)),
				Source: "FPL-GTR-190 eq. 13-2, flat-sawn; limit: common practice, no source; " + homeSource(in.Piece.Home),
			}, true
		}
	}
	return finding.Finding{}, false
}

// movesAlong is what a part moves along a joint's line: nothing for a panel or
// along the grain.
func movesAlong(in Input, p *build.Part, at build.Place, m meeting) unit.Length {
	if !p.Solid || along(grainDir(p, at), m.line) {
		return 0
	}
	s, ok := swings(in, p.Material, m.length)
	if !ok {
		return 0
	}
	return s.whole.Change.Abs()
}
