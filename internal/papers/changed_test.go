package papers

import (
	"bytes"
	"context"
	"slices"
	"testing"

	"casewright/internal/plan"
	"casewright/internal/render/pdf"
	"casewright/internal/unit"
)

// A paper is told as changed when, and only when, its printed bytes differ
// under the same revision. The edits are such as leave the number of pages
// alone, so that no "page 3 of 20" differs for its own sake.
func TestChangedAreTheBytes(t *testing.T) {
	before := demo(t, "record-cabinet")
	for what, edit := range map[string]func(*plan.Plan){
		"nothing":       func(*plan.Plan) {},
		"a price":       func(p *plan.Plan) { p.Piece.Customer.Packing += 100 },
		"the first day": func(p *plan.Plan) { p.Piece.Start = "2027-04-05" },
		"its name":      func(p *plan.Plan) { p.Piece.Name = "Low record case" },
		"a little":      func(p *plan.Plan) { p.Piece.Case.Depth += unit.MM(1) },
	} {
		after := before
		customer := *before.Piece.Customer
		after.Piece.Customer = &customer
		edit(&after)
		after, err := plan.Make(context.Background(), after.Piece, after.Shop, after.Record, plan.Options{})
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		after.Revision = before.Revision
		told, err := Changed(before, after, Options{})
		if err != nil {
			t.Fatal(err)
		}
		old, now := paperBytes(t, before), paperBytes(t, after)
		if len(old) != len(now) {
			t.Fatalf("%s: %d papers, then %d; choose an edit that keeps them", what, len(old), len(now))
		}
		differ := 0
		for name, text := range now {
			if same := bytes.Equal(old[name], text); same == slices.Contains(told, name) {
				t.Errorf("%s: %s: bytes alike %t, told as changed %t", what, name, same, !same)
			} else if !same {
				differ++
			}
		}
		if differ != len(told) || (what == "nothing") != (differ == 0) {
			t.Errorf("%s: %d papers differ, %d are told: %q", what, differ, len(told), told)
		}
	}
}

func paperBytes(t *testing.T, p plan.Plan) map[string][]byte {
	all, err := Set(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, paper := range all {
		var b bytes.Buffer
		if err := pdf.Write(&b, paper.Sheets, pdf.Info{}); err != nil {
			t.Fatal(err)
		}
		name := paper.Place.title() + ": " + paper.Name
		out[name] = append(out[name], b.Bytes()...)
	}
	return out
}

// Papers that come and go are told.
func TestChangedComeAndGo(t *testing.T) {
	before := demo(t, "record-cabinet")
	after := before
	after.Piece.Customer = nil
	after, err := plan.Make(context.Background(), after.Piece, after.Shop, after.Record, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]plan.Plan{{before, after}, {after, before}} {
		told, err := Changed(pair[0], pair[1], Options{})
		if err != nil || !slices.Contains(told, "Desk: quote") {
			t.Errorf("%q, %v", told, err)
		}
	}
	if _, err := Changed(before, after, Options{Paper: "a9"}); err == nil {
		t.Error("a9 is taken for a paper")
	}
}
