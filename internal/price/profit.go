package price

import (
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Profit is what is earned on the cost. A margin is a share of the price, a
// markup is added to the cost: 40 % of margin is 66.67 % of markup.
type Profit struct {
	AsMarkup bool    `json:"as_markup"`      // the shop names a markup
	Margin   float64 `json:"margin_percent"` // of the price, either way
	Markup   float64 `json:"markup_percent"` // of the cost, either way

	share int64 // what the shop names, in millionths
}

func profitOf(r shop.Rates) Profit {
	switch {
	case r.Markup != nil:
		u := millionths(*r.Markup)
		return Profit{AsMarkup: true, Markup: *r.Markup, Margin: 100 * float64(u) / float64(million+u), share: u}
	case r.Margin != nil:
		m := min(millionths(*r.Margin), million-1)
		return Profit{Margin: *r.Margin, Markup: 100 * float64(m) / float64(million-m), share: m}
	}
	return Profit{}
}

// price is the net price of one of n pieces that cost so much together, to the
// nearest cent: cost / (1 − margin) or cost × (1 + markup), over n.
func (p Profit) price(cost unit.Money, n int) unit.Money {
	if p.AsMarkup {
		return cost.Share(million+p.share, million*int64(n))
	}
	return cost.Share(million, (million-p.share)*int64(n))
}

// MarginOf is the share of a price that is left over the cost, in percent.
func MarginOf(price, cost unit.Money) float64 {
	if price == 0 {
		return 0
	}
	return 100 * float64(price-cost) / float64(price)
}
