package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

// good is a piece that can be spoilt, before and after it is built.
type good struct {
	t testing.TB
	p piece.Piece
	s shop.Shop
	r record.Record
}

func (g *good) build() check.Input {
	g.t.Helper()
	m, err := build.Make(g.p, g.s, g.r)
	if err != nil {
		g.t.Fatalf("it cannot be built: %v", err)
	}
	units := g.p.Units
	return check.Input{Piece: g.p, Shop: g.s, Record: g.r, Model: m, Show: func(l unit.Length) string {
		if units == unit.Imperial {
			return l.Format(unit.Inch32nds)
		}
		return l.Format(unit.TenthMM)
	}}
}

func part(in check.Input, name string) *build.Part {
	for i := range in.Model.Parts {
		if in.Model.Parts[i].Name == name {
			return &in.Model.Parts[i]
		}
	}
	panic("no " + name)
}

func use(in check.Input, where string) *build.ScrewUse {
	for i := range in.Model.Screws {
		if in.Model.Screws[i].Where == where {
			return &in.Model.Screws[i]
		}
	}
	panic("no screws for " + where)
}

func feature(p *build.Part, f string) *build.Feature {
	for i := range p.Features {
		if p.Features[i].For == f {
			return &p.Features[i]
		}
	}
	panic("nothing for " + f)
}

// hardware changes one entry of the shop.
func (g *good) hardware(key string, change func(*shop.Hardware)) {
	h := g.s.Hardware[key]
	change(&h)
	g.s.Hardware[key] = h
}

func (g *good) panel(key string, change func(*shop.Panel)) {
	h := g.s.Panels[key]
	change(&h)
	g.s.Panels[key] = h
}

// weight is a part's mass from its outline and a density, in kilograms.
func weight(in check.Input, p build.Part) float64 {
	density := map[string]float64{"cherry": 560, "maple": 605, "birch-1/4": 680, "birch-15": 680, "birch-6": 680, "birch-12": 680, "oak-18": 600, "oak-6": 600, "cherry-ply-1/4": 600, "white-oak": 762}[p.Material]
	return float64(p.Outline.Area()) * p.Thickness.Size.Metres() * density
}

// fault is a way to spoil a demo piece: which check must find it, how grave it
// is, and the figure worked out apart from the check.
type fault struct {
	name, demo, id string
	level          finding.Level
	spoil          func(g *good, r *rand.Rand) (check.Input, string)
}

