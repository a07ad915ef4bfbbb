package scene

import (
	"math"
	"testing"

	"casewright/internal/drawing"
	"casewright/internal/unit"
)

// The height a piece is said to have is that of its drawings with their
// dimensions, of its bodies, and of the view in space: from the floor on which
// its casters, feet, plinth or legs stand.
func TestHeightIsOneEverywhere(t *testing.T) {
	for _, name := range demos {
		p := demo(t, name)
		s, high := Make(p), p.Model.Outside.Z.MM()
		stated := (p.Piece.Case.Height + p.Piece.Base.Height).MM()
		if math.Abs(high-stated) > 1e-6 {
			t.Errorf("%s: the model is %v mm high, the document says %v", name, high, stated)
		}
		// The foot of a leg that leans is drawn square, before it is cut level,
		// so a corner reaches a little below the floor: sin 12° of 28 mm.
		const uncut = 6.0
		near := func(what string, lo, hi float64) {
			t.Helper()
			if lo > 1e-6 || lo < -uncut || math.Abs(hi-high) > 1e-3 {
				t.Errorf("%s: %s from %.3f to %.3f, want 0 to %.3f", name, what, lo, hi, high)
			}
			if p.Piece.Base.Kind == "casters" && math.Abs(lo) > 1e-6 {
				t.Errorf("%s: %s: the casters end at %.3f", name, what, lo)
			}
		}
		o := drawing.Options{Units: unit.Metric, Dims: true}
		for _, v := range []drawing.View{drawing.FrontView(p.Model, o), drawing.SideView(p.Model, o), drawing.BackView(p.Model, o), drawing.Section(p.Model, drawing.AcrossX, p.Model.Outside.X/2, o)} {
			b := v.Bounds()
			near(v.Title, b.Y, b.Bottom())
			if v.Title != "Front" && v.Title != "Side" {
				continue
			}
			c := v.Chains[len(v.Chains)-1]
			if c.Side != drawing.LeftOf || len(c.Dims) != 1 || c.Dims[0].Size != p.Model.Outside.Z || c.Dims[0].From != 0 {
				t.Errorf("%s: %s is dimensioned %+v", name, v.Title, c)
			}
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, b := range append(drawing.Bodies(p.Model), drawing.FixtureBodies(p.Model)...) {
			l, h := extent(b)
			lo, hi = min(lo, l[2]), max(hi, h[2])
		}
		near("bodies", lo, hi)
		near("scene", s.LowMM[2], s.HighMM[2])
		for _, f := range s.Fixtures {
			if f.Kind != "caster" {
				continue
			}
			low := math.Inf(1)
			for _, r := range f.Rods {
				low = min(low, r.FromMM[2]-r.DiameterMM/2)
			}
			if math.Abs(low) > 0.01 {
				t.Errorf("%s: a wheel ends at %v", name, low)
			}
		}
	}
}
