package shop

import "casewright/internal/unit"

// Machines are what the machines for solid wood take. The lengths taken where
// nothing is said lie at the long end of manuals seen: planers ask for 5-5/8,
// 7 or 14 in and 3/16 to 1/2 in, jointers for 10 to 12 in and 3/8 to 1/2 in.
type Machines struct {
	PlanerShortest  unit.Length `yaml:"planer-shortest,omitempty" default:"12 in" doc:"shortest piece the planer may be fed, by its manual"`
	PlanerThinnest  unit.Length `yaml:"planer-thinnest,omitempty" default:"1/4 in" doc:"thinnest it planes without a carrier board, by its manual"`
	PlanerWidest    unit.Length `yaml:"planer-widest,omitempty" doc:"widest it takes; left out: not looked at"`
	JointerShortest unit.Length `yaml:"jointer-shortest,omitempty" default:"12 in" doc:"shortest piece for the jointer, by its manual"`
	JointerThinnest unit.Length `yaml:"jointer-thinnest,omitempty" default:"1/2 in" doc:"thinnest piece for the jointer without a holder, by its manual"`
}
