package route_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

var waiting map[string]route.Input

// fitted are pieces whose parts are cut to measured openings in every way: out
// of their own panel, as blanks from one shared with the case, of solid wood.
func fitted(t *testing.T) map[string]route.Input {
	if waiting != nil {
		return waiting
	}
	out := maps.Clone(variants(t))
	out["clinic, inset door"] = input(t, "clinic-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
		p.Inside.Door.Front, p.Inside.Door.Overlay = "inset", 0
	})
	out["cabinet, all of one panel, no frame"] = input(t, "record-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
		p.Frame = nil
		p.Materials["boxes"], p.Materials["packers"] = "oak-18", "oak-18"
	})
	out["cabinet, blanks off the saw"] = input(t, "record-cabinet", func(_ *piece.Piece, _ *shop.Shop, r *record.Record) {
		r.Cut = []record.Cut{{Part: "A", Count: 2}, {Part: "G", Count: 2}, {Part: "Q", Count: 1}}
		r.Blanks = []record.Blanks{{Part: "M", Count: 4}}
	})
	waiting = out
	return out
}

// TestMeasuredBeforeItIsCut: boxes, inset fronts and inset doors have their
// last cut, and boxes are glued up, after the openings are measured; these are
// measured when case and frame are glued and trimmed.
func TestMeasuredBeforeItIsCut(t *testing.T) {
	for name, in := range fitted(t) {
		r := route.Make(in)
		at := 0
		for _, s := range r.Steps {
			if s.Op == route.Fit && at == 0 {
				at = s.N
			}
		}
		late := 0
		for _, p := range in.Model.Parts {
			inset := slices.ContainsFunc(in.Model.Openings, func(o build.Opening) bool { return o.Inset && o.Front == p.Letter })
			box := slices.Contains([]build.Role{build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom}, p.Role)
			if p.Role == build.RolePacker {
				continue
			}
			if p.ToMeasure != (inset || box) {
				t.Errorf("%s, %s %s: waits for the openings: %v", name, p.Letter, p.Name, p.ToMeasure)
			}
			if !p.ToMeasure {
				if p.Oversize.Blank != 0 {
					t.Errorf("%s, %s %s is a blank", name, p.Letter, p.Name)
				}
				continue
			}
			late++
			if slices.ContainsFunc(in.Record.Cut, func(c record.Cut) bool { return c.Part == p.Letter }) {
				continue
			}
			last := max(lastOf(r, p.Letter, route.Size), lastOf(r, p.Letter, route.BreakDown))
			if last < at {
				t.Errorf("%s, %s %s has its last cut in step %d, openings are measured in %d", name, p.Letter, p.Name, last, at)
			}
			for _, op := range []route.Op{route.BandEdges, route.Drill, route.JointCut, route.DryFit} {
				if n := first(r, p.Letter, op); n > 0 && n < last {
					t.Errorf("%s, %s %s: %s in step %d, cut to size in %d", name, p.Letter, p.Name, op, n, last)
				}
			}
			if !p.Solid && !p.IsBlank() && first(r, p.Letter, route.BreakDown) < at {
				t.Errorf("%s, %s %s comes out of its panel at its planned size before the openings are measured", name, p.Letter, p.Name)
			}
		}
		title := ""
		if at > 0 {
			title = r.Steps[at-1].Title
		}
		if (title == "Measure the openings") != (late > 0) {
			t.Errorf("%s: %d parts wait, first fitting is %q", name, late, title)
			continue
		}
		for _, s := range r.Steps {
			before := s.Title == "Glue up the case" || s.Title == "Glue the frame on the case" || s.Title == "Trim the frame flush"
			after := strings.HasSuffix(s.Title, " the drawer boxes")
			if late > 0 && (before && r.Steps[at-1].Start < s.Ready || after && s.N < at) {
				t.Errorf("%s: step %d, %s, and the openings are measured in %d", name, s.N, s.Title, at)
			}
		}
	}
}

