package station

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/price"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Yard is what is wanted while buying: the list, and where every part lies on
// panels and boards.
type Yard struct {
	Answer   string        `json:"answer"`
	Units    string        `json:"units" enum:"mm,in"`
	Total    string        `json:"total" doc:"what the list comes to, in words"`
	Buying   []YardLine    `json:"buying"`
	Stock    []string      `json:"stock" doc:"panels and offcuts of the shop that are cut into"`
	Panels   []YardStuff   `json:"panels"`
	Boards   []YardStuff   `json:"boards" doc:"solid wood by thickness class"`
	Price    []YardSum     `json:"price" doc:"what the pieces cost and what is asked for them; empty without rates"`
	Differs  string        `json:"differs,omitempty" doc:"why goods and supplies of the price are not what the list comes to"`
	Findings []DeskFinding `json:"findings"`
}

// YardLine is one line of the list.
type YardLine struct {
	Sort  string `json:"sort"`
	What  string `json:"what"`
	Buy   string `json:"buy" doc:"2 panels"`
	Need  string `json:"need,omitempty" doc:"where it is less than what is bought"`
	Each  string `json:"each,omitempty"`
	Price string `json:"price,omitempty"`
	Why   string `json:"why"`
}

// YardSum is an amount and what it is.
type YardSum struct {
	What string `json:"what"`
	Is   string `json:"is"`
}

// YardStuff is one kind of panel, or one wood in one thickness class.
type YardStuff struct {
	Key     string       `json:"key" doc:"by which a drawing of a layout names it"`
	Title   string       `json:"title"`
	Says    string       `json:"says"`
	Bound   string       `json:"bound,omitempty" doc:"why fewer will not do, or that this is not proven"`
	Proven  bool         `json:"proven"`
	Layouts []YardLayout `json:"layouts"`
	Short   []string     `json:"short" doc:"parts that found no place"`
	Saving  *YardSaving  `json:"saving,omitempty"`
	Panels  []string     `json:"panels,omitempty" doc:"parts glued up from strips: which strips, in which order"`
	Likely  []YardLayout `json:"likely,omitempty" doc:"how the parts lie on the boards to ask for, where none are known; a drawing of them is named by the key and likely"`
	Form    *YardForm    `json:"form,omitempty" doc:"boards of this class: those typed in, and where the next goes"`
}

// YardLayout is one pattern of cuts.
type YardLayout struct {
	N       int        `json:"n" doc:"by which a drawing names it"`
	Title   string     `json:"title" doc:"panel 1; panels 2 to 4, all alike"`
	Length  Size       `json:"length"`
	Width   Size       `json:"width"`
	Slim    bool       `json:"slim" doc:"a board: much longer than wide"`
	Share   float64    `json:"share" doc:"its length over that of the longest one shown, so that all are drawn to one scale"`
	Yield   string     `json:"yield" doc:"share of it that ends up in finished parts; of a board net, in board feet, as the shop's waste counts it"`
	Cut     string     `json:"cut,omitempty" doc:"of a board: crosscut first or ripped first"`
	Parts   []YardPart `json:"parts"`
	Offcuts []YardRest `json:"offcuts" doc:"worth keeping"`
}

// YardPart is a part on a layout.
type YardPart struct {
	Letter string `json:"letter"`
	Name   string `json:"name"`
	Count  int    `json:"count"`
	Length Size   `json:"length" doc:"to saw to"`
	Width  Size   `json:"width"`
}

// YardRest is a piece that is left.
type YardRest struct {
	Length Size `json:"length"`
	Width  Size `json:"width"`
}

// YardSaving is a small change of one size that would save a panel.
type YardSaving struct {
	Says string      `json:"says"`
	Fix  string      `json:"fix,omitempty" doc:"what the button says, where one field of the piece does it"`
	Do   []DocChange `json:"do"`
}

