package build

import (
	"math"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// A typed 0 is a size where it can be one, not a size left out.
func TestZeroIsASize(t *testing.T) {
	rows := func(p *piece.Piece, runner string) *piece.Drawer {
		d := &piece.Drawer{Runner: runner, Front: "inset", Gap: 2 * mm}
		p.Inside = piece.Opening{Rows: []piece.Opening{{Drawer: d}, {Drawer: d}}}
		return d
	}
	for _, c := range []struct {
		name       string
		set        func(*piece.Piece, *shop.Shop, *unit.Length) // given or left out
		get        func(Model) unit.Length
		zero, left float64 // mm
	}{
		{"overlaid back flush with the outline", func(p *piece.Piece, _ *shop.Shop, l *unit.Length) { p.Back.SetIn = l }, func(m Model) unit.Length {
			return find(t, m, "back").Length.Size
		}, 836, 836 - 2*4},
		{"no room behind a runner of 400 in 402", func(p *piece.Piece, s *shop.Shop, l *unit.Length) {
			rows(p, "roller")
			p.Case.Depth = 420 * mm
			h := s.Hardware["roller"]
			h.Behind, h.Lengths = l, []unit.Length{350 * mm, 402 * mm}
			s.Hardware["roller"] = h
		}, func(m Model) unit.Length { return m.Openings[0].Drawer.Depth }, 402, 350},
		{"no room over a wooden runner", func(p *piece.Piece, s *shop.Shop, l *unit.Length) {
			rows(p, "wood")
			h := s.Hardware["wood"]
			h.Above = l
			s.Hardware["wood"] = h
		}, func(m Model) unit.Length { return m.Openings[0].Drawer.Above }, 0, usualWoodAbove.MM()},
		{"no room below and above a side runner", func(p *piece.Piece, s *shop.Shop, l *unit.Length) {
			rows(p, "side-runner")
			h := s.Hardware["side-runner"]
			h.Above, h.Below = l, l
			s.Hardware["side-runner"] = h
		}, func(m Model) unit.Length { return m.Openings[0].Drawer.Above }, 0, usualAbove.MM()},
		{"bottom flush with the sides", func(p *piece.Piece, s *shop.Shop, l *unit.Length) {
			d := rows(p, "under")
			d.BoxHeight = 100 * mm
			h := s.Hardware["under"]
			h.Recess = l
			s.Hardware["under"] = h
		}, func(m Model) unit.Length {
			return find(t, m, "box bottom").Places[0].Frame.Origin.Z - m.Openings[0].Z - m.Openings[0].Drawer.BoxUp
		}, 0, usualRecess.MM()},
	} {
		for _, v := range []struct {
			l    *unit.Length
			want float64
		}{{new(unit.Length(0)), c.zero}, {nil, c.left}} {
			p, s := plain(t)
			c.set(&p, &s, v.l)
			m := make1(t, p, s)
			if got := c.get(m).MM(); math.Abs(got-v.want) > 1e-6 {
				t.Errorf("%s: given %v, got %v mm, want %v", c.name, v.l, got, v.want)
			}
		}
	}
}

// A rake of 0 beside a splay lets the legs lean to the side only; left out it
// is as the splay.
func TestRakeOfZero(t *testing.T) {
	lean := func(rake *unit.Angle) (x, y float64) {
		p := box600("dowel")
		p.Base = &piece.Base{Kind: "legs", Height: unit.MM(202.5), Splay: unit.Deg(10), Rake: rake, Thick: 40 * mm, Hardware: "plate", InsetX: 60 * mm, InsetY: 60 * mm}
		leg := find(t, must(t, p), "leg")
		at := leg.Places[0].Frame
		a, b := at.At(0, 0, 0), at.At(leg.Length.Size, 0, 0)
		return math.Abs((b.X - a.X).MM()), math.Abs((b.Y - a.Y).MM())
	}
	if x, y := lean(new(unit.Angle(0))); x < 30 || y > 1e-6 {
		t.Errorf("legs lean %v to the side and %v to the front", x, y)
	}
	if x, y := lean(nil); math.Abs(x-y) > 1e-6 || x < 30 {
		t.Errorf("with the rake left out legs lean %v and %v", x, y)
	}
}

// A gap of 0 between overlaid fronts is no gap.
func TestOverlaidFrontsThatMeet(t *testing.T) {
	p, s := plain(t)
	d := &piece.Drawer{Runner: "side-runner", Front: "overlaid"}
	p.Inside = piece.Opening{Rows: []piece.Opening{{Drawer: d}, {Drawer: d}}}
	wantSize(t, "front", find(t, make1(t, p, s), "drawer front").Width.Size, (736-3)/2.0)
}

// A hinge that lies no door over its edge does not ask for an overlay of 0,
// which a piece may not have.
func TestNoOverlayOfZeroIsAdvised(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	h := s.Hardware["cup-hinge"]
	h.Fixed, h.Boring, h.Plate = new(unit.Length(0)), 4*mm, 4*mm
	s.Hardware["cup-hinge"] = h
	f, ok := findingOf(make1(t, p, s), "hinge-overlay")
	if !ok || strings.Contains(f.Advice, "an overlay of 0") || f.Fix != nil {
		t.Errorf("got %+v", f)
	}
}
