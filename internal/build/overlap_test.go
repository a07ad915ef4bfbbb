package build

import (
	"testing"

	"casewright/internal/unit"
)

// checkOverlaps looks at the flat, upright parts as blocks: two of them may
// share room only where a joint says so, and no deeper than it says.
func checkOverlaps(t interface{ Errorf(string, ...any) }, m Model) {
	type block struct {
		letter, name string
		lo, hi       [3]unit.Length
	}
	var all []block
	for _, p := range m.Parts {
		if p.Bent != nil || p.Role == RoleLeg || p.Role == RoleStile || p.Role == RoleLoose || p.Role == RoleTop || p.Role == RoleBack {
			continue
		}
		for _, at := range p.Places {
			f := at.Frame
			a, c := f.At(0, 0, 0), f.At(p.Length.Size, p.Width.Size, p.Thickness.Size)
			b := block{letter: p.Letter, name: p.Name + " " + at.Name}
			for i, v := range [][2]unit.Length{{a.X, c.X}, {a.Y, c.Y}, {a.Z, c.Z}} {
				b.lo[i], b.hi[i] = min(v[0], v[1]), max(v[0], v[1])
			}
			all = append(all, b)
		}
	}
	depth := map[[2]string]unit.Length{}
	for _, j := range m.Joints {
		for _, k := range [][2]string{{j.A, j.B}, {j.B, j.A}} {
			depth[k] = max(depth[k], j.Depth)
		}
	}
	for i, a := range all {
		for _, c := range all[:i] {
			least := unit.Metre
			for k := range 3 {
				least = min(least, min(a.hi[k], c.hi[k])-max(a.lo[k], c.lo[k]))
			}
			if a.hi == c.hi && a.lo == c.lo {
				t.Errorf("%s (%s) and %s (%s) stand in the same place", a.name, a.letter, c.name, c.letter)
			}
			if least > depth[[2]string{a.letter, c.letter}]+50*unit.Micrometre {
				t.Errorf("%s (%s) and %s (%s) share %v", a.name, a.letter, c.name, c.letter, least)
			}
		}
	}
}

func TestPartsOfDemosDoNotOverlap(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		checkOverlaps(t, built(t, name))
	}
}
