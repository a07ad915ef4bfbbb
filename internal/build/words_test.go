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

// Where a size is only about right, it is told in steps that a maker would set:
// screws of a back, and the panel that a wide drawer bottom should be.
func TestRoundSizesWhereAboutIsSaid(t *testing.T) {
	for _, name := range []string{"chest", "record-cabinet"} {
		p, s := demo(t, name)
		p.Back = &piece.Back{Fit: "overlaid"}
		m := make1(t, p, s)
		said := ""
		for _, j := range m.Joints {
			if _, after, ok := strings.Cut(j.With, "screws, about "); ok {
				said = strings.TrimSuffix(after, " apart")
			}
		}
		if want := regexp.MustCompile(`^(\d+[05] mm|\d+(-[13]/[24])? in)$`); !want.MatchString(said) {
			t.Errorf("%s: screws about %q apart", name, said)
		}
	}
	p, s := demo(t, "chest")
	p.Case.Width = unit.In(40)
	if f, ok := findingOf(make1(t, p, s), "thin-bottom"); !ok || f.Limit != "3/8 in" {
		t.Errorf("a wide bottom: %+v", f)
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

// A panel is told as the caliper of the shop reads it.
func TestNominalGroovesInTheUnitsOfTheShop(t *testing.T) {
	for _, name := range []string{"chest", "record-cabinet"} {
		p, s := demo(t, name)
		b := &builder{piece: p, shop: s}
		for key, panel := range s.Panels {
			b.m.Findings = nil
			b.noteNominal(key, map[bool]unit.Length{true: unit.In(0.73), false: unit.MM(17.3)}[s.Units == unit.Imperial])
			f, ok := findingOf(b.m, "nominal-groove")
			said := strings.ReplaceAll(f.Says+f.Advice+f.Figure+f.Limit, panel.Name, "")
			if other := map[bool]string{true: "mm", false: " in "}[s.Units == unit.Imperial]; !ok || strings.Contains(said, other) {
				t.Errorf("%s, %s: %s", name, key, said)
			}
		}
	}
}

// Fronts are numbered as they are laid out, where they are laid out side by
// side; of solid wood they are not.
func TestOnlyFrontsOfPanelsAreSaidToMatch(t *testing.T) {
	no := false
	for _, c := range []struct {
		name  string
		grain *piece.Grain
		want  string
	}{
		{"record-cabinet", nil, "order of the layout"},
		{"record-cabinet", &piece.Grain{Fronts: &no}, ""},
		{"chest", nil, "do not match the grain of solid fronts"},
	} {
		p, s := demo(t, c.name)
		p.Grain = c.grain
		for _, q := range make1(t, p, s).Parts {
			if q.Role == RoleFront && (c.want == "") != (q.Note == "") || q.Role == RoleFront && !strings.Contains(q.Note, c.want) {
				t.Errorf("%s: %s", c.name, q.Note)
			}
		}
	}
}
