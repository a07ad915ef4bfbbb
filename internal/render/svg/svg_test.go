package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"strings"
	"testing"

	"casewright/internal/drawing"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/render/svg"
	"casewright/internal/unit"
)

var update = flag.Bool("update", false, "write the golden files anew; read them before committing")

func write(t testing.TB, s *drawing.Sheet, o svg.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, *s, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// texts reads the file as XML and gives the words in it.
func texts(data []byte) ([]string, error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	var out []string
	in := 0
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if tok.Name.Local == "text" {
				out = append(out, "")
				in++
			}
		case xml.EndElement:
			if tok.Name.Local == "text" {
				in--
			}
		case xml.CharData:
			if in > 0 {
				out[len(out)-1] += string(tok)
			}
		}
	}
}

// The picture of a stile holder in the small: every kind of item once. It was
// read line by line: a semicircle is one A command with both flags by its
// bulge, a fraction is three spans, the clip holds its line.
func TestGolden(t *testing.T) {
	s := &drawing.Sheet{W: 60, H: 40, Title: "Shelf & lip"}
	s.Add(
		drawing.Fill{Tone: drawing.Pale, Paths: []drawing.Path{drawing.RectPath(drawing.Rect{X: 5, Y: 5, W: 30, H: 20}), drawing.CirclePath(drawing.Pt{X: 20, Y: 15}, 4)}},
		drawing.Box(drawing.PenOutline, drawing.Rect{X: 5, Y: 5, W: 30, H: 20}),
		drawing.Segment(drawing.PenHidden, drawing.Pt{X: 5, Y: 10}, drawing.Pt{X: 35, Y: 10}),
		drawing.Stroke{Pen: drawing.PenThin, Paths: []drawing.Path{{Nodes: []drawing.Node{{Pt: drawing.Pt{X: 40, Y: 10}, Bulge: 0.41421356}, {Pt: drawing.Pt{X: 50, Y: 20}}}}}},
		drawing.Text{At: drawing.Pt{X: 20, Y: 32}, S: "11-29/32 in", Size: 3, Anchor: drawing.Middle},
		drawing.Text{At: drawing.Pt{X: 3, Y: 25}, S: "A < B", Size: 3, Turn: 90, Weight: drawing.Bold},
		drawing.Clip{Window: drawing.Rect{X: 40, Y: 25, W: 10, H: 10}, Items: []drawing.Item{drawing.Segment(drawing.PenCut, drawing.Pt{X: 30, Y: 30}, drawing.Pt{X: 60, Y: 30})}},
	)
	got := write(t, s, svg.Options{})
	const name = "testdata/small.svg"
	if *update {
		if err := os.WriteFile(name, got, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestFullSheetIsXMLAndTheSameTwice(t *testing.T) {
	o := drawing.Options{Units: unit.Imperial, Letters: true, Dims: true, Hidden: true}
	m := drawtest.SmallCabinet()
	draw := func() []byte {
		s := drawing.NewSheet(drawing.Letter, "Views")
		r := drawing.Frame(s, drawing.TitleBlock{Piece: "Small cabinet", Paper: "Desk", Page: 1, Of: 2})
		drawing.FrontView(m, o).Fit(s, r, o, drawing.Scale{})
		return write(t, s, svg.Options{})
	}
	a, b := draw(), draw()
	if !bytes.Equal(a, b) {
		t.Error("the same sheet gave two files")
	}
	words, err := texts(a)
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(words, "|"); !strings.Contains(all, "Small cabinet") || !strings.Contains(all, "1 of 2") {
		t.Errorf("words %q", all)
	}
}

func TestEmbeddedFont(t *testing.T) {
	s := &drawing.Sheet{W: 10, H: 10}
	if _, err := texts(write(t, s, svg.Options{EmbedFont: true})); err != nil {
		t.Fatal(err)
	}
}

// Whatever is written on a sheet, the file is XML and the words come back as
// Clean leaves them.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", "A & B", "</text><script>", "\"'", "\x00\x1b[0m", "\xff\xfe", "11-29/32 in", "]]>", "日本 🪑", "\uFFFE", "a\nb\tc"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := &drawing.Sheet{W: 100, H: 100, Title: text}
		s.Add(drawing.Text{S: text, Size: 3, Plain: true})
		got, err := texts(write(t, s, svg.Options{}))
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if want := drawing.Clean(text); want != "" && (len(got) != 1 || got[0] != want) {
			t.Errorf("%q came back as %q", want, got)
		}
	})
}
