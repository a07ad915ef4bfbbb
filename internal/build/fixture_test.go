package build

import (
	"testing"

	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// reach is the upright box round a fixture.
func reach(f Fixture) geom.Bounds3 {
	var all []geom.Vec
	for _, b := range f.Blocks {
		all = append(all, b.Min, b.Max)
	}
	for _, r := range f.Rods {
		half := r.Diameter / 2
		d := geom.Vec{X: half, Y: half, Z: half}
		switch { // nothing beyond its flat ends
		case r.From.X != r.To.X:
			d.X = 0
		case r.From.Y != r.To.Y:
			d.Y = 0
		default:
			d.Z = 0
		}
		for _, v := range []geom.Vec{r.From, r.To} {
			all = append(all, v.Add(d), v.Sub(d))
		}
	}
	return geom.BoundsOf(all...)
}

// Hardware is as large as the shop says, and where it is silent, one plain
// block or rod.
func TestFixturesHaveTheSizesOfTheShop(t *testing.T) {
	mm := func(v float64) unit.Length { return unit.MM(v) }
	for _, c := range []struct {
		name   string
		h      shop.Hardware
		use    string
		at     geom.Vec
		want   [3]float64 // wide, deep, high
		shapes int
	}{
		{"bar on a drawer", shop.Hardware{Kind: "pull", Centres: mm(128), Length: mm(160), Width: mm(10), Height: mm(32)}, "drawers", geom.Vec{X: mm(300), Z: mm(400)}, [3]float64{160, 32, 10}, 3},
		{"bar on a door", shop.Hardware{Kind: "pull", Centres: mm(96), Length: mm(125), Width: mm(12), Height: mm(32)}, "doors", geom.Vec{X: mm(300), Z: mm(400)}, [3]float64{12, 32, 125}, 3},
		{"bar of which the centres are known", shop.Hardware{Kind: "pull", Centres: mm(96)}, "drawers", geom.Vec{}, [3]float64{106, 30, 10}, 1},
		{"knob", shop.Hardware{Kind: "pull", Width: mm(32), Height: mm(25)}, "drawers", geom.Vec{}, [3]float64{32, 25, 32}, 1},
		{"caster", shop.Hardware{Kind: "caster", Height: mm(76), Length: mm(60), Width: mm(50), Thickness: mm(2.5), Wheel: mm(50), WheelWidth: mm(22)}, "caster", geom.Vec{Z: mm(76)}, [3]float64{60, 50, 76}, 3},
		{"caster of unknown wheel", shop.Hardware{Kind: "caster", Height: mm(76), Length: mm(60), Width: mm(50)}, "caster", geom.Vec{Z: mm(76)}, [3]float64{60, 50, 76}, 1},
		{"round foot", shop.Hardware{Kind: "foot", Height: mm(40), Width: mm(30)}, "foot", geom.Vec{Z: mm(40)}, [3]float64{30, 30, 40}, 1},
		{"square foot", shop.Hardware{Kind: "foot", Height: mm(40), Length: mm(35), Width: mm(30)}, "foot", geom.Vec{Z: mm(40)}, [3]float64{35, 30, 40}, 1},
		{"plate", shop.Hardware{Kind: "leg-plate", Length: mm(75), Width: mm(70), Thickness: mm(2.5)}, "leg", geom.Vec{Z: mm(150)}, [3]float64{75, 70, 2.5}, 1},
	} {
		got := fixtures([]Fitting{{Key: "it", For: c.use, At: []geom.Vec{c.at}}}, shop.Shop{Hardware: map[string]shop.Hardware{"it": c.h}})
		if len(got) != 1 {
			t.Errorf("%s: %d fixtures", c.name, len(got))
			continue
		}
		b := reach(got[0])
		size := [3]unit.Length{b.Max.X - b.Min.X, b.Max.Y - b.Min.Y, b.Max.Z - b.Min.Z}
		if size != [3]unit.Length{mm(c.want[0]), mm(c.want[1]), mm(c.want[2])} {
			t.Errorf("%s: %v mm, want %v", c.name, size, c.want)
		}
		if n := len(got[0].Blocks) + len(got[0].Rods); n != c.shapes {
			t.Errorf("%s: of %d shapes, want %d", c.name, n, c.shapes)
		}
		switch c.h.Kind {
		case "pull": // stands before the face, about its place
			if b.Max.Y != c.at.Y || b.Min.X+b.Max.X != 2*c.at.X || b.Min.Z+b.Max.Z != 2*c.at.Z {
				t.Errorf("%s: lies from %v to %v", c.name, b.Min, b.Max)
			}
		case "caster", "foot":
			if b.Min.Z != 0 || b.Max.Z != c.at.Z {
				t.Errorf("%s: stands from %v to %v", c.name, b.Min.Z, b.Max.Z)
			}
		}
	}
}
