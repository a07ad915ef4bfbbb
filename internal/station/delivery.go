package station

import (
	"fmt"

	"casewright/internal/check"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/route"
)

// Delivery is the delivery note as a page, and the last step of the work.
type Delivery struct {
	Answer   string          `json:"answer"`
	Name     string          `json:"name" doc:"of the piece"`
	Customer string          `json:"customer,omitempty"`
	Address  []string        `json:"address"`
	Quote    string          `json:"quote,omitempty"`
	Date     string          `json:"date,omitempty" doc:"on which the calendar has it delivered"`
	Handed   [][]string      `json:"handed" doc:"what is handed over, and what it is"`
	Points   []DeliveryPoint `json:"points"`
	Steps    []WorkStep      `json:"steps"`
	Cautions Cautions        `json:"cautions"`
}

// DeliveryPoint is lines under a head, with where they come from.
type DeliveryPoint struct {
	Head   string   `json:"head"`
	Lines  []string `json:"lines"`
	Source string   `json:"source,omitempty"`
}

// DeliveryPage is the page of the delivery.
func DeliveryPage(p plan.Plan, ticks Ticks) Delivery {
	w := workOn(p, ticks)
	mass := check.Mass(p.Model, p.Shop)
	out := Delivery{Name: p.Piece.Name, Address: []string{}, Date: p.Route.Calendar.Delivery, Points: []DeliveryPoint{}, Steps: []WorkStep{}}
	handed, points := w.words.Delivery(mass)
	out.Handed = handed
	for _, x := range points {
		out.Points = append(out.Points, DeliveryPoint{x.Head, x.Lines, x.Source})
	}
	var works []route.Work
	for _, st := range p.Route.Steps {
		if st.Place == route.AtDelivery {
			out.Steps = append(out.Steps, w.step(st.N))
			works = append(works, st.Mind...)
		}
	}
	out.Cautions = cautionsOf(works...)
	n := max(1, p.Piece.Count)
	out.Answer = fmt.Sprintf("%s of %s", document.Count(n, "piece"), w.words.Mass(mass))
	if n > 1 {
		out.Answer += " each"
	}
	if c := p.Piece.Customer; c != nil {
		out.Customer, out.Quote = c.Name, c.Quote
		out.Address = append(out.Address, c.Address...)
		out.Answer += " for " + c.Name
	} else {
		out.Answer += "; nobody is entered to deliver it to"
	}
	if out.Date != "" {
		out.Answer += ", " + out.Date
	}
	return out
}
