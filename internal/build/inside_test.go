package build

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

// plain is a carcass of 18 mm oak plywood, 836 wide and 736 high outside, so
// that 800 by 700 are clear inside, with every kind of hardware in the shop.
func plain(t testing.TB) (piece.Piece, shop.Shop) {
	p, s := demo(t, "record-cabinet")
	s.Hardware = maps.Clone(s.Hardware)
	s.Hardware["under"] = shop.Hardware{Kind: "under-runner", Lengths: []unit.Length{250 * mm, 300 * mm, 350 * mm}, Inside: 42 * mm, Above: 6 * mm, Below: 14 * mm, Behind: 25 * mm, Recess: 13 * mm}
	s.Hardware["roller"] = shop.Hardware{Kind: "corner-runner", Lengths: []unit.Length{300 * mm, 350 * mm, 400 * mm}, Above: 16 * mm, Below: 2 * mm}
	s.Hardware["wood"] = shop.Hardware{Kind: "wooden-runner"}
	s.Hardware["cup"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Boring: 5 * mm, Fixed: 13 * mm, Setback: 37 * mm}
	s.Hardware["inset-cup"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Boring: 5 * mm, Fixed: -4 * mm, Plate: 3 * mm, Setback: 37 * mm}
	p.Frame, p.Base, p.Inside = nil, nil, piece.Opening{}
	p.Case = piece.Case{Kind: "carcass", Width: 836 * mm, Height: 736 * mm, Depth: 420 * mm, Through: "sides"}
	p.Back = &piece.Back{Fit: "overlaid", SetIn: 4 * mm}
	return p, s
}

