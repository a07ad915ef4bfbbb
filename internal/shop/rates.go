package shop

import (
	"fmt"
	"math"
	"strconv"

	"casewright/internal/unit"
)

// Rates are what work costs in this shop and what is earned on it. Margin and
// markup are two fields, so that one is never taken for the other: a margin is
// a share of the price, a markup is added to the cost.
type Rates struct {
	Wage        unit.Money  `yaml:"wage,omitempty" doc:"of one hour of work"`
	Overhead    unit.Money  `yaml:"overhead-per-year,omitempty" doc:"rent, insurance, power, machines: what a year costs with or without work"`
	Billable    int         `yaml:"billable-hours,omitempty" min:"1" max:"100000" doc:"hours of a year that customers pay for"`
	Margin      *float64    `yaml:"margin-percent,omitempty" min:"0" max:"95" doc:"profit as a share of the price; not beside markup-percent"`
	Markup      *float64    `yaml:"markup-percent,omitempty" min:"0" max:"2000" doc:"profit added to the cost; not beside margin-percent"`
	Contingency float64     `yaml:"contingency-percent,omitempty" min:"0" max:"100" doc:"added to the cost for what nobody foresees"`
	Consumables float64     `yaml:"consumables-percent,omitempty" min:"0" max:"100" doc:"glue, finish, abrasive and the like as a share of the goods, where the shop lists no such supplies; 5 to 10 are usual"`
	Km          *unit.Money `yaml:"km,omitempty" doc:"of one kilometre of delivery; 0 where it costs nothing"`
	RoundUp     unit.Money  `yaml:"round-up-to,omitempty" doc:"the price of one piece is rounded up to a multiple of this; left out: to the nearest cent"`
	Credit      float64     `yaml:"offcut-credit-percent,omitempty" min:"0" max:"100" doc:"share of a panel's price that is taken off for the area of offcuts kept"`
}

// Tax is added to the net price.
type Tax struct {
	Name    string  `yaml:"name" need:"true" doc:"how it is called on the quote"`
	Percent float64 `yaml:"percent,omitempty" min:"0" max:"100" doc:"share of the net price, at most four decimals"`
}

// Terms stand on every quote of the shop.
type Terms struct {
	Valid    int       `yaml:"valid-days,omitempty" default:"30" min:"1" max:"1000" doc:"days for which a quote holds"`
	Payments []Payment `yaml:"payments,omitempty" doc:"what is paid when; left out: half with the order, half before delivery"`
	Lines    []string  `yaml:"lines,omitempty" doc:"further terms, a sentence each"`
}

// Payment is a share of the price and when it is due.
type Payment struct {
	Percent float64 `yaml:"percent" need:"true" min:"0.1" max:"100" doc:"share of the price with tax"`
	When    string  `yaml:"when" need:"true" doc:"when it is due, such as with the order"`
}

// Supply is what is bought in cans, bottles and rolls and serves more than one
// piece. A piece is charged for what it uses of it.
type Supply struct {
	Kind   string      `yaml:"kind" need:"true" one:"glue|finish|abrasive|wrap|restraint|label|interlock|wall-fixing|other" doc:"glue, finish and abrasive are measured from joints and areas; a restraint goes with what is fixed to the wall, it and label and interlock with clothing storage, wall fixings with what hangs; other only where a piece asks for it"`
	Name   string      `yaml:"name,omitempty" doc:"what to ask for"`
	Class  string      `yaml:"class,omitempty" one:"oil|hardwax-oil|wiping-varnish|varnish|shellac|lacquer|waterborne|epoxy-slow" doc:"finish: its class, as the piece names it; glue: epoxy-slow for what fills kerfs that stay open"`
	Unit   string      `yaml:"unit,omitempty" default:"piece" doc:"what it is measured in: litre, ml, kg, g, gallon, quart, pint, fl oz or lb for what is measured, else such as sheet, m"`
	Pack   float64     `yaml:"pack,omitempty" default:"1" min:"0.1" max:"100000" doc:"how many units one can, bottle or roll holds"`
	Price  *unit.Money `yaml:"price,omitempty" doc:"of one can, bottle or roll; 0 where it costs nothing"`
	Covers float64     `yaml:"covers-m2,omitempty" min:"0.1" max:"100000" doc:"square metres that one unit serves: one coat, one glued face, one grit; as its label says; left out for glue and finish: the usual figure of the class"`
	Each   float64     `yaml:"each,omitempty" min:"0" max:"100000" doc:"units for one piece, for what is not measured"`
}

func (r *rules) money(v *Shop) {
	if p := v.Rates; p != nil {
		if p.Wage == 0 {
			r.Say("rates.wage", "rates.wage is missing: without it work costs nothing. Write what an hour of your work is to earn.")
		}
		if p.Overhead > 0 && p.Billable == 0 {
			r.Say("rates.billable-hours", "rates.billable-hours is missing: an overhead of a year is shared by the hours that customers pay for. Add them; 55 to 70 in 100 hours worked are usual.")
		}
		if p.Margin != nil && p.Markup != nil {
			r.Say("rates.markup-percent", "rates has a margin and a markup. A markup of %s %% on the cost is a margin of %s %% of the price. Keep the one that you mean.",
				Percent(*p.Markup), Percent(100**p.Markup/(100+*p.Markup)))
		}
	}
	sum := 0.0
	for _, p := range v.Terms.Payments {
		sum += p.Percent
	}
	if len(v.Terms.Payments) > 0 && math.Abs(sum-100) > 1e-6 {
		r.Say("terms.payments", "terms.payments add up to %s %%. Make them add up to 100.", Percent(sum))
	}
	for _, k := range sorted(v.Supplies) {
		s, path := v.Supplies[k], "supplies."+k
		switch s.Kind {
		case "glue", "finish", "abrasive":
			if s.Each > 0 {
				r.Say(path+".each", "%s.each does nothing here: %s is measured. Leave it out.", path, s.Kind)
			}
			if s.Kind == "abrasive" && s.Covers == 0 {
				r.Say(path+".covers-m2", "%s.covers-m2 is missing: it says how far one %s goes. Copy it off the label.", path, s.Unit)
			}
		default:
			if s.Covers > 0 {
				r.Say(path+".covers-m2", "%s.covers-m2 does nothing here: only glue, finish and abrasive are measured. Write each instead.", path)
			}
		}
		switch fills := s.Class == "epoxy-slow"; {
		case s.Kind == "finish" && s.Class == "":
			r.Say(path+".class", "%s.class is missing: it says for which finish it is. Add it.", path)
		case s.Kind == "finish" && fills:
			r.Say(path+".class", "%s.class is that of a glue. Write which finish it is.", path)
		case s.Kind != "finish" && s.Kind != "" && s.Class != "" && !(s.Kind == "glue" && fills):
			r.Say(path+".class", "%s.class does nothing here: only a finish has one, and a glue that fills kerfs. Leave it out.", path)
		}
	}
	for _, k := range sorted(v.Woods) {
		w := v.Woods[k]
		for _, class := range sorted(w.Classes) {
			if w.Classes[class] == 0 {
				r.Say(fmt.Sprintf("woods.%s.class-prices.%s", k, class), "woods.%s.class-prices.%s has no price. Write what the yard asks for that thickness, or leave the line out.", k, class)
			}
		}
	}
}

// Percent prints a percentage with at most two decimals.
func Percent(p float64) string { return strconv.FormatFloat(math.Round(p*100)/100, 'f', -1, 64) }
