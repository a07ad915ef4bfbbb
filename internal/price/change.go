package price

import "casewright/internal/unit"

// Change is what one change after the quote costs, at the shop's rates and
// profit. A saving has negative figures.
type Change struct {
	What     string     `json:"what"`
	Date     string     `json:"date,omitempty"`
	Hours    float64    `json:"hours,omitempty"`
	Days     int        `json:"days,omitempty"`
	Agreed   bool       `json:"agreed"`
	Lines    []Line     `json:"lines"`
	Cost     unit.Money `json:"cost"`
	Net      unit.Money `json:"net"`
	Tax      unit.Money `json:"tax"` // what the tax on the price with all changes so far grows by
	Total    unit.Money `json:"total"`
	NewNet   unit.Money `json:"new_net"` // price with this and the changes before it
	NewTotal unit.Money `json:"new_total"`
}

// changes prices the changes of the record in their order. Tax is on the new
// net price as a whole, so that it is the same however the work was split.
func (p Price) changes(in Input) []Change {
	r := in.Shop.Rates
	net, total := p.All.Net, p.All.Total
	var out []Change
	for _, c := range in.Record.Changes {
		x := Change{What: c.What, Date: c.Date, Hours: c.Hours, Days: c.Days, Agreed: c.Agreed}
		if c.Material != 0 {
			x.Lines = append(x.Lines, Line{Group: Goods, What: "goods", Amount: c.Material})
		}
		if c.Hours != 0 {
			minutes := round(c.Hours * 60)
			x.Lines = append(x.Lines, Line{Group: Work, What: "work", Count: c.Hours, Unit: "hour", Each: r.Wage, Amount: r.Wage.Share(minutes, 60)})
			if r.Overhead > 0 && r.Billable > 0 {
				x.Lines = append(x.Lines, Line{Group: Overhead, What: "overhead", Count: c.Hours, Unit: "hour", Each: r.Overhead.Share(1, int64(r.Billable)), Amount: r.Overhead.Share(minutes, 60*int64(r.Billable))})
			}
		}
		for _, l := range x.Lines {
			x.Cost += l.Amount
		}
		x.Net = p.Profit.price(x.Cost, 1)
		net += x.Net
		x.NewNet, x.NewTotal = net, net+tax(net, in.Shop.Tax)
		x.Total = x.NewTotal - total
		x.Tax = x.Total - x.Net
		total = x.NewTotal
		out = append(out, x)
	}
	return out
}
