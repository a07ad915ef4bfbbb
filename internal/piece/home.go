package piece

import (
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Home is the room in which the piece will stand.
type Home struct {
	Temperature float64 `yaml:"temperature-c,omitempty" default:"21" min:"-2" max:"60" doc:"usual temperature of the room, in degrees Celsius"`
	Dry         float64 `yaml:"humidity-least-percent" need:"true" min:"5" max:"95" doc:"relative humidity in the driest month"`
	Damp        float64 `yaml:"humidity-most-percent" need:"true" min:"5" max:"95" doc:"relative humidity in the dampest month"`
}

// WayIn is the narrowest that the piece is carried through.
type WayIn struct {
	DoorWidth  unit.Length `yaml:"door-width,omitempty" min:"300 mm" max:"10 m" doc:"clear width of the narrowest door"`
	DoorHeight unit.Length `yaml:"door-height,omitempty" min:"300 mm" max:"10 m" doc:"clear height of the lowest door"`
	Stair      unit.Length `yaml:"stair-width,omitempty" min:"300 mm" max:"10 m" doc:"clear width of the stair between walls or rails"`
	Landing    unit.Length `yaml:"landing,omitempty" min:"300 mm" max:"10 m" doc:"depth of the landing or passage round which it must be turned; left out: no turn"`
	Headroom   unit.Length `yaml:"headroom,omitempty" min:"300 mm" max:"10 m" doc:"least clear height over stair and landing"`
}

// Driest and Dampest are the moisture contents that furniture in heated rooms
// goes through where no home is given: the averages of the driest and the
// dampest region of the United States (FPL-GTR-190 chapter 13).
const (
	Driest  wood.Moisture = 6
	Dampest wood.Moisture = 11
)

// Moistures are the moisture contents that wood in the home comes to in its
// driest and its dampest month (FPL-GTR-190 eq. 4-5), to a tenth of a percent;
// Driest and Dampest for no home.
func (h *Home) Moistures() (dry, damp wood.Moisture) {
	if h == nil {
		return Driest, Dampest
	}
	dry, err1 := wood.EMC(wood.Celsius(h.Temperature), wood.Humidity(h.Dry/100))
	damp, err2 := wood.EMC(wood.Celsius(h.Temperature), wood.Humidity(h.Damp/100))
	if err1 != nil || err2 != nil { // decoding refuses what the formula does not hold for
		return Driest, Dampest
	}
	return tenth(dry), tenth(damp)
}

func tenth(m wood.Moisture) wood.Moisture { return wood.Moisture(float64(int(m*10+0.5)) / 10) }

func (r *rules) home(h *Home) {
	if h != nil && h.Dry >= h.Damp && h.Damp > 0 {
		r.Say("home.humidity-least-percent", "home.humidity-least-percent is %g, not less than humidity-most-percent (%g). Write the driest month's first.", h.Dry, h.Damp)
	}
}

func (r *rules) wayIn(w *WayIn) {
	if w == nil {
		return
	}
	r.wants(w.DoorWidth > 0 || w.Stair > 0 || w.Landing > 0, "way-in.door-width", "a way in has a door or a stair")
	r.idle(w.Headroom > 0 && w.Stair == 0 && w.Landing == 0, "way-in.headroom", "no stair or landing is given")
}
