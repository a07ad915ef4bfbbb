package price

import (
	"fmt"
	"math"

	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Group is a kind of cost.
type Group string

// The groups, in the order of the calculation.
const (
	Goods       Group = "goods"
	Supplies    Group = "supplies"
	Outside     Group = "outside work"
	Work        Group = "work"
	Overhead    Group = "overhead"
	Delivery    Group = "packing and delivery"
	Contingency Group = "contingency"
)

// Line is one line of the calculation.
type Line struct {
	Group  Group      `json:"group"`
	What   string     `json:"what"`
	Key    string     `json:"key,omitempty"` // stock of the shop, or operation
	Count  float64    `json:"count,omitempty"`
	Unit   string     `json:"unit,omitempty"`
	Each   unit.Money `json:"each,omitempty"`
	Amount unit.Money `json:"amount"`
	Why    string     `json:"why,omitempty"`
	Open   bool       `json:"no_price,omitempty"` // something to pay whose price is not known
}

// lines are all costs of so many pieces.
func lines(in Input, list List) []Line {
	n := max(1, list.Pieces)
	out := goods(in, list)
	if c := in.Piece.Customer; c != nil {
		for _, o := range c.Outside {
			l := Line{Group: Outside, What: o.What, Count: float64(n), Unit: "piece", Each: yard.Money(o.Price), Amount: yard.Money(o.Price) * unit.Money(n), Open: o.Price == nil}
			if o.Once {
				l.Count, l.Amount, l.Why = 1, yard.Money(o.Price), "once"
			}
			out = append(out, l)
		}
	}
	out = append(out, work(in, list)...)
	if c := in.Piece.Customer; c != nil {
		if c.Packing > 0 {
			out = append(out, Line{Group: Delivery, What: "packing", Count: float64(n), Unit: "piece", Each: c.Packing, Amount: c.Packing * unit.Money(n)})
		}
		if c.Km > 0 {
			km := yard.Money(in.Shop.Rates.Km)
			out = append(out, Line{Group: Delivery, What: "delivery", Count: c.Km, Unit: "km", Each: km, Amount: yard.Cost(km, c.Km), Why: "there and back, one trip", Open: in.Shop.Rates.Km == nil})
		}
	}
	if c := in.Shop.Rates.Contingency; c > 0 {
		sum := unit.Money(0)
		for _, l := range out {
			sum += l.Amount
		}
		out = append(out, Line{Group: Contingency, What: fmt.Sprintf("contingency, %g %% of the cost so far", c), Amount: sum.Share(millionths(c), million)})
	}
	return out
}

// goods are what is bought and what comes from stock, less what offcuts that
// are kept are worth, and the supplies.
func goods(in Input, list List) []Line {
	var out, used []Line
	sum, measured := unit.Money(0), false
	for _, l := range append(list.Buying[:len(list.Buying):len(list.Buying)], list.OnHand...) {
		x := Line{Group: Goods, What: l.What, Key: l.Key, Count: l.Count, Unit: l.Unit, Each: l.Each, Amount: l.Charge, Why: l.Why, Open: l.Unpriced()}
		if l.Charged > 0 {
			x.Count = l.Charged
		}
		if l.Charged > 0 && l.Charged < l.Count {
			x.Why = fmt.Sprintf("%s; %s bought, the rest is for the next piece", l.Why, yard.Much(l.Count, l.Unit))
		}
		if (l.Sort == yard.Fittings || l.Sort == yard.ScrewPacks || l.Sort == yard.PanelGoods) && !l.Made {
			x.Why = "" // counted; nothing to explain
		}
		if l.Sort == yard.SupplyGoods {
			x.Group = Supplies
			if l.Charge != l.Price {
				x.Count, x.Unit, x.Each = l.Need, l.Measure, 0
			}
			measured = measured || l.Measured
			used = append(used, x)
			continue
		}
		sum += x.Amount
		out = append(out, x)
	}
	for _, l := range credits(in, list.Panels) {
		sum += l.Amount
		out = append(out, l)
	}
	if c := in.Shop.Rates.Consumables; c > 0 && !measured {
		used = append(used, Line{Group: Supplies, What: fmt.Sprintf("consumables, %g %% of the goods", c), Amount: sum.Share(millionths(c), million)})
	}
	return append(out, used...)
}

// credits takes off what the offcuts that are kept are worth: their share of
// the sheet's area at the sheet's price, of which the shop counts a part.
func credits(in Input, panels []yard.Panel) []Line {
	var out []Line
	for _, p := range panels {
		sum := unit.Money(0)
		for _, l := range p.Result.Layouts {
			sheet := p.Job.Sheets[l.Sheet]
			if sheet.Stock >= 0 || sheet.Price == 0 {
				continue // from stock: it goes back to where it came from
			}
			kept := 0.0
			for _, o := range l.Offcuts {
				kept += float64(unit.AreaOf(o.W, o.H) / unit.AreaOf(sheet.W, sheet.H))
			}
			credit := in.Shop.Rates.Credit / 100 * kept
			sum += sheet.Price.Share(int64(math.Round(credit*million)), million) * unit.Money(l.Copies)
		}
		if sum > 0 {
			out = append(out, Line{Group: Goods, What: "offcuts of " + p.Name + " kept", Amount: -sum, Why: fmt.Sprintf("%g %% of the price of their area", in.Shop.Rates.Credit)})
		}
	}
	return out
}

// work is the time by operation at the wage, and the overhead on all of it.
func work(in Input, list List) []Line {
	r := in.Shop.Rates
	var out []Line
	sum := int64(0)
	for _, h := range list.Hours {
		m := h.For(max(1, list.Pieces))
		if m == 0 {
			continue
		}
		sum += m
		out = append(out, Line{
			Group: Work, What: h.Name, Key: h.Operation, Count: float64(m) / 60, Unit: "hour", Each: r.Wage, Amount: r.Wage.Share(m, 60),
			Why: fmt.Sprintf("setup %d min once, run %s min each", h.Setup, tenth(h.Run)),
		})
	}
	if r.Overhead > 0 && r.Billable > 0 && sum > 0 {
		out = append(out, Line{
			Group: Overhead, What: "overhead", Count: float64(sum) / 60, Unit: "hour", Each: r.Overhead.Share(1, int64(r.Billable)),
			Amount: r.Overhead.Share(sum, 60*int64(r.Billable)),
			Why:    fmt.Sprintf("%s a year over %d hours that are paid for", r.Overhead.Format(), r.Billable),
		})
	}
	return out
}

func tenth(v float64) string { return fmt.Sprintf("%g", math.Round(v*10)/10) }
