package app

import (
	"os"
	"path/filepath"
	"strings"
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

// What a run wrote before it was ended half way is taken away by the next,
// and a folder that stood in its way is not.
func TestWriteAfterARunThatWasEnded(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, "b.pdf", "mine.txt")
	if err := os.MkdirAll(filepath.Dir(own), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(own, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, []papers.File{{Name: "a.pdf"}, {Name: "b.pdf"}, {Name: "c.pdf"}}); err == nil {
		t.Fatal("a paper was written over a folder")
	}
	if _, err := os.Stat(filepath.Join(dir, "a.pdf")); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, []papers.File{{Name: "d.pdf"}}); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "a.pdf")); err == nil {
		t.Error("a paper of the run that was ended is still there")
	}
	if _, err := os.Stat(own); err != nil {
		t.Errorf("the folder is gone: %v", err)
	}
	if got, _ := os.ReadFile(filepath.Join(dir, listed)); string(got) != "d.pdf\n" {
		t.Errorf("listed are %q", got)
	}
}

// A list that cannot be read to its end does not pass for a short one.
func TestWriteWithASpoiltList(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, listed), []byte(strings.Repeat("x", 1<<17)), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, nil); err == nil || !strings.Contains(err.Error(), "delete it") {
		t.Errorf("it gives %v", err)
	}
}
