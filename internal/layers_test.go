package internal

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// layers lists the packages from the ground up. A package may import those of
// lower layers only, so that the way of the data is the way of the imports.
var layers = [][]string{
	{"unit"},
	{"geom", "finding"},
	{"wood", "bend", "cutting", "document"},
	{"cutting/verify", "cutting/benchfile", "shop", "piece", "record"},
	{"saw", "build"},
	{"check", "stock"},
	{"plan"},
	{"drawing"},
	{"render/svg", "render/pdf", "render/dxf", "render/glb"},
	{"papers"},
	{"app"},
	{"server", "cli"},
}

// narrow lists packages that may import no more than these, whatever their
// layer: they are mechanics and search, of use without any piece.
var narrow = map[string][]string{
	"bend":    {"unit", "geom", "finding"},
	"cutting": {"unit", "geom", "finding"},
	"saw":     {"unit", "cutting"},
}

// engineForbids are imports that would make the engine impure.
var engineForbids = map[string]string{
	"os": "it reads files", "net": "it reaches the network", "net/http": "it reaches the network",
	"time": "it reads the clock", "os/exec": "it runs programs", "math/rand": "its default source is not seeded",
}

const module = "casewright/internal/"

func TestImportsPointOneWay(t *testing.T) {
	rank := map[string]int{}
	for i, names := range layers {
		for _, n := range names {
			rank[n] = i
		}
	}
	app := rank["app"]
	for _, pkg := range packages(t) {
		r, known := rank[pkg]
		if !known {
			t.Errorf("package %s stands in no layer; give it one in layers_test.go", pkg)
			continue
		}
		for _, imp := range imports(t, pkg) {
			if why, bad := engineForbids[imp]; bad && r < app {
				t.Errorf("%s imports %s: the engine is pure, but so %s", pkg, imp, why)
			}
			dep, ours := strings.CutPrefix(imp, module)
			if !ours {
				continue
			}
			if rank[dep] >= r {
				t.Errorf("%s imports %s, which stands above or beside it; imports point from the plan down to units, never back", pkg, dep)
			}
			if only, ok := narrow[pkg]; ok && !contains(only, dep) {
				t.Errorf("%s imports %s; it may know only %v", pkg, dep, only)
			}
		}
	}
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
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

// imports are those of a package without its tests.
func imports(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(dir, e.Name()), nil, parser.ImportsOnly)
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
