package drawing

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

var everything = Options{Hidden: true, Letters: true, Dims: true}

// views are all drawings of a model.
func views(m build.Model, o Options) []View {
	out := []View{
		FrontView(m, o), SideView(m, o), TopView(m, o), BackView(m, o), Exploded(m, o, 1), Aslant(m, o),
		Section(m, AcrossX, m.Outside.X/2, o), Section(m, AcrossY, m.Outside.Y/2, o), Section(m, AcrossZ, m.Outside.Z/2, o),
	}
	for _, p := range m.Parts {
		out = append(out, PartView(p, o), KerfStrip(p, -1, o))
	}
	if len(m.Openings) > 0 && len(m.Parts) > 0 {
		out = append(out, FrontCard(m.Openings[0], m.Parts[0], o))
	}
	return out
}

// Every view fits into a page, with all its words inside, at a scale of the
// series, and no two words of it overlap.
func TestViewsFitTheirRoom(t *testing.T) {
	for name, m := range map[string]build.Model{"cabinet": drawtest.SmallCabinet(), "shell": drawtest.BentShell()} {
		for _, units := range []unit.System{unit.Metric, unit.Imperial} {
			o := everything
			o.Units = units
			for i, v := range views(m, o) {
				s := NewSheet(A4.Across(), "")
				room := Rect{20, 20, 250, 150}
				sc := v.Fit(s, room, o, Scale{})
				if !v.NoScale && !slices.Contains(o.scales(), sc) {
					t.Errorf("%s view %d: scale %v", name, i, sc)
				}
				if box := around(s.Items, Rect{100, 80, 1, 1}); !room.Inset(-0.01).Holds(box) {
					t.Errorf("%s view %d (%s) takes %v of %v", name, i, v.Title, box, room)
				}
				bs := boxes(s.Items)
				for j, b := range bs {
					for _, c := range bs[:j] {
						if b.Inset(0.05).Overlaps(c.Inset(0.05)) {
							t.Errorf("%s view %d (%s): words overlap at %v and %v", name, i, v.Title, b, c)
						}
					}
				}
			}
		}
	}
}

// Every letter of the model has its balloon in the exploded view.
func TestExplodedShowsEveryLetter(t *testing.T) {
	for _, m := range []build.Model{drawtest.SmallCabinet(), drawtest.BentShell()} {
		var got, want []string
		for _, b := range Exploded(m, everything, 1).Balloons {
			got = append(got, b.Letter)
		}
		for _, p := range m.Parts {
			want = append(want, p.Letter)
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("balloons %v, parts %v", got, want)
		}
	}
}

// A scale is what it says: 400 mm at 1:5 are 80 mm on paper.
func TestScaleIsTrue(t *testing.T) {
	m := drawtest.SmallCabinet()
	v := FrontView(m, Options{})
	s := NewSheet(A4, "")
	v.FitAt(s, Pt{30, 40}, Options{}, Scale{1, 5})
	r := around(s.Items, Rect{30, 40, 0, 0})
	if math.Abs(r.W-80) > 1e-9 || math.Abs(r.X-30) > 1e-9 || math.Abs(r.Y-40) > 1e-9 {
		t.Errorf("drawn in %v, want 80 wide from 30, 40", r)
	}
}

// Models that no one would build are drawn, or not, but never end in a panic.
func TestOddModelsAreDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Custom(func(t *rapid.T) unit.Length {
			return unit.Length(rapid.SampledFrom([]int64{0, 1, -5, 18_000_000, 400_000_000, 5_000_000_000_000}).Draw(t, "nm"))
		})
		bulge := rapid.SampledFrom([]float64{0, 0, 1, -1, 0.41, 1e9, math.Inf(1), math.NaN()})
		vertex := rapid.Custom(func(t *rapid.T) geom.Vertex {
			return geom.Vertex{Point: geom.P(l.Draw(t, "x"), l.Draw(t, "y")), Bulge: bulge.Draw(t, "bulge")}
		})
		dir := rapid.SampledFrom([]geom.Dir{geom.Up, geom.Right, geom.Back, {}, {X: math.NaN()}, {X: 0.6, Z: 0.8}})
		part := rapid.Custom(func(t *rapid.T) build.Part {
			p := build.Part{
				Letter: "A", Name: "odd", Role: rapid.SampledFrom([]build.Role{build.RoleSide, build.RoleShell, build.RoleFront, build.RoleLeg}).Draw(t, "role"),
				Length: build.Dim{Size: l.Draw(t, "l")}, Width: build.Dim{Size: l.Draw(t, "w")}, Thickness: build.Dim{Size: l.Draw(t, "t")},
				Outline: rapid.SliceOfN(vertex, 0, 5).Draw(t, "outline"), Solid: rapid.Bool().Draw(t, "solid"),
				Places: []build.Place{{Frame: geom.Frame{U: dir.Draw(t, "u"), V: dir.Draw(t, "v"), Mirror: rapid.Bool().Draw(t, "mirror")}}},
			}
			if rapid.Bool().Draw(t, "bent") {
				p.Bent = &build.Bent{Profile: rapid.SliceOfN(vertex, 0, 4).Draw(t, "profile"), Left: rapid.Bool().Draw(t, "left")}
			}
			p.Features = []build.Feature{{
				Kind: rapid.SampledFrom([]build.FeatureKind{build.Hole, build.Groove}).Draw(t, "kind"), Depth: l.Draw(t, "depth"),
				Region: rapid.SliceOfN(vertex, 0, 4).Draw(t, "region"), On: rapid.SampledFrom([]build.Edge{"", build.EdgeX1}).Draw(t, "on"),
			}}
			p.Kerfs = []build.KerfGroup{{Start: l.Draw(t, "start"), Zone: l.Draw(t, "zone"), Positions: []unit.Length{l.Draw(t, "kerf")}}}
			return p
		})
		m := build.Model{
			Outside:  geom.Vec{X: l.Draw(t, "X"), Y: l.Draw(t, "Y"), Z: l.Draw(t, "Z")},
			Parts:    rapid.SliceOfN(part, 0, 3).Draw(t, "parts"),
			Openings: []build.Opening{{Width: build.Dim{Size: l.Draw(t, "ow")}, Height: build.Dim{Size: l.Draw(t, "oh")}}},
		}
		s := NewSheet(A4, "")
		for _, v := range views(m, everything) {
			v.Fit(s, Rect{20, 20, 170, 200}, everything, Scale{})
		}
		Bodies(m)
	})
}

