package build

import (
	"regexp"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// A box higher than its opening is told once, in words that can be followed: no
// curve stands a negative size from its edge.
func TestABoxHigherThanItsOpeningIsToldOnce(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	drawer := *p.Inside.Columns[0].Rows[0].Drawer
	drawer.BoxHeight = p.Case.Height
	p.Inside.Columns[0].Rows[0].Drawer = &drawer
	m := make1(t, p, s)
	if _, ok := findingOf(m, "box-too-high"); !ok {
		t.Error("a box as high as the piece goes in")
	}
	for _, f := range m.Findings {
		if f.ID == "box-corner" || strings.Contains(f.Says, " -") || strings.Contains(f.Says, "≈-") {
			t.Errorf("%s: %s", f.ID, f.Says)
		}
	}
}

// Sizes of columns that do not fit are refused in fractions that are read off a
// rule; a difference too small for one keeps its decimals.
func TestColumnsAreRefusedInFractions(t *testing.T) {
	p, s := demo(t, "chest")
	p.Inside = piece.Opening{Columns: []piece.Opening{{Width: unit.MM(300.3)}, {Width: unit.MM(300.3)}}}
	p.Use.For = "books"
	said := problemAt(t, p, s, "inside.columns")
	if regexp.MustCompile(`\d\.\d`).MatchString(said) || !regexp.MustCompile(`\d/\d+ in`).MatchString(said) {
		t.Errorf("says %q", said)
	}
	b := &builder{piece: p, shop: s}
	for l, want := range map[unit.Length]string{
		unit.In(62.16141732): "≈62-5/32 in", unit.In(62.5): "62-1/2 in", unit.Micrometre: "0.00003937 in", 0: "0 in",
	} {
		if got := b.exact(l); got != want {
			t.Errorf("%s is written %q, want %q", l, got, want)
		}
	}
}