// YardPage shows a plan at the yard. What is found after the context has ended
// may lack the field that a saving takes.
func YardPage(ctx context.Context, p plan.Plan) Yard {
	y := yarder{p}
	out := Yard{Units: p.Piece.Units.String(), Buying: []YardLine{}, Stock: []string{}, Panels: []YardStuff{}, Boards: []YardStuff{}, Price: y.price(), Differs: y.differs(), Findings: []DeskFinding{}}
	for _, l := range p.Buying {
		out.Buying = append(out.Buying, y.line(l))
	}
	out.Total = y.total()
	for _, l := range yard.OnHand(p.Panels, p.Shop, p.Show) {
		out.Stock = append(out.Stock, yard.Amount(l.Count)+" × "+l.What)
	}
	for _, s := range p.Panels {
		out.Panels = append(out.Panels, y.panel(ctx, s))
	}
	for _, w := range p.Woods {
		out.Boards = append(out.Boards, y.wood(w))
	}
	share(out.Panels, p.Panels)
	boards := make([]yard.Panel, len(p.Woods))
	for i, w := range p.Woods {
		if w.Result != nil {
			boards[i] = yard.Panel{Job: *w.Job, Result: *w.Result}
		}
	}
	share(out.Boards, boards)
	for _, f := range p.Findings {
		if PlaceOf(f) == "yard" && f.ID != "panel-saved" { // that stands beside its panels
			out.Findings = append(out.Findings, deskFinding(f))
		}
	}
	out.Answer = y.answer()
	return out
}

// share sets the lengths of all layouts against the longest of them.
func share(stuff []YardStuff, of []yard.Panel) {
	longest := unit.Length(1)
	for _, s := range of {
		for _, l := range s.Result.Layouts {
			longest = max(longest, s.Job.Sheets[l.Sheet].W)
		}
	}
	for i, s := range of {
		for j, l := range s.Result.Layouts {
			stuff[i].Layouts[j].Share = float64(s.Job.Sheets[l.Sheet].W) / float64(longest)
		}
	}
}

type yarder struct{ p plan.Plan }

func (y yarder) size(l unit.Length) Size { return sized(y.p, l) }

func (y yarder) money(m unit.Money) string {
	return strings.TrimSpace(y.p.Shop.Currency + " " + m.Format())
}

// area is a surface in the piece's units.
func (y yarder) area(a unit.Area) string {
	if y.p.Piece.Units == unit.Imperial {
		return decimals(float64(a)/0.09290304, 1) + "\u00a0sq\u00a0ft" // a foot is 0.3048 m
	}
	return decimals(float64(a), 2) + "\u00a0m²"
}

// answer says in one line whether the parts come out, and what is left.
func (y yarder) answer() string {
	panels, short := 0, 0
	left := unit.Area(0)
	for _, s := range y.p.Panels {
		for _, l := range s.Result.Layouts {
			panels += l.Copies
			for _, c := range l.Offcuts {
				left += unit.Area(l.Copies) * unit.AreaOf(c.W, c.H)
			}
		}
		for _, sh := range s.Result.Short {
			short += sh.Count
		}
	}
	boards, open := 0, 0
	for _, w := range y.p.Woods {
		if w.Result == nil {
			open++
			continue
		}
		for _, l := range w.Result.Layouts {
			boards += l.Copies
		}
		for _, sh := range w.Result.Short {
			short += sh.Count
		}
	}
	var from []string
	if panels > 0 {
		from = append(from, document.Count(panels, "panel"))
	}
	if boards > 0 {
		from = append(from, document.Count(boards, "board"))
	}
	rest := ""
	if left > 0 {
		rest = "; " + y.area(left) + " is left over"
	}
	switch {
	case short > 0:
		verb := "do"
		if short == 1 {
			verb = "does"
		}
		return fmt.Sprintf("%s %s not come out of what there is", document.Count(short, "part"), verb)
	case len(from) == 0 && open == 0:
		return "There is nothing to cut"
	case len(from) == 0:
		return "Solid wood only, bought by volume until its boards are typed in"
	}
	return "Everything comes out of " + list(from) + rest
}

