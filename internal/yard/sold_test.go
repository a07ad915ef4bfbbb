package yard

import (
	"testing"

	"casewright/internal/unit"
)

// A metric sheet is asked for in millimetres, an inch one in inches, whatever
// the piece is drawn in.
func TestGoodsAreAskedForAsTheyAreSold(t *testing.T) {
	in := func(l unit.Length) string { return l.Format(unit.Inch32nds) }
	mm := func(l unit.Length) string { return l.Format(unit.TenthMM) }
	for _, c := range []struct {
		l    unit.Length
		show func(unit.Length) string
		want string
	}{
		{unit.MM(1525), in, "1525 mm"},
		{unit.MM(96), in, "96 mm"},
		{unit.Inch * 60, in, "60 in"},
		{unit.Inch * 15 / 4, in, "3-3/4 in"},
		{unit.MM(1220), mm, "1220 mm"},
		{unit.Inch * 60, mm, "1524 mm"},
	} {
		if got := sold(c.l, c.show); got != c.want {
			t.Errorf("%v is sold as %q, want %q", c.l, got, c.want)
		}
	}
}
