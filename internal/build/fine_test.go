package build

import (
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// A tenon is as thick as the cutter nearest to a third of the stock, and as
// wide as can be set (handbook rule: a third, by the nearest cutter).
func TestTenonSizes(t *testing.T) {
	for _, c := range []struct {
		sys               unit.System
		stock, seat       unit.Length
		wantThick, wantIn float64
	}{
		{unit.Metric, unit.MM(22), unit.MM(45), 8, 30},
		{unit.Metric, unit.MM(20), unit.MM(35), 6, 23},
		{unit.Metric, unit.MM(20), unit.MM(20), 6, 13},
		{unit.Imperial, 3 * unit.Inch / 4, 5 * unit.Inch / 4, 6.35, 26 * 25.4 / 32},
	} {
		b := &builder{shop: shop.Shop{Units: c.sys}}
		thick, wide := b.tenonSize(c.stock, c.seat)
		wantSize(t, "thickness", thick, c.wantThick)
		wantSize(t, "width", wide, c.wantIn)
	}
}

// Tenons meet their mortises and leave wood behind them.
func TestTenonsFitMortises(t *testing.T) {
	m := must(t, decoded(t, `
format: 1
name: framed
units: mm
materials: {case: ply-18, frame: oak}
case: {kind: carcass, width: 700, height: 500, depth: 300}
frame: {thickness: 22, stile: 30, rail: 25, joint: mortise-tenon}
inside: {rows: [{}, {}]}
`))
	stile := find(t, m, "outer stile")
	for _, name := range []string{"top rail", "bottom rail", "mid rail"} {
		rail := find(t, m, name)
		var tenon, mortise Feature
		for _, f := range rail.Features {
			if f.Kind == Tenon {
				tenon = f
			}
		}
		for _, f := range stile.Features {
			if f.Kind == Mortise && strings.HasSuffix(f.For, name) {
				mortise = f
			}
		}
		a, c := tenon.Region.Bounds(), mortise.Region.Bounds()
		wantSize(t, name+": mortise as wide as the tenon", c.Width(), a.Width().MM())
		wantSize(t, name+": mortise as thick as the tenon", c.Height(), a.Height().MM())
		wantSize(t, name+": glue room", mortise.Depth-tenon.Depth, 1.5)
		if left := stile.Width.Size - mortise.Depth; left < behind {
			t.Errorf("%s: %s of the stile are left behind the mortise", name, left)
		}
		if tenon.Depth%(unit.Millimetre/2) != 0 || a.Height()%unit.Millimetre != 0 {
			t.Errorf("%s: a tenon of %s by %s by %s is no size to set", name, a.Height(), a.Width(), tenon.Depth)
		}
	}
}

// Two dowels in the end of a narrow rail leave a good part of a diameter
// outside them.
func TestDowelsInNarrowRails(t *testing.T) {
	b := &builder{}
	g := b.dowel(30*unit.Millimetre, 20*unit.Millimetre)
	if len(g.at) != 2 {
		t.Fatalf("%d dowels", len(g.at))
	}
	wantSize(t, "diameter", g.thick, 8)
	if wall := g.at[0] - g.thick/2; wall < g.thick*2/5 {
		t.Errorf("%s of wood beside a dowel of %s", wall, g.thick)
	}
	wantSize(t, "in a wide joint", b.dowel(300*unit.Millimetre, 20*unit.Millimetre).thick, 10)
}

// What is bought or cut to a cutter is named in the unit of the shop, whatever
// the piece is drawn in.
func TestPegsInUnitsOfShop(t *testing.T) {
	p := box600("loose-tenon")
	p.Units = unit.Imperial
	s := workshop()
	delete(s.Hardware, "tenon")
	for _, h := range make1(t, p, s).Hardware {
		if strings.HasPrefix(h.Name, "loose tenon") && !strings.Contains(h.Name, "mm") {
			t.Errorf("a metric shop is told of a %s", h.Name)
		}
	}
}

// A pilot hole under a metal plate starts at the wood: 16 less 2.5 of plate.
func TestStopUnderPlates(t *testing.T) {
	for _, s := range built(t, "record-cabinet").Screws {
		switch s.Where {
		case "leg plate":
			wantSize(t, "stop", s.Stop, 16-2.5)
		case "back to case":
			wantSize(t, "stop through wood", s.Stop, s.Length.MM())
			if grip := s.Length - unit.MM(6); 3*grip < 2*s.Length {
				t.Errorf("screws of %s through a back of 6 hold %s, less than two thirds", s.Length, grip)
			}
		}
	}
}

// Parts that the program chooses the size of are whole inches in a shop that
// works in inches.
func TestStretchersInInches(t *testing.T) {
	wantSize(t, "stretcher", find(t, built(t, "chest"), "top stretcher").Width.Size, 3*25.4)
}

// A plinth is screwed up into the bottom, and its screws are in the table.
func TestPlinthScrews(t *testing.T) {
	m := built(t, "chest")
	for _, s := range m.Screws {
		if strings.HasPrefix(s.Where, "plinth") {
			if s.Length > 3*unit.Inch/2-unit.Inch/8 {
				t.Errorf("screws of %s come through the bottom", s.Length)
			}
			return
		}
	}
	t.Error("no screws for the plinth")
}

// However thick the panel measures, grooves and rebates are as deep as a
// maker sets them: half millimetres, or 1/32 in.
func TestDepthsCanBeSet(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		step := unit.Millimetre / 2
		if sys == unit.Imperial {
			step = unit.Inch32
		}
		for thick := unit.MM(11.5); thick < unit.MM(19.2); thick += unit.MM(0.13) {
			s := workshop()
			s.Units = sys
			ply := s.Panels["ply-18"]
			ply.Thickness = thick
			s.Panels["ply-18"] = ply
			p := box600("housing")
			p.Back = &piece.Back{Fit: "grooved"}
			for _, part := range make1(t, p, s).Parts {
				for _, f := range part.Features {
					if f.Depth%step != 0 && (f.Kind == Groove || f.Kind == Rebate) {
						t.Fatalf("%s: a %s %s deep in a panel of %s", part.Name, f.Kind, f.Depth, thick)
					}
				}
			}
		}
	}
}

