package plan

import (
	"fmt"

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
	glue := price.Use{Kind: "glue", Unit: "g", Times: 1}
	for _, g := range p.Route.Glueups {
		each := float64(g.Repeat) / n
		if g.Filler {
			fillers = append(fillers, price.Use{
				Kind: "glue", Class: g.Glue.Class, Name: g.Glue.Name + " and thickener", Unit: "g", Times: 1, Area: g.Area * unit.Area(each), Amount: g.GlueGrams * each,
				Why: fmt.Sprintf("%.0f g to fill the kerfs of one piece that stay open", g.GlueGrams*each),
			})
			continue
		}
		glue.Area += g.Area * unit.Area(each)
		glue.Amount += g.GlueGrams * each
	}
	out := fillers
	if glue.Area > 0 {
		glue.Why = fmt.Sprintf("%.0f g on the joints of one piece, by the usual spread on one face", glue.Amount)
		out = append(out, glue)
	}
	sanded := price.Use{Kind: "abrasive", Times: 1}
	for _, f := range p.Route.Finishes {
		out = append(out, price.Use{
			Kind: "finish", Class: f.Class.Key, Name: f.Class.Name, Area: f.Area, Times: f.Coats, Amount: f.Litres / n, Unit: "litre",
			Why: fmt.Sprintf("%s: %.2f m² of one piece, %d coats", f.Name, float64(f.Area), f.Coats),
		})
		sanded.Area += f.Area * unit.Area(max(len(f.Solid), len(f.Veneered)))
	}
	if sanded.Area > 0 {
		sanded.Why = fmt.Sprintf("%.1f m² and grits of one piece", float64(sanded.Area))
		out = append(out, sanded)
	}
	return out
}
