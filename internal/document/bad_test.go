package document_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
)

var update = flag.Bool("update", false, "write golden files anew; read them before you commit")

// decode reads a document of the kind and gives its problems.
func decode(kind, text string) error {
	var err error
	switch kind {
	case "piece":
		_, err = piece.Decode("piece.yaml", strings.NewReader(text))
	case "shop":
		_, err = shop.Decode("shop.yaml", strings.NewReader(text))
	case "record":
		_, err = record.Decode("record.yaml", strings.NewReader(text))
	default:
		panic("no document is called " + kind)
	}
	return err
}

// TestBadDocuments compares what is said about bad documents with sentences
// that were read. In the file, "=== kind: name" begins a document and ">>>"
// what is said about it.
func TestBadDocuments(t *testing.T) {
	const file = "testdata/bad.txt"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, section := range strings.Split("\n"+string(data), "\n=== ")[1:] {
		head, rest, _ := strings.Cut(section, "\n")
		text, want, _ := strings.Cut(rest, "\n>>>\n")
		kind, _, _ := strings.Cut(head, ":")
		got := "nothing"
		if err := decode(kind, text+"\n"); err != nil {
			got = err.Error()
		}
		if want = strings.TrimSuffix(want, "\n"); got != want && !*update {
			t.Errorf("%s\ngot:\n%s\nwant:\n%s", head, got, want)
		}
		out.WriteString("=== " + head + "\n" + strings.TrimSuffix(text, "\n") + "\n>>>\n" + got + "\n")
	}
	if *update {
		if err := os.WriteFile(file, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
