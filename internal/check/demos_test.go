package check_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func demo(t testing.TB, name string) (piece.Piece, shop.Shop) {
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

func planned(t testing.TB, p piece.Piece, s shop.Shop, r record.Record) plan.Plan {
	t.Helper()
	out, err := plan.Make(context.Background(), p, s, r, plan.Options{Cutting: cutting.Budget{Iterations: 50}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// What must be said of the demo pieces, with its figures, worked by hand; and
// that nothing stops them.
func TestDemos(t *testing.T) {
	for _, c := range []struct {
		name  string
		wants []finding.Finding // ID, Level, and a part of Says, Figure or Advice
	}{
		{"record-cabinet", []finding.Finding{
			{ID: "bend-marginal", Level: finding.Care},
			{ID: "clamp-reach", Figure: "210 mm"},
			{ID: "lifting", Level: finding.Note},
			{ID: "in-use-anchor", Advice: "anchor"},
		}},
		{"chest", []finding.Finding{
			{ID: "front-swells", Level: finding.Care, Figure: "0.1062 in", Limit: "0.0938 in"},
			{ID: "moves", Figure: "0.198 in", Advice: "float"},
			{ID: "moves", Figure: "0.223 in", Advice: "buttons"},
			{ID: "clothing-storage", Level: finding.Care, Says: "3.68 ft³", Advice: "interlock"},
			{ID: "clothing-storage", Level: finding.Care, Says: "Estimate only", Advice: "label"},
			{ID: "tips-child", Level: finding.Care, Says: "all drawers open, raised behind by 0.43 in", Advice: "Estimate only"},
		}},
		{"clinic-cabinet", []finding.Finding{
			{ID: "casters", Figure: "kg", Limit: "40 kg"},
			{ID: "in-use-casters", Advice: "Lock"},
		}},
	} {
		p, s := demo(t, c.name)
		got := planned(t, p, s, record.Record{}).Findings
		for _, f := range got {
			if f.Level == finding.Stop {
				t.Errorf("%s: a false stop: %+v", c.name, f)
			}
		}
		for _, w := range c.wants {
			if !says(got, w) {
				t.Errorf("%s: nothing like %+v among its findings", c.name, w)
			}
		}
		for _, f := range got {
			if text := f.Says + f.Advice; strings.Contains(text, "complies") || strings.Contains(text, "is safe") {
				t.Errorf("%s: %s promises: %s", c.name, f.ID, text)
			}
			if f.Source == "" && f.Level > finding.Note {
				t.Errorf("%s: %s has no source", c.name, f.ID)
			}
		}
	}
	// No clothing in the clinic cabinet, and under 27 in.
	p, s := demo(t, "clinic-cabinet")
	if says(planned(t, p, s, record.Record{}).Findings, finding.Finding{ID: "clothing-storage"}) {
		t.Error("the clinic cabinet is taken for clothing storage")
	}
}

// says that one of the findings has the ID, at least the level, and the texts.
func says(all []finding.Finding, w finding.Finding) bool {
	for _, f := range all {
		if f.ID == w.ID && f.Level >= w.Level && strings.Contains(f.Says, w.Says) && strings.Contains(f.Figure, w.Figure) &&
			strings.Contains(f.Limit, w.Limit) && strings.Contains(f.Advice, w.Advice) {
			return true
		}
	}
	return false
}

// A panel of 1000 × 1220 bought by mistake: trimmed 10 mm all round, it is
// short by 1,838.19 − 980 for each half shell.
func TestPanelBoughtTooShort(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	oak := s.Panels["oak-18"]
	oak.Sheets = []shop.Sheet{{Length: unit.Metre, Width: unit.MM(1220)}}
	s.Panels["oak-18"] = oak
	got := planned(t, p, s, record.Record{}).Findings
	if !says(got, finding.Finding{ID: "panel-short", Level: finding.Stop, Says: "858.2 mm"}) {
		t.Errorf("nothing says that the half shells are short by 858.2 mm: %+v", got[:min(4, len(got))])
	}
}

// Two test bends that disagree are told by how much each is off the plan, which
// goes by both: 80° by 10 kerfs are 8.00° each. One alone is what the plan goes
// by.
func TestBendDiffers(t *testing.T) {
	p, s := demo(t, "record-cabinet")
	strip := record.TestBend{Panel: "oak-18", Saw: "track", Skin: unit.MM(2), Kerfs: 10, Angle: unit.Deg(80)}
	r := record.Record{TestBends: []record.TestBend{strip}}
	if says(planned(t, p, s, r).Findings, finding.Finding{ID: "test-bend-differs"}) {
		t.Error("one test bend is said to differ from the plan that goes by it")
	}
	strip.Angle = unit.Deg(75)
	r.TestBends = append(r.TestBends, strip)
	got := planned(t, p, s, r).Findings
	if !says(got, finding.Finding{ID: "test-bend-differs", Level: finding.Care, Says: "8.00° a kerf", Advice: "11.25 kerfs"}) {
		t.Error("nothing says that the test bend differs")
	}
}
