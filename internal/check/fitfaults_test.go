package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// fitFaults are things that do not go into their place, or into the house.
var fitFaults = []fault{
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
	{"caster of another height", "clinic-cabinet", "base-height", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		h := unit.Length(16+r.IntN(6)) * unit.Inch / 4
		g.hardware("caster-3", func(c *shop.Hardware) { c.Height = h })
		return g.build(), h.Format(unit.Inch64ths)
	}},
	{"box too high for its opening", "record-cabinet", "box-too-high", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		d := *g.p.Inside.Columns[0].Rows[0].Drawer
		d.BoxHeight = unit.Length(160+r.IntN(40)) * mm
		g.p.Inside.Columns[0].Rows[0].Drawer = &d
		return g.build(), fmt.Sprintf("%g mm", d.BoxHeight.MM())
	}},
	{"opening out of parallel", "record-cabinet", "opening-parallel", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
		n := 7 + r.IntN(10)
		w, h := 464*mm, 165*mm
		g.r.Openings = []record.MeasuredOpening{{Opening: "column 1 row 1", Widths: []unit.Length{w, w + unit.Length(n)*mm/20, w + unit.Length(n)*mm/10}, Heights: []unit.Length{h, h, h}}}
		return g.build(), fmt.Sprintf("%g mm", float64(n)/10)
	}},
	{"too few kerfs", "record-cabinet", "bend-closes-short", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
		n := 6 + r.IntN(5)
		g.p.Case.Kerfs = n
		return g.build(), fmt.Sprintf("%.1f°", float64(n)*2.2/17*180/math.Pi)
	}},
}
