package document_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/shop"
)

// TestEditText: what a change leaves of the text around it, line by line.
func TestEditText(t *testing.T) {
	const from = `# A box.
format: 1
name: Box          # for the hall
units: mm

materials:
  case: ply-18
  back: "ply 6"    # thin

# The case.
case:
  kind: carcass
  width: 600       # outside
  height: 900
  depth: 400
  # nothing more is known

inside:
  rows:            # two
    - drawer: &d {runner: r, gap: 2}  # the first
    # like the first
    - drawer: *d
back: {fit: grooved}
loose: [
  {name: a, length: 300, width: 40, material: case},   # one
  {name: b, length: 300, width: 40, material: case},
]
notes: |
  Two lines
  of text.

use: {for: books}
`
	for _, c := range []struct {
		name     string
		change   document.Change
		old, new string // the lines that go and come, as in the text
	}{
		{"a size, its comment in place", document.Change{"case.width", "set", "1200.5"}, "  width: 600       # outside\n", "  width: 1200.5    # outside\n"},
		{"inches with their sign", document.Change{"case.height", "set", `11-29/32"`}, "height: 900", `height: 11-29/32"`},
		{"feet and inches in braces", document.Change{"loose[0].length", "set", `5' 7-1/2"`}, "name: a, length: 300", `name: a, length: 5' 7-1/2"`},
		{"quotes stay", document.Change{"materials.back", "set", "oak"}, `back: "ply 6"    # thin`, `back: "oak"      # thin`},
		{"quotes where they are needed", document.Change{"name", "set", "Box: two, #1"}, `name: Box          # for the hall`, `name: "Box: two, #1" # for the hall`},
		{"a new field in the order of its type", document.Change{"case.edges", "set", "band"}, "  # nothing more is known\n", "  edges: band\n  # nothing more is known\n"},
		{"a new field between two", document.Change{"count", "set", "6"}, "units: mm\n", "count: 6\nunits: mm\n"},
		{"a new group", document.Change{"frame.thickness", "set", "20"}, "\ninside:", "\nframe: {thickness: 20}\n\ninside:"},
		{"a new field in braces", document.Change{"back.depth", "set", "6"}, "{fit: grooved}", "{fit: grooved, depth: 6}"},
		{"a new field before the first", document.Change{"use.against", "set", "free"}, "use: {for: books}", "use: {for: books, against: free}"},
		{"under an alias", document.Change{"inside.rows[1].drawer.gap", "set", "3"}, "- drawer: *d", "- drawer: {runner: r, gap: 3}"},
		{"under an anchor", document.Change{"inside.rows[0].drawer.pull", "set", "knob"}, "&d {runner: r, gap: 2}  # the first\n    # like the first\n    - drawer: *d", "{runner: r, gap: 2, pull: knob}  # the first\n    # like the first\n    - drawer: &d {runner: r, gap: 2}"},
		{"a list entry", document.Change{"inside.rows[1]", "insert", "{height: 200}"}, "    # like the first\n", "    - {height: 200}\n    # like the first\n"},
		{"the last list entry", document.Change{"inside.rows[2]", "insert", "height: 200\ndrawer:\n  runner: r\n"}, "*d\n", "*d\n    - height: 200\n      drawer: {runner: r}\n"},
		{"a list entry before an anchor", document.Change{"inside.rows[0]", "insert", "{height: 200}"}, "    - drawer: &d", "    - {height: 200}\n    - drawer: &d"},
		{"a list entry in brackets", document.Change{"loose[1]", "insert", "{name: c, length: 1, width: 2, material: case}"}, "  {name: b", "  {name: c, length: 1, width: 2, material: case},\n  {name: b"},
		{"a field goes", document.Change{"case.depth", "remove", ""}, "  depth: 400\n", ""},
		{"the last field goes, and its group", document.Change{"use.for", "remove", ""}, "use: {for: books}\n", ""},
		{"the last field of an entry goes, the entry stays", document.Change{"inside.rows[1].drawer", "remove", ""}, "- drawer: *d", "- {}"},
		{"an entry goes", document.Change{"inside.rows[1]", "remove", ""}, "    - drawer: *d\n", ""},
		{"text of several lines", document.Change{"notes", "set", "One\nand “two”."}, "notes: |\n  Two lines\n  of text.\n", "notes: \"One\\nand “two”.\"\n"},
		{"a group over a group", document.Change{"back", "set", "fit: overlaid\nset-in: 4\n"}, "{fit: grooved}", "{fit: overlaid, set-in: 4}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(from, c.old) != 1 {
				t.Fatalf("%q is not once in the text", c.old)
			}
			want := strings.Replace(from, c.old, c.new, 1)
			for _, crlf := range []bool{false, true} {
				text, want := from, want
				if crlf {
					text, want = strings.ReplaceAll(text, "\n", "\r\n"), strings.ReplaceAll(want, "\n", "\r\n")
				}
				got, err := document.Edit("box.yaml", piece.Doc, piece.Piece{}, []byte(text), []document.Change{c.change})
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(want, string(got)); diff != "" {
					t.Errorf("(-want +got):\n%s", diff)
				}
			}
		})
	}
}

