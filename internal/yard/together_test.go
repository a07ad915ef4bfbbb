package yard_test

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/yard"
)

// On any number of cores the layouts are the same, of several materials and of
// one, and progress is told of all materials together.
func TestSameOnAllCores(t *testing.T) {
	for _, c := range []struct {
		piece            string
		materials, woods int
		alone            bool // only the first material
	}{{"record-cabinet", 4, 3, false}, {"record-cabinet", 1, 0, true}, {"chest", 2, 2, false}} {
		g := goods(t, c.piece, 1)
		if c.alone {
			g.Model.Parts = slices.DeleteFunc(g.Model.Parts, func(p build.Part) bool { return p.Solid || p.Material != g.Panels[0].Key })
		}
		lay := func(cores *cutting.Cores) ([]yard.Panel, []yard.Wood) {
			var last cutting.Progress
			budget := cutting.Budget{Iterations: 2000, Cores: cores, Progress: func(p cutting.Progress) { last = p }}
			panels, err := yard.Panels(context.Background(), g.Model, g.Piece, 2, g.Shop, record.Record{}, budget)
			if err != nil {
				t.Fatal(err)
			}
			value := int64(0)
			for _, p := range panels {
				value += p.Result.Value
			}
			if len(panels) != c.materials || last.Value != value {
				t.Errorf("%s: %d materials, last told %+v, all are worth %d", c.piece, len(panels), last, value)
			}
			woods, err := yard.Woods(context.Background(), g.Model, 2, g.Shop, record.Record{}, budget)
			if err != nil {
				t.Fatal(err)
			}
			if len(woods) != c.woods {
				t.Errorf("%s: %d woods", c.piece, len(woods))
			}
			return panels, woods
		}
		panels, woods := lay(cutting.NewCores(0))
		for _, cores := range []*cutting.Cores{nil, cutting.NewCores(1), cutting.NewCores(3)} {
			if p, w := lay(cores); !reflect.DeepEqual(p, panels) || !reflect.DeepEqual(w, woods) {
				t.Errorf("%s: the layouts differ", c.piece)
			}
		}
	}
}
