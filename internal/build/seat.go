package build

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// seat is where the end of a divider or fixed shelf meets a wall: a line from
// front to back in the middle of the part's thickness, on the wall's face.
type seat struct {
	kind  string
	on    spot
	found bool        // there is a part to be fixed to
	depth unit.Length // how far the end goes in
	p, q  geom.Vec
	dir   geom.Dir
	thick unit.Length
}

// seatAt plans how an end is held at a wall: a housing, unless another joint is
// asked for. The flats of a shell are as thick as any panel and take one too:
// between two walls of one bent piece a part can only slide in from behind,
// tenons would have to be sprung in.
func (b *builder) seatAt(kind string, p, q geom.Vec, dir geom.Dir, thick unit.Length, what, path string) (seat, bool) {
	s := seat{kind: kind, p: p, q: q, dir: dir, thick: thick}
	mid := geom.Vec{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2, Z: (p.Z + q.Z) / 2}
	s.on, s.found = b.spotAt(mid, dir)
	if b.shell != nil {
		if !b.onFlatOfShell(mid, dir, thick) {
			b.bendInTheWay(mid, dir, thick, what, path)
			return s, false
		}
		if s.found && s.on.part.Bent != nil {
			if short, m := b.standsOnSeam(s.on, thick); short > 0 {
				b.once(finding.Finding{
					ID: "on-seam", Level: finding.Stop, Place: m.path,
					Says:   fmt.Sprintf("%s stands %s too near to the seam in the %s", what, b.show(short), b.shell.runs[m.run].name),
					Figure: b.show(short), Source: "derived",
					Advice: fmt.Sprintf("Move the seam away from it by %s, with an offset, or let in a strip wider than what stands on it.", b.show(short.RoundUp(b.metric(5*unit.Millimetre, unit.Inch/4)))),
				})
			}
			if kind == "butt" {
				s.kind = "pocket-screw"
			}
		}
	}
	if s.kind == "" || s.kind == "rebate" || s.kind == "mitre" {
		s.kind = "housing"
	}
	if s.found && s.kind == "housing" {
		// A quarter of what receives it, never over a third (common practice,
		// no source).
		s.depth = b.tidy(s.on.part.Thickness.Size / 4)
	}
	return s, true
}

// tidy rounds a depth down to what a maker sets: half a millimetre, or 1/32.
func (b *builder) tidy(l unit.Length) unit.Length {
	if b.shop.Units == unit.Imperial {
		return l.RoundDown(unit.Inch32)
	}
	return l.RoundDown(unit.Millimetre / 2)
}

// onFlatOfShell says whether both edges of a part's end lie on flats of the
// case's panels. A wall that is not there yet (a bottom put in later) counts.
func (b *builder) onFlatOfShell(mid geom.Vec, dir geom.Dir, thick unit.Length) bool {
	d := unit.Length(thick / 2)
	a, c := mid, mid
	if dir.X != 0 {
		a.Z, c.Z = a.Z-d, c.Z+d
	} else {
		a.X, c.X = a.X-d, c.X+d
	}
	_, ok1 := b.spotAt(a, dir)
	_, ok2 := b.spotAt(c, dir)
	if ok1 && ok2 {
		return true
	}
	return len(b.stretches(mid, dir)) == 0
}

// stretch is a piece of flat wall, along x for floors and ceilings and along z
// for sides.
type stretch struct{ from, to unit.Length }

// stretches lists the flats of bent parts that lie in the plane of a wall and look
// in direction dir.
func (b *builder) stretches(p geom.Vec, dir geom.Dir) []stretch {
	var out []stretch
	for _, part := range b.parts {
		if part.Bent == nil {
			continue
		}
		for _, at := range part.Places {
			f := at.Frame
			for _, s := range flats(part) {
				n := geom.Dir{X: f.U.X*s.nx + f.V.X*s.ny, Y: f.U.Y*s.nx + f.V.Y*s.ny, Z: f.U.Z*s.nx + f.V.Z*s.ny}
				t := geom.Dir{X: f.U.X*s.tx + f.V.X*s.ty, Y: f.U.Y*s.tx + f.V.Y*s.ty, Z: f.U.Z*s.tx + f.V.Z*s.ty}
				from := f.At(s.a.X, s.a.Y, 0)
				if n.Dot(dir) > 1-1e-9 {
					from = from.Add(n.Times(part.Thickness.Size))
				} else if n.Dot(dir) > -1+1e-9 {
					continue
				}
				to := from.Add(t.Times(s.length))
				if dir.X != 0 && touches(from.X, p.X) {
					out = append(out, stretch{min(from.Z, to.Z), max(from.Z, to.Z)})
				}
				if dir.Z != 0 && touches(from.Z, p.Z) {
					out = append(out, stretch{min(from.X, to.X), max(from.X, to.X)})
				}
			}
		}
	}
	return out
}

