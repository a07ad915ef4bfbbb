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

// Called is what the wood of the class is called: white oak 4/4.
func (w Wood) Called() string { return shop.Words(w.Key) + " " + w.Class }

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
	for i, g := range order {
		if w := byGroup[g]; i+1 < len(order) && order[i+1].key == g.key {
			w.thicker = byGroup[order[i+1]].Rough
		}
	}
	errs := make([]error, len(order))
	sideBySide(len(order), budget, func(i int, mine cutting.Budget) {
		g := order[i]
		errs[i] = byGroup[g].reckon(ctx, parts[g], pieces, s, r, mine)
	})
	var out []Wood
	for i, g := range order {
		if err := errs[i]; err != nil {
			return nil, fmt.Errorf("wood %s %s: %w", g.key, g.class, err)
		}
		out = append(out, *byGroup[g])
	}
	return out, nil
}

// reckon says what is to be bought of a wood: its parts are laid out on the
// boards that the shop lists, else on usual ones.
func (w *Wood) reckon(ctx context.Context, parts []build.Part, pieces int, s shop.Shop, r record.Record, budget cutting.Budget) error {
	w.Buy, w.BuyM3 = Purchase(w.Net, w.Waste, w.WasteOf), unit.Volume(Purchase(float64(w.NetM3), w.Waste, w.WasteOf))
	if err := w.layOut(ctx, parts, pieces, s, r, budget); err != nil {
		return err
	}
	w.whole(s.Woods[w.Key].Boards)
	if len(w.stock) > 0 {
		return nil
	}
	return w.likely(ctx, parts, pieces, s, r, budget)
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
