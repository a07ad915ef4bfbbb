package drawing

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// give sets the size at a path of the piece, as an edit of its text would.
func give(t require, p *piece.Piece, path string, size unit.Length) {
	t.Helper()
	v := reflect.ValueOf(p).Elem()
	for _, step := range strings.FieldsFunc(path, func(c rune) bool { return c == '.' || c == '[' }) {
		for v.Kind() == reflect.Pointer {
			c := reflect.New(v.Type().Elem()) // what is shared with another piece stays as it is
			c.Elem().Set(v.Elem())
			v.Set(c)
			v = c.Elem()
		}
		switch v.Kind() {
		case reflect.Slice:
			i, err := strconv.Atoi(strings.TrimSuffix(step, "]"))
			if err != nil || i >= v.Len() {
				t.Fatalf("%s: no item %s", path, step)
			}
			c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(c, v)
			v.Set(c)
			v = c.Index(i)
		case reflect.Map:
			c := reflect.MakeMap(v.Type())
			for _, k := range v.MapKeys() {
				c.SetMapIndex(k, v.MapIndex(k))
			}
			c.SetMapIndex(reflect.ValueOf(step), reflect.ValueOf(size))
			v.Set(c)
			return
		case reflect.Struct:
			i := slices.IndexFunc(reflect.VisibleFields(v.Type()), func(f reflect.StructField) bool {
				return strings.Split(f.Tag.Get("yaml"), ",")[0] == step
			})
			if i < 0 {
				t.Fatalf("%s: no field %s", path, step)
			}
			v = v.Field(i)
		}
	}
	v.Set(reflect.ValueOf(size))
}

type require interface {
	Helper()
	Fatalf(string, ...any)
}

// shownAs are the sizes on screen that stand for a path, by view.
func shownAs(p piece.Piece, m build.Model, path string) []Dim {
	o := Options{Units: p.Units}.ForScreen(p, m)
	var out []Dim
	for _, c := range slices.Concat(frontChains(m, o), sideChains(m, o), topChains(m, o)) {
		for _, d := range c.Dims {
			if d.Field == path {
				out = append(out, d)
			}
		}
	}
	for _, c := range o.Corners {
		if c.Path == path {
			r := math.Hypot(c.On.X-c.Centre.X, c.On.Y-c.Centre.Y)
			out = append(out, Dim{To: r, Size: c.Radius, Field: path})
		}
	}
	return out
}

// edges are the places along an axis at which something of the model begins or
// ends.
func edges(m build.Model, a Axis) []float64 {
	d := [...]vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}[a]
	out := []float64{0}
	for _, s := range solids(m) {
		lo, hi := s.along(d)
		out = append(out, lo, hi)
	}
	for _, op := range m.Openings {
		if a == AxisX {
			out = append(out, op.X.MM(), (op.X + op.Width.Size).MM())
		}
		if a == AxisZ {
			out = append(out, op.Z.MM(), (op.Z + op.Height.Size).MM())
		}
	}
	return out
}

// hasEdge reports whether a place is one of the edges; figures in inches are
// no whole micrometres.
func hasEdge(es []float64, at unit.Length) bool {
	return slices.ContainsFunc(es, func(e float64) bool { return math.Abs(e-at.MM()) < 0.003 })
}

// allFields are those of lengths and of corners.
func allFields(p piece.Piece, m build.Model) []Field {
	out := Fields(p, m)
	for _, c := range Corners(p, m) {
		out = append(out, Field{Path: c.Path, To: c.Radius})
	}
	return out
}

// rowsFull reports whether a view from the front has all the rows of fields along
// an axis that it has room for: columns of two rows that were in line, and are not
// any more, have a field each, one over the other.
func rowsFull(p piece.Piece, m build.Model, axis Axis) bool {
	side := Below
	if axis == AxisZ {
		side = LeftOf
	}
	with, without := 0, 0
	for _, c := range frontChains(m, Options{Units: p.Units}.ForScreen(p, m)) {
		if c.Side == side {
			with++
		}
	}
	for _, c := range frontChains(m, Options{}) {
		if c.Side == side {
			without++
		}
	}
	return with-without == mostRows
}

