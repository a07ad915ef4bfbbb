package cutting

import (
	"reflect"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// Pressing a sheet gives the same tree, node by node, as writing it anew:
// sheets of a search under way, with parts taken out as the search does.
func TestPressAgainstRebuild(t *testing.T) {
	kept := 0
	rapid.Check(t, func(t *rapid.T) {
		job := Job{Kerf: 3, Sheets: []Sheet{{ID: "s", W: 400, H: 300, Stock: -1}}}
		for range rapid.IntRange(5, 40).Draw(t, "parts") {
			job.Items = append(job.Items, Item{
				W: unit.Length(rapid.IntRange(8, 120).Draw(t, "w")), H: unit.Length(rapid.IntRange(8, 120).Draw(t, "h")), Qty: rapid.IntRange(1, 3).Draw(t, "qty"), Turn: rapid.Bool().Draw(t, "turn"),
			})
		}
		if rapid.IntRange(0, 3).Draw(t, "staged") == 0 {
			job.Stages = rapid.IntRange(2, 3).Draw(t, "stages")
			job.Run = rapid.SampledFrom([]Run{EitherWay, Lengthwise, Crosswise}).Draw(t, "run")
		}
		p, _ := newProblem(job)
		s := newSearch(p, rapid.Uint64().Draw(t, "seed"))
		s.start()
		s.hist = make([]float64, memory)
		s.aim(max(1, s.price-1))
		for range 60 {
			for range 5 {
				s.move()
			}
			if len(s.bins) == 0 {
				continue
			}
			b := &bin{}
			b.copyFrom(s.bins[s.rng.below(len(s.bins))])
			o := newSearch(p, 0)
			for range 1 + s.rng.below(3) {
				o.clear(b, s.spoil(b))
			}
			wrap := s.rng.below(2) == 0
			s.pack.loose = s.rng.below(3) == 0
			var pressed, anew bin
			s.pack.press(&pressed, b, wrap)
			s.pack.rebuild(&anew, b, wrap)
			if !reflect.DeepEqual(pressed, anew) {
				t.Fatalf("pressed %+v, written anew %+v", pressed, anew)
			}
			for i, n := range b.n {
				if i > 0 && n.span > 1 {
					kept++
				}
			}
		}
	})
	if kept == 0 {
		t.Error("no sheet had anything left that was not touched")
	}
}
