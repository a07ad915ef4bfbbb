package papers

import (
	"context"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// A load that the piece states is told alike wherever it stands on the note and
// in the finding of its fixings: 12 kg are 26.46 lb, to a tenth 26.5 (NIST
// SP 811, from memory), where one said 26 and the other 27.
func TestALoadIsTheSameOnTheNoteAndForItsFixings(t *testing.T) {
	p := demo(t, "chest")
	q := p.Piece
	q.Units, q.Base = unit.Imperial, nil
	q.Use.Against, q.Use.LoadKg = "hung", 12
	if q.Customer == nil {
		q.Customer = &piece.Customer{Name: "n"}
	}
	made, err := plan.Make(context.Background(), q, p.Shop, p.Record, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := newSet(made, Options{})
	if err != nil {
		t.Fatal(err)
	}
	says := map[string]string{"note": s.limits()[0], "fixing": strings.Join(s.hanging(), " ")}
	for _, f := range made.Findings {
		if f.ID == "hung-fixings" {
			says["finding"] = f.Says
		}
	}
	if len(says) != 3 {
		t.Fatal(says)
	}
	for where, text := range says {
		if !strings.Contains(text, "26.5 lb (12 kg)") {
			t.Errorf("%s: %s", where, text)
		}
	}
}
