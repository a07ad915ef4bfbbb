package record_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"casewright/internal/record"
	"casewright/internal/unit"
)

const text = `format: 1
piece: Low record cabinet
units: mm
thicknesses:
  oak-18: [17.9, 18.05, 18, 17.95]
kerfs: {track: 2.25}
test-bends:
  - {panel: oak-18, saw: track, skin: 1.95, kerfs: 5, angle: 36.5, kerf: 2.25}
openings:
  - opening: column 1 row 2
    widths: [464, 464.2, 463.8]
    heights: [165, 165, 165.3]
    diagonals: [492.4, 492.6]
    corners: [0, 0, 0, 42]
cut:
  - {part: A, count: 2}
`

func TestDecode(t *testing.T) {
	r, err := record.Decode("record.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Thicknesses["oak-18"][1]; got != 18_050_000*unit.Nanometre {
		t.Errorf("thickness is %s", got)
	}
	if b := r.TestBends[0]; b.Angle != unit.Deg(36.5) || b.Kerfs != 5 || r.Openings[0].Corners[3] != 42*unit.Millimetre {
		t.Errorf("%+v", r)
	}
	if err := r.Validate(); err != nil {
		t.Error(err)
	}
	again, err := record.Decode("again", bytes.NewReader(r.Marshal()))
	if err != nil || !bytes.Equal(again.Marshal(), r.Marshal()) {
		t.Errorf("%v\n%s", err, r.Marshal())
	}
	r.Blanks = []record.Blanks{{Part: "M", Count: 2}, {Part: "M", Count: 1}}
	if err := r.Validate(); err == nil || err.Error() != "blanks[1] is part M, as blanks[0] is. Add their counts in one of them." {
		t.Error(err)
	}
	r.Blanks = r.Blanks[:1]
	if twice, err := record.Decode("blanks", bytes.NewReader(r.Marshal())); err != nil || len(twice.Blanks) != 1 || twice.Blanks[0].Count != 2 {
		t.Errorf("%+v, %v", twice.Blanks, err)
	}
	r.Cut[0].Count = 0
	r.Cut = append(r.Cut, record.Cut{Part: "A", Count: 1})
	if err := r.Validate(); err == nil || err.Error() != "cut[0].count is missing (how many). Add it.\ncut[1] is part A, as cut[0] is. Add their counts in one of them." {
		t.Error(err)
	}
}

func TestStartingRecordDecodes(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		r, err := record.Decode("record.yaml", bytes.NewReader(record.New(sys)))
		if err != nil || r.Units != sys {
			t.Errorf("%v, in %s", err, r.Units)
		}
		// What can be recorded stands behind # without a space: with the mark
		// taken off it is right as it stands.
		shown := regexp.MustCompile(`(?m)^#(  |[a-z])`).ReplaceAll(record.New(sys), []byte("$1"))
		r, err = record.Decode("record.yaml", bytes.NewReader(shown))
		if err != nil || len(r.TestBends) != 1 || len(r.Cut) != 1 || len(r.Blanks) != 1 {
			t.Errorf("%v\n%s", err, shown)
		}
	}
}
