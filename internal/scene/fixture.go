package scene

import (
	"casewright/internal/build"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Fixture is bought hardware where it goes, in boxes and rods that show its
// place and size and no more.
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

// Sizes of hardware where its box does not say, in mm; only for the picture.
const (
	pullOut     = 32.0
	pullBar     = 10.0
	knobWide    = 30.0
	knobOut     = 26.0
	runnerThick = 12.7
	runnerHigh  = 45.0
	trackThick  = 30.0
	trackHigh   = 10.0
	plateThick  = 2.5
	plateWide   = 50.0
	cupWide     = 35.0
	rim         = 3.0
	footWide    = 40.0
	wheelThick  = 24.0
)

func (m *maker) fixtures() {
	m.out.Fixtures = []Fixture{}
	for _, f := range m.plan.Model.Hardware {
		h := m.plan.Shop.Hardware[f.Key]
		for i, v := range f.At {
			at := Vec{v.X.MM(), v.Y.MM(), v.Z.MM()}
			fx := Fixture{Name: f.Name, atMM: at}
			switch h.Kind {
			case "pull":
				fx.pull(f, at)
			case "side-runner", "under-runner", "corner-runner":
				fx.runner(h, f.Length.MM(), at, i%2 == 1)
			case "cup-hinge":
				fx.hinge(h, at)
			case "leg-plate", "caster", "foot":
				fx.under(h, at)
				fx.ApartMM = Vec{0, 0, mm(-0.3 * m.plan.Model.Outside.Z.MM())}
				if h.Kind == "leg-plate" {
					fx.ApartMM[2] = mm(fx.ApartMM[2] / 2)
				}
			default:
				continue
			}
			m.out.Fixtures = append(m.out.Fixtures, fx)
		}
	}
}

func or(l unit.Length, usual float64) float64 {
	if l > 0 {
		return l.MM()
	}
	return usual
}

func (f *Fixture) box(lo, hi Vec) { f.Boxes = append(f.Boxes, Box{lo.round(), hi.round()}) }

func (f *Fixture) rod(from, to Vec, d float64) {
	f.Rods = append(f.Rods, Rod{from.round(), to.round(), mm(d)})
}

// pull stands on the show face: a bar on two posts, level on a drawer and
// upright on a door, or a knob.
func (f *Fixture) pull(b build.Fitting, at Vec) {
	f.Kind = "pull"
	c := b.Length.MM()
	if c == 0 {
		neck := Vec{at[0], at[1] - knobOut/2, at[2]}
		f.rod(at, neck, knobWide/2)
		f.rod(neck, Vec{at[0], at[1] - knobOut, at[2]}, knobWide)
		return
	}
	along := 0
	if b.For == "doors" {
		along = 2
	}
	a, z := at, at
	a[along] -= c / 2
	z[along] += c / 2
	for _, p := range []Vec{a, z} {
		out := p
		out[1] -= pullOut - pullBar/2
		f.rod(p, out, pullBar*0.8)
	}
	a[1] -= pullOut - pullBar/2
	z[1] = a[1]
	a[along] -= pullBar * 1.5
	z[along] += pullBar * 1.5
	f.rod(a, z, pullBar)
}

// runner lies between the box and the side of its opening, or under the box.
func (f *Fixture) runner(h shop.Hardware, length float64, at Vec, right bool) {
	f.Kind = "runner"
	thick, low, high := or(h.Thickness, runnerThick), at[2]-runnerHigh/2, at[2]+runnerHigh/2
	if h.Kind != "side-runner" {
		thick, low, high = trackThick, at[2]-trackHigh, at[2]
	}
	lo, hi := Vec{at[0], at[1], low}, Vec{at[0] + thick, at[1] + length, high}
	if right {
		lo[0], hi[0] = at[0]-thick, at[0]
	}
	f.box(lo, hi)
}

// hinge shows the cup where it is let into the hidden face of the door: only
// its rim, so that no line of it shows through the show face.
func (f *Fixture) hinge(h shop.Hardware, at Vec) {
	f.Kind = "hinge"
	f.rod(Vec{at[0], at[1] - rim, at[2]}, Vec{at[0], at[1] + 2, at[2]}, or(h.Cup, cupWide))
}

// under is what stands under the case: a plate, a caster, a foot.
func (f *Fixture) under(h shop.Hardware, at Vec) {
	l := or(h.Length, plateWide)
	w := or(h.Width, l)
	t := or(h.Thickness, plateThick)
	plate := func() { f.box(Vec{at[0] - l/2, at[1] - w/2, at[2] - t}, Vec{at[0] + l/2, at[1] + w/2, at[2]}) }
	switch h.Kind {
	case "leg-plate":
		f.Kind = "plate"
		plate()
	case "caster":
		f.Kind = "caster"
		plate()
		d := at[2] * 0.66
		f.rod(Vec{at[0] - wheelThick/2, at[1], d / 2}, Vec{at[0] + wheelThick/2, at[1], d / 2}, d)
		for _, x := range []float64{-wheelThick/2 - 3, wheelThick/2 + 1} {
			f.box(Vec{at[0] + x, at[1] - d/5, d/2 - d/8}, Vec{at[0] + x + 2, at[1] + d/5, at[2] - t})
		}
	default:
		f.Kind = "foot"
		d := or(h.Width, footWide)
		f.rod(Vec{at[0], at[1], 0}, at, d)
	}
}
