package build

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

func TestNamesOfOpenings(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Columns: []piece.Opening{{Rows: []piece.Opening{{}, {}}}, {}}}
	var got []string
	for _, o := range make1(t, p, s).Openings {
		got = append(got, o.Name+" "+o.Path)
	}
	want := "column 1 row 1 inside.columns[0].rows[0], column 1 row 2 inside.columns[0].rows[1], column 2 inside.columns[1]"
	if g := strings.Join(got, ", "); g != want {
		t.Errorf("got %s", g)
	}
}

// Openings tile the space: no gaps, no overlaps, but for the less than a
// nanometre that each share is rounded down by.
func TestOpeningsTile(t *testing.T) {
	p, s := plain(t)
	rapid.Check(t, func(t *rapid.T) {
		p, s := p, s
		p.Case.Width = unit.Length(rapid.IntRange(1_000_000_000, 3_000_000_000).Draw(t, "width"))
		p.Case.Height = unit.Length(rapid.IntRange(1_000_000_000, 3_000_000_000).Draw(t, "height"))
		p.Inside = tree(t, 2)
		m, err := Make(p, s, record.Record{})
		if err != nil {
			t.Skip()
		}
		var area float64
		for i, o := range m.Openings {
			area += (o.Width.Size + 18*mm).MM() * (o.Height.Size + 18*mm).MM()
			for _, q := range m.Openings[:i] {
				if o.X < q.X+q.Width.Size && q.X < o.X+o.Width.Size && o.Z < q.Z+q.Height.Size && q.Z < o.Z+o.Height.Size {
					t.Fatalf("%s and %s overlap", o.Name, q.Name)
				}
			}
		}
		// Each opening with half a panel all round it covers the whole.
		want := (p.Case.Width - 18*mm).MM() * (p.Case.Height - 18*mm).MM()
		if d := math.Abs(area - want); d > 0.1 { // mm², some nanometres by metres
			t.Fatalf("openings with their dividers cover %.4f mm², the space is %.4f", area, want)
		}
	})
}

// tree draws an empty tree of openings with shared sizes.
func tree(t *rapid.T, depth int) piece.Opening {
	var o piece.Opening
	if depth == 0 {
		return o
	}
	n := rapid.IntRange(0, 4).Draw(t, "parts")
	if n < 2 {
		return o
	}
	parts := make([]piece.Opening, n)
	for i := range parts {
		parts[i] = tree(t, depth-1)
	}
	if rapid.Bool().Draw(t, "columns") {
		if rapid.Bool().Draw(t, "given") {
			parts[0].Width = unit.Length(rapid.IntRange(60_000_000, 120_000_000).Draw(t, "size"))
		}
		o.Columns = parts
	} else {
		if rapid.Bool().Draw(t, "given") {
			parts[0].Height = unit.Length(rapid.IntRange(60_000_000, 120_000_000).Draw(t, "size"))
		}
		o.Rows = parts
	}
	return o
}
