package check

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// carried is what is said of a plain box on a way in, millimetres.
func carried(x, y, z float64, w piece.WayIn) []finding.Finding {
	in := Input{
		Piece: piece.Piece{WayIn: &w}, Model: build.Model{Outside: geom.Vec{X: unit.MM(x), Y: unit.MM(y), Z: unit.MM(z)}},
		Show: func(l unit.Length) string { return l.Format(unit.TenthMM) },
	}
	return wayIn(in)
}

// Round a corner of two passages of 1 m a box of 430 mm with 20 mm of room
// turns up to 2 (1000 √2 − 450) = 1928.4 mm of length (geometry, at 45°).
func TestTooLongToTurn(t *testing.T) {
	low := piece.WayIn{Landing: unit.Metre, Headroom: 2 * unit.Metre}
	want := 2 * (1000*math.Sqrt2 - 450)
	near(t, "longest", longestTurned(unit.Metre, unit.Metre, unit.MM(430), 3*unit.Metre).MM(), want, 1e-4)

	got := carried(3000, 430, 850, low)
	if len(got) != 1 {
		t.Fatalf("%+v", got)
	}
	f := got[0]
	if f.Figure != "3000 mm" || f.Limit != "1928 mm" || !strings.Contains(f.Says, "at a length of 3000 mm it does not turn there") ||
		!strings.Contains(f.Says, "430 mm across, it turns up to a length of 1928 mm.") || !strings.HasPrefix(f.Advice, "Make it 1072 mm shorter,") {
		t.Errorf("%+v", f)
	}
	if got := carried(1928, 430, 850, low); len(got) != 0 {
		t.Errorf("at the length advised it still does not turn: %+v", got)
	}
	low.Headroom = 3 * unit.Metre
	if got := carried(4000, 2500, 2500, low); len(got) != 1 || got[0].Limit != "" || !strings.Contains(got[0].Says, "2500 mm across, it is too wide to turn at any length.") {
		t.Errorf("too wide at any length: %+v", got)
	}
}

// No limit is below nothing, and no more is to be taken off than there is.
func TestWayInAsksForWhatCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(what string, least, most int) unit.Length {
			return unit.Length(rapid.IntRange(least, most).Draw(t, what)) * unit.Millimetre
		}
		box := [3]unit.Length{size("x", 100, 4000), size("y", 100, 4000), size("z", 100, 4000)}
		w := piece.WayIn{Landing: size("landing", 300, 2000)}
		if rapid.Bool().Draw(t, "low") {
			w.Headroom = size("headroom", 300, 3000)
		}
		if rapid.Bool().Draw(t, "stairs") {
			w.Stair = size("stair", 300, 2000)
		}
		v := turns(box, &w)
		most := max(box[0], box[1], box[2])
		if v.limit < 0 || v.longest < 0 || v.short < 0 || v.short > most || v.longest > v.long {
			t.Errorf("%+v", v)
		}
		if v.long == 0 && v.short == 0 {
			return
		}
		for _, f := range carried(box[0].MM(), box[1].MM(), box[2].MM(), w) {
			for _, text := range []string{f.Says, f.Figure, f.Limit, f.Advice} {
				if strings.Contains(text, "-") || strings.Contains(text, "−") {
					t.Errorf("%q", text)
				}
			}
		}
	})
}