// checkFields holds fields to what it promises: it stands between two
// edges of the model, giving it the size that is shown changes nothing, and
// giving it 10 mm more or less changes what is drawn by as much. It gives the
// number of sizes that were changed.
func checkFields(t require, p piece.Piece, s shop.Shop, m build.Model, fields []Field) int {
	t.Helper()
	n := 0
	done := map[string]bool{}
	for _, f := range fields {
		corner := strings.HasPrefix(f.Path, "case.radi")
		if es := edges(m, f.Axis); !corner && !(hasEdge(es, f.From) && hasEdge(es, f.To)) {
			t.Fatalf("%s runs from %v to %v, where nothing begins or ends", f.Path, f.From.MM(), f.To.MM())
		}
		if done[f.Path] {
			continue
		}
		done[f.Path] = true
		before := shownAs(p, m, f.Path)
		for _, by := range []unit.Length{0, 10 * unit.Millimetre, -10 * unit.Millimetre} {
			if f.Size()+by <= 0 {
				continue
			}
			q := p
			give(t, &q, f.Path, f.Size()+by)
			k, err := build.Make(q, s, record.Record{})
			if err != nil {
				// Other sizes have limits of their own; but those given must
				// never be at odds because of one that can be typed over.
				says := err.Error()
				odds := strings.Contains(says, "add up to") && !strings.Contains(says, "nothing is left")
				if by == 0 || odds || strings.Contains(says, "is asked for") {
					t.Fatalf("%s: by %v mm: %v", f.Path, by.MM(), err)
				}
				continue
			}
			after := shownAs(q, k, f.Path)
			if len(before) > 0 && len(after) == 0 && !rowsFull(q, k, f.Axis) {
				t.Fatalf("%s: not shown after %v mm", f.Path, by.MM())
			}
			for _, d := range after {
				if got := (d.Size - f.Size() - by).Abs(); got > unit.Micrometre {
					t.Fatalf("%s: %v became %v by a change of %v", f.Path, f.Size().MM(), d.Size.MM(), by.MM())
				}
				if drawn := math.Abs(d.To - d.From - d.Size.MM()); drawn > 0.003 {
					t.Fatalf("%s: drawn %v long, said to be %v", f.Path, d.To-d.From, d.Size.MM())
				}
			}
			for _, g := range Fields(q, k) {
				if es := edges(k, g.Axis); g.Path == f.Path && !(hasEdge(es, g.From) && hasEdge(es, g.To)) {
					t.Fatalf("%s: after %v mm it runs from %v to %v, where nothing begins or ends", f.Path, by.MM(), g.From.MM(), g.To.MM())
				}
			}
			if by != 0 && len(after) > 0 {
				n++
			}
		}
	}
	return n
}

