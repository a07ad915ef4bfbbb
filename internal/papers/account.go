package papers

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/price"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// changeNote is what both sign before something is made otherwise than quoted.
func (s *set) changeNote() {
	p := s.p.Price
	if len(p.Changes) == 0 {
		return
	}
	last := p.Changes[len(p.Changes)-1]
	f := s.flow(Desk, "change note", false, fmt.Sprintf("%s to what was quoted: new price %s", document.Count(len(p.Changes), "change"), s.money(last.NewTotal)))
	if s.p.Piece.Customer != nil {
		s.parties(f, "")
	}
	columns := []drawing.Column{
		{Head: "Change", Share: 64, Bold: true},
		{Head: "Asked on", Share: 24},
		{Head: "Net", Share: 24, Right: true},
		{Head: "Tax", Share: 22, Right: true},
		{Head: "New price", Share: 27, Right: true, Bold: true},
		{Head: "Later by", Share: 18, Right: true},
		{Head: "Agreed", Share: 16},
	}
	first := []string{"As quoted", "", p.All.Net.Format(), p.All.Tax.Format(), p.All.Total.Format(), "", ""}
	rows := [][]string{first}
	days := 0
	for _, c := range p.Changes {
		agreed, later := "no", ""
		if c.Agreed {
			agreed = "yes"
		}
		if c.Days > 0 {
			later = document.Count(c.Days, "day")
			days += c.Days
		}
		rows = append(rows, []string{document.Capital(c.What), c.Date, signed(c.Net), signed(c.Tax), c.NewTotal.Format(), later, agreed})
	}
	f.table(columns, rows, drawing.TableStyle{Size: 3.2})
	t := "Prices in " + pick(p.Currency, "the shop's currency") + ". Each change is priced at the rates and the profit of the quote; each new price holds all changes above it."
	if days > 0 {
		t += fmt.Sprintf(" In all it is delivered %s later.", document.Count(days, "day"))
	}
	f.text(t, 3, drawing.Regular)
	f.text("Nothing on this note is begun before both have signed it. The terms of the quote hold for the rest.", 3.2, drawing.Bold)
	s.signatures(f, "The shop", "The customer")
}

// signed is an amount with its sign.
func signed(m unit.Money) string {
	if m > 0 {
		return "+" + m.Format()
	}
	return m.Format()
}

// afterwards sets what was estimated against what was.
func (s *set) afterwards() {
	a := s.p.Price.After
	if a == nil {
		return
	}
	f := s.flow(Desk, "after-calculation", false, fmt.Sprintf("Cost %s against %s estimated: %s %% of the price is left", s.money(a.Actual), s.money(a.Estimated), shop.Percent(a.Margin)))
	st := drawing.TableStyle{Size: 3}
	if len(a.Work) > 0 {
		columns := []drawing.Column{
			{Head: "Work, hours", Share: 70},
			{Head: "Estimated", Share: 26, Right: true},
			{Head: "Taken", Share: 24, Right: true, Bold: true},
			{Head: "Difference", Share: 26, Right: true},
			{Head: "Cost", Share: 28, Right: true},
			{Head: "Finished", Share: 22},
		}
		var rows [][]string
		est, act, cost := int64(0), int64(0), unit.Money(0)
		for _, w := range a.Work {
			done := "not yet"
			if w.Done {
				done = "yes"
			}
			rows = append(rows, []string{document.Capital(w.Name), inHours(w.Estimated), inHours(w.Actual), inHours(w.Actual - w.Estimated), signed(w.Cost), done})
			est, act, cost = est+w.Estimated, act+w.Actual, cost+w.Cost
		}
		rows = append(rows, []string{"Together", inHours(est), inHours(act), inHours(act - est), signed(cost), ""})
		f.table(columns, rows, st)
		f.text("Work that is not finished counts at its estimate, or at what it has taken where that is more. Cost with overhead.", sizeNote, drawing.Regular)
	}
	if len(a.Goods) > 0 {
		columns := []drawing.Column{
			{Head: "Goods, " + s.p.Price.Currency, Share: 96}, {Head: "Estimated", Share: 32, Right: true}, {Head: "Paid", Share: 32, Right: true, Bold: true}, {Head: "Difference", Share: 36, Right: true},
		}
		var rows [][]string
		est, paid := unit.Money(0), unit.Money(0)
		for _, g := range a.Goods {
			rows = append(rows, []string{document.Capital(g.What), g.Estimated.Format(), g.Paid.Format(), signed(g.Paid - g.Estimated)})
			est, paid = est+g.Estimated, paid+g.Paid
		}
		rows = append(rows, []string{"Together", est.Format(), paid.Format(), signed(paid - est)})
		f.table(columns, rows, st)
		f.text("Goods without a bill stand at their estimate.", sizeNote, drawing.Regular)
	}
	s.closing(f, *a)
}

// closing is the sum of it, and what the next estimate can learn.
func (s *set) closing(f *flow, a price.After) {
	columns := []drawing.Column{{Head: "", Share: 120}, {Head: s.p.Price.Currency, Share: 40, Right: true, Bold: true}}
	f.table(columns, [][]string{
		{"Price, net, with the changes agreed", a.Net.Format()},
		{"Cost as estimated, with the changes agreed", a.Estimated.Format()},
		{"Cost as it came out", a.Actual.Format()},
		{fmt.Sprintf("Left: %s %% of the price", shop.Percent(a.Margin)), (a.Net - a.Actual).Format()},
	}, drawing.TableStyle{Size: 3.2})
	if len(a.Lessons) == 0 {
		f.text("The shop's own figures held; nothing to write into it.", 3.2, drawing.Regular)
		return
	}
	f.sub("To write into the shop, so that the next estimate comes closer", 8)
	for _, t := range a.Lessons {
		f.text("• "+t, 3.2, drawing.Regular)
	}
}

// inHours are minutes as hours to a hundredth.
func inHours(m int64) string { return decimals(float64(m)/60, 2) }
