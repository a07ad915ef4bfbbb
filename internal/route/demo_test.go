package route_test

import (
	"context"
	"os"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
)

var demos = []string{"record-cabinet", "chest", "clinic-cabinet"}

// input is what the route of a demo piece follows from.
func input(t testing.TB, name string, change func(*piece.Piece, *shop.Shop, *record.Record)) route.Input {
	t.Helper()
	open := func(file string) *os.File {
		f, err := os.Open("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, open(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, open(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var r record.Record
	if change != nil {
		change(&p, &s, &r)
	}
	made, err := plan.Make(context.Background(), p, s, r, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return route.Input{
		Piece: p, Shop: s, Record: r, Model: made.Model, Panels: made.Panels, Woods: made.Woods, Setups: made.Setups, Show: made.Show,
	}
}
