package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// PartView is the drawing of one part, flat, its reference face up: outline,
// holes, grooves and kerfs, what is worked from the other face dashed, bands
// as a heavy line along their edge, edges named. Places are measured from the
// near end and from the lower long edge, each by itself.
func PartView(p build.Part, o Options) View {
	l, w := p.Length.Size, p.Width.Size
	outline := OutlinePath(outlineOf(p))
	v := View{Title: p.Letter + "  " + p.Name, Items: []Item{Fill{White, []Path{outline}}}}
	xs, ys := []unit.Length{}, []unit.Length{}
	for _, f := range p.Features {
		v.Items = append(v.Items, featureItems(p, f)...)
		if f.On != "" {
			continue
		}
		x, y := featureStops(f)
		xs, ys = append(xs, x...), append(ys, y...)
	}
	var kerfs []Path
	for _, g := range p.Kerfs {
		for _, at := range g.Positions {
			kerfs = append(kerfs, pathOf([]Pt{{at.MM(), 0}, {at.MM(), w.MM()}}, false))
		}
		v.Labels = append(v.Labels, Label{
			At: Pt{(g.Start + g.Zone/2).MM(), w.MM() / 2}, Turn: 90, Knock: true,
			Variants: [][]string{{fmt.Sprintf("%d kerfs", len(g.Positions))}}, Size: SizeSmall,
		})
		xs = append(xs, g.Start, g.Start+g.Zone)
	}
	if len(kerfs) > 0 {
		v.Items = append(v.Items, Stroke{PenThin, kerfs})
	}
	v.Items = append(v.Items, Stroke{PenOutline, []Path{outline}})
	if o.Dims {
		v.Ticks = []Ordinates{o.ordinates(Below, xs, l), o.ordinates(LeftOf, ys, w)}
		v.Chains = []Chain{ChainOf(Below, 0, l), ChainOf(LeftOf, 0, w)}
	}
	for _, e := range []struct {
		edge build.Edge
		side Side
	}{{build.EdgeY0, Below}, {build.EdgeX1, RightOf}, {build.EdgeY1, Above}, {build.EdgeX0, LeftOf}} {
		mark := EdgeMark{Side: e.side, Says: string(e.edge)}
		for _, b := range p.Bands {
			if b.Edge == e.edge {
				mark.Band = true
				mark.Says += ", band " + b.Thickness.Format(unit.TenthMM)
			}
		}
		v.Edges = append(v.Edges, mark)
	}
	v.Labels = append(v.Labels, Label{At: Pt{l.MM() / 2, w.MM() / 2}, Room: Rect{0, 0, l.MM(), w.MM()}, Size: SizeLarge, Weight: Bold, Knock: true, Variants: [][]string{{p.Letter}, {""}}})
	if p.Grain != build.GrainFree {
		from, to := longestFlat(p)
		g := GrainMark{At: Pt{(from.MM() + 3*to.MM()) / 4, w.MM() / 2}, Way: Pt{1, 0}, Most: (to - from).MM() * 0.35}
		if p.Grain == build.GrainWidth {
			g.Way, g.Most = Pt{0, 1}, w.MM()*0.4
		}
		v.Grains = append(v.Grains, g)
	}
	return v
}

// ordinates are the places between the ends, each measured from zero.
func (o Options) ordinates(side Side, stops []unit.Length, whole unit.Length) Ordinates {
	out := Ordinates{Side: side, Spare: true}
	stops = slices.Clone(stops)
	slices.Sort(stops)
	for _, s := range slices.Compact(stops) {
		if s > 0 && s < whole {
			master, _ := o.Size(s)
			out.Stops = append(out.Stops, Ordinate{s.MM(), master})
		}
	}
	return out
}

// longestFlat is the longest run of the part without kerfs.
func longestFlat(p build.Part) (from, to unit.Length) {
	at := unit.Length(0)
	for _, g := range append(slices.Clone(p.Kerfs), build.KerfGroup{Start: p.Length.Size}) {
		if g.Start-at > to-from {
			from, to = at, g.Start
		}
		at = max(at, g.Start+g.Zone)
	}
	return from, to
}

