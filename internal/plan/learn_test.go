package plan_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
)

// What the after-calculation says to write into the shop, written there, makes
// the next plan ask for the hours that this one took, and priced by them; for
// a batch too. An operation that went as planned teaches nothing.
func TestLessonsImproveTheNextEstimate(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		before := make1(t, p, s, record.Record{}, 20)
		var r record.Record
		took := map[string]route.Minutes{}
		for i, h := range before.Route.Hours {
			if h.Units == 0 || i%3 == 0 { // as planned
				continue
			}
			minutes := 2*h.Estimated + 37
			took[string(h.Op)] = minutes
			r.Hours = append(r.Hours, record.Spent{Operation: string(h.Op), Hours: float64(minutes) / 60, Done: true})
		}
		after := make1(t, p, s, r, 20).Price.After
		if after == nil || len(after.Lessons) != len(took) {
			t.Fatalf("%s: %d lessons, want %d", name, len(after.Lessons), len(took))
		}
		s.Times = map[string]shop.Time{}
		for _, l := range after.Lessons {
			_, write, _ := strings.Cut(l, "Write ")
			var own shop.Time
			var op string
			if _, err := fmt.Sscanf(write, "{setup: %g, run: %g} under times.%s in", &own.Setup, &own.Run, &op); err != nil {
				if _, err := fmt.Sscanf(write, "run: %g under times.%s in", &own.Run, &op); err != nil {
					t.Fatalf("%s: %q: %v", name, l, err)
				}
			}
			s.Times[op] = own
		}
		next := make1(t, p, s, record.Record{}, 20)
		for op, want := range took {
			h := next.Route.Hours[slices.IndexFunc(next.Route.Hours, func(h route.Hours) bool { return string(h.Op) == op })]
			// The run is written to a hundredth of a minute.
			if math.Abs(float64(h.Estimated-want)) > 1+0.005*h.Units*float64(next.Route.Pieces) {
				t.Errorf("%s, %s: the next estimate is %d min, it took %d", name, op, h.Estimated, want)
			}
			if !strings.Contains(h.Source, "shop's own") {
				t.Errorf("%s, %s: times from %s", name, op, h.Source)
			}
		}
		if next.Price.All.Cost <= before.Price.All.Cost {
			t.Errorf("%s: it costs %s after all that time, %s before", name, next.Price.All.Cost.Format(), before.Price.All.Cost.Format())
		}
	}
}
