package route_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
)

// TestTenonsAreMade: what the shop makes of loose tenons and splines has a step
// before the first dry fit that wants them; the strips are as long as all
// tenons with a kerf each.
func TestTenonsAreMade(t *testing.T) {
	find := func(r route.Route) *route.Step {
		i := slices.IndexFunc(r.Steps, func(s route.Step) bool { return strings.HasPrefix(s.Title, "Make the loose tenons") })
		if i < 0 {
			return nil
		}
		return &r.Steps[i]
	}
	in := input(t, "record-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
		p.Case.Joints = map[string]string{"dividers": "loose-tenon"}
	})
	r := route.Make(in)
	s := find(r)
	if s == nil {
		t.Fatal("no step makes the loose tenons")
	}
	// 4 rails to stiles of 20 wide, 10 % to spare: 5; 12 in the dividers: 14;
	// in the table saw's kerf of 3.2 each (derived).
	for _, want := range []string{
		"6 mm × 20 mm, 256 mm of strip for 5 of 48 mm", "6 mm × 36 mm, 570 mm of strip for 14 of 37.5 mm",
		"6 mm × 13 mm, 263 mm of strip for 3 of 48 mm and 3 of 33 mm", "a kerf of 3.2 mm",
		"A strip shorter than 300 mm does not go through the machines",
	} {
		if !strings.Contains(s.What, want) {
			t.Errorf("no word of %q in %q", want, s.What)
		}
	}
	for _, d := range r.Steps {
		if d.Op == route.DryFit && d.Title != "Dry-fit the drawer boxes" && (d.N < s.N || d.Start < s.Ready) {
			t.Errorf("step %d, %s, comes before the tenons are made in %d", d.N, d.Title, s.N)
		}
	}
	if got := find(route.Make(input(t, "chest", nil))); got != nil {
		t.Errorf("the chest has %q", got.Title)
	}
	for i := range in.Model.Hardware {
		if in.Model.Hardware[i].Stock[0] > 0 {
			in.Model.Hardware[i].Key = "bought"
		}
	}
	if got := find(route.Make(in)); got != nil {
		t.Errorf("bought tenons are made: %q", got.What)
	}
}

// TestCatchesOnlyWhereThereAre: pulls and catches are named where the piece
// has them.
func TestCatchesOnlyWhereThereAre(t *testing.T) {
	for _, pull := range []string{"bar-pull", ""} {
		in := input(t, "clinic-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Inside.Door.Pull = pull })
		r := route.Make(in)
		i := slices.IndexFunc(r.Steps, func(s route.Step) bool { return s.Title == "Doors on" })
		what := r.Steps[i].What
		if strings.Contains(what, "catch") || strings.Contains(what, "pull") != (pull != "") {
			t.Errorf("with the pull %q: %s", pull, what)
		}
	}
}
