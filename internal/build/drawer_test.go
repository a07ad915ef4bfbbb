package build

import (
	"maps"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/opening"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// partsNamed are all parts of a name.
func partsNamed(m Model, name string) []Part {
	var out []Part
	for _, p := range m.Parts {
		if p.Name == name {
			out = append(out, p)
		}
	}
	return out
}

func wantInch(t testing.TB, what string, got unit.Length, want float64) {
	t.Helper()
	if got != unit.In(want) {
		t.Errorf("%s is %s in, want %v", what, got.Exact(unit.Imperial), want)
	}
}

// The record cabinet, by plain geometry: openings 464 × 165 less gaps of 2;
// side runners that take 12.9 to 13.2 each side; the outer stile of 30 stands
// 12 in from a shell of 18, the divider of 24 stands 3 past a panel of 18.
func TestRecordCabinetDrawers(t *testing.T) {
	m := built(t, "record-cabinet")
	fronts := partsNamed(m, "drawer front")
	if len(fronts) != 1 || fronts[0].Count != 4 {
		t.Fatalf("want one front, four times, got %d kinds", len(fronts))
	}
	wantSize(t, "front", fronts[0].Length.Size, 460)
	wantSize(t, "front", fronts[0].Width.Size, 161)
	n := 0
	for _, o := range m.Openings {
		if o.Fill != "drawer" {
			continue
		}
		n++
		wantSize(t, "narrowest box", o.BoxMin, 437.6)
		wantSize(t, "widest box", o.BoxMax, 438.2)
	}
	if n != 4 {
		t.Errorf("%d drawers, want 4", n)
	}
	got := map[float64]int{}
	for _, p := range partsNamed(m, "runner packer") {
		got[p.Thickness.Size.MM()] += p.Count
		wantSize(t, "packer", p.Length.Size, 400)
	}
	if want := map[float64]int{12: 4, 3: 4}; !maps.Equal(got, want) {
		t.Errorf("packers by thickness %v, want %v", got, want)
	}
	// The box's ends: 437.9 less two sides of 12 and plus two rebates of 6.
	wantSize(t, "box front", find(t, m, "box front").Length.Size, 425.9)
	if s := find(t, m, "box side"); s.Count != 8 {
		t.Errorf("%d box sides share a letter, want 8: left and right are one drawing", s.Count)
	}
	for key, want := range map[string]int{"side-runner": 4, "pin-5": 4, "bar-pull": 4} {
		n := 0
		for _, h := range m.Hardware {
			if h.Key == key {
				n += h.Count
			}
		}
		if n != want {
			t.Errorf("%d × %s to buy, want %d", n, key, want)
		}
	}
	if f, ok := findingOf(m, "nominal-groove"); ok {
		t.Errorf("a shop in millimetres has a cutter for 18.0 mm: %+v", f)
	}
	p, s := demo(t, "record-cabinet")
	s.Units = unit.Imperial
	f, ok := findingOf(make1(t, p, s), "nominal-groove")
	if !ok || f.Figure != "0.041 in" || f.Limit != "0.020 in" || !strings.Contains(f.Says, "3/4 in") || strings.Contains(f.Advice, "mm") {
		t.Errorf("an 18.0 panel for a groove of 3/4 in is not mentioned: %+v", f)
	}
}

// The chest, by plain geometry: openings 17-1/2 less gaps of 3/32; runners
// that leave 1-5/8 less inside, sides of 5/8. The movement of the biggest
// front by FPL-GTR-190 table 13-5 for cherry, 0.00248 per %.
func TestChestDrawers(t *testing.T) {
	p, s := demo(t, "chest")
	s.Hardware = maps.Clone(s.Hardware)
	h := s.Hardware["under-runner"]
	h.Inside, h.SideMost = unit.In(1.625), unit.In(0.625)
	s.Hardware["under-runner"] = h
	m := make1(t, p, s)
	for i, want := range []float64{4 + 13./16, 5 + 13./16, 6 + 13./16, 7 + 13./16, 8 + 9./16} {
		f := partsNamed(m, "drawer front")[i]
		wantInch(t, "front", f.Length.Size, 17+5./16)
		wantInch(t, "front", f.Width.Size, want)
	}
	var volume unit.Volume
	for _, o := range m.Openings {
		wantInch(t, "box", o.BoxMin, 17.125)
		volume += DrawerVolume(o.BoxMin-2*unit.In(0.625), unit.In(15-2*0.625), o.Height.Size)
	}
	for _, q := range partsNamed(m, "box side") {
		wantInch(t, "box", q.Length.Size, 15)
	}
	// 15-7/8 × 13-3/4 × (34-3/4 - 5 × 1-1/8) in³.
	if ft := float64(volume) / float64(unit.VolumeOf(unit.Foot, unit.Foot, unit.Foot)); ft < 3.675 || ft > 3.685 {
		t.Errorf("the drawers hold %.4f ft³, want about 3.68", ft)
	}
	var swells []finding.Finding
	for _, f := range m.Findings {
		if f.ID == "front-swells" {
			swells = append(swells, f)
		}
	}
	if len(swells) == 0 {
		t.Fatal("the swelling of the biggest front is not mentioned")
	}
	last := swells[len(swells)-1]
	if last.Level != finding.Care || last.Figure != "0.1062 in" || last.Limit != "0.0938 in" {
		t.Errorf("got %+v", last)
	}
	if !strings.Contains(last.Advice, "1/8 in above") || !strings.Contains(last.Advice, "at 8 %") {
		t.Errorf("advice is %q", last.Advice)
	}
	for _, q := range partsNamed(m, "runner packer") {
		wantInch(t, "packer", q.Thickness.Size, 0.5)
		slotted := 0
		for _, f := range q.Features {
			if strings.HasPrefix(f.For, "slotted") {
				slotted++
			}
		}
		if slotted == 0 || slotted == len(q.Features) {
			t.Errorf("on a solid side one screw of a packer is fixed and the others slotted; %d of %d are", slotted, len(q.Features))
		}
	}
}

// one is a piece with one drawer in a space of that width (in the piece's
// shop, by plain geometry 36 less than the case).
func one(t testing.TB, clear unit.Length, d piece.Drawer) (piece.Piece, shop.Shop) {
	p, s := plain(t)
	p.Case.Width = clear + 36*mm
	p.Case.Height = 236 * mm
	p.Inside = piece.Opening{Drawer: &d}
	return p, s
}

// Box widths against worked figures: side runners as runner makers' sheets
// state their space (as quoted elsewhere), under-mounted ones likewise.
func TestBoxWidths(t *testing.T) {
	for _, x := range []struct {
		name              string
		open              unit.Length
		runner            string
		side, least, most float64
	}{
		{"side runners, opening 500", 500 * mm, "side-runner", 12, 473.6, 474.2},
		{"under-mounted, opening 381, sides 16: inside 339", 381 * mm, "under", 16, 371, 371},
		{"corner rollers, 12.5 each side", 500 * mm, "roller", 12, 475, 475},
		{"wooden runners, 1/32 in each side", 500 * mm, "wood", 12, 498.4125, 498.4125},
	} {
		t.Run(x.name, func(t *testing.T) {
			p, s := one(t, x.open, piece.Drawer{Runner: x.runner, Gap: 2 * mm, Side: unit.MM(x.side)})
			p.Materials["boxes"] = "white-oak"
			o := make1(t, p, s).Openings[0]
			wantSize(t, "least", o.BoxMin, x.least)
			wantSize(t, "most", o.BoxMax, x.most)
		})
	}
}

// Under-mounted, opening 15 in, custom in inches: with sides of 5/8 the box is
// 3/8 less, with sides of 1/2 it is 5/8 less (as quoted from runner makers).
func TestUnderMountedInInches(t *testing.T) {
	for side, want := range map[float64]float64{0.625: 14.625, 0.5: 14.375} {
		p, s := one(t, 15*unit.Inch, piece.Drawer{Runner: "under", Gap: 2 * mm, Side: unit.In(side)})
		h := s.Hardware["under"]
		h.Inside = unit.In(1.625)
		s.Hardware["under"] = h
		p.Units = unit.Imperial
		p.Materials["boxes"] = "white-oak"
		wantInch(t, "box", make1(t, p, s).Openings[0].BoxMin, want)
	}
}

// The longest runner that goes in: 420 less a front of 18 leave 402; a runner
// of 400 and 3 behind is too long, 350 is not.
func TestRunnerLength(t *testing.T) {
	p, s := one(t, 500*mm, piece.Drawer{Runner: "side-runner", Gap: 2 * mm})
	wantSize(t, "box", find(t, make1(t, p, s), "box side").Length.Size, 350)
	p.Inside.Drawer.Front = "overlaid"
	wantSize(t, "box of an overlaid front", find(t, make1(t, p, s), "box side").Length.Size, 400)
	p.Case.Depth = 260 * mm
	p.Inside.Drawer.Front = "inset"
	f, ok := findingOf(make1(t, p, s), "runner-too-long")
	if !ok || f.Level != finding.Stop || f.Figure != "253 mm" || f.Limit != "242 mm" || !strings.Contains(f.Advice, "11 mm deeper") {
		t.Errorf("got %+v", f)
	}
}

func TestDrawerFindings(t *testing.T) {
	for _, x := range []struct {
		name string
		d    piece.Drawer
		high unit.Length
		id   string
		want finding.Level
	}{
		{"side too thick for the runner", piece.Drawer{Runner: "under", Side: 18 * mm}, 236 * mm, "drawer-side", finding.Stop},
		{"shallow", piece.Drawer{Runner: "side-runner"}, 136 * mm, "shallow-drawer", finding.Note},
		{"box higher than the opening", piece.Drawer{Runner: "side-runner", BoxHeight: 190 * mm}, 236 * mm, "box-too-high", finding.Stop},
	} {
		t.Run(x.name, func(t *testing.T) {
			x.d.Gap = 2 * mm
			p, s := one(t, 500*mm, x.d)
			p.Materials["boxes"] = "white-oak"
			p.Case.Height = x.high
			if f, ok := findingOf(make1(t, p, s), x.id); !ok || f.Level != x.want {
				t.Errorf("got %+v", f)
			}
		})
	}
}

// What the record says goes before the plan: the least of three.
func TestMeasuredOpening(t *testing.T) {
	p, s := one(t, 500*mm, piece.Drawer{Runner: "side-runner", Gap: 2 * mm})
	h := s.Hardware["side-runner"]
	h.Parallel = mm / 2
	s.Hardware["side-runner"] = h
	r := record.Record{Openings: []record.MeasuredOpening{{
		Opening: "opening", Widths: []unit.Length{500 * mm, unit.MM(499.4), unit.MM(498.8)}, Heights: []unit.Length{200 * mm, 200 * mm, 200 * mm},
		Diagonals: []unit.Length{540 * mm, 537 * mm},
	}}}
	m, err := Make(p, s, r)
	if err != nil {
		t.Fatal(err)
	}
	// It widens from 498.8 to 500 and leans (540 − 537)(540 + 537)/(4 × 499.4)
	// = 1.617 to the left: from −0.6 − 1.617 at the top to 498.8 at the bottom,
	// less two gaps.
	if w := find(t, m, "drawer front").Length.Size.MM(); w < 496.9 || w > 497.1 {
		t.Errorf("the front's blank is %v wide, want about 497.0", w)
	}
	wantSize(t, "box", m.Openings[0].BoxMin, 472.4)
	if f, ok := findingOf(m, "opening-parallel"); !ok || f.Figure != "1.2 mm" || f.Limit != "0.5 mm" {
		t.Errorf("got %+v", f)
	}
	if _, ok := findingOf(m, "opening-square"); !ok {
		t.Error("a lean of 1.6 mm under a gap of 2 is not mentioned")
	}
}

// (d1 - d2)(d1 + d2)/(4 w), arithmetic: 600 by 450 with diagonals 751 and 749.
func TestRack(t *testing.T) {
	wantSize(t, "rack", opening.Rack(751*mm, 749*mm, 600*mm), 1.25)
}

// A circle of 50: 13 in from its side it stands 50 - √(50² - 37²) from the
// edge.
func TestCurveAt(t *testing.T) {
	wantSize(t, "curve", curveAt(50*mm, 13*mm), 16.3703)
	wantSize(t, "curve", curveAt(50*mm, 0), 50)
	wantSize(t, "curve", curveAt(50*mm, 60*mm), 0)
}

// Fronts in rounded openings follow the corner less the gap, in the corners
// that are rounded and no others.
func TestFrontFollowsCorner(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	m := make1(t, p, s)
	for _, o := range m.Openings {
		want := [4]unit.Length{}
		switch o.Name {
		case "column 1 row 1":
			want[topLeft] = 50 * mm
		case "column 1 row 2":
			want[bottomLeft] = 50 * mm
		case "column 3 row 1":
			want[topRight] = 50 * mm
		case "column 3 row 2":
			want[bottomRight] = 50 * mm
		}
		if o.Corners != want {
			t.Errorf("%s has corners %v, want %v", o.Name, o.Corners, want)
		}
	}
	front := find(t, m, "drawer front")
	var arcs int
	for i, v := range front.Outline {
		if v.Bulge != 0 {
			arcs++
			next := front.Outline[(i+1)%len(front.Outline)]
			wantSize(t, "corner of the front", (next.X - v.X).Abs(), 48)
			wantSize(t, "corner of the front", (next.Y - v.Y).Abs(), 48)
		}
	}
	if arcs != 1 {
		t.Errorf("the front has %d rounded corners, want 1", arcs)
	}
}

// area is twice the area inside a polygon, positive when it runs
// anticlockwise, in mm².
func area2(o geom.Outline) float64 {
	var a float64
	for i, v := range o {
		w := o[(i+1)%len(o)]
		a += v.X.MM()*w.Y.MM() - w.X.MM()*v.Y.MM()
	}
	return a
}

// Fingers of sides and ends fill each other's gaps: at a corner the two
// together hold just the block they share.
func TestFingersInterlock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := unit.Length(rapid.IntRange(6, 20).Draw(t, "side")) * mm
		h := unit.Length(rapid.IntRange(60, 300).Draw(t, "height")) * mm
		b := &builder{}
		l := 400 * mm
		c := b.comb("finger", drawing{side: side}, h)
		lost := func(o geom.Outline) float64 { return (2*l.MM()*h.MM() - area2(o)) / 4 } // at one end
		got := lost(c.side(l, h)) + lost(c.end(l, h))
		if want := side.MM() * h.MM(); got < want-0.01 || got > want+0.01 {
			t.Fatalf("side and end lose %.3f mm² at a corner, want %.3f", got, want)
		}
		d := b.comb("dovetail", drawing{side: side}, h)
		if a := area2(d.side(l, h)); a <= 0 {
			t.Fatalf("the outline of a tail board runs the wrong way: %.3f", a)
		}
		for i, s := range d.sockets {
			if s[1] <= s[0] || i > 0 && s[0] <= d.sockets[i-1][1] {
				t.Fatalf("sockets overlap: %v", d.sockets)
			}
		}
	})
}

