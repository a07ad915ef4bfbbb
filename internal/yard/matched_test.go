package yard_test

import (
	"context"
	"reflect"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Two columns of three fronts, a pair of doors and two halves of a shell, all
// of one panel.
func frontsAndDoors() (build.Model, shop.Shop) {
	front := func(letter string, role build.Role, l, w float64, places ...build.Place) build.Part {
		return build.Part{
			Letter: letter, Name: letter, Role: role, Count: len(places), Material: "oak", Grain: build.GrainLength,
			Length: build.Dim{Size: unit.MM(l)}, Width: build.Dim{Size: unit.MM(w)}, Places: places,
		}
	}
	across := func(x, z float64) build.Place {
		return build.Place{Frame: geom.Frame{Origin: geom.Vec{X: unit.MM(x), Z: unit.MM(z)}, U: geom.Right, V: geom.Up}}
	}
	// A door's length runs upward; y counts from its right edge.
	up := func(right, z float64) build.Place {
		return build.Place{Frame: geom.Frame{Origin: geom.Vec{X: unit.MM(right), Z: unit.MM(z)}, U: geom.Up, V: geom.Left}}
	}
	m := build.Model{Parts: []build.Part{
		front("A", build.RoleFront, 440, 180, across(20, 20), across(500, 20)),
		front("B", build.RoleFront, 440, 150, across(20, 203), across(500, 203), across(20, 356), across(500, 356)),
		front("C", build.RoleDoor, 700, 300, up(1300, 20)),
		front("D", build.RoleDoor, 700, 300, up(1603, 20)),
		front("E", build.RoleShell, 1100, 400, build.Place{Name: "part 1"}),
		front("F", build.RoleShell, 1150, 400, build.Place{Name: "part 2"}),
	}}
	s := shop.Shop{
		Saws:   map[string]shop.Saw{"table": {Kind: "table", Kerf: unit.MM(3)}},
		Panels: map[string]shop.Panel{"oak": {Sheets: []shop.Sheet{{Length: unit.MM(2440), Width: unit.MM(1220)}}}},
	}
	return m, s
}

func TestMatchedRuns(t *testing.T) {
	m, s := frontsAndDoors()
	panels, err := yard.Panels(context.Background(), m, piece.Piece{}, 1, s, record.Record{}, cutting.Budget{Iterations: 2000})
	if err != nil || len(panels) != 1 {
		t.Fatal(err, len(panels))
	}
	p := panels[0]
	if err := verify.Result(p.Job, p.Result); err != nil {
		t.Fatal(err)
	}
	want := []cutting.Matched{
		{Items: []int{0, 1, 1}, Axis: cutting.Across, Label: "fronts one above the other"},
		{Items: []int{0, 1, 1}, Axis: cutting.Across, Label: "fronts one above the other"},
		{Items: []int{2, 3}, Axis: cutting.Across, Label: "pair of doors"},
		{Items: []int{4, 5}, Axis: cutting.Along, Label: "shell, following round"},
	}
	if !reflect.DeepEqual(p.Job.Matched, want) {
		t.Errorf("got  %+v\nwant %+v", p.Job.Matched, want)
	}
	var told []string
	for _, l := range p.Result.Layouts {
		told = append(told, yard.Matched(p.Job, l, p.Letters)...)
	}
	if len(told) != 4 || told[0] != "Matched, fronts one above the other: B, B, A from the top, in this order, so that the grain runs on." {
		t.Errorf("%q", told)
	}
}

// The piece may switch matching off; a run with a part cut already is matched
// for what is left of it; one too long for the panel is broken.
func TestMatchedLess(t *testing.T) {
	m, s := frontsAndDoors()
	no := false
	doc := piece.Piece{Grain: &piece.Grain{Fronts: &no, Shell: &no}}
	r := record.Record{Cut: []record.Cut{{Part: "C", Count: 1}}}
	panels, err := yard.Panels(context.Background(), m, doc, 1, s, r, cutting.Budget{Iterations: 2000})
	if err != nil {
		t.Fatal(err)
	}
	if got := panels[0].Job.Matched; len(got) != 0 {
		t.Errorf("%+v", got)
	}
	m.Parts[5].Length.Size = unit.MM(1400)
	panels, err = yard.Panels(context.Background(), m, piece.Piece{}, 1, s, record.Record{}, cutting.Budget{Iterations: 2000})
	if err != nil {
		t.Fatal(err)
	}
	if got := panels[0]; len(got.Job.Matched) != 3 || len(got.Result.Short) != 0 {
		t.Errorf("%+v, short %+v", got.Job.Matched, got.Result.Short)
	}
}

// With parts cut already and an offcut left, the rest goes on the offcut and
// no panel is bought: 700 × 603 with its kerf in 800 × 620.
func TestCutAgainFromWhatIsLeft(t *testing.T) {
	m, s := frontsAndDoors()
	r := record.Record{
		Cut:  []record.Cut{{Part: "A", Count: 2}, {Part: "B", Count: 4}, {Part: "E", Count: 1}, {Part: "F", Count: 1}},
		Left: []record.Left{{Panel: "oak", Length: unit.MM(800), Width: unit.MM(620), Count: 1}, {Panel: "birch", Length: unit.MM(900), Width: unit.MM(900)}},
	}
	panels, err := yard.Panels(context.Background(), m, piece.Piece{}, 1, s, r, cutting.Budget{Iterations: 2000})
	if err != nil {
		t.Fatal(err)
	}
	p := panels[0]
	if err := verify.Result(p.Job, p.Result); err != nil {
		t.Fatal(err)
	}
	if len(p.Job.Items) != 2 || p.Bought() != 0 || len(p.Result.Layouts) != 1 || len(p.Result.Short) != 0 || len(p.Job.Matched) != 1 {
		t.Errorf("%d parts to cut, %d bought, %+v", len(p.Job.Items), p.Bought(), p.Result)
	}
	r.Left[0].Width = unit.MM(602)
	panels, err = yard.Panels(context.Background(), m, piece.Piece{}, 1, s, r, cutting.Budget{Iterations: 2000})
	if err != nil || panels[0].Bought() != 1 {
		t.Error(err, panels[0].Bought())
	}
}
