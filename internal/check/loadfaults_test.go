package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// loadFaults are parts and hardware that give way under what they carry.
var loadFaults = []fault{
	{"thin shelf", "record-cabinet", "shelf-sags", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Materials["shelves"] = "oak-6"
		in := g.build()
		p := part(in, "shelf")
		const q, e, t = 1915.2, 6960e6, 0.006 // AWS 2009 40 lb/ft²; FPL-GTR-190 table 12-1
		w, l := p.Width.Size.Metres(), 0.468  // from panel to panel, 470, less its play; the frame before it is open 464 wide
		return in, fmt.Sprintf("%.1f mm", 1000*5*q*w*l*l*l*l/(384*e*w*t*t*t/12))
	}},
	{"shelf with too much on it", "record-cabinet", "shelf-sags", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		kg := float64(200 + 20*r.IntN(5)) // the sag passes 468/600, and in time 468/144 or not
		g.p.Inside.Columns[1].Shelves.Load = kg
		in := g.build()
		p := part(in, "shelf")
		const e, t = 6960e6, 0.018
		w, l := p.Width.Size.Metres(), 0.468 // from panel to panel, 470, less its play; the frame before it is open 464 wide
		sag := 1000 * 5 * kg * 9.80665 * l * l * l * l / (384 * e * w * t * t * t / 12)
		if 1.8*sag > 468.0/144 { // k_def 0.80
			sag *= 1.8
		}
		return in, fmt.Sprintf("%.1f mm", sag)
	}},
	{"thin drawer bottom", "record-cabinet", "drawer-bottom-sags", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		t := float64(20+r.IntN(10)) / 10
		g.panel("birch-6", func(p *shop.Panel) { p.Thickness = unit.MM(t) })
		g.p.Use.LoadKg = 0
		in := g.build()
		b := part(in, "box bottom")
		a, c := b.Length.Size.MM(), b.Width.Size.MM()
		if a < c {
			a, c = c, a
		}
		return in, fmt.Sprintf("%.1f mm", 0.1422*718.2e-6*c*c*c*c/(6358*t*t*t*(1+2.21*c*c*c/(a*a*a))))
	}},
	{"weak casters", "clinic-cabinet", "casters", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		g.hardware("caster-3", func(h *shop.Hardware) { h.RatedKg = 5 + float64(r.IntN(8)) })
		in := g.build()
		kg := 0.0
		for _, p := range in.Model.Parts {
			kg += weight(in, p) * float64(p.Count)
		}
		return in, unit.Mass((kg+30)/3).Led(in.Piece.Units, 0)
	}},
	{"no back", "clinic-cabinet", "racks", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Case.Height += unit.Length(r.IntN(10)) * unit.Inch
		g.p.Back = nil
		in := g.build()
		return in, fmt.Sprintf("%.3f in", in.Model.Outside.Z.In()*math.Tan(math.Pi/180))
	}},
	{"runner overloaded", "chest", "runner-load", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Use.LoadKg = float64(150 + 10*r.IntN(10))
		in := g.build()
		kg := g.p.Use.LoadKg * 8.75 / 34.75
		for _, p := range in.Model.Parts {
			for _, at := range p.Places {
				if strings.HasPrefix(at.Name, "row 5") && (strings.HasPrefix(p.Name, "box ") || p.Name == "drawer front") {
					kg += weight(in, p)
				}
			}
		}
		return in, unit.Mass(kg).Led(in.Piece.Units, 1)
	}},
	{"a hinge left out", "clinic-cabinet", "few-hinges", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		for i := range in.Model.Hardware {
			if in.Model.Hardware[i].Key == "cup-hinge" {
				in.Model.Hardware[i].Count = r.IntN(2) + 1
			}
		}
		p := part(in, "door")
		p.Length.Size += unit.Metre
		n := 1
		for i := range in.Model.Hardware {
			if in.Model.Hardware[i].Key == "cup-hinge" {
				n = in.Model.Hardware[i].Count
			}
		}
		return in, fmt.Sprint(n)
	}},
	{"leg as thin as a stick", "record-cabinet", "leg-bends", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		d := 14 + r.IntN(5)
		g.p.Base.Thick = unit.Length(d) * mm
		in := g.build()
		kg := 60.0
		for _, p := range in.Model.Parts {
			kg += weight(in, p) * float64(p.Count)
		}
		n := kg / 3 * 9.80665
		high := 150.0
		out := high * math.Tan(8*math.Pi/180) * math.Sqrt2
		return in, fmt.Sprintf("%.0f MPa", 32*n*(out+0.4*high)/(math.Pi*float64(d*d*d)))
	}},
	{"drawers on a rail too low for them", "record-cabinet", "rail-sags", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		load := float64(300 + 100*r.IntN(3))
		g.p.Use.LoadKg = load
		in := g.build()
		h := in.Shop.Hardware["side-runner"]
		h.Kind = "wooden-runner"
		in.Shop.Hardware["side-runner"] = h
		rail := part(in, "mid rail")
		rail.Thickness.Size, rail.Width.Size = 20*mm, 12*mm
		for i := range rail.Places { // its upper edge stays where it was
			rail.Places[i].Frame.Origin.Z += 8 * mm
		}
		room, own := 2*2*464.0*165+464*350, 0.0
		for _, p := range in.Model.Parts {
			for _, at := range p.Places {
				if strings.HasPrefix(at.Name, "column 1 row 1") && (strings.HasPrefix(p.Name, "box ") || p.Name == "drawer front") {
					own += weight(in, p)
				}
			}
		}
		w := (load*464*165/room + own) * 9.80665 / 464 // N/mm
		return in, fmt.Sprintf("%.1f mm", 5*w*math.Pow(464, 4)/(384*12300*20*12*12*12/12))
	}},
	{"kitchen shelf too thin", "clinic-cabinet", "shelf-sags-kitchen", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Use.For = "kitchen"
		in := g.build()
		p := part(in, "shelf")
		t := float64(30+r.IntN(5)) / 10
		p.Thickness.Size = unit.MM(t)
		const q, e = 718.2e-6, 9697.0 // ANSI/KCMA 15 lb/ft²; birch plywood along the grain
		l := 374.4                    // the shelf is shorter than its opening
		return in, fmt.Sprintf("%.3f in", 5*q*l*l*l*l/(384*e*t*t*t/12)/25.4)
	}},
	{"top that stands out too far", "chest", "top-overhangs", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		top := *g.p.Case.Top
		top.Sides = unit.Length(16+r.IntN(5)) * unit.Inch
		g.p.Case.Top = &top
		in := g.build()
		l, t := top.Sides.MM(), 19.05
		const e = 10300.0 // black cherry, FPL-GTR-190 table 5-3a
		return in, fmt.Sprintf("%.3f in", 27.2155*9.80665*l*l*l/(3*e*300*t*t*t/12)/25.4)
	}},
}
