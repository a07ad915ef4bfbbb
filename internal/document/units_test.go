package document_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// A document that changes its units keeps its sizes: a maker who wants to read
// inches does not get a piece twenty-five times as large, nor a record or a shop.
func TestUnitsChangeLate(t *testing.T) {
	other := map[unit.System]unit.System{unit.Metric: unit.Imperial, unit.Imperial: unit.Metric}
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		text, err := os.ReadFile("../../demo/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		was, err := piece.Decode(name, bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		out, err := document.Edit(name, piece.Doc, piece.Piece{}, text, []document.Change{{Path: "units", Do: document.Set, Value: other[was.Units].String()}})
		if err != nil {
			t.Fatal(err)
		}
		got, err := piece.Decode(name, bytes.NewReader(out))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if got.Units == was.Units {
			t.Errorf("%s: units are still %s", name, was.Units)
		}
		got.Units = was.Units
		if d := cmp.Diff(was, got); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if a, b := strings.Count(string(text), "#"), strings.Count(string(out), "#"); a != b {
			t.Errorf("%s: %d comments of %d are left", name, b, a)
		}

		if text, err = os.ReadFile("../../demo/" + name + ".shop.yaml"); err != nil {
			t.Fatal(err)
		}
		room, err := shop.Decode(name, bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if out, err = document.Edit(name, shop.Doc, shop.Shop{}, text, []document.Change{{Path: "units", Do: document.Set, Value: other[room.Units].String()}}); err != nil {
			t.Fatal(err)
		}
		now, err := shop.Decode(name, bytes.NewReader(out))
		now.Units = room.Units
		if d := cmp.Diff(room, now); err != nil || d != "" {
			t.Errorf("shop of %s: %v %s", name, err, d)
		}
	}
	for from, want := range map[string]string{
		"format: 1\nunits: mm\ncut: []\nopenings:\n  - {opening: a, widths: [500, 501, \"502\"], heights: [20 in, 300, 0]}\n": "format: 1\nunits: in\ncut: []\nopenings:\n  - {opening: a, widths: [500 mm, 501 mm, \"502 mm\"], heights: [20 in, 300 mm, 0]}\n",
		"{\"format\": 1, \"units\": \"mm\", \"kerfs\": {\"table\": 3.2}}":                                                     "{\"format\": 1, \"units\": \"in\", \"kerfs\": {\"table\": \"3.2 mm\"}}",
		"format: 1\nunits: in\nkerfs: {table: 3/32}\n":                                                                        "format: 1\nunits: mm\nkerfs: {table: 3/32 in}\n",
		"format: 1\nunits: in\nkerfs: {table: broad}\n":                                                                       "format: 1\nunits: mm\nkerfs: {table: broad}\n",
	} {
		to := "in"
		if strings.Contains(from, "units: in") {
			to = "mm"
		}
		out, err := document.Edit("", record.Doc, record.Record{}, []byte(from), []document.Change{{Path: "units", Do: document.Set, Value: to}})
		if err != nil || string(out) != want {
			t.Errorf("%v\n%s\nis wanted\n%s", err, out, want)
		}
	}
}
