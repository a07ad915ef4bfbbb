package station

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/shop"
)

// filled is what a maker might type for a field.
func filled(a ShopAsk) string {
	if len(a.Choice) > 0 {
		return a.Choice[0].Value
	}
	switch name := a.Name[strings.LastIndexByte(a.Name, '.')+1:]; name {
	case "kerf", "thickness", "trim", "cup-depth":
		return "3.1 mm"
	case "length", "reach":
		return "600 mm"
	case "force-n":
		return "500"
	}
	switch a.Kind {
	case "size":
		return "35 mm"
	case "sizes":
		return "[300 mm, 350 mm]"
	case "money":
		return "12.50"
	case "angle":
		return "15"
	case "yes":
		return "yes"
	case "count":
		return "2"
	case "number":
		return "8"
	}
	return "something"
}

// Whatever can be added to a shop leaves a shop without problems when all
// that is needed is filled in, and when everything is.
func TestWhatCanBeAddedIsWhole(t *testing.T) {
	text := []byte(`format: 1
units: mm
saws: {track: {kind: track, kerf: 2.2}}
panels: {oak-18: {kind: veneered-ply, thickness: 18, sheets: [{length: 2440, width: 1220}]}}
woods: {white-oak: {species: white-oak}}
`)
	s, err := shop.Decode("", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	try := func(n ShopNew) {
		for _, all := range []bool{false, true} {
			var changes []document.Change
			if strings.HasSuffix(n.Path, "]") {
				changes = append(changes, document.Change{Path: n.Path, Do: "insert"})
			}
			for _, f := range n.Fixed {
				changes = append(changes, document.Change{Path: n.Path + "." + f.Path, Do: f.Do, Value: f.Value})
			}
			for _, a := range n.Asks {
				if a.Need || all || a.Value != "" {
					v := filled(a)
					if a.Value != "" {
						v = a.Value
					}
					changes = append(changes, document.Change{Path: n.Path + "." + a.Name, Do: "set", Value: v})
				}
			}
			if len(changes) == 0 {
				continue
			}
			after, err := document.Edit("shop", shop.Doc, shop.Shop{}, text, changes)
			if err != nil {
				t.Errorf("%s: %v", n.Label, err)
				continue
			}
			tried++
			v, err := shop.Decode("shop", bytes.NewReader(after))
			// A payment more makes them add up to over 100 until another is changed.
			if err != nil && !strings.Contains(err.Error(), "payments add up") {
				t.Errorf("%s, all %v: %v", n.Label, all, err)
			}
			ShopPage(v, nil)
		}
	}
	for _, sec := range ShopPage(s, nil).Sections {
		for _, n := range sec.New {
			try(n)
		}
		for _, e := range sec.Entries {
			for _, l := range e.Lists {
				for _, n := range l.New {
					try(n)
				}
			}
		}
	}
	if tried < 80 {
		t.Errorf("only %d things were added", tried)
	}
}

// A page is shown of any text of a shop, however little of it can be read.
func TestShopPageOfFaultyShops(t *testing.T) {
	text, err := os.ReadFile("../../demo/record-cabinet.shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; n < len(text); n += 97 {
		v, _ := shop.Decode("", bytes.NewReader(text[:n]))
		if page := ShopPage(v, nil); page.Answer == "" || len(page.Sections) == 0 {
			t.Fatalf("the first %d bytes of a shop give an empty page", n)
		}
	}
}

// The page says how panels are cut up, as the habits have it.
func TestHabitsSayHowPanelsAreCut(t *testing.T) {
	for habits, want := range map[string]string{
		"{}":                       "panels are cut as the layout has it",
		"{strips-run: lengthwise}": "panels are cut as the layout has it", // no strips are asked for
		"{strips-first: yes}":      "panels are ripped into strips first, in three stages of cuts",
		"{strips-first: yes, strips-run: crosswise, strip-stages: 2}": "panels are ripped into crosswise strips first, in two stages of cuts",
	} {
		v, err := shop.Decode("", strings.NewReader("format: 1\nunits: mm\nsaws: {table: {kind: table, kerf: 3}}\nhabits: "+habits+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, s := range ShopPage(v, nil).Sections {
			for _, e := range s.Entries {
				said += e.Says + "\n"
			}
		}
		if !strings.Contains(said, want+";") {
			t.Errorf("%s: %s", habits, said)
		}
	}
}
