package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// block is a box of w × d × h with its corner at (x, y, z).
func block(x, y, z, w, d, h float64) build.Part {
	return build.Part{
		Letter: "A", Length: build.Dim{Size: unit.MM(w)}, Width: build.Dim{Size: unit.MM(d)}, Thickness: build.Dim{Size: unit.MM(h)},
		Outline: geom.Rect(unit.MM(w), unit.MM(d)),
		Places:  []build.Place{{Frame: geom.Frame{Origin: geom.Vec{X: unit.MM(x), Y: unit.MM(y), Z: unit.MM(z)}, U: geom.Right, V: geom.Back}}},
	}
}

// say writes the lines of a view, sorted, for golden texts.
func say(v View) string {
	var out []string
	for _, it := range v.Items {
		s, ok := it.(Stroke)
		if !ok {
			continue
		}
		for _, p := range s.Paths {
			l := s.Pen.Line().Name
			for _, n := range p.Nodes {
				l += fmt.Sprintf(" %.4g,%.4g", n.X, n.Y)
				if n.Bulge != 0 {
					l += fmt.Sprintf(" (%.4f)", n.Bulge)
				}
			}
			out = append(out, l)
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

// A box of 100 × 50 × 30 in front of one of 60 × 50 × 80, from the front: the
// hinder one shows above the fore one, and its lower part is dashed.
func TestTwoBlocksGolden(t *testing.T) {
	m := build.Model{Parts: []build.Part{block(0, 0, 0, 100, 50, 30), block(20, 60, 0, 60, 50, 80)}}
	got := say(elevation(m, fromFront, Options{Hidden: true}))
	want := strings.Join([]string{
		"hidden 20,0 20,30",
		"hidden 80,0 80,30",
		"medium 20,30 80,30",
		"outline 0,0 0,30",
		"outline 0,0 100,0",
		"outline 0,30 20,30",
		"outline 100,0 100,30",
		"outline 20,30 20,80",
		"outline 20,80 80,80",
		"outline 80,30 100,30",
		"outline 80,30 80,80",
	}, "\n")
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A shelf let into a post: where it enters, the post shows a line that is an
// edge of neither. Post 20 × 20 × 100; shelf 10 deep and 10 high through its
// middle, from 10 within the post to 80 beyond.
func TestPartsThatGoIntoEachOtherShowALine(t *testing.T) {
	m := build.Model{Parts: []build.Part{block(0, 0, 0, 20, 20, 100), block(10, 5, 50, 90, 10, 10)}}
	var faces []facet
	for i, s := range solids(m) {
		faces, _ = s.shape(i, slanting.toward, faces, nil)
	}
	got := map[vec]int{}
	for _, r := range meets(faces) {
		got[r.a]++
		got[r.b]++
	}
	for _, corner := range []vec{{20, 5, 50}, {20, 15, 50}, {20, 15, 60}, {20, 5, 60}} {
		if got[corner] != 2 {
			t.Errorf("%v is an end of %d lines, want 2; all: %v", corner, got[corner], got)
		}
	}
	if len(got) != 4 {
		t.Errorf("ends %v", got)
	}
}

// A bent shell seen end on shows true arcs: of the outside radius 40 and the
// inside radius 25, a quarter of a circle each.
func TestBentShellShowsTrueArcs(t *testing.T) {
	m := drawtest.BentShell()
	m.Parts = m.Parts[:1]
	radii := map[float64]int{}
	for _, it := range elevation(m, fromFront, Options{}).Items {
		for _, p := range it.(Stroke).Paths {
			for i, n := range p.Nodes {
				if n.Bulge == 0 {
					continue
				}
				a := ArcOf(n.Pt, p.Nodes[i+1].Pt, n.Bulge)
				if math.Abs(math.Abs(a.Sweep)-math.Pi/2) > 1e-6 {
					t.Errorf("an arc of %.3f°", a.Sweep*180/math.Pi)
				}
				radii[math.Round(a.Radius*1e6)/1e6]++
			}
		}
	}
	if len(radii) != 2 || radii[40] != 2 || radii[25] != 2 {
		t.Errorf("arcs by radius: %v, want two of 40 and two of 25", radii)
	}
}

// Of blocks anywhere, a point of a visible line has nothing before it, and a
// point of a hidden line has: checked by asking each block itself whether the
// ray to the viewer enters it (slabs), which shares nothing with the way the
// lines were found.
func TestLinesAreVisibleOrHiddenAsRaysSay(t *testing.T) {
	type box struct{ lo, hi [3]float64 }
	rapid.Check(t, func(t *rapid.T) {
		var m build.Model
		var bs []box
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			var v [6]float64
			for i := range v {
				v[i] = float64(rapid.IntRange(1, 40).Draw(t, "v"))
			}
			m.Parts = append(m.Parts, block(v[0], v[1], v[2], v[3], v[4], v[5]))
			bs = append(bs, box{[3]float64{v[0], v[1], v[2]}, [3]float64{v[0] + v[3], v[1] + v[4], v[2] + v[5]}})
		}
		c := rapid.SampledFrom([]camera{fromFront, fromRight, fromAbove, slanting}).Draw(t, "camera")
		all := solids(m)
		var faces []facet
		var rims []rim
		for i, s := range all {
			faces, rims = s.shape(i, c.toward, faces, rims)
		}
		ps := panes(faces, c)
		for _, r := range rims {
			a, da := c.see(r.a)
			b, db := c.see(r.b)
			if math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-4 {
				continue
			}
			var hidden []span
			for i := range ps {
				hidden = ps[i].hiddenBy(a, b, da, db, hidden)
			}
			hidden = union(hidden, 1e-9)
			for k := range 8 {
				tt := (float64(k) + 0.37) / 8
				in, edge := false, false
				for _, h := range hidden {
					in = in || h.from < tt && tt < h.to
					edge = edge || math.Abs(h.from-tt) < 1e-3 || math.Abs(h.to-tt) < 1e-3
				}
				p := r.a.to(r.b, tt)
				o, d := p.array(), c.toward.array()
				deep, graze := 0.0, false
				for _, b := range bs {
					in, out := 0.0, math.Inf(1)
					for i := range 3 {
						if math.Abs(d[i]) < 1e-9 {
							if o[i] < b.lo[i]-1e-6 || o[i] > b.hi[i]+1e-6 {
								out = -1
							} else if o[i] < b.lo[i]+1e-6 || o[i] > b.hi[i]-1e-6 {
								graze = true // runs in a face: either is right
							}
							continue
						}
						x, y := (b.lo[i]-o[i])/d[i], (b.hi[i]-o[i])/d[i]
						in, out = max(in, min(x, y)), min(out, max(x, y))
					}
					deep = max(deep, out-in)
					// It passes an edge of a block so close that either is right.
					graze = graze || out > 0.05 && math.Abs(out-in) < 0.02
				}
				if graze || edge || deep > 1e-6 && deep < 0.2 {
					continue
				}
				if in != (deep > 0.2) {
					t.Fatalf("point %v: hidden %t, but the ray runs %.3f through a block", p, in, deep)
				}
			}
		}
	})
}

// The section of the small cabinet through the middle: top and bottom are
// 300 × 18, the shelf 270 × 18, the back 6 × 464.
func TestSectionFaces(t *testing.T) {
	v := Section(drawtest.SmallCabinet(), AcrossX, unit.MM(200), Options{})
	var got []string
	for _, h := range v.Hatches {
		for _, p := range h.Paths {
			r, _ := bounds([]Path{p})
			got = append(got, fmt.Sprintf("%.0f×%.0f at %.0f,%.0f", r.W, r.H, r.X, r.Y))
		}
	}
	want := []string{"300×18 at 0,582", "300×18 at 0,100", "270×18 at 14,330", "6×464 at 284,118", "18×208 at 0,120"}
	if !slices.Equal(got, want) {
		t.Errorf("cut faces %q, want %q", got, want)
	}
}

// Level through the sides the groove for the back is open: the side is 18 thick
// but 10 where the back stands in it, on both sides alike.
func TestSectionShowsGrooves(t *testing.T) {
	v := Section(drawtest.SmallCabinet(), AcrossZ, unit.MM(500), Options{})
	for i, want := range []string{
		"18,0 18,284 10,284 10,290 18,290 18,300 0,300 0,0",
		"400,0 400,300 382,300 382,290 390,290 390,284 382,284 382,0",
	} {
		var got []string
		for _, n := range v.Hatches[i].Paths[0].Nodes {
			got = append(got, fmt.Sprintf("%.0f,%.0f", n.X+0, n.Y+0))
		}
		if !sameRing(got, strings.Fields(want)) {
			t.Errorf("side %d is %v, want %s", i, got, want)
		}
	}
}

// sameRing reports whether two rings are the same, from any corner either way.
func sameRing(a, b []string) bool {
	for range 2 {
		for i := range b {
			if slices.Equal(a, append(slices.Clone(b[i:]), b[:i]...)) {
				return true
			}
		}
		slices.Reverse(b)
	}
	return false
}

// The rebate round the back edge of the bent shell leaves 8 of its 15 there,
// with the arcs about the same centres.
func TestBentSectionIsThinnerInItsRebate(t *testing.T) {
	m := drawtest.BentShell()
	for at, want := range map[float64]string{100: "15", 265: "8"} {
		v := Section(m, AcrossY, unit.MM(at), Options{})
		p := v.Hatches[0].Paths[0]
		n := len(p.Nodes)
		wall := math.Hypot(p.Nodes[0].X-p.Nodes[n-1].X, p.Nodes[0].Y-p.Nodes[n-1].Y)
		if got := fmt.Sprintf("%.4g", wall); got != want {
			t.Errorf("wall at y = %v is %s, want %s", at, got, want)
		}
	}
}
