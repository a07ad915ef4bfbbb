package papers

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/plan"
	"casewright/internal/route"
	"casewright/internal/unit"
)

func TestNothingLeavesTheFrame(t *testing.T) {
	for _, name := range demoNames {
		for _, o := range variants {
			s := composed(t, name, o)
			for i, pg := range s.pages {
				// The frame's line lies four millimetres outside the room; the
				// title block begins there below.
				in := room(pg.paper).Inset(-3.9)
				for _, it := range pg.sheet.Items {
					if r := reach(it); !in.Holds(r) {
						t.Errorf("%s, %s, page %d (%s): %s leaves the frame: %v of %v", name, o, i+1, pg.sheet.Title, what(it), r, in)
					}
				}
			}
		}
	}
}

func what(it drawing.Item) string {
	if t, ok := it.(drawing.Text); ok {
		return fmt.Sprintf("%q", t.S)
	}
	return fmt.Sprintf("a %T", it)
}

func TestNoTypeStandsOnType(t *testing.T) {
	for _, name := range demoNames {
		for _, o := range variants {
			page := 0
			templates, err := Templates(demo(t, name), o)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range append(composed(t, name, o).papers(), templates...) {
				for _, sheet := range p.Sheets {
					page++
					for _, pair := range clashes(sheet) {
						t.Errorf("%s, %s, page %d (%s): %s", name, o, page, sheet.Title, pair)
					}
				}
			}
		}
	}
}

// clashes names the pairs of texts that overlap by more than a hair: 0.25 mm
// both ways, less than the white about any line.
func clashes(sheet drawing.Sheet) []string {
	all := texts(sheet.Items)
	boxes := make([]drawing.Rect, len(all))
	for i, t := range all {
		boxes[i] = box(t).Inset(0.125)
	}
	var out []string
	for i := range all {
		for j := range i {
			if boxes[i].Overlaps(boxes[j]) {
				out = append(out, fmt.Sprintf("%q on %q", all[i].S, all[j].S))
			}
		}
	}
	return out
}

func TestClashesAreFound(t *testing.T) {
	sheet := drawing.Sheet{Items: []drawing.Item{
		drawing.Text{At: drawing.Pt{X: 10, Y: 10}, S: "one", Size: 3},
		drawing.Text{At: drawing.Pt{X: 12, Y: 11}, S: "two", Size: 3},
		drawing.Text{At: drawing.Pt{X: 10, Y: 20}, S: "three", Size: 3},
	}}
	if got := clashes(sheet); len(got) != 1 {
		t.Errorf("clashes %q, want the one pair", got)
	}
}

// said is all that the pages of a place say, a line to a text.
func said(s *set, place Place, name string) string {
	var b strings.Builder
	for _, pg := range s.pages {
		if pg.place == place && strings.HasPrefix(pg.name, name) {
			for _, t := range texts(pg.sheet.Items) {
				b.WriteString(t.S + "\n")
			}
		}
	}
	return b.String()
}

func TestEveryPartIsListedAndCutFromSomething(t *testing.T) {
	for _, name := range demoNames {
		p := demo(t, name)
		s := composed(t, name, Options{})
		list, panels, buy := said(s, Desk, "parts list"), said(s, Yard, "panels"), said(s, Yard, "what to buy")
		boards := map[string]bool{}
		for _, w := range strings.Fields(buy) {
			boards[w] = true
		}
		for _, part := range p.Model.Parts {
			line := regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(part.Letter) + `$`)
			if !line.MatchString(list) {
				t.Errorf("%s: part %s is not on the parts list", name, part.Letter)
			}
			onPanel := regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(part.Letter) + `(  |: |$)`).MatchString(panels)
			if !onPanel && !boards[part.Letter] {
				t.Errorf("%s: part %s lies on no panel and no board", name, part.Letter)
			}
		}
	}
}

