package build

import (
	"maps"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Boxes that slide on wood get a runner and a kicker on each side.
func TestWoodenRunners(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	s.Hardware = maps.Clone(s.Hardware)
	s.Hardware["wood"] = shop.Hardware{Kind: "wooden-runner"}
	p.Frame.Inner = "square"
	p.Inside.Columns[0].Rows[0].Drawer = &piece.Drawer{Runner: "wood", Gap: 2 * mm}
	m := make1(t, p, s)
	for _, name := range []string{"runner", "kicker"} {
		n := 0
		for _, q := range partsNamed(m, name) {
			n += q.Count
			wantSize(t, name, q.Length.Size, 420)
		}
		if n != 2 {
			t.Errorf("%d × %s, want 2", n, name)
		}
	}
	checkOverlaps(t, m)
}

// Strips on both faces of a divider are screwed at the same places: two screws
// tip to tip must both end within it.
func TestScrewsInDividerStayApart(t *testing.T) {
	p := decoded(t, `
format: 1
name: two drawers
units: mm
materials: {case: ply-18, inside: ply-18, frame: oak, fronts: ply-18, boxes: ply-12, bottoms: ply-6, packers: oak}
case: {kind: carcass, width: 900, height: 300, depth: 400}
frame: {thickness: 20, stile: 40, divider: 34}
inside:
  columns:
    - {drawer: {runner: side}}
    - {drawer: {runner: side}}
`)
	m := must(t, p)
	lines := 0
	for _, s := range m.Screws {
		if s.Where != "packers and strips to the side" {
			continue
		}
		lines++
		thick := s.Stack - 18*unit.Millimetre // of the packer: 22 at the sides, 8 at the divider
		if in := s.Length - thick; thick < 10*unit.Millimetre && in > 9*unit.Millimetre {
			t.Errorf("screws of %s through a packer of %s go %s into a divider of 18 from both sides", s.Length, thick, in)
		} else if in < 6*unit.Millimetre {
			t.Errorf("screws of %s through a packer of %s hold %s", s.Length, thick, in)
		}
	}
	if lines != 2 {
		t.Errorf("%d lines of screws for packers of two thicknesses", lines)
	}
}

// Runners on both faces of a divider are screwed at the same places: where no
// screw of the stock ends in its middle, that is said once; in a thick one the
// screws are shorter there than in the sides.
func TestRunnerScrewsInDividerStayApart(t *testing.T) {
	text := func(inside string) string {
		return `
format: 1
name: two drawers
units: mm
materials: {case: ply-18, inside: oak, fronts: ply-18, boxes: ply-12, bottoms: ply-6}
thicknesses: {inside: ` + inside + `}
case: {kind: carcass, width: 900, height: 300, depth: 400}
inside:
  columns:
    - {drawer: {runner: side}}
    - {drawer: {runner: side}}
`
	}
	lengths := func(m Model) map[unit.Length]int {
		out := map[unit.Length]int{}
		for _, s := range m.Screws {
			if s.Where == "runners to the case" {
				out[s.Length] += s.Count
			}
		}
		return out
	}
	m := must(t, decoded(t, text("18")))
	n := 0
	for _, f := range m.Findings {
		if f.ID == "screws-meet" {
			n++
			// 12 less the 1.2 of a runner, from two sides.
			if f.Figure != "21.6 mm" || f.Limit != "18 mm" || f.Advice == "" {
				t.Errorf("got %+v", f)
			}
		}
	}
	if got := lengths(m); n != 1 || got[16*mm] != 12 {
		t.Errorf("%d findings, screws %v", n, got)
	}
	m = must(t, decoded(t, text("24"))) // 1.2 and 12 to its middle
	if f, ok := findingOf(m, "screws-meet"); ok {
		t.Errorf("got %+v", f)
	}
	if got := lengths(m); got[16*mm] != 6 || got[12*mm] != 6 {
		t.Errorf("screws %v", got)
	}
	one := must(t, decoded(t, strings.Replace(text("18"), "    - {drawer: {runner: side}}\n", "    - {}\n", 1)))
	if f, ok := findingOf(one, "screws-meet"); ok {
		t.Errorf("with one drawer, got %+v", f)
	}
}

// A roller on the bottom corner has its angle under the box.
func TestCornerRunnerBelow(t *testing.T) {
	p := decoded(t, `
format: 1
name: one drawer
units: mm
materials: {case: ply-18, fronts: ply-18, boxes: ply-12, bottoms: ply-6}
case: {kind: carcass, width: 500, height: 236, depth: 400}
inside: {drawer: {runner: corner}}
`)
	s := workshop()
	s.Hardware["corner"] = shop.Hardware{Kind: "corner-runner", Lengths: []unit.Length{300 * unit.Millimetre}, SideMin: unit.MM(12.5), SideMax: unit.MM(12.5), Above: new(18 * unit.Millimetre)}
	m := make1(t, p, s)
	box := find(t, m, "box side")
	wantSize(t, "box", box.Width.Size, 200-18-3)
	wantSize(t, "lower edge", box.Places[0].Frame.Origin.Z, 18+3)
}
