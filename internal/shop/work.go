package shop

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/unit"
)

// Time is how long an operation takes in this shop, in minutes.
type Time struct {
	Setup float64 `yaml:"setup,omitempty" min:"0" max:"10000" doc:"minutes once each time it is set up, however many are made"`
	Run   float64 `yaml:"run,omitempty" min:"0" max:"10000" doc:"minutes for each unit: cut, kerf, part, joint, square metre; the built-in table of times names the unit"`
}

// Clamp is one kind of clamp and how many of it hang on the wall.
type Clamp struct {
	Name   string      `yaml:"name" need:"true" doc:"how the maker calls it"`
	Count  int         `yaml:"count" need:"true" min:"1" max:"1000" doc:"how many"`
	Opens  unit.Length `yaml:"opens" need:"true" min:"10 mm" max:"10 m" doc:"widest it spans"`
	Reach  unit.Length `yaml:"reach,omitempty" min:"10 mm" max:"2 m" doc:"from its bar to the middle of its jaw; left out: not looked at"`
	ForceN float64     `yaml:"force-n,omitempty" default:"4400" min:"10" max:"100000" doc:"force it gives, in newtons; about 1300 light bar, 4400 heavy bar or pipe"`
}

// Glue is a glue as its label says; what is left out follows the usual figures
// of its class.
type Glue struct {
	Class    string   `yaml:"class" need:"true" one:"pva-white|pva-yellow|urea|hide-hot|hide-liquid|epoxy-slow|polyurethane" doc:"class of glue"`
	Name     string   `yaml:"name,omitempty" doc:"what stands on the bottle"`
	Open     float64  `yaml:"open-minutes,omitempty" zero:"no" min:"0" max:"1000" doc:"spread glue may lie open before parts meet"`
	Assembly float64  `yaml:"assembly-minutes,omitempty" zero:"no" min:"0" max:"1000" doc:"from the first spread to the last clamp"`
	Clamp    float64  `yaml:"clamp-minutes,omitempty" zero:"no" min:"0" max:"10000" doc:"time in the clamps"`
	Full     float64  `yaml:"full-hours,omitempty" zero:"no" min:"0" max:"1000" doc:"until it may be stressed"`
	ColdestC *float64 `yaml:"coldest-c,omitempty" min:"-20" max:"40" doc:"least temperature of shop and wood, in degrees Celsius"`
}

// Coat is a finish as its label says; what is left out follows the usual
// figures of its class.
type Coat struct {
	Name     string  `yaml:"name,omitempty" doc:"what stands on the tin"`
	Coats    int     `yaml:"coats,omitempty" zero:"no" min:"0" max:"20" doc:"how many"`
	Recoat   float64 `yaml:"recoat-hours,omitempty" zero:"no" min:"0" max:"1000" doc:"hours before the next coat"`
	Cure     float64 `yaml:"cure-days,omitempty" zero:"no" min:"0" max:"365" doc:"days until it may be used and wiped"`
	Coverage float64 `yaml:"coverage-m2-per-litre,omitempty" zero:"no" min:"0" max:"200" doc:"square metres to the litre, one coat"`
}

// Working is when, where and by how many the work is done.
type Working struct {
	People      int      `yaml:"people,omitempty" default:"1" min:"1" max:"20" doc:"how many work on a piece"`
	Hours       float64  `yaml:"hours-per-day,omitempty" default:"6" min:"0.5" max:"16" doc:"hours at the bench in a day"`
	Starts      float64  `yaml:"day-starts,omitempty" default:"8" min:"0" max:"23" doc:"hour of the clock at which the day begins"`
	Days        string   `yaml:"days,omitempty" one:"mon-fri|mon-sat|all" default:"mon-fri" doc:"days that are worked"`
	Closed      []string `yaml:"closed,omitempty" doc:"dates on which nobody works, such as 2027-12-24"`
	Temperature float64  `yaml:"temperature-c,omitempty" default:"20" min:"-20" max:"50" doc:"in the shop, in degrees Celsius"`
	Humidity    float64  `yaml:"humidity-percent,omitempty" default:"50" min:"0" max:"100" doc:"relative humidity in the shop"`
}

func (r *rules) working(w Working) {
	for i, d := range w.Closed {
		if !document.IsDate(d) {
			path := fmt.Sprintf("working.closed[%d]", i)
			r.Say(path, "%s is “%s”, which is not a date. Write it as year, month, day: 2027-12-24.", path, d)
		}
	}
	if w.Starts+w.Hours > 24 {
		r.Say("working.hours-per-day", "A day of %g hours that begins at %g runs past midnight. Begin earlier or write fewer hours.", w.Hours, w.Starts)
	}
}
