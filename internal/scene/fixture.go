package scene

import (
	"casewright/internal/build"
	"casewright/internal/geom"
)

// Fixture is bought hardware where it goes, in the blocks and rods of its
// build.Fixture.
type Fixture struct {
	Kind    string `json:"kind" enum:"pull,runner,hinge,plate,caster,foot"`
	Name    string `json:"name"`
	Boxes   []Box  `json:"boxes,omitempty"`
	Rods    []Rod  `json:"rods,omitempty"`
	ApartMM Vec    `json:"apart_mm"`

	atMM Vec
}

// Box is an upright block.
type Box struct {
	LowMM  Vec `json:"low_mm"`
	HighMM Vec `json:"high_mm"`
}

// Rod is a round bar.
type Rod struct {
	FromMM     Vec     `json:"from_mm"`
	ToMM       Vec     `json:"to_mm"`
	DiameterMM float64 `json:"diameter_mm"`
}

func (m *maker) fixtures() {
	m.out.Fixtures = []Fixture{}
	for _, f := range m.plan.Model.Fixtures {
		fx := Fixture{Kind: string(f.Kind), Name: f.Name, atMM: place(f.At)}
		for _, b := range f.Blocks {
			fx.Boxes = append(fx.Boxes, Box{place(b.Min).round(), place(b.Max).round()})
		}
		for _, r := range f.Rods {
			fx.Rods = append(fx.Rods, Rod{place(r.From).round(), place(r.To).round(), mm(r.Diameter.MM())})
		}
		switch down := mm(-0.3 * m.plan.Model.Outside.Z.MM()); f.Kind {
		case build.FixturePlate:
			fx.ApartMM[2] = mm(down / 2)
		case build.FixtureCaster, build.FixtureFoot:
			fx.ApartMM[2] = down
		}
		m.out.Fixtures = append(m.out.Fixtures, fx)
	}
}

func place(v geom.Vec) Vec { return Vec{v.X.MM(), v.Y.MM(), v.Z.MM()} }
