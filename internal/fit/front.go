package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/unit"
)

// What is done with a front that is cut already; common practice, no source.
const (
	planeBy  = 3 * unit.Millimetre      // more than this is sawn off first
	seenOver = unit.Millimetre / 2      // a gap wider than wanted by this much is seen, or by half the gap if that is more
	cornerBy = unit.Millimetre * 3 / 10 // a corner fuller than this is rounded on
)

var edgeNames = [4]string{"left", "right", "bottom", "top"}

// front fits the front to the figure of the opening, or says what becomes of
// one that is cut.
func (f *fitting) front() {
	p, ok := f.part(f.op.Front)
	if !ok {
		return
	}
	b := p.Outline.Bounds()
	w, h := b.Width(), b.Height()
	if p.Role == build.RoleDoor {
		w, h = h, w
	}
	fr := &Front{Letter: p.Letter, Verdict: ToMake, Inset: f.op.Inset, Width: w, Height: h, Gap: f.op.Gap, Corners: f.out.Shape.FrontRadius(f.op.Gap)}
	f.out.Front = fr
	kept := slices.Contains(f.op.Kept, p.Letter)
	if !slices.ContainsFunc(p.Places, func(at build.Place) bool { return at.Name == f.op.Name }) {
		f.pair(fr, p)
		return
	}
	switch {
	case !fr.Inset:
		if kept {
			fr.Verdict = AsIs
		}
		return
	case kept:
		f.keepFront(fr, p)
		return
	}
	s := f.out.Shape
	o, ok := s.Front(fr.Gap)
	if !ok {
		return
	}
	fr.Outline = o
	f.even(fr)
}

// even are the gaps round a front that is made to its opening.
func (f *fitting) even(fr *Front) {
	back := f.out.Shape.Setback(fr.Gap)
	for i, name := range edgeNames {
		fr.Gaps = append(fr.Gaps, Gap{Edge: name, Ends: [2]unit.Length{back[i], back[i]}})
	}
}

// lies is how a front lies in an opening: fronts of one letter may be turned, or
// each other's mirror image.
func lies(p build.Part, name string) (geom.Frame, bool) {
	i := slices.IndexFunc(p.Places, func(at build.Place) bool { return at.Name == name })
	if i < 0 {
		return geom.Frame{}, false
	}
	return p.Places[i].Frame, true
}

// cutFront is the outline of a front that is cut, seen from the front as it
// lies in an opening, its bounds beginning at 0, 0.
func cutFront(p build.Part, name string) geom.Outline {
	o := p.Outline
	if at, ok := lies(p, name); ok {
		o = at.Place(o, p.Width.Size)
		if at.U.X*at.V.Z-at.U.Z*at.V.X < 0 { // seen from behind
			o = o.MirrorY(0)
		}
		o = o.Rotate(unit.Angle(math.Atan2(at.U.Z, at.U.X)))
	}
	return moved(o)
}

// corners are the radii of the corners of an outline that begins at 0, 0.
func corners(o geom.Outline) (radius [4]unit.Length) {
	b := o.Bounds()
	w, h := b.Width(), b.Height()
	// The curve at a corner begins on both its edges at the radius from it.
	corner := [4]geom.Point{opening.TopLeft: geom.P(0, h), opening.TopRight: geom.P(w, h), opening.BottomRight: geom.P(w, 0), opening.BottomLeft: geom.P(0, 0)}
	for i, c := range corner {
		for k, v := range o {
			if v.Bulge == 0 {
				continue
			}
			next := o[(k+1)%len(o)]
			dx, dy := (v.X - next.X).Abs(), (v.Y - next.Y).Abs()
			near := (v.X-c.X).Abs()+(next.X-c.X).Abs() <= dx+unit.Micrometre && (v.Y-c.Y).Abs()+(next.Y-c.Y).Abs() <= dy+unit.Micrometre
			if near {
				radius[i] = max(radius[i], dx, dy)
			}
		}
	}
	return radius
}

// keepFront sets a front that is cut into the opening: even at both sides,
// the gap below, and says what to plane where.
func (f *fitting) keepFront(fr *Front, p build.Part) {
	o := cutFront(p, f.op.Name)
	w, h, radius := o.Bounds().Width(), o.Bounds().Height(), corners(o)
	x, y := f.set(w, h, f.out.Shape.Setback(fr.Gap))
	fr.Width, fr.Height, fr.Corners = w, h, radius
	wide := f.gaps(fr, x, y, w, h)
	round := f.rounded(&fr.Corners, "Front "+fr.Letter+" is cut. Round its", fr.Gap, allCorners)
	fr.Outline = f.planed(x, y, w, h, fr.Gaps, fr.Corners)
	in := planes(fr.Gaps)
	var do []string
	for i, name := range edgeNames {
		if in[i] > 0 {
			do = append(do, fmt.Sprintf("Front %s is cut. %s its %s edge: %s.", fr.Letter, planeWord(in[i]), name, f.amounts(i, fr.Gaps[i].Plane)))
		}
	}
	do = append(do, f.throughBands(fr.Letter, p, f.op.Name, in)...)
	f.judge(fr, "front "+fr.Letter+", which is cut,", "Front "+fr.Letter+" is cut", wide, append(do, round...))
}

