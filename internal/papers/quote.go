package papers

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/price"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// quote is the page that goes to the customer: what it is, what it costs, on
// what terms, and where to sign. It says nothing of how the price came about.
func (s *set) quote() {
	c, p := s.p.Piece.Customer, s.p.Price
	if c == nil || !p.Known {
		return
	}
	f := s.flow(Desk, "quote", false, strings.TrimSpace("Quote "+c.Quote)+" for "+c.Name)
	s.parties(f, c.Date)
	s.described(f)
	s.asked(f)
	s.payments(f)
	s.terms(f)
	s.signatures(f, "The shop", "The customer, who orders it as described")
}

// parties names both sides and the day.
func (s *set) parties(f *flow, date string) {
	c := s.p.Piece.Customer
	to := append([]string{c.Name}, c.Address...)
	left, right := halves(f)
	a := f.page.sheet.TextBlock(left, "From "+pick(s.p.Shop.Name, "the shop")+"\nDate: "+pick(date, "……………………………"), 3.4, drawing.Regular)
	b := f.page.sheet.TextBlock(right, "For "+strings.Join(to, "\n"), 3.4, drawing.Regular)
	f.took(lower(a, b))
}

// halves are the left and the right half of what is left of the page.
func halves(f *flow) (left, right drawing.Rect) { return f.r.Left((f.r.W-6)/2, 6) }

// lower is what is left below both.
func lower(a, b drawing.Rect) drawing.Rect {
	if a.Y > b.Y {
		return a
	}
	return b
}

// described shows the piece and says what it is.
func (s *set) described(f *flow) {
	const high = 62
	f.need(high)
	o := s.draw
	o.Dims = true
	v := drawing.FrontView(s.p.Model, o)
	v.Title = ""
	box, _ := f.r.Top(high, 0)
	box.W *= 0.56
	v.Chains = slices.DeleteFunc(v.Chains, func(c drawing.Chain) bool { return c.Spare }) // the sizes over all are enough
	f.page.scale = fit(f.page.sheet, v, box, o, s.fineScales()).String()
	side := drawing.Rect{X: box.Right() + 6, Y: f.r.Y, W: f.r.Right() - box.Right() - 6, H: high}
	text := side
	for _, t := range s.description() {
		text = f.page.sheet.TextBlock(text, t, 3.2, drawing.Regular)
		text.Y, text.H = text.Y+1, text.H-1
	}
	f.took(lower(drawing.Rect{X: f.r.X, Y: box.Bottom()}, text))
}

// description says what the customer gets, in lines.
func (s *set) description() []string {
	p := s.p.Piece
	o := s.p.Model.Outside
	out := []string{
		document.Capital(p.Name),
		"Outside, wide × deep × high:\n" + s.sizesText(o.X, o.Y, o.Z),
	}
	var stuff []string
	for _, part := range s.p.Model.Parts {
		stuff = appendNew(stuff, s.material(part))
	}
	if len(stuff) > 0 {
		out = append(out, "Made of "+list(stuff)+".")
	}
	n := map[string]int{}
	for _, op := range s.p.Model.Openings {
		n[op.Fill]++
	}
	var inside []string
	for _, k := range []struct{ fill, one string }{{"drawer", "drawer"}, {"door", "space behind doors"}, {"shelves", "space with shelves"}, {"nothing", "open space"}} {
		if n[k.fill] == 1 {
			inside = append(inside, "1 "+k.one)
		} else if n[k.fill] > 1 {
			inside = append(inside, fmt.Sprintf("%d %s", n[k.fill], plurals(k.one)))
		}
	}
	if len(inside) > 0 {
		out = append(out, "Inside: "+list(inside)+".")
	}
	if k := p.Finish.Kind; k != "" && k != "none" {
		out = append(out, "Finish: "+shop.Words(k)+", "+p.Finish.Sheen+".")
	}
	return out
}

func plurals(one string) string {
	first, rest, more := strings.Cut(one, " ")
	if more {
		return first + "s " + rest
	}
	return one + "s"
}

// asked is the price: of all pieces, and of one alone where there are more.
func (s *set) asked(f *flow) {
	p := s.p.Price
	columns := []drawing.Column{
		{Head: "", Share: 96}, {Head: "Count", Share: 16, Right: true}, {Head: "Each, " + p.Currency, Share: 30, Right: true}, {Head: "Price, " + p.Currency, Share: 32, Right: true, Bold: true},
	}
	rows := [][]string{{document.Capital(s.p.Piece.Name), fmt.Sprint(p.All.Pieces), p.All.Each.Format(), p.All.Net.Format()}}
	if t := s.p.Shop.Tax; t != nil {
		rows = append(rows, []string{fmt.Sprintf("%s, %s %%", t.Name, shop.Percent(t.Percent)), "", "", p.All.Tax.Format()}, []string{"To pay in all", "", "", p.All.Total.Format()})
	}
	f.sub("Price", drawing.TableHeight(f.r.W, columns, rows, drawing.TableStyle{Size: 3.4}))
	f.table(columns, rows, drawing.TableStyle{Size: 3.4})
	if p.All.Pieces > 1 {
		t := fmt.Sprintf("One alone would be %s", s.money(p.One.Net))
		if s.p.Shop.Tax != nil {
			t += fmt.Sprintf(", with %s %s", s.p.Shop.Tax.Name, s.money(p.One.Total))
		}
		f.text(t+": the machines are set up once, whether for one or for all.", 3.2, drawing.Regular)
	}
}

