package document_test

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/shop"
)

// lookUp is the field at a path of an outline.
func lookUp(f document.Field, path string) (document.Field, bool) {
	if f.Path == path {
		return f, true
	}
	for _, c := range f.Children {
		if got, ok := lookUp(c, path); ok {
			return got, true
		}
	}
	return document.Field{}, false
}

const small = `format: 1
name: Box
units: in
materials: {case: ply}
case: {kind: carcass, width: 11-29/32", height: 302.4 mm, depth: wide, heigth: 3}
inside:
  rows:
    - drawer: &d {runner: r}
    - {height: 900 m, drawer: *d}
back: {fit: grooved, chamfer: yes}
base: soon
`

func TestOutline(t *testing.T) {
	root := document.Outline(piece.Doc, piece.Piece{}, []byte(small))
	for _, want := range []document.Field{
		{Path: "case.width", Name: "width", Kind: "size", Doc: "outside width", Given: true, Text: `11-29/32"`, Value: "11-29/32 in", Other: "302.4 mm", Min: "≈25/32 in", Max: "≈393-45/64 in", Line: 5},
		{Path: "case.height", Name: "height", Kind: "size", Doc: "outside height with the top that lies on it, without the base", Given: true, Text: "302.4 mm", Value: "≈11-29/32 in", Other: "302.4 mm", Min: "≈25/32 in", Max: "≈393-45/64 in", Line: 5},
		{Path: "case.depth", Name: "depth", Kind: "size", Doc: "front edge to back edge, without frame and overlaid back", Given: true, Text: "wide", Need: true, Min: "≈25/32 in", Max: "≈196-27/32 in", Line: 5, Problem: "case.depth: cannot read “wide” as a length: a number should stand where “wide” does; write it like 17 1/4 in or 438.2 mm."},
		{Path: "case.heigth", Name: "heigth", Kind: "unknown", Given: true, Text: "3", Line: 5, Problem: "heigth is not a field of case; did you mean height?"},
		{Path: "case.saw", Name: "saw", Kind: "key", Of: "saw", Doc: "key of the saw that cuts the kerfs", Left: "the first that can"},
		{Path: "case.through", Name: "through", Kind: "choice", Doc: "which parts run through at the corners", Value: "sides", Left: "sides", Choices: []string{"sides", "top-bottom"}},
		{Path: "materials.top", Name: "top", Kind: "key", Of: "material"},
		{Path: "inside.rows[1].drawer.gap", Name: "gap", Kind: "size", Doc: "even gap round an inset front, or to the neighbour of an overlaid one", Value: "≈5/64 in", Other: "2 mm", Left: "≈5/64 in", Min: "0 in", Max: "≈25/32 in"},
		{Path: "inside.rows[1].drawer.runner", Name: "runner", Kind: "key", Of: "runner", Doc: "key of the runner in the shop's hardware", Given: true, Text: "r", Value: "r", Need: true, Line: 8},
		{Path: "back.chamfer", Name: "chamfer", Kind: "angle", Doc: "overlaid: angle of the chamfer of its outer edge, 45 where given as plain yes", Given: true, Text: "yes", Value: "45°", Min: "0°", Max: "80°", Line: 10},
		{Path: "deliver-by", Name: "deliver-by", Kind: "date", Doc: "day by which it must be delivered"},
		{Path: "customer.packing", Name: "packing", Kind: "money", Doc: "cost of packing each piece"},
		{Path: "case.seams", Name: "seams", Kind: "list", Doc: "where the shell is joined", Left: "placed where they hide, as many as the panel asks for", Blank: "{at: top}"},
	} {
		got, ok := lookUp(root, want.Path)
		if !ok {
			t.Errorf("%s is not in the outline", want.Path)
			continue
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", want.Path, diff)
		}
	}
	row, _ := lookUp(root, "inside.rows[1]")
	if row.Text != "{height: 900 m, drawer: {runner: r}}" || row.Name != "2" || row.Kind != "group" {
		t.Errorf("the second row is %q, %q, %s", row.Text, row.Name, row.Kind)
	}
	if h, _ := lookUp(root, "inside.rows[1].height"); h.Text != "900 m" || !strings.Contains(h.Problem, "must be at most 20 m") {
		t.Errorf("a size out of its limits: %+v", h)
	}
	if b, _ := lookUp(root, "base"); b.Text != "soon" || !strings.Contains(b.Problem, "it must be fields") || len(b.Children) == 0 {
		t.Errorf("a word where a group must stand: %q %q", b.Text, b.Problem)
	}
}

// TestOutlineUnreadable: a text that is no YAML has an outline of one line.
func TestOutlineUnreadable(t *testing.T) {
	f := document.Outline(piece.Doc, &piece.Piece{}, []byte("name: [\n"))
	if f.Problem == "" || len(f.Children) > 0 {
		t.Errorf("%+v", f)
	}
}

// TestOutlineIsWhatIsDecoded: every field that a document gives is in its
// outline as given, and no other.
func TestOutlineIsWhatIsDecoded(t *testing.T) {
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "chest"} {
		for _, kind := range []string{"", ".shop"} {
			text, err := os.ReadFile("../../demo/" + name + kind + ".yaml")
			if err != nil {
				t.Fatal(err)
			}
			doc, into := piece.Doc, any(new(piece.Piece))
			if kind != "" {
				doc, into = shop.Doc, any(new(shop.Shop))
			}
			src := document.Decode("", bytes.NewReader(text), doc, into)
			var walk func(f document.Field)
			walk = func(f document.Field) {
				if f.Given != src.Has(f.Path) {
					t.Errorf("%s%s: %s is given: %v, and read: %v", name, kind, f.Path, f.Given, !f.Given)
				}
				if f.Problem != "" {
					t.Errorf("%s%s: %s", name, kind, f.Problem)
				}
				for _, c := range f.Children {
					walk(c)
				}
			}
			walk(document.Outline(doc, into, text))
		}
	}
}

// TestOutlineCanBeEdited: every path of an outline takes a change: what is
// given can be written again as it is without changing the document.
func TestOutlineCanBeEdited(t *testing.T) {
	text, err := os.ReadFile("../../demo/record-cabinet.yaml")
	if err != nil {
		t.Fatal(err)
	}
	want, err := piece.Decode("", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var given []document.Field
	var walk func(f document.Field)
	walk = func(f document.Field) {
		if f.Given && f.Text != "" {
			given = append(given, f)
		}
		for _, c := range f.Children {
			walk(c)
		}
	}
	walk(document.Outline(piece.Doc, piece.Piece{}, text))
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(given).Draw(t, "field")
		out, err := document.Edit("", piece.Doc, piece.Piece{}, text, []document.Change{{Path: f.Path, Do: "set", Value: f.Text}})
		if err != nil {
			t.Fatalf("%s: %v", f.Path, err)
		}
		got, err := piece.Decode("", bytes.NewReader(out))
		if err != nil || !reflect.DeepEqual(want, got) {
			t.Fatalf("%s: %v\n%s", f.Path, err, cmp.Diff(want, got))
		}
	})
}