// TestBlanksAreSawnTwice: a blank leaves the panel larger by what the parts
// list says, is not called finished there, and is sawn to the part later; all
// parts are sawn to size in one sequence or another.
func TestBlanksAreSawnTwice(t *testing.T) {
	seen := 0
	for name, in := range fitted(t) {
		for _, p := range in.Model.Parts {
			if p.Oversize.Blank == 0 {
				continue
			}
			seen++
			want := 3 * unit.Millimetre
			if in.Shop.Units == unit.Imperial {
				want = unit.Inch / 8
			}
			if p.Oversize.Blank != want || p.CutLength()-p.FitLength() != want || p.CutWidth()-p.FitWidth() != want {
				t.Errorf("%s, %s: left %s, want %s", name, p.Letter, p.Oversize.Blank, want)
			}
			sizes := map[unit.Length]int{}
			for _, q := range in.Setups {
				for _, s := range q.Setups {
					last := q.After && q.Sizes && q.Stock == p.Material
					if slices.Contains(s.Parts, p.Letter) && !(last && s.Way == saw.Stop && s.Setting == p.FitLength()) {
						t.Errorf("%s, %s is called finished in %s at %s", name, p.Letter, q.Title, s.Setting)
					}
					if i := slices.IndexFunc(s.Cuts, func(c saw.Cut) bool { return c.Gives == p.Letter }); last && i >= 0 {
						sizes[s.Setting] += s.Cuts[i].Times
					}
				}
			}
			n := p.Count * in.Piece.Count
			if p.FitLength() != p.FitWidth() && (sizes[p.FitLength()] != n || sizes[p.FitWidth()] != n) {
				t.Errorf("%s, %s: sawn to %v", name, p.Letter, sizes)
			}
			says := 0
			for _, s := range route.Make(in).Steps {
				if s.Op == route.BreakDown && strings.Contains(s.What, "longer and wider") && slices.Contains(s.Parts, p.Letter) {
					says++
				}
			}
			if says != 1 {
				t.Errorf("%s, %s: told as a blank %d times", name, p.Letter, says)
			}
		}
	}
	if seen < 3 {
		t.Errorf("%d blanks", seen)
	}
}

// TestSolidPackersAreMilledLast: packers of solid wood come to their thickness
// and size after the openings are measured and before they are fitted, all
// else of that wood before; each stick is milled to thickness once.
func TestSolidPackersAreMilledLast(t *testing.T) {
	for name, change := range map[string]func(*piece.Piece){
		"of the frame's wood":      func(p *piece.Piece) { p.Materials["packers"] = "white-oak" },
		"of a wood with the boxes": func(p *piece.Piece) { p.Materials["packers"], p.Materials["boxes"] = "white-oak", "white-oak" },
		"of a wood of their own":   func(p *piece.Piece) { p.Materials["packers"] = "maple" },
	} {
		in := input(t, "record-cabinet", func(p *piece.Piece, s *shop.Shop, _ *record.Record) {
			p.Thicknesses = map[string]unit.Length{"boxes": 12 * unit.Millimetre, "frame": p.Frame.Thickness}
			s.Woods["maple"] = s.Woods["white-oak"]
			change(p)
		})
		r := route.Make(in)
		at := slices.IndexFunc(r.Steps, func(s route.Step) bool { return s.Title == "Measure the openings" }) + 1
		if at == 0 {
			t.Fatalf("%s: openings are not measured", name)
		}
		packers := 0
		for _, p := range in.Model.Parts {
			if !p.Solid {
				continue
			}
			var last []route.Step
			for _, s := range r.Steps {
				if s.Op == route.Mill && strings.Contains(s.Title, "to thickness") && slices.Contains(s.Parts, p.Letter) {
					last = append(last, s)
				}
			}
			if len(last) != 1 {
				t.Errorf("%s: %s %s is milled to thickness %d times", name, p.Letter, p.Name, len(last))
				continue
			}
			packer := p.Role == build.RolePacker
			if packer {
				packers++
				fitted := first(r, p.Letter, route.Fit)
				if n := lastOf(r, p.Letter, route.Size); n < last[0].N || !slices.Contains(last[0].After, at) || fitted < n {
					t.Errorf("%s: %s milled in %d, sawn in %d, fitted in %d, openings measured in %d", name, p.Letter, last[0].N, n, fitted, at)
				}
			}
			if packer != (last[0].N > at) || packer != strings.Contains(last[0].What, "as measured") {
				t.Errorf("%s: %s %s has its thickness in step %d, openings are measured in %d", name, p.Letter, p.Name, last[0].N, at)
			}
		}
		if packers == 0 {
			t.Errorf("%s: no solid packers", name)
		}
		hours := 0.0
		for _, s := range r.Steps {
			if s.Op == route.Mill && strings.HasPrefix(s.Title, "Mill ") {
				if strings.HasSuffix(s.Title, "oversize") {
					hours += s.Units
				} else {
					hours -= s.Units
				}
			}
		}
		if hours > 1e-9 || hours < -1e-9 {
			t.Errorf("%s: %v sticks are milled over size and not to thickness, or the other way", name, hours)
		}
	}
}