func (s *set) payments(f *flow) {
	var rows [][]string
	for _, x := range s.p.Price.Payments {
		rows = append(rows, []string{document.Capital(x.When), shop.Percent(x.Percent) + " %", x.Amount.Format()})
	}
	columns := []drawing.Column{{Head: "To be paid", Share: 112}, {Head: "Share", Share: 30, Right: true}, {Head: s.p.Price.Currency, Share: 32, Right: true, Bold: true}}
	f.table(columns, rows, drawing.TableStyle{Size: 3.4})
}

// terms are what the price includes, what it does not, and the shop's own.
func (s *set) terms(f *flow) {
	c := s.p.Piece.Customer
	var out []string
	included := []string{"making and finishing as described"}
	if c.Packing > 0 {
		included = append(included, "packing")
	}
	if c.Km > 0 {
		included = append(included, "delivery")
	}
	if c.FixedBy == "maker" {
		included = append(included, "fixing to the wall")
	}
	out = append(out, "Included: "+list(included)+".")
	without := c.Without
	if c.Km == 0 {
		without = append(without[:len(without):len(without)], "delivery")
	}
	if len(without) > 0 {
		out = append(out, "Not included: "+strings.Join(lowered(without), "; ")+".")
	}
	if c := s.p.Route.Calendar; s.p.Piece.DeliverBy != "" {
		out = append(out, "To be delivered by "+s.p.Piece.DeliverBy+".")
	} else if c.Days > 0 {
		out = append(out, fmt.Sprintf("Planned to take %s from the first day of work to delivery, drying and free days counted.", document.Count(c.Days, "day")))
	}
	t := s.p.Shop.Terms
	out = append(out, fmt.Sprintf("This quote holds for %d days from its date.", max(1, t.Valid)))
	out = append(out, "Sizes are as drawn; wood is a grown material, and colour and figure differ from board to board.")
	for _, l := range t.Lines {
		out = append(out, sentence(l))
	}
	f.sub("Terms", 8)
	for _, l := range out {
		f.text("• "+l, 3.1, drawing.Regular)
		f.r.Y, f.r.H = f.r.Y-gap+1, f.r.H+gap-1
	}
	f.r.Y, f.r.H = f.r.Y+gap, f.r.H-gap
}

func lowered(list []string) []string {
	out := make([]string, len(list))
	for i, t := range list {
		if rs := []rune(t); len(rs) > 1 && unicode.IsLower(rs[1]) { // not a word such as VAT
			t = document.Small(t)
		}
		out[i] = strings.TrimSuffix(t, ".")
	}
	return out
}

// signatures are lines to sign on, side by side.
func (s *set) signatures(f *flow, who ...string) {
	const high = 22
	f.need(high)
	w := (f.r.W - 8*float64(len(who)-1)) / float64(len(who))
	for i, t := range who {
		x := f.r.X + float64(i)*(w+8)
		y := f.r.Y + high - 8
		f.page.sheet.Add(drawing.Segment(drawing.PenThin, drawing.Pt{X: x, Y: y}, drawing.Pt{X: x + w, Y: y}))
		f.page.sheet.TextBlock(drawing.Rect{X: x, Y: y + 0.8, W: w, H: 6}, "Date, signature: "+t, sizeNote, drawing.Regular)
	}
	f.took(drawing.Rect{X: f.r.X, Y: f.r.Y + high})
}