// featureItems draws one feature on the flat part.
func featureItems(p build.Part, f build.Feature) []Item {
	if f.On != "" {
		return []Item{Stroke{PenHidden, []Path{edgeFeature(p, f)}}}
	}
	path := OutlinePath(f.Region)
	pen := PenMedium
	if f.Face == build.FaceOther && !f.Through {
		pen = PenHidden
	}
	out := []Item{Stroke{pen, []Path{path}}}
	if pen == PenMedium && f.Kind != build.Hole && f.Kind != build.Notch {
		out = append([]Item{Fill{Pale, []Path{path}}}, out...)
	}
	if f.Kind == build.Hole {
		r, _ := bounds([]Path{path})
		c, d := Pt{r.X + r.W/2, r.Y + r.H/2}, r.W*0.9
		out = append(out, Segment(PenDimension, c.Add(-d, 0), c.Add(d, 0)), Segment(PenDimension, c.Add(0, -d), c.Add(0, d)))
	}
	return out
}

// edgeFeature is the outline, seen from the reference face, of what is worked
// into an edge.
func edgeFeature(p build.Part, f build.Feature) Path {
	r, _ := bounds([]Path{OutlinePath(f.Region)})
	d, l, w := f.Depth.MM(), p.Length.Size.MM(), p.Width.Size.MM()
	switch f.On {
	case build.EdgeY1:
		return RectPath(Rect{r.X, w - d, r.W, d})
	case build.EdgeX0:
		return RectPath(Rect{0, r.X, d, r.W})
	case build.EdgeX1:
		return RectPath(Rect{l - d, r.X, d, r.W})
	}
	return RectPath(Rect{r.X, 0, r.W, d})
}

// featureStops are the places to which a feature is dimensioned: the centre
// of a hole, both sides of anything else.
func featureStops(f build.Feature) (xs, ys []unit.Length) {
	if len(f.Region) == 0 {
		return nil, nil
	}
	x0, x1, y0, y1 := f.Region[0].X, f.Region[0].X, f.Region[0].Y, f.Region[0].Y
	for _, v := range f.Region[1:] {
		x0, x1, y0, y1 = min(x0, v.X), max(x1, v.X), min(y0, v.Y), max(y1, v.Y)
	}
	if f.Kind == build.Hole {
		// The corners of a round outline may all lie on one diameter.
		r, _ := bounds([]Path{OutlinePath(f.Region)})
		return []unit.Length{unit.MM(r.X + r.W/2).Round(unit.Micrometre)}, []unit.Length{unit.MM(r.Y + r.H/2).Round(unit.Micrometre)}
	}
	return []unit.Length{x0, x1}, []unit.Length{y0, y1}
}