// TestEditAnchors: an anchor that goes with its part passes to the first
// alias that stays, and nothing else is touched. That a name may be given to
// a second anchor, and that an alias means the last one before it, is YAML
// 1.2.2, sections 3.2.2.2 and 7.1.
func TestEditAnchors(t *testing.T) {
	const from = `format: 1
units: mm
saws:
  # the old one
  bench: {kind: table, kerf: 3,
    depth: &d 90, least: *d}  # both alike
  track: {kind: track, reach:  *d, least: *d}
machines: {planer-shortest: *d}
`
	const bench = "  bench: {kind: table, kerf: 3,\n    depth: &d 90, least: *d}  # both alike\n"
	handed := strings.Replace(from, "reach:  *d", "reach:  &d 90", 1)
	for _, c := range []struct {
		name   string
		change document.Change
		want   string
	}{
		{"a part goes with an anchor and its alias", document.Change{"saws.bench", "remove", ""}, strings.Replace(handed, bench, "", 1)},
		{"such a part is written over", document.Change{"saws.bench", "set", "{kind: table, kerf: 2}"}, strings.Replace(handed, bench, "  bench: {kind: table, kerf: 2}  # both alike\n", 1)},
		{"the group around it goes", document.Change{"saws", "remove", ""}, "format: 1\nunits: mm\nmachines: {planer-shortest: &d 90}\n"},
		{"the anchor alone goes", document.Change{"saws.bench.depth", "remove", ""}, strings.Replace(from, "depth: &d 90, least: *d", "least: &d 90", 1)},
		{"an alias alone goes", document.Change{"saws.bench.least", "remove", ""}, strings.Replace(from, ", least: *d}  #", "}  #", 1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := document.Edit("", shop.Doc, shop.Shop{}, []byte(from), []document.Change{c.change})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, string(got)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestEditRefuses: a path that leads nowhere gets a sentence, and the text
// stays as it was.
func TestEditRefuses(t *testing.T) {
	for _, c := range []struct {
		change document.Change
		says   string
	}{
		{document.Change{"", "set", "1"}, "No field is named. Name one, such as case.width."},
		{document.Change{"case.widht", "set", "1"}, "widht is not a field of case; did you mean width?"},
		{document.Change{"case.width.left", "set", "1"}, "case.width is one size, such as 80 mm or 3 1/8 in; nothing stands beneath it."},
		{document.Change{"inside.rows.drawer", "set", "{}"}, "inside.rows is a list; name one of its entries, such as inside.rows[0]."},
		{document.Change{"inside.rows[7].height", "set", "1"}, "inside.rows has 2 entries; there is no place inside.rows[7]."},
		{document.Change{"inside.rows[3]", "insert", "{}"}, "inside.rows has 2 entries; there is no place inside.rows[3]."},
		{document.Change{"inside.columns[1].height", "set", "1"}, "inside.columns has 0 entries; there is no place inside.columns[1]."},
		{document.Change{"inside.rows[x]", "set", "1"}, "inside.rows is a list; name one of its entries, such as inside.rows[0]."},
		{document.Change{"case.", "set", "1"}, "“case.” is not the path of a field. Write it like inside.columns[0].width."},
		{document.Change{"frame.stile", "remove", ""}, "frame.stile is not in the document; there is nothing to remove."},
		{document.Change{"case", "insert", "{}"}, "case is not a place in a list that can grow. Name one, such as inside.columns[2]."},
		{document.Change{"case.width", "double", ""}, "“double” is not a change. Write set, remove or insert."},
		{document.Change{"materials.lid", "set", "ply"}, "lid is not known in materials. Known are case, top, inside, shelves, frame, fronts, doors, boxes, bottoms, back, base, packers or strip."},
		{document.Change{"back", "set", "{fit: "}, "What is given for back cannot be read: "},
		{document.Change{"back", "set", "[1, 2]"}, "What is given for back cannot be read: it must be fields with values, one to a line."},
		{document.Change{"name", "set", "a\x00b"}, "cannot be written into this document"},
		{document.Change{"inside.rows[0]", "insert", strings.Repeat("{rows: [", 20) + strings.Repeat("]}", 20)}, "Here more than 24 tables and lists lie inside one another."},
	} {
		_, err := document.Edit("x.yaml", piece.Doc, piece.Piece{}, []byte(small), []document.Change{{"name", "set", "Other"}, c.change})
		var ps document.Problems
		if !errors.As(err, &ps) || len(ps) != 1 || !strings.Contains(ps[0].Says, c.says) || ps[0].Path != c.change.Path {
			t.Errorf("%+v: got %v, want %s", c.change, err, c.says)
		}
	}
}

// TestEditMends: a text with problems can be mended field by field.
func TestEditMends(t *testing.T) {
	text, err := document.Edit("", piece.Doc, piece.Piece{}, []byte(small), []document.Change{
		{"case.depth", "set", "16"},
		{"case.heigth", "remove", ""},
		{"inside.rows[1].height", "remove", ""},
		{"base.kind", "set", "plinth"},
		{"base.height", "set", "4"},
		{"back.chamfer", "remove", ""},
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := piece.Decode("", bytes.NewReader(text)); err != nil {
		t.Errorf("%v\n%s", err, text)
	}
}

// TestEditRepeats: a field given twice can be set or taken out.
func TestEditRepeats(t *testing.T) {
	const twice = "format: 1\nname: a\nunits: mm\nname: b\n"
	for _, c := range []struct {
		change document.Change
		want   string
	}{
		{document.Change{"name", "remove", ""}, "format: 1\nunits: mm\n"},
		{document.Change{"name", "set", "c"}, "format: 1\nname: c\nunits: mm\nname: b\n"},
	} {
		got, err := document.Edit("", piece.Doc, piece.Piece{}, []byte(twice), []document.Change{c.change})
		if err != nil || string(got) != c.want {
			t.Errorf("%+v: %v\n%s", c.change, err, got)
		}
	}
}

// TestEditJSON: a document in JSON stays one.
func TestEditJSON(t *testing.T) {
	const from = `{"format": 1, "name": "x", "units": "mm", "case": {"kind": "carcass", "width": 600}}`
	const want = `{"format": 1, "name": "x", "units": "mm", "case": {"kind": "carcass", "width": 600, "height": "3 in", "depth": 17.8}}`
	got, err := document.Edit("", piece.Doc, piece.Piece{}, []byte(from), []document.Change{{"case.height", "set", "3 in"}, {"case.depth", "set", "17.8"}})
	if err != nil || string(got) != want {
		t.Errorf("%v\n%s", err, got)
	}
}

// TestEditKeys: keys with points in them are found and made.
func TestEditKeys(t *testing.T) {
	const from = "format: 1\nunits: mm\nsaws:\n  a.b: {kind: table, kerf: 3}\n"
	const want = "format: 1\nunits: mm\nsaws:\n  a.b: {kind: table, kerf: 2.8}\n  no.2: {kind: track}\n"
	got, err := document.Edit("", shop.Doc, shop.Shop{}, []byte(from), []document.Change{{"saws.a.b.kerf", "set", "2.8"}, {"saws.no.2.kind", "set", "track"}})
	if err != nil || string(got) != want {
		t.Errorf("%v\n%s", err, got)
	}
}

// FuzzEdit: any text, path and value end in a text that decodes or in a
// sentence, and setting a value twice is setting it once.
func FuzzEdit(f *testing.F) {
	f.Add(small, "case.width", "set", `11-29/32"`)
	f.Add(small, "inside.rows[1].drawer.gap", "set", "3")
	f.Add(small, "inside.rows[0].drawer", "remove", "")
	f.Add("a: &a {b: *a}\n? x\n", "inside.rows[0]", "insert", "{drawer: &x {runner: r}, rows: [*x]}")
	f.Add("format: 1\r\nname: |+\r\n  a\r\n\r\nunits: in\r\n", "name", "set", "- b: c")
	f.Add("{\"format\": 1}", "materials.case", "set", "\t\"")
	f.Add("- a\n", "notes", "set", "x")
	f.Fuzz(func(t *testing.T, text, path, do, value string) {
		if len(text) > 4000 || len(value) > 400 {
			return
		}
		change := []document.Change{{Path: path, Do: do, Value: value}}
		out, err := document.Edit("", piece.Doc, piece.Piece{}, []byte(text), change)
		document.Outline(piece.Doc, piece.Piece{}, []byte(text))
		if err != nil {
			var ps document.Problems
			if !errors.As(err, &ps) || len(ps) == 0 || ps[0].Says == "" {
				t.Fatalf("%v", err)
			}
			return
		}
		if do != "set" {
			return
		}
		again, err := document.Edit("", piece.Doc, piece.Piece{}, out, change)
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		var one, two piece.Piece
		document.Decode("", bytes.NewReader(out), piece.Doc, &one)
		document.Decode("", bytes.NewReader(again), piece.Doc, &two)
		if diff := cmp.Diff(one, two); diff != "" {
			t.Fatalf("%s\n%s\n%s", diff, out, again)
		}
	})
}
