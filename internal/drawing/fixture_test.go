package drawing

import (
	"math"
	"slices"
	"testing"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// shod is a case on four round feet 30 thick, with a knob 40 wide on its front.
func shod() build.Model {
	mm := unit.MM
	m := build.Model{Parts: []build.Part{block(0, 0, 50, 300, 200, 250)}, Outside: geom.Vec{X: mm(300), Y: mm(200), Z: mm(300)}}
	for _, x := range []float64{30, 270} {
		for _, y := range []float64{30, 170} {
			m.Fixtures = append(m.Fixtures, build.Fixture{
				Kind: build.FixtureFoot, Name: "foot",
				Rods: []build.Rod{{From: geom.Vec{X: mm(x), Y: mm(y)}, To: geom.Vec{X: mm(x), Y: mm(y), Z: mm(50)}, Diameter: mm(30)}},
			})
		}
	}
	m.Fixtures = append(m.Fixtures,
		build.Fixture{Kind: build.FixturePull, Name: "knob", Rods: []build.Rod{{From: geom.Vec{X: mm(150), Z: mm(200)}, To: geom.Vec{X: mm(150), Y: mm(-25), Z: mm(200)}, Diameter: mm(40)}}},
		build.Fixture{Kind: build.FixtureRunner, Name: "runner", Blocks: []geom.Bounds3{{Min: geom.Vec{X: mm(-90)}, Max: geom.Vec{X: mm(-80), Y: mm(9), Z: mm(9)}}}},
	)
	return m
}

// Hardware outside the case is drawn where it stands and as large as it is, a
// knob seen end on as a true circle; runners within are not drawn. It is no
// part: no letter, no place to pick.
func TestHardwareOutsideIsDrawn(t *testing.T) {
	m := shod()
	o := Options{Live: true, Letters: true}
	for _, c := range []struct {
		v    View
		want Rect
	}{
		{FrontView(m, o), Rect{0, 0, 300, 300}},
		{SideView(m, o), Rect{-25, 0, 225, 300}},
		{BackView(m, o), Rect{-300, 0, 300, 300}},
		{Section(m, AcrossX, m.Outside.X/2, o), Rect{-25, 0, 225, 300}}, // the knob is not cut
		{Section(m, AcrossY, m.Outside.Y/2, o), Rect{0, 0, 300, 300}},
	} {
		b := c.v.Bounds()
		for _, d := range []float64{b.X - c.want.X, b.Y - c.want.Y, b.W - c.want.W, b.H - c.want.H} {
			if math.Abs(d) > 1e-3 {
				t.Errorf("%s: drawn in %v, want %v", c.v.Title, b, c.want)
				break
			}
		}
		for _, p := range c.v.Picks {
			if p.Part != m.Parts[0].Letter {
				t.Errorf("%s: %q can be picked", c.v.Title, p.Part)
			}
		}
		if len(c.v.Balloons) > 1 {
			t.Errorf("%s: balloons %v", c.v.Title, c.v.Balloons)
		}
	}
	round := 0.0
	for _, it := range FrontView(m, Options{}).Items {
		for _, p := range it.(Stroke).Paths {
			for i, n := range p.Nodes {
				if n.Bulge == 0 {
					continue
				}
				a := ArcOf(n.Pt, p.Nodes[(i+1)%len(p.Nodes)].Pt, n.Bulge)
				if math.Abs(a.Radius-20) > 1e-6 {
					t.Errorf("an arc of radius %v", a.Radius)
				}
				round += math.Abs(a.Sweep)
			}
		}
	}
	if math.Abs(round-2*math.Pi) > 1e-6 {
		t.Errorf("the knob's circle is drawn for %v of %v", round, 2*math.Pi)
	}
	// What stands before the plane of a section is taken away: of four feet
	// two are left.
	feet := func(v View) (xs []float64) {
		for _, it := range v.Items {
			for _, p := range it.(Stroke).Paths {
				for _, n := range p.Nodes {
					if math.Abs(n.Y) < 1e-6 {
						xs = append(xs, math.Round(n.X))
					}
				}
			}
		}
		slices.Sort(xs)
		return slices.Compact(xs)
	}
	if got, want := feet(Section(m, AcrossY, unit.MM(100), Options{})), []float64{15, 45, 255, 285}; !slices.Equal(got, want) {
		t.Errorf("feet of a section at %v, want %v", got, want)
	}
}

// The surfaces of fixtures are closed and have the volume of what they are: a
// foot is a cylinder, π r² h, by chords of 7.5°, which lie within by less than
// a third of a per cent.
func TestFixtureBodiesAreSolids(t *testing.T) {
	all := FixtureBodies(shod())
	if len(all) != 5 {
		t.Fatalf("%d bodies, want 4 feet and a knob", len(all))
	}
	for i, want := range []float64{15 * 15 * 50, 15 * 15 * 50, 15 * 15 * 50, 15 * 15 * 50, 20 * 20 * 25} {
		v := 0.0
		for _, tr := range all[i].Triangles {
			a, b, c := all[i].Points[tr[0]], all[i].Points[tr[1]], all[i].Points[tr[2]]
			v += a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])
		}
		if v /= 6; v > math.Pi*want || v < math.Pi*want*0.997 {
			t.Errorf("%s: %.0f mm³, want %.0f", all[i].Name, v, math.Pi*want)
		}
	}
}
