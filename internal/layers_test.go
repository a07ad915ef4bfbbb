package internal

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// layers lists the packages from the ground up. A package may import those of
// lower layers only, so that the way of the data is the way of the imports.
var layers = [][]string{
	{"unit"},
	{"geom", "finding", "table"},
	{"wood", "bend", "cutting", "opening", "document"},
	{"cutting/verify", "shop", "piece", "record"},
	{"cutting/benchfile", "saw", "build"},
	{"yard"},
	{"route", "fit"},
	{"check"},
	{"price"},
	{"plan"},
	{"drawing"},
	{"drawing/drawtest"},
	{"render/svg", "render/pdf", "render/dxf", "render/glb"},
	{"papers"},
	{"station"},
	{"scene"},
	{"store"},
	{"store/sqlite", "store/storetest"},
	{"app"},
	{"server"},
	{"cli", "server/load", "cutting/benchfile/run", "cutting/benchfile/draw"},
}

// narrow lists packages that may import no more than these, whatever their
// layer: they are mechanics and search, of use without any piece.
var narrow = map[string][]string{
	"bend":    {"unit", "geom", "finding"},
	"cutting": {"unit", "geom", "finding"},
	"saw":     {"unit", "cutting"},
	"opening": {"unit", "geom"},
}

// engineForbids are imports that would make the engine impure.
var engineForbids = map[string]string{
	"os": "it reads files", "net": "it reaches the network", "net/http": "it reaches the network",
	"os/exec": "it runs programs", "math/rand": "its default source is not seeded",
}

// clockCalls would make a plan depend on when it is made.
var clockCalls = []string{"time.Now(", "time.Since(", "time.After(", "time.Tick("}

const module = "casewright/internal/"

func TestImportsPointOneWay(t *testing.T) {
	rank := map[string]int{}
	for i, names := range layers {
		for _, n := range names {
			rank[n] = i
		}
	}
	engine := rank["store/sqlite"] // all below it is the engine
	for _, pkg := range packages(t) {
		r, known := rank[pkg]
		if !known {
			t.Errorf("package %s stands in no layer; give it one in layers_test.go", pkg)
			continue
		}
		if r < engine {
			for _, call := range clockCalls {
				if file := calling(t, pkg, call); file != "" {
					t.Errorf("%s calls %s): the engine reads no clock", file, call)
				}
			}
		}
		for _, imp := range imports(t, pkg) {
			if why, bad := engineForbids[imp]; bad && r < engine {
				t.Errorf("%s imports %s: the engine is pure, but so %s", pkg, imp, why)
			}
			dep, ours := strings.CutPrefix(imp, module)
			if !ours {
				continue
			}
			if rank[dep] >= r {
				t.Errorf("%s imports %s, which stands above or beside it; imports point from the plan down to units, never back", pkg, dep)
			}
			if only, ok := narrow[pkg]; ok && !slices.Contains(only, dep) {
				t.Errorf("%s imports %s; it may know only %v", pkg, dep, only)
			}
		}
	}
}

// packages are the folders below this one that hold Go code.
func packages(t *testing.T) []string {
	seen := map[string]bool{}
	var out []string
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		dir := filepath.ToSlash(filepath.Dir(path))
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") && dir != "." && !seen[dir] {
			seen[dir] = true
			out = append(out, dir)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sources are the files of a package without its tests.
func sources(t *testing.T, dir string) []string {
	all, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range all {
		if !strings.HasSuffix(f, "_test.go") {
			out = append(out, f)
		}
	}
	return out
}

// calling is the first file of a package that holds the text of a call.
func calling(t *testing.T, dir, call string) string {
	for _, name := range sources(t, dir) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), call) {
			return name
		}
	}
	return ""
}

// imports are those of a package without its tests.
func imports(t *testing.T, dir string) []string {
	var out []string
	for _, name := range sources(t, dir) {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			p, _ := strconv.Unquote(i.Path.Value)
			out = append(out, p)
		}
	}
	return out
}
