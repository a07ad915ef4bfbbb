package yard

import (
	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Yield is the share of what is bought that ends up in finished parts, in per
// cent. Of boards it is net over bought, both in board feet: finished length
// and width at the thickness of the class, over the whole board as the yard
// measures it. It is what the shop's waste of the purchase lacks of a hundred
// (common practice, no source). Of panels it is area over area.
type yields struct {
	bought []float64 // board feet of one of each sheet of the job
	net    []float64 // board feet of one of each item: a part, or its share of a strip
	job    *cutting.Job
	glued  map[gluedKey]unit.Length // what the strips of each panel add up to, without what jointing takes
}

type gluedKey struct{ item, panel int }

// panels adds up the strips of panels whose widths may differ.
func (y *yields) panels(layouts []cutting.Layout) {
	y.glued = map[gluedKey]unit.Length{}
	for _, l := range layouts {
		for _, p := range l.Parts {
			if g := y.job.Items[p.Item].Glue; g != nil {
				y.glued[gluedKey{p.Item, p.Panel}] += p.H - g.Joint
			}
		}
	}
}

func (y yields) of(layouts ...cutting.Layout) float64 {
	net, bought := 0.0, 0.0
	for _, l := range layouts {
		bought += float64(l.Copies) * y.bought[l.Sheet]
		for _, p := range l.Parts {
			share := 1.0
			if it := y.job.Items[p.Item]; it.Glue != nil { // a strip has the share of its width
				share = float64(p.H-it.Glue.Joint) / float64(max(y.glued[gluedKey{p.Item, p.Panel}], it.H-it.Glue.Joint))
			}
			net += float64(l.Copies) * y.net[p.Item] * share
		}
	}
	if bought == 0 {
		return 0
	}
	return 100 * net / bought
}

// netFeet is what a finished part measures, or its share for each strip.
func netFeet(p build.Part) float64 {
	return wood.BoardFeet(p.Rough.Thickness, p.Width.Size, p.Length.Size) / float64(max(p.Rough.Strips, 1))
}

// Yield is that of layouts on the boards that are known.
func (w Wood) Yield(layouts ...cutting.Layout) float64 { return w.yields.of(layouts...) }

// YieldOf is that of layouts on the boards to ask for.
func (l Likely) YieldOf(layouts ...cutting.Layout) float64 { return l.yields.of(layouts...) }

// Yield is that of layouts on panels.
func (p Panel) Yield(layouts ...cutting.Layout) float64 {
	var parts, whole unit.Area
	for _, l := range layouts {
		sheet := p.Job.Sheets[l.Sheet]
		whole += unit.Area(l.Copies) * unit.AreaOf(sheet.W, sheet.H)
		for _, q := range l.Parts {
			parts += unit.Area(l.Copies) * unit.AreaOf(q.W, q.H)
		}
	}
	if whole == 0 {
		return 0
	}
	return 100 * float64(parts/whole)
}
