package build

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/geom"
	"casewright/internal/unit"
)

// Every point of a flat part's faces is found again, mirrored or not.
func TestOnFaceOfFlatPart(t *testing.T) {
	frames := []geom.Frame{
		leftward(300*mm, 20*mm, 100*mm), rightward(10*mm, 400*mm, 0), upward(5*mm, 6*mm, 7*mm),
		downward(900*mm, 0, 800*mm), facingUp(0, 0, 0), facingAcross(1*mm, 2*mm, 3*mm),
	}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(frames).Draw(t, "frame")
		p := &Part{
			Length: From("l", 700*mm), Width: From("w", 400*mm), Thickness: From("t", 18*mm), Places: []Place{{Frame: f}},
		}
		x := unit.Length(rapid.IntRange(0, 700_000_000).Draw(t, "x"))
		y := unit.Length(rapid.IntRange(0, 400_000_000).Draw(t, "y"))
		n := f.N()
		for _, side := range []struct {
			z    unit.Length
			dir  geom.Dir
			face Face
		}{{0, geom.Dir{X: -n.X, Y: -n.Y, Z: -n.Z}, FaceReference}, {18 * mm, n, FaceOther}} {
			for _, mirror := range []bool{false, true} {
				p.Places[0].Frame.Mirror = mirror
				gx, gy, face, ok := onFace(p, 0, f.At(x, y, side.z), side.dir)
				want := y
				if mirror {
					want = 400*mm - y
				}
				if !ok || gx != x || gy != want || face != side.face {
					t.Fatalf("(%v, %v) on the %s is found at (%v, %v) on the %s, %v", x, want, side.face, gx, gy, face, ok)
				}
				if _, _, _, ok := onFace(p, 0, f.At(x, y, 9*mm), side.dir); ok {
					t.Fatal("a point within the wood is not on a face")
				}
			}
		}
	})
}

// An L bent at the left: a flat of 200, a quarter of radius 50, a flat of 300.
// The skin of 2 makes the bend 49·π/2 long on the flat panel; a hole 100 past
// the bend is bored at 200 + 76.97 + 100.
func TestOnFaceOfBentPart(t *testing.T) {
	zone := unit.MM(49 * math.Pi / 2)
	p := &Part{
		Length: From("l", 500*mm+zone), Width: From("w", 400*mm), Thickness: From("t", 18*mm),
		Kerfs: []KerfGroup{{Start: 200 * mm, Zone: zone, Face: FaceReference}},
		Bent: &Bent{Left: true, Profile: geom.Path{
			{Point: geom.P(0, 0)},
			{Point: geom.P(200*mm, 0), Bulge: geom.QuarterBulge},
			{Point: geom.P(250*mm, 50*mm)},
			{Point: geom.P(250*mm, 350*mm)},
		}},
		// u to the right, v upward, the width towards the front.
		Places: []Place{{Frame: geom.Frame{Origin: geom.Vec{Y: 400 * mm}, U: geom.Right, V: geom.Up}}},
	}
	for _, x := range []struct {
		name   string
		p      geom.Vec
		dir    geom.Dir
		ok     bool
		wantX  float64
		wantY  float64
		onFace Face
	}{
		{"inside of the floor", geom.Vec{X: 120 * mm, Y: 100 * mm, Z: 18 * mm}, geom.Up, true, 120, 300, FaceReference},
		{"outside of the floor", geom.Vec{X: 120 * mm, Y: 100 * mm}, geom.Down, true, 120, 300, FaceOther},
		{"inside of the side", geom.Vec{X: 232 * mm, Y: 390 * mm, Z: 150 * mm}, geom.Left, true, 200 + 49*math.Pi/2 + 100, 10, FaceReference},
		{"outside of the side", geom.Vec{X: 250 * mm, Y: 390 * mm, Z: 150 * mm}, geom.Right, true, 200 + 49*math.Pi/2 + 100, 10, FaceOther},
		{"at the bend", geom.Vec{X: 220 * mm, Y: 100 * mm, Z: 18 * mm}, geom.Up, false, 0, 0, ""},
		{"before the front edge", geom.Vec{X: 120 * mm, Y: -1 * mm, Z: 18 * mm}, geom.Up, false, 0, 0, ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			gx, gy, face, ok := onFace(p, 0, x.p, x.dir)
			if ok != x.ok || face != x.onFace {
				t.Fatalf("found %v on the %q", ok, face)
			}
			wantSize(t, "x", gx, x.wantX)
			wantSize(t, "y", gy, x.wantY)
		})
	}
	b := &builder{parts: []*Part{p}}
	got := b.stretches(geom.Vec{X: 232 * mm}, geom.Left)
	if len(got) != 1 || got[0] != (stretch{50 * mm, 350 * mm}) {
		t.Errorf("flat of the side runs over %v", got)
	}
}
