package check

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Whatever is built, or spoilt after it was built, every check ends without a
// panic, and what it says is a sentence with a source and no broken figure.
func TestWildPieces(t *testing.T) {
	demos := []string{"record-cabinet", "chest", "clinic-cabinet"}
	var ps []piece.Piece
	var ss []shop.Shop
	for _, d := range demos {
		p, s := open(t, d)
		ps, ss = append(ps, p), append(ss, s)
	}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, 2).Draw(t, "demo")
		var in Input
		if i == 1 {
			var ok bool
			if in, ok = chest(t, ps[1], ss[1]); !ok {
				return
			}
		} else {
			var err error
			if in, err = inputOf(ps[i], ss[i], in.Record); err != nil {
				t.Fatal(err)
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
