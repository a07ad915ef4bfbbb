package plan_test

import (
	"context"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

var demos = []string{"record-cabinet", "chest", "clinic-cabinet"}

func open(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	read := func(file string) *os.File {
		f, err := os.Open("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, read(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func make1(t testing.TB, p piece.Piece, s shop.Shop, r record.Record, iterations int) plan.Plan {
	t.Helper()
	out, err := plan.Make(context.Background(), p, s, r, plan.Options{Cutting: cutting.Budget{Iterations: iterations}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func panel(t testing.TB, p plan.Plan, key string) yard.Panel {
	t.Helper()
	for _, panel := range p.Panels {
		if panel.Key == key {
			return panel
		}
	}
	t.Fatalf("no layout of %s", key)
	return yard.Panel{}
}

func find(all []finding.Finding, id string) *finding.Finding {
	for i := range all {
		if all[i].ID == id {
			return &all[i]
		}
	}
	return nil
}

func text(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestSameInputSameBytes(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		a, b := make1(t, p, s, record.Record{}, 0), make1(t, p, s, record.Record{}, 0)
		if text(t, a) != text(t, b) {
			t.Errorf("%s: two plans of the same input differ", name)
		}
	}
}

// A change of units changes how sizes are shown, never a part.
func TestUnitsChangeNoPart(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		a := make1(t, p, s, record.Record{}, 0)
		p.Units = p.Units.Other()
		b := make1(t, p, s, record.Record{}, 0)
		bare(a.Model.Parts)
		bare(b.Model.Parts)
		if text(t, a.Model.Parts) != text(t, b.Model.Parts) {
			t.Errorf("%s: the parts differ in %v and %v", name, p.Units.Other(), p.Units)
		}
		if text(t, a.Panels) != text(t, b.Panels) {
			t.Errorf("%s: the layouts differ in %v and %v", name, p.Units.Other(), p.Units)
		}
	}
}

// bare takes the sentences away from parts: they name sizes in the piece's
// units.
func bare(parts []build.Part) {
	for i := range parts {
		p := &parts[i]
		p.Note, p.Oversize.Why = "", ""
		for _, d := range []*build.Dim{&p.Length, &p.Width, &p.Thickness} {
			for k := range d.Why {
				d.Why[k].What = ""
			}
		}
		for k := range p.Features {
			p.Features[k].For = ""
		}
	}
}

// Parts, kerfs, trims and offcuts make up the panel: to the nanometre, where
// 0.1 mm is asked for. The verifier shares no code with the search.
func TestPanelsAddUp(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		out := make1(t, p, s, record.Record{}, 0)
		rows := 0
		for _, q := range out.Setups {
			for _, row := range q.Account {
				rows++
				if d := (row.Sum() - row.Whole).Abs(); d > unit.MM(0.1) {
					t.Errorf("%s: %s: %v of %v is not accounted for", name, row.Of, d, row.Whole)
				}
			}
		}
		if rows == 0 {
			t.Errorf("%s: nothing is accounted for", name)
		}
		for _, panel := range out.Panels {
			if err := verify.Result(panel.Job, panel.Result); err != nil {
				t.Errorf("%s: %s: %v", name, panel.Key, err)
			}
		}
	}
}

// Nothing is forgotten: every panel part stands on a layout, every solid part
// on a board list, every one of them in a setup of its material.
func TestEveryPartIsCut(t *testing.T) {
	for _, name := range demos {
		p, s := open(t, name)
		out := make1(t, p, s, record.Record{}, 0)
		for _, part := range out.Model.Parts {
			want, got := part.Count*p.Count, 0
			for _, panel := range out.Panels {
				if panel.Key != part.Material {
					continue
				}
				for _, l := range panel.Result.Layouts {
					for _, pl := range l.Parts {
						if panel.Letters[pl.Item] == part.Letter {
							got += l.Copies
						}
					}
				}
			}
			if !part.Solid && got != want {
				t.Errorf("%s: %d of part %s on the layouts, %d wanted", name, got, part.Letter, want)
			}
			listed := slices.ContainsFunc(out.Woods, func(w yard.Wood) bool { return slices.Contains(w.Parts, part.Letter) })
			if part.Solid && !listed {
				t.Errorf("%s: part %s is on no board list", name, part.Letter)
			}
		}
	}
}

// The demo pieces' figures that only show in the whole plan. Sources: worked
// by hand from the sizes given, plain arithmetic.
func TestRecordCabinet(t *testing.T) {
	p, s := open(t, "record-cabinet")
	out := make1(t, p, s, record.Record{}, 0)
	oak := panel(t, out, "oak-18")
	if oak.Job.Kerf != unit.MM(2.2) {
		t.Errorf("kerf %v", oak.Job.Kerf)
	}
	// 1838.19 each: half of 3676.37, from the middle of the top to the middle
	// of the bottom; both from one panel.
	first := oak.Result.Layouts[0]
	halves := 0
	for _, pl := range first.Parts {
		if oak.Letters[pl.Item] == "A" {
			halves++
			if d := (pl.W - unit.MM(3676.37/2)).Abs(); d > unit.MM(0.01) {
				t.Errorf("half shell %v long", pl.W)
			}
		}
	}
	if halves != 2 {
		t.Errorf("%d half shells on the first panel, 2 wanted", halves)
	}
	// The shell alone, in plywood of 600 kg/m3: 3676.37 x 420 x 18 -> 16.7 kg.
	oak600 := s.Panels["oak-18"]
	oak600.Density = 600
	s.Panels["oak-18"] = oak600
	shell := out.Model.Parts[0]
	if m := float64(check.PartMass(shell, s)) * float64(shell.Count); m < 16.6 || m > 16.8 {
		t.Errorf("shell %.2f kg, 16.7 wanted", m)
	}
	if out.Worst() == finding.Stop {
		t.Errorf("a good piece is stopped: %+v", out.Findings)
	}
	// A panel 1000 long bought by mistake: each half shell is short by 838.
	short := s.Panels["oak-18"]
	short.Trim = 0
	short.Sheets = []shop.Sheet{{Length: unit.MM(1000), Width: unit.MM(1220)}}
	s.Panels["oak-18"] = short
	bad := make1(t, p, s, record.Record{}, 0)
	f := find(bad.Findings, "panel-short")
	if f == nil || f.Level != finding.Stop || !strings.Contains(f.Says, "short by 838.2 mm") {
		t.Errorf("panel of 1000: %+v", f)
	}
}

// Chest: sides net 8.94 board feet; 16 x 40-1/4 x 4/4, two of them. In scope
// of the clothing rule at 46 in, over 30 lb and about 3.68 ft3.
func TestChest(t *testing.T) {
	p, s := open(t, "chest")
	out := make1(t, p, s, record.Record{}, 0)
	if got := out.Show(out.Model.Outside.Z); got != "46 in" {
		t.Errorf("%s high, 46 in wanted", got)
	}
	f := find(out.Findings, "clothing-storage")
	if f == nil || !strings.Contains(f.Says, "3.68 ft³") {
		t.Errorf("clothing rule: %+v", f)
	}
	if out.Worst() == finding.Stop {
		t.Errorf("a good piece is stopped: %+v", out.Findings)
	}
}

// Clinic cabinets: the sharp-corner sum of 60 in does not come out of 1505 mm,
// the flat length of 58.620 in does; three shells a panel, so 2 panels for 6.
func TestClinicCabinets(t *testing.T) {
	p, s := open(t, "clinic-cabinet")
	out := make1(t, p, s, record.Record{}, 0)
	birch := panel(t, out, "birch-15")
	shells := map[int]int{}
	for i, l := range birch.Result.Layouts {
		for _, pl := range l.Parts {
			if birch.Letters[pl.Item] == "A" {
				shells[i] += l.Copies
				if d := (pl.W - unit.MM(1488.94)).Abs(); d > unit.MM(0.01) {
					t.Errorf("shell %v long flat, 1488.94 wanted", pl.W)
				}
			}
		}
	}
	total := 0
	for i, n := range shells {
		total += n
		if each := n / birch.Result.Layouts[i].Copies; each > 3 {
			t.Errorf("%d shells on one panel: a fourth row is impossible", each)
		}
	}
	if total != 6 {
		t.Errorf("%d shells, 6 wanted", total)
	}
	if out.Worst() == finding.Stop {
		t.Errorf("a good piece is stopped: %+v", out.Findings)
	}
	// The reader's own panel is 14.6 thick: another flat length, the same outside.
	r := record.Record{Thicknesses: map[string][]unit.Length{"birch-15": {unit.MM(14.6)}}}
	thin := make1(t, p, s, r, 0)
	// Only the overlaid door in front of the case makes it shallower, by 0.4.
	want := out.Model.Outside
	want.Y -= unit.MM(0.4)
	if thin.Model.Outside != want {
		t.Errorf("outside %v with 14.6, %v wanted", thin.Model.Outside, want)
	}
	if got := thin.Model.Parts[0].Thickness.Size; got != unit.MM(14.6) {
		t.Errorf("shell of %v, 14.6 was measured", got)
	}
}

// Trips through the scope of the clothing rule. ASTM F2057-23 scope 1.1, seen:
// 26-15/16 in out and 27 in in, 29.9 lb out, 3.19 ft3 out.
func TestClothingScope(t *testing.T) {
	cubicFoot := unit.Volume(0.3048 * 0.3048 * 0.3048)
	for _, c := range []struct {
		height unit.Length
		pounds float64
		feet   float64
		in     bool
	}{
		{unit.In(27), 30, 3.2, true},
		{unit.In(26.9375), 30, 3.2, false},
		{unit.In(27), 29.9, 3.2, false},
		{unit.In(27), 30, 3.19, false},
	} {
		if got := check.InScope(c.height, unit.Mass(c.pounds)*unit.Pound, unit.Volume(c.feet)*cubicFoot); got != c.in {
			t.Errorf("%+v: in scope %t", c, got)
		}
	}
}

// Storage for clothes on casters is told to stand on something else, not to be
// fixed to the wall.
func TestClothesOnCasters(t *testing.T) {
	p, s := open(t, "chest")
	p.Use.For, p.Use.Anchor = "clothing", false
	f := find(make1(t, p, s, record.Record{}, 0).Findings, "clothing-storage")
	if f == nil || !strings.Contains(f.Advice, "fix it to the wall.") {
		t.Fatalf("%+v", f)
	}
	s.Hardware["caster"] = shop.Hardware{Kind: "caster", Height: unit.In(5), Screws: 4, Length: unit.In(2), Width: unit.In(2)}
	p.Base = &piece.Base{Kind: "casters", Height: unit.In(5), Hardware: "caster", InsetX: unit.In(1), InsetY: unit.In(1)}
	f = find(make1(t, p, s, record.Record{}, 0).Findings, "clothing-storage")
	if f == nil || !strings.Contains(f.Advice, "set it on feet, legs or a plinth: on casters it cannot be fixed") {
		t.Errorf("%+v", f)
	}
}

// A part that is cut already is not laid out again.
func TestCutPartsAreKept(t *testing.T) {
	p, s := open(t, "record-cabinet")
	out := make1(t, p, s, record.Record{Cut: []record.Cut{{Part: "A", Count: 2}}}, 0)
	if slices.Contains(panel(t, out, "oak-18").Letters, "A") {
		t.Error("the half shells are laid out although they are cut")
	}
}
