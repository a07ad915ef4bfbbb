package build

import (
	"fmt"
	"strings"
	"testing"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

const twoColumns = `
format: 1
name: two columns
units: mm
materials: {case: ply-18, inside: ply-18, back: ply-6, strip: oak}
case: {kind: shell, shape: closed, width: 900, height: 500, depth: 350, radius: 60, skin: 1.5 mm, form: yes%s}
inside: {columns: [{}, {}]}
`

// A divider in the middle stands where seams would be placed. They go beside
// it, both by as much along the way round, so that the halves stay alike.
func TestSeamsKeepClearOfDividers(t *testing.T) {
	m := must(t, decoded(t, fmt.Sprintf(twoColumns, "")))
	shell := find(t, m, "shell")
	if shell.Count != 2 {
		t.Errorf("%d halves share a letter, want 2", shell.Count)
	}
	for _, f := range shell.Features {
		if f.Kind != Mortise {
			continue
		}
		r := f.Region.Bounds()
		for _, end := range []unit.Length{r.Min.X, shell.Length.Size - r.Max.X} {
			// Past the spline's groove, half as deep as the panel is thick.
			if end < 9*unit.Millimetre {
				t.Errorf("a mortise %s from the end of a half shell", end)
			}
		}
	}
	for _, f := range m.Findings {
		if f.ID == "on-seam" {
			t.Error(f.Says)
		}
	}
}

// Where the maker says where the seam is, it stays there, and what stands on
// it is said; on a strip wide enough a divider may stand.
func TestDividerOnSeam(t *testing.T) {
	for seams, want := range map[string]bool{
		", seams: [{at: bottom}, {at: top}]":                                                                             true,
		", seams: [{at: bottom, held: glue}, {at: top, joint: scarf}]":                                                   true,
		", seams: [{at: bottom, offset: 80}, {at: top, offset: -80}]":                                                    false,
		", seams: [{at: bottom, joint: strip, strip: 60, held: dowel}, {at: top, joint: strip, strip: 60, held: dowel}]": false,
	} {
		m := must(t, decoded(t, fmt.Sprintf(twoColumns, seams)))
		got := false
		for _, f := range m.Findings {
			got = got || f.ID == "on-seam"
		}
		if got != want {
			t.Errorf("%s: on-seam is %v, want %v", seams, got, want)
		}
	}
}

// A spline ends where a back comes in whose edges reach as deep into the shell
// as the spline lies: in a rebate as wide as its screws need, or in a groove
// beside a thick spline. Else it runs through. By plain geometry.
func TestSplineEndsBeforeTheBack(t *testing.T) {
	for _, c := range []struct {
		back string
		want unit.Length
	}{
		{"back: {fit: rebated}", unit.MM(343.6)},                  // spline from 5.8 to 12.2, rebate to 9
		{"back: {fit: rebated, depth: 5}", 350 * unit.Millimetre}, // rebate to 5
		{"back: {fit: grooved}", 350 * unit.Millimetre},           // groove to 6, the back in it to 5
		{"back: {fit: grooved, depth: 8}", unit.MM(333.6)},        // groove to 8, the back 6.4 and 10 in from behind
		{"back: {fit: overlaid}", 350 * unit.Millimetre},
	} {
		text := fmt.Sprintf(twoColumns, "") + c.back + "\n"
		m := must(t, decoded(t, text))
		if got := find(t, m, "spline").Length.Size; got != c.want {
			t.Errorf("%s: a spline %s long, %s is wanted", c.back, got.Format(unit.TenthMM), c.want.Format(unit.TenthMM))
		}
		for _, f := range find(t, m, "shell").Features { // y = 0 is the back edge
			if r := f.Region.Bounds(); f.For == "spline" && (r.Min.X != 350*unit.Millimetre-c.want || r.Max.X != 350*unit.Millimetre) {
				t.Errorf("%s: its groove lies from %s to %s", c.back, r.Min.X.Format(unit.TenthMM), r.Max.X.Format(unit.TenthMM))
			}
		}
		for _, f := range m.Findings {
			if f.ID == "parts-collide" {
				t.Errorf("%s: %s", c.back, f.Says)
			}
		}
	}
}

// A shell that closes round a back in a groove is made of two parts, between
// which the back goes in; one seam that the piece asks for is told as a stop.
func TestClosedShellLetsItsBackIn(t *testing.T) {
	text := `
format: 1
name: small case
units: mm
materials: {case: ply-18, back: ply-6}
case: {kind: shell, shape: closed, width: 400, height: 300, depth: 200, radius: 60, skin: 1.5 mm, form: yesSEAMS}
back: {fit: FIT}
`
	for _, c := range []struct {
		seams, fit string
		parts      int
		caught     bool
	}{
		{"", "grooved", 2, false},
		{"", "rebated", 1, false},
		{", seams: [{at: bottom}]", "grooved", 1, true},
		{", seams: [{at: bottom}]", "overlaid", 1, false},
	} {
		m, err := quick(decoded(t, strings.NewReplacer("SEAMS", c.seams, "FIT", c.fit).Replace(text)))
		if err != nil {
			t.Fatal(err)
		}
		parts := 0
		for _, p := range m.Parts {
			if p.Role == RoleShell && p.Bent != nil {
				parts += p.Count
			}
		}
		f, caught := findingOf(m, "back-caught")
		if parts != c.parts || caught != c.caught || caught && f.Level != finding.Stop {
			t.Errorf("%q, %s: %d parts, %+v", c.seams, c.fit, parts, f)
		}
	}
}
