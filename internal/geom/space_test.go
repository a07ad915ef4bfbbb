package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/unit"
)

func TestVec(t *testing.T) {
	v := Vec{3 * mm, -4 * mm, 12 * mm}
	if v.Len() != 13*mm || v.Sub(v).Len() != 0 || v.Along(Down) != -12*mm {
		t.Errorf("%v: Len %v, Along(Down) %v", v, v.Len(), v.Along(Down))
	}
	if d := (Dir{3, 0, -4}).Norm(); d != (Dir{0.6, 0, -0.8}) || (Dir{}).Norm() != (Dir{}) || d.Neg() != (Dir{-0.6, 0, 0.8}) {
		t.Errorf("Norm = %v", d)
	}
	b := BoundsOf(v, Vec{}, Vec{mm, mm, mm})
	if b != (Bounds3{Vec{0, -4 * mm, 0}, Vec{3 * mm, mm, 12 * mm}}) || b.Size() != (Vec{3 * mm, 5 * mm, 12 * mm}) {
		t.Errorf("BoundsOf = %v", b)
	}
	if c := BoundsOf(Vec{3 * mm, 0, 0}, Vec{9 * mm, 9 * mm, 9 * mm}); b.Meets(c) || !b.Meets(b) {
		t.Error("boxes that share a face meet, or one does not meet itself")
	}
	if BoundsOf() != (Bounds3{}) {
		t.Error("bounds of nothing")
	}
}

// A left and a right side of a case: the right one is the mirror image, and
// the hole drilled 37 from the front edge is 37 from the front on both.
func TestPlace(t *testing.T) {
	depth := 300 * mm
	hole := P(100*mm, 37*mm) // x up the side, y from its front edge
	o := Outline{{P(0, 0), 0}, {P(700*mm, 0), 0}, {P(700*mm, depth-50*mm), 0}, {P(650*mm, depth), 0}, {P(0, depth), 0}}
	// Both show the inside of the case as their upper face (N), so y runs to
	// the back on the left side and to the front on the right one.
	left := Frame{Origin: Vec{0, 0, 0}, U: Up, V: Front, Mirror: true}
	left.Origin.Y = depth
	right := Frame{Origin: Vec{900 * mm, 0, 0}, U: Up, V: Back}
	if left.N() != Right || right.N() != Left {
		t.Fatalf("normals %v, %v; want right and left", left.N(), right.N())
	}
	for _, f := range []Frame{left, right} {
		p := f.PlacePoint(hole, depth)
		if v := f.At(p.X, p.Y, 0); v.Y != 37*mm || v.Z != 100*mm {
			t.Errorf("frame %v: hole at %v", f, v)
		}
		placed := f.Place(o, depth)
		if !placed.Contains(p) || placed.Area() != o.Area() {
			t.Errorf("frame %v: outline %v lies wrong", f, placed)
		}
		cut := f.PlacePoint(P(700*mm, depth), depth) // the corner cut off, at the top of the back edge
		if v := f.At(cut.X, cut.Y, 0); placed.Contains(cut) || v.Y != depth || v.Z != 700*mm {
			t.Errorf("frame %v: cut corner at %v", f, v)
		}
		groove := f.PlacePath(Path{{hole, 0}, {P(600*mm, 37*mm), 0}}, depth)
		if groove[0].Point != p || groove[1].Y != p.Y {
			t.Errorf("frame %v: groove %v", f, groove)
		}
	}
}

