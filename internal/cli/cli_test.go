package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"casewright": func() { os.Exit(Run(os.Args[1:], Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr})) },
	})
}

// The commands as a person types them. $DEMO is the folder of demo pieces.
func TestCommands(t *testing.T) {
	demo, err := filepath.Abs("../../demo")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demo)
			return nil
		},
	})
}

// The problems that docs/cutting.md shows can be solved as they stand.
func TestProblemsOfTheDocs(t *testing.T) {
	text, err := os.ReadFile("../../docs/cutting.md")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for l := range strings.Lines(string(text)) {
		if strings.HasPrefix(l, `    {"name"`) {
			lines = append(lines, l)
		}
	}
	file := filepath.Join(t.TempDir(), "docs.jsonl")
	if err := os.WriteFile(file, []byte(strings.Join(lines, "")), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if code := Run([]string{"cut", file, "--seconds", "0.2"}, Streams{Out: &out, Err: &errs}); code != exitOK || strings.Count(out.String(), "proven best") != 2 {
		t.Errorf("code %d, %s%s", code, &out, &errs)
	}
}