// bendInTheWay says that an end would meet the shell at a bend, and how far
// it must move to the nearest flat.
func (b *builder) bendInTheWay(mid geom.Vec, dir geom.Dir, thick unit.Length, what, path string) {
	at := mid.X
	if dir.X != 0 {
		at = mid.Z
	}
	var best stretch
	var move unit.Length
	for i, r := range b.stretches(mid, dir) {
		m := max(r.from+thick/2-at, at-(r.to-thick/2))
		if i == 0 || m < move {
			best, move = r, m
		}
	}
	b.cannot(path, "%s would stand at a bend: the nearest flat runs from %s to %s and this lies at %s. Move it by %s at least.",
		what, b.show(best.from), b.show(best.to), b.show(at), b.show(max(move, 0)))
}

// sit fixes the end of a part, once it is there, at its seat: the housing,
// mortises or holes in both, and the joint. Along the end, the part's y runs
// from front to back as the seat does.
func (b *builder) sit(s seat, part *Part, end Edge) {
	if !s.found {
		return
	}
	other, length := s.on.part, part.Width.Size
	if s.kind == "housing" {
		q := s.q
		if other.Bent != nil { // open behind, where the part slides in
			q.Y = b.hull.rear()
		}
		b.trench(Housing, s.p, q, s.dir, s.thick, s.depth, "end of "+part.named())
		b.noteNominal(part.Material, s.thick)
		b.joint(Joint{Kind: "housing", A: part.Letter, B: other.Letter, Depth: s.depth})
		return
	}
	x, y, _, ok := onFace(other, s.on.place, s.p, s.dir)
	x2, y2, _, ok2 := onFace(other, s.on.place, s.q, s.dir)
	if !ok || !ok2 {
		return
	}
	line := butted{part: other, face: s.on.face, from: geom.P(min(x, x2), min(y, y2)), up: x == x2}
	b.hold(s.kind, butted{part: part, edge: end}, line, min(length, (x-x2).Abs()+(y-y2).Abs()), s.thick, part.Name)
}

// Nominal sizes of cutters and grooves in the units of a shop, and how much
// play makes a note: more than half a millimetre, and less than would be taken
// for another size. Cutters in millimetres come in every one of these sizes
// (common practice, no source).
var (
	nominalInches = []unit.Length{unit.Inch / 4, unit.Inch * 3 / 8, unit.Inch / 2, unit.Inch * 5 / 8, unit.Inch * 3 / 4, unit.Inch}
	nominalMetric = []unit.Length{
		4 * unit.Millimetre, 5 * unit.Millimetre, 6 * unit.Millimetre, 8 * unit.Millimetre, 9 * unit.Millimetre, 10 * unit.Millimetre, 12 * unit.Millimetre,
		15 * unit.Millimetre, 16 * unit.Millimetre, 18 * unit.Millimetre, 19 * unit.Millimetre, 20 * unit.Millimetre, 22 * unit.Millimetre, 25 * unit.Millimetre,
	}
)

const (
	slackLeast = unit.Millimetre / 2
	slackMost  = unit.Millimetre * 5 / 4
)

// nominalSlack is the play a panel would have in a groove of the nominal size
// of a shop that may be taken for it; none if a cutter fits it.
func nominalSlack(thick unit.Length, shop unit.System) (size, play unit.Length, ok bool) {
	sizes := nominalMetric
	if shop == unit.Imperial {
		sizes = nominalInches
	}
	for _, n := range sizes {
		if play = n - thick; play >= 0 {
			if play <= slackLeast || play > slackMost {
				break
			}
			return n, play, true
		}
	}
	return 0, 0, false
}

// noteNominal warns once for each material that grooves and housings for it
// are as wide as it is, not as its nominal size.
func (b *builder) noteNominal(material string, thick unit.Length) {
	n, play, ok := nominalSlack(thick, b.shop.Units)
	if _, panel := b.shop.Panels[material]; !ok || !panel {
		return
	}
	f := finding.Finding{
		ID: "nominal-groove", Level: finding.Note, Place: b.shop.StockCalled(material), Doc: "shop", Path: "panels." + material,
		Says: fmt.Sprintf("A groove of %s would give %s, which measures %s, %s of play",
			nominalName(n, b.shop.Units), b.shop.StockCalled(material), b.caliper(thick), b.caliper(play)),
		Figure: b.caliper(play), Limit: b.caliper(slackLeast),
		Advice: fmt.Sprintf("Cut the grooves and housings for it to %s, not with a nominal cutter; try on an offcut.", b.caliper(thick)),
		Source: "arithmetic",
	}
	b.once(f)
}

// caliper is a size as the caliper of the shop reads it: hundredths of a
// millimetre, or thousandths of an inch.
func (b *builder) caliper(l unit.Length) string {
	if b.shop.Units == unit.Imperial {
		return fmt.Sprintf("%.3f in", l.In())
	}
	return fmt.Sprintf("%.2f mm", l.MM())
}

// nominalName is how a shop calls a cutter.
func nominalName(l unit.Length, shop unit.System) string {
	return l.Format(shop.Leading())
}
