package app

import (
	"os"
	"path/filepath"
	"testing"

	"casewright/internal/papers"
)

// A second set takes the papers of the first away and leaves the maker's own
// files alone.
func TestWriteTakesAwayOldPapers(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, "notes.txt")
	if err := os.WriteFile(own, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, []papers.File{{Name: "a.pdf", Data: []byte("1")}, {Name: "parts/B.dxf", Data: []byte("2")}}); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, []papers.File{{Name: "a.pdf", Data: []byte("3")}}); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(filepath.Join(dir, "a.pdf")); string(got) != "3" {
		t.Errorf("a.pdf holds %q", got)
	}
	if _, err := os.Stat(filepath.Join(dir, "parts", "B.dxf")); err == nil {
		t.Error("the outline of a part that is no more is still there")
	}
	if got, _ := os.ReadFile(own); string(got) != "mine" {
		t.Error("a file of the maker's own was touched")
	}
	if err := Write(dir, []papers.File{{Name: "../out.txt"}}); err == nil {
		t.Error("a name that leads out of the folder was written")
	}
}
