package drawing

import (
	"math"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// FrontCard shows one opening with the front that goes into it: both
// outlines with their rounded corners, the even gap between, and both sizes.
func FrontCard(op build.Opening, front build.Part, o Options) View {
	x, z := op.Width.Size, op.Height.Size
	opening := Rounded(x, z, op.Corners)
	outline := OutlinePath(outlineOf(front))
	r, _ := bounds([]Path{outline})
	// A front is drawn with its grain along x; in the opening it may stand up.
	if math.Abs(r.W-(x-2*op.Gap).MM()) > math.Abs(r.H-(x-2*op.Gap).MM())+0.01 {
		outline = quarterTurn(outline)
		r, _ = bounds([]Path{outline})
	}
	m := mapping{k: 1, x: (x.MM()-r.W)/2 - r.X, y: (z.MM()-r.H)/2 - r.Y}
	set := m.paths([]Path{outline})
	gap, other := o.Size(op.Gap)
	if other != "" {
		gap += " " + other
	}
	fits := "gap " + gap + " all round"
	if r.W > x.MM() || r.H > z.MM() {
		fits = "over the edges"
	}
	v := View{
		Title: front.Letter + " in " + op.Name,
		Items: []Item{Stroke{PenMedium, []Path{opening}}, Fill{Pale, set}, Stroke{PenOutline, set}},
		Labels: []Label{{
			At: Pt{x.MM() / 2, z.MM() / 2}, Room: Rect{(x.MM() - r.W) / 2, (z.MM() - r.H) / 2, r.W, r.H},
			Weight: Bold, Size: SizeLarge, Variants: FrontWords(front.Letter, fits),
		}},
	}
	if o.Dims {
		left, low := (x.MM()-r.W)/2, (z.MM()-r.H)/2
		v.Chains = []Chain{
			{Side: Below, Dims: []Dim{{From: left, To: left + r.W, Size: unit.MM(r.W).Round(unit.Micrometre)}}},
			ChainOf(Below, 0, x),
			{Side: LeftOf, Dims: []Dim{{From: low, To: low + r.H, Size: unit.MM(r.H).Round(unit.Micrometre)}}},
			ChainOf(LeftOf, 0, z),
		}
	}
	return v
}

// FrontWords is what stands on a front: its letter and how it fits, as far as
// there is room.
func FrontWords(letter, fits string) [][]string {
	return [][]string{{letter, fits}, {letter + "  " + fits}, {letter}}
}

// quarterTurn turns a path a quarter turn anticlockwise.
func quarterTurn(p Path) Path {
	q := Path{Closed: p.Closed}
	for _, n := range p.Nodes {
		q.Nodes = append(q.Nodes, Node{Pt{-n.Y, n.X}, n.Bulge})
	}
	return q
}

// Rounded is the rectangle from (0, 0) to (w, h) with the radius at its top
// left, top right, bottom right and bottom left.
func Rounded(w, h unit.Length, corner [4]unit.Length) Path {
	x, y := w.MM(), h.MM()
	tl, tr, br, bl := corner[0].MM(), corner[1].MM(), corner[2].MM(), corner[3].MM()
	p := Path{Closed: true}
	add := func(a, b Pt, r float64) {
		if r > 0 {
			p.Nodes = append(p.Nodes, Node{a, geom.QuarterBulge}, Node{Pt: b})
			return
		}
		p.Nodes = append(p.Nodes, Node{Pt: a})
	}
	add(Pt{0, bl}, Pt{bl, 0}, bl)
	add(Pt{x - br, 0}, Pt{x, br}, br)
	add(Pt{x, y - tr}, Pt{x - tr, y}, tr)
	add(Pt{tl, y}, Pt{0, y - tl}, tl)
	return p
}
