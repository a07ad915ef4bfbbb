package check

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// machines lists the solid parts that are too short, too thin or too wide for
// planer and jointer, once for each limit.
func machines(in Input) []finding.Finding {
	m := in.Shop.Milling()
	var short, thin, wide []string
	shortest, thinnest, widest := unit.Length(0), unit.Length(0), unit.Length(0)
	limit := max(m.PlanerShortest, m.JointerShortest)
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if !p.Solid {
			continue
		}
		long, flat, thick := p.Length.Size, p.Width.Size, p.Thickness.Size
		if p.Rough != nil {
			long, flat = p.Rough.Length, p.Rough.Width
		}
		if long < limit {
			short = append(short, p.Letter)
			if shortest == 0 || long < shortest {
				shortest = long
			}
		}
		if thick < m.PlanerThinnest {
			thin = append(thin, p.Letter)
			if thinnest == 0 || thick < thinnest {
				thinnest = thick
			}
		}
		if m.PlanerWidest > 0 && flat > m.PlanerWidest {
			wide = append(wide, p.Letter)
			widest = max(widest, flat)
		}
	}
	var out []finding.Finding
	say := func(id string, level finding.Level, letters []string, says string, figure, limit unit.Length, advice string) {
		if len(letters) == 0 {
			return
		}
		out = append(out, finding.Finding{
			ID: id, Level: level, Place: parts(letters), Says: says, Figure: in.Show(figure), Limit: in.Show(limit), Advice: advice,
			Source: "machines of the shop; where not said, the long end of manuals seen",
		})
	}
	say("too-short-to-mill", finding.Care, short, fmt.Sprintf("Rough-cut, %s is %s long; planer and jointer want %s.", worst("shortest", short), in.Show(shortest), in.Show(limit)), shortest, limit,
		fmt.Sprintf("Mill them several to a stick of %s or more and cut to length afterwards; never feed them singly.", in.Show(limit)))
	say("too-thin-to-plane", finding.Care, thin, fmt.Sprintf("Finished, %s is %s thick; the planer wants %s.", worst("thinnest", thin), in.Show(thinnest), in.Show(m.PlanerThinnest)), thinnest, m.PlanerThinnest,
		"Plane on a carrier board, or saw them off a thicker piece and sand.")
	say("too-wide-to-plane", finding.Note, wide, fmt.Sprintf("Rough-cut, %s is %s wide; the planer takes %s.", worst("widest", wide), in.Show(widest), in.Show(m.PlanerWidest)), widest, m.PlanerWidest,
		fmt.Sprintf("They are over by %s: plane the boards first, glue them up, and level the joints by hand.", in.Show(widest-m.PlanerWidest)))
	return out
}

// worst names the part that a figure belongs to.
func worst(which string, letters []string) string {
	if len(letters) == 1 {
		return "part " + letters[0]
	}
	return "the " + which + " of " + parts(letters)
}

func parts(letters []string) string {
	if len(letters) == 1 {
		return "part " + letters[0]
	}
	return "parts " + strings.Join(letters, ", ")
}