func make1(t testing.TB, p piece.Piece, s shop.Shop) Model {
	t.Helper()
	m, err := Make(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// problemAt is the sentence of the problem at a path.
func problemAt(t testing.TB, p piece.Piece, s shop.Shop, path string) string {
	t.Helper()
	_, err := Make(p, s, record.Record{})
	var ps document.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("want a problem at %s, got %v", path, err)
	}
	for _, q := range ps {
		if q.Path == path {
			return q.Says
		}
	}
	t.Fatalf("no problem at %s: %v", path, err)
	return ""
}

func findingOf(m Model, id string) (finding.Finding, bool) {
	for _, f := range m.Findings {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// Derived: sums by hand.
func TestSizesThatDoNotAddUp(t *testing.T) {
	p, s := plain(t)
	p.Case.Width = 1428 * mm // 1392 clear
	c := func(w float64) piece.Opening { return piece.Opening{Width: unit.MM(w)} }
	for _, x := range []struct {
		name   string
		inside piece.Opening
		path   string
		want   []string
	}{
		{
			"too much",
			piece.Opening{Columns: []piece.Opening{c(464), c(450), c(450)}},
			"inside.columns",
			[]string{"3 columns and 2 dividers add up to 1400 mm, the space is 1392 mm; take 8 mm off"},
		},
		{
			"too little",
			piece.Opening{Columns: []piece.Opening{c(464), c(450), c(440)}},
			"inside.columns",
			[]string{"add up to 1390 mm, the space is 1392 mm; add 2 mm"},
		},
		{
			"nothing left",
			piece.Opening{Columns: []piece.Opening{c(900), c(474), {}}},
			"inside.columns",
			[]string{"nothing is left for 1 column without a width"},
		},
		{
			"the other size",
			piece.Opening{Columns: []piece.Opening{{Height: 650 * mm}, {}}},
			"inside.columns[0].height",
			[]string{"a height of 650 mm is asked for, but the space is 700 mm", "50 mm"},
		},
		{
			"both ways",
			piece.Opening{Columns: []piece.Opening{{}, {}}, Rows: []piece.Opening{{}, {}}},
			"inside",
			[]string{"into columns or into rows, not both"},
		},
		{
			"deep down",
			piece.Opening{Columns: []piece.Opening{{}, {Rows: []piece.Opening{{Height: 400 * mm}, {Height: 400 * mm}}}}},
			"inside.columns[1].rows",
			[]string{"2 rows and 1 divider add up to 818 mm, the space is 700 mm; take 118 mm off"},
		},
	} {
		t.Run(x.name, func(t *testing.T) {
			p.Inside = x.inside
			got := problemAt(t, p, s, x.path)
			if !strings.HasPrefix(got, x.path+": ") {
				t.Errorf("%q does not begin with its path", got)
			}
			for _, want := range x.want {
				if !strings.Contains(got, want) {
					t.Errorf("got %q, want %q in it", got, want)
				}
			}
		})
	}
}

func TestNamesOfOpenings(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Columns: []piece.Opening{{Rows: []piece.Opening{{}, {}}}, {}}}
	var got []string
	for _, o := range make1(t, p, s).Openings {
		got = append(got, o.Name+" "+o.Path)
	}
	want := "column 1 row 1 inside.columns[0].rows[0], column 1 row 2 inside.columns[0].rows[1], column 2 inside.columns[1]"
	if g := strings.Join(got, ", "); g != want {
		t.Errorf("got %s", g)
	}
}

// worth is what the terms of a sum come to.
func (d Dim) worth() unit.Length {
	var v unit.Length
	for _, w := range d.Why {
		if w.Over > 0 {
			v /= unit.Length(w.Over)
			continue
		}
		v += unit.Length(w.Times) * w.Each
	}
	return v
}

func checkSums(t interface {
	Errorf(string, ...any)
}, m Model,
) {
	for _, p := range m.Parts {
		for i, d := range []Dim{p.Length, p.Width, p.Thickness} {
			if d.worth() != d.Size {
				t.Errorf("%s size %d is %v, its sum comes to %v", p.Name, i, d.Size, d.worth())
			}
			if d.Size <= 0 {
				t.Errorf("%s size %d is %v", p.Name, i, d.Size)
			}
		}
	}
	for _, o := range m.Openings {
		if o.Width.worth() != o.Width.Size || o.Height.worth() != o.Height.Size {
			t.Errorf("%s: sums do not come to its sizes", o.Name)
		}
	}
}

func TestSumsOfDemos(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		checkSums(t, built(t, name))
	}
}

// A divider that would stand at a bend: the cabinet's bends have R80, so the
// flat of its floor runs from 80; behind the middle of a stile of 24 that
// begins at 70, a panel of 18 stands from 73 to 91.
func TestDividerAtBend(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	p.Frame.Inner = "square"
	p.Inside = piece.Opening{Columns: []piece.Opening{{Width: 40 * mm}, {}}}
	got := problemAt(t, p, s, "inside.columns")
	for _, want := range []string{"at a bend", "from 80 mm", "this lies at 82 mm", "by 7 mm"} {
		if !strings.Contains(got, want) {
			t.Errorf("got %q, want %q in it", got, want)
		}
	}
	p.Inside.Columns[0].Width = 47 * mm
	make1(t, p, s)
}

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

// Under a frame two small drawers over a wide one need a panel between the
// rows for their divider to stand on.
func TestDividerStandsOnDustPanel(t *testing.T) {
	p, s := plain(t)
	p.Frame = &piece.Frame{Thickness: 20 * mm, Stile: 30 * mm, Rail: 20 * mm, Divider: 24 * mm, Joint: "loose-tenon"}
	d := &piece.Drawer{Runner: "side-runner", Gap: 2 * mm}
	p.Inside = piece.Opening{Rows: []piece.Opening{{Height: 150 * mm, Columns: []piece.Opening{{Drawer: d}, {Drawer: d}}}, {Drawer: d}}}
	m := make1(t, p, s)
	dust, div := find(t, m, "dust panel"), find(t, m, "divider")
	// 800 clear and 4.5 let into each side.
	wantSize(t, "dust panel", dust.Length.Size, 809)
	// From the top's inner face at 718 down to the dust panel: its middle lies
	// behind the middle of the rail, 30 + 150 + 10 below the top of 736.
	wantSize(t, "divider", div.Length.Size, 718-(736-190+9)+2*4.5)
	checkOverlaps(t, m)

	no := false
	p.Inside.Panel = &no
	if got := problemAt(t, p, s, "inside.rows[0].columns"); !strings.Contains(got, "nothing to be fixed to at the bottom") {
		t.Errorf("got %q", got)
	}
}

// Overlaid fronts leave the gap between neighbours and 1.5 mm at the edge of
// the case: derived.
func TestOverlaidFronts(t *testing.T) {
	p, s := plain(t)
	d := &piece.Drawer{Runner: "side-runner", Gap: 3 * mm, Front: "overlaid"}
	p.Inside = piece.Opening{Rows: []piece.Opening{{Drawer: d}, {Drawer: d}}}
	m := make1(t, p, s)
	f := find(t, m, "drawer front")
	if f.Count != 2 {
		t.Fatalf("%d fronts share a letter, want 2", f.Count)
	}
	wantSize(t, "front", f.Length.Size, 836-3)
	var z []float64
	for _, at := range f.Places {
		a, b := at.Frame.At(0, 0, 0), at.Frame.At(0, f.Width.Size, 0)
		z = append(z, min(a.Z, b.Z).MM(), max(a.Z, b.Z).MM())
		if y := at.Frame.At(0, 0, f.Thickness.Size).Y; y != -18*mm {
			t.Errorf("its face lies at %v, want 18 before the case", y)
		}
	}
	slices.Sort(z)
	for i, want := range []float64{1.5, (736 - 3) / 2.0, (736 + 3) / 2.0, 734.5} {
		if math.Abs(z[i]-want) > 1e-5 {
			t.Errorf("edges at %v", z)
			break
		}
	}
}

// Openings tile the space: no gaps, no overlaps, but for the less than a
// nanometre that each share is rounded down by.
func TestOpeningsTile(t *testing.T) {
	p, s := plain(t)
	rapid.Check(t, func(t *rapid.T) {
		p, s := p, s
		p.Case.Width = unit.Length(rapid.IntRange(1_000_000_000, 3_000_000_000).Draw(t, "width"))
		p.Case.Height = unit.Length(rapid.IntRange(1_000_000_000, 3_000_000_000).Draw(t, "height"))
		p.Inside = tree(t, 2)
		m, err := Make(p, s, record.Record{})
		if err != nil {
			t.Skip()
		}
		var area float64
		for i, o := range m.Openings {
			area += (o.Width.Size + 18*mm).MM() * (o.Height.Size + 18*mm).MM()
			for _, q := range m.Openings[:i] {
				if o.X < q.X+q.Width.Size && q.X < o.X+o.Width.Size && o.Z < q.Z+q.Height.Size && q.Z < o.Z+o.Height.Size {
					t.Fatalf("%s and %s overlap", o.Name, q.Name)
				}
			}
		}
		// Each opening with half a panel all round it covers the whole.
		want := (p.Case.Width - 18*mm).MM() * (p.Case.Height - 18*mm).MM()
		if d := math.Abs(area - want); d > 0.1 { // mm², some nanometres by metres
			t.Fatalf("openings with their dividers cover %.4f mm², the space is %.4f", area, want)
		}
	})
}

// tree draws an empty tree of openings with shared sizes.
func tree(t *rapid.T, depth int) piece.Opening {
	var o piece.Opening
	if depth == 0 {
		return o
	}
	n := rapid.IntRange(0, 4).Draw(t, "parts")
	if n < 2 {
		return o
	}
	parts := make([]piece.Opening, n)
	for i := range parts {
		parts[i] = tree(t, depth-1)
	}
	if rapid.Bool().Draw(t, "columns") {
		if rapid.Bool().Draw(t, "given") {
			parts[0].Width = unit.Length(rapid.IntRange(60_000_000, 120_000_000).Draw(t, "size"))
		}
		o.Columns = parts
	} else {
		if rapid.Bool().Draw(t, "given") {
			parts[0].Height = unit.Length(rapid.IntRange(60_000_000, 120_000_000).Draw(t, "size"))
		}
		o.Rows = parts
	}
	return o
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

// A shelf that ends at an open side is held at one end only, and a space above
// a rail alone has no floor; both are said, and only then.
func TestWhatIsNotHeld(t *testing.T) {
	const head = `
format: 1
name: one
units: mm
materials: {case: ply-18, inside: ply-18, shelves: ply-18, back: ply-6, frame: oak}
`
	for body, want := range map[string]string{
		"case: {kind: shell, shape: u, open: left, width: 500, height: 500, depth: 300, radius: 60, skin: 1.5 mm, form: yes}\ninside: {rows: [{}, {}]}": "held-at-one-end",
		"case: {kind: shell, shape: l, width: 500, height: 500, depth: 300, radius: 60, skin: 1.5 mm, form: yes}\ninside: {shelves: {fixed: [200]}}":    "held-at-one-end",
		"case: {kind: carcass, width: 500, height: 500, depth: 300}\ninside: {rows: [{}, {shelves: {fixed: [100]}}]}":                                   "",
		"case: {kind: carcass, width: 500, height: 500, depth: 300}\nframe: {thickness: 20, stile: 40}\ninside: {rows: [{}, {}]}":                       "no-floor",
		"case: {kind: carcass, width: 500, height: 500, depth: 300}\nframe: {thickness: 20, stile: 40}\ninside: {panel: true, rows: [{}, {}]}":          "",
	} {
		m := must(t, decoded(t, head+body))
		got := ""
		for _, f := range m.Findings {
			if f.ID == "held-at-one-end" || f.ID == "no-floor" {
				got += f.ID
			}
		}
		if got != want {
			t.Errorf("%s: found %q, want %q", body, got, want)
		}
	}
}
