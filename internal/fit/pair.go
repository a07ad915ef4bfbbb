package fit

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/unit"
)

// hingeTurns is how far the side screw of a cup hinge moves a door from where
// it was planned (common practice, no source).
const hingeTurns = 2 * unit.Millimetre

// pair fits a pair of doors, of which p is the left one: each leaf to its own
// part of the opening, or to what one that is cut leaves of it.
func (f *fitting) pair(fr *Front, p build.Part) {
	leaf := [2]build.Part{p, p}
	if q, ok := f.partAt(build.RoleDoor, "", f.op.Name+" right"); ok {
		leaf[1] = q
	}
	for i, p := range leaf {
		o := cutFront(p, f.leafAt(i))
		b := o.Bounds()
		l := Leaf{Side: edgeNames[i], Letter: p.Letter, Width: b.Width(), Height: b.Height(), Corners: corners(o)}
		if at, ok := lies(p, f.leafAt(i)); ok {
			b := at.Place(p.Outline, p.Width.Size).Bounds()
			from, to := at.At(b.Min.X, b.Min.Y, 0), at.At(b.Max.X, b.Max.Y, 0)
			l.Outline = o.Translate(geom.P(min(from.X, to.X)-f.op.X, min(from.Z, to.Z)-f.op.Z))
		}
		fr.Leaves = append(fr.Leaves, l)
	}
	left, right := slices.Contains(f.op.Kept, leaf[0].Letter), slices.Contains(f.op.Kept, leaf[1].Letter)
	switch {
	case !fr.Inset:
		if left && right {
			fr.Verdict = AsIs
		}
	case left && right:
		f.keepPair(fr, leaf)
	case left:
		f.keepLeaf(fr, leaf[0], opening.Left)
	case right:
		f.keepLeaf(fr, leaf[1], opening.Right)
	default:
		f.makePair(fr)
	}
	for i, cut := range [2]bool{left, right} {
		fr.Leaves[i].Verdict = ToMake
		if cut {
			fr.Leaves[i].Verdict = fr.Verdict
		}
	}
}

// keepLeaf sets the leaf of a pair that is cut into its side of the opening,
// with the gap where that stands in least, and says what to plane off it where;
// the other is made to what it leaves.
func (f *fitting) keepLeaf(fr *Front, p build.Part, side int) {
	l, other := &fr.Leaves[side], &fr.Leaves[1-side]
	made, at, ok := f.out.Shape.Beside(fr.Gap, side, l.Width, l.Height)
	if !ok {
		return
	}
	who := "Door " + l.Letter + " at the " + l.Side + " is cut"
	do := f.rounded(&l.Corners, who+". Round its", fr.Gap, leafCorners[side])
	wide := f.gaps(fr, at.X, at.Y, l.Width, l.Height)
	back, inner := f.out.Shape.Setback(fr.Gap), 1-side
	// Where they meet, and round the other leaf, the gap is even.
	wide = slices.DeleteFunc(wide, func(w string) bool { return strings.HasSuffix(w, " at the "+edgeNames[inner]) })
	fr.Gaps[inner] = Gap{Edge: edgeNames[inner], Ends: [2]unit.Length{back[inner], back[inner]}}
	fr.Between = &Gap{Edge: "middle", Ends: [2]unit.Length{fr.Gap, fr.Gap}}
	in := planes(fr.Gaps)
	l.Outline = f.planed(at.X, at.Y, l.Width, l.Height, fr.Gaps, l.Corners)
	other.Outline, other.Corners = made, corners(moved(made))
	for i, edge := range edgeNames {
		if in[i] > 0 {
			do = append(do, fmt.Sprintf("%s. %s its %s edge: %s.", who, planeWord(in[i]), edge, f.amounts(i, fr.Gaps[i].Plane)))
		}
	}
	do = append(do, f.throughBands(l.Letter, p, f.leafAt(side), in)...)
	for i, c := range append(slices.Clone(leafCorners[0]), leafCorners[1]...) {
		fr.Corners[c] = fr.Leaves[i/2].Corners[c]
	}
	f.judge(fr, "door "+l.Letter+" at the "+l.Side+", which is cut,", who, wide, do)
	f.out.Do = append(f.out.Do, fmt.Sprintf("Cut the %s leaf %s × %s, wide and high, to what the cut one leaves, and plane it to its template. Hang both, and plane where they meet last.",
		other.Side, f.show(other.Width), f.show(other.Height)))
}

// moved is an outline whose bounds begin at 0, 0.
func moved(o geom.Outline) geom.Outline {
	b := o.Bounds()
	return o.Translate(geom.P(-b.Min.X, -b.Min.Y))
}

// leafAt is the place of the left or the right leaf.
func (f *fitting) leafAt(i int) string { return f.op.Name + " " + edgeNames[i] }

