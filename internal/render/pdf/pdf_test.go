package pdf_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/drawing"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/render/pdf"
	"casewright/internal/unit"
)

func write(t testing.TB, sheets ...drawing.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, sheets, pdf.Info{Title: "Small cabinet"}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// set is a set of papers as they go to the printer.
func set(t testing.TB, pages int) []drawing.Sheet {
	t.Helper()
	m, bent := drawtest.SmallCabinet(), drawtest.BentShell()
	o := drawing.Options{Letters: true, Dims: true, Hidden: true}
	var out []drawing.Sheet
	for i := range pages {
		paper := drawing.A4
		if i%2 == 1 {
			paper = drawing.Letter.Across()
		}
		s := drawing.NewSheet(paper, "Page")
		r := drawing.Frame(s, drawing.TitleBlock{Piece: "Small cabinet", Paper: "Desk", Units: "mm (in)", Page: i + 1, Of: pages})
		views := []drawing.View{
			drawing.FrontView(m, o), drawing.Section(m, drawing.AcrossX, unit.MM(200), o),
			drawing.Exploded(bent, o, 1), drawing.PartView(bent.Parts[0], o),
		}
		v := views[i%len(views)]
		top, rest := r.Top(r.H*0.7, 4)
		v.Fit(s, top, o, drawing.Scale{})
		s.Table(rest, []drawing.Column{{Head: "Part", Share: 1}, {Head: "Size", Share: 2, Right: true}},
			[][]string{{"A", "500 × 300 × 18"}, {"B", "11-29/32 in"}}, drawing.TableStyle{})
		out = append(out, *s)
	}
	return out
}

var stream = regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`)

// contents are the unpacked content streams.
func contents(t *testing.T, data []byte) string {
	t.Helper()
	var b strings.Builder
	for _, m := range stream.FindAllSubmatch(data, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			continue
		}
		if _, err := io.Copy(&b, z); err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

// A bar of 100 mm is 100/25.4 × 72 = 283.46 points long: a PDF point is 1/72 in
// (ISO 32000-1, 8.3.2.3).
func TestCheckBarsAreTrue(t *testing.T) {
	s := drawing.NewSheet(drawing.A4, "Bars")
	s.CheckBars(drawing.Pt{X: 20, Y: 20}, false)
	s.CheckBars(drawing.Pt{X: 20, Y: 60}, true)
	body := contents(t, write(t, *s))
	var level, upright []float64
	line := regexp.MustCompile(`([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l`)
	for _, m := range line.FindAllStringSubmatch(body, -1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		if v[1] == v[3] {
			level = append(level, math.Abs(v[2]-v[0]))
		}
		if v[0] == v[2] {
			upright = append(upright, math.Abs(v[3]-v[1]))
		}
	}
	for way, lengths := range map[string][]float64{"level": level, "upright": upright} {
		for _, want := range []float64{283.4646, 288} { // 100 mm; 4 in = 4 × 72
			found := false
			for _, l := range lengths {
				found = found || math.Abs(l-want) < 0.002
			}
			if !found {
				t.Errorf("no %s line of %v points among %v", way, want, lengths)
			}
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	if !bytes.Equal(write(t, set(t, 4)...), write(t, set(t, 4)...)) {
		t.Error("the same sheets gave two files")
	}
}

func TestNoSheet(t *testing.T) {
	if err := pdf.Write(io.Discard, nil, pdf.Info{}); err == nil {
		t.Error("a file without pages was written")
	}
}

// poppler reads the file with tools that share nothing with the writer.
func poppler(t *testing.T, tool string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		t.Skipf("%s is not installed (Debian: poppler-utils); the file was not read by it", tool)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
	return string(out)
}

func TestPopplerReadsIt(t *testing.T) {
	name := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(name, write(t, set(t, 4)...), 0o600); err != nil {
		t.Fatal(err)
	}
	info := poppler(t, "pdfinfo", "-f", "1", "-l", "4", name)
	for _, want := range []string{"Small cabinet", "595.28 x 841.89", "792 x 612"} { // ISO 216 A4; 11 × 8.5 in
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not show %q:\n%s", want, info)
		}
	}
	fonts := strings.Split(strings.TrimSpace(poppler(t, "pdffonts", name)), "\n")
	if len(fonts) < 3 {
		t.Fatalf("fonts: %q", fonts)
	}
	for _, l := range fonts[2:] {
		if !strings.Contains(l, "yes") || !strings.Contains(l, "CID TrueType") {
			t.Errorf("font not embedded: %s", l)
		}
	}
	text := poppler(t, "pdftotext", "-layout", name, "-")
	for _, want := range []string{"Small cabinet", "500 × 300 × 18", "4 of 4", "11 29⁄32 in", "1:5"} {
		if !strings.Contains(text, want) {
			t.Errorf("pdftotext does not find %q:\n%s", want, text)
		}
	}
}

// Text of any kind gives a file that is whole.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", ")", "\\", "(((", "日本 🪑", "\x00\xff", "11-29/32", "≈½″"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := drawing.Sheet{W: 100, H: 100}
		s.Add(drawing.Text{S: text, Size: 3, At: drawing.Pt{X: 5, Y: 5}})
		data := write(t, s)
		if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
			t.Error("not whole")
		}
	})
}

func Benchmark20Pages(b *testing.B) {
	for b.Loop() {
		write(b, set(b, 20)...)
	}
}
