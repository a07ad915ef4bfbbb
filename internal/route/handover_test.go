package route_test

import (
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/route"
)

// The last step speaks of a restraint only where one is bought, and of hanging
// only where the piece hangs and nobody else does it.
func TestHandOver(t *testing.T) {
	maker, other := &piece.Customer{FixedBy: "maker"}, &piece.Customer{FixedBy: "customer"}
	for _, c := range []struct {
		use         piece.Use
		by          *piece.Customer
		says, never string
	}{
		{piece.Use{For: "media", Against: "wall"}, other, "Deliver with the delivery note.", "restraint"},
		{piece.Use{For: "media", Against: "wall", Anchor: true}, other, "the restraint and its instruction", "hang"},
		{piece.Use{For: "media", Against: "wall"}, maker, "the restraint and its instruction", "hang"},
		{piece.Use{For: "media", Against: "hung"}, maker, "Hang it: look for wires", "restraint"},
		{piece.Use{For: "media", Against: "hung"}, nil, "Hang it: look for wires", "restraint"},
		{piece.Use{For: "media", Against: "hung"}, other, "The customer hangs it", "Hang it"},
	} {
		in := variants(t)["record-cabinet"]
		in.Piece.Use, in.Piece.Customer = c.use, c.by
		steps := route.Make(in).Steps
		last := steps[len(steps)-1]
		if !strings.Contains(last.What, c.says) || strings.Contains(last.What, c.never) || strings.Contains(last.Check, "door") {
			t.Errorf("%+v: %s %s", c.use, last.What, last.Check)
		}
	}
}
