package yard_test

import (
	"context"
	"reflect"
	"runtime"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/yard"
)

// On one core and on two the layouts are the same, and progress is told of all
// materials together.
func TestSameOnTwoCores(t *testing.T) {
	g := goods(t, "record-cabinet", 1)
	lay := func(cores int) ([]yard.Panel, cutting.Progress) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var last cutting.Progress
		panels, err := yard.Panels(context.Background(), g.Model, g.Piece, 2, g.Shop, record.Record{}, cutting.Budget{Iterations: 2000, Progress: func(p cutting.Progress) { last = p }})
		if err != nil {
			t.Fatal(err)
		}
		return panels, last
	}
	one, _ := lay(1)
	two, last := lay(2)
	if !reflect.DeepEqual(one, two) {
		t.Error("the layouts differ")
	}
	value := int64(0)
	for _, p := range two {
		value += p.Result.Value
	}
	if len(two) < 2 || last.Value != value {
		t.Errorf("%d materials, last told %+v, all are worth %d", len(two), last, value)
	}
}
