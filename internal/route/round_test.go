package route_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

func rounded(p build.Part) bool {
	if p.Bent != nil {
		return false
	}
	for _, v := range p.Outline {
		if v.Bulge != 0 {
			return true
		}
	}
	return false
}

// What is cut as a rectangle and has round corners on its drawing is shaped in
// a step of its own: once its size is known, before its edge bands go round it
// and before its finish. Common practice, no source.
func TestRoundCornersAreShapedBeforeTheirBands(t *testing.T) {
	n, bands := 0, 0
	see := func(name string, in route.Input) {
		r := route.Make(in)
		for _, p := range in.Model.Parts {
			if !rounded(p) {
				continue
			}
			n++
			shape := 0
			for _, s := range r.Steps {
				if s.Op == route.Shape && slices.Contains(s.Parts, p.Letter) {
					shape = s.N
				}
			}
			if shape == 0 {
				t.Errorf("%s: nothing shapes %s %s", name, p.Letter, p.Name)
				continue
			}
			if f := lastOf(r, p.Letter, route.FinishOp); f > 0 && f < shape {
				t.Errorf("%s: %s %s is shaped after its finish", name, p.Letter, p.Name)
			}
			if p.ToMeasure {
				if s, _ := titled(r, "Measure the openings"); shape < s.N {
					t.Errorf("%s: %s %s is shaped before its opening is measured", name, p.Letter, p.Name)
				}
			}
			if len(p.Bands) == 0 {
				continue
			}
			bands++
			band := lastOf(r, p.Letter, route.BandEdges)
			if band < shape || !strings.Contains(r.Steps[band-1].What, "round the corners") {
				t.Errorf("%s: %s %s is banded in step %d, shaped in step %d: %s", name, p.Letter, p.Name, band, shape, r.Steps[band-1].What)
			}
		}
	}
	for _, name := range demos {
		see(name, input(t, name, nil))
	}
	p, err := piece.Decode("box", strings.NewReader(strings.NewReplacer("SEAM", "", "INSIDE", "door: {hinge: cup, front: inset, hung: pair, edges: oak-band}").Replace(ring)))
	if err != nil {
		t.Fatal(err)
	}
	see("box", input(t, "record-cabinet", func(q *piece.Piece, s *shop.Shop, _ *record.Record) {
		*q = p
		s.Bands = map[string]shop.Band{"oak-band": {Thickness: unit.MM(1)}}
		fixed := unit.MM(-4)
		s.Hardware["cup"] = shop.Hardware{Kind: "cup-hinge", Cup: unit.MM(35), CupDepth: unit.MM(11.5), Boring: unit.MM(4), Setback: unit.MM(37), Fixed: &fixed}
	}))
	if n < 7 || bands < 2 {
		t.Errorf("%d parts with round corners, %d of them banded", n, bands)
	}
}
