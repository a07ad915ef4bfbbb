package station

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/shop"
	"casewright/internal/yard"
)

// YardForm is how boards of one thickness class are typed in at the yard.
type YardForm struct {
	Path      string      `json:"path" doc:"in the shop: where the next board goes"`
	Thickness string      `json:"thickness" doc:"of the class, exact"`
	Longest   YardExtreme `json:"longest" doc:"the part that needs the longest board"`
	Widest    YardExtreme `json:"widest"`
	Typed     []YardBoard `json:"typed" doc:"boards of the class that are there"`
	Edge      string      `json:"edge" doc:"lost where an edge has to be straightened, from the habits; empty: nothing"`
	Kinds     []string    `json:"kinds" doc:"words for a defect"`
}

// YardExtreme is a part and its rough size.
type YardExtreme struct {
	Letter string `json:"letter"`
	Size   Size   `json:"size"`
}

// YardBoard is a board that was typed in.
type YardBoard struct {
	Path   string `json:"path" doc:"in the shop"`
	Length Size   `json:"length"`
	Width  Size   `json:"width"`
	Count  int    `json:"count"`
	Used   int    `json:"used" doc:"how many of them are cut into"`
	Says   string `json:"says,omitempty" doc:"its edge, tone and defects"`
}

// wood is solid wood of one class: by its boards where they are known, else
// by volume.
func (y yarder) wood(w yard.Wood) YardStuff {
	out := YardStuff{Key: w.Key + " " + w.Class, Title: document.Capital(w.Called()), Layouts: []YardLayout{}, Short: []string{}, Form: y.form(w)}
	out.Says = fmt.Sprintf("Buy %s board feet (%s m³) for %s net", yard.Amount(w.Feet()), yard.Much(w.Cubic(), "m³"), yard.Amount(w.Net))
	if k := w.Likely; k != nil {
		out.Says = fmt.Sprintf("Ask for %s, %s board feet (%s m³). ", k.Says(k.Buy, y.p.Show), yard.Amount(w.Feet()), yard.Much(w.Cubic(), "m³"))
		if k.Buy > k.Boards {
			clear := fmt.Sprintf("%d of them when they are", k.Boards)
			if k.Boards == 1 {
				clear = "one of them when it is"
			}
			out.Says += fmt.Sprintf("All comes out of %s clear, a yield of %s %%; the shop's waste asks for %s board feet", clear, decimals(k.Yield, 0), yard.Amount(k.Asked()))
		} else {
			them := "them"
			if k.Buy == 1 {
				them = "it"
			}
			out.Says += fmt.Sprintf("All comes out of %s, a yield of %s %%; by the shop's waste it would be %s board feet", them, decimals(k.Yield, 0), yard.Amount(k.Asked()))
		}
		out.Likely = y.layouts(*k.Job, *k.Result, k.Letters(), "likely board", k.YieldOf)
		for i := range out.Likely {
			out.Likely[i].Share = 1 // all are of one length
		}
	}
	if w.Result != nil {
		out.Layouts = y.layouts(*w.Job, *w.Result, w.Letters, "board", w.Yield)
		out.Bound = boardsBound(w)
		for _, p := range w.GluedPanels() {
			out.Panels = append(out.Panels, fmt.Sprintf("%s, %s: %s", p.Title(), p.Name, p.Says(y.p.Show)))
		}
		out.Short = y.short(*w.Job, *w.Result, w.Letters)
		n := 0
		for _, l := range w.Result.Layouts {
			n += l.Copies
		}
		out.Proven = w.Result.Proven
		switch {
		case len(out.Short) == 0:
			out.Says = fmt.Sprintf("All rough parts come out of %s, %s board feet, a yield of %s %%", document.Count(n, "board"), yard.Amount(w.Feet()), decimals(100-w.Waste, 0))
		case n == 0:
			out.Says = "No part comes out of these boards yet"
		default:
			out.Says = fmt.Sprintf("%s hold some of the parts; more are wanted", document.Count(n, "board"))
			if n == 1 {
				out.Says = "1 board holds some of the parts; more are wanted"
			}
		}
	}
	if len(w.Glued) > 0 {
		out.Says += "; glued up from strips: " + list(w.Glued)
	}
	return out
}

func (y yarder) form(w yard.Wood) *YardForm {
	stock := y.p.Shop.Woods[w.Key]
	out := &YardForm{
		Path: fmt.Sprintf("woods.%s.boards[%d]", w.Key, len(stock.Boards)), Thickness: w.Rough.Exact(y.p.Shop.Units),
		Longest: YardExtreme{w.Longest.Letter, y.size(w.Longest.Size)}, Widest: YardExtreme{w.Widest.Letter, y.size(w.Widest.Size)},
		Typed: []YardBoard{}, Kinds: shop.DefectKinds(),
	}
	if e := y.p.Shop.Habits.BoardEdge; e > 0 {
		out.Edge = y.p.Show(e)
	}
	for i, b := range stock.Boards {
		if !w.Takes(b.Thickness) {
			continue
		}
		out.Typed = append(out.Typed, YardBoard{fmt.Sprintf("woods.%s.boards[%d]", w.Key, i), y.size(b.Length), y.size(b.Width), max(b.Count, 1), w.UsedOf(i), y.boardSays(b)})
	}
	return out
}

// boardSays is what is known of a board beside its size.
func (y yarder) boardSays(b shop.Board) string {
	var out []string
	if b.Straight {
		out = append(out, "one edge straight")
	}
	if b.Tone > 0 {
		out = append(out, fmt.Sprintf("tone %d", b.Tone))
	}
	if b.Cut != "" {
		out = append(out, shop.Words(b.Cut))
	}
	for _, d := range b.Defects {
		what := d.What
		if what == "" {
			what = "defect"
		}
		out = append(out, fmt.Sprintf("%s at %s / %s", what, y.p.Show(d.FromEnd), y.p.Show(d.FromEdge)))
	}
	return strings.Join(out, ", ")
}

// boardsBound says whether less wood, or fewer boards where the wood has no
// price, would do.
func boardsBound(w yard.Wood) string {
	r := *w.Result
	switch {
	case len(r.Short) > 0 || len(r.Layouts) == 0:
		return ""
	case w.Job.Objective == cutting.FewestSheets && r.Proven:
		return "Proven: fewer of these boards will not do."
	case r.Proven:
		return "Proven: no other choice of these boards takes less wood."
	case w.Job.Objective == cutting.FewestSheets && r.Bound > 0:
		return fmt.Sprintf("Not proven best: at least %s of these would be needed.", document.Count(int(r.Bound), "board"))
	case r.Bound > 0:
		return fmt.Sprintf("Not proven best: at least %s board feet of these would be needed.", decimals(math.Floor(10*w.Buy*float64(r.Bound)/float64(r.Value))/10, 1))
	}
	return ""
}
