package route_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func glueUp(t *testing.T, in route.Input, name string) route.GlueUp {
	t.Helper()
	all := route.Make(in).Glueups
	i := slices.IndexFunc(all, func(g route.GlueUp) bool { return g.Name == name })
	if i < 0 {
		t.Fatalf("no glue-up of the %s", name)
	}
	return all[i]
}

// TestBoxIsMeasuredOutside: the diagonal of a drawer box is that of its outside
// width and depth, however its corners are made; clamps span that width.
func TestBoxIsMeasuredOutside(t *testing.T) {
	for corner, between := range map[string]bool{"rebate": true, "butt": true, "dovetail": false, "finger": false} {
		in := input(t, "record-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
			for _, c := range []int{0, 2} {
				for r := range p.Inside.Columns[c].Rows {
					p.Inside.Columns[c].Rows[r].Drawer.Corner = corner
				}
			}
		})
		g := glueUp(t, in, "drawer boxes")
		d := in.Model.Openings[0].Drawer
		near(t, corner+": width", g.Width.MM(), d.Width.MM(), 1e-6)
		near(t, corner+": depth", g.Height.MM(), d.Depth.MM(), 1e-6)
		near(t, corner+": diagonal", g.Diagonal.MM(), math.Hypot(437.9, 400), 0.001)
		near(t, corner+": clamps open", (g.Longest - 2*route.Caul).MM(), d.Width.MM(), 1e-6)
		for _, p := range in.Model.Parts {
			if strings.HasPrefix(p.Name, "box front") && (p.Length.Size < g.Width) != between {
				t.Errorf("%s: %s is %s long in a box %s wide", corner, p.Name, p.Length.Size, g.Width)
			}
		}
	}
}

// TestDiagonalsRunBetweenWhatIsThere: round corners are measured between the
// marks where their bends begin, a frame at its corners as they are sawn.
func TestDiagonalsRunBetweenWhatIsThere(t *testing.T) {
	for _, c := range []struct {
		name, demo, glue string
		change           func(*piece.Piece)
		w, h             float64
		says             []string
	}{
		{"closed", "record-cabinet", "case", nil, 1500 - 2*80, 410, []string{"above 80 mm from either side", "below 80 mm from either side", "where the bends begin"}},
		{"two radii", "record-cabinet", "case", func(p *piece.Piece) {
			p.Frame, p.Case.Radii = nil, map[string]unit.Length{"top-left": unit.MM(100), "top-right": unit.MM(100)}
		}, 1500 - 100 - 80, 410, []string{"above 100 mm from either side", "below 80 mm from either side"}},
		{"frame", "record-cabinet", "frame", nil, 1502, 412, []string{"still proud"}},
		{"open below", "clinic-cabinet", "case", nil, (16 - 1.5) * 25.4, 22 * 25.4, []string{"in from either side", "below at the corners"}},
		{"carcass", "chest", "case", nil, 20 * 25.4, 40.25 * 25.4, nil},
	} {
		g := glueUp(t, input(t, c.demo, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
			if c.change != nil {
				c.change(p)
			}
		}), c.glue)
		near(t, c.name+": mean width", g.Width.MM(), c.w, 1e-3)
		near(t, c.name+": height", g.Height.MM(), c.h, 1e-3)
		near(t, c.name+": diagonal", g.Diagonal.MM(), math.Hypot(c.w, c.h), 1e-3)
		for _, s := range c.says {
			if !strings.Contains(g.Between, s) {
				t.Errorf("%s: no word of %q in %q", c.name, s, g.Between)
			}
		}
		if len(c.says) == 0 && g.Between != "" {
			t.Errorf("%s: %q", c.name, g.Between)
		}
	}
}

// TestNoRectangle: where no corner can be measured no figure is printed.
func TestNoRectangle(t *testing.T) {
	in := input(t, "record-cabinet", nil)
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Bent == nil {
			continue
		}
		p.Bent.Profile = slices.Clone(p.Bent.Profile)
		p.Bent.Profile[2].Y += unit.MM(40) // a bend that ends inside the outline
		p.Bent.Profile[2].X -= unit.MM(40)
	}
	if g := glueUp(t, in, "case"); g.Diagonal != 0 || g.Between == "" {
		t.Errorf("diagonal %s between %q", g.Diagonal, g.Between)
	}
}

// TestTrapezoid: marks as far in from both sides make an even trapezoid; its
// diagonals differ, when it racks, as those of a rectangle of its mean width.
func TestTrapezoid(t *testing.T) {
	const above, below, h, rack = 1300.0, 1420.0, 410.0, 1.25
	d1 := math.Hypot((above+below)/2+rack, h)
	d2 := math.Hypot((above+below)/2-rack, h)
	near(t, "rack", route.Rack(unit.MM(d1), unit.MM(d2), unit.MM((above+below)/2)).MM(), rack, 1e-4)
}