// frame draws any frame.
func frame() *rapid.Generator[Frame] {
	return rapid.Custom(func(t *rapid.T) Frame {
		n := func(s string) unit.Length { return unit.Length(rapid.Int64Range(-500e6, 500e6).Draw(t, s)) }
		f := Frame{Origin: Vec{n("x"), n("y"), n("z")}, U: Right, V: Back, Mirror: rapid.Bool().Draw(t, "mirror")}
		if rapid.Bool().Draw(t, "askew") {
			a, b, c := rapid.Float64Range(0, 6).Draw(t, "a"), rapid.Float64Range(-1.5, 1.5).Draw(t, "b"), rapid.Float64Range(0, 6).Draw(t, "c")
			sa, ca := math.Sincos(a)
			sb, cb := math.Sincos(b)
			sc, cc := math.Sincos(c)
			f.U = Dir{ca * cb, sa * cb, -sb}
			f.V = Dir{ca*sb*sc - sa*cc, sa*sb*sc + ca*cc, cb * sc}
		}
		return f
	})
}

func box() *rapid.Generator[Box] {
	return rapid.Custom(func(t *rapid.T) Box {
		n := func(s string) unit.Length { return unit.Length(rapid.Int64Range(5e6, 600e6).Draw(t, s)) }
		return Box{frame().Draw(t, "frame"), n("sx"), n("sy"), n("sz")}
	})
}

// in is how deep v lies inside the box (negative outside), in nanometres.
func (b Box) in(v Vec) float64 {
	d := v.Sub(b.Frame.Origin)
	depth := math.Inf(1)
	for i, a := range b.axes() {
		s := d.along(a)
		depth = math.Min(depth, math.Min(s, float64([3]unit.Length{b.X, b.Y, b.Z}[i])-s))
	}
	return depth
}

func TestPenetrationKnown(t *testing.T) {
	at := func(x, y, z unit.Length) Frame { return Frame{Origin: Vec{x, y, z}, U: Right, V: Back} }
	cube := Box{at(0, 0, 0), 100 * mm, 100 * mm, 100 * mm}
	s := math.Sqrt2 / 2
	tests := []struct {
		name string
		b    Box
		want unit.Length
	}{
		{"itself", cube, 100 * mm},
		{"face to face", Box{at(100*mm, 0, 0), mm, mm, mm}, 0},
		{"tenon 20 deep", Box{at(80*mm, 40*mm, 0), 300 * mm, 20 * mm, 100 * mm}, 20 * mm},
		{"3 apart", Box{at(0, 0, 103*mm), 9 * mm, 9 * mm, 9 * mm}, -3 * mm},
		{"on edge, touching", Box{Frame{Origin: Vec{100 * mm, 50 * mm, 0}, U: Dir{X: s, Y: s}, V: Dir{X: -s, Y: s}}, 50 * mm, 50 * mm, 50 * mm}, unit.MM(50 * s)},
		{"on edge, corner in 10", Box{Frame{Origin: Vec{90 * mm, 50 * mm, 0}, U: Dir{X: s, Y: -s}, V: Dir{X: s, Y: s}}, 50 * mm, 50 * mm, 50 * mm}, 10 * mm},
	}
	for _, tt := range tests {
		a, b := cube.Penetration(tt.b), tt.b.Penetration(cube)
		if (a-tt.want).Abs() > 1 || (b-tt.want).Abs() > 1 {
			t.Errorf("%s: %v and %v, want %v", tt.name, a, b, tt.want)
		}
	}
}

// Against points: clear boxes share none, boxes that share a deep point reach
// into each other by as much, and moving one as told makes them clear.
func TestPenetrationAgainstPoints(t *testing.T) {
	met, clear := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := box().Draw(t, "a"), box().Draw(t, "b")
		depth, way := a.separate(b)
		near(t, "the other way (nm)", float64(b.Penetration(a)), math.Round(depth), 1)
		if depth > 0 {
			met++
		} else {
			clear++
		}
		for range 30 {
			u := func(s string, l unit.Length) unit.Length {
				return unit.Length(rapid.Int64Range(0, int64(l)).Draw(t, s))
			}
			v := a.Frame.At(u("u", a.X), u("v", a.Y), u("w", a.Z))
			// A ball of radius r common to both keeps them at least 2r deep.
			if r := math.Min(a.in(v), b.in(v)); 2*r > depth+5 {
				t.Fatalf("depth %v, but a ball of radius %v lies in both", depth, r)
			}
		}
		if depth > 0 {
			b.Frame.Origin = b.Frame.Origin.Add(way.Times(unit.Length(depth) + 5))
			if left := a.Penetration(b); left > 0 {
				t.Fatalf("moved clear by %v, still %v in", depth, left)
			}
			return
		}
		// Apart: no corner of one is nearer to the other than the gap.
		for _, v := range b.Corners() {
			if a.in(v) > 5 {
				t.Fatalf("depth %v, but a corner lies %v inside", depth, a.in(v))
			}
		}
	})
	if met == 0 || clear == 0 {
		t.Errorf("%d met, %d clear: one was not tried", met, clear)
	}
}

func TestCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := box().Draw(t, "b")
		cs := b.Corners()
		near(t, "diagonal (mm)", cs[7].Sub(cs[0]).Len().MM(),
			math.Sqrt(b.X.MM()*b.X.MM()+b.Y.MM()*b.Y.MM()+b.Z.MM()*b.Z.MM()), 1e-5)
		for _, c := range cs {
			near(t, "corner on the surface (nm)", b.in(c), 0, 4)
		}
		for i := range 3 {
			if got, want := cs[1<<i].Sub(cs[0]).Len(), [3]unit.Length{b.X, b.Y, b.Z}[i]; (got - want).Abs() > 3 {
				t.Fatalf("edge %d is %v, want %v", i, got, want)
			}
		}
	})
}

// A block as a prism and as a box; the same face seen from its other side.
func TestPrismOverlap(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		a := blobPrism().Draw(t, "a")
		b := blobPrism().Draw(t, "b")
		// Bring b parallel to a, turned in its plane, its face up or down.
		s, c := math.Sincos(rapid.Float64Range(0, 6).Draw(t, "turn"))
		u, v := a.Frame.U, a.Frame.V
		b.Frame.U = Dir{c*u.X + s*v.X, c*u.Y + s*v.Y, c*u.Z + s*v.Z}.Norm()
		b.Frame.V = a.Frame.N().Cross(b.Frame.U)
		if rapid.Bool().Draw(t, "turned over") {
			b.Frame.V = b.Frame.V.Neg()
		}
		b.Frame.Origin = a.Frame.Origin.Add(a.Frame.N().Times(unit.Length(rapid.Int64Range(-60e6, 60e6).Draw(t, "up"))))

		area, depth, ok := a.Overlap(b)
		area2, depth2, ok2 := b.Overlap(a)
		if !ok || !ok2 || (depth-depth2).Abs() > 2 {
			t.Fatalf("overlap %v deep, %v; the other way %v, %v", depth, ok, depth2, ok2)
		}
		slack := (a.Face[0].Length() + b.Face[0].Length()).MM() * 0.02
		near(t, "area the other way", mm2(area2), mm2(area), slack)
		if depth > mm && mm2(area) > 100 {
			met++
			if pen := a.Box().Penetration(b.Box()); pen <= 0 {
				t.Fatalf("prisms share %v mm², their boxes are %v apart", mm2(area), -pen)
			}
		}
		// Points in the middle of the common slab, asked of both parts.
		low := max(0, b.Frame.Origin.Sub(a.Frame.Origin).Along(a.Frame.N()))
		if b.Frame.N().Dot(a.Frame.N()) < 0 {
			low = max(0, b.Frame.Origin.Sub(a.Frame.Origin).Along(a.Frame.N())-b.Thickness)
		}
		if depth < mm {
			return
		}
		shared := 0
		bounds := a.Frame.PlaceRegion(a.Face, a.Width).Bounds()
		const grid = 12
		for i := range grid * grid {
			x := bounds.Min.X + bounds.Width()*unit.Length(2*(i%grid)+1)/(2*grid)
			y := bounds.Min.Y + bounds.Height()*unit.Length(2*(i/grid)+1)/(2*grid)
			v := a.Frame.At(x, y, low+depth/2)
			if a.holds(v) && b.holds(v) {
				shared++
			}
		}
		cell := bounds.Width().MM() * bounds.Height().MM() / (grid * grid)
		around := (a.Face[0].Length() + b.Face[0].Length()).MM() * 1.5 * math.Sqrt(cell)
		near(t, "area by counting", float64(shared)*cell, mm2(area), around)
	})
	if met == 0 {
		t.Error("no two prisms overlap")
	}
	if _, _, ok := (Prism{Frame: Frame{U: Right, V: Back}}).Overlap(Prism{Frame: Frame{U: Right, V: Up}}); ok {
		t.Error("faces at right angles taken for parallel")
	}
}

