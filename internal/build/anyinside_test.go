package build

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// What cannot be meant gets a sentence, quickly.
func TestHostileInside(t *testing.T) {
	p, s := plain(t)
	s.Woods["oak"] = s.Woods["white-oak"]
	p.Materials["boxes"], p.Materials["fronts"], p.Materials["doors"] = "oak", "oak", "oak"
	many := piece.Opening{Columns: make([]piece.Opening, 100)}
	for i := range many.Columns {
		many.Columns[i].Rows = make([]piece.Opening, 100)
	}
	for _, x := range []struct {
		name   string
		inside piece.Opening
		path   string
	}{
		{"ten thousand spaces", many, "inside"},
		{"a side of a nanometre", piece.Opening{Drawer: &piece.Drawer{Runner: "side-runner", Corner: "finger", Side: 1, Thickness: 19 * mm}}, "inside.drawer.side"},
		{"a side of a kilometre", piece.Opening{Drawer: &piece.Drawer{Runner: "side-runner", Side: 1000 * unit.Metre, Thickness: 19 * mm}}, "inside.drawer"},
		{"a front of a nanometre", piece.Opening{Drawer: &piece.Drawer{Runner: "side-runner", Thickness: 1}}, "inside.drawer.front-thickness"},
		{"a front as deep as the case", piece.Opening{Drawer: &piece.Drawer{Runner: "side-runner", Thickness: 420 * mm}}, "inside.drawer"},
		{"a gap as wide as the opening", piece.Opening{Drawer: &piece.Drawer{Runner: "side-runner", Thickness: 19 * mm, Gap: 400 * mm}}, "inside.drawer"},
		{"a door of a nanometre", piece.Opening{Door: &piece.Door{Hinge: "cup", Thickness: 1}}, "inside.door.thickness"},
		{"a hinge that is a runner", piece.Opening{Door: &piece.Door{Hinge: "wood", Thickness: 19 * mm}}, "inside.door.hinge"},
		{"a shelf set back behind the back", piece.Opening{Shelves: &piece.Shelves{OnPins: 1, Setback: 5 * unit.Metre}}, "inside.shelves"},
		{"fifty shelves", piece.Opening{Shelves: &piece.Shelves{OnPins: 50, Holes: 100}}, "inside.shelves"},
		{"a negative width", piece.Opening{Columns: []piece.Opening{{Width: -5 * mm}, {}}}, "inside.columns[0].width"},
		{"a width of a million km", piece.Opening{Columns: []piece.Opening{{Width: 1e9 * unit.Metre}, {}}}, "inside.columns"},
	} {
		t.Run(x.name, func(t *testing.T) {
			p.Inside = x.inside
			if got := problemAt(t, p, s, x.path); strings.Contains(got, "%!") {
				t.Errorf("got %q", got)
			}
		})
	}
}

// filled draws a tree with anything in it, sensible or not.
func filled(t *rapid.T, depth int) piece.Opening {
	var o piece.Opening
	size := func(most int) unit.Length {
		return unit.Length(rapid.IntRange(0, most).Draw(t, "mm")) * mm
	}
	if depth > 0 && rapid.Bool().Draw(t, "split") {
		parts := make([]piece.Opening, rapid.IntRange(1, 3).Draw(t, "parts"))
		for i := range parts {
			parts[i] = filled(t, depth-1)
			if rapid.IntRange(0, 4).Draw(t, "given") == 0 {
				parts[i].Width, parts[i].Height = size(500), size(500)
			}
		}
		if rapid.IntRange(0, 3).Draw(t, "panel") == 0 {
			v := rapid.Bool().Draw(t, "yes")
			o.Panel = &v
		}
		if rapid.IntRange(0, 5).Draw(t, "between") == 0 {
			o.Between = size(40)
		}
		if rapid.Bool().Draw(t, "columns") {
			o.Columns = parts
		} else {
			o.Rows = parts
		}
		return o
	}
	pick := func(of ...string) string { return rapid.SampledFrom(of).Draw(t, "pick") }
	switch rapid.IntRange(0, 4).Draw(t, "fill") {
	case 0, 1:
		o.Drawer = &piece.Drawer{
			Runner: pick("side-runner", "under", "roller", "wood", "cup"), Front: pick("inset", "overlaid"), Gap: size(4),
			Corner: pick("rebate", "butt", "dovetail", "finger"), Pull: pick("", "bar-pull"), Side: size(20), Thickness: size(25),
			BoxHeight: size(1) * 150, BoxDepth: size(1) * 300, Overlay: size(1) * 8,
		}
	case 2:
		o.Door = &piece.Door{
			Hinge: pick("cup", "inset-cup", "wood"), Hung: pick("left", "right", "pair"), Front: pick("inset", "overlaid"),
			Gap: size(3), Overlay: size(20), Thickness: size(25), Pull: pick("", "bar-pull"),
		}
	}
	if o.Drawer == nil && rapid.Bool().Draw(t, "shelves") {
		o.Shelves = &piece.Shelves{
			OnPins: rapid.IntRange(0, 3).Draw(t, "loose"), Pin: "pin-5", Holes: rapid.IntRange(1, 9).Draw(t, "holes"), Setback: size(30),
			Joint: pick("housing", "butt", "dowel", "loose-tenon", "pocket-screw"),
		}
		for range rapid.IntRange(0, 2).Draw(t, "fixed") {
			o.Shelves.Fixed = append(o.Shelves.Fixed, size(600))
		}
	}
	return o
}

