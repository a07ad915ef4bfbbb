package check

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/unit"
)

// Whatever is built, or spoilt after it was built, every check ends without a
// panic, and what it says is a sentence with a source and no broken figure.
func TestWildPieces(t *testing.T) {
	p, s := open(t, "chest")
	var built []Input
	for _, d := range []string{"record-cabinet", "clinic-cabinet"} {
		p, s := open(t, d)
		in, err := inputOf(p, s, record.Record{})
		if err != nil {
			t.Fatal(err)
		}
		built = append(built, in)
	}
	rapid.Check(t, func(t *rapid.T) {
		var in Input
		if i := rapid.IntRange(0, 2).Draw(t, "demo"); i < len(built) {
			in = built[i]
		} else {
			var ok bool
			if in, ok = chest(t, p, s); !ok {
				return
			}
		}
		for range rapid.IntRange(0, 6).Draw(t, "blows") {
			blow(t, &in)
		}
		if rapid.Bool().Draw(t, "way in") {
			l := func(what string) unit.Length {
				return unit.Length(rapid.IntRange(0, 2000).Draw(t, what)) * unit.Millimetre
			}
			in.Piece.WayIn = &piece.WayIn{DoorWidth: l("door"), DoorHeight: l("high"), Stair: l("stair"), Landing: l("landing"), Headroom: l("headroom")}
		}
		for _, f := range All(in) {
			text := strings.Join([]string{f.Says, f.Figure, f.Limit, f.Advice}, "|")
			for _, bad := range []string{"NaN", "Inf", "%!", "-9223372036854", "  "} {
				if strings.Contains(text, bad) {
					t.Errorf("%s says %q", f.ID, text)
				}
			}
			if f.ID == "" || !strings.HasSuffix(f.Says, ".") {
				t.Errorf("no sentence: %+v", f)
			}
		}
	})
}

// blow spoils one thing in a model.
func blow(t *rapid.T, in *Input) {
	parts := append([]build.Part(nil), in.Model.Parts...)
	in.Model.Parts = parts
	in.Model.Screws = append([]build.ScrewUse(nil), in.Model.Screws...)
	k := rapid.IntRange(0, len(parts)-1).Draw(t, "part")
	p := &parts[k]
	size := unit.Length(rapid.IntRange(0, 3000).Draw(t, "size")) * unit.Millimetre
	switch rapid.IntRange(0, 11).Draw(t, "blow") {
	case 0:
		p.Thickness.Size = size
	case 1:
		p.Length.Size = size
	case 2:
		p.Width.Size = size
	case 3:
		p.Material = "nothing"
	case 4:
		p.Solid = !p.Solid
	case 5:
		p.Places = nil
	case 6:
		p.Outline = nil
	case 7:
		p.Outline = geom.Rect(size, size)
	case 8:
		in.Model.Openings = nil
	case 9:
		in.Model.Hardware = nil
	case 10:
		in.Piece.Base = nil
	case 11:
		for i := range in.Model.Screws {
			in.Model.Screws[i].Length = size
		}
	}
}
