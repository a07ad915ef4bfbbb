// Package drawtest holds small models made by hand, for tests of drawings.
package drawtest

import (
	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

func mm(v float64) unit.Length { return unit.MM(v) }

func dim(v float64) build.Dim { return build.Dim{Size: unit.MM(v)} }

// board is a part l long, w wide, t thick, its origin at the
// place, x along u and y along v.
func board(letter, name string, role build.Role, l, w, t float64, solid bool, places ...build.Place) build.Part {
	return build.Part{
		Letter: letter, Name: name, Role: role, Count: len(places),
		Length: dim(l), Width: dim(w), Thickness: dim(t), Solid: solid, Grain: build.GrainLength,
		Outline: geom.Rect(unit.MM(l), unit.MM(w)), Places: places,
	}
}

func at(x, y, z float64, u, v geom.Dir, name string) build.Place {
	return build.Place{Frame: geom.Frame{Origin: geom.Vec{X: mm(x), Y: mm(y), Z: mm(z)}, U: u, V: v}, Name: name}
}

// SmallCabinet is 400 wide, 300 deep, 600 high: two 18 mm sides, top and bottom
// between them, a shelf, a 6 mm back in a groove 8 deep and 10 from the back
// edge, an inset front, and four splayed legs 100 long.
func SmallCabinet() build.Model {
	groove := func(face build.Face) build.Feature {
		return build.Feature{
			Kind: build.Groove, Face: face, Depth: mm(8), For: "back",
			Region: geom.Outline{{Point: geom.P(0, mm(284))}, {Point: geom.P(mm(500), mm(284))}, {Point: geom.P(mm(500), mm(290))}, {Point: geom.P(0, mm(290))}},
		}
	}
	// Sides stand with x up, y back, and their thickness outward for the
	// right one (up × back = left, so the right one is mirrored).
	side := board("A", "Side", build.RoleSide, 500, 300, 18, false,
		at(18, 0, 100, geom.Up, geom.Back, "left"),
		build.Place{Frame: geom.Frame{Origin: geom.Vec{X: mm(382), Y: mm(300), Z: mm(100)}, U: geom.Up, V: geom.Front, Mirror: true}, Name: "right"})
	side.Features = []build.Feature{groove(build.FaceReference)}
	for _, x := range []float64{100, 164, 228} {
		for _, y := range []float64{40, 240} {
			side.Features = append(side.Features, build.Feature{Kind: build.Hole, Face: build.FaceReference, Depth: mm(10), For: "shelf pin", Region: roundHole(x, y, 5)})
		}
	}
	m := build.Model{
		Outside: geom.Vec{X: mm(400), Y: mm(300), Z: mm(600)},
		Parts: []build.Part{
			side,
			board("B", "Top", build.RoleTop, 364, 300, 18, false, at(18, 0, 582, geom.Right, geom.Back, "")),
			board("C", "Bottom", build.RoleBottom, 364, 300, 18, false, at(18, 0, 100, geom.Right, geom.Back, "")),
			board("D", "Shelf", build.RoleShelf, 362, 270, 18, true, at(19, 14, 330, geom.Right, geom.Back, "")),
			board("E", "Back", build.RoleBack, 380, 464, 6, false, at(10, 290, 118, geom.Right, geom.Up, "")),
			board("F", "Drawer front", build.RoleFront, 360, 208, 18, true, at(20, 18, 120, geom.Right, geom.Up, "")),
		},
		Openings: []build.Opening{
			{Name: "column 1 row 2", Width: dim(364), Height: dim(212), X: mm(18), Z: mm(118), Fill: "drawer", Front: "F", Gap: mm(2)},
			{Name: "column 1 row 1", Width: dim(364), Height: dim(234), X: mm(18), Z: mm(348), Fill: "nothing"},
		},
	}
	leg := board("G", "Leg", build.RoleLeg, 103, 30, 30, true)
	for _, c := range [][2]float64{{30, 30}, {340, 30}, {30, 240}, {340, 240}} {
		u := geom.Dir{X: 0.2, Z: -0.9797958971132712}
		if c[0] < 200 {
			u.X = -0.2
		}
		leg.Places = append(leg.Places, build.Place{Frame: geom.Frame{Origin: geom.Vec{X: mm(c[0]), Y: mm(c[1]), Z: mm(100)}, U: u, V: geom.Back}})
	}
	leg.Count = 4
	m.Parts = append(m.Parts, leg)
	return m
}

func roundHole(x, y, d float64) geom.Outline {
	return geom.Outline{{Point: geom.P(mm(x-d/2), mm(y)), Bulge: -1}, {Point: geom.P(mm(x+d/2), mm(y)), Bulge: -1}}
}

// BentShell is a U-shaped shell lying as top and two sides, outside 400 wide,
// 300 high, 250 deep, 15 thick, R40, with a solid stile before each side.
func BentShell() build.Model {
	r := 40.0
	profile := geom.Path{
		{Point: geom.P(0, 0)},
		{Point: geom.P(0, mm(300-r)), Bulge: -geom.QuarterBulge},
		{Point: geom.P(mm(r), mm(300))},
		{Point: geom.P(mm(400-r), mm(300)), Bulge: -geom.QuarterBulge},
		{Point: geom.P(mm(400), mm(300-r))},
		{Point: geom.P(mm(400), 0)},
	}
	zone := 61.5
	long := 260 + zone + 320 + zone + 260
	shell := build.Part{
		Letter: "A", Name: "Shell", Role: build.RoleShell, Count: 1, Length: dim(long), Width: dim(250), Thickness: dim(15),
		Outline: geom.Rect(unit.MM(long), unit.MM(250)), Grain: build.GrainLength,
		Bent: &build.Bent{Profile: profile, Left: false},
		Kerfs: []build.KerfGroup{
			{Bend: 0, Start: mm(260), Zone: mm(zone), Face: build.FaceReference, Positions: spaced(260, zone, 8)},
			{Bend: 1, Start: mm(260 + zone + 320), Zone: mm(zone), Face: build.FaceReference, Positions: spaced(260+zone+320, zone, 8)},
		},
		Features: []build.Feature{{
			Kind: build.Rebate, Face: build.FaceReference, Depth: mm(7), For: "back",
			Region: geom.Outline{{Point: geom.P(0, 0)}, {Point: geom.P(mm(long), 0)}, {Point: geom.P(mm(long), mm(10))}, {Point: geom.P(0, mm(10))}},
		}},
		// Width runs along right × up = toward the front, from y = 270.
		Places: []build.Place{at(0, 270, 0, geom.Right, geom.Up, "")},
	}
	back := board("C", "Back", build.RoleBack, 384, 292, 6, false, at(8, 270, 0, geom.Right, geom.Up, ""))
	back.Outline = geom.Outline{
		{Point: geom.P(0, 0)},
		{Point: geom.P(mm(384), 0)},
		{Point: geom.P(mm(384), mm(260)), Bulge: geom.QuarterBulge},
		{Point: geom.P(mm(352), mm(292))},
		{Point: geom.P(mm(32), mm(292)), Bulge: geom.QuarterBulge},
		{Point: geom.P(0, mm(260))},
	}
	return build.Model{
		Outside: geom.Vec{X: mm(400), Y: mm(270), Z: mm(300)},
		Parts: []build.Part{
			shell,
			board("B", "Stile", build.RoleStile, 262, 30, 20, true, at(0, 0, 0, geom.Up, geom.Right, "left"), at(370, 0, 0, geom.Up, geom.Right, "right")),
			back,
		},
	}
}

func spaced(start, zone float64, n int) []unit.Length {
	var out []unit.Length
	for i := range n {
		out = append(out, unit.MM(start+zone*(float64(i)+0.5)/float64(n)))
	}
	return out
}