// total is what the list comes to.
func (y yarder) total() string {
	sum, without := yard.Total(y.p.Buying)
	lines := yard.ToBuy(y.p.Buying)
	if lines == 0 {
		return "There is nothing to buy"
	}
	said := fmt.Sprintf("%s to buy", document.Count(lines, "line"))
	switch {
	case sum > 0 && without == 0:
		said += ", " + y.money(sum) + " in all"
	case sum > 0:
		said += fmt.Sprintf(", %s; %s without a price", y.money(sum), document.Count(without, "line"))
	}
	if n := y.p.Piece.Count; n > 1 {
		said += fmt.Sprintf(", for %d pieces", n)
	}
	return said
}

func (y yarder) line(l yard.Line) YardLine {
	out := YardLine{
		Sort: string(l.Sort), What: document.Capital(l.What), Buy: strings.TrimSpace(yard.Much(l.Count, l.Unit) + " " + yard.Plural(l.Unit, l.Count)), Why: document.Capital(l.Why),
	}
	if l.Made {
		out.Buy = fmt.Sprintf("make %s here", yard.Amount(l.Count))
	}
	if l.Count != l.Need || l.Measure != "" {
		of := l.Measure
		if of == "" && !strings.HasPrefix(l.Unit, "pack") {
			of = l.Unit
		}
		out.Need = strings.TrimSpace(yard.Much(l.Need, of) + " " + yard.Plural(of, l.Need))
	}
	switch {
	case l.Free:
		out.Each = "free"
	case l.Each > 0:
		out.Each = l.Each.Format()
	}
	if l.Price > 0 {
		out.Price = l.Price.Format()
	}
	if l.Sort == yard.PanelGoods {
		out.Why = "" // the layouts say it
	}
	return out
}

// price is what was reckoned with these goods.
func (y yarder) price() []YardSum {
	out := []YardSum{}
	if !y.p.Price.Known {
		return out
	}
	s := y.p.Price.All
	out = append(out, YardSum{"Goods and supplies", y.money(s.Material)}, YardSum{"Cost with the work", y.money(s.Cost)})
	if s.Pieces > 1 {
		out = append(out, YardSum{"Asked for each", y.money(s.Each)})
	}
	return append(out, YardSum{"Asked, before tax", y.money(s.Net)})
}

// differs says in one sentence why what the pieces are charged for goods and
// supplies is not what the list comes to.
func (y yarder) differs() string {
	p := y.p.Price
	bought, _ := yard.Total(y.p.Buying)
	if !p.Known || p.All.Material == bought {
		return ""
	}
	var why []string
	say := func(ok bool, t string) {
		if ok {
			why = append(why, t)
		}
	}
	some := func(sort yard.Sort) bool {
		return slices.ContainsFunc(y.p.Buying, func(l yard.Line) bool { return l.Sort == sort && l.Charge != l.Price })
	}
	priced := func(is func(price.Line) bool) bool {
		return slices.ContainsFunc(p.All.Lines, func(l price.Line) bool { return l.Amount != 0 && is(l) })
	}
	say(some(yard.SolidWood), "of whole boards what the net and the shop's waste make")
	say(some(yard.SupplyGoods), "of tins and packs what is used")
	say(slices.ContainsFunc(yard.OnHand(y.p.Panels, y.p.Shop, y.p.Show), func(l yard.Line) bool { return l.Charge != 0 }), "what comes from the shop's stock as well")
	say(priced(func(l price.Line) bool { return l.Group == price.Goods && l.Amount < 0 }), "less for offcuts that are kept")
	say(priced(func(l price.Line) bool { return l.Group == price.Supplies && l.Key == "" }), "a share of the goods for consumables")
	say(priced(func(l price.Line) bool { return l.Group == price.Outside }), "work done outside as well")
	if len(why) == 0 {
		return ""
	}
	return fmt.Sprintf("To buy is %s; the pieces are charged %s: %s.", y.money(bought), y.money(p.All.Material), strings.Join(why, ", "))
}

