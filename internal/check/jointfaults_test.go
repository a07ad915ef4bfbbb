package check_test

import (
	"fmt"
	"math/rand/v2"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// jointFaults are joints cut too deep, too thin or glued where glue does not hold.
var jointFaults = []fault{
	{"groove past half of the panel", "clinic-cabinet", "worked-too-deep", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, "shell"), []string{"back", "bottom"}[r.IntN(2)])
		f.Depth = unit.Length(8+r.IntN(6)) * mm
		return in, in.Show(f.Depth)
	}},
	{"housing through the shell", "record-cabinet", "worked-too-deep", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, "shell"), "end of "+part(in, "divider").Letter+" divider")
		f.Depth = unit.Length(18+r.IntN(5)) * mm
		return in, fmt.Sprintf("%g mm", f.Depth.MM())
	}},
	{"mortise off the middle", "record-cabinet", "thin-wall", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		n := 1 + r.IntN(2)
		f := feature(part(in, "top rail"), "top rail to stile")
		f.Region = geom.Rect(20*mm, 6*mm).Translate(geom.P(5*mm, unit.Length(n)*mm))
		return in, fmt.Sprintf("%d mm", n)
	}},
	{"rail glued by its end grain", "record-cabinet", "end-grain", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		rail := part(in, []string{"top rail", "bottom rail"}[r.IntN(2)])
		in.Model.Joints = append(in.Model.Joints, build.Joint{Kind: "butt", A: rail.Letter, B: part(in, "outer stile").Letter, With: "glue"})
		return in, fmt.Sprintf("%g mm", rail.Width.Size.MM())
	}},
	{"pocket screws into end grain", "record-cabinet", "end-grain", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		rail := part(in, []string{"top rail", "bottom rail"}[r.IntN(2)])
		in.Model.Joints = append(in.Model.Joints, build.Joint{Kind: "pocket screw", A: part(in, "outer stile").Letter, B: rail.Letter, With: "2 screws"})
		return in, fmt.Sprintf("%g mm", rail.Width.Size.MM())
	}},
	{"clamps that do not reach", "record-cabinet", "clamp-reach", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.s.Clamps = []shop.Clamp{{Name: "bar", Count: 6, Opens: unit.Metre, Reach: unit.Length(60+r.IntN(140)) * mm}}
		return g.build(), "210 mm"
	}},
	{"tenon too short", "chest", "peg-short", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, "top rail"), "stile")
		f.Depth = unit.Length(2+r.IntN(3)) * unit.Inch / 8
		return in, f.Depth.Format(unit.Inch64ths)
	}},
	{"tenon as thin as a card", "record-cabinet", "peg-thin", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		n := 3 + r.IntN(2)
		f := feature(part(in, "top rail"), "top rail to stile")
		f.Region = geom.Rect(20*mm, unit.Length(n)*mm).Translate(geom.P(5*mm, 8*mm))
		return in, fmt.Sprintf("%d mm", n)
	}},
}
