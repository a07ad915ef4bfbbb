package check_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// body is one weight in kilograms at a place behind the front edge of the
// plinth and above the floor, in millimetres.
type body struct{ kg, y, z float64 }

// bodies weighs a chest part by part, apart from the check: centroids by the
// shoelace formula. Drawers of the rows that are open have come out by out.
func bodies(in check.Input, out float64, open func(row string) bool) []body {
	front := in.Model.Outside.Y.MM()
	for _, p := range in.Model.Parts {
		if p.Role == build.RolePlinth {
			for _, at := range p.Places {
				for _, c := range []unit.Length{0, p.Length.Size} {
					front = min(front, at.Frame.At(c, 0, 0).Y.MM(), at.Frame.At(c, 0, p.Thickness.Size).Y.MM())
				}
			}
		}
	}
	var all []body
	for _, p := range in.Model.Parts {
		var a, u, v float64
		ps := p.Outline.Flatten(mm / 10)
		for i, q := range ps {
			n := ps[(i+1)%len(ps)]
			c := q.X.MM()*n.Y.MM() - n.X.MM()*q.Y.MM()
			a, u, v = a+c, u+(q.X.MM()+n.X.MM())*c, v+(q.Y.MM()+n.Y.MM())*c
		}
		u, v = u/(3*a), v/(3*a)
		for _, at := range p.Places {
			w := v
			if at.Frame.Mirror {
				w = p.Width.Size.MM() - v
			}
			c := at.Frame.At(unit.MM(u), unit.MM(w), p.Thickness.Size/2)
			b := body{weight(in, p), c.Y.MM() - front, c.Z.MM()}
			row := strings.Join(strings.Fields(at.Name + " - -")[:2], " ")
			if drawer := strings.HasPrefix(p.Name, "box ") || p.Name == "drawer front"; drawer && open(row) {
				b.y -= out
			}
			all = append(all, b)
		}
	}
	return all
}

// rowOf is the middle and the upper edge of the front of a drawer, by its row,
// closed, and the share of the load that it gets.
func rowOf(in check.Input, row string) (face, middle, top, share float64) {
	all := 0.0
	for _, o := range in.Model.Openings {
		h := o.Height.Size.MM()
		all += h
		if o.Name == row {
			middle, top, share = o.Z.MM()+h/2, o.Z.MM()+h, h
		}
	}
	return in.Piece.Base.InsetY.MM(), middle, top, share / all
}

func every(string) bool { return true }

func none(string) bool { return false }

// holds is the moment about the front edge with the floor raised behind.
func holds(bs []body, tilt float64) (m float64) {
	for _, b := range bs {
		m += b.kg * (b.y*math.Cos(tilt) - b.z*math.Sin(tilt))
	}
	return m * 9.80665 / 1000
}

// shallow makes the chest less deep, with shorter boxes and runners.
func (g *good) shallow(depth, box unit.Length) {
	g.p.Case.Depth = depth
	g.hardware("under-runner", func(h *shop.Hardware) { h.Lengths = []unit.Length{box} })
	for i := range g.p.Inside.Rows {
		d := *g.p.Inside.Rows[i].Drawer
		d.BoxDepth = box
		g.p.Inside.Rows[i].Drawer = &d
	}
}

// What the anchor of the chest has to hold is the worst of what tips it over
// the height of the chest: with its 40 kg that is a child on the uppermost
// drawer, all open, raised behind; under 200 kg it is full drawers.
func TestAnchor(t *testing.T) {
	for _, c := range []struct{ load float64 }{{40}, {200}} {
		p, s := demo(t, "chest")
		g := &good{t: t, p: p, s: s}
		g.p.Use.LoadKg = c.load
		in := g.build()
		tilt := math.Atan(0.43 / (in.Model.Outside.Y - in.Piece.Case.Top.Front - in.Piece.Case.Top.Back).In())
		face, _, top, _ := rowOf(in, "row 1")
		child := holds(append(bodies(in, 15*25.4, every), body{60 * 0.45359237, face - 15*25.4, top}), tilt) / math.Cos(tilt)
		full := bodies(in, 15*25.4, every)
		for _, o := range in.Model.Openings {
			_, middle, _, share := rowOf(in, o.Name)
			full = append(full, body{c.load * share, face - 7.5*25.4, middle})
		}
		want := -min(child, holds(full, 0)) / in.Model.Outside.Z.Metres()
		if got := float64(check.Anchor(in)); math.Abs(got-want) > 0.005*want {
			t.Errorf("%v kg: the anchor holds %.1f N, want %.1f", c.load, got, want)
		}
	}
	p, s := demo(t, "clinic-cabinet")
	g := &good{t: t, p: p, s: s}
	if got := check.Anchor(g.build()); got != 0 {
		t.Errorf("the clinic cabinet stands by itself, its anchor holds %v", got)
	}
}

