package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
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

// examples are the command lines that help and README show, without the file
// their output goes to.
func examples(t *testing.T) (all [][]string) {
	t.Helper()
	parser, err := new(commands).parser(t.Context(), Streams{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := string(text)
	for _, n := range parser.Model.Children {
		if help := n.Help + "\n" + n.Detail; strings.Contains(help, "xample") {
			shown += "\n" + help
		} else if !n.Hidden && n.Name != "help" {
			t.Errorf("casewright %s --help shows no example", n.Name)
		}
	}
	for _, m := range regexp.MustCompile(`(?m)(?:^    |^  |xample: |too: )casewright ([^\n>#]+)`).FindAllStringSubmatch(shown, -1) {
		all = append(all, strings.Fields(m[1]))
	}
	return all
}

// Every example can be typed as it stands: it is understood, and those that
// need no file of the maker's also run.
func TestExamples(t *testing.T) {
	seen := map[string]int{}
	for _, args := range examples(t) {
		seen[args[0]]++
		var out, errs bytes.Buffer
		std := Streams{Out: &out, Err: &errs}
		switch args[0] {
		case "new", "schema", "bend", "help":
			if code := Run(args, std); code != exitOK || out.Len() == 0 {
				t.Errorf("casewright %s: code %d, %s", strings.Join(args, " "), code, &errs)
			}
			continue
		}
		parser, err := new(commands).parser(t.Context(), std, func(int) { t.Errorf("%q ends the program", args) })
		if err != nil {
			t.Fatal(err)
		}
		if _, err := parser.Parse(args); err != nil {
			t.Errorf("casewright %s: %v", strings.Join(args, " "), err)
		}
	}
	for _, name := range []string{"serve", "plan", "check", "fit", "bend", "cut", "new", "schema", "help"} {
		if seen[name] == 0 {
			t.Errorf("no example of casewright %s was found", name)
		}
	}
}
