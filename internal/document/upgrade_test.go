package document_test

import (
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/unit"
)

// tray is a document that has been through two formats: in the first, the width
// was called breadth and a gap did not exist; the second asked for a name.
type tray struct {
	Format int         `yaml:"format" need:"true" min:"1"`
	Units  unit.System `yaml:"units" need:"true" one:"mm|in"`
	Name   string      `yaml:"name" need:"true"`
	Width  unit.Length `yaml:"width" need:"true" min:"1 mm"`
	Gap    unit.Length `yaml:"gap,omitempty" default:"2 mm"`
}

var trayDoc = document.Type{Name: "tray", Format: 3, Upgrades: map[int]func(*document.Node){
	1: func(root *document.Node) {
		for i, k := range root.Keys {
			if k.Name == "breadth" && root.Field("width") == nil {
				root.Keys[i].Name = "width"
			}
		}
		root.Set("gap", "0 mm")
	},
	2: func(root *document.Node) {
		if root.Field("name") == nil {
			root.Set("name", "Tray")
		}
	},
}}

func TestUpgrade(t *testing.T) {
	want := tray{Format: 3, Name: "Tray", Width: 300 * unit.Millimetre}
	for text, gap := range map[string]unit.Length{
		"format: 1\nunits: mm\nbreadth: 300":                   0,
		"format: 2\nunits: mm\nwidth: 300":                     2 * unit.Millimetre,
		"format: 3\nunits: mm\nwidth: 300\nname: Tray\ngap: 4": 4 * unit.Millimetre,
	} {
		var got tray
		err := document.Decode("tray.yaml", strings.NewReader(text), trayDoc, &got).Err(nil)
		want.Gap = gap
		if err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for text, says := range map[string]string{
		"format: 4\nunits: mm":                                "tray.yaml:1:9: This tray is of format 4; this program reads up to format 3. Use a newer casewright to open it.",
		"format: 1\nunits: mm\nbreadth: 0.5":                  "tray.yaml:3:10: width is 0.5 mm; it must be at least 1 mm. Write a larger width.",
		"format: 2\nunits: mm\nname: a\nwidth: 3\nbreadth: 3": "tray.yaml:5:1: breadth is not a field of the document. Its fields are format, units, name, width or gap.",
	} {
		var got tray
		err := document.Decode("tray.yaml", strings.NewReader(text), trayDoc, &got).Err(nil)
		if err == nil || err.Error() != says {
			t.Errorf("%q\ngot  %v\nwant %s", text, err, says)
		}
	}
	gone := document.Type{Name: "tray", Format: 3, Upgrades: map[int]func(*document.Node){2: trayDoc.Upgrades[2]}}
	var got tray
	err := document.Decode("tray.yaml", strings.NewReader("format: 1"), gone, &got).Err(nil)
	if err == nil || err.Error() != "tray.yaml:1:9: This tray is of format 1, which is no longer read. Write it anew as format 3." {
		t.Error(err)
	}
}
