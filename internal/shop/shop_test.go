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
			if p.Sheets[0].Price != 0 {
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