func blobPrism() *rapid.Generator[Prism] {
	return rapid.Custom(func(t *rapid.T) Prism {
		o := blob().Draw(t, "o")
		b := o.Bounds()
		o = o.Translate(P(-b.Min.X, -b.Min.Y))
		return Prism{frame().Draw(t, "f"), Region{o}, b.Height(), unit.Length(rapid.Int64Range(3e6, 60e6).Draw(t, "thick"))}
	})
}

// holds says by the words of Frame that the place v lies in the part.
func (p Prism) holds(v Vec) bool {
	d := v.Sub(p.Frame.Origin)
	x, y, z := d.Along(p.Frame.U), d.Along(p.Frame.V), d.Along(p.Frame.N())
	if p.Frame.Mirror {
		y = p.Width - y
	}
	return 0 <= z && z <= p.Thickness && p.Face[0].Contains(P(x, y))
}

func TestPrismKnown(t *testing.T) {
	// A shelf of 18 housed 6 deep into a side of 18.
	side := Prism{Frame{U: Up, V: Back}, Region{Rect(700*mm, 300*mm)}, 300 * mm, 18 * mm}
	side.Frame.Origin = Vec{18 * mm, 0, 0} // N of Up×Back is Left
	shelf := Prism{Frame{Origin: Vec{12 * mm, 0, 400 * mm}, U: Right, V: Back}, Region{Rect(500*mm, 300*mm)}, 300 * mm, 18 * mm}
	if _, _, ok := side.Overlap(shelf); ok {
		t.Error("side and shelf taken for parallel")
	}
	if got := side.Box().Penetration(shelf.Box()); got != 6*mm {
		t.Errorf("the shelf reaches %v into the side, want 6 mm", got)
	}
	// Two layers of a doubled top, one turned over.
	top := Prism{Frame{U: Right, V: Back}, Region{Rect(500*mm, 300*mm)}, 300 * mm, 18 * mm}
	under := Prism{Frame{Origin: Vec{100 * mm, 300 * mm, 0}, U: Right, V: Front}, Region{Rect(500*mm, 300*mm)}, 300 * mm, 18 * mm}
	if area, depth, ok := top.Overlap(under); !ok || depth != 0 || area != 0 {
		t.Errorf("glued layers: %v, %v, %v; want touching", area, depth, ok)
	}
	under.Frame.Origin.Z = 5 * mm
	if area, depth, ok := top.Overlap(under); !ok || depth != 5*mm || math.Abs(mm2(area)-120_000) > 1e-3 {
		t.Errorf("layers 5 mm into each other: %v mm², %v, %v", mm2(area), depth, ok)
	}
}

func BenchmarkPenetration(b *testing.B) {
	x := Box{Frame{U: Right, V: Back}, 600 * mm, 400 * mm, 18 * mm}
	y := Box{Frame{Origin: Vec{mm, mm, mm}, U: Dir{X: 0.6, Y: 0.8}, V: Dir{X: -0.8, Y: 0.6}}, 600 * mm, 400 * mm, 18 * mm}
	for b.Loop() {
		x.Penetration(y)
	}
}
