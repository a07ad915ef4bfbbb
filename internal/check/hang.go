package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// How far below the top of a piece that hangs its upper fixings are taken to
// sit, or a quarter of its height if that is less (common practice, no source).
const fixingBelow = 50 * unit.Millimetre

// hangsOn is how many fixings are trusted to share what a piece that hangs
// weighs, however many there are (common practice, no source).
const hangsOn = 2

// Hold is what the upper fixings of a piece that hangs on a wall have to hold,
// all of them together.
type Hold struct {
	Mass   unit.Mass   // of the wood and what is in it
	Load   unit.Mass   // of what is in it
	LoadBy string      // where that comes from
	Arm    unit.Length // from the wall to the centre of gravity of all that
	Height unit.Length // of the fixings above the lower edge, which bears on the wall
	Pull   unit.Force  // out of the wall
	Shear  unit.Force  // down along it
}

// Hang is what the upper fixings hold by statics. The piece would turn about
// its lower back edge, which presses on the wall: its weight W at the distance
// a from the wall turns it down and outward with W a, and the fixings hold it
// back at their height h above that edge, so that P h = W a. The edge is taken
// to be without friction, so that nothing but the fixings carries W down along
// the wall. All drawers and doors are open, which is the worst of it. Fittings,
// jerks and whoever leans on it are not in it.
func Hang(in Input) (Hold, bool) {
	high := in.Model.Outside.Z
	h := Hold{Height: high - min(fixingBelow, high/4)}
	if high <= 0 || Mass(in.Model, in.Shop) <= 0 {
		return Hold{}, false
	}
	open, parts := drawersOut(in), weighed(in)
	wall := behind(in)
	load, by := inIt(in, open, wall-in.Piece.Case.Depth/2)
	h.Load, h.LoadBy = sum(load).Mass, by
	all := sum(append(opened(parts, open, false), load...))
	h.Mass = all.Mass
	h.Arm = wall - unit.MM(all.Y)
	h.Shear = unit.Force(float64(h.Mass) * gravity)
	h.Pull = unit.Force(float64(h.Shear) * h.Arm.MM() / h.Height.MM())
	return h, true
}

// behind is how far back the piece reaches: there is the wall.
func behind(in Input) unit.Length {
	far := unit.Length(math.MinInt64)
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		for _, at := range p.Places {
			if p.Bent == nil {
				far = max(far, solidBox(p, at).Bounds().Max.Y)
				continue
			}
			for _, q := range at.Frame.PlacePath(p.Bent.Profile, p.Width.Size).Flatten(unit.Millimetre) {
				far = max(far, at.Frame.At(q.X, q.Y, 0).Y, at.Frame.At(q.X, q.Y, p.Width.Size).Y)
			}
		}
	}
	return far
}

// inIt is what is put into the piece, with its drawers out, and where it comes
// from: the load that the piece states, else the usual one on every floor and
// shelf and on the top. It lies in the middle of the depth.
func inIt(in Input, open []pulled, middle unit.Length) (load []Weight, by string) {
	out := map[string]pulled{}
	for _, d := range open {
		out[d.opening.Name] = d
	}
	put := func(kg float64, o *build.Opening) {
		w := Weight{Mass: unit.Mass(kg), Y: middle.MM()}
		if o != nil {
			w.Y -= out[o.Name].out
		}
		load = append(load, w)
	}
	if all := in.Piece.Use.LoadKg; all > 0 {
		rest := all
		for _, d := range open {
			if d.out > 0 {
				put(d.load, d.opening)
				rest -= d.load
			}
		}
		put(max(0, rest), nil)
		return load, "load from the piece"
	}
	var from []string // each source once
	on := func(long unit.Length, fill *piece.Shelves, o *build.Opening) {
		perMetre, says := shelfLoad(in.Piece.Use, fill, in.Piece.Case.Depth)
		put(perMetre/gravity*long.Metres(), o)
		if !slices.Contains(from, says) {
			from = append(from, says)
		}
	}
	on(in.Model.Outside.X, nil, nil) // the top
	for i := range in.Model.Openings {
		on(in.Model.Openings[i].Width.Size, nil, &in.Model.Openings[i])
	}
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleShelf {
			continue
		}
		for _, at := range p.Places {
			var fill *piece.Shelves
			if o := openingOf(in.Model, at.Name); o != nil {
				if s := openingAt(in.Piece.Inside, o.Path); s != nil {
					fill = s.Shelves
				}
			}
			on(p.Length.Size, fill, nil)
		}
	}
	return load, strings.Join(from, "; ") + ", on floors, shelves and top"
}

// hanging says what holds up a piece that hangs on a wall. It never says that
// the piece hangs safely.
func hanging(in Input) []finding.Finding {
	if !in.Piece.Use.Hung() {
		return nil
	}
	var out []finding.Finding
	if b := in.Piece.Base; b != nil {
		out = append(out, finding.Finding{
			ID: "hung-with-base", Level: finding.Care, Place: "base",
			Says:   fmt.Sprintf("It hangs on the wall and has a base as well (%s); nothing is worked out for what the base would carry.", b.Kind),
			Advice: "Leave the base out, or write against: wall if it stands on it.", Source: "what the piece says",
		})
	}
	h, ok := Hang(in)
	if !ok {
		return out
	}
	s := in.Piece.Units
	return append(out, finding.Finding{
		ID: "hung-fixings", Level: finding.Care, Place: in.Piece.Name,
		Says: fmt.Sprintf("It hangs: the wood and %s in it, together %s, %s off the wall, pull the upper fixings out of the wall by %s and down along it by %s.",
			h.Load.StatedBoth(s), h.Mass.RoundedUp(s).Both(s, 0), up(in, h.Arm), Newtons(h.Pull, s), Newtons(h.Shear, s)),
		Figure: h.Pull.RoundedUp(s).Led(s), Limit: "what the fixings hold in that wall, by their maker",
		Advice: "Estimate only. " + h.Advice(s),
		Source: fmt.Sprintf("statics, exact; fixings %s above the lower edge and all of it on two of them: common practice, no source; %s", down(in, h.Height), h.LoadBy),
	})
}

// Advice is what to do about it.
func (h Hold) Advice(s unit.System) string {
	return fmt.Sprintf("Take it that two fixings carry all of it: each holds %s outward and %s down at the same time; take such as are rated for several times that in this wall. Fix through a rail or the wood of the case, not through a thin back. What the maker of the fixings says, the wall itself and local practice and codes come first; if in doubt ask a licensed trade.",
		Newtons(h.Pull/hangsOn, s), Newtons(h.Shear/hangsOn, s))
}

// Newtons is a force in both units, the leading one first and rounded up.
func Newtons(f unit.Force, s unit.System) string {
	n, lbf := fmt.Sprintf("%.0f N", math.Ceil(float64(f))), fmt.Sprintf("%.0f lbf", math.Ceil(float64(f/unit.PoundForce)))
	if s == unit.Imperial {
		return lbf + " (" + n + ")"
	}
	return n + " (" + lbf + ")"
}
