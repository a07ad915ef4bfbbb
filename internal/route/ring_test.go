package route_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/route"
)

const ring = `
format: 1
name: wall box
units: mm
materials: {case: oak-18, inside: oak-18, back: oak-6}
case: {kind: shell, shape: closed, width: 500, height: 400, depth: 220, radius: 80, skin: 2, form: true, SEAM}
inside: {INSIDE}
back: {fit: rebated}
finish: {kind: hardwax-oil}
`

// A shell bent round from one strip is not closed by gluing its bends: its two
// ends are brought together in a glue-up of their own, over the spline where
// there is one, with clamps and a dry fit, and before the openings are
// measured. By plain geometry: one strip round has one seam.
func TestOneStripIsClosedAtItsSeam(t *testing.T) {
	for _, c := range []struct{ seam, says string }{
		{"seams: [{at: bottom}]", "over the spline of its seam"},
		{"seams: [{at: bottom, held: dowel}]", "the ends of A shell together at its seam"},
		{"seams: [{at: bottom, joint: scarf}]", "the ends of A shell together at its seam"},
		{"seams: [{at: bottom, joint: strip, strip: 40}]", "the ends of A shell together with B let-in strip between them"},
	} {
		r, m := made(t, strings.NewReplacer("SEAM", c.seam, "INSIDE", "shelves: {on-pins: 1, pin: pin-5}").Replace(ring))
		if n := m.Parts[slices.IndexFunc(m.Parts, func(p build.Part) bool { return p.Role == build.RoleShell })].Count; n != 1 {
			t.Fatalf("%d strips, one is wanted", n)
		}
		i := slices.IndexFunc(r.Glueups, func(g route.GlueUp) bool { return g.Name == "case" })
		if i < 0 {
			t.Errorf("%s: nothing closes the shell", c.seam)
			continue
		}
		g := r.Glueups[i]
		s := r.Steps[g.Step-1]
		if g.Joints != 1+strings.Count(c.seam, "strip:") || g.Count == 0 || !strings.Contains(s.What, c.says) || strings.Contains(s.What, "half") {
			t.Errorf("%s: %d joints, %d clamps, %s", c.seam, g.Joints, g.Count, s.What)
		}
		if dry, ok := titled(r, "Dry-fit the case"); !ok || dry.N > s.N {
			t.Errorf("%s: no dry fit before", c.seam)
		}
		if k := slices.IndexFunc(r.Steps, func(s route.Step) bool { return s.Title == "Glue the bends of the shell" }); k < 0 || r.Steps[k].N > s.N {
			t.Errorf("%s: closed before its bends are glued", c.seam)
		}
	}
}

// What stands in a shell of one strip goes in while the seam is open, but what
// slides into housings from behind comes when it is closed.
func TestPartsGoInBeforeTheSeamCloses(t *testing.T) {
	housed := strings.NewReplacer("SEAM", "seams: [{at: bottom, offset: 90}]", "INSIDE", "columns: [{}, {}]").Replace(ring)
	r, _ := made(t, housed)
	s, _ := titled(r, "Glue up the case")
	if closed, in := strings.Index(s.What, "over the spline of its seam"), strings.Index(s.What, "Last slide C divider in from behind"); closed < 0 || in < closed {
		t.Error(s.What)
	}
	r, _ = made(t, strings.Replace(housed, "[{}, {}]", "[{rows: [{}, {}]}, {}]", 1))
	s, _ = titled(r, "Glue up the case") // what ends at the divider cannot hang on one end before
	if !strings.Contains(s.What, "First draw the ends of A shell together over the spline of its seam with straps round it. Last slide C divider and D level divider in from behind, along the housings.") {
		t.Error(s.What)
	}
	r, _ = made(t, strings.NewReplacer("columns: [{}, {}]", "shelves: {fixed: [150], joint: loose-tenon}", "back: oak-6", "shelves: oak-18, back: oak-6").Replace(housed))
	s, _ = titled(r, "Glue up the case")
	in, closed := strings.Index(s.What, "First bring C fixed shelf in between the walls of the shell while its seam is open"), strings.Index(s.What, "Then draw the ends of A shell together over the spline of its seam")
	if in < 0 || closed < in || strings.Contains(s.What, "shorten what goes in") {
		t.Error(s.What)
	}
}

// Two halves of a shell are joined at two seams, whatever holds them and
// whether the halves are cut alike or not: by plain counting. A divider between
// the two halves ends in both.
func TestEverySeamIsAJoint(t *testing.T) {
	for _, held := range []string{"dowel", "loose-tenon", "glue", "spline"} {
		for inside, more := range map[string]int{"columns: [{}, {}, {}]": 4, "shelves: {on-pins: 1, pin: pin-5}": 0} {
			seams := strings.ReplaceAll("seams: [{at: left, held: HELD}, {at: right, held: HELD}]", "HELD", held)
			r, m := made(t, strings.NewReplacer("width: 500", "width: 1200", "SEAM", seams, "INSIDE", inside).Replace(ring))
			i := slices.IndexFunc(r.Glueups, func(g route.GlueUp) bool { return g.Name == "case" })
			if g := r.Glueups[i]; g.Joints != 2+more {
				t.Errorf("%s, %s: %d joints, want %d: %+v", held, inside, g.Joints, 2+more, m.Joints)
			}
		}
	}
}

// What holds the seams is named, a back in grooves goes in before the other
// half, and a step alone is neither first nor last.
func TestHalvesAreReadInOrder(t *testing.T) {
	for _, c := range [][3]string{
		{"dowel", "rebated", "C divider into one half of the shell, then the other half over them and over the dowels of the seams. Case"},
		{"glue", "rebated", "C divider into one half of the shell, then the other half over them. Case"},
		{"spline", "grooved", "C divider into one half of the shell, D back into its groove in it, then the other half over them and over the splines of the seams. Case"},
	} {
		seams := strings.ReplaceAll("seams: [{at: left, held: HELD}, {at: right, held: HELD}]", "HELD", c[0])
		r, m := made(t, strings.NewReplacer("width: 500", "width: 1200", "SEAM", seams, "INSIDE", "columns: [{}, {}, {}]", "rebated", c[1]).Replace(ring))
		s, _ := titled(r, "Glue up the case")
		want := c[2]
		if !slices.ContainsFunc(m.Parts, func(p build.Part) bool { return p.Letter == "C" && p.Name == "divider" }) {
			want = strings.Replace(want, "C divider", "B divider", 1)
		}
		if !strings.HasPrefix(s.What, want) {
			t.Errorf("%s, %s: %s", c[0], c[1], s.What)
		}
	}
}
