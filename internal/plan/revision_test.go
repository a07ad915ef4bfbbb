package plan

import (
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// The mark follows what changes parts and nothing else.
func TestRevisionFollowsWhatIsMade(t *testing.T) {
	p := piece.Piece{Format: 1, Name: "chest", Units: unit.Imperial, Count: 1}
	s := shop.Shop{Format: 1, Name: "shop", Units: unit.Imperial}
	begin := revision(p, s, record.Record{})
	for what, r := range map[string]record.Record{
		"an empty record file": {Format: 1, Piece: "chest", Units: unit.Imperial, Thicknesses: map[string][]unit.Length{}, Kerfs: map[string]unit.Length{}},
		"hours noted":          {Format: 1, Units: unit.Metric, Hours: []record.Spent{{Operation: "glue-up"}}},
		"a bill":               {Bought: []record.Bought{{What: "glue"}}},
		"a change agreed":      {Changes: []record.Change{{What: "a drawer more"}}},
	} {
		if got := revision(p, s, r); got != begin {
			t.Errorf("%s makes %s of %s", what, got, begin)
		}
	}
	inches := p
	inches.Units = unit.Metric
	if got := revision(inches, s, record.Record{}); got != begin {
		t.Errorf("shown in other units: %s, was %s", got, begin)
	}
	seen := map[string]string{begin: "the beginning"}
	other := func(what, got string) {
		if before, ok := seen[got]; ok {
			t.Errorf("%s has the mark of %s", what, before)
		}
		seen[got] = what
	}
	deeper, priced := p, s
	deeper.Case.Depth, priced.Currency = unit.Inch, "EUR"
	other("a deeper case", revision(deeper, s, record.Record{}))
	other("another shop", revision(p, priced, record.Record{}))
	for what, r := range map[string]record.Record{
		"a thickness":  {Thicknesses: map[string][]unit.Length{"ply": {unit.MM(17.6)}}},
		"a kerf":       {Kerfs: map[string]unit.Length{"track": unit.MM(2.1)}},
		"a strip":      {TestBends: []record.TestBend{{Panel: "ply"}}},
		"an opening":   {Openings: []record.MeasuredOpening{{Opening: "row 1"}}},
		"parts cut":    {Cut: []record.Cut{{Part: "A", Count: 1}}},
		"what is left": {Left: []record.Left{{Panel: "ply"}}},
	} {
		other(what, revision(p, s, r))
	}
}
