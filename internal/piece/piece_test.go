package piece_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

func TestStartingShapesDecode(t *testing.T) {
	for _, shape := range piece.Shapes {
		for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
			text, err := piece.New(shape, sys)
			if err != nil {
				t.Fatal(err)
			}
			p, err := piece.Decode(shape+".yaml", bytes.NewReader(text))
			if err != nil {
				t.Errorf("%s in %s:\n%v", shape, sys, err)
			}
			if p.Units != sys {
				t.Errorf("%s: units are %s, want %s", shape, p.Units, sys)
			}
		}
	}
	_, err := piece.New("cloosed", unit.Metric)
	if err == nil || !strings.Contains(err.Error(), "did you mean closed?") {
		t.Errorf("a misspelt shape: %v", err)
	}
}

func TestDemosDecode(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		f, err := os.Open("../../demo/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		p, err := piece.Decode(name+".yaml", f)
		if err != nil {
			t.Error(err)
		}
		if err := p.Validate(); err != nil {
			t.Errorf("%s: Validate finds what Decode does not: %v", name, err)
		}
		again, err := piece.Decode(name+".yaml", bytes.NewReader(p.Marshal()))
		if err != nil {
			t.Errorf("%s written and read again: %v\n%s", name, err, p.Marshal())
		}
		if !bytes.Equal(p.Marshal(), again.Marshal()) {
			t.Errorf("%s changes when written and read again", name)
		}
	}
}

// A size that wood cannot have is refused, rather than taken for one that was
// left out.
func TestSizesOfTheBase(t *testing.T) {
	text, err := os.ReadFile("../../demo/record-cabinet.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const thick = "thick: 40"
	if !strings.Contains(string(text), thick) {
		t.Fatal("the demo has no " + thick)
	}
	for written, says := range map[string]string{
		"thick: 0":            "base.thick is 0 mm; it must be at least 5 mm. Write a larger thick",
		"thick: 4.9":          "base.thick is 4.9 mm; it must be at least 5 mm.",
		"thick: 201":          "base.thick is 201 mm; it must be at most 200 mm.",
		"thick: 40, foot: 0":  "base.foot is 0 mm; it must be at least 5 mm.",
		"thick: 40, block: 2": "",
		"thick: 5":            "",
		"foot: 27":            "",
	} {
		_, err := piece.Decode("cabinet.yaml", strings.NewReader(strings.Replace(string(text), thick, written, 1)))
		if got := err != nil; got != (says != "") || got && !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", written, err, says)
		}
	}
}

// What rolls cannot be fixed to a wall, by whom ever; all else can.
func TestCastersAreNotFixed(t *testing.T) {
	const head = "format: 1\nname: x\nunits: mm\nmaterials: {case: ply, base: oak}\ncase: {kind: carcass, width: 600, height: 400, depth: 300}\n"
	const casters, legs = "base: {kind: casters, height: 75, hardware: c}\n", "base: {kind: legs, height: 75}\n"
	for _, c := range []struct{ text, path string }{
		{casters + "use: {anchored: yes}\n", "use.anchored is yes, but the piece stands on casters, and what rolls cannot be fixed to a wall. Leave anchored out, or write feet, legs or a plinth under base.kind."},
		{casters + "use: {anchored: yes, against: free}\n", "use.anchored is yes, but"},
		{casters + "use: {anchored: no}\n", ""},
		{casters, ""},
		{legs + "use: {anchored: yes}\n", ""},
		{"use: {anchored: yes}\n", ""},
		{casters + "customer: {name: N, fixed-by: maker}\n", "customer.fixed-by is maker, but the piece stands on casters"},
		{casters + "customer: {name: N, fixed-by: maker}\nuse: {against: free}\n", ""},
		{casters + "customer: {name: N}\n", ""},
		{legs + "customer: {name: N, fixed-by: maker}\n", ""},
	} {
		_, err := piece.Decode("p", strings.NewReader(head+c.text))
		if (err != nil) != (c.path != "") || err != nil && (!strings.Contains(err.Error(), c.path) || strings.Contains(err.Error(), "\n")) {
			t.Errorf("%q: %v, want %q", c.text, err, c.path)
		}
	}
}
