package build

import (
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/piece"
)

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

// A divider that stands under the stretchers of a top that lies on the case is
// screwed to both of them, from above: housed below only, it would be loose.
func TestDividerUnderStretchers(t *testing.T) {
	text := `
format: 1
name: low chest
units: mm
materials: {case: ply-18, inside: ply-18, top: ply-18}
case: {kind: carcass, width: 900, height: 600, depth: 400, joints: {top: dowel, bottom: housing}TOP}
inside: {columns: [{}, {}]}
`
	for top, want := range map[string]int{"": 0, ", top: {held: glue}": 2} {
		m, err := quick(decoded(t, strings.Replace(text, "TOP", top, 1)))
		if err != nil {
			t.Fatal(err)
		}
		divider, n := find(t, m, "divider"), 0
		for _, j := range m.Joints {
			if j.Kind == "screwed" && j.B == divider.Letter {
				n += partByLetter(t, m, j.A).Count
			}
		}
		screws := 0
		for _, u := range m.Screws {
			if u.Where == "stretchers to dividers" {
				screws = u.Count
			}
		}
		holes, mid := 0, m.Outside.X/2
		for _, p := range m.Parts {
			for _, h := range p.Features {
				if h.For != "screw into the divider" {
					continue
				}
				holes += p.Count
				c := h.Region.Bounds()
				at := p.Places[0].Frame.At((c.Min.X+c.Max.X)/2, (c.Min.Y+c.Max.Y)/2, 0)
				lo, hi := divider.Places[0].Frame.At(0, 0, 0).Y, divider.Places[0].Frame.At(0, divider.Width.Size, 0).Y
				if at.X != mid || at.Y < min(lo, hi)+10*mm || at.Y > max(lo, hi)-10*mm || c.Max.X-c.Min.X < 4*mm {
					t.Errorf("%q: a hole of %s at %v, the divider from %s to %s under %s", top, c.Max.X-c.Min.X, at, lo, hi, mid)
				}
			}
		}
		if holes != 2*want {
			t.Errorf("%q: %d holes on the map for %d screws", top, holes, 2*want)
		}
		if n != want || screws != 2*want {
			t.Errorf("%q: %d stretchers hold the divider with %d screws", top, n, screws)
		}
	}
}

func partByLetter(t *testing.T, m Model, letter string) Part {
	for _, p := range m.Parts {
		if p.Letter == letter {
			return p
		}
	}
	t.Fatalf("no part %s", letter)
	return Part{}
}
