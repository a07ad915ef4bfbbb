package build

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// bent is a shell of 18 mm panel and nothing else.
func bent(shape string, w, h, r float64, skin float64) piece.Piece {
	return piece.Piece{
		Name: "shell", Count: 1, Materials: map[string]string{"case": "ply-18", "back": "ply-6", "strip": "oak"},
		Case: piece.Case{Kind: "shell", Shape: shape, Width: unit.MM(w), Height: unit.MM(h), Depth: unit.MM(400), Radius: unit.MM(r), Skin: unit.MM(skin)},
	}
}

func must(t testing.TB, p piece.Piece) Model {
	t.Helper()
	m, err := quick(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// total is the length of all parts of a shell laid out flat.
func total(m Model) unit.Length {
	var sum unit.Length
	for _, p := range m.Parts {
		if p.Role == RoleShell {
			sum += unit.Length(p.Count) * p.Length.Size
		}
	}
	return sum
}

// The neutral line of a bend of outside radius R lies half the skin under the
// face: plain geometry. The figures were worked by hand.
func TestFlatLengths(t *testing.T) {
	for _, c := range []struct {
		name string
		p    piece.Piece
		want float64
	}{
		{"600 and 450 with one R75, skin 2", corner(bent("l", 600, 450, 75, 2)), 1016.24},
		{"closed 1500 by 410, R80, skin 2", bent("closed", 1500, 410, 80, 2), 3676.37},
		// Both legs 400, the top 900, R60, the neutral line 0.7 under the face.
		{"U of 400, 900 and 400, R60, skin 1.4", bent("u", 900, 400, 60, 1.4), 1646.30},
	} {
		p := c.p
		if c.name[0] == 'U' {
			off := false
			p.Back = &piece.Back{Fit: "overlaid", Bottom: &off}
		}
		m := must(t, p)
		wantSize(t, c.name, total(m), c.want)
	}
}

func corner(p piece.Piece) piece.Piece { p.Case.Corner = "bottom-left"; return p }

// Kerfs on the outside: a skin of 1.2 and a face of radius 101.26 have their
// neutral line at 101.86 (worked example, derived).
func TestFreeProfile(t *testing.T) {
	p := bent("free", 0, 0, 0, 1.2)
	p.Case.Profile = []piece.Leg{
		{Flat: 300 * unit.Millimetre},
		{Bend: unit.Deg(90), Radius: unit.MM(120)},
		{Flat: 200 * unit.Millimetre},
		{Bend: unit.Deg(-90), Radius: unit.MM(101.26)},
		{Flat: 250 * unit.Millimetre},
	}
	m := must(t, p)
	shell := find(t, m, "shell")
	wantSize(t, "flat length", shell.Length.Size, 300+200+250+math.Pi/2*(120-0.6)+math.Pi/2*(101.26+0.6))
	wantSize(t, "width over all", m.Outside.X, 300+120+101.26+250)
	wantSize(t, "height over all", m.Outside.Z, 120+200+101.26+18)
	if k := shell.Kerfs[1]; k.Face != FaceReference || !m.Bends[k.Bend].Spec.Outside {
		t.Errorf("the second bend is cut on the %s, outside %v; want the hidden face, which is its outside", k.Face, m.Bends[k.Bend].Spec.Outside)
	}
	// Cut into the show face instead, its radius is given at the other one.
	p.Case.Profile[3].Kerfs = "inside"
	m = must(t, p)
	shell = find(t, m, "shell")
	if k := shell.Kerfs[1]; k.Face != FaceOther {
		t.Errorf("kerfs inside a bend to the right are cut on the %s, want the show face", k.Face)
	}
	wantSize(t, "height over all", m.Outside.Z, 120+200+101.26)
}

// TestProfileIsTheCase: the bent parts, stood in their places, go exactly
// round the outside sizes, whatever the seams.
func TestProfileIsTheCase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := bent("closed", float64(rapid.IntRange(500, 1500).Draw(t, "width")), float64(rapid.IntRange(400, 900).Draw(t, "height")), float64(rapid.IntRange(50, 150).Draw(t, "radius")), 1.5)
		for _, at := range []string{"bottom", "top", "left"} {
			if rapid.Bool().Draw(t, at) {
				p.Case.Seams = append(p.Case.Seams, piece.Seam{At: at, Offset: unit.Length(rapid.IntRange(-20, 20).Draw(t, "offset")) * unit.Millimetre, Joint: "butt", Held: "glue"})
			}
		}
		m, err := quick(p)
		if err != nil {
			t.Fatal(err)
		}
		r := p.Case.Radius.MM()
		flat := 2*(p.Case.Width.MM()+p.Case.Height.MM()) - 8*r
		var round float64
		for _, x := range m.Bends {
			round = x.Design.Result.NeutralRadius.MM() * 2 * math.Pi
		}
		if got := total(m).MM(); math.Abs(got-flat-round) > 1e-4 {
			t.Errorf("the parts are %.4f mm together, the neutral line %.4f", got, flat+round)
		}
		b := geom.Bounds3{Min: geom.Vec{X: unit.MaxLength}}
		for _, part := range m.Parts {
			for _, at := range part.Places {
				if part.Bent == nil {
					continue
				}
				for _, v := range part.Bent.Profile.Flatten(unit.Millimetre / 100) {
					s := at.Frame.At(v.X, v.Y, 0)
					if b.Min.X == unit.MaxLength {
						b = geom.BoundsOf(s)
					}
					b = b.Union(geom.BoundsOf(s))
				}
			}
		}
		const slack = unit.Micrometre
		if s := b.Size(); (s.X-p.Case.Width).Abs() > slack || (s.Z-p.Case.Height).Abs() > slack || b.Min.X.Abs() > slack || b.Min.Z.Abs() > slack {
			t.Errorf("bent, the shell goes round %v to %v", b.Min, b.Max)
		}
	})
}

