package papers

import (
	"context"
	"strings"
	"testing"

	"casewright/internal/drawing"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// roundDoors is a closed shell with a pair of doors in its round opening,
// which came out a little larger to the lower right.
func roundDoors(t *testing.T) plan.Plan {
	t.Helper()
	p, err := piece.Decode("box", strings.NewReader(`
format: 1
name: wall box
units: mm
materials: {case: oak-18, doors: oak-18, back: oak-6}
case: {kind: shell, shape: closed, width: 600, height: 450, depth: 220, radius: 64, skin: 2, form: true}
inside: {door: {hinge: cup, front: inset, hung: pair}, shelves: {on-pins: 2, pin: pin-5, holes: 5}}
back: {fit: rebated}
`))
	if err != nil {
		t.Fatal(err)
	}
	s := demo(t, "record-cabinet").Shop
	fixed := -6 * unit.Millimetre
	hardware := map[string]shop.Hardware{"cup": {Kind: "cup-hinge", Cup: unit.MM(35), CupDepth: unit.MM(11.5), Boring: unit.MM(4), Fixed: &fixed, Setback: unit.MM(37)}}
	for k, v := range s.Hardware {
		hardware[k] = v
	}
	s.Hardware = hardware
	mm := func(v ...float64) []unit.Length {
		var out []unit.Length
		for _, x := range v {
			out = append(out, unit.MM(x))
		}
		return out
	}
	r := record.Record{Format: record.Format, Units: unit.Metric, Blanks: []record.Blanks{{Part: "C", Count: 2}}, Openings: []record.MeasuredOpening{
		{Opening: "opening", Widths: mm(563.5, 564, 564.6), Heights: mm(413.6, 414, 414.5), Corners: mm(45, 47, 46, 46)},
	}}
	out, err := plan.Make(context.Background(), p, s, r, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// However much is told above them, openings and their fronts are drawn large
// enough to be read, and nothing stands on anything else.
func TestFrontsAreDrawnLargeEnough(t *testing.T) {
	p := roundDoors(t)
	for _, o := range variants {
		s := compose(t, p, o)
		drawn := 0
		for i, pg := range s.pages {
			if pg.name != "drawers, doors and fronts" {
				continue
			}
			for _, pair := range clashes(*pg.sheet) {
				t.Errorf("%s, page %d: %s", o, i+1, pair)
			}
			for _, it := range pg.sheet.Items {
				f, ok := it.(drawing.Fill)
				if !ok || f.Tone != drawing.Pale {
					continue
				}
				drawn++
				if b := reach(f); max(b.W, b.H) < 12 {
					t.Errorf("%s, page %d: a front of 414 mm is drawn %.1f mm high", o, i+1, b.H)
				}
			}
		}
		if drawn < 2 {
			t.Errorf("%s: %d leaves are drawn", o, drawn)
		}
	}
}

// A long part of which much is told is drawn over the whole width with its
// table under it, on one sheet.
func TestLongPartsOverTheirTables(t *testing.T) {
	p := roundDoors(t)
	for _, o := range variants {
		s := compose(t, p, o)
		for _, pg := range s.pages {
			if pg.name != "drilling and grooving" {
				continue
			}
			widest := 0.0
			for _, it := range pg.sheet.Items {
				if x, ok := it.(drawing.Stroke); ok && x.Pen == drawing.PenOutline {
					widest = max(widest, reach(x).W)
				}
				if x, ok := it.(drawing.Text); ok && strings.Contains(x.S, "Continued.") {
					t.Errorf("%s: %s", o, x.S)
				}
			}
			if in := room(pg.paper); widest < in.W/2 {
				t.Errorf("%s: the shell is drawn %.0f mm wide on a sheet of %.0f", o, widest, in.W)
			}
			break
		}
	}
}