func TestEverySettingIsOnTheSawPapers(t *testing.T) {
	for _, name := range demoNames {
		p := demo(t, name)
		s := composed(t, name, Options{})
		for _, q := range p.Setups {
			lines := strings.Split(said(s, Saw, q.Title), "\n")
			for _, st := range q.Setups {
				want := st.Setting
				if st.Guide != 0 {
					want = st.Guide
				}
				if !slices.Contains(lines, fmt.Sprint(st.N)) || !slices.Contains(lines, s.fig(want)) && !slices.Contains(lines, s.size(want)) {
					t.Errorf("%s, %s: setting %d at %s is missing", name, q.Title, st.N, s.size(want))
				}
			}
		}
	}
}

func TestPagesAreCounted(t *testing.T) {
	papers, err := Set(demo(t, "record-cabinet"), Options{Date: "3 May"})
	if err != nil {
		t.Fatal(err)
	}
	n, of := 0, 0
	for _, p := range papers {
		of += len(p.Sheets)
	}
	last := -1
	order := []Place{Desk, Yard, Saw, Bench, Glue, Finish, Delivery}
	for _, p := range papers {
		if i := slices.Index(order, p.Place); i < last {
			t.Errorf("%s comes after a later place of work", p.Name)
		} else {
			last = i
		}
		for _, sheet := range p.Sheets {
			n++
			var all []string
			for _, x := range texts(sheet.Items) {
				all = append(all, x.S)
			}
			for _, want := range []string{fmt.Sprintf("%d of %d", n, of), "3 May", "mm (in)", "Low record cabinet"} {
				if !slices.Contains(all, want) {
					t.Errorf("page %d does not say %q", n, want)
				}
			}
		}
	}
}

