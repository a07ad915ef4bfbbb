package fit_test

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

const mm = unit.Millimetre

func demo(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	read := func(file string) *bytes.Reader {
		text, err := os.ReadFile("../../demo/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.NewReader(text)
	}
	p, err := piece.Decode(name, read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, read(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func fits(t fatal, p piece.Piece, s shop.Shop, r record.Record) (build.Model, []fit.Opening, []finding.Finding) {
	m, err := build.Make(p, s, r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	in := fit.Input{Piece: p, Shop: s, Record: r, Model: m, Show: func(l unit.Length) string { return l.Format(unit.TenthMM) }}
	all := fit.Make(in)
	return m, all, fit.Findings(in, all)
}

type fatal interface{ Fatalf(string, ...any) }

func of(t fatal, all []fit.Opening, name string) fit.Opening {
	for _, o := range all {
		if o.Name == name {
			return o
		}
	}
	t.Fatalf("no %s", name)
	return fit.Opening{}
}

// square is an opening that measures the same all through.
func square(name string, w, h float64) record.MeasuredOpening {
	W, H := unit.MM(w), unit.MM(h)
	return record.MeasuredOpening{Opening: name, Widths: []unit.Length{W, W, W}, Heights: []unit.Length{H, H, H}}
}

// drawer is a plain case of one drawer in an opening 500 wide, 15 deep sides.
func drawer(t testing.TB, kind shop.Hardware, wide unit.Length, gap unit.Length) (piece.Piece, shop.Shop) {
	p, s := demo(t, "record-cabinet")
	p.Frame, p.Base, p.Back = nil, nil, nil
	p.Case = piece.Case{Kind: "carcass", Width: wide + 2*s.Panels["oak-18"].Thickness, Height: 236 * mm, Depth: 420 * mm, Through: "sides"}
	s.Hardware["runner"] = kind
	p.Inside = piece.Opening{Drawer: &piece.Drawer{Runner: "runner", Front: "inset", Gap: gap}}
	return p, s
}

var sideRunner = shop.Hardware{Kind: "side-runner", Lengths: []unit.Length{350 * mm}, SideMin: unit.MM(12.9), SideMax: unit.MM(13.2)}

func text(t testing.TB, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// cutOf lists parts of a role as cut.
func cutOf(m build.Model, roles ...build.Role) []record.Cut {
	var out []record.Cut
	for _, p := range m.Parts {
		if slices.Contains(roles, p.Role) {
			out = append(out, record.Cut{Part: p.Letter, Count: p.Count})
		}
	}
	return out
}

func drawMeasured(t *rapid.T, name string, w, h unit.Length, off float64) record.MeasuredOpening {
	o := square(name, w.MM(), h.MM())
	d := func(l *unit.Length) { *l += unit.MM(rapid.Float64Range(-off, off).Draw(t, "off")) }
	for i := range 3 {
		d(&o.Widths[i])
		d(&o.Heights[i])
	}
	return o
}
