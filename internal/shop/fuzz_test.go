package shop_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/shop"
)

// FuzzDecode: no bytes make the decoder panic; what it refuses it refuses with
// sentences and places in the text, and what it takes it writes and takes
// again, the same.
func FuzzDecode(f *testing.F) {
	files, err := filepath.Glob("../../demo/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal("no demo documents: ", err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	bad, err := os.ReadFile("../document/testdata/bad.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, section := range strings.Split("\n"+string(bad), "\n=== ")[1:] {
		_, text, _ := strings.Cut(section, "\n")
		text, _, _ = strings.Cut(text, "\n>>>\n")
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := shop.Decode("f", bytes.NewReader(text))
		if err != nil {
			var ps document.Problems
			if !errors.As(err, &ps) || len(ps) == 0 {
				t.Fatalf("%T: %v", err, err)
			}
			lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 2
			for _, p := range ps {
				if p.File != "f" || p.Says == "" || p.Line < 0 || p.Line > lines {
					t.Fatalf("%+v in %d lines", p, lines)
				}
			}
			return
		}
		if err := v.Validate(); err != nil {
			t.Fatalf("decoded, but: %v", err)
		}
		again, err := shop.Decode("f", bytes.NewReader(v.Marshal()))
		if err != nil {
			t.Fatalf("%v\n%s", err, v.Marshal())
		}
		if !bytes.Equal(again.Marshal(), v.Marshal()) {
			t.Fatalf("%s\n%s", v.Marshal(), again.Marshal())
		}
	})
}