func TestSamePlanSameBytes(t *testing.T) {
	for _, name := range demoNames {
		a, err := Files(demo(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Files(demo(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(a) != len(b) {
			t.Fatalf("%s: %d files, then %d", name, len(a), len(b))
		}
		seen := map[string]bool{}
		for i := range a {
			if a[i].Name != b[i].Name || !bytes.Equal(a[i].Data, b[i].Data) {
				t.Errorf("%s: %s is not the same twice", name, a[i].Name)
			}
			if seen[a[i].Name] || len(a[i].Data) == 0 || !filepath.IsLocal(a[i].Name) {
				t.Errorf("%s: %q comes twice, is empty, or leads out of its folder", name, a[i].Name)
			}
			seen[a[i].Name] = true
		}
		for _, want := range []string{"papers.pdf", "parts.csv", "findings.txt", "plan.json", "drawings/front.svg", "outlines/part-a.dxf"} {
			if !seen[want] {
				t.Errorf("%s: no %s", name, want)
			}
		}
	}
}

func TestPartsListReadsBack(t *testing.T) {
	p := demo(t, "clinic-cabinet")
	p.Model.Parts = slices.Clone(p.Model.Parts)
	p.Model.Parts[0].Name, p.Model.Parts[0].Note = `side, "left"`, "=SUM(A1)"
	rows, err := csv.NewReader(bytes.NewReader(PartsCSV(p))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(p.Model.Parts)+1 {
		t.Fatalf("%d lines for %d parts", len(rows), len(p.Model.Parts))
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[h] = i
	}
	for i, part := range p.Model.Parts {
		row := rows[i+1]
		for column, want := range map[string]string{
			"letter": part.Letter, "count_one": fmt.Sprint(part.Count), "count_all": fmt.Sprint(6 * part.Count), "material": part.Material,
		} {
			if row[at[column]] != want {
				t.Errorf("%s of %s is %q, want %q", column, part.Letter, row[at[column]], want)
			}
		}
		for column, want := range map[string]unit.Length{
			"finished_length": part.Length.Size, "cut_width": part.CutWidth(), "finished_thickness": part.Thickness.Size,
		} {
			mm, err := unit.ParseLength(row[at[column+"_mm"]]+" mm", unit.Metric)
			if err != nil || (mm-want).Abs() > unit.Micrometre {
				t.Errorf("%s_mm of %s is %q (%v), want %v", column, part.Letter, row[at[column+"_mm"]], err, want)
			}
			in, err := unit.ParseLength(strings.TrimPrefix(row[at[column+"_in"]], unit.Approx)+" in", unit.Metric)
			if err != nil || (in-want).Abs() > unit.Inch64/2 {
				t.Errorf("%s_in of %s is %q (%v), want within half of 1/64 in of %v", column, part.Letter, row[at[column+"_in"]], err, want)
			}
		}
	}
	if rows[1][at["name"]] != `side, "left"` || rows[1][at["note"]] != "'=SUM(A1)" {
		t.Errorf("name %q, note %q: quotes and formulas must come through as words", rows[1][at["name"]], rows[1][at["note"]])
	}
}

func TestPlanIsWrittenWhole(t *testing.T) {
	p := demo(t, "record-cabinet")
	files, err := Files(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(files, func(f File) bool { return f.Name == "plan.json" })
	var got struct {
		Revision string
		Model    struct{ Parts []struct{ Letter string } }
		Setups   []json.RawMessage
	}
	if err := json.Unmarshal(files[i].Data, &got); err != nil {
		t.Fatal(err)
	}
	if got.Revision != p.Revision || len(got.Model.Parts) != len(p.Model.Parts) || len(got.Setups) != len(p.Setups) {
		t.Errorf("plan.json holds %d parts and %d sequences of revision %s", len(got.Model.Parts), len(got.Setups), got.Revision)
	}
}

func TestTemplatesHaveTheirSize(t *testing.T) {
	for _, o := range variants {
		papers, err := Templates(demo(t, "record-cabinet"), o)
		if err != nil {
			t.Fatal(err)
		}
		bars, arcs := 0, 0
		for _, p := range papers {
			for _, sheet := range p.Sheets {
				for _, it := range flat(sheet.Items) {
					st, ok := it.(drawing.Stroke)
					if !ok {
						continue
					}
					for _, path := range st.Paths {
						r := drawing.View{Items: []drawing.Item{drawing.Stroke{Paths: []drawing.Path{path}}}}.Bounds()
						if near2(max(r.W, r.H), 100) && near2(min(r.W, r.H), 0) || near2(max(r.W, r.H), 101.6) && near2(min(r.W, r.H), 0) {
							bars++
						}
						for i, n := range path.Nodes {
							if n.Bulge == 0 || i+1 == len(path.Nodes) {
								continue
							}
							// Opening corners of 50 and fronts of 48 (demo A: shell
							// radius 80 less the stile of 30, less the gap of 2).
							if a := drawing.ArcOf(n.Pt, path.Nodes[i+1].Pt, n.Bulge); near2(a.Radius, 50) || near2(a.Radius, 48) {
								arcs++
							}
						}
					}
				}
			}
		}
		if bars < 2*len(papers) || arcs < 2 {
			t.Errorf("%s: %d check bars on %d templates, %d of the corner arcs of R 50 and R 48", o, bars, len(papers), arcs)
		}
	}
	if papers, err := Templates(demo(t, "chest"), Options{}); err != nil || papers != nil {
		t.Errorf("a piece without bends has %d templates (%v)", len(papers), err)
	}
}

func near2(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

func flat(items []drawing.Item) []drawing.Item {
	var out []drawing.Item
	for _, it := range items {
		if c, ok := it.(drawing.Clip); ok {
			out = append(out, flat(c.Items)...)
			continue
		}
		out = append(out, it)
	}
	return out
}

func TestMirroredPairs(t *testing.T) {
	two := build.Part{Letter: "A", Count: 3, Places: []build.Place{{}, {Frame: geom.Frame{Mirror: true}}, {}}}
	for _, c := range []struct {
		count           int
		pair            bool
		drawn, mirrored int
	}{{1, false, 2, 1}, {6, false, 12, 6}, {2, true, 3, 3}, {6, true, 9, 9}, {0, false, 2, 1}} {
		s := &set{p: plan.Plan{}}
		s.p.Piece.Count, s.p.Piece.Pair = c.count, c.pair
		if d, m := s.hands(two); d != c.drawn || m != c.mirrored {
			t.Errorf("%+v: %d as drawn, %d mirrored", c, d, m)
		}
	}
}

func TestKerfNamesAreShortened(t *testing.T) {
	s := &set{}
	s.p.Model.Bends = []build.Bend{{Name: "top"}, {Name: "top left"}}
	short, legend := s.kerfNames(build.Part{Kerfs: []build.KerfGroup{{Bend: 0}, {Bend: 1}}})
	for kerf, want := range map[string]string{"top 3": "a3", "top left 13": "b13", "top left 2 pass 2": "b2 pass 2", "elsewhere 1": "elsewhere 1"} {
		if got := short(kerf); got != want {
			t.Errorf("%q is shortened to %q, want %q", kerf, got, want)
		}
	}
	if legend != "Kerfs are counted from the near end: a is top, b is top left." {
		t.Error(legend)
	}
}

func TestPiecesCutAlikeShareALine(t *testing.T) {
	for want, of := range map[string][]string{
		"panel 1": {"panel 1"}, "panels 1, 2 and 3": {"panel 1", "panel 2", "panel 3"},
		"panels 1-2 and 3": {"panels 1-2", "panel 3"}, "strips 1.1 and 2.2": {"strip 1.1", "strip 2.2"}, "panel 1 and strip 1.1": {"panel 1", "strip 1.1"},
	} {
		if got := together(of); got != want {
			t.Errorf("together(%q) is %q, want %q", of, got, want)
		}
	}
}

func TestOddPlansCanBePrinted(t *testing.T) {
	long := strings.Repeat("a very long name that goes on ", 8)
	whole := demo(t, "record-cabinet")
	for name, p := range map[string]plan.Plan{
		"empty":       {},
		"no layouts":  {Model: whole.Model, Piece: whole.Piece, Shop: whole.Shop},
		"long words":  named(whole, long),
		"many stops":  {Findings: slices.Repeat([]finding.Finding{{Level: finding.Stop, Place: long, Says: long, Advice: long}}, 20)},
		"one opening": {Model: build.Model{Openings: []build.Opening{{Front: "Z", BoxMax: 5, Gap: 1}}, Joints: []build.Joint{{A: "Q"}}}},
	} {
		if _, err := Files(p, Options{}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func named(p plan.Plan, name string) plan.Plan {
	p.Piece.Name = name
	p.Model.Parts = slices.Clone(p.Model.Parts)
	for i := range p.Model.Parts {
		p.Model.Parts[i].Name = name
	}
	return p
}

func TestOptionsAreChecked(t *testing.T) {
	for _, o := range []Options{{Paper: "a0"}, {Units: "cubits"}} {
		if _, err := Set(plan.Plan{}, o); err == nil {
			t.Errorf("%+v is taken", o)
		}
	}
}

func TestCautionsDefer(t *testing.T) {
	s := composed(t, "record-cabinet", Options{})
	for _, q := range s.p.Setups {
		if got := strings.Join(strings.Fields(said(s, Saw, q.Title)), " "); !strings.Contains(got, route.LastWord) {
			t.Errorf("the paper %q does not defer to codes, manual and practice", q.Title)
		}
	}
}

// TestTextOfTheRecordCabinet compares what an independent reader (poppler)
// finds in the PDF with a text that was read by eye. Renew it with
// GOLDEN=write after reading the difference.
func TestTextOfTheRecordCabinet(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext of poppler-utils is not installed")
	}
	files, err := Files(demo(t, "record-cabinet"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "papers.pdf")
	if err := os.WriteFile(file, files[0].Data, 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := exec.Command(tool, "-layout", "-enc", "UTF-8", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	// The mark changes with every word of the three documents.
	got = bytes.ReplaceAll(got, []byte(demo(t, "record-cabinet").Revision), []byte("REVISION"))
	// How many spaces stand between columns is the reader's guess.
	got = regexp.MustCompile(` +`).ReplaceAll(got, []byte(" "))
	golden := "testdata/record-cabinet.txt"
	if os.Getenv("GOLDEN") == "write" {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		a, b := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
		for i := range min(len(a), len(b)) {
			if a[i] != b[i] {
				t.Fatalf("line %d of the papers is\n%s\nand was\n%s", i+1, b[i], a[i])
			}
		}
		t.Fatalf("the papers have %d lines and had %d", len(b), len(a))
	}
}

func BenchmarkPapers(b *testing.B) {
	for _, name := range demoNames {
		p := demo(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Files(p, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
