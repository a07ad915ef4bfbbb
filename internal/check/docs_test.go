package check_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every file with findings has a row in docs/checks.md, and every file that a
// row names is there.
func TestDocsNameEveryCheck(t *testing.T) {
	text, err := os.ReadFile("../../docs/checks.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]bool{}
	named := regexp.MustCompile("`([a-z]+)`")
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(line, "|")
		if len(cells) < 4 {
			continue
		}
		for _, m := range named.FindAllStringSubmatch(cells[1], -1) {
			rows[m[1]] = true
			if _, err := os.Stat(m[1] + ".go"); err != nil {
				t.Errorf("docs/checks.md has a row for %s.go, which is not there", m[1])
			}
		}
	}
	if len(rows) < 10 {
		t.Fatalf("docs/checks.md has rows for %d files only", len(rows))
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	says := regexp.MustCompile(`(?m)(^|[^\]])finding\.Finding\{`) // one of them, not a list
	for _, f := range files {
		code, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(f, ".go")
		if !strings.HasSuffix(f, "_test.go") && says.Match(code) && !rows[name] {
			t.Errorf("%s has findings but no row in docs/checks.md", f)
		}
	}
}
