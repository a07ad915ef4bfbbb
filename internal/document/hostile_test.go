package document_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/piece"
)

// endless is a reader of a great many lines that counts what is taken.
type endless struct{ taken int }

func (e *endless) Read(p []byte) (int, error) {
	const line = "# a comment that goes on\n"
	if e.taken >= 50<<20 {
		return 0, io.EOF
	}
	n := 0
	for n+len(line) <= len(p) {
		n += copy(p[n:], line)
	}
	if n == 0 {
		n = copy(p, line)
	}
	e.taken += n
	return n, nil
}

func TestLargeFileIsNotReadToItsEnd(t *testing.T) {
	var r endless
	_, err := piece.Decode("piece.yaml", &r)
	const want = "piece.yaml: The document is larger than 1 MB. Documents of this kind are a few pages of text; check that it is the right file."
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if r.taken > document.MaxBytes+64<<10 {
		t.Errorf("%d bytes were read", r.taken)
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

func TestUnreadable(t *testing.T) {
	if _, err := piece.Decode("piece.yaml", broken{}); err == nil || err.Error() != "piece.yaml: The document cannot be read: the disk is gone." {
		t.Error(err)
	}
}

// bomb is a document whose aliases stand for ten times ten times … values.
func bomb(levels int) string {
	var b strings.Builder
	b.WriteString("a0: &a0 [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]\n")
	for i := 1; i <= levels; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 10), ", "))
	}
	return b.String()
}

// TestHostile: what is made to make a reader work without end is refused with
// one sentence. The limits that bound the work are counts, so nothing here is
// timed; go test's own limit catches a reader that does not stop.
func TestHostile(t *testing.T) {
	const n = 150_000
	head := "format: 1\nname: x\nunits: mm\n"
	var many strings.Builder
	for i := range n / 4 {
		fmt.Fprintf(&many, "a%d: b\n", i)
	}
	for _, c := range []struct{ name, text, says string }{
		{"alias bomb", bomb(9), "more than 50000 values once its aliases are written out"},
		{"alias of itself", head + "inside: &x {columns: [*x]}\n", "refers to an anchor &x that does not stand before it"},
		{"deep lists", strings.Repeat("[", n), "words and signs"},
		{"deep lists, fewer", "a: " + strings.Repeat("[", 100), "tables and lists lie inside one another"},
		{"deep tables", strings.Repeat("{a: ", 100), "tables and lists lie inside one another"},
		{"deep dashes", strings.Repeat("- ", 100), "tables and lists lie inside one another"},
		{"deep lines", func() string {
			var b strings.Builder
			for i := range 100 {
				b.WriteString(strings.Repeat(" ", i) + "a:\n")
			}
			return b.String()
		}(), "tables and lists lie inside one another"},
		{"anchors in a row", "a: " + strings.Repeat("&a ", 10_000), "more than 200 anchors and aliases"},
		{"marked keys", strings.Repeat("? ", 10_000), "Keys marked with ? are not read"},
		{"many fields", many.String(), "words and signs"},
		{"many numbers", "a: [" + strings.Repeat("1,", n) + "1]", "words and signs"},
		{"many documents", strings.Repeat("---\n", n), "words and signs"},
		{"long text", head + "notes: " + strings.Repeat("x", n), "the text is longer than 4000 characters"},
		{"long key", head + strings.Repeat("x", n) + ": 1", "xxxx… is not a field of the document"},
		{"long size", head + "case: {width: " + strings.Repeat("9", n) + "}", "it is too long to be one size"},
		{"not UTF-8", "format: 1\nname: \xff\xfe\n", "2:7: This is not UTF-8 text"},
		{"UTF-16", "\xff\xfef\x00o\x00", "1:1: This is not UTF-8 text"},
		{"NUL", "format: 1\nname: a\x00b\n", "2:8: An invisible control character (U+0000)"},
		{"an invisible control character", "format: 1\nname: a\u0085b\n", "(U+0085)"},
		{"lines of tabs", strings.Repeat("\t", n), "piece.yaml:"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := piece.Decode("piece.yaml", strings.NewReader(c.text))
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %.300v, want … %s …", err, c.says)
			}
			if err != nil && len(err.Error()) > 20_000 {
				t.Errorf("the answer is %d bytes long", len(err.Error()))
			}
		})
	}
}

// TestManyProblems: a file with hundreds of problems is answered with twenty.
func TestManyProblems(t *testing.T) {
	text := "format: 1"
	for i := range 300 {
		text += fmt.Sprintf("\nzz%d: 1", i)
	}
	_, err := piece.Decode("piece.yaml", strings.NewReader(text))
	var ps document.Problems
	if !errors.As(err, &ps) || len(ps) != 304 {
		t.Fatalf("%d problems", len(ps))
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 21 || lines[20] != "and 284 more." {
		t.Errorf("%d lines, the last %q", len(lines), lines[len(lines)-1])
	}
}

func TestPlainForms(t *testing.T) {
	const unix = "format: 1\nname: Tall \"thin\" box\nunits: in\nmaterials: {case: ply}\ncase:\n  kind: carcass\n  width: 5' 7-1/2\"\n  height: 17 1/4\n  depth: 302.4 mm\n"
	const json = `{"format": 1, "name": "Tall \"thin\" box", "units": "in", "materials": {"case": "ply"},
	"case": {"kind": "carcass", "width": "5' 7-1/2\"", "height": "17 1/4", "depth": "302.4 mm"}}`
	want, err := piece.Decode("x", strings.NewReader(unix))
	if err != nil {
		t.Fatal(err)
	}
	if want.Name != `Tall "thin" box` || want.Case.Width != size("67.5 in") || want.Case.Depth != size("302.4 mm") {
		t.Errorf("%+v", want)
	}
	for name, text := range map[string]string{
		"JSON":                json,
		"lines of two signs":  strings.ReplaceAll(unix, "\n", "\r\n"),
		"a byte order mark":   "\ufeff" + unix,
		"a document mark":     "---\n" + unix + "...\n",
		"no last line's end":  strings.TrimSuffix(unix, "\n"),
		"comments and spaces": "# a box\n\n" + strings.ReplaceAll(unix, "\n", "   # here\n"),
	} {
		got, err := piece.Decode("x", strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !bytes.Equal(got.Marshal(), want.Marshal()) {
			t.Errorf("%s: %s", name, got.Marshal())
		}
	}
}

// TestExact: a bare decimal goes from its text to the length without passing
// through binary: 17.8 is 17 800 000 nm, and so is what follows it.
func TestExact(t *testing.T) {
	for text, want := range map[string]int64{
		"17.8": 17_800_000, "33.3": 33_300_000, "300.000001": 300_000_001, "1234.567891": 1_234_567_891, "0.0000005 m": 500, "25": 25_000_000,
		"0x20": -1, "1_000": -1, "0o17": -1, "~": -1, "1e2": -1, "12:30": -1, "+30.5": 30_500_000,
	} {
		p, err := piece.Decode("x", strings.NewReader("format: 1\nname: x\nunits: mm\nmaterials: {case: p}\nloose: [{name: a, length: 20, width: 20, material: p, thickness: "+text+"}]\ncase: {kind: carcass, width: 99, height: 99, depth: 99}"))
		if want < 0 {
			if err == nil {
				t.Errorf("%s is read as %v", text, p.Loose[0].Thickness)
			}
			continue
		}
		if err != nil || int64(p.Loose[0].Thickness) != want {
			t.Errorf("%s: %v, %v", text, p.Loose, err)
		}
	}
}