var faults = []fault{
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
	{"slide longer than the case", "record-cabinet", "runner-too-long", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		long := unit.Length(430+10*r.IntN(20)) * mm
		g.hardware("side-runner", func(h *shop.Hardware) { h.Lengths = []unit.Length{long} })
		return g.build(), fmt.Sprintf("%g mm", (long + 3*mm).MM())
	}},
	{"box left longer than its slide", "record-cabinet", "drawer-stays-in", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		n := 30 + 10*r.IntN(7)
		h := in.Shop.Hardware["side-runner"]
		h.Lengths = []unit.Length{unit.Length(400-n) * mm}
		in.Shop.Hardware["side-runner"] = h
		return in, fmt.Sprintf("%d mm", n)
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
	{"groove past half of the panel", "clinic-cabinet", "worked-too-deep", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, []string{"shell", "bottom"}[r.IntN(2)]), "back")
		f.Depth = unit.Length(8+r.IntN(6)) * mm
		return in, in.Show(f.Depth)
	}},
	{"mortise through the shell", "record-cabinet", "worked-too-deep", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, "shell"), "divider")
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
	{"screw hole at the edge", "record-cabinet", "hole-near-edge", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "box front")
		f := feature(p, "screw of the front")
		x := unit.Length(3+r.IntN(3)) * mm
		f.Region = geom.Circle(geom.P(x, p.Width.Size/2), 9*mm/4)
		return in, fmt.Sprintf("%g mm", x.MM())
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
	{"thin shelf", "record-cabinet", "shelf-sags", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Materials["shelves"] = "oak-6"
		in := g.build()
		p := part(in, "shelf")
		const q, e, t = 1915.2, 6960e6, 0.006 // AWS 2009 40 lb/ft²; FPL-GTR-190 table 12-1
		w, l := p.Width.Size.Metres(), 0.464
		return in, fmt.Sprintf("%.1f mm", 1000*5*q*w*l*l*l*l/(384*e*w*t*t*t/12))
	}},
	{"shelf with too much on it", "record-cabinet", "shelf-sags", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		kg := float64(200 + 20*r.IntN(5)) // the sag passes 464/600, and in time 464/144 or not
		g.p.Inside.Columns[1].Shelves.Load = kg
		in := g.build()
		p := part(in, "shelf")
		const e, t = 6960e6, 0.018
		w, l := p.Width.Size.Metres(), 0.464
		sag := 1000 * 5 * kg * 9.80665 * l * l * l * l / (384 * e * w * t * t * t / 12)
		if 1.8*sag > 464.0/144 { // k_def 0.80
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
		return in, fmt.Sprintf("%.0f kg", (kg+30)/3)
	}},
	{"plate at the edge", "clinic-cabinet", "plate-near-edge", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Base.InsetX = unit.Length(1+r.IntN(7)) * unit.Inch / 8
		return g.build(), fmt.Sprint(g.p.Base.InsetX.Format(unit.Inch32nds))
	}},
	{"no back", "clinic-cabinet", "racks", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Case.Height += unit.Length(r.IntN(10)) * unit.Inch
		g.p.Back = nil
		in := g.build()
		return in, fmt.Sprintf("%.3f in", in.Model.Outside.Z.In()*math.Tan(math.Pi/180))
	}},
	{"part too short for the planer", "chest", "too-short-to-mill", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "top rail")
		p.Rough.Length = unit.Length(4+r.IntN(8)) * unit.Inch
		return in, p.Rough.Length.Format(unit.Inch32nds)
	}},
	{"part too thin for the planer", "chest", "too-thin-to-plane", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "drawer front")
		p.Thickness.Size = unit.Length(1+r.IntN(5)) * unit.Inch32
		return in, p.Thickness.Size.Format(unit.Inch32nds)
	}},
	{"panel wider than the planer", "chest", "too-wide-to-plane", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		g.s.Machines.PlanerWidest = unit.Length(14+r.IntN(4)) * unit.Inch
		in := g.build()
		return in, part(in, "top").Rough.Width.Format(unit.Inch32nds)
	}},
	{"door too narrow to carry it in", "record-cabinet", "way-in", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.WayIn = &piece.WayIn{DoorWidth: unit.Length(350+r.IntN(60)) * mm, DoorHeight: 2 * unit.Metre}
		in := g.build()
		return in, in.Show(in.Model.Outside.Z - g.p.Base.Height + 20*mm)
	}},
	{"landing too small to turn on", "record-cabinet", "way-in", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		a := unit.Length(700+r.IntN(80)) * mm
		g.p.WayIn = &piece.WayIn{Landing: a, Headroom: 600 * mm} // not on end
		in := g.build()
		low := in.Model.Outside.Z - g.p.Base.Height // the lesser of depth and height
		return in, in.Show(min(low, in.Model.Outside.Y) + 20*mm)
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
		return in, fmt.Sprintf("%.1f kg", kg)
	}},
	{"door too tall for its thickness", "clinic-cabinet", "thin-door", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		p := part(in, "door")
		p.Length.Size = unit.Length(1201+r.IntN(800)) * mm
		return in, in.Show(p.Length.Size)
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
	{"paper-thin face", "record-cabinet", "sanded-through", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.panel("oak-18", func(p *shop.Panel) { p.FacePly = unit.Length(10+r.IntN(30)) * mm / 100 })
		return g.build(), "0.2 mm"
	}},
	{"clamps that do not reach", "record-cabinet", "clamp-reach", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.s.Clamps = []shop.Clamp{{Name: "bar", Count: 6, Opens: unit.Metre, Reach: unit.Length(60+r.IntN(140)) * mm}}
		return g.build(), "210 mm"
	}},
	{"caster of another height", "clinic-cabinet", "base-height", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		h := unit.Length(16+r.IntN(6)) * unit.Inch / 4
		g.hardware("caster-3", func(c *shop.Hardware) { c.Height = h })
		return g.build(), h.Format(unit.Inch32nds)
	}},
	{"cup through the door", "clinic-cabinet", "cup-depth", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		d := unit.Length(125+r.IntN(20)) * mm / 10
		g.hardware("cup-hinge", func(h *shop.Hardware) { h.CupDepth = d })
		in := g.build()
		return in, in.Show(15*mm - d)
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
	{"box too high for its opening", "record-cabinet", "box-too-high", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		d := *g.p.Inside.Columns[0].Rows[0].Drawer
		d.BoxHeight = unit.Length(160+r.IntN(40)) * mm
		g.p.Inside.Columns[0].Rows[0].Drawer = &d
		return g.build(), fmt.Sprintf("%g mm", d.BoxHeight.MM())
	}},
	{"thick screws in a thin edge", "record-cabinet", "edge-splits", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		use(in, "back to case").Diameter = unit.Length(61+r.IntN(20)) * mm / 10
		return in, "18.0 mm"
	}},
	{"heads through a thin back", "record-cabinet", "head-sinks-through", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		t := 25 + r.IntN(8)
		g.panel("oak-6", func(p *shop.Panel) { p.Thickness = unit.Length(t) * mm / 10 })
		in := g.build()
		return in, fmt.Sprintf("%.1f mm", float64(t)/10-use(in, "back to case").Diameter.MM()/2-0.5)
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
	{"tenon too short", "chest", "peg-short", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		f := feature(part(in, "top rail"), "stile")
		f.Depth = unit.Length(2+r.IntN(3)) * unit.Inch / 8
		return in, f.Depth.Format(unit.Inch32nds)
	}},
	{"tenon as thin as a card", "record-cabinet", "peg-thin", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		n := 3 + r.IntN(2)
		f := feature(part(in, "top rail"), "top rail to stile")
		f.Region = geom.Rect(20*mm, unit.Length(n)*mm).Translate(geom.P(5*mm, 8*mm))
		return in, fmt.Sprintf("%d mm", n)
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
	{"short screws in leg plates", "record-cabinet", "leg-screws-pull", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		g.p.Use.LoadKg = float64(200 + 20*r.IntN(10))
		in := g.build()
		use(in, "leg plate").Length = 8 * mm
		kg := g.p.Use.LoadKg
		for _, p := range in.Model.Parts {
			kg += weight(in, p) * float64(p.Count)
		}
		out := 150 * math.Tan(8*math.Pi/180) * math.Sqrt2
		return in, fmt.Sprintf("%.0f N", kg/3*9.80665*out/(75*2.0/3)/2)
	}},
	{"solid front too wide", "chest", "wide-solid-front", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		in := g.build()
		in.Model.Findings = nil
		p := part(in, "drawer front")
		p.Width.Size = unit.Length(9+r.IntN(4)) * unit.Inch
		return in, p.Width.Size.Format(unit.Inch32nds)
	}},
	{"back as thin as card", "record-cabinet", "thin-back", finding.Note, func(g *good, r *rand.Rand) (check.Input, string) {
		g.panel("oak-6", func(p *shop.Panel) { p.Thickness = unit.Length(25+r.IntN(15)) * mm / 10 })
		in := g.build()
		b := part(in, "back")
		return in, in.Show(min(b.Length.Size, b.Width.Size))
	}},
	{"opening out of parallel", "record-cabinet", "opening-parallel", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		n := 7 + r.IntN(10)
		w, h := 464*mm, 165*mm
		g.r.Openings = []record.MeasuredOpening{{Opening: "column 1 row 1", Widths: []unit.Length{w, w + unit.Length(n)*mm/20, w + unit.Length(n)*mm/10}, Heights: []unit.Length{h, h, h}}}
		return g.build(), fmt.Sprintf("%.1f mm", float64(n)/10)
	}},
	{"too few kerfs", "record-cabinet", "bend-closes-short", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		n := 6 + r.IntN(5)
		g.p.Case.Kerfs = n
		return g.build(), fmt.Sprintf("%.1f°", float64(n)*2.2/17*180/math.Pi)
	}},
}

