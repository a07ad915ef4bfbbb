package station

import (
	"fmt"

	"casewright/internal/yard"
)

// YardForm is how boards of one thickness class are typed in at the yard.
type YardForm struct {
	Path      string      `json:"path" doc:"in the shop: where the next board goes"`
	Thickness string      `json:"thickness" doc:"of the class, exact"`
	Longest   YardExtreme `json:"longest" doc:"the part that needs the longest board"`
	Widest    YardExtreme `json:"widest"`
	Typed     []YardBoard `json:"typed" doc:"boards of the class that are there"`
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
}

// wood is solid wood of one class: by its boards where they are known, else
// by volume.
func (y yarder) wood(w yard.Wood) YardStuff {
	out := YardStuff{Key: w.Key + " " + w.Class, Title: capital(read(w.Key)) + " " + w.Class, Layouts: []YardLayout{}, Short: []string{}, Form: y.form(w)}
	out.Says = fmt.Sprintf("Buy %s board feet (%s m³) for %s net", yard.Amount(w.Buy), decimals(float64(w.BuyM3), 3), yard.Amount(w.Net))
	if w.Result != nil {
		out.Layouts = y.layouts(*w.Job, *w.Result, w.Letters, "board")
		out.Short = y.short(*w.Job, *w.Result, w.Letters)
		n := 0
		for _, l := range w.Result.Layouts {
			n += l.Copies
		}
		out.Proven = w.Result.Proven
		switch {
		case len(out.Short) == 0:
			out.Says = fmt.Sprintf("All rough parts come out of %s, %s board feet", count(n, "board"), yard.Amount(w.Buy))
		case n == 0:
			out.Says = "No part comes out of these boards yet"
		default:
			out.Says = fmt.Sprintf("%s hold some of the parts; more are wanted", capital(count(n, "board")))
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
		Typed: []YardBoard{},
	}
	for i, b := range stock.Boards {
		if !w.Takes(b.Thickness) {
			continue
		}
		out.Typed = append(out.Typed, YardBoard{fmt.Sprintf("woods.%s.boards[%d]", w.Key, i), y.size(b.Length), y.size(b.Width), max(b.Count, 1), w.UsedOf(i)})
	}
	return out
}
