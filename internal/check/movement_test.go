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
		}, part: "shelf", says: "no more room behind it than it has, 0.039 in", not: "leave"},
		{name: "loose shelf between sides that stand still", spoil: func(p *piece.Piece) {
			shelved(p)
			p.Inside.Rows[0].Shelves = &piece.Shelves{OnPins: 1, Pin: "pin"}
			p.Materials["case"] = "cherry-ply-1/4"
			p.Thicknesses["case"] = 0
			p.Materials["shelves"] = "cherry"
			p.Thicknesses["shelves"] = unit.Inch * 3 / 4
		}, part: "shelf", says: "set it back or make it", not: "glue"},
		{name: "level divider", spoil: func(p *piece.Piece) { shelved(p); p.Frame = nil }, part: "level divider", says: "glued to them over its whole width", not: "Do not glue"},
		{name: "divider between top and bottom", spoil: func(p *piece.Piece) {
			p.Case.Top, p.Frame, p.Case.Joints = nil, nil, map[string]string{"top": "housing", "bottom": "housing", "dividers": "housing"}
			p.Inside = piece.Opening{Columns: []piece.Opening{{}, {}}}
		}, part: "divider", says: "glued to them over its whole width", not: "Do not glue"},
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

// The solid bottom of the chest moves on its plinth, whose sides do not:
// 16 × 0.00248 × 5 = 0.1984 in (FPL-GTR-190 table 13-5), and 1/16 in each way.
func TestBottomMovesOnItsPlinth(t *testing.T) {
	p, s := open(t, "chest")
	in, err := inputOf(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, f := range movement(in) {
		found = found || strings.Contains(f.Says, "Bottom B") && strings.Contains(f.Advice, "slots 0.323 in longer")
	}
	if !found {
		t.Error("nothing says how long the slots are")
	}
	for _, j := range in.Model.Joints {
		a := partOf(in.Model, j.A)
		if a == nil || a.Role != build.RolePlinth {
			continue
		}
		if j.Kind == "screwed" && !strings.Contains(j.Note, "behind in slots") {
			t.Errorf("the plinth holds the bottom: %+v", j)
		}
		if _, ok := endGrain(in, j); ok || strings.Contains(j.With, "screws") && j.Kind == "butt" {
			t.Errorf("screws in end grain: %+v", j)
		}
	}
}

// shelved is the chest with one fixed shelf and no drawers.
func shelved(p *piece.Piece) {
	p.Inside = piece.Opening{Rows: []piece.Opening{{Height: 20 * unit.Inch, Shelves: &piece.Shelves{Fixed: []unit.Length{6 * unit.Inch}, Joint: "housing"}}, {Shelves: &piece.Shelves{Fixed: []unit.Length{6 * unit.Inch}, Joint: "housing"}}}}
}