// A layout shows each part once and each offcut, and says what is whose.
func TestLayoutView(t *testing.T) {
	mm := unit.MM
	job := cutting.Job{
		Sheets: []cutting.Sheet{{ID: "ply", W: mm(1000), H: mm(600)}},
		Items:  []cutting.Item{{ID: "x"}, {ID: "y"}},
	}
	root := cutting.Node{
		W: mm(1000), H: mm(600), Kind: cutting.Split,
		Children: []cutting.Node{
			{W: mm(1000), H: mm(300), Kind: cutting.Split, Vertical: true, Children: []cutting.Node{
				{W: mm(500), H: mm(300), Kind: cutting.Part, Item: 0},
				{X: mm(503), W: mm(400), H: mm(300), Kind: cutting.Part, Item: 1},
				{X: mm(906), W: mm(94), H: mm(300), Kind: cutting.Waste},
			}},
			{Y: mm(303), W: mm(1000), H: mm(297), Kind: cutting.Offcut},
		},
	}
	v := LayoutView(job, cutting.Layout{Root: root, Copies: 1}, []string{"A", "B"}, Options{Single: true})
	var said []string
	for _, l := range v.Labels {
		said = append(said, l.Variants[0]...)
	}
	if want := []string{"A", "500 × 300", "B", "400 × 300", "keep", "1000 × 297"}; !slices.Equal(said, want) {
		t.Errorf("labels %q, want %q", said, want)
	}
	var stages []int
	for _, c := range v.Cuts {
		stages = append(stages, c.Stage)
	}
	// The strips are ripped apart first; then the strip is cut across twice.
	if want := []int{2, 2, 1}; !slices.Equal(stages, want) {
		t.Errorf("stages %v, want %v", stages, want)
	}
}

// The words of an offcut stand beside the knots in it, and a knot is hatched
// with its word within it.
func TestLayoutDefects(t *testing.T) {
	mm := unit.MM
	knot := func(x, y, w, h float64) cutting.Defect {
		return cutting.Defect{X: mm(x), Y: mm(y), W: mm(w), H: mm(h), What: "knot"}
	}
	for _, c := range []struct {
		defects []cutting.Defect
		want    Pt // of the middle of the words
	}{
		{nil, Pt{500, 75}},
		{[]cutting.Defect{knot(450, 50, 150, 50)}, Pt{225, 75}},
		{[]cutting.Defect{knot(450, 50, 150, 50), knot(0, 0, 100, 150)}, Pt{275, 75}},
		{[]cutting.Defect{knot(0, 100, 1000, 50)}, Pt{500, 50}},
		{[]cutting.Defect{knot(0, 0, 1000, 150)}, Pt{500, 75}},
	} {
		job := cutting.Job{Sheets: []cutting.Sheet{{ID: "board", W: mm(1000), H: mm(150), Defects: c.defects}}}
		v := LayoutView(job, cutting.Layout{Root: cutting.Node{W: mm(1000), H: mm(150), Kind: cutting.Offcut}, Copies: 1}, nil, Options{Single: true})
		if len(v.Labels) != 1+len(c.defects) {
			t.Fatalf("%v: %d labels", c.defects, len(v.Labels))
		}
		if got := v.Labels[0].At; got != c.want {
			t.Errorf("%v: the words stand at %v, want %v", c.defects, got, c.want)
		}
		for i, d := range c.defects {
			whole := Rect{d.X.MM(), d.Y.MM(), d.W.MM(), d.H.MM()}
			if l := v.Labels[1+i]; l.Variants[0][0] != "knot" || l.Room.W >= whole.W || !whole.Holds(l.Room) {
				t.Errorf("%v: %q in %v", whole, l.Variants, l.Room)
			}
		}
	}
}

func BenchmarkViews(b *testing.B) {
	m := drawtest.SmallCabinet()
	for b.Loop() {
		for _, v := range views(m, everything) {
			v.Fit(NewSheet(A4, ""), Rect{20, 20, 170, 200}, everything, Scale{})
		}
	}
}