// makePair gives a pair that is not cut the even gap all round and where it
// meets.
func (f *fitting) makePair(fr *Front) {
	leaves, ok := f.out.Shape.Pair(fr.Gap)
	if !ok {
		return
	}
	f.even(fr)
	fr.Between = &Gap{Edge: "middle", Ends: [2]unit.Length{fr.Gap, fr.Gap}}
	r := f.out.Shape.FrontRadius(fr.Gap)
	fr.Leaves[0].Corners = [4]unit.Length{opening.TopLeft: r[opening.TopLeft], opening.BottomLeft: r[opening.BottomLeft]}
	fr.Leaves[1].Corners = [4]unit.Length{opening.TopRight: r[opening.TopRight], opening.BottomRight: r[opening.BottomRight]}
	for i, o := range leaves {
		fr.Leaves[i].Outline = o
	}
	if !f.out.Measured {
		return
	}
	if f.out.Shape.Squared {
		f.out.Do = append(f.out.Do, "Hang the pair, then plane both leaves to the gap, where they meet last.")
		return
	}
	left, right := fr.Leaves[0], fr.Leaves[1]
	f.out.Do = append(f.out.Do, fmt.Sprintf(
		"Cut the left leaf %s × %s and the right one %s × %s, wide and high, and plane each to its template: the left one follows the heights at the left and in the middle, where the leaves meet, the right one those in the middle and at the right; each takes half of what the widths taper. Hang them, and plane where they meet last.",
		f.show(left.Width), f.show(left.Height), f.show(right.Width), f.show(right.Height)))
}

// keepPair sets a pair of doors that is cut into the opening. Leaves are moved
// by their hinges, so what is over is shared by the gaps at both sides and the
// one where they meet; what is short all along a side comes off where they
// meet, the edges with the hinges are planed only for what tapers.
func (f *fitting) keepPair(fr *Front, leaf [2]build.Part) {
	l, r := &fr.Leaves[0], &fr.Leaves[1]
	wl, wr := l.Width, r.Width
	h := max(l.Height, r.Height)
	who := leaf[0].Letter
	if leaf[1].Letter != who {
		who += " and " + leaf[1].Letter
	}
	var round []string
	for i := range fr.Leaves {
		l := &fr.Leaves[i]
		round = append(round, f.rounded(&l.Corners, "Doors "+who+" are cut. Round the "+l.Side+" one's", fr.Gap, leafCorners[i])...)
		for _, c := range leafCorners[i] {
			fr.Corners[c] = l.Corners[c]
		}
	}
	fr.Width, fr.Height = wl, h

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
	f.planedLeaves(fr, x+inL, x+w-inR, y, h)
	var do []string
	for i, edge := range [4]string{"the left edge of the left door", "the right edge of the right door", "their lower edges, across both", "their upper edges, across both"} {
		if in[i] > 0 {
			do = append(do, fmt.Sprintf("Doors %s are cut. %s %s: %s.", who, planeWord(in[i]), edge, f.amounts(i, fr.Gaps[i].Plane)))
		}
	}
	if meet > 0 {
		do = append(do, fmt.Sprintf("Doors %s are cut. Hang them, then %s the edges where they meet: %s off both together, along the whole length.", who, strings.ToLower(planeWord(meet)), f.show(meet)))
	}
	do = append(do, f.throughBands(leaf[0].Letter, leaf[0], f.leafAt(0), [4]unit.Length{in[0], meet / 2, in[2], in[3]})...)
	do = append(do, f.throughBands(leaf[1].Letter, leaf[1], f.leafAt(1), [4]unit.Length{meet / 2, in[1], in[2], in[3]})...)
	do = append(do, round...)
	f.judge(fr, "the pair of doors "+who+", which is cut,", "Doors "+who+" are cut", wide, do)
	if fr.Verdict != ToRemake {
		f.shimHinges(fr)
	}
}

// planedLeaves are the outlines of a pair that is cut, set between from and to,
// once it is planed: above and below straight across both, and half of what
// comes off where they meet off each.
func (f *fitting) planedLeaves(fr *Front, from, to, y, h unit.Length) {
	for i := range fr.Leaves {
		l := &fr.Leaves[i]
		g, x, r := slices.Clone(fr.Gaps), from, l.Corners
		inner := opening.Right
		if i == 1 {
			inner, x = opening.Left, to-l.Width
		}
		for _, edge := range []int{opening.Bottom, opening.Top} {
			g[edge].Plane[1-i] = (fr.Gaps[edge].Plane[0] + fr.Gaps[edge].Plane[1]) / 2
		}
		meet := fr.Between.Plane[0] / 2
		g[inner].Plane = [2]unit.Length{meet, meet}
		l.Outline = f.planed(x, y, l.Width, h, g, r)
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
