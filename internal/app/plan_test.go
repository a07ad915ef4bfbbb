package app

import (
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/yard"
)

// Parts that find no place do not come out of the panels.
func TestPartsWithoutAPlaceAreNotCountedAsCut(t *testing.T) {
	for _, c := range []struct {
		all, panels, short int
		proven             bool
		want               string
	}{
		{17, 1, 0, true, "17 parts out of 1 panel, and no fewer will do"},
		{17, 2, 0, false, "17 parts out of 2 panels"},
		{17, 1, 5, true, "12 of 17 parts out of 1 panel; 5 parts find no place"},
		{1, 0, 1, true, "1 part finds no place on any panel"},
		{3, 0, 3, false, "3 parts find no place on any panel"},
	} {
		p := yard.Panel{Result: cutting.Result{Proven: c.proven}}
		if c.short > 0 {
			p.Result.Short = []cutting.Shortfall{{Count: c.short}}
		}
		if got := cutOutOf(p, c.all, c.panels); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
