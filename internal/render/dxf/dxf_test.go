package dxf_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/drawing/drawtest"
	"casewright/internal/render/dxf"
	"casewright/internal/unit"
)

// read opens the drawing with ezdxf, an independent reader of DXF, which also
// audits it.
const read = `
import sys, json
try:
    import ezdxf
except ImportError:
    sys.exit(3)
from ezdxf.lldxf.encoding import decode_dxf_unicode
files = []
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    audit = doc.audit()
    out = {"errors": [str(e.message) for e in audit.errors], "fixes": [str(e.message) for e in audit.fixes],
      "units": doc.units, "version": doc.dxfversion, "layers": sorted(l.dxf.name for l in doc.layers), "entities": []}
    for e in doc.modelspace():
        d = {"kind": e.dxftype(), "layer": e.dxf.layer}
        if e.dxftype() == "LWPOLYLINE":
            d["points"] = [list(p) for p in e.get_points("xyb")]
            d["closed"] = bool(e.closed)
        elif e.dxftype() == "LINE":
            d["points"] = [list(e.dxf.start)[:2] + [0], list(e.dxf.end)[:2] + [0]]
        elif e.dxftype() == "CIRCLE":
            d["points"] = [list(e.dxf.center)[:2] + [e.dxf.radius]]
        elif e.dxftype() == "TEXT":
            d["text"] = decode_dxf_unicode(e.dxf.text)
        out["entities"].append(d)
    files.append(out)
print(json.dumps(files))
`

type entity struct {
	Kind, Layer, Text string
	Closed            bool
	Points            [][3]float64
}

type file struct {
	Errors, Fixes, Layers []string
	Units                 int
	Version               string
	Entities              []entity
}

// reread writes the drawings and reads them in one run of the interpreter.
func reread(t *testing.T, drawings ...*dxf.Drawing) []file {
	t.Helper()
	dir := t.TempDir()
	args := []string{"-c", read}
	for i, d := range drawings {
		var b bytes.Buffer
		if err := d.Write(&b); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(dir, strconv.Itoa(i)+".dxf")
		if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	var stderr bytes.Buffer
	cmd := exec.Command("/usr/bin/python3", args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.Is(err, os.ErrNotExist) || errors.As(err, &exit) && exit.ExitCode() == 3 {
		t.Skip("ezdxf is not installed for /usr/bin/python3 (Debian: python3-ezdxf); the drawings were not read by it")
	}
	if err != nil {
		t.Fatalf("ezdxf: %v\n%s", err, stderr.String())
	}
	var files []file
	if err := json.Unmarshal(out, &files); err != nil {
		t.Fatal(err)
	}
	for i, f := range files {
		if len(f.Errors)+len(f.Fixes) > 0 {
			t.Errorf("file %d: audit: errors %q, fixed %q", i, f.Errors, f.Fixes)
		}
		if f.Units != 4 || f.Version != "AC1015" {
			t.Errorf("file %d: units %d, version %s; want millimetres (4), AC1015", i, f.Units, f.Version)
		}
	}
	return files
}

func count(f file, layer, kind string) (n int) {
	for _, e := range f.Entities {
		if e.Layer == layer && e.Kind == kind {
			n++
		}
	}
	return n
}

func TestReadsBack(t *testing.T) {
	cabinet, shell := drawtest.SmallCabinet(), drawtest.BentShell()
	job := cutting.Job{Sheets: []cutting.Sheet{{ID: "p", W: unit.MM(2440), H: unit.MM(1220)}}, Items: []cutting.Item{{ID: "A"}}}
	l := cutting.Layout{Parts: []cutting.Placed{{X: unit.MM(10), Y: unit.MM(10), W: unit.MM(500), H: unit.MM(300)}, {X: unit.MM(513), Y: unit.MM(10), W: unit.MM(500), H: unit.MM(300)}}}
	files := reread(t, dxf.Part(cabinet.Parts[0]), dxf.Part(shell.Parts[0]), dxf.Part(shell.Parts[2]), dxf.Layout(job, l, []string{"A ä × 3/4″"}))
	t.Run("part", func(t *testing.T) { part(t, files[0]) })
	t.Run("kerfs and arcs", func(t *testing.T) { kerfsAndArcs(t, files[1], files[2]) })
	t.Run("layout", func(t *testing.T) { layout(t, files[3]) })
}

func part(t *testing.T, f file) {
	// A side: one outline, a groove for the back, six holes for pins.
	if count(f, dxf.Outline, "LWPOLYLINE") != 1 || count(f, dxf.Grooves, "LWPOLYLINE") != 1 || count(f, dxf.Holes, "CIRCLE") != 6 {
		t.Errorf("entities: %+v", f.Entities)
	}
	want := [][3]float64{{0, 0, 0}, {500, 0, 0}, {500, 300, 0}, {0, 300, 0}}
	if got := f.Entities[0].Points; !f.Entities[0].Closed || len(got) != 4 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] || got[3] != want[3] {
		t.Errorf("outline %v, want %v", got, want)
	}
	for _, e := range f.Entities {
		if e.Kind == "CIRCLE" && e.Points[0][2] != 2.5 {
			t.Errorf("radius of hole %v, want 2.5", e.Points[0][2])
		}
	}
	if !strings.Contains(strings.Join(f.Layers, " "), dxf.Kerfs) {
		t.Errorf("layers %v", f.Layers)
	}
}

func kerfsAndArcs(t *testing.T, f, back file) {
	if n := count(f, dxf.Kerfs, "LINE"); n != 16 {
		t.Errorf("%d kerfs, want 16", n)
	}
	arcs := 0
	for _, p := range back.Entities[0].Points {
		if p[2] != 0 {
			arcs++
			// tan(22.5°), the bulge of a quarter circle by the DXF reference.
			if math.Abs(p[2]-0.414213562) > 1e-9 {
				t.Errorf("bulge %v", p[2])
			}
		}
	}
	if arcs != 2 {
		t.Errorf("%d arcs, want 2", arcs)
	}
}

func layout(t *testing.T, f file) {
	if count(f, dxf.Outline, "LWPOLYLINE") != 2 || count(f, dxf.Words, "TEXT") != 2 {
		t.Errorf("entities: %+v", f.Entities)
	}
	if got := f.Entities[3].Points[0]; got != [3]float64{513, 10, 0} {
		t.Errorf("second part at %v, want 513, 10", got)
	}
	if got := f.Entities[2].Text; got != "A ä × 3/4″" {
		t.Errorf("text %q", got)
	}
}

func TestSameBytesTwice(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := dxf.Part(drawtest.BentShell().Parts[0]).Write(w); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same part gave two files")
	}
}