// panel is one kind of panel with its layouts.
func (y yarder) panel(ctx context.Context, s yard.Panel) YardStuff {
	out := YardStuff{Key: s.Key, Title: document.Capital(s.Name), Proven: s.Result.Proven, Layouts: y.layouts(s.Job, s.Result, s.Letters, "panel", s.Yield), Short: y.short(s.Job, s.Result, s.Letters)}
	n, used := 0, 0
	for _, l := range s.Result.Layouts {
		n += l.Copies
		used += l.Copies * len(l.Parts)
	}
	out.Says = fmt.Sprintf("%s out of %s", document.Count(used, "part"), document.Count(n, "panel"))
	if n > 0 {
		out.Says += fmt.Sprintf("; yield %s %%", decimals(s.Yield(s.Result.Layouts...), 0))
	}
	if bought := s.Bought(); bought < n {
		out.Says += fmt.Sprintf("; %d of them from the shop's stock", n-bought)
	}
	out.Bound = bound(s.Job, s.Result, n)
	if s.Saving != nil {
		out.Saving = y.saving(ctx, s)
	}
	return out
}

// bound says why fewer panels will not do.
func bound(job cutting.Job, r cutting.Result, n int) string {
	why := strings.TrimSuffix(r.Because("panel"), ".")
	fewer, one := "One panel fewer will not do", len(job.Sheets) == 1
	switch {
	case n == 0 || len(r.Short) > 0:
		return ""
	case r.Proven && n == 1 && one:
		return "Proven best: it cannot be less than one panel."
	case !one:
		fewer = "No cheaper way is possible"
		if job.Objective == cutting.FewestSheets {
			fewer = "Fewer will not do"
		}
	}
	if r.Proven {
		return "Proven best. " + fewer + ": " + why + "."
	}
	return "Not proven best: the best found in the time there was. What is certain: " + why + "."
}

func (y yarder) layouts(job cutting.Job, r cutting.Result, letters []string, noun string, yield func(...cutting.Layout) float64) []YardLayout {
	out := []YardLayout{}
	n := 1
	for i, l := range r.Layouts {
		sheet := job.Sheets[l.Sheet]
		title := fmt.Sprintf("%s %d", document.Capital(noun), n)
		if l.Copies > 1 {
			title = fmt.Sprintf("%ss %d to %d, all alike", document.Capital(noun), n, n+l.Copies-1)
		}
		if sheet.Offcut {
			title = "Offcut on hand"
		} else {
			n += l.Copies
		}
		if sheet.Stock >= 0 && !sheet.Offcut && noun == "panel" {
			title += ", from stock"
		}
		lay := YardLayout{
			N: i + 1, Title: title, Length: y.size(sheet.W), Width: y.size(sheet.H), Slim: sheet.W > 4*sheet.H,
			Parts: y.parts(job, l, letters), Offcuts: []YardRest{},
		}
		lay.Yield = decimals(yield(l), 0) + " %"
		if l.Order != cutting.AnyOrder {
			lay.Cut = l.Order.String()
		}
		for _, c := range l.Offcuts {
			lay.Offcuts = append(lay.Offcuts, YardRest{y.size(c.W), y.size(c.H)})
		}
		out = append(out, lay)
	}
	return out
}

// parts are those on one layout, by their letters.
func (y yarder) parts(job cutting.Job, l cutting.Layout, letters []string) []YardPart {
	list := yard.TallyOf(job, l)
	slices.SortStableFunc(list, func(a, b yard.Tally) int { return a.Item - b.Item })
	out := []YardPart{}
	for _, t := range list {
		out = append(out, YardPart{letters[t.Item], job.Items[t.Item].Label, t.Count, y.size(t.W), y.size(t.H)})
	}
	slices.SortStableFunc(out, func(a, b YardPart) int { return cmp.Compare(len(a.Letter), len(b.Letter)) })
	return out
}

// short are the parts without a place.
func (y yarder) short(job cutting.Job, r cutting.Result, letters []string) []string {
	out := []string{}
	for _, s := range r.Short {
		it := job.Items[s.Item]
		t := fmt.Sprintf("%d × %s, %s: %s × %s", s.Count, letters[s.Item], it.Label, y.size(it.W).Own, y.size(it.H).Own)
		if s.Lacks > 0 {
			t += fmt.Sprintf(", %s of width lacking", y.size(s.Lacks).Own)
		}
		out = append(out, t)
	}
	return out
}
