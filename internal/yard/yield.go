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
}

func (y yields) of(layouts ...cutting.Layout) float64 {
	net, bought := 0.0, 0.0
	for _, l := range layouts {
		bought += float64(l.Copies) * y.bought[l.Sheet]
		for _, p := range l.Parts {
			net += float64(l.Copies) * y.net[p.Item]
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
