package papers

import (
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// Where a screw goes into the edge of a panel no face is near: the table tells
// what is screwed on and the edge, not the depth of the case. By plain reading.
func TestScrewIntoAnEdgeIsReadAsOne(t *testing.T) {
	s, err := newSet(demo(t, "record-cabinet"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	u := build.ScrewUse{Stack: unit.MM(420), Under: unit.MM(6), Clear: unit.MM(400)}
	if got := s.underHead(u); !strings.HasPrefix(got, "420") {
		t.Errorf("%q", got)
	}
	u.Into = build.EdgeWood
	if got := s.underHead(u); !strings.HasPrefix(got, "6 ") || !strings.HasSuffix(got, ", then edge") || strings.Contains(got+s.leftBefore(u), "0") {
		t.Errorf("%q, %q", got, s.leftBefore(u))
	}
}