// Every fault is seeded three times with figures of its own; the good piece
// does not have the finding, the spoilt one does.
func TestFaults(t *testing.T) {
	seeded := 0
	before := map[string][]finding.Finding{}
	for i, f := range faults {
		for seed := range 3 {
			t.Run(fmt.Sprintf("%s %d", f.name, seed), func(t *testing.T) {
				seeded++
				p, s := demo(t, f.demo)
				g := &good{t: t, p: p, s: s}
				if before[f.demo] == nil {
					before[f.demo] = check.All(g.build())
				}
				in, want := f.spoil(g, rand.New(rand.NewPCG(uint64(i), uint64(seed))))
				w := finding.Finding{ID: f.id, Level: f.level}
				var got []string
				for _, x := range check.All(in) {
					if x.ID != f.id {
						continue
					}
					got = append(got, x.Level.String()+" "+x.Figure)
					if x.Level >= f.level && x.Figure == want {
						w = x
					}
				}
				if w.Says == "" {
					t.Fatalf("%s says %q, want %v %s", f.id, got, f.level, want)
				}
				for _, x := range before[f.demo] {
					if x == w {
						t.Errorf("the good piece has it too: %+v", x)
					}
				}
				if w.Source == "" || w.Advice == "" || !strings.HasSuffix(w.Says, ".") {
					t.Errorf("it lacks source, advice or a full stop: %+v", w)
				}
			})
		}
	}
	if seeded < 100 {
		t.Errorf("%d faults seeded, want 100", seeded)
	}
}
