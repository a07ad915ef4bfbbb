package check

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Where the grain of solid sides runs upward and that of top, bottom and fixed
// shelf from side to side, the widths of all run from front to back and move
// together (common practice, no source). Only where grains cross, or a panel
// stands still, is glue the wrong thing.
func TestMovesWithSides(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(p *piece.Piece)
		turn  string // part whose grain is turned
		part  string
		says  string
		not   string
	}{
		{name: "bottom", part: "bottom", says: "glued to them over its whole width", not: "Do not glue"},
		{name: "top let into the sides", spoil: func(p *piece.Piece) {
			shelved(p)
			p.Case.Top = nil
		}, part: "top", says: "glued to them over its whole width", not: "button"},
		{name: "slab", part: "top", says: "Solid sides move with it", not: "glued to them"},
		{name: "bottom with its grain from front to back", turn: "bottom", part: "bottom", says: "Do not glue it across"},
		{name: "sides with level grain", turn: "side", part: "bottom", says: "Do not glue it across"},
		{name: "panel sides", spoil: func(p *piece.Piece) {
			p.Materials["case"] = "cherry-ply-1/4"
			p.Thicknesses["case"] = 0
		}, part: "top", says: "buttons", not: "Solid sides"},
		{name: "fixed shelf", spoil: shelved, part: "fixed shelf", says: "glued to them over its whole width", not: "Do not glue"},
		{name: "loose shelf", spoil: func(p *piece.Piece) {
			shelved(p)
			p.Inside.Rows[0].Shelves = &piece.Shelves{OnPins: 1, Pin: "pin"}
		}, part: "shelf", says: "lies loose", not: "glue"},
		{name: "sides without drawers", spoil: shelved, part: "side", says: "held at the front only", not: "runner frames"},
		{name: "sides with drawers", part: "side", says: "Let runner frames float"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, s := open(t, "chest")
			if c.spoil != nil {
				c.spoil(&p)
			}
			s.Hardware["pin"] = shop.Hardware{Kind: "pin", Diameter: unit.MM(5), Length: unit.MM(16)}
			in, err := inputOf(p, s, record.Record{})
			if err != nil {
				t.Fatal(err)
			}
			letter := ""
			for i := range in.Model.Parts {
				q := &in.Model.Parts[i]
				if q.Name == c.turn {
					q.Grain = build.GrainWidth
				}
				if q.Name == c.part && letter == "" {
					letter = q.Letter
				}
			}
			for _, f := range movement(in) {
				of := strings.FieldsFunc(f.Place, func(r rune) bool { return r == ' ' || r == ',' })
				if !slices.Contains(of, letter) {
					continue
				}
				if !strings.Contains(f.Advice, c.says) || c.not != "" && strings.Contains(f.Advice, c.not) {
					t.Errorf("%s: %s", f.Place, f.Advice)
				}
				return
			}
			t.Errorf("nothing is said of %s %s", c.part, letter)
		})
	}
}

// shelved is the chest with one fixed shelf and no drawers.
func shelved(p *piece.Piece) {
	p.Inside = piece.Opening{Rows: []piece.Opening{{Height: 20 * unit.Inch, Shelves: &piece.Shelves{Fixed: []unit.Length{6 * unit.Inch}, Joint: "housing"}}, {Shelves: &piece.Shelves{Fixed: []unit.Length{6 * unit.Inch}, Joint: "housing"}}}}
}
