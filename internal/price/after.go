package price

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/document"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// After is the after-calculation: what was estimated against what was, and
// what to write into the shop so that the next estimate comes closer.
type After struct {
	Work      []WorkAfter  `json:"work,omitempty"`
	Goods     []GoodsAfter `json:"goods,omitempty"`
	Estimated unit.Money   `json:"estimated"` // cost, with the changes agreed
	Actual    unit.Money   `json:"actual"`    // cost, with the estimate where nothing was written down
	Net       unit.Money   `json:"net"`       // price, with the changes agreed
	Margin    float64      `json:"margin_percent"`
	Lessons   []string     `json:"lessons,omitempty"`
}

// WorkAfter is one operation, in minutes.
type WorkAfter struct {
	Operation string     `json:"operation"`
	Name      string     `json:"name"`
	Estimated int64      `json:"estimated_minutes"`
	Actual    int64      `json:"actual_minutes"`
	Done      bool       `json:"done"`
	Cost      unit.Money `json:"cost"` // actual less estimated, with overhead
}

// GoodsAfter is one stock of the shop, or something that was not planned.
type GoodsAfter struct {
	What      string     `json:"what"`
	Key       string     `json:"key,omitempty"`
	Estimated unit.Money `json:"estimated"`
	Paid      unit.Money `json:"paid"`
}

// after compares; nil when the record has neither hours nor bills.
func (p Price) after(in Input) *After {
	spent := false
	for _, h := range in.All.Hours {
		spent = spent || h.Spent > 0
	}
	if !spent && len(in.Record.Bought) == 0 {
		return nil
	}
	a := &After{Estimated: p.All.Cost, Net: p.All.Net}
	for _, c := range p.Changes {
		if c.Agreed {
			a.Estimated += c.Cost
			a.Net += c.Net
		}
	}
	a.Actual = a.Estimated
	a.work(in, p.All.Pieces)
	a.goods(in, p.All)
	a.Margin = MarginOf(a.Net, a.Actual)
	return a
}

// work compares the operations on which time was spent. One that is not done
// yet is estimated at what was planned, or at what it has taken where that is
// more.
func (a *After) work(in Input, pieces int) {
	r := in.Shop.Rates
	for _, h := range in.All.Hours {
		if h.Spent == 0 {
			continue
		}
		w := WorkAfter{Operation: h.Operation, Name: h.Name, Estimated: h.For(pieces), Actual: h.Spent, Done: h.Done}
		counted := w.Actual
		if !w.Done {
			counted = max(counted, w.Estimated)
		}
		more := counted - w.Estimated
		w.Cost = r.Wage.Share(more, 60)
		if r.Overhead > 0 && r.Billable > 0 {
			w.Cost += r.Overhead.Share(more, 60*int64(r.Billable))
		}
		a.Actual += w.Cost
		a.Work = append(a.Work, w)
		if t := lesson(h, pieces, w); t != "" {
			a.Lessons = append(a.Lessons, t)
		}
	}
}

// lesson is the run time that would have given the time taken. What differs by
// less than a tenth teaches nothing.
func lesson(h Hours, pieces int, w WorkAfter) string {
	units := h.Units * float64(pieces)
	if !w.Done || units <= 0 || math.Abs(float64(w.Actual-w.Estimated)) < 0.1*float64(w.Estimated) {
		return ""
	}
	run := float64(w.Actual-h.Setup) / units
	if run <= 0 {
		return fmt.Sprintf("%s took %s against %s planned, less than its setups alone. Write shorter setups under times.%s.", document.Capital(h.Name), clock(w.Actual), clock(w.Estimated), h.Operation)
	}
	write := "run: " + hundredth(run)
	if h.SetupEach > 0 { // an entry of the shop takes the place of both guesses
		write = fmt.Sprintf("{setup: %s, run: %s}", hundredth(h.SetupEach), hundredth(run))
	}
	return fmt.Sprintf("%s took %s against %s planned: %s min for each %s instead of %s. Write %s under times.%s in the shop.",
		document.Capital(h.Name), clock(w.Actual), clock(w.Estimated), hundredth(run), h.Unit, hundredth(h.Run/h.Units), write, h.Operation)
}

// goods compares the bills with the list, stock by stock. What has no bill
// stands at its estimate.
func (a *After) goods(in Input, s Sum) {
	paid, count := map[string]unit.Money{}, map[string]float64{}
	for _, b := range in.Record.Bought {
		if b.Key != "" {
			paid[b.Key] += b.Paid
			count[b.Key] += b.Count
		}
	}
	at := map[string]int{}
	for _, l := range s.Lines {
		if _, billed := paid[l.Key]; !billed || (l.Group != Goods && l.Group != Supplies) {
			continue
		}
		i, seen := at[l.Key]
		if !seen {
			i, at[l.Key] = len(a.Goods), len(a.Goods)
			a.Goods = append(a.Goods, GoodsAfter{What: l.What, Key: l.Key, Paid: paid[l.Key]})
		} else { // several lines of one stock, such as thicknesses of a wood
			a.Goods[i].What = shop.Words(l.Key) + ", all lines"
		}
		a.Goods[i].Estimated += l.Amount
	}
	for _, b := range in.Record.Bought {
		if _, planned := at[b.Key]; !planned || b.Key == "" {
			a.Goods = append(a.Goods, GoodsAfter{What: b.What + ", not planned", Key: b.Key, Paid: b.Paid})
		}
	}
	for _, g := range a.Goods {
		a.Actual += g.Paid - g.Estimated
	}
	net, measure := map[string]float64{}, map[string]string{}
	var order []string
	for _, l := range in.All.Buying {
		if l.Sort == yard.SolidWood {
			if net[l.Key] == 0 {
				order = append(order, l.Key)
			}
			net[l.Key] += l.Need
			measure[l.Key] = l.Unit
		}
	}
	for _, key := range order {
		if t := wasted(key, in.Shop.Woods[key], net[key], count[key], measure[key]); t != "" {
			a.Lessons = append(a.Lessons, t)
		}
	}
}

// wasted is the waste that a purchase came to, in the way the shop counts it.
func wasted(key string, w shop.Wood, net, bought float64, measure string) string {
	if bought < net || net == 0 {
		return ""
	}
	was, of := 100*(1-net/bought), "of the purchase"
	if w.WasteOf == "net" {
		was, of = 100*(bought/net-1), "added to the net"
	}
	if math.Abs(was-w.Waste) < 3 {
		return ""
	}
	return fmt.Sprintf("%s: %s %s bought for %s net is a waste of %.0f %% %s; the shop says %g. Write waste-percent: %.0f under woods.%s if that is usual.",
		key, hundredth(bought), strings.Replace(measure, "foot", "feet", 1), hundredth(net), was, of, w.Waste, was, key)
}

// clock prints minutes as hours.
func clock(m int64) string { return hundredth(float64(m)/60) + " h" }

func hundredth(v float64) string { return fmt.Sprintf("%g", math.Round(v*100)/100) }

func round(v float64) int64 { return int64(math.Round(v)) }
