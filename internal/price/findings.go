package price

import (
	"fmt"
	"strings"

	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func noRates() finding.Finding {
	return finding.Finding{
		ID: "no-rates", Level: finding.Note, Place: "customer", Says: "The piece has a customer, but the shop has no rates, so there is no price.",
		Advice: "Write wage, overhead and margin under rates in the shop.", Source: "the shop's rates",
		Doc: "shop", Path: "rates",
	}
}

func (p Price) findings(in Input) []finding.Finding {
	var out []finding.Finding
	if f := unpriced(p.All.Lines); f != nil {
		out = append(out, *f)
	}
	if len(in.All.Hours) == 0 {
		out = append(out, finding.Finding{
			ID: "no-hours", Level: finding.Care, Place: "price", Says: "No hours are known, so the price holds goods only.",
			Advice: "Give the piece parts to work on, or do not quote from this.", Source: "the hours of the route",
		})
	}
	if p.Profit == (Profit{}) {
		out = append(out, finding.Finding{
			ID: "no-profit", Level: finding.Note, Place: "price", Says: "The shop names neither margin nor markup: the price is the cost.",
			Advice: "Write margin-percent under rates in the shop.", Source: "the shop's rates",
			Doc: "shop", Path: "rates.margin-percent",
		})
	}
	if f := p.told(in); f != nil {
		out = append(out, *f)
	}
	if f := p.open(); f != nil {
		out = append(out, *f)
	}
	return out
}

// unpriced names what is to be paid for and has no price.
func unpriced(lines []Line) *finding.Finding {
	var what []string
	n := 0
	for _, l := range lines {
		if l.Open {
			if n++; n <= 4 {
				what = append(what, l.What)
			}
		}
	}
	if n == 0 {
		return nil
	}
	list := strings.Join(what, "; ")
	if n > len(what) {
		list += fmt.Sprintf("; and %d more", n-len(what))
	}
	f := &finding.Finding{
		ID: "no-price", Level: finding.Care, Place: "price", Figure: fmt.Sprint(n),
		Says:   fmt.Sprintf("The shop has no price for %d lines, so the quote is too low by what they cost: %s.", n, list),
		Advice: "Put their prices into the shop.", Source: "the shop's prices", Doc: "shop",
	}
	if n == 1 {
		f.Says = fmt.Sprintf("The shop has no price for one line, so the quote is too low by what it costs: %s.", list)
	}
	return f
}

// told compares the price that was told with the one that the shop's margin
// asks for. The commonest slip has its own words: the margin's percentage put
// on the cost as if it were a markup.
func (p Price) told(in Input) *finding.Finding {
	if in.Piece.Customer == nil || in.Piece.Customer.Told == 0 {
		return nil
	}
	told, want := in.Piece.Customer.Told, p.All.Net-p.All.RoundUp
	if told >= want {
		return nil
	}
	money := func(m unit.Money) string { return strings.TrimSpace(p.Currency + " " + m.Format()) }
	left := MarginOf(told, p.All.Cost)
	f := &finding.Finding{
		ID: "price-told", Level: finding.Care, Place: "customer.price-told", Figure: money(told), Limit: money(want),
		Says: fmt.Sprintf("The price told, %s, is %s below the %s that a margin of %s %% asks for; it leaves %s %%.",
			money(told), money(want-told), money(want), shop.Percent(p.Profit.Margin), shop.Percent(left)),
		Advice: fmt.Sprintf("Ask %s, or take %s out of the cost.", money(want), money(p.saving(told))),
		Source: "price = cost / (1 − margin)",
		Fix:    finding.Set("customer.price-told", want.Format(), "Ask "+money(want)),
	}
	slip := p.All.Cost.Share(million+millionths(p.Profit.Margin), million)
	switch off := told - slip; {
	case told < p.All.Cost:
		f.Level = finding.Stop
		f.Says = fmt.Sprintf("The price told, %s, is less than the cost of %s.", money(told), money(p.All.Cost))
	case !p.Profit.AsMarkup && p.Profit.share > 0 && max(off, -off) <= slip/200: // half a percent: prices are told in round figures
		f.ID = "markup-for-margin"
		f.Says = fmt.Sprintf("The price told, %s, is the cost with %s %% added to it. That is a markup; as a margin it is %s %%, and %s short.",
			money(told), shop.Percent(p.Profit.Margin), shop.Percent(left), money(want-told))
		f.Advice = fmt.Sprintf("A margin of %s %% is a markup of %s %%: ask %s.", shop.Percent(p.Profit.Margin), shop.Percent(p.Profit.Markup), money(want))
	}
	return f
}

// saving is by how much the cost must fall for a price to carry the margin.
func (p Price) saving(told unit.Money) unit.Money {
	if p.Profit.AsMarkup {
		return p.All.Cost - told.Share(million, million+p.Profit.share)
	}
	return p.All.Cost - told.Share(million-p.Profit.share, million)
}

// open names changes that nobody has signed.
func (p Price) open() *finding.Finding {
	sum, n := unit.Money(0), 0
	for _, c := range p.Changes {
		if !c.Agreed {
			sum += c.Net
			n++
		}
	}
	if n == 0 {
		return nil
	}
	f := &finding.Finding{
		ID: "change-open", Level: finding.Care, Place: "changes", Figure: strings.TrimSpace(p.Currency + " " + sum.Format()),
		Says:   fmt.Sprintf("%d changes are not agreed yet.", n),
		Advice: "Have the change note signed before that work begins.", Source: "common practice, no source",
	}
	if n == 1 {
		f.Says = "A change is not agreed yet."
	}
	return f
}
