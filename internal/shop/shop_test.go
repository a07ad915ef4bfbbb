package shop_test

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

func TestStartingShopDecodes(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		s, err := shop.Decode("shop.yaml", bytes.NewReader(shop.New(sys)))
		if err != nil {
			t.Fatal(err)
		}
		if s.Units != sys {
			t.Errorf("units are %s, want %s", s.Units, sys)
		}
		for key, p := range s.Panels {
			if p.Sheets[0].Price != nil {
				t.Errorf("%s has a price, which nobody told us", key)
			}
		}
	}
}

func TestDemosDecode(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		f, err := os.Open("../../demo/" + name + ".shop.yaml")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		s, err := shop.Decode(name, f)
		if err != nil {
			t.Error(err)
		}
		if err := s.Validate(); err != nil {
			t.Errorf("%s: Validate finds what Decode does not: %v", name, err)
		}
	}
}

// TestEveryKindOfHardware: each kind has a row that says what it needs, and
// with just that it is accepted.
func TestEveryKindOfHardware(t *testing.T) {
	kinds := []string{
		"side-runner", "under-runner", "corner-runner", "wooden-runner", "cup-hinge", "pin", "leg-plate",
		"caster", "foot", "pull", "screw", "dowel", "loose-tenon",
	}
	for _, kind := range kinds {
		needs, _, ok := shop.Fits(kind)
		if !ok {
			t.Errorf("%s has no row", kind)
		}
		text := "format: 1\nunits: mm\nsaws: {t: {kind: table, kerf: 3}}\nhardware:\n  it:\n    kind: " + kind + "\n"
		for _, name := range needs {
			value := "4"
			if name == "lengths" {
				value = "[300, 350]"
			}
			text += "    " + name + ": " + value + "\n"
		}
		if _, err := shop.Decode("s", bytes.NewReader([]byte(text))); err != nil {
			t.Errorf("%s\n%v", text, err)
		}
	}
}

// The words for a defect are those that the document takes.
func TestDefectKinds(t *testing.T) {
	f, _ := reflect.TypeFor[shop.Defect]().FieldByName("What")
	if got := strings.Join(shop.DefectKinds(), "|"); got != f.Tag.Get("one") {
		t.Errorf("%s, the document takes %s", got, f.Tag.Get("one"))
	}
}

// Sizes that draw hardware fit each other.
func TestSizesOfHardwareFitEachOther(t *testing.T) {
	for text, says := range map[string]string{
		"kind: caster, height: 75, screws: 4, wheel: 50, wheel-width: 22": "",
		"kind: caster, height: 75, screws: 4, wheel: 50":                  "only one of wheel and wheel-width",
		"kind: caster, height: 75, screws: 4, wheel: 90, wheel-width: 22": "75 mm high with its plate",
		"kind: pull, centres: 128, length: 100":                           "less than its holes are apart",
		"kind: foot, height: 30, wheel: 20, wheel-width: 8":               "a foot has no such size",
	} {
		doc := "format: 1\nunits: mm\nsaws: {t: {kind: table, kerf: 3}}\nhardware: {it: {" + text + "}}\n"
		_, err := shop.Decode("s", bytes.NewReader([]byte(doc)))
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%s: %v, want %q", text, err, says)
		}
	}
}

// A price of 0 is read as one, apart from a price that is left out.
func TestPriceOfNothing(t *testing.T) {
	s, err := shop.Decode("s", strings.NewReader("format: 1\nunits: mm\nsaws: {track: {kind: track, kerf: 2}}\npanels: {ply: {kind: birch-ply, thickness: 18, sheets: [{length: 2440, width: 1220, price: 0}, {length: 1220, width: 1220}]}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	sheets := s.Panels["ply"].Sheets
	if sheets[0].Price == nil || *sheets[0].Price != 0 || sheets[1].Price != nil {
		t.Errorf("prices %v and %v", sheets[0].Price, sheets[1].Price)
	}
}
