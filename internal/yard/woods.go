package yard

import (
	"context"
	"fmt"
	"sort"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Wood is what one solid wood asks for in one thickness class.
type Wood struct {
	Key     string          `json:"key"`
	Class   string          `json:"class"` // such as 4/4
	Rough   unit.Length     `json:"rough"` // thickness of the class
	Parts   []string        `json:"parts"` // letters
	Net     float64         `json:"net_board_feet"`
	NetM3   unit.Volume     `json:"net_m3"`
	Buy     float64         `json:"buy_board_feet"` // whole boards where they are known, else net and the shop's waste
	BuyM3   unit.Volume     `json:"buy_m3"`
	Waste   float64         `json:"waste_percent"` // as the shop counts it, or what the boards lose
	WasteOf string          `json:"waste_of"`      // purchase, net, or boards: of purchase, as laid out
	Boards  int             `json:"boards,omitempty"`
	Likely  *Likely         `json:"likely,omitempty"` // when no board of the class is known
	Longest Extreme         `json:"longest"`
	Widest  Extreme         `json:"widest"`
	Glued   []string        `json:"glued,omitempty"` // letters glued up from strips
	Job     *cutting.Job    `json:"job,omitempty"`   // when boards of the class are known
	Letters []string        `json:"letters,omitempty"`
	Result  *cutting.Result `json:"result,omitempty"`

	stock   []int // for each sheet of the job its board in the shop
	yields  yields
	thicker unit.Length // of the next class of the same wood that the pieces need; 0: none
}

// Extreme is the part, or the strip of a part, that needs the longest or
// widest board.
type Extreme struct {
	Letter string      `json:"letter"`
	Size   unit.Length `json:"size"` // rough
}

// Woods tallies the solid parts of all pieces by wood and thickness class, and
// lays them out where the shop lists boards of the class.
func Woods(ctx context.Context, m build.Model, pieces int, s shop.Shop, r record.Record, budget cutting.Budget) ([]Wood, error) {
	type group struct{ key, class string }
	byGroup := map[group]*Wood{}
	var order []group
	parts := map[group][]build.Part{}
	for _, p := range m.Parts {
		if !p.Solid || p.Rough == nil {
			continue
		}
		g := group{p.Material, p.Rough.Class}
		w := byGroup[g]
		if w == nil {
			stock := s.Woods[p.Material]
			w = &Wood{Key: p.Material, Class: p.Rough.Class, Rough: p.Rough.Thickness, Waste: stock.Waste, WasteOf: stock.WasteOf}
			byGroup[g] = w
			order = append(order, g)
		}
		w.add(p, p.Count*pieces)
		parts[g] = append(parts[g], p)
	}
	sort.Slice(order, func(i, j int) bool {
		a, b := byGroup[order[i]], byGroup[order[j]]
		if a.Key != b.Key {
			return a.Key < b.Key
		}
		return a.Rough < b.Rough
	})
	var out []Wood
	for i, g := range order {
		w := byGroup[g]
		if i+1 < len(order) && order[i+1].key == g.key {
			w.thicker = byGroup[order[i+1]].Rough
		}
		w.Buy, w.BuyM3 = Purchase(w.Net, w.Waste, w.WasteOf), unit.Volume(Purchase(float64(w.NetM3), w.Waste, w.WasteOf))
		if err := w.layOut(ctx, parts[g], pieces, s, r, budget); err != nil {
			return nil, fmt.Errorf("wood %s %s: %w", g.key, g.class, err)
		}
		w.whole(s.Woods[w.Key].Boards)
		if len(w.stock) == 0 {
			if err := w.likely(ctx, parts[g], pieces, s, r, budget); err != nil {
				return nil, fmt.Errorf("wood %s %s: %w", g.key, g.class, err)
			}
		}
		out = append(out, *w)
	}
	return out, nil
}

// Purchase is what must be bought for a net amount when waste is a percentage
// of the purchase (30 net at 25 % is 40), or, for net, added to the net (30
// and 25 % is 37.5).
func Purchase(net, percent float64, of string) float64 {
	if of == "net" {
		return net * (1 + percent/100)
	}
	return net / (1 - percent/100)
}

// whole counts the boards that are cut into, when all parts lie on boards:
// the yard sells boards, not volumes.
func (w *Wood) whole(boards []shop.Board) {
	if w.Result == nil || len(w.Result.Short) > 0 {
		return
	}
	w.Buy, w.BuyM3, w.Boards = 0, 0, 0
	for _, l := range w.Result.Layouts {
		b := boards[w.stock[l.Sheet]]
		w.Boards += l.Copies
		w.Buy += float64(l.Copies) * wood.BoardFeet(b.Thickness, b.Width, b.Length)
		w.BuyM3 += unit.Volume(l.Copies) * unit.VolumeOf(b.Thickness, b.Width, b.Length)
	}
	if w.Buy > 0 {
		w.Waste, w.WasteOf = 100*(1-w.Net/w.Buy), "boards"
	}
}

// add tallies n pieces of a part: finished length and width at the thickness
// of the class, as boards are sold.
func (w *Wood) add(p build.Part, n int) {
	w.Parts = append(w.Parts, p.Letter)
	w.Net += float64(n) * wood.BoardFeet(p.Rough.Thickness, p.Width.Size, p.Length.Size)
	w.NetM3 += unit.Volume(n) * unit.VolumeOf(p.Length.Size, p.Width.Size, p.Rough.Thickness)
	if p.Rough.Length > w.Longest.Size {
		w.Longest = Extreme{p.Letter, p.Rough.Length}
	}
	if width := stripWidth(p); width > w.Widest.Size {
		w.Widest = Extreme{p.Letter, width}
	}
	if p.Rough.Strips > 1 {
		w.Glued = append(w.Glued, p.Letter)
	}
}

// Takes reports whether a board of the thickness is for this class: thick
// enough, no thick stuff planed to shavings, and not for a thicker class of
// the same wood, so that no board is cut into twice.
func (w Wood) Takes(thickness unit.Length) bool {
	return thickness >= w.Rough && thickness < w.Rough+unit.MM(8) && (w.thicker == 0 || thickness < w.thicker)
}

// UsedOf is how many of the i-th entry of the shop's boards are cut into.
func (w Wood) UsedOf(i int) int {
	n := 0
	if w.Result != nil {
		for _, l := range w.Result.Layouts {
			if w.stock[l.Sheet] == i {
				n += l.Copies
			}
		}
	}
	return n
}

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
	budget.Iterations = lesser(budget.Iterations, boardsMoves)
	result, err := cutting.Solve(ctx, job, budget)
	if err != nil {
		return err
	}
	w.Job, w.Result = &job, &result
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
	if p := stock.Classes[w.Class]; p > 0 {
		return p
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
