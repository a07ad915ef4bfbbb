package record

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/unit"
)

// Bought is what was bought for the piece, as the bill says.
type Bought struct {
	What  string     `yaml:"what" need:"true" doc:"what it was"`
	Key   string     `yaml:"key,omitempty" doc:"key of the panel, wood, band, hardware or supply in the shop"`
	Count float64    `yaml:"count,omitempty" min:"0" max:"1000000" doc:"how many, in the unit of the buying list"`
	Paid  unit.Money `yaml:"paid,omitempty" doc:"what was paid in all, without tax that comes back"`
	From  string     `yaml:"from,omitempty" doc:"where it was bought"`
	Lot   string     `yaml:"lot,omitempty" doc:"lot or sequence"`
	Label string     `yaml:"label,omitempty" doc:"what its label says of materials and emissions, word for word; the delivery note repeats it"`
}

// Change is something that the customer asked for after the quote, or that
// came up. A change that makes it cheaper has negative figures.
type Change struct {
	What     string     `yaml:"what" need:"true" doc:"what is changed"`
	Date     string     `yaml:"date,omitempty" doc:"day it was asked for, such as 2027-03-01"`
	Material unit.Money `yaml:"material,omitempty" min:"-1000000000" doc:"cost of goods more (or less) for all pieces"`
	Hours    float64    `yaml:"hours,omitempty" min:"-10000" max:"10000" doc:"hours more (or less) for all pieces"`
	Days     int        `yaml:"days,omitempty" min:"0" max:"1000" doc:"days later that it is delivered"`
	Agreed   bool       `yaml:"agreed,omitempty" doc:"the customer has signed it"`
}

func changes(r *document.Rules, v *Record) {
	for i, c := range v.Changes {
		if c.Date != "" && !document.IsDate(c.Date) {
			path := fmt.Sprintf("changes[%d].date", i)
			r.Say(path, "%s is “%s”, which is not a date. Write it as year, month, day: 2027-03-01.", path, c.Date)
		}
	}
}
