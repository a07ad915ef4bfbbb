package plan

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/price"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// hours are those of the route, as the price counts them.
func hours(p Plan) []price.Hours {
	var out []price.Hours
	for _, h := range p.Route.Hours {
		out = append(out, price.Hours{
			Operation: string(h.Op), Name: h.Name, Setup: int64(h.Setup), SetupEach: route.RateOf(h.Op, p.Shop).Setup, Run: h.Each, Unit: h.Unit, Units: h.Units, Spent: int64(h.Actual), Done: h.Done,
		})
	}
	return out
}

// uses is what the route's glue-ups, grits and coats use up in one piece.
func uses(p Plan) []price.Use {
	n := float64(max(1, p.Piece.Count))
	var fillers []price.Use
	glue := price.Use{Kind: "glue", Times: 1}
	by := "by the usual spread on one face"
	for _, g := range p.Route.Glueups {
		each := float64(g.Repeat) / n
		area := unit.Area(g.GlueGrams / g.Glue.Spread * each) // what fills kerfs as if it were spread
		mass := unit.Mass(g.GlueGrams / 1000 * each)
		litres := g.GlueGrams / 1000 / g.Glue.Density * each
		if g.Filler {
			fillers = append(fillers, price.Use{
				Kind: "glue", Class: g.Glue.Class, Name: g.Glue.Name + " and thickener", Times: 1, Area: area, Mass: mass, Litres: litres,
				Why: fmt.Sprintf("%s to fill the kerfs of one piece that stay open", mass.Small(p.Piece.Units)),
			})
			continue
		}
		glue.Area += area
		glue.Mass += mass
		glue.Litres += litres
		if g.Glue.Labelled {
			by = "as far as its label says it goes"
		}
	}
	out := fillers
	if glue.Area > 0 {
		glue.Why = fmt.Sprintf("%s on the joints of one piece, %s", glue.Mass.Small(p.Piece.Units), by)
		out = append(out, glue)
	}
	sanded := price.Use{Kind: "abrasive", Times: 1}
	for _, f := range p.Route.Finishes {
		out = append(out, price.Use{
			Kind: "finish", Class: f.Class.Key, Name: f.Class.Name, Area: f.Area, Times: f.Coats, Litres: f.Litres / n, Mass: unit.Mass(f.Litres / n * f.Class.Density),
			Why: fmt.Sprintf("%s: %s of one piece, %s", f.Name, f.Area.Led(p.Piece.Units, 2), document.Count(f.Coats, "coat")),
		})
		sanded.Area += f.Area * unit.Area(max(len(f.Solid), len(f.Veneered)))
	}
	if sanded.Area > 0 {
		sanded.Why = fmt.Sprintf("%s of one piece, all grits", sanded.Area.Led(p.Piece.Units, 1))
		out = append(out, sanded)
	}
	return out
}
