package fit

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/unit"
)

// hingeTurns is how far the side screw of a cup hinge moves a door from where
// it was planned (common practice, no source).
const hingeTurns = 2 * unit.Millimetre

// keepPair sets a pair of doors that is cut into the opening. Leaves are moved
// by their hinges, so what is over is shared by the gaps at both sides and the
// one where they meet; what is short all along a side comes off where they
// meet, the edges with the hinges are planed only for what tapers.
func (f *fitting) keepPair(fr *Front, p build.Part) {
	places := [2]string{f.op.Name + " left", f.op.Name + " right"}
	leaf := [2]build.Part{p, p}
	if q, ok := f.partAt(build.RoleDoor, "", places[1]); ok {
		leaf[1] = q
	}
	left, right := cutFront(leaf[0], places[0]), cutFront(leaf[1], places[1])
	wl, wr := left.Bounds().Width(), right.Bounds().Width()
	h := max(left.Bounds().Height(), right.Bounds().Height())
	rl, rr := corners(left), corners(right)
	radius := [4]unit.Length{
		opening.TopLeft: rl[opening.TopLeft], opening.BottomLeft: rl[opening.BottomLeft],
		opening.TopRight: rr[opening.TopRight], opening.BottomRight: rr[opening.BottomRight],
	}
	who := leaf[0].Letter
	if leaf[1].Letter != who {
		who += " and " + leaf[1].Letter
	}
	fr.Width, fr.Height, fr.Corners = wl, h, radius

	w := wl + fr.Gap + wr
	x, y := f.set(w, h, f.out.Shape.Setback(fr.Gap))
	inL, inR := f.inward(fr, opening.Left, x, y, h), f.inward(fr, opening.Right, x+w, y, h)
	wide := f.gaps(fr, x+inL, y, w-inL-inR, h)
	apart := fr.Gap - inL - inR
	fr.Between = &Gap{Edge: "middle", Ends: [2]unit.Length{apart, apart}}
	if f.trim(fr.Between, fr.Gap) > seen(fr.Gap) {
		wide = append(wide, f.show(fr.Between.Ends[0])+" where they meet")
	}

	in, meet := planes(fr.Gaps), fr.Between.Plane[0]
	var do []string
	for i, edge := range [4]string{"the left edge of the left door", "the right edge of the right door", "their lower edges, across both", "their upper edges, across both"} {
		if in[i] > 0 {
			do = append(do, fmt.Sprintf("Doors %s are cut. %s %s: %s.", who, planeWord(in[i]), edge, f.amounts(i, fr.Gaps[i].Plane)))
		}
	}
	if meet > 0 {
		do = append(do, fmt.Sprintf("Doors %s are cut. Hang them, then %s the edges where they meet: %s off both together, along the whole length.", who, strings.ToLower(planeWord(meet)), f.show(meet)))
	}
	do = append(do, f.throughBands(leaf[0].Letter, leaf[0], places[0], [4]unit.Length{in[0], meet / 2, in[2], in[3]})...)
	do = append(do, f.throughBands(leaf[1].Letter, leaf[1], places[1], [4]unit.Length{meet / 2, in[1], in[2], in[3]})...)
	do = append(do, f.rounded(fr, radius)...)
	f.judge(fr, "the pair of doors "+who+", which is cut,", "Doors "+who+" are cut", wide, do)
	if fr.Verdict != ToRemake {
		f.shimHinges(fr)
	}
}

// inward is how far a leaf moves into the opening, to have its gap where the
// side stands in least; less than 0, out, where there is room for more than the
// three gaps.
func (f *fitting) inward(fr *Front, edge int, x, y, h unit.Length) unit.Length {
	least, most := f.margins(edge, x, y, h)
	back := f.out.Shape.Setback(fr.Gap)[edge]
	switch {
	case most < back: // short all along
		return back - most
	case least > back: // over all along: a third of it to where they meet
		return (back - least) / 3
	}
	return 0
}

// margins are the least and the most that an upright edge lies inside.
func (f *fitting) margins(edge int, x, y, h unit.Length) (least, most unit.Length) {
	a, b := f.out.Shape.Margin(edge, geom.P(x, y)), f.out.Shape.Margin(edge, geom.P(x, y+h))
	return min(a, b), max(a, b)
}

// shimHinges sets plates out where the hinges' screws do not reach.
func (f *fitting) shimHinges(fr *Front) {
	for i, name := range edgeNames[:2] {
		by := (min(fr.Gaps[i].Ends[0], fr.Gaps[i].Ends[1]) - fr.Gap).Round(f.step())
		if by <= hingeTurns {
			continue
		}
		if fr.Verdict == AsIs {
			fr.Verdict = ToShim
		}
		f.out.Do = append(f.out.Do, fmt.Sprintf("The gap at the %s is %s wider than planned. Shim the hinge plates there out by it, so that the three gaps come out even.", name, f.show(by)))
	}
}
