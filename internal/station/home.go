package station

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/finding"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// Card is a piece on the page of all pieces.
type Card struct {
	Name      string `json:"name"`
	Size      Size   `json:"size" doc:"over all: width, depth, height"`
	Count     int    `json:"count" doc:"how many are to be made"`
	Parts     int    `json:"parts" doc:"in one piece"`
	Unsettled string `json:"unsettled" doc:"one line of what is not settled"`
	Worst     string `json:"worst" enum:"none,note,care,stop" doc:"gravest finding"`
	Drawn     bool   `json:"drawn" doc:"there is a plan, and so a picture"`
}

// CardOf is the card of a plan.
func CardOf(p plan.Plan) Card {
	o := p.Model.Outside
	w, d, h := sized(p, o.X), sized(p, o.Y), sized(p, o.Z)
	c := Card{
		Name: p.Piece.Name, Count: max(1, p.Piece.Count), Worst: "none", Drawn: true,
		Size: Size{across(w.Own, d.Own, h.Own), across(w.Other, d.Other, h.Other)},
	}
	for _, part := range p.Model.Parts {
		c.Parts += part.Count
	}
	n := map[finding.Level]int{}
	for _, f := range p.Findings {
		n[f.Level]++
	}
	switch stop, care := n[finding.Stop], n[finding.Care]; {
	case stop > 0 && care > 0:
		c.Unsettled = fmt.Sprintf("%s to mend before it can be made, %d to look at", document.Count(stop, "thing"), care)
	case stop > 0:
		c.Unsettled = fmt.Sprintf("%s to mend before it can be made", document.Count(stop, "thing"))
	case care > 0:
		c.Unsettled = fmt.Sprintf("%s to look at", document.Count(care, "thing"))
	default:
		c.Unsettled = "Everything is settled"
	}
	if len(p.Findings) > 0 {
		c.Worst = p.Worst().String()
	}
	return c
}

// CardWithout is the card of a piece of which no text could be planned yet.
func CardWithout(name string, count, problems int) Card {
	return Card{Name: name, Count: count, Worst: "stop", Unsettled: document.Count(problems, "thing") + " to mend before it can be planned"}
}

// across is sizes as a × b × c, the unit said once where all have the same,
// and once that some are rounded.
func across(sizes ...string) string {
	bare := make([]string, len(sizes))
	approx := ""
	for i, s := range sizes {
		rest, rounded := strings.CutPrefix(s, unit.Approx)
		if rounded {
			approx = unit.Approx
		}
		bare[i] = rest
	}
	for _, u := range []string{" mm", " in"} {
		if !slices.ContainsFunc(bare, func(s string) bool { return !strings.HasSuffix(s, u) }) {
			return approx + strings.ReplaceAll(strings.Join(bare, " × "), u+" ×", " ×")
		}
	}
	return approx + strings.Join(bare, " × ")
}

// Picture is the piece seen aslant as SVG for a page, without words, in a room
// given in pixels.
func Picture(p plan.Plan, wide, high float64) string {
	o := drawing.Options{Units: p.Piece.Units, Live: true}
	v := drawing.Aslant(p.Model, o)
	v.Title = ""
	return Screen(v, o, wide, high)
}