// An 18.0 panel in a groove of 3/4 in has 1.05 mm, 0.041 in, of play (arithmetic).
func TestNominalSlack(t *testing.T) {
	for _, x := range []struct {
		shop              unit.System
		thick, size, play float64
		ok                bool
	}{
		{unit.Imperial, 18, 19.05, 1.05, true}, // trade arithmetic: 3/4 in groove
		{unit.Imperial, 19.05, 0, 0, false},
		{unit.Imperial, 6, 0, 0, false},
		{unit.Imperial, 12, 12.7, 0.7, true},
		{unit.Imperial, 5.2, 6.35, 1.15, true},
		{unit.Metric, 18, 0, 0, false}, // a cutter of 18 mm fits
		{unit.Metric, 17.6, 0, 0, false},
		{unit.Metric, 17.3, 18, 0.7, true},
		{unit.Metric, 12, 0, 0, false},
		{unit.Metric, 5.2, 6, 0.8, true},
		{unit.Metric, 30, 0, 0, false},
	} {
		size, play, ok := nominalSlack(unit.MM(x.thick), x.shop)
		if ok != x.ok || size != unit.MM(x.size) || play != unit.MM(x.play) {
			t.Errorf("%v mm: got %v, %v, %v", x.thick, size, play, ok)
		}
	}
}

// Wooden runners leave 2.5 above a box of white oak. Made at 8 %, one 346.5
// high grows 3.8 by 11 %, one 141.5 high 1.5 (.00365 x height x 3, FPL-GTR-190
// table 13-5 and eq. 13-2).
func TestBoxSwells(t *testing.T) {
	for high, want := range map[string]bool{"385": true, "180": false} {
		p := decoded(t, `
format: 1
name: one drawer
units: mm
materials: {case: ply-18, fronts: ply-18, boxes: oak, bottoms: ply-6, packers: oak}
case: {kind: carcass, width: 500, height: `+high+`, depth: 400}
inside: {drawer: {runner: wood, side: 12}}
`)
		s := workshop()
		s.Hardware["wood"] = shop.Hardware{Kind: "wooden-runner", Above: new(unit.MM(2.5))}
		m := make1(t, p, s)
		got := false
		for _, f := range m.Findings {
			got = got || f.ID == "box-swells"
		}
		if got != want {
			t.Errorf("a case %s high: box-swells is %v, want %v", high, got, want)
		}
	}
}