// Whatever decodes either builds or says why not; what builds has sums that
// add up and fronts that fill their openings but for the gap.
func TestAnyInsideBuilds(t *testing.T) {
	p0, s := plain(t)
	shell, _ := demo(t, "record-cabinet")
	builtSome := 0
	rapid.Check(t, func(t *rapid.T) {
		p := p0
		p.Materials = maps.Clone(p.Materials)
		p.Thicknesses = map[string]unit.Length{"case": 19 * mm, "inside": 19 * mm, "shelves": 19 * mm, "bottoms": 6 * mm, "back": 6 * mm}
		if rapid.IntRange(0, 7).Draw(t, "shell") == 0 {
			p.Case = shell.Case
			p.Case.Seams = nil
			p.Case.Shape = rapid.SampledFrom([]string{"closed", "u"}).Draw(t, "shape")
			p.Case.Height = 700 * mm
		} else if rapid.Bool().Draw(t, "solid") {
			p.Materials["case"], p.Materials["inside"] = "white-oak", "white-oak"
		}
		if rapid.Bool().Draw(t, "frame") {
			f := *shell.Frame
			f.Joint = rapid.SampledFrom([]string{"mortise-tenon", "loose-tenon", "dowel", "pocket-screw"}).Draw(t, "joint")
			p.Frame = &f
		}
		if rapid.Bool().Draw(t, "solid fronts") {
			p.Materials["fronts"], p.Materials["packers"], p.Materials["boxes"] = "white-oak", "white-oak", "white-oak"
			p.Materials["bottoms"] = "white-oak"
		}
		if rapid.Bool().Draw(t, "inches") {
			p.Units = unit.Imperial
		}
		p.Case.Joints = map[string]string{"dividers": rapid.SampledFrom([]string{"", "butt", "housing", "dowel", "loose-tenon", "pocket-screw"}).Draw(t, "dividers")}
		p.Inside = filled(t, 2)
		m, err := Make(p, s, record.Record{})
		if err != nil {
			var ps document.Problems
			if !errors.As(err, &ps) || len(ps) == 0 || ps[0].Says == "" {
				t.Fatalf("no sentence: %v", err)
			}
			return
		}
		builtSome++
		checkSums(t, m)
		checkFronts(t, p, m)
		if !slices.ContainsFunc(m.Findings, func(f finding.Finding) bool { return f.Level == finding.Stop }) {
			checkOverlaps(t, m)
		}
		for _, f := range m.Findings {
			if f.Says == "" || strings.Contains(f.Says+f.Advice, "%!") || f.Source == "" && f.Level > finding.Note && strings.HasPrefix(f.ID, "drawer") {
				t.Fatalf("finding %+v", f)
			}
		}
	})
	if builtSome == 0 {
		t.Error("nothing was built")
	}
}

// checkFronts holds each inset front against its opening.
func checkFronts(t interface{ Errorf(string, ...any) }, p piece.Piece, m Model) {
	for _, o := range m.Openings {
		d := drawerAt(p.Inside, o.Path)
		if d == nil || d.Front == "overlaid" {
			continue
		}
		for _, q := range m.Parts {
			if q.Letter != o.Front {
				continue
			}
			if q.Length.Size+2*o.Gap != o.Width.Size || q.Width.Size+2*o.Gap != o.Height.Size {
				t.Errorf("front %v × %v and gaps of %v do not fill %s, %v × %v", q.Length.Size, q.Width.Size, o.Gap, o.Name, o.Width.Size, o.Height.Size)
			}
		}
	}
}

// drawerAt is the drawer at a path such as inside.columns[0].rows[1].
func drawerAt(o piece.Opening, path string) *piece.Drawer {
	for _, step := range strings.Split(path, ".")[1:] {
		var kind string
		var i int
		if _, err := fmt.Sscanf(strings.NewReplacer("[", " ", "]", " ").Replace(step), "%s %d", &kind, &i); err != nil {
			return nil
		}
		if kind == "columns" {
			o = o.Columns[i]
		} else {
			o = o.Rows[i]
		}
	}
	return o.Drawer
}
