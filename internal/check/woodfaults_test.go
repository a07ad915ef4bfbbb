package check_test

import (
	"fmt"
	"math/rand/v2"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// woodFaults are parts whose wood moves, bows or cannot be milled.
var woodFaults = []fault{
	{"solid back glued in", "chest", "glued-across", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		back := part(in, "back")
		c := map[string]float64{"cherry": 0.00248, "maple": 0.00289} // FPL-GTR-190 table 13-5
		back.Solid, back.Material = true, []string{"cherry", "maple"}[r.IntN(2)]
		in.Model.Joints = append(in.Model.Joints, build.Joint{Kind: "rebated", A: back.Letter, B: part(in, "bottom").Letter, With: "glue"})
		return in, fmt.Sprintf("%.3f in", part(in, "bottom").Length.Size.In()*c[back.Material]*5)
	}},
	{"plywood shelf glued into solid sides", "chest", "glued-across", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Materials["shelves"] = "cherry-ply-1/4"
		g.p.Inside.Rows[r.IntN(5)] = piece.Opening{Height: g.p.Inside.Rows[0].Height, Shelves: &piece.Shelves{Fixed: []unit.Length{2 * unit.Inch}, Joint: "housing"}}
		g.p.Inside.Rows[4].Height = 0
		in := g.build()
		return in, fmt.Sprintf("%.3f in", part(in, "fixed shelf").Width.Size.In()*0.00248*5)
	}},
	{"rail and stile swapped", "chest", "frame-grain", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		stile, rail := part(in, "outer stile"), part(in, []string{"top rail", "bottom rail"}[r.IntN(2)])
		stile.Places[0], rail.Places[0] = rail.Places[0], stile.Places[0]
		return in, []string{"level", "upright"}[0]
	}},
	{"rail cut across the board", "record-cabinet", "frame-grain", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		part(in, []string{"top rail", "bottom rail", "mid rail"}[r.IntN(3)]).Grain = build.GrainWidth
		return in, "upright"
	}},
	{"part too short for the planer", "chest", "too-short-to-mill", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "top rail")
		p.Rough.Length = unit.Length(4+r.IntN(8)) * unit.Inch
		return in, p.Rough.Length.Format(unit.Inch64ths)
	}},
	{"part too thin for the planer", "chest", "too-thin-to-plane", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "drawer front")
		p.Thickness.Size = unit.Length(1+r.IntN(5)) * unit.Inch32
		return in, p.Thickness.Size.Format(unit.Inch64ths)
	}},
	{"panel wider than the planer", "chest", "too-wide-to-plane", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		g.s.Machines.PlanerWidest = unit.Length(14+r.IntN(4)) * unit.Inch
		in := g.build()
		return in, part(in, "top").Rough.Width.Format(unit.Inch64ths)
	}},
	{"door too tall for its thickness", "clinic-cabinet", "thin-door", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "door")
		p.Length.Size = unit.Length(1201+r.IntN(800)) * mm
		return in, in.Show(p.Length.Size)
	}},
	{"paper-thin face", "record-cabinet", "sanded-through", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.panel("oak-18", func(p *shop.Panel) { p.FacePly = unit.Length(10+r.IntN(30)) * mm / 100 })
		return g.build(), "0.2 mm"
	}},
	{"gap too small for a solid front", "chest", "front-swells", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		gap := []unit.Length{2, 3, 5}[r.IntN(3)] * unit.Inch / 64
		for i := range g.p.Inside.Rows {
			d := *g.p.Inside.Rows[i].Drawer
			d.Gap = gap
			g.p.Inside.Rows[i].Drawer = &d
		}
		return g.build(), fmt.Sprintf("%.4f in", (8.75-2*gap.In())*0.00248*5)
	}},
	{"damp home", "chest", "moves", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		// FPL-GTR-190 table 4-2, 70 °F.
		damp := []struct{ rh, mc float64 }{{55, 10.1}, {60, 11.0}, {65, 12.0}, {70, 13.1}}[r.IntN(4)]
		g.p.Home = &piece.Home{Temperature: 21.1, Dry: 30, Damp: damp.rh}
		return g.build(), fmt.Sprintf("%.3f in", 18*0.00248*(damp.mc-6.2))
	}},
	{"solid front too wide", "chest", "wide-solid-front", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		in.Model.Findings = nil
		p := part(in, "drawer front")
		p.Width.Size = unit.Length(9+r.IntN(4)) * unit.Inch
		return in, p.Width.Size.Format(unit.Inch64ths)
	}},
	{"back as thin as card", "record-cabinet", "thin-back", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		g.panel("oak-6", func(p *shop.Panel) { p.Thickness = unit.Length(25+r.IntN(15)) * mm / 10 })
		in := g.build()
		b := part(in, "back")
		return in, in.Show(min(b.Length.Size, b.Width.Size))
	}},
}