// gaps are those round a front of w × h whose lower left corner is set at x, y,
// after what is planed off; wide are those that would be seen.
func (f *fitting) gaps(fr *Front, x, y, w, h unit.Length) (wide []string) {
	s := f.out.Shape
	back := s.Setback(fr.Gap)
	ends := [4][2]geom.Point{
		opening.Left: {geom.P(x, y), geom.P(x, y+h)}, opening.Right: {geom.P(x+w, y), geom.P(x+w, y+h)},
		opening.Bottom: {geom.P(x, y), geom.P(x+w, y)}, opening.Top: {geom.P(x, y+h), geom.P(x+w, y+h)},
	}
	for i, name := range edgeNames {
		g := Gap{Edge: name}
		for k, at := range ends[i] {
			g.Ends[k] = s.Margin(i, at)
		}
		if most := f.trim(&g, back[i]); most > seen(fr.Gap) {
			wide = append(wide, fmt.Sprintf("%s at the %s", f.show(max(g.Ends[0], g.Ends[1])), name))
		}
		fr.Gaps = append(fr.Gaps, g)
	}
	return wide
}

// trim planes what a gap is short of, and gives by how much it is too wide.
func (f *fitting) trim(g *Gap, wanted unit.Length) unit.Length {
	for k := range g.Ends {
		if short := wanted - g.Ends[k]; short > tenth {
			g.Plane[k] = short.RoundUp(f.step())
			g.Ends[k] += g.Plane[k]
		}
		g.Ends[k] = g.Ends[k].Round(f.step())
	}
	return max(g.Ends[0], g.Ends[1]) - wanted
}

// seen is by how much a gap may be wider than wanted before it is seen.
func seen(gap unit.Length) unit.Length { return max(seenOver, gap/2) }

// planes is the most that comes off each edge.
func planes(all []Gap) (in [4]unit.Length) {
	for i, g := range all {
		in[i] = max(g.Plane[0], g.Plane[1])
	}
	return in
}

// The corners of a front, and those of the leaves of a pair.
var (
	cornerNames = [4]string{opening.TopLeft: "top left", opening.TopRight: "top right", opening.BottomRight: "bottom right", opening.BottomLeft: "bottom left"}
	allCorners  = []int{opening.TopLeft, opening.TopRight, opening.BottomRight, opening.BottomLeft}
	leafCorners = [2][]int{{opening.TopLeft, opening.BottomLeft}, {opening.TopRight, opening.BottomRight}}
)

// rounded rounds those corners of a cut front that are too full for the
// opening's, and says which.
func (f *fitting) rounded(radius *[4]unit.Length, round string, gap unit.Length, which []int) (do []string) {
	for _, i := range which {
		if want := f.out.Shape.Radius[i] - gap; want-radius[i] > cornerBy {
			do = append(do, fmt.Sprintf("%s %s corner on, from R %s to R %s.", round, cornerNames[i], f.show(radius[i]), f.show(want)))
			radius[i] = want
		}
	}
	return do
}

// judge says what becomes of fronts that are cut: nothing where there is
// nothing to do, planed where do says how, of no use where gaps are too wide.
func (f *fitting) judge(fr *Front, who, are string, wide, do []string) {
	switch {
	case len(wide) > 0: // what to plane is known when the lip is on
		fr.Verdict = ToRemake
		do = []string{fmt.Sprintf("%s and too small here: gaps of %s, wanted %s. Glue a lip on and fit it again, or make a new one.", are, strings.Join(wide, ", "), f.show(fr.Gap))}
		f.find(finding.Finding{
			ID: "fit-front-small", Level: finding.Stop,
			Says:   fmt.Sprintf("%s: %s leaves gaps of %s; %s are wanted.", f.op.Name, who, strings.Join(wide, ", "), f.show(fr.Gap)),
			Figure: wide[0], Limit: f.show(fr.Gap + seen(fr.Gap)), Source: "common practice, no source",
			Advice: "Glue a lip on and fit it again, or use it elsewhere and make a new one: take it out of the record's cut parts.",
		})
	case len(do) > 0:
		fr.Verdict = ToPlane
		in := planes(fr.Gaps)
		most := max(in[0], in[1], in[2], in[3])
		if fr.Between != nil {
			most = max(most, fr.Between.Plane[0], fr.Between.Plane[1])
		}
		f.find(finding.Finding{
			ID: "fit-front-plane", Level: finding.Care,
			Says:   fmt.Sprintf("%s: %s does not go in with its gap of %s as it is.", f.op.Name, who, f.show(fr.Gap)),
			Figure: f.show(most), Source: "the opening as measured",
			Advice: strings.Join(do, " "),
		})
	default:
		fr.Verdict = AsIs
	}
	f.out.Do = append(f.out.Do, do...)
}

