package papers

import (
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
	openings "casewright/internal/fit"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// frontCards draws each kind of opening with its front: as measured, each by
// itself; as planned, alike ones once.
func (s *set) frontCards(f *flow, all []openings.Opening) {
	type kind struct {
		front   string
		w, h    unit.Length
		corners [4]unit.Length
	}
	seen := map[kind]bool{}
	var views []drawing.View
	o := s.draw
	o.Dims = true
	for _, op := range all {
		if op.Front == nil {
			continue
		}
		k := kind{op.Front.Letter, op.Width, op.Height, op.Corners}
		v, ok := s.frontView(op, o)
		if !ok || !op.Measured && seen[k] {
			continue
		}
		seen[k] = seen[k] || !op.Measured
		views = append(views, s.keep("front-"+slug(op.Front.Letter+" "+op.Name), v))
	}
	if len(views) == 0 {
		return
	}
	least := s.leastCard(f.r.W, views, o)
	f.need(least)
	columns := s.cardColumns(f.r, views, least, o)
	var scales []drawing.Scale
	for i := 0; i < len(views); i += columns {
		f.need(least)
		w, h := cardSize(f.r, len(views)-i, columns, least)
		for j, v := range views[i:min(i+columns, len(views))] {
			scales = append(scales, fit(f.page.sheet, v, drawing.Rect{X: f.r.X + float64(j)*(w+cardSpace), Y: f.r.Y, W: w, H: h}, o, s.fineScales()))
		}
		f.page.scale = scaleText(scales)
		f.took(drawing.Rect{X: f.r.X, Y: f.r.Y + h, W: f.r.W})
	}
}

// Millimetres on paper: of the room for a front card, and between two of them.
const (
	lowCard, mostCard = 36.0, 85.0
	cardStep          = 4.0
	leastFront        = 24.0 // the longer side of an opening as drawn
	cardSpace         = 6.0
	mostColumns       = 4
)

// leastCard is the least height of a row of cards in which each opening comes
// out large enough to be read among its dimensions.
func (s *set) leastCard(width float64, views []drawing.View, o drawing.Options) float64 {
	for h := lowCard; h < mostCard; h += cardStep {
		columns := s.cardColumns(drawing.Rect{W: width, H: h}, views, h, o)
		w, room := cardSize(drawing.Rect{W: width, H: h}, columns, columns, h)
		small := func(v drawing.View) bool {
			sc, _ := scaleIn(drawing.Rect{W: w, H: room}, v, o, s.fineScales())
			b := v.Bounds()
			return max(b.W, b.H)*sc.Ratio() < leastFront
		}
		if !slices.ContainsFunc(views, small) {
			return h
		}
	}
	return mostCard
}

// cardSize is the room of each of so many cards in so many columns, no row
// lower than least.
func cardSize(r drawing.Rect, cards, columns int, least float64) (w, h float64) {
	rows := min((cards+columns-1)/columns, max(1, int((r.H+gap)/(least+gap))))
	return (r.W - cardSpace*float64(columns-1)) / float64(columns), min(r.H/float64(rows), mostCard) - gap
}

// cardColumns is in how many columns the cards come out largest; of several the
// most, which takes the fewest rows.
func (s *set) cardColumns(r drawing.Rect, views []drawing.View, low float64, o drawing.Options) int {
	best, scale := 1, 0.0
	for columns := 1; columns <= min(mostColumns, len(views)); columns++ {
		w, h := cardSize(r, len(views), columns, low)
		least := math.Inf(1)
		for _, v := range views {
			sc, box := scaleIn(drawing.Rect{W: w, H: h}, v, o, s.fineScales())
			if box.W > w { // no scale is small enough
				least = 0
			}
			least = min(least, sc.Ratio())
		}
		if least >= scale {
			best, scale = columns, least
		}
	}
	return best
}

// frontView is an opening with its front: as measured, else as planned; false
// where there is none to show.
func (s *set) frontView(op openings.Opening, o drawing.Options) (drawing.View, bool) {
	if op.Front == nil || op.Front.Gap <= 0 || op.Doubt != "" {
		return drawing.View{}, false
	}
	p, ok := s.part(op.Front.Letter)
	if !ok {
		return drawing.View{}, false
	}
	if len(op.Front.Leaves) == 0 && len(op.Front.Outline) == 0 {
		return drawing.FrontCard(s.planned(op.Name), p, o), true
	}
	fits := "seen from the front"
	switch {
	case !op.Front.Inset:
		fits = "over the edges"
	case !op.Measured:
		fits = "gap " + s.figs(op.Front.Gap) + " all round"
	}
	v := s.fitted(op, fits)
	if !op.Measured || !op.Front.Inset {
		b := op.Outline.Bounds()
		v.Title = strings.TrimSuffix(v.Title, asMeasured)
		v.Chains = append(v.Chains, drawing.ChainOf(drawing.Below, 0, b.Width()), drawing.ChainOf(drawing.LeftOf, 0, b.Height()))
	}
	return v, true
}

// planned is the opening of a name.
func (s *set) planned(name string) build.Opening {
	for _, op := range s.p.Model.Openings {
		if op.Name == name {
			return op
		}
	}
	return build.Opening{}
}

const asMeasured = ", as measured"

// fitted shows an opening with the front, or the leaves of a pair of doors,
// that goes into it, and how.
func (s *set) fitted(o openings.Opening, fits string) drawing.View {
	fr := o.Front
	leaves := fr.Leaves
	if len(leaves) == 0 {
		leaves = []openings.Leaf{{Letter: fr.Letter, Outline: fr.Outline}}
	}
	v := drawing.View{Items: []drawing.Item{drawing.Stroke{Pen: drawing.PenMedium, Paths: []drawing.Path{drawing.OutlinePath(o.Outline)}}}}
	across := drawing.Chain{Side: drawing.Below}
	letters := leaves[0].Letter
	if last := leaves[len(leaves)-1].Letter; last != letters {
		letters += " and " + last
	}
	for i, l := range leaves {
		v.Items = append(v.Items, frontItems(l.Outline)...)
		v.Labels = append(v.Labels, frontLabel(l.Outline, drawing.FrontWords(l.Letter, fits)))
		b := l.Outline.Bounds()
		across.Dims = append(across.Dims, drawing.Dim{From: b.Min.X.MM(), To: b.Max.X.MM(), Size: b.Width().Round(unit.Micrometre)})
		up := drawing.Chain{Side: drawing.LeftOf, Dims: []drawing.Dim{{From: b.Min.Y.MM(), To: b.Max.Y.MM(), Size: b.Height().Round(unit.Micrometre)}}}
		if i > 0 {
			up.Side = drawing.RightOf
		}
		if i == 0 || l.Height != leaves[0].Height {
			v.Chains = append(v.Chains, up)
		}
	}
	v.Chains = append([]drawing.Chain{across}, v.Chains...)
	v.Title = letters + " in " + o.Name + asMeasured
	return v
}

// frontItems draw a front that lies in its opening.
func frontItems(o geom.Outline) []drawing.Item {
	front := []drawing.Path{drawing.OutlinePath(o)}
	return []drawing.Item{drawing.Fill{Tone: drawing.Pale, Paths: front}, drawing.Stroke{Pen: drawing.PenOutline, Paths: front}}
}

// frontLabel stands in the middle of a front.
func frontLabel(o geom.Outline, words [][]string) drawing.Label {
	b := o.Bounds()
	x, y, w, h := b.Min.X.MM(), b.Min.Y.MM(), b.Width().MM(), b.Height().MM()
	return drawing.Label{
		At: drawing.Pt{X: x + w/2, Y: y + h/2}, Room: drawing.Rect{X: x, Y: y, W: w, H: h},
		Weight: drawing.Bold, Size: drawing.SizeLarge, Variants: words,
	}
}

// largestTemplate is the longest front that is drawn at full size on paper.
const largestTemplate = 2 * unit.Metre

// fronts are the templates of fronts that are made or planed to openings as
// measured, where these are not plain rectangles.
func (s *set) fronts() []template {
	var out []template
	for _, o := range s.p.Fit {
		if !o.Measured || o.Front == nil || !o.Front.Inset || o.Front.Verdict == openings.ToRemake || o.Shape.Squared && o.Front.Corners == [4]unit.Length{} {
			continue
		}
		use := ", gap " + s.fig(o.Front.Gap) + "; cut it out and lay it on the show face"
		if f := o.Front; len(f.Leaves) == 0 {
			faint := drawing.Stroke{Pen: drawing.PenGhost, Paths: []drawing.Path{drawing.OutlinePath(o.Outline)}}
			out = s.frontTemplate(out, f.Letter, o.Name, "the front as the opening was measured"+use, f.Outline, "faint line: the opening", faint)
		}
		for _, l := range o.Front.Leaves {
			out = s.frontTemplate(out, l.Letter, o.Name+" "+l.Side, "the "+l.Side+" leaf of the pair as the opening was measured"+use, l.Outline, "the "+l.Side+" leaf")
		}
	}
	return out
}

// frontTemplate adds that of one front, unless there is none or it is too long.
func (s *set) frontTemplate(all []template, letter, place, use string, o geom.Outline, note string, under ...drawing.Item) []template {
	b := o.Bounds()
	if len(o) == 0 || max(b.Width(), b.Height()) > largestTemplate {
		return all
	}
	v := drawing.View{
		Items:  append(under, drawing.Stroke{Pen: drawing.PenOutline, Paths: []drawing.Path{drawing.OutlinePath(o)}}),
		Labels: []drawing.Label{frontLabel(o, [][]string{{letter, place, "show face, this way up", note}, {letter}})},
		Chains: []drawing.Chain{
			{Side: drawing.Below, Dims: []drawing.Dim{{From: b.Min.X.MM(), To: b.Max.X.MM(), Size: b.Width().Round(unit.Micrometre)}}},
			{Side: drawing.LeftOf, Dims: []drawing.Dim{{From: b.Min.Y.MM(), To: b.Max.Y.MM(), Size: b.Height().Round(unit.Micrometre)}}},
		},
	}
	return append(all, template{"front " + letter + ", " + place, use, v})
}
