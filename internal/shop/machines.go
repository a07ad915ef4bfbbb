package shop

import (
	"cmp"

	"casewright/internal/unit"
)

// Machines are what the machines for solid wood take. The lengths taken where
// nothing is said lie at the long end of manuals seen: planers ask for 5-5/8,
// 7 or 14 in and 3/16 to 1/2 in, jointers for 10 to 12 in and 3/8 to 1/2 in.
// They are round in the units of the shop; see Milling.
type Machines struct {
	PlanerShortest  unit.Length `yaml:"planer-shortest,omitempty" zero:"no" doc:"shortest piece the planer may be fed, by its manual; left out: 300 mm, of a shop in inches 12 in"`
	PlanerThinnest  unit.Length `yaml:"planer-thinnest,omitempty" zero:"no" doc:"thinnest it planes without a carrier board, by its manual; left out: 6 mm, of a shop in inches 1/4 in"`
	PlanerWidest    unit.Length `yaml:"planer-widest,omitempty" zero:"no" doc:"widest it takes; left out: not looked at"`
	JointerShortest unit.Length `yaml:"jointer-shortest,omitempty" zero:"no" doc:"shortest piece for the jointer, by its manual; left out: 300 mm, of a shop in inches 12 in"`
	JointerThinnest unit.Length `yaml:"jointer-thinnest,omitempty" zero:"no" doc:"thinnest piece for the jointer without a holder, by its manual; left out: 13 mm, of a shop in inches 1/2 in"`
}

// Milling is what the machines take, with what is taken where the shop says
// nothing.
func (v Shop) Milling() Machines {
	of := func(metric, inches unit.Length) unit.Length {
		if v.Units == unit.Imperial {
			return inches
		}
		return metric
	}
	m := v.Machines
	long := of(300*unit.Millimetre, 12*unit.Inch)
	m.PlanerShortest, m.JointerShortest = cmp.Or(m.PlanerShortest, long), cmp.Or(m.JointerShortest, long)
	m.PlanerThinnest = cmp.Or(m.PlanerThinnest, of(6*unit.Millimetre, unit.Inch/4))
	m.JointerThinnest = cmp.Or(m.JointerThinnest, of(13*unit.Millimetre, unit.Inch/2))
	return m
}