func read(t testing.TB, name string) (piece.Piece, shop.Shop) {
	t.Helper()
	open := func(file string) *os.File {
		f, err := os.Open(filepath.Join("..", "..", "demo", file))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	p, err := piece.Decode(name, open(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, open(name+".shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func TestFieldsOfTheDemosCanBeTypedOver(t *testing.T) {
	for name, most := range map[string][]string{
		"record-cabinet": {"case.width", "case.height", "case.depth", "case.radius", "base.height", "frame.stile"},
		// All heights of its drawers are given, so none can change by itself.
		"chest":          {"case.width", "case.depth", "frame.thickness", "case.top.front", "base.height"},
		"clinic-cabinet": {"case.width", "case.height", "case.depth"},
	} {
		p, s := read(t, name)
		m, err := build.Make(p, s, record.Record{})
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range most {
			if len(shownAs(p, m, path)) == 0 {
				t.Errorf("%s: %s cannot be typed over on any view", name, path)
			}
		}
		if n := checkFields(t, p, s, m, allFields(p, m)); n < 2*len(most) {
			t.Errorf("%s: %d sizes were changed", name, n)
		}
	}
}

// A random piece made from one of the shapes to start with: other sizes,
// other spaces, some sizes given and some left to follow.
func TestFieldsOfRandomPiecesCanBeTypedOver(t *testing.T) {
	text := shop.New(unit.Metric)
	s, err := shop.Decode("shop", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	tried, changed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, lo, hi int) unit.Length {
			return unit.Length(rapid.IntRange(lo, hi).Draw(t, name)) * unit.Millimetre
		}
		text, err := piece.New(rapid.SampledFrom([]string{"closed", "u", "chest", "shelf"}).Draw(t, "shape"), unit.Metric)
		if err != nil {
			t.Fatalf("%v", err)
		}
		p, err := piece.Decode("piece", bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%v", err)
		}
		p.Case.Width, p.Case.Height, p.Case.Depth = length("width", 500, 1500), length("height", 400, 1200), length("depth", 330, 500)
		if p.Frame == nil && rapid.Bool().Draw(t, "frame") {
			p.Frame = &piece.Frame{Thickness: length("thick", 18, 24), Stile: length("stile", 40, 60), Joint: "dowel", Inner: "square"}
			p.Materials["frame"] = "oak"
		}
		if f := p.Frame; f != nil && rapid.Bool().Draw(t, "rails") {
			f.TopRail, f.BottomRail, f.Rail = length("top rail", 0, 60), length("bottom rail", 40, 60), length("rail", 20, 30)
		}
		var split func(depth int, w, h unit.Length) piece.Opening
		split = func(depth int, w, h unit.Length) piece.Opening {
			var o piece.Opening
			n := rapid.IntRange(2, 3).Draw(t, "parts")
			given := func(name string, of unit.Length) unit.Length {
				if rapid.Bool().Draw(t, "given") {
					return 0
				}
				return of / unit.Length(n+1)
			}
			switch rapid.IntRange(0, 3).Draw(t, "split") {
			case 0:
				for range n {
					c := piece.Opening{}
					if depth < 2 {
						c = split(depth+1, w/3, h)
					}
					c.Width = given("width", w).Round(unit.Millimetre)
					o.Columns = append(o.Columns, c)
				}
			case 1:
				for range n {
					c := piece.Opening{}
					if depth < 2 {
						c = split(depth+1, w, h/3)
					}
					c.Height = given("height", h).Round(unit.Millimetre)
					o.Rows = append(o.Rows, c)
				}
			case 2:
				o.Shelves = &piece.Shelves{Fixed: []unit.Length{h / 3}, Joint: "housing", Setback: 2 * unit.Millimetre}
			}
			return o
		}
		p.Inside = split(0, p.Case.Width-150*unit.Millimetre, p.Case.Height-150*unit.Millimetre)
		m, err := build.Make(p, s, record.Record{})
		if err != nil {
			return // such a piece cannot be built
		}
		tried++ // of the fields three are tried, for every try builds the piece anew
		fields := allFields(p, m)
		some := rapid.Permutation(fields).Draw(t, "fields")
		changed += checkFields(t, p, s, m, some[:min(3, len(some))])
	})
	if tried == 0 || changed < tried {
		t.Errorf("%d pieces were built, %d sizes changed", tried, changed)
	}
}

func TestWords(t *testing.T) {
	for path, want := range map[string]string{
		"case.width":                         "case width",
		"frame.top-rail":                     "frame top rail",
		"inside.columns[0].rows[1].height":   "inside, column 1, row 2, height",
		"inside.columns[2].shelves.fixed[0]": "inside, column 3, shelves, fixed 1",
	} {
		if got := Words(path); got != want {
			t.Errorf("%s is said as %q", path, got)
		}
	}
}
