package wood

import (
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

// Board feet by the trade's rule T x W x L / 144 in inches (exact).
func TestBoardFeet(t *testing.T) {
	for _, c := range []struct {
		name                 string
		thick, width, length unit.Length
		want                 float64
	}{
		{"4/4 x 8 x 96 in", unit.Inch, unit.In(8), unit.In(96), 16.0 / 3},
		{"5/4 x 6 in x 10 ft", unit.In(1.25), unit.In(6), 10 * unit.Foot, 6.25},
		{"under an inch counts as an inch", unit.In(0.625), unit.In(12), unit.Foot, 1},
	} {
		near(t, c.name, BoardFeet(c.thick, c.width, c.length), c.want, 1e-12)
	}
	near(t, "a board foot in cm³", float64(unit.BoardFoot)*1e6, 2359.737216, 1e-9)
	near(t, "5.3333 bf in m³", 16.0/3*float64(unit.BoardFoot), 0.0125853, 5e-8)
	near(t, "a cubic metre", BoardFeet(unit.Metre, unit.Metre, unit.Metre), 423.7760, 5e-5)
}

func TestBoardFeetAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string, least, most int64) unit.Length {
			return unit.Length(rapid.Int64Range(least, most).Draw(t, name)) * unit.Millimetre
		}
		thick, width := mm("thick", 5, 100), mm("width", 50, 400)
		a, b := mm("a", 100, 3000), mm("b", 100, 3000)
		whole := BoardFeet(thick, width, a+b)
		if d := BoardFeet(thick, width, a) + BoardFeet(thick, width, b) - whole; d > 1e-9*whole || d < -1e-9*whole {
			t.Errorf("the two parts differ from the whole by %v", d)
		}
	})
}

func TestClassFor(t *testing.T) {
	// Rough and surfaced classes of the hardwood trade; a quarter inch to
	// plane off is common practice.
	for _, c := range []struct {
		finished unit.Length
		system   unit.System
		want     string
	}{
		{unit.In(0.75), unit.Imperial, "4/4"},
		{unit.In(13.0 / 16), unit.Imperial, "5/4"},
		{unit.Inch, unit.Imperial, "5/4"},
		{unit.In(1.75), unit.Imperial, "8/4"},
		{unit.MM(20), unit.Metric, "27 mm"},
		{unit.MM(26), unit.Metric, "40 mm"},
	} {
		if got, ok := ClassFor(c.finished, UsualAllowance().Thickness, c.system); !ok || got.Name != c.want {
			t.Errorf("%v: %s, want %s", c.finished, got.Name, c.want)
		}
	}
	if c, ok := ClassFor(unit.MM(150), unit.MM(6), unit.Metric); ok {
		t.Errorf("150 mm from %s", c.Name)
	}
}

func TestClassesAreInOrder(t *testing.T) {
	for _, system := range []unit.System{unit.Metric, unit.Imperial} {
		var last unit.Length
		for _, c := range Classes(system) {
			if c.System != system || c.Rough <= last || c.Source.Name == "" || c.Source.How == "" {
				t.Errorf("%+v", c)
			}
			if c.Surfaced >= c.Rough || c.SurfacedLeast > c.Surfaced {
				t.Errorf("%s: surfaced %v to %v", c.Name, c.SurfacedLeast, c.Surfaced)
			}
			last = c.Rough
		}
	}
}

func TestRough(t *testing.T) {
	// +1 in, +1/4 in, +1/4 in: common practice.
	l, w, th := UsualAllowance().Rough(unit.In(46), unit.In(1.25), unit.In(0.75))
	if l != unit.In(47) || w != unit.In(1.5) || th != unit.Inch {
		t.Errorf("%v x %v x %v", l, w, th)
	}
}
