package document_test

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// TestKeysMeet: every key that the demos and the starting pieces name is in
// the shop beside them, so that the first plan is not a list of slips.
func TestKeysMeet(t *testing.T) {
	pair := func(name string, pieceText, shopText []byte) {
		p, err := piece.Decode(name, bytes.NewReader(pieceText))
		if err != nil {
			t.Error(err)
		}
		s, err := shop.Decode(name, bytes.NewReader(shopText))
		if err != nil {
			t.Error(err)
		}
		for _, missing := range strangers(p, s) {
			t.Errorf("%s: the shop has no %s", name, missing)
		}
	}
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, err := os.ReadFile("../../demo/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		s, err := os.ReadFile("../../demo/" + name + ".shop.yaml")
		if err != nil {
			t.Fatal(err)
		}
		pair(name, p, s)
	}
	for _, shape := range piece.Shapes {
		for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
			text, err := piece.New(shape, sys)
			if err != nil {
				t.Fatal(err)
			}
			pair(fmt.Sprint(shape, " in ", sys), text, shop.New(sys))
		}
	}
}

// strangers are the keys of a piece that the shop does not have.
func strangers(p piece.Piece, s shop.Shop) []string {
	var out []string
	stock := func(key string) {
		_, panel := s.Panels[key]
		_, wood := s.Woods[key]
		if !panel && !wood {
			out = append(out, "panel or wood "+key)
		}
	}
	hardware := func(key string) {
		if _, ok := s.Hardware[key]; key != "" && !ok {
			out = append(out, "hardware "+key)
		}
	}
	band := func(key string) {
		if _, ok := s.Bands[key]; key != "" && !ok {
			out = append(out, "band "+key)
		}
	}
	for _, key := range p.Materials {
		stock(key)
	}
	if _, ok := s.Saws[p.Case.Saw]; p.Case.Saw != "" && !ok {
		out = append(out, "saw "+p.Case.Saw)
	}
	band(p.Case.Edges)
	if p.Base != nil {
		hardware(p.Base.Hardware)
	}
	var walk func(o piece.Opening)
	walk = func(o piece.Opening) {
		if o.Drawer != nil {
			hardware(o.Drawer.Runner)
			hardware(o.Drawer.Pull)
		}
		if o.Door != nil {
			hardware(o.Door.Hinge)
			hardware(o.Door.Pull)
			band(o.Door.Edges)
		}
		if o.Shelves != nil {
			hardware(o.Shelves.Pin)
			band(o.Shelves.Edges)
		}
		for _, in := range append(o.Columns, o.Rows...) {
			walk(in)
		}
	}
	walk(p.Inside)
	return out
}
