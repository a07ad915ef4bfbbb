package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// screwFaults are screws, holes and plates that do not hold or come through.
var screwFaults = []fault{
	{"screw through the face", "record-cabinet", "screw-tip", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		u := use(in, "leg plate")
		u.Length = u.Stack + unit.Length(r.IntN(9)-1)*mm
		return in, fmt.Sprintf("%g mm", u.Length.MM())
	}},
	{"stop set too deep", "record-cabinet", "drill-stop", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		u := use(in, "leg plate")
		u.Stop = u.Stack - mm + unit.Length(r.IntN(5))*mm
		return in, fmt.Sprintf("%g mm", u.Stop.MM())
	}},
	{"pilot of the shank's size", "chest", "pilot-too-wide", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		u := use(in, "top, from below")
		u.Pilot = u.Diameter + unit.Length(r.IntN(10))*mm/10
		return in, fmt.Sprintf("%.3f in", u.Pilot.MM()/25.4)
	}},
	{"machine screw that ends in the front", "record-cabinet", "machine-screw-short", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		u := use(in, "machine screws, pulls of drawers")
		n := r.IntN(5)
		u.Length = u.Stack + unit.Length(n)*mm
		return in, fmt.Sprintf("%d mm", n)
	}},
	{"screw hole at the edge", "record-cabinet", "hole-near-edge", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "box front")
		f := feature(p, "screw of the front")
		x := unit.Length(3+r.IntN(3)) * mm
		f.Region = geom.Outline{{Point: geom.P(x+9*mm/4, p.Width.Size/2), Bulge: 1}, {Point: geom.P(x-9*mm/4, p.Width.Size/2), Bulge: 1}}
		return in, fmt.Sprintf("%g mm", x.MM())
	}},
	{"plate at the edge", "clinic-cabinet", "plate-near-edge", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Base.InsetX = unit.Length(1+r.IntN(7)) * unit.Inch / 8
		return g.build(), fmt.Sprint(g.p.Base.InsetX.Format(unit.Inch64ths))
	}},
	{"cup through the door", "clinic-cabinet", "cup-depth", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		d := unit.Length(125+r.IntN(20)) * mm / 10
		g.hardware("cup-hinge", func(h *shop.Hardware) { h.CupDepth = d })
		in := g.build()
		return in, in.Show(15*mm - d)
	}},
	{"thick screws in a thin edge", "record-cabinet", "edge-splits", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		use(in, "back to case").Diameter = unit.Length(61+r.IntN(20)) * mm / 10
		return in, "18.0 mm"
	}},
	{"heads through a thin back", "record-cabinet", "head-sinks-through", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		t := float64(25+r.IntN(8))/10 + 0.02 // what is left lies between two printed figures, not on the half
		g.panel("oak-6", func(p *shop.Panel) { p.Thickness = unit.MM(t) })
		in := g.build()
		return in, fmt.Sprintf("%.1f mm", t-use(in, "back to case").Diameter.MM()/2-0.5)
	}},
	{"a rebate too narrow for the heads", "record-cabinet", "rebate-narrow", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		wide := unit.Length(50+r.IntN(20)) * mm / 10
		g.p.Back = &piece.Back{Fit: "rebated", Depth: wide}
		in := g.build()
		return in, fmt.Sprintf("%.1f mm", wide.MM()-0.5) // 0.5 of room
	}},
	{"short screws in leg plates", "record-cabinet", "leg-screws-pull", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Use.LoadKg = float64(200 + 20*r.IntN(10))
		in := g.build()
		use(in, "leg plate").Length = 8 * mm
		kg := g.p.Use.LoadKg
		for _, p := range in.Model.Parts {
			kg += weight(in, p) * float64(p.Count)
		}
		out := 150 * math.Tan(8*math.Pi/180) * math.Sqrt2
		return in, unit.Force(kg / 3 * 9.80665 * out / (75 * 2.0 / 3) / 2).Led(in.Piece.Units)
	}},
}
