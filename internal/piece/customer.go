package piece

import "casewright/internal/unit"

// Customer is for whom the piece is made and what was agreed; quote and
// delivery note print it as it stands.
type Customer struct {
	Name     string     `yaml:"name" need:"true" doc:"name on the quote"`
	Address  []string   `yaml:"address,omitempty" doc:"address, a line each"`
	Quote    string     `yaml:"quote,omitempty" doc:"number of the quote"`
	Date     string     `yaml:"date,omitempty" of:"date" doc:"day of the quote, such as 2027-03-01; left out: a line to write it on"`
	Km       float64    `yaml:"delivery-km,omitempty" min:"0" max:"100000" doc:"kilometres driven for delivery, there and back"`
	Packing  unit.Money `yaml:"packing,omitempty" doc:"cost of packing each piece"`
	Outside  []Outside  `yaml:"outside-work,omitempty" doc:"work and goods bought in for this piece, such as spraying, glass, upholstery"`
	Extras   []Extra    `yaml:"extras,omitempty" doc:"supplies of the shop that go with each piece"`
	Told     unit.Money `yaml:"price-told,omitempty" zero:"no" doc:"net price already told to the customer, for all pieces; the plan compares it"`
	Without  []string   `yaml:"not-included,omitempty" doc:"what the price does not include, a line each"`
	FixedBy  string     `yaml:"fixed-by,omitempty" one:"maker|customer" default:"customer" doc:"who fixes it to the wall"`
	Care     []string   `yaml:"care,omitempty" doc:"care of the piece, a sentence each; left out: the usual words for its finish"`
	Limits   []string   `yaml:"load-limits,omitempty" doc:"further load limits, a sentence each"`
	Declares []string   `yaml:"declares,omitempty" doc:"what labels of the materials say, word for word; the delivery note repeats it and adds nothing"`
}

// Outside is work or goods bought in.
type Outside struct {
	What  string      `yaml:"what" need:"true" doc:"what it is"`
	Price *unit.Money `yaml:"price,omitempty" doc:"what it costs for each piece; 0 where it costs nothing"`
	Once  bool        `yaml:"once,omitempty" doc:"paid once, however many pieces are made"`
}

// Extra is a supply that goes with a piece.
type Extra struct {
	Supply string  `yaml:"supply" need:"true" of:"supply" doc:"key of the supply in the shop"`
	Count  float64 `yaml:"count,omitempty" default:"1" min:"0.1" max:"100000" doc:"units for each piece"`
}
