package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// Fronts further apart than this, and doors that do not meet, are not matched
// (common practice, no source).
const (
	matchGap = 80 * unit.Millimetre
	meetGap  = 10 * unit.Millimetre
)

// A stand is one part as it stands in the piece, seen from the front.
type stand struct {
	part       *build.Part
	x, z, w, h unit.Length
	upright    bool // its grain runs upward
	name       string
}

// stands lists where the panel parts of a role stand.
func stands(m *build.Model, key string, role build.Role) []stand {
	var out []stand
	for i := range m.Parts {
		p := &m.Parts[i]
		if p.Role != role || p.Material != key || p.Solid || p.Grain == build.GrainFree {
			continue
		}
		for _, at := range p.Places {
			f := at.Frame
			x1 := f.Origin.X + p.Length.Size.Scale(f.U.X) + p.Width.Size.Scale(f.V.X)
			z1 := f.Origin.Z + p.Length.Size.Scale(f.U.Z) + p.Width.Size.Scale(f.V.Z)
			s := stand{part: p, x: min(f.Origin.X, x1), z: min(f.Origin.Z, z1), w: (x1 - f.Origin.X).Abs(), h: (z1 - f.Origin.Z).Abs(), name: at.Name}
			s.upright = (unit.Metre.Scale(f.U.Z).Abs() > unit.Metre/2) == (p.Grain == build.GrainLength)
			out = append(out, s)
		}
	}
	return out
}

// A matching is a run of parts to be cut side by side, in order.
type matching struct {
	label string
	axis  cutting.Axis
	parts []*build.Part
	row   bool // from left to right: a mirrored piece has it the other way round
}

// matchings are the runs of one panel material in one piece: fronts one above
// the other, else side by side; pairs of doors; the parts of a shell round.
func matchings(m *build.Model, key string, grain *piece.Grain) []matching {
	var out []matching
	ofFronts, ofDoors, ofShell := grain.Match()
	if ofFronts {
		fronts := stands(m, key, build.RoleFront)
		slices.SortStableFunc(fronts, func(a, b stand) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.z, b.z)) })
		above := func(a, b stand) bool {
			return a.x == b.x && a.w == b.w && a.upright == b.upright && b.z >= a.z+a.h && b.z-a.z-a.h <= matchGap
		}
		var single []stand
		for _, run := range runs(fronts, above) {
			if len(run) == 1 {
				single = append(single, run[0])
				continue
			}
			out = append(out, matched("fronts one above the other", run, true))
		}
		slices.SortStableFunc(single, func(a, b stand) int { return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.x, b.x)) })
		beside := func(a, b stand) bool {
			return a.z == b.z && a.h == b.h && a.upright == b.upright && b.x >= a.x+a.w && b.x-a.x-a.w <= matchGap
		}
		for _, run := range runs(single, beside) {
			if len(run) > 1 {
				out = append(out, matched("fronts side by side", run, false))
			}
		}
	}
	if ofDoors {
		doors := stands(m, key, build.RoleDoor)
		slices.SortStableFunc(doors, func(a, b stand) int { return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.x, b.x)) })
		for i := 0; i+1 < len(doors); i++ {
			a, b := doors[i], doors[i+1]
			if a.z == b.z && a.h == b.h && a.w == b.w && a.upright == b.upright && b.x >= a.x+a.w && b.x-a.x-a.w <= meetGap {
				out = append(out, matched("pair of doors", doors[i:i+2], false))
				i++
			}
		}
	}
	if ofShell {
		round := stands(m, key, build.RoleShell)
		slices.SortStableFunc(round, func(a, b stand) int { return cmp.Or(len(a.name)-len(b.name), strings.Compare(a.name, b.name)) })
		if len(round) > 1 {
			g := matching{label: "shell, following round", axis: cutting.Along}
			if round[0].part.Grain == build.GrainWidth {
				g.axis = cutting.Across
			}
			for _, s := range round {
				g.parts = append(g.parts, s.part)
			}
			out = append(out, g)
		}
	}
	return out
}

// runs breaks a sorted list where one does not follow another.
func runs(list []stand, follows func(a, b stand) bool) [][]stand {
	var out [][]stand
	for i, s := range list {
		if i > 0 && follows(list[i-1], s) {
			out[len(out)-1] = append(out[len(out)-1], s)
			continue
		}
		out = append(out, []stand{s})
	}
	return out
}

// matched is a run of stands: upward, or from left to right.
func matched(label string, run []stand, upward bool) matching {
	g := matching{label: label, axis: cutting.Across, row: !upward}
	if upward == run[0].upright {
		g.axis = cutting.Along
	}
	for _, s := range run {
		g.parts = append(g.parts, s.part)
	}
	return g
}

// match sets the matched groups of a panel's job, for as many pieces as are to
// be made. A run that is too long for every sheet is cut in as few runs as
// fit; of a run of which a part is cut already, the rest is not matched.
func (p *Panel) match(m *build.Model, grain *piece.Grain, pieces int, mirrored bool) {
	at := map[string]int{}
	left := make([]int, len(p.Job.Items))
	for i, it := range p.Job.Items {
		at[it.ID], left[i] = i, it.Qty
	}
	all := matchings(m, p.Key, grain)
	for n := range pieces {
		for _, g := range all {
			parts := slices.Clone(g.parts)
			if mirrored && n%2 == 1 && g.row {
				slices.Reverse(parts)
			}
			var run []int
			close := func() {
				if len(run) > 1 {
					p.Job.Matched = append(p.Job.Matched, cutting.Matched{Items: run, Axis: g.axis, Label: g.label})
				}
				run = nil
			}
			for _, part := range parts {
				i, ok := at[part.Letter]
				if !ok || left[i] == 0 {
					close()
					continue
				}
				if longer := append(slices.Clone(run), i); !p.fits(longer, g.axis) {
					close()
				}
				run = append(run, i)
				left[i]--
			}
			close()
		}
	}
}

// fits reports whether a run fits some sheet.
func (p *Panel) fits(run []int, axis cutting.Axis) bool {
	var w, h unit.Length
	for k, i := range run {
		it := p.Job.Items[i]
		gap := p.Job.Kerf
		if k == 0 {
			gap = 0
		}
		if axis == cutting.Along {
			w, h = w+gap+it.W, max(h, it.H)
		} else {
			w, h = max(w, it.W), h+gap+it.H
		}
	}
	return slices.ContainsFunc(p.Job.Sheets, func(s cutting.Sheet) bool {
		sw, sh := s.Usable()
		return s.Stock != 0 && w <= sw && h <= sh
	})
}

// Matched says, for a layout, which parts are cut side by side and in which
// order they lie.
func Matched(job cutting.Job, l cutting.Layout, letters []string) []string {
	var out []string
	for k, g := range job.Matched {
		var names []string
		upward := false
		for _, p := range l.Parts {
			if p.Group == k+1 {
				upward = (g.Axis == cutting.Across) != p.Turned
				names = append(names, letters[p.Item])
			}
		}
		if len(names) == 0 {
			continue
		}
		way := "from the left"
		if upward {
			way = "from the top"
			slices.Reverse(names)
		}
		out = append(out, fmt.Sprintf("Matched, %s: %s %s, in this order, so that the grain runs on.", g.Label, strings.Join(names, ", "), way))
	}
	return out
}