// A piece that is to stand free is not told to be fixed to the wall as it is:
// feet and ballast come first, then writing that it stands against one.
func TestFreePieceIsNotFixed(t *testing.T) {
	for _, free := range []bool{true, false} {
		p, s := demo(t, "chest")
		g := &good{t: t, p: p, s: s}
		g.p.Use.LoadKg = 100
		g.p.Use.Anchor = false
		g.p.Use.Against = map[bool]string{true: "free", false: "wall"}[free]
		said := 0
		for _, f := range check.All(g.build()) {
			if !strings.HasPrefix(f.ID, "tips-") && f.ID != "in-use-anchor" {
				continue
			}
			said++
			if fixed := strings.Contains(f.Advice, "Fix the top to the wall") || strings.Contains(f.Advice, "Fix it to the wall"); fixed == free {
				t.Errorf("free %v, %s: %s", free, f.ID, f.Advice)
			}
			if free && !strings.Contains(f.Advice, "against: wall") {
				t.Errorf("%s: %s", f.ID, f.Advice)
			}
		}
		if said < 2 {
			t.Errorf("free %v: %d findings", free, said)
		}
	}
}

// What rolls is fixed to nothing: no advice speaks of a wall, whether the piece
// says that it stands against one or not.
func TestRollingPieceIsNotFixed(t *testing.T) {
	for _, against := range []string{"free", "wall"} {
		p, s := demo(t, "chest")
		_, wheels := demo(t, "clinic-cabinet")
		g := &good{t: t, p: p, s: s}
		g.s.Hardware["caster-3"] = wheels.Hardware["caster-3"]
		g.p.Base = &piece.Base{Kind: "casters", Hardware: "caster-3", Height: 3 * unit.Inch}
		g.p.Use.LoadKg, g.p.Use.Against = 100, against
		said := 0
		for _, f := range check.All(g.build()) {
			if !strings.HasPrefix(f.ID, "tips-") {
				continue
			}
			said++
			if strings.Contains(f.Advice, "wall") {
				t.Errorf("%s, %s: %s", against, f.ID, f.Advice)
			}
		}
		if said < 2 {
			t.Errorf("%s: %d findings", against, said)
		}
	}
}

func init() {
	faults = append(faults, []fault{
		{"chest half as deep, pushed", "chest", "tips-pushed", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
			g.shallow(8*unit.Inch+unit.Length(r.IntN(3))*unit.Inch/2, 6*unit.Inch)
			in := g.build()
			return in, unit.Force(holds(bodies(in, 0, none), 0) * 1000 / in.Model.Outside.Z.MM()).Led(in.Piece.Units)
		}},
		{"chest half as deep, a child on a drawer", "chest", "tips-child", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
			g.shallow(8*unit.Inch+unit.Length(r.IntN(5))*unit.Inch/2, 6*unit.Inch)
			in := g.build()
			tilt := math.Atan(0.43 / (in.Model.Outside.Y - in.Piece.Case.Top.Front - in.Piece.Case.Top.Back).In())
			face, _, top, _ := rowOf(in, "row 1")
			bs := append(bodies(in, 6*25.4, every), body{60 * 0.45359237, face - 6*25.4, top})
			return in, unit.Moment(-holds(bs, tilt), in.Piece.Units)
		}},
		{"all drawers full", "chest", "tips-all-open", finding.Care, func(g *good, r *rand.Rand) (check.Input, string) {
			g.p.Use.LoadKg = float64(60 + 10*r.IntN(6))
			in := g.build()
			bs := bodies(in, 15*25.4, every)
			for _, o := range in.Model.Openings {
				face, middle, _, share := rowOf(in, o.Name)
				bs = append(bs, body{g.p.Use.LoadKg * share, face - 7.5*25.4, middle})
			}
			return in, unit.Moment(-holds(bs, 0), in.Piece.Units)
		}},
		{"one drawer full of tools", "chest", "tips-one-open", finding.Stop, func(g *good, r *rand.Rand) (check.Input, string) {
			g.p.Use.LoadKg = float64(280 + 20*r.IntN(5))
			in := g.build()
			for _, o := range in.Model.Openings {
				face, middle, _, share := rowOf(in, o.Name)
				bs := append(bodies(in, 15*25.4, func(row string) bool { return row == o.Name }), body{g.p.Use.LoadKg * share, face - 7.5*25.4, middle})
				if m := holds(bs, 0); m <= 0 {
					return in, unit.Moment(-m, in.Piece.Units)
				}
			}
			panic("it stands")
		}},
	}...)
}