// TestSeams: what each joint takes from the length or adds to it.
func TestSeams(t *testing.T) {
	const whole = 3676.371
	seam := func(joint string) Model {
		p := bent("closed", 1500, 410, 80, 2)
		p.Case.Seams = []piece.Seam{
			{At: "bottom", Joint: joint, Strip: 40 * unit.Millimetre, Held: "loose-tenon", Slope: 8},
			{At: "top", Joint: joint, Strip: 40 * unit.Millimetre, Held: "loose-tenon", Slope: 8},
		}
		return must(t, p)
	}
	wantSize(t, "butted", total(seam("butt")), whole)
	wantSize(t, "scarfed at 1 in 8", total(seam("scarf")), whole+2*8*18)
	m := seam("strip")
	wantSize(t, "with strips of 40 let in", total(m), whole-80)
	strip := find(t, m, "let-in strip")
	if strip.Count != 2 || strip.Material != "oak" {
		t.Errorf("%d strips of %s, want 2 of oak", strip.Count, strip.Material)
	}
	wantSize(t, "strip", strip.Width.Size, 40)
	wantSize(t, "strip as thick as the shell", strip.Thickness.Size, 18)
	shell := find(t, m, "shell")
	for _, f := range shell.Features {
		if f.Kind == Mortise && f.On == "" {
			t.Errorf("a mortise for the strip is on the %s, not in the end", f.Face)
		}
	}
	if n, opposite := tally(shell.Features, Mortise), tally(strip.Features, Mortise); n != opposite || n == 0 {
		t.Errorf("%d mortises in the ends of a half shell, %d in the edges of a strip", n, opposite)
	}
}

func tally(fs []Feature, k FeatureKind) int {
	n := 0
	for _, f := range fs {
		if f.Kind == k {
			n++
		}
	}
	return n
}

