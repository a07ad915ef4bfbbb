package price

import (
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Payment is a part of the total with tax and when it is due.
type Payment struct {
	Percent float64    `json:"percent"`
	When    string     `json:"when"`
	Amount  unit.Money `json:"amount"`
}

// usual is half and half (common practice, no source).
var usual = []shop.Payment{{Percent: 50, When: "with the order"}, {Percent: 50, When: "before delivery"}}

// payments shares the total out; the last one takes what rounding leaves.
func payments(total unit.Money, terms []shop.Payment) []Payment {
	if len(terms) == 0 {
		terms = usual
	}
	out := make([]Payment, len(terms))
	rest := total
	for i, t := range terms {
		out[i] = Payment{Percent: t.Percent, When: t.When, Amount: total.Share(millionths(t.Percent), million)}
		if i == len(terms)-1 {
			out[i].Amount = rest
		}
		rest -= out[i].Amount
	}
	return out
}
