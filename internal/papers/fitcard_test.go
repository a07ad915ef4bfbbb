package papers

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/drawing"
	openings "casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// measuredDemo is a demo piece whose openings came out otherwise: one fitted
// anew, one with parts that are cut, one with a diagonal that cannot be.
func measuredDemo(t testing.TB, name string) plan.Plan {
	t.Helper()
	p := demo(t, name)
	r := record.Record{Format: record.Format, Units: p.Piece.Units}
	shift := [][8]float64{
		{-0.8, -0.4, 0.1, -0.6, 0, 0.3, -0.5, 0.6},
		{-1.6, -1.5, -1.4, 0, 0, 0, 0, 0},
		{0, 0, 0, 0, 0, 0, 0, -25},
	}
	for i, s := range shift {
		if i >= len(p.Fit) {
			break
		}
		o := p.Fit[i]
		at := func(k int) unit.Length { return o.Shape.Fitted[k] + unit.MM(s[k]) }
		r.Openings = append(r.Openings, record.MeasuredOpening{
			Opening: o.Name, Widths: []unit.Length{at(0), at(1), at(2)}, Heights: []unit.Length{at(3), at(4), at(5)},
			Diagonals: []unit.Length{at(6), at(7)}, Corners: o.Corners[:],
		})
	}
	if len(p.Fit) > 1 && p.Fit[1].Front != nil {
		r.Cut = []record.Cut{{Part: p.Fit[1].Front.Letter, Count: 1, For: []string{p.Fit[1].Name}}}
	}
	out, err := plan.Make(context.Background(), p.Piece, p.Shop, r, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Everything measured, and everything that follows, stands on the card, whole
// and apart.
func TestFittingCard(t *testing.T) {
	for _, name := range demoNames {
		p := measuredDemo(t, name)
		for _, o := range variants {
			s := compose(t, p, o)
			pages := 0
			for i, pg := range s.pages {
				if pg.name != "drawers, doors and fronts" {
					continue
				}
				pages++
				in := room(pg.paper).Inset(-3.9)
				for _, it := range pg.sheet.Items {
					if r := reach(it); !in.Holds(r) {
						t.Errorf("%s, %s, page %d: %s leaves the frame: %v of %v", name, o, i+1, what(it), r, in)
					}
				}
				for _, pair := range clashes(*pg.sheet) {
					t.Errorf("%s, %s, page %d: %s", name, o, i+1, pair)
				}
			}
			if pages == 0 || pages > 3 {
				t.Errorf("%s, %s: the card takes %d pages", name, o, pages)
			}
			card := strings.Join(strings.Fields(said(s, Bench, "drawers, doors")), " ")
			want := func(t *testing.T, what, words string) {
				if !strings.Contains(card, strings.Join(strings.Fields(words), " ")) {
					t.Errorf("%s, %s: the card does not say %s %q", name, o, what, words)
				}
			}
			for _, op := range p.Fit {
				want(t, "the opening", document.Capital(op.Name))
				for _, m := range op.Measures {
					want(t, m.Name, s.fig(m.Measured))
				}
				want(t, "the doubt", op.Doubt)
				for _, do := range op.Do {
					want(t, "what to do", do)
				}
				for _, k := range op.Packers {
					want(t, "the packer", s.fig(k.Thickness))
				}
				if op.Front != nil && op.Doubt == "" {
					want(t, "the front", op.Front.Letter+" "+s.fig(op.Front.Width)+" × "+s.fig(op.Front.Height))
				}
				if op.Box != nil {
					want(t, "the box", s.fig(op.Box.Least))
				}
			}
		}
	}
}

// A front made to a measured opening is drawn at full size, with its own
// corners; one whose opening is in doubt is not.
func TestFrontTemplates(t *testing.T) {
	p := measuredDemo(t, "record-cabinet")
	papers, err := Templates(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, paper := range papers {
		names = append(names, paper.Name)
	}
	for i, o := range p.Fit {
		name := fmt.Sprintf("template: front %s, %s", "", o.Name)
		if o.Front != nil {
			name = fmt.Sprintf("template: front %s, %s", o.Front.Letter, o.Name)
		}
		has := slices.Contains(names, name)
		if want := o.Measured && o.Doubt == "" && o.Front.Verdict != openings.ToRemake; has != want {
			t.Errorf("opening %d (%s): template %v, want %v; there are %q", i, o.Name, has, want, names)
		}
	}
	s, err := newSet(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.fronts() {
		b := f.view.Bounds() // of the opening's faint outline
		o := p.Fit[slices.IndexFunc(p.Fit, func(o openings.Opening) bool { return strings.HasSuffix(f.name, ", "+o.Name) })]
		w, h := o.Shape.Size()
		if !near2(b.W, w.MM()) || !near2(b.H, h.MM()) {
			t.Errorf("%s: drawn %v × %v, the opening is %v × %v", f.name, b.W, b.H, w, h)
		}
		arcs := 0
		for _, it := range f.view.Items {
			st := it.(drawing.Stroke)
			if st.Pen != drawing.PenOutline {
				continue
			}
			nodes := st.Paths[0].Nodes
			for i, n := range nodes {
				if n.Bulge == 0 {
					continue
				}
				arcs++
				a := drawing.ArcOf(n.Pt, nodes[(i+1)%len(nodes)].Pt, n.Bulge)
				if a.Radius < 47.9 || a.Radius > 48.1 { // corners of 50 less the gap of 2
					t.Errorf("%s: a corner of R %v", f.name, a.Radius)
				}
			}
		}
		if arcs != 1 {
			t.Errorf("%s: %d round corners, each drawer has one", f.name, arcs)
		}
	}
}

// pairOfDoors is a case whose opening of 800 × 700 takes a pair of inset doors.
func pairOfDoors(t *testing.T, front string, measured ...record.MeasuredOpening) plan.Plan {
	t.Helper()
	p := demo(t, "record-cabinet")
	mm := unit.Millimetre
	p.Piece.Frame, p.Piece.Base, p.Piece.Back = nil, nil, nil
	board := 2 * p.Shop.Panels["oak-18"].Thickness
	p.Piece.Case = piece.Case{Kind: "carcass", Width: 800*mm + board, Height: 700*mm + board, Depth: 420 * mm, Through: "sides"}
	p.Piece.Inside = piece.Opening{Door: &piece.Door{Hinge: "hinge", Front: front, Hung: "pair", Gap: 2 * mm, Thickness: 18 * mm}}
	p.Piece.Materials["doors"] = "oak-18"
	p.Shop.Hardware["hinge"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Fixed: new(-2 * mm), Setback: 37 * mm}
	out, err := plan.Make(context.Background(), p.Piece, p.Shop, record.Record{Format: record.Format, Units: p.Piece.Units, Openings: measured}, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Both leaves of a pair stand in their opening, upright and apart by their gap:
// inset 397 × 696 in 800 × 700 with gaps of 2; overlaid, over its edges, 1.5 of
// them left free, and one gap between (by hand).
func TestPairIsDrawnWithBothLeaves(t *testing.T) {
	for _, c := range []struct {
		front        string
		left         float64 // of the left leaf, in the opening
		low          float64
		wide, high   float64
		words, where string
	}{
		{"inset", 2, 2, 397, 696, "gap 2", "all round"},
		{"overlaid", 0, 0, 0, 0, "over the", "edges"},
	} {
		p := pairOfDoors(t, c.front)
		if board := p.Shop.Panels["oak-18"].Thickness.MM(); c.front == "overlaid" {
			c.left, c.low, c.wide, c.high = 1.5-board, 1.5-board, (800+2*board-3-2)/2, 700+2*board-3
		}
		v, _, ok := WordsOf(p).FrontView(p.Fit[0])
		if !ok || len(v.Labels) != 2 || v.Title != p.Fit[0].Front.Letter+" in opening" {
			t.Fatalf("%s: %d labels, %q", c.front, len(v.Labels), v.Title)
		}
		for i, l := range v.Labels {
			x := c.left + float64(i)*(c.wide+2)
			if r := l.Room; math.Abs(r.X-x) > 0.001 || math.Abs(r.Y-c.low) > 0.001 || math.Abs(r.W-c.wide) > 0.001 || math.Abs(r.H-c.high) > 0.001 {
				t.Errorf("%s: leaf %d stands at %+v, want %v, %v, %v × %v", c.front, i, r, x, c.low, c.wide, c.high)
			}
			if words := strings.Join(l.Variants[0], " "); !strings.Contains(words, c.words) || !strings.HasSuffix(words, c.where) {
				t.Errorf("%s: %q", c.front, words)
			}
		}
	}
}

// As measured, each leaf has its own size and its own template, and the card
// says what is measured where.
func TestPairAsMeasured(t *testing.T) {
	mm := unit.Millimetre
	w := 800 * mm
	p := pairOfDoors(t, "inset", record.MeasuredOpening{Opening: "opening", Widths: []unit.Length{w, w, w}, Heights: []unit.Length{704 * mm, 702 * mm, 700 * mm}})
	papers, err := Templates(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, paper := range papers {
		names = append(names, paper.Name)
	}
	card := strings.Join(strings.Fields(said(compose(t, p, variants[0]), Bench, "drawers, doors")), " ")
	for _, l := range p.Fit[0].Front.Leaves {
		if name := fmt.Sprintf("template: front %s, opening %s", l.Letter, l.Side); !slices.Contains(names, name) {
			t.Errorf("no %q among %q", name, names)
		}
		if s := compose(t, p, variants[0]); !strings.Contains(card, l.Letter+" "+s.fig(l.Width)+" × "+s.fig(l.Height)) {
			t.Errorf("the card does not give the size of %s", l.Letter)
		}
	}
	if !strings.Contains(card, "the middle height is taken where the leaves meet") {
		t.Error("the card does not say where a pair is measured")
	}
}
