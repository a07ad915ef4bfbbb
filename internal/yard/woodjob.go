package yard

import (
	"cmp"
	"context"
	"fmt"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// boardsMoves is the search for boards at most: they are few, and a whole
// budget of panels would have the maker wait for seconds.
const boardsMoves = 20_000

// layOut puts the rough parts on the boards the shop lists, when there are
// any of the class; a part glued up goes on as its strips.
func (w *Wood) layOut(ctx context.Context, parts []build.Part, pieces int, s shop.Shop, r record.Record, budget cutting.Budget) error {
	job := cutting.Job{Objective: cutting.LeastPrice}
	for i, b := range s.Woods[w.Key].Boards {
		if w.Takes(b.Thickness) {
			w.stock = append(w.stock, i)
			sheet := cutting.Sheet{ID: fmt.Sprintf("board %d", i+1), W: b.Length, H: b.Width, Stock: max(b.Count, 1), Tone: b.Tone, Trim: edges(b, s.Habits), Order: order(b.Cut, s.Habits.BoardsCut)}
			for _, d := range b.Defects {
				sheet.Defects = append(sheet.Defects, cutting.Defect{X: d.FromEnd, Y: d.FromEdge, W: d.Length, H: d.Width, What: d.What})
			}
			if sheet.Price = w.priceOf(b, s.Woods[w.Key]); sheet.Price == 0 {
				job.Objective = cutting.FewestSheets // without a price, fewer boards is the best that can be said
			}
			job.Sheets = append(job.Sheets, sheet)
			w.yields.bought = append(w.yields.bought, wood.BoardFeet(b.Thickness, b.Width, b.Length))
		}
	}
	if len(job.Sheets) == 0 {
		return nil
	}
	w.Letters, w.yields.net = rough(&job, parts, pieces, s, r)
	glueUp(&job, w.yields.net, parts, s)
	w.yields.job = &job
	budget.Iterations = lesser(budget.Iterations, boardsMoves)
	result, err := cutting.Solve(ctx, job, budget)
	if err != nil {
		return err
	}
	w.Job, w.Result = &job, &result
	w.yields.panels(result.Layouts)
	return nil
}

// priceOf is the price of a whole board, by the measure that the wood is sold in.
func (w Wood) priceOf(b shop.Board, stock shop.Wood) unit.Money {
	if stock.Per == "cubic-metre" {
		return Cost(w.each(stock), float64(unit.VolumeOf(b.Thickness, b.Width, b.Length)))
	}
	return Cost(w.each(stock), wood.BoardFeet(b.Thickness, b.Width, b.Length))
}

// each is the price of one measure of the class.
func (w Wood) each(stock shop.Wood) unit.Money {
	return Money(w.price(stock))
}

// price is that of one measure of the class, nil where it is not known.
func (w Wood) price(stock shop.Wood) *unit.Money {
	if p, ok := stock.Classes[w.Class]; ok {
		return &p
	}
	return stock.Price
}

// rough puts the rough parts into a job, and returns their letters and what
// each measures net.
func rough(job *cutting.Job, parts []build.Part, pieces int, s shop.Shop, r record.Record) (letters []string, net []float64) {
	_, saw := Breaker(s, r)
	job.Kerf = saw.Kerf
	job.LeastOffcut.W, job.LeastOffcut.H = unit.MM(300), unit.MM(40)
	for _, p := range parts {
		it := cutting.Item{ID: p.Letter, W: p.Rough.Length, H: stripWidth(p), Qty: p.Count * pieces, Label: p.Name}
		if p.Rough.Strips > 1 {
			it.Strips = p.Rough.Strips
			it.Qty *= it.Strips
		}
		job.Items = append(job.Items, it)
		letters, net = append(letters, p.Letter), append(net, netFeet(p))
	}
	return letters, net
}

// glueUp lets the strips of parts that are glued up be as wide as the boards
// give, unless the shop wants them alike or no board is as wide as the narrowest
// strip. What such an item measures net becomes that of the whole part.
func glueUp(job *cutting.Job, net []float64, parts []build.Part, s shop.Shop) {
	if s.Habits.GluedStrips == "alike" {
		return
	}
	step := unit.Millimetre
	if s.Units == unit.Imperial {
		step = unit.Inch / 16
	}
	for i, p := range parts {
		if p.Rough.Strips < 2 {
			continue
		}
		most := widestOf(s, p.Material)
		joint := cmp.Or(s.Habits.RoughWidth, wood.UsualAllowance().Width)
		least := max(cmp.Or(s.Habits.LeastStrip, leastStrip), 2*joint).RoundUp(step) // a strip gives more than it costs
		if least > most {
			continue
		}
		net[i] *= float64(p.Rough.Strips)
		it := &job.Items[i]
		it.Qty, it.H, it.Strips = it.Qty/it.Strips, p.Rough.Width, 0
		it.Glue = &cutting.Glue{Least: least, Most: most.RoundDown(step), Joint: joint, Step: step, Further: s.Habits.FurtherStrips}
	}
}

// leastStrip is the narrowest strip where the shop does not say (common
// practice, no source).
const leastStrip = 50 * unit.Millimetre

// widestOf is the widest board of a wood that the shop can get.
func widestOf(s shop.Shop, key string) unit.Length {
	return cmp.Or(s.Woods[key].Widest, widestBoard)
}

// stripWidth is the rough width of a part, or of each strip it is glued from.
func stripWidth(p build.Part) unit.Length {
	if p.Rough.Strips > 1 {
		return p.Rough.Strip
	}
	return p.Rough.Width
}

// edges are what is lost at the ends and the edge of a board before parts come
// off it.
func edges(b shop.Board, h shop.Habits) cutting.Trim {
	t := cutting.Trim{Left: h.BoardEnds, Right: h.BoardEnds}
	if !b.Straight {
		t.Bottom = h.BoardEdge
	}
	return t
}

// order is how a board is cut up: as it says itself, else as the shop does.
func order(own, habit string) cutting.CutOrder {
	if own == "" {
		own = habit
	}
	switch own {
	case "crosscut-first":
		return cutting.CrosscutFirst
	case "rip-first":
		return cutting.RipFirst
	}
	return cutting.AnyOrder
}