// calculation is the shop's own page: every line of the cost, for one and for
// all, and how the price comes of it.
func (s *set) calculation() {
	p := s.p.Price
	if !p.Known {
		return
	}
	head := fmt.Sprintf("Cost %s, price %s: %s %% of the price is left", s.money(p.All.Cost), s.money(p.All.Net), shop.Percent(price.MarginOf(p.All.Net, p.All.Cost)))
	if p.All.Pieces > 1 {
		head += fmt.Sprintf("; %d pieces", p.All.Pieces)
	}
	f := s.flow(Desk, "shop calculation", false, head)
	batch := p.All.Pieces > 1
	columns := []drawing.Column{
		{Head: "What", Share: 72},
		{Head: "How much", Share: 25, Right: true},
		{Head: "Each", Share: 17, Right: true},
		{Head: p.Currency, Share: 21, Right: true, Bold: true},
		{Head: "Because", Share: 54, Light: true},
	}
	if batch {
		columns[3].Head = fmt.Sprintf("For %d, %s", p.All.Pieces, p.Currency)
		columns = append(columns[:4:4], append([]drawing.Column{{Head: "One alone", Share: 20, Right: true}}, columns[4:]...)...)
	}
	var rows [][]string
	add := func(what, much, each string, all, one unit.Money, why string) {
		row := []string{document.Capital(what), much, each, all.Format()}
		if batch {
			row = append(row, one.Format())
		}
		rows = append(rows, append(row, why))
	}
	st := drawing.TableStyle{Size: 2.5}
	for _, g := range groupsOf(p) {
		for _, l := range g.all {
			much := ""
			if l.Count != 0 {
				much = yard.Much(l.Count, l.Unit) + " " + plural(l.Unit, l.Count)
			}
			why := l.Why
			if l.Open {
				why = "no price yet"
			}
			add(l.What, much, blank(l.Each.Format()), l.Amount, g.one(l), why)
		}
		if len(rows) > 1 {
			add(g.name+" together", "", "", total(g.all), total(g.alone), "")
		}
		columns[0].Head = document.Capital(g.name)
		f.table(columns, rows, st)
		f.r.Y, f.r.H = f.r.Y-gap+1, f.r.H+gap-1
		rows = nil
	}
	add("cost", "", "", p.All.Cost, p.One.Cost, "sum of all lines")
	add("profit", "", "", p.All.Earned, p.One.Earned, s.profitText())
	add("price, net", "", "", p.All.Net, p.One.Net, s.eachText())
	if t := s.p.Shop.Tax; t != nil {
		add(t.Name, "", "", p.All.Tax, p.One.Tax, shop.Percent(t.Percent)+" % of the net price")
		add("to pay", "", "", p.All.Total, p.One.Total, "")
	}
	columns[0].Head, columns[1].Head, columns[2].Head = "The sum of it", "", ""
	f.need(drawing.TableHeight(f.r.W, columns, rows, st))
	f.table(columns, rows, st)
	f.text(s.marginText()+" "+price.Rounding+" The last payment takes what rounding leaves.", sizeNote, drawing.Regular)
}

// groupLines are the lines of one table, for all pieces and for one alone.
type groupLines struct {
	name       string
	all, alone []price.Line
}

func groupsOf(p price.Price) []groupLines {
	var out []groupLines
	for _, t := range []struct {
		name string
		of   []price.Group
	}{
		{"goods", []price.Group{price.Goods}},
		{"supplies and outside work", []price.Group{price.Supplies, price.Outside}},
		{"work", []price.Group{price.Work}},
		{"overhead and the rest", []price.Group{price.Overhead, price.Delivery, price.Contingency}},
	} {
		g := groupLines{name: t.name}
		for _, l := range p.All.Lines {
			if slices.Contains(t.of, l.Group) {
				g.all = append(g.all, l)
			}
		}
		for _, l := range p.One.Lines {
			if slices.Contains(t.of, l.Group) {
				g.alone = append(g.alone, l)
			}
		}
		if len(g.all) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// one is what the line comes to when a piece is made alone.
func (g groupLines) one(l price.Line) unit.Money {
	for _, x := range g.alone {
		if x.What == l.What && x.Key == l.Key {
			return x.Amount
		}
	}
	return 0
}

func total(lines []price.Line) unit.Money {
	sum := unit.Money(0)
	for _, l := range lines {
		sum += l.Amount
	}
	return sum
}

func (s *set) profitText() string {
	p := s.p.Price.Profit
	switch {
	case p.Margin == 0 && p.Markup == 0:
		return "the shop names no profit"
	case p.AsMarkup:
		return fmt.Sprintf("markup of %s %%: cost × (1 + %s/100)", shop.Percent(p.Markup), shop.Percent(p.Markup))
	}
	return fmt.Sprintf("margin of %s %%: cost / (1 − %s/100)", shop.Percent(p.Margin), shop.Percent(p.Margin))
}

// eachText says how the price of one is rounded.
func (s *set) eachText() string {
	p := s.p.Price
	t := ""
	if p.All.Pieces > 1 {
		t = fmt.Sprintf("%d × %s", p.All.Pieces, p.All.Each.Format())
	}
	if r := s.p.Shop.Rates.RoundUp; r > 0 {
		if t != "" {
			t += ", "
		}
		t += "each rounded up to " + r.Format()
	}
	return t
}

func (s *set) marginText() string {
	p := s.p.Price.Profit
	t := fmt.Sprintf("A margin is a share of the price, a markup is added to the cost: a margin of %s %% is a markup of %s %%.", shop.Percent(p.Margin), shop.Percent(p.Markup))
	for _, w := range s.p.Woods {
		of := "of the purchase"
		switch w.WasteOf {
		case "net":
			of = "added to the net"
		case "boards":
			of = "of the purchase, as laid out on the boards"
		}
		t += fmt.Sprintf(" Waste of %s: %s %% %s.", w.Called(), decimals(w.Waste, 1), of)
	}
	return t
}
