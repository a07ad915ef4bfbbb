package build

import (
	"errors"
	"maps"
	"testing"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

// plain is a carcass of 18 mm oak plywood, 836 wide and 736 high outside, so
// that 800 by 700 are clear inside, with every kind of hardware in the shop.
func plain(t testing.TB) (piece.Piece, shop.Shop) {
	p, s := demo(t, "record-cabinet")
	s.Hardware = maps.Clone(s.Hardware)
	s.Hardware["under"] = shop.Hardware{Kind: "under-runner", Lengths: []unit.Length{250 * mm, 300 * mm, 350 * mm}, Inside: 42 * mm, Above: new(6 * mm), Below: new(14 * mm), Behind: new(25 * mm), Recess: new(13 * mm)}
	s.Hardware["roller"] = shop.Hardware{Kind: "corner-runner", Lengths: []unit.Length{300 * mm, 350 * mm, 400 * mm}, Above: new(16 * mm), Below: new(2 * mm)}
	s.Hardware["wood"] = shop.Hardware{Kind: "wooden-runner"}
	s.Hardware["cup"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Boring: 5 * mm, Fixed: new(13 * mm), Setback: 37 * mm}
	s.Hardware["inset-cup"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Boring: 5 * mm, Fixed: new(-4 * mm), Plate: 3 * mm, Setback: 37 * mm}
	p.Frame, p.Base, p.Inside = nil, nil, piece.Opening{}
	p.Case = piece.Case{Kind: "carcass", Width: 836 * mm, Height: 736 * mm, Depth: 420 * mm, Through: "sides"}
	p.Back = &piece.Back{Fit: "overlaid", SetIn: new(4 * mm)}
	return p, s
}

func make1(t testing.TB, p piece.Piece, s shop.Shop) Model {
	t.Helper()
	m, err := Make(p, s, record.Record{})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// problemAt is the sentence of the problem at a path.
func problemAt(t testing.TB, p piece.Piece, s shop.Shop, path string) string {
	t.Helper()
	_, err := Make(p, s, record.Record{})
	var ps document.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("want a problem at %s, got %v", path, err)
	}
	for _, q := range ps {
		if q.Path == path {
			return q.Says
		}
	}
	t.Fatalf("no problem at %s: %v", path, err)
	return ""
}

func findingOf(m Model, id string) (finding.Finding, bool) {
	for _, f := range m.Findings {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}