// A stile that sweeps round a corner is as wide as its board only there. A
// rail between meets the edge that is shaped, not that of the board: the
// stile is 30 wide of 80 (the record cabinet, worked by hand).
func TestMortiseInShapedEdge(t *testing.T) {
	m := built(t, "record-cabinet")
	stile := find(t, m, "outer stile")
	n := 0
	for _, f := range stile.Features {
		switch {
		case strings.HasPrefix(f.For, "mid rail"):
			n++
			wantSize(t, "edge inside the board", f.In, 50)
			if left := stile.Width.Size - f.In - f.Depth; left < behind {
				t.Errorf("%s of the stile are left behind the mortise", left)
			}
		case f.In != 0:
			t.Errorf("%s lies %s inside the board", f.For, f.In)
		}
	}
	if n == 0 || !strings.Contains(stile.Note, shapeFirst) {
		t.Errorf("%d mortises for mid rails; the stile says %q", n, stile.Note)
	}
}

// A solid top is held fast along the front and moves at the back; the
// stretcher that is seen between top and drawer has the case's edge band.
func TestTopHeldAlongFront(t *testing.T) {
	m := must(t, decoded(t, `
format: 1
name: topped
units: mm
materials: {case: ply-18, top: cherry}
thicknesses: {top: 20}
case: {kind: carcass, width: 700, height: 500, depth: 400, edges: on-top, top: {front: 20, held: slots}}
`))
	for _, p := range m.Parts {
		if p.Name != "top stretcher" {
			continue
		}
		front := p.Places[0].Name == "front"
		if got := len(p.Bands) == 1; got != front {
			t.Errorf("the stretcher at the %s has bands %v", p.Places[0].Name, p.Bands)
		}
		if front {
			wantSize(t, "band in line with the sides", p.Places[0].Frame.Origin.Y, 0)
		}
		for _, f := range p.Features {
			if !strings.HasPrefix(f.For, "screw into the top") {
				continue
			}
			r := f.Region.Bounds()
			if round := r.Width() == r.Height(); round != front {
				t.Errorf("the %s stretcher has a hole of %s by %s", p.Places[0].Name, r.Width(), r.Height())
			}
		}
	}
}
