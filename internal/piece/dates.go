package piece

import "casewright/internal/document"

func (r *rules) dates(v *Piece) {
	for _, d := range []struct{ path, text string }{{"start", v.Start}, {"deliver-by", v.DeliverBy}} {
		if d.text != "" && !document.IsDate(d.text) {
			r.Say(d.path, "%s is “%s”, which is not a date. Write it as year, month, day: 2027-03-01.", d.path, d.text)
		}
	}
	if c := v.Customer; c != nil && c.Date != "" && !document.IsDate(c.Date) {
		r.Say("customer.date", "customer.date is “%s”, which is not a date. Write it as year, month, day: 2027-03-01.", c.Date)
	}
	if document.IsDate(v.Start) && document.IsDate(v.DeliverBy) && v.DeliverBy < v.Start {
		r.Say("deliver-by", "deliver-by is %s, before the start on %s. Write a later day.", v.DeliverBy, v.Start)
	}
}
