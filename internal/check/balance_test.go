package check

import (
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func open(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	read := func(file string) *os.File {
		f, err := os.Open("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, read(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

// inputOf builds a piece, without the layouts.
func inputOf(p piece.Piece, s shop.Shop, r record.Record) (Input, error) {
	m, err := build.Make(p, s, r)
	show := func(l unit.Length) string {
		if p.Units == unit.Imperial {
			return l.Format(unit.Inch64ths)
		}
		return l.Format(unit.TenthMM)
	}
	return Input{Piece: p, Shop: s, Record: r, Model: m, Show: show}, err
}

// A case of 100 lb whose weight lies 9 in behind the front feet and 18 in up,
// a child of 60 lb 14 in before them and 20 in up: on a flat floor it stands by
// 60.0 inch pounds, on a block of 0.43 in at 16 in it falls by 20.6 (worked by
// hand).
func TestMomentByHand(t *testing.T) {
	in := func(v float64) float64 { return v * 25.4 }
	ws := []Weight{{100 * unit.Pound, 0, in(9), in(18)}, {60 * unit.Pound, 0, in(-14), in(20)}}
	inlb := func(m float64) float64 { return m / 25.4 / float64(unit.Pound) }
	if got := inlb(Moment(ws, 0, 0)); math.Abs(got-60.0) > 0.05 {
		t.Errorf("flat floor: %.2f, want 60.0", got)
	}
	tilt := Tilt(rearBlock, 16*unit.Inch)
	near(t, "tilt", tilt.Deg(), 1.5395, 0.0001)
	if got := inlb(Moment(ws, 0, tilt)); math.Abs(got+20.6) > 0.05 {
		t.Errorf("on the block: %.2f, want -20.6", got)
	}
}

// Panels of 2440 × 1220 × 18 at 600 kg/m³ weigh 32.15 kg; 3/4 in MDF of 4 × 8
// ft at 750 weighs 42.48 kg (arithmetic).
func TestPanelMass(t *testing.T) {
	s := shop.Shop{Panels: map[string]shop.Panel{"a": {Kind: "veneered-ply", Density: 600}, "b": {Kind: "mdf", Density: 750}}}
	for _, c := range []struct {
		key     string
		l, w, t unit.Length
		want    float64
	}{{"a", unit.MM(2440), unit.MM(1220), unit.MM(18), 32.15}, {"b", 96 * unit.Inch, 48 * unit.Inch, unit.Inch * 3 / 4, 42.48}} {
		p := build.Part{Material: c.key, Outline: geom.Rect(c.l, c.w), Thickness: build.Dim{Size: c.t}}
		if got := float64(PartMass(p, s)); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s weighs %.3f kg, want %.2f", c.key, got, c.want)
		}
	}
}

// The bent shell of the record cabinet weighs about 16.7 kg at 600 kg/m³:
// 3,676.37 × 420 × 18 mm (worked by hand).
func TestShellMass(t *testing.T) {
	p, s := open(t, "record-cabinet")
	in, err := inputOf(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range in.Model.Parts {
		if part.Role == build.RoleShell {
			near(t, "shell", float64(PartMass(part, s))*float64(part.Count), 3676.37*420*18*600e-9, 1e-5)
		}
	}
}

// A closed shell balances in its middle, and one bent round a quarter circle
// where the quarter of a ring has its centroid: (4/3π)(R³−r³)/(R²−r²) from
// both its ends (textbook).
func TestBentCentroid(t *testing.T) {
	p, s := open(t, "record-cabinet")
	in, err := inputOf(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range in.Model.Parts {
		part := &in.Model.Parts[i]
		if part.Role != build.RoleShell {
			continue
		}
		c := sum(weights(part, s))
		low := 150.0
		if f := in.Model.Outside.Z.MM() - 410; f > low { // plates lift it
			low = f
		}
		for what, v := range map[string][2]float64{"x": {c.X, 750}, "y": {c.Y, 20 + 210}, "z": {c.Z, low + 205}} {
			if math.Abs(v[0]-v[1]) > 0.2 {
				t.Errorf("the shell's %s is %.2f, want %.2f", what, v[0], v[1])
			}
		}
	}
	const r, thick = 100.0, 20.0
	quarter := geom.Path{{Point: geom.P(unit.MM(r), 0), Bulge: math.Tan(math.Pi / 8)}, {Point: geom.P(0, unit.MM(r))}}
	inner := r - thick
	want := 4 / (3 * math.Pi) * (r*r*r - inner*inner*inner) / (r*r - inner*inner)
	x, y := bentCentroid(quarter, true, unit.MM(thick))
	// Strips of equal weight lie a little further in than the ring: the inner
	// fibre is shorter than the outer. (R − t/2) 2/π, and the ring differs by
	// t²/12R.
	near(t, "x", x, want, 0.006)
	near(t, "y", y, want, 0.006)
}

// chest draws a random chest of drawers or cupboard that can be built.
func chest(t *rapid.T, p piece.Piece, s shop.Shop) (Input, bool) {
	mm := func(label string, lo, hi int) unit.Length {
		return unit.Length(rapid.IntRange(lo, hi).Draw(t, label)) * unit.Millimetre
	}
	c := p.Case
	c.Width, c.Height, c.Depth = mm("width", 350, 1200), mm("height", 500, 1400), mm("depth", 330, 600)
	top := *c.Top
	top.Front = mm("front", 0, 40)
	c.Top = &top
	p.Case = c
	rows := rapid.IntRange(1, 6).Draw(t, "rows")
	drawer := *p.Inside.Rows[0].Drawer
	drawer.BoxDepth = 0
	p.Inside.Rows = nil
	for i := range rows {
		o := piece.Opening{}
		if i == 0 && rapid.Bool().Draw(t, "shelf") {
			o.Shelves = &piece.Shelves{Fixed: []unit.Length{100 * unit.Millimetre}, Joint: "housing"}
		} else {
			o.Drawer = &drawer
		}
		p.Inside.Rows = append(p.Inside.Rows, o)
	}
	base := *p.Base
	base.Height = mm("base", 60, 200)
	base.InsetX, base.InsetY = mm("inset x", 0, 60), mm("inset y", 0, 60)
	p.Base = &base
	p.Use.LoadKg = float64(rapid.IntRange(0, 80).Draw(t, "load"))
	in, err := inputOf(p, s, record.Record{})
	return in, err == nil
}

// bits cuts every part into small blocks and gives each block's mass and
// place: a computation of its own, from densities and corners only.
func bits(in Input, open bool) (mass, y, z []float64) {
	for _, p := range in.Model.Parts {
		kg := 600.0
		if w, ok := in.Shop.Woods[p.Material]; ok {
			kg = map[string]float64{"black-cherry": 560, "red-maple": 605}[w.Species]
		} else if k := in.Shop.Panels[p.Material].Kind; k == "birch-ply" {
			kg = 680
		}
		const n = 16
		l, w, th := p.Length.Size.Metres(), p.Width.Size.Metres(), p.Thickness.Size.Metres()
		for _, at := range p.Places {
			inside := 0
			var ys, zs []float64
			for i := range n {
				for j := range n {
					u, v := (float64(i)+0.5)/n*l*1000, (float64(j)+0.5)/n*w*1000
					if !p.Outline.Contains(geom.P(unit.MM(u), unit.MM(v))) {
						continue
					}
					inside++
					if at.Frame.Mirror {
						v = w*1000 - v
					}
					nn := at.Frame.N()
					ys = append(ys, at.Frame.Origin.Y.MM()+u*at.Frame.U.Y+v*at.Frame.V.Y+th*500*nn.Y)
					zs = append(zs, at.Frame.Origin.Z.MM()+u*at.Frame.U.Z+v*at.Frame.V.Z+th*500*nn.Z)
				}
			}
			for k := range ys {
				if open && strings.HasPrefix(at.Name, "row ") && (strings.HasPrefix(p.Name, "box ") || p.Name == "drawer front") {
					ys[k] -= boxDepth(in, at.Name)
				}
				mass, y, z = append(mass, kg*l*w*th/(n*n)), append(y, ys[k]), append(z, zs[k])
			}
		}
	}
	return mass, y, z
}

func boxDepth(in Input, place string) float64 {
	row := strings.Join(strings.Fields(place)[:2], " ")
	for _, p := range in.Model.Parts {
		for _, at := range p.Places {
			if p.Name == "box side" && strings.HasPrefix(at.Name, row+" ") {
				long := 0.0
				for _, l := range in.Shop.Hardware["under-runner"].Lengths {
					if l <= p.Length.Size {
						long = max(long, l.MM())
					}
				}
				return long
			}
		}
	}
	return 0
}

// Mass, centre and moment of random chests against the same chests cut into
// small blocks, each block turned about the front feet by a rotation matrix.
func TestBalanceAgainstBlocks(t *testing.T) {
	p, s := open(t, "chest")
	built := 0
	rapid.Check(t, func(t *rapid.T) {
		in, ok := chest(t, p, s)
		if !ok {
			return
		}
		built++
		feet, ok := stanceOf(in)
		if !ok {
			t.Fatal("it has no feet")
		}
		if base := in.Piece.Base; math.Abs(feet.right-feet.left-(in.Piece.Case.Width-2*base.InsetX).MM()) > 0.01 {
			t.Errorf("feet from %v to %v, a plinth set in %v under %v", feet.left, feet.right, base.InsetX, in.Piece.Case.Width)
		}
		tilt := Tilt(rearBlock, feet.deep())
		mass, y, z := bits(in, true)
		var all, moment, abs float64
		for i := range mass {
			dy, dz := y[i]-feet.front, z[i]
			turned := dy*math.Cos(tilt.Rad()) - dz*math.Sin(tilt.Rad())
			all += mass[i]
			moment += mass[i] * turned
			abs += mass[i] * math.Abs(turned)
		}
		if got := float64(Mass(in.Model, in.Shop)); math.Abs(got-all) > 0.01*all {
			t.Errorf("mass %.3f kg, the blocks weigh %.3f", got, all)
		}
		got := Moment(opened(weighed(in), drawersOut(in), false), feet.front, tilt)
		if math.Abs(got-moment) > 0.012*abs {
			t.Errorf("moment %.1f, by blocks %.1f (of %.1f)", got, moment, abs)
		}
	})
	if built < 20 {
		t.Errorf("only %d chests could be built", built)
	}
}

// What is advised is enough: with the feet brought forward, the ballast set or
// the anchor pulling as said, the moments come out even.
func TestAdviceIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(label string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		ws := []Weight{{unit.Mass(f("case", 5, 80)), 0, f("y", 50, 300), f("z", 100, 900)}, {childMass, 0, f("out", -600, -250), f("high", 200, 1200)}}
		tilt := Tilt(rearBlock, unit.MM(f("deep", 200, 600)))
		m := Moment(ws, 0, tilt)
		if m >= 0 {
			return
		}
		forward := -m / (float64(sum(ws).Mass) * math.Cos(tilt.Rad()))
		if got := Moment(ws, -forward, tilt); math.Abs(got) > 1e-6*-m {
			t.Errorf("feet %.1f mm forward leave %.3f", forward, got)
		}
	})
}
