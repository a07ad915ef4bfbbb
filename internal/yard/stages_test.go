package yard_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// What the shop says of strips and stages limits the panels' layouts: a panel
// of two strips, in one of them a high part beside two low ones one above the
// other, takes three stages; with two, or with strips across the panel, a
// second panel is needed.
func TestStripsAndStages(t *testing.T) {
	part := func(letter string, l, w float64, count int) build.Part {
		return build.Part{
			Letter: letter, Name: letter, Role: build.RoleSide, Count: count, Material: "oak", Grain: build.GrainLength,
			Length: build.Dim{Size: unit.MM(l)}, Width: build.Dim{Size: unit.MM(w)},
		}
	}
	m := build.Model{Parts: []build.Part{part("A", 1000, 200, 1), part("B", 400, 397, 1), part("C", 597, 197, 2)}}
	for habits, want := range map[string]struct{ stages, sheets int }{
		"{}":                                          {0, 1},
		"{strips-first: yes}":                         {3, 1},
		"{strips-first: yes, strip-stages: 3}":        {3, 1},
		"{strips-first: yes, strip-stages: 2}":        {2, 2},
		"{strip-stages: 2}":                           {0, 1}, // nothing without strips
		"{strips-run: crosswise}":                     {0, 1},
		"{strips-first: yes, strips-run: lengthwise}": {3, 1},
		"{strips-first: yes, strips-run: crosswise}":  {3, 2},
	} {
		text := fmt.Sprintf("format: 1\nunits: mm\nsaws: {table: {kind: table, kerf: 3}}\npanels: {oak: {kind: birch-ply, thickness: 18, trim: 0, sheets: [{length: 1000, width: 600}]}}\nhabits: %s\n", habits)
		s, err := shop.Decode("", strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		panels, err := yard.Panels(context.Background(), m, piece.Piece{}, 1, s, record.Record{}, cutting.Budget{Iterations: 2000})
		if err != nil || len(panels) != 1 {
			t.Fatal(err, len(panels))
		}
		p := panels[0]
		if err := verify.Result(p.Job, p.Result); err != nil {
			t.Error(err)
		}
		sheets := 0
		for _, l := range p.Result.Layouts {
			sheets += l.Copies
		}
		if p.Job.Stages != want.stages || sheets != want.sheets || !p.Result.Proven {
			t.Errorf("%s: %d stages, %d sheets, %v", habits, p.Job.Stages, sheets, p.Result.Proven)
		}
	}
}
