package unit

import (
	"os"
	"strings"
	"testing"
)

// The tables of docs/units.md say what the code does.
func TestDocs(t *testing.T) {
	text, err := os.ReadFile("../../docs/units.md")
	if err != nil {
		t.Fatal(err)
	}
	styles := map[string]Style{"TenthMM": TenthMM, "HalfMM": HalfMM, "Inch32nds": Inch32nds, "Inch64ths": Inch64ths}
	read, shown := 0, 0
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		name, quoted := strings.CutPrefix(strings.TrimSpace(cells[0]), "`")
		if !quoted {
			continue
		}
		name = strings.TrimSuffix(name, "`")
		switch style, ok := styles[name]; {
		case ok:
			a, b := Length(302_400_000).Format(style), (11*Inch + 7*Inch/8).Format(style)
			if strings.TrimSpace(cells[1]) != a || strings.TrimSpace(cells[2]) != b {
				t.Errorf("%s: the document says %q, the code %q and %q", name, cells[1:], a, b)
			}
			shown++
		case len(cells) == 2:
			got, err := ParseLength(name, Metric)
			if err != nil || got.Exact(Metric) != strings.TrimSpace(cells[1])+" mm" {
				t.Errorf("%s: the document says %q, the code %v, %v", name, cells[1], got, err)
			}
			read++
		}
	}
	if read < 10 || shown != len(styles) {
		t.Errorf("%d sizes read and %d styles shown: the tables were not found", read, shown)
	}
}
