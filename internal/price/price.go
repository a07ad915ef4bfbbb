// Package price says what a piece costs and what to ask for it: goods and
// supplies, hours by operation, overhead, profit, tax; for one and for a
// batch; what changes cost; and afterwards what the record teaches.
//
// Money is whole cents throughout. Every line is worked out exactly and
// rounded once, to the nearest cent, halves away from zero; sums are sums of
// rounded lines, so they add up to the last cent. The last payment takes what
// rounding leaves.
package price

import (
	"math"

	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Rounding is the rule as papers state it.
const Rounding = "Each line is worked out exactly and rounded once to the nearest cent, halves away from zero; sums are sums of the lines."

// Input is all that the price follows from.
type Input struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Record record.Record
	One    List // when a single piece is made
	All    List // for all pieces
}

// List is the goods and the work for so many pieces made together.
type List struct {
	Pieces int
	Buying []yard.Line // with the supplies
	OnHand []yard.Line // panels from the shop's stock
	Panels []yard.Panel
	Hours  []Hours // by operation, in the order of the work
}

// Price is the calculation, the quote and what became of them.
type Price struct {
	Known    bool              `json:"known"` // the shop has rates
	Currency string            `json:"currency,omitempty"`
	Profit   Profit            `json:"profit"`
	One      Sum               `json:"one"`
	All      Sum               `json:"all"`
	Payments []Payment         `json:"payments,omitempty"`
	Changes  []Change          `json:"changes,omitempty"`
	After    *After            `json:"after,omitempty"`
	Findings []finding.Finding `json:"findings,omitempty"`
}

// Sum is the calculation for so many pieces made together.
type Sum struct {
	Pieces   int        `json:"pieces"`
	Lines    []Line     `json:"lines"`
	Hours    float64    `json:"hours"`
	Cost     unit.Money `json:"cost"`     // sum of the lines
	Earned   unit.Money `json:"profit"`   // net less cost
	Each     unit.Money `json:"each"`     // net price of one
	Net      unit.Money `json:"net"`      // each × pieces
	Tax      unit.Money `json:"tax"`      // on the net
	Total    unit.Money `json:"total"`    // net and tax
	RoundUp  unit.Money `json:"round_up"` // what rounding up the price of one adds, all pieces
	Material unit.Money `json:"material"` // goods, supplies and outside work among the lines
}

// Make works the price out. Without rates in the shop nothing is known.
func Make(in Input) Price {
	r := in.Shop.Rates
	if r == nil {
		p := Price{}
		if in.Piece.Customer != nil {
			p.Findings = []finding.Finding{noRates()}
		}
		return p
	}
	p := Price{Known: true, Currency: in.Shop.Currency, Profit: profitOf(*r)}
	p.All = p.sum(in, in.All)
	p.One = p.All
	if in.All.Pieces > 1 {
		p.One = p.sum(in, in.One)
	}
	p.Payments = payments(p.All.Total, in.Shop.Terms.Payments)
	p.Changes = p.changes(in)
	p.After = p.after(in)
	p.Findings = p.findings(in)
	return p
}

// sum is the calculation for the pieces of a list.
func (p Price) sum(in Input, list List) Sum {
	s := Sum{Pieces: max(1, list.Pieces)}
	s.Lines = lines(in, list)
	minutes := int64(0)
	for _, h := range list.Hours {
		minutes += h.For(s.Pieces)
	}
	s.Hours = float64(minutes) / 60
	for _, l := range s.Lines {
		s.Cost += l.Amount
		switch l.Group {
		case Goods, Supplies, Outside:
			s.Material += l.Amount
		}
	}
	near := p.Profit.price(s.Cost, s.Pieces)
	s.Each = near.RoundUp(in.Shop.Rates.RoundUp)
	n := unit.Money(s.Pieces)
	s.RoundUp = (s.Each - near) * n
	s.Net = s.Each * n
	s.Earned = s.Net - s.Cost
	s.Tax = tax(s.Net, in.Shop.Tax)
	s.Total = s.Net + s.Tax
	return s
}

func tax(net unit.Money, t *shop.Tax) unit.Money {
	if t == nil {
		return 0
	}
	return net.Share(millionths(t.Percent), million)
}

// million is the whole in which percentages are counted: four decimals of a
// percent are exact.
const million = 1_000_000

func millionths(percent float64) int64 { return int64(math.Round(percent * 10_000)) }
