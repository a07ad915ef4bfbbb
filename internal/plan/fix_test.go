package plan_test

import (
	"bytes"
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// set is a field and what is written there.
type set [2]string

// faults are demos with something in them that one certain change mends.
var faults = []struct {
	id    string
	demo  string
	piece []set
	shop  []set
}{
	{"frame-covers", "chest", []set{{"frame.stile", "5/8"}}, nil},
	{"plate-on-bend", "record-cabinet", []set{{"base.inset-side", "60"}}, nil},
	{"plate-near-edge", "record-cabinet", []set{{"base.inset-front", "12"}}, nil},
	{"leg-bends", "record-cabinet", []set{{"base.thick", "18"}}, nil},
	{"base-height", "clinic-cabinet", []set{{"base.height", "4"}}, nil},
	{"drawer-side", "chest", []set{{"inside.rows[0].drawer.side", "3/4"}}, nil},
	{"runner-too-long", "record-cabinet", []set{{"case.depth", "300"}}, []set{{"hardware.side-runner.lengths", "[350]"}}},
	{"box-too-high", "record-cabinet", []set{{"inside.columns[0].rows[0].drawer.box-height", "160"}}, nil},
	{"box-swells", "chest", []set{{"inside.rows[4].drawer.box-height", "8-3/8"}}, []set{{"hardware.under-runner.above", "0"}}},
	{"box-corner", "record-cabinet", []set{{"inside.columns[0].rows[0].drawer.box-height", "152"}}, nil},
	{"front-swells", "chest", []set{{"inside.rows[4].drawer.gap", "1/32"}}, nil},
	{"door-swells", "clinic-cabinet", []set{{"materials.doors", "cherry"}, {"thicknesses.doors", "3/4"}, {"inside.door", "{hinge: cup-hinge, front: inset, gap: 0.5 mm}"}}, []set{{"woods.cherry", "{species: black-cherry, price: 9.80, per: board-foot}"}, {"hardware.cup-hinge.fixed", "-9.5 mm"}}},
	{"cup-depth", "clinic-cabinet", []set{{"materials.doors", "cherry"}, {"inside.door.thickness", "1/2"}}, []set{{"woods.cherry", "{species: black-cherry, price: 9.80, per: board-foot}"}}},
	{"thin-door", "clinic-cabinet", []set{{"materials.doors", "cherry"}, {"thicknesses.doors", "1/4"}}, []set{{"woods.cherry", "{species: black-cherry, price: 9.80, per: board-foot}"}}},
	{"hinge-overlay", "clinic-cabinet", []set{{"inside.door.overlay", "5 mm"}}, nil},
	{"top-glued", "chest", []set{{"case.top.held", "glue"}}, nil},
	{"top-overhangs", "chest", []set{{"case.top.front", "15"}}, nil},
	{"bend-closes-short", "record-cabinet", []set{{"case.kerfs", "10"}}, nil},
	{"drawer-stays-in", "record-cabinet", []set{{"case.depth", "500"}, {"inside.columns[0].rows[0].drawer.box-depth", "440"}}, nil},
	{"shelf-sags", "record-cabinet", []set{{"materials.shelves", "white-oak"}, {"thicknesses.shelves", "6"}}, nil},
	{"rail-sags", "record-cabinet", []set{{"frame.rail", "4"}, {"inside.columns[0].rows[0].drawer.runner", "slip"}}, []set{{"hardware.slip", "{kind: wooden-runner}"}}},
	{"worked-too-deep", "clinic-cabinet", []set{{"back.depth", "9 mm"}}, nil},
	{"price-told", "record-cabinet", []set{{"customer.price-told", "4500"}}, nil},
	{"late", "record-cabinet", []set{{"deliver-by", "2027-03-08"}}, nil},
}

// Advice that can be put in with one press does what it says: written into the
// document as it stands and planned again, the finding is gone and nothing is
// stopped that was not stopped before.
func TestFixesMend(t *testing.T) {
	kinds := map[string]bool{}
	for _, c := range faults {
		p, s := source(t, c.demo+".yaml"), source(t, c.demo+".shop.yaml")
		p, s = write(t, p, piece.Doc, piece.Piece{}, c.piece), write(t, s, shop.Doc, shop.Shop{}, c.shop)
		before, err := planOf(p, s)
		if err != nil {
			t.Errorf("%s: %v", c.id, err)
			continue
		}
		i := slices.IndexFunc(before.Findings, func(f finding.Finding) bool { return f.ID == c.id && f.Fix != nil })
		if i < 0 {
			var ids []string
			for _, f := range before.Findings {
				ids = append(ids, f.ID)
			}
			t.Errorf("%s: not found, or without a fix, among %q", c.id, ids)
			continue
		}
		f := before.Findings[i]
		kinds[f.ID] = true
		if f.Path == "" || f.Fix.Says == "" {
			t.Errorf("%s: path %q, fix %q", c.id, f.Path, f.Fix.Says)
		}
		mended(t, f, before, p, s)
	}
	if len(kinds) < 10 {
		t.Errorf("%d kinds of fixes, at least ten are wanted", len(kinds))
	}
}

func mended(t *testing.T, f finding.Finding, before plan.Plan, p, s []byte) {
	t.Helper()
	var changes []document.Change
	for _, c := range f.Fix.Changes {
		changes = append(changes, document.Change{Path: c.Path, Do: c.Do, Value: c.Value})
	}
	now, err := document.Edit("piece", piece.Doc, piece.Piece{}, p, changes)
	if err != nil {
		t.Errorf("%s: %v", f.ID, err)
		return
	}
	after, err := planOf(now, s)
	if err != nil {
		t.Errorf("%s: after %q: %v", f.ID, f.Fix.Says, err)
		return
	}
	stops := func(p plan.Plan) (n int) {
		for _, f := range p.Findings {
			if f.Level == finding.Stop {
				n++
			}
		}
		return
	}
	for _, g := range after.Findings {
		if g.ID == f.ID && g.Place == f.Place {
			t.Errorf("%s: %s\nafter %q it still says: %s", f.ID, f.Says, f.Fix.Says, g.Says)
		}
	}
	if stops(after) > stops(before) {
		t.Errorf("%s: %q stops what went before: %+v", f.ID, f.Fix.Says, after.Findings[0])
	}
}

// Findings of the demos point to fields that are there.
func TestFindingsPointToFields(t *testing.T) {
	for _, name := range demos {
		out := variant(t, name)
		with := 0
		p, s := source(t, name+".yaml"), source(t, name+".shop.yaml")
		for _, f := range out.Findings {
			if f.Path == "" {
				continue
			}
			with++
			doc, proto, src := piece.Doc, any(piece.Piece{}), p
			switch f.Doc {
			case "shop":
				doc, proto, src = shop.Doc, shop.Shop{}, s
			case "record":
				doc, proto, src = record.Doc, record.Record{}, []byte("format: 1\nunits: mm\n")
			}
			_, err := document.Edit(name, doc, proto, src, []document.Change{{Path: f.Path, Do: "set", Value: "{}"}})
			if err != nil && strings.Contains(err.Error(), "no field") {
				t.Errorf("%s: %s points to %s: %v", name, f.ID, f.Path, err)
			}
		}
		if with*2 < len(out.Findings) {
			t.Errorf("%s: only %d of %d findings have a path", name, with, len(out.Findings))
		}
	}
}

func source(t *testing.T, file string) []byte {
	b, err := os.ReadFile("../../demo/" + file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func write(t *testing.T, text []byte, doc document.Type, proto any, sets []set) []byte {
	for _, c := range sets {
		out, err := document.Edit("demo", doc, proto, text, []document.Change{{Path: c[0], Do: "set", Value: c[1]}})
		if err != nil {
			t.Fatalf("%s: %v", c[0], err)
		}
		text = out
	}
	return text
}

func planOf(p, s []byte) (plan.Plan, error) {
	pc, err := piece.Decode("piece", bytes.NewReader(p))
	if err != nil {
		return plan.Plan{}, err
	}
	sh, err := shop.Decode("shop", bytes.NewReader(s))
	if err != nil {
		return plan.Plan{}, err
	}
	return plan.Make(context.Background(), pc, sh, record.Record{}, plan.Options{Cutting: cutting.Budget{Iterations: 5}})
}
