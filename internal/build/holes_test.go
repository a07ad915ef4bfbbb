package build

import (
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// noHoleBreaksIn looks at every two holes of a face: they are one and the
// same, or there is wood between them. Holes from both faces of a panel do not
// reach each other past its middle.
func noHoleBreaksIn(t *testing.T, m Model) {
	t.Helper()
	for _, p := range m.Parts {
		for i, f := range p.Features {
			for _, g := range p.Features[:i] {
				if f.Kind != Hole || g.Kind != Hole || f.Face == "" || g.Face == "" || f.Place != g.Place || !f.Region.Bounds().Meets(g.Region.Bounds()) {
					continue
				}
				if f.Face == g.Face {
					t.Errorf("%s %s: holes for %s and %s break into each other at %v and %v", p.Letter, p.Name, f.For, g.For, f.Region.Bounds().Min, g.Region.Bounds().Min)
				} else if f.Depth+g.Depth > p.Thickness.Size {
					t.Errorf("%s %s: holes for %s and %s meet in the panel", p.Letter, p.Name, f.For, g.For)
				}
			}
		}
	}
}

func decoded(t *testing.T, text string) piece.Piece {
	t.Helper()
	p, err := piece.Decode("piece", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Pins and hinge plates share the row 37 mm behind the front. The plate takes
// two holes of the row; a pair of cabinets on one divider bores from both sides.
func TestPlatesInRowsOfPins(t *testing.T) {
	for _, height := range []string{"600", "613", "655", "700", "718", "731"} {
		p := decoded(t, `
format: 1
name: cupboard
units: mm
materials: {case: ply-18, inside: ply-18, shelves: ply-18, doors: ply-18, back: ply-6}
case: {kind: carcass, width: 1000, height: `+height+`, depth: 320}
inside:
  columns:
    - {door: {hinge: hinge, hung: right, overlay: 7}, shelves: {on-pins: 2, pin: pin, holes: 20}}
    - {door: {hinge: hinge, hung: left, overlay: 7}, shelves: {on-pins: 2, pin: pin, holes: 20}}
back: {fit: rebated}
`)
		m := must(t, p)
		noHoleBreaksIn(t, m)
		divider := find(t, m, "divider")
		plates := 0
		for _, f := range divider.Features {
			if f.For == "hinge plate" {
				plates++
			}
		}
		if plates != 8 {
			t.Errorf("height %s: %d holes for the plates of four hinges", height, plates)
		}
		// No shelf is drawn where a hinge is: within 25 of its middle.
		for _, s := range m.Parts {
			if s.Name != "shelf" {
				continue
			}
			for _, at := range s.Places {
				low := at.Frame.Origin.Z
				for _, h := range m.Hardware {
					for _, v := range h.At {
						if h.For == "doors" && v.Z > low-25*unit.Millimetre && v.Z < low+s.Thickness.Size+25*unit.Millimetre {
							t.Errorf("height %s: the shelf at %s lies at the hinge at %s", height, low, v.Z)
						}
					}
				}
			}
		}
	}
}

// On a bent shell hinges move to where the side is flat.
func TestHingesOnFlats(t *testing.T) {
	p := decoded(t, `
format: 1
name: round cupboard
units: mm
materials: {case: ply-18, doors: ply-18, frame: oak, packers: oak}
case: {kind: shell, shape: closed, width: 700, height: 600, depth: 350, radius: 130, skin: 1.5 mm, form: yes}
frame: {thickness: 20, stile: 60, inner-corner: follow}
inside: {door: {hinge: hinge, hung: left, front: overlaid, overlay: 10}}
`)
	m := must(t, p)
	for _, f := range m.Findings {
		if f.ID == "strip-at-bend" || f.ID == "parts-collide" {
			t.Errorf("%s: %s", f.ID, f.Says)
		}
	}
	for _, h := range m.Hardware {
		for _, v := range h.At {
			if h.For == "doors" && (v.Z < 130*unit.Millimetre || v.Z > 470*unit.Millimetre) {
				t.Errorf("a hinge at %s, where the side is round", v.Z)
			}
		}
	}
}