// KerfStrip is a strip of the part's near long edge with the kerfs of one
// bend, or of all with bend < 0, each with its place from the near end.
func KerfStrip(p build.Part, bend int, o Options) View {
	lo, hi := unit.Length(math.MaxInt64), unit.Length(0)
	var stops []Ordinate
	var lines, centres []Path
	high := min(p.Width.Size.MM(), 40)
	groups := slices.Clone(p.Kerfs)
	slices.SortFunc(groups, func(a, b build.KerfGroup) int { return int(sign(a.Start.MM() - b.Start.MM())) })
	n := 0
	for _, g := range groups {
		if bend >= 0 && g.Bend != bend {
			continue
		}
		lo, hi = min(lo, g.Start), max(hi, g.Start+g.Zone)
		for _, at := range g.Positions {
			n++
			master := o.place(at)
			stops = append(stops, Ordinate{at.MM(), fmt.Sprintf("%d   %s", n, master)})
			lines = append(lines, pathOf([]Pt{{at.MM(), 0}, {at.MM(), high}}, false))
		}
		for _, at := range []unit.Length{g.Start, g.Start + g.Zone} {
			centres = append(centres, pathOf([]Pt{{at.MM(), -high * 0.08}, {at.MM(), high * 1.08}}, false))
		}
	}
	v := View{Title: "Kerfs of " + p.Letter + ", from the near end"}
	if n == 0 {
		return v
	}
	pad := unit.MM(high * 0.6)
	lo, hi = max(0, lo-pad), min(p.Length.Size, hi+pad)
	v.Items = []Item{
		Stroke{PenMedium, []Path{pathOf([]Pt{{lo.MM(), 0}, {hi.MM(), 0}}, false), pathOf([]Pt{{lo.MM(), high}, {hi.MM(), high}}, false)}},
		Stroke{PenMedium, lines},
		Stroke{PenCentre, centres},
	}
	for _, end := range []struct{ at, whole unit.Length }{{lo, 0}, {hi, p.Length.Size}} {
		pen := PenGhost
		if end.at == end.whole {
			pen = PenOutline
		}
		v.Items = append(v.Items, Segment(pen, Pt{end.at.MM(), 0}, Pt{end.at.MM(), high}))
	}
	v.Ticks = []Ordinates{{Side: Below, Stops: stops}}
	if o.Dims {
		v.Chains = []Chain{{Side: Above}}
		for _, g := range groups {
			if bend < 0 || g.Bend == bend {
				v.Chains[0].Dims = append(v.Chains[0].Dims, Dim{From: g.Start.MM(), To: (g.Start + g.Zone).MM(), Size: g.Zone})
			}
		}
	}
	return v
}

// BendSection is the panel cut across the kerfs of a bend, bent as far as it
// is wanted, with leg of straight panel at both ends.
func BendSection(b build.Bend, leg unit.Length, o Options) View {
	outline := b.Design.Result.Section(b.Design.Result.Turn, leg)
	return View{
		Title:   "Bend: " + b.Name,
		Hatches: []Hatch{{Paths: []Path{OutlinePath(outline)}}},
	}
}

// FlatSection is the same panel before it is bent.
func FlatSection(b build.Bend, leg unit.Length, o Options) View {
	v := View{Title: "Kerfs: " + b.Name, Hatches: []Hatch{{Paths: []Path{OutlinePath(b.Design.Result.Section(0, leg))}}}}
	if o.Dims {
		r := v.Bounds()
		v.Chains = []Chain{{Side: LeftOf, Dims: []Dim{{From: r.Y, To: r.Bottom(), Size: b.Design.Result.Spec.Thickness}}}}
	}
	return v
}

// CornerTemplate is the quarter of a rounded corner to be cut out as a
// template, at full size: the outline of radius r with legs of straight edge, the
// radius in the leading unit and in the other.
func CornerTemplate(r, leg unit.Length, name string, o Options) View {
	leading, other := o.Size(r)
	a := (r + leg).MM()
	path := Path{Nodes: []Node{
		{Pt: Pt{0, 0}}, {Pt: Pt{leg.MM(), 0}, Bulge: geom.QuarterBulge}, {Pt: Pt{a, r.MM()}}, {Pt: Pt{a, a}},
	}}
	if r == 0 {
		path.Nodes = []Node{{Pt: Pt{0, 0}}, {Pt: Pt{a, 0}}, {Pt: Pt{a, a}}}
	}
	c := Pt{leg.MM(), r.MM()}
	return View{
		Title: name,
		Items: []Item{
			Stroke{PenOutline, []Path{path}},
			Segment(PenCentre, c.Add(-a*0.12, 0), Pt{a, c.Y}), Segment(PenCentre, c.Add(0, a*0.12), Pt{c.X, 0}),
		},
		Labels: []Label{{At: Pt{leg.MM() * 0.5, a * 0.6}, Variants: [][]string{{name, "R " + leading + " " + o.Units.String(), strings.TrimSuffix(other, ")") + " " + o.Units.Other().String() + ")"}}}},
	}
}