// set places a front of w × h: as far from the left as from the right, and
// with the gap below; what is left over in height is shared.
func (f *fitting) set(w, h unit.Length, back [4]unit.Length) (x, y unit.Length) {
	s := f.out.Shape
	y = back[opening.Bottom]
	least := func(edge int, a, b geom.Point) unit.Length { return min(s.Margin(edge, a), s.Margin(edge, b)) }
	for range 3 {
		left := least(opening.Left, geom.P(x, y), geom.P(x, y+h))
		right := least(opening.Right, geom.P(x+w, y), geom.P(x+w, y+h))
		x += (right - left) / 2
	}
	if over := least(opening.Top, geom.P(x, y+h), geom.P(x+w, y+h)) - back[opening.Top]; over > 0 {
		y += over / 2
	}
	return x, y
}

// planed is the outline of a cut front once its edges are planed.
func (f *fitting) planed(x, y, w, h unit.Length, g []Gap, r [4]unit.Length) geom.Outline {
	p := func(edge, end int) unit.Length { return g[edge].Plane[end] }
	o := geom.Outline{
		{Point: geom.P(x+p(opening.Left, 0), y+p(opening.Bottom, 0))},
		{Point: geom.P(x+w-p(opening.Right, 0), y+p(opening.Bottom, 1))},
		{Point: geom.P(x+w-p(opening.Right, 1), y+h-p(opening.Top, 1))},
		{Point: geom.P(x+p(opening.Left, 1), y+h-p(opening.Top, 0))},
	}
	out, err := o.RoundCorners([]unit.Length{r[opening.BottomLeft], r[opening.BottomRight], r[opening.TopRight], r[opening.TopLeft]})
	if err != nil {
		return o
	}
	return out
}

func planeWord(by unit.Length) string {
	if by > planeBy {
		return "Saw and plane"
	}
	return "Plane"
}

// amounts says how much comes off at both ends of an edge.
func (f *fitting) amounts(edge int, by [2]unit.Length) string {
	first, second := "at the bottom", "at the top"
	if edge == opening.Bottom || edge == opening.Top {
		first, second = "at the left", "at the right"
	}
	if by[0] == by[1] {
		return f.show(by[0]) + " along its whole length"
	}
	return fmt.Sprintf("%s %s, %s %s", f.show(by[0]), first, f.show(by[1]), second)
}

// edgesIn is which edge of a front lies at each side of an opening.
func edgesIn(p build.Part, name string) [4]build.Edge {
	edges := [4]build.Edge{opening.Left: build.EdgeX0, opening.Right: build.EdgeX1, opening.Bottom: build.EdgeY0, opening.Top: build.EdgeY1}
	at, ok := lies(p, name)
	if !ok {
		return edges
	}
	v := at.V
	if at.Mirror { // y counts from the other edge
		v = v.Neg()
	}
	for _, e := range []struct {
		edge build.Edge
		out  geom.Dir // of the front
	}{{build.EdgeX0, at.U.Neg()}, {build.EdgeX1, at.U}, {build.EdgeY0, v.Neg()}, {build.EdgeY1, v}} {
		switch {
		case e.out.X < -0.5:
			edges[opening.Left] = e.edge
		case e.out.X > 0.5:
			edges[opening.Right] = e.edge
		case e.out.Z < -0.5:
			edges[opening.Bottom] = e.edge
		case e.out.Z > 0.5:
			edges[opening.Top] = e.edge
		}
	}
	return edges
}

// throughBands warns where planing goes through an edge band of a part at a
// place.
func (f *fitting) throughBands(letter string, p build.Part, place string, in [4]unit.Length) (do []string) {
	edges := edgesIn(p, place)
	for i, name := range edgeNames {
		for _, b := range p.Bands {
			if b.Edge == edges[i] && in[i] >= b.Thickness {
				do = append(do, fmt.Sprintf("Planing %s off goes through the band of %s at the %s of front %s: put a new band on afterwards, and plane by its thickness more.", f.show(in[i]), f.show(b.Thickness), name, letter))
			}
		}
	}
	return do
}