// TestSeamsPlaced: without seams given, as many as the sheet asks for, the
// bottom first; and a word where those given are too few.
func TestSeamsPlaced(t *testing.T) {
	for _, c := range []struct {
		w, h  float64
		parts int
	}{{600, 400, 1}, {1500, 410, 2}, {2300, 1500, 4}} {
		m := must(t, bent("closed", c.w, c.h, 80, 2))
		n := 0
		for _, p := range m.Parts {
			if p.Role == RoleShell {
				n += p.Count
				at := p.Places[0].Frame.Origin
				if n == p.Count && at.X.MM() != c.w/2 {
					t.Errorf("%v by %v: the first seam is at %v, want the middle of the bottom", c.w, c.h, at)
				}
				if p.Length.Size > 2420*unit.Millimetre {
					t.Errorf("%v by %v: a part of %s, the sheet gives 2420", c.w, c.h, p.Length.Size)
				}
			}
		}
		if n != c.parts {
			t.Errorf("%v by %v: %d parts, want %d", c.w, c.h, n, c.parts)
		}
	}
	p := bent("closed", 1500, 410, 80, 2)
	p.Case.Seams = []piece.Seam{{At: "bottom"}}
	i := slices.IndexFunc(must(t, p).Findings, func(f finding.Finding) bool { return f.ID == "shell-seam" })
	if i < 0 {
		t.Error("one seam in 3676 mm, and nothing said of the sheet of 2420")
	}
}

// TestRadiiTooLarge: a sentence with the numbers and the remedy.
func TestRadiiTooLarge(t *testing.T) {
	_, err := quick(bent("closed", 500, 150, 80, 2))
	if err == nil || !strings.Contains(err.Error(), "80 mm and 80 mm") || !strings.Contains(err.Error(), "10 mm") {
		t.Errorf("two radii of 80 in a height of 150: %v", err)
	}
}

// TestTestBend: a coupon that turned 106.2 degrees over 10 kerfs of 3.22 mm in
// 18.05 mm of panel puts the neutral line 0.678 mm down (worked example,
// derived), and the flat length follows.
func TestTestBend(t *testing.T) {
	p, s := bent("closed", 600, 400, 100, 1.4), workshop()
	panel := s.Panels["ply-18"]
	panel.Thickness = unit.MM(18.05)
	s.Panels["ply-18"] = panel
	p.Case.Saw = "table"
	r := record.Record{TestBends: []record.TestBend{{
		Panel: "ply-18", Saw: "table", Skin: unit.MM(1.4), Kerfs: 10, Angle: unit.Deg(106.2), Kerf: unit.MM(3.22), Thickness: unit.MM(18.05),
	}}}
	m, err := (&builder{piece: p, shop: s, record: r, draws: 50}).make()
	if err != nil {
		t.Fatal(err)
	}
	want := 2*(600+400) - 8*100 + 2*math.Pi*(100-0.678)
	if got := total(m).MM(); math.Abs(got-want) > 0.01 {
		t.Errorf("flat length %.3f, want %.3f", got, want)
	}
}

// TestMeasuredThickness: the mean of what was measured replaces the shop's.
func TestMeasuredThickness(t *testing.T) {
	r := record.Record{Thicknesses: map[string][]unit.Length{"ply-18": {unit.MM(17.8), unit.MM(18.0), unit.MM(17.6)}}}
	m, err := (&builder{piece: bent("closed", 600, 400, 100, 2), shop: workshop(), record: r, draws: 50}).make()
	if err != nil {
		t.Fatal(err)
	}
	wantSize(t, "thickness", find(t, m, "shell").Thickness.Size, 17.8)
}

// Flats and bends are called what they are, once.
func TestRunsAreNamedOnce(t *testing.T) {
	for want, r := range map[string]run{
		"bottom right bend": {name: "bottom right", angle: 1}, "bend 2": {name: "bend 2", angle: 1},
		"top flat": {name: "top"}, "flat 1": {name: "flat 1"},
	} {
		if got := r.called(); got != want {
			t.Errorf("%q is called %q, want %q", r.name, got, want)
		}
	}
}
