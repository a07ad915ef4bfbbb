package station

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/papers"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Every part of the plan lies on a layout of the page as often as it is made,
// and the list adds up to what it says.
func TestYardShowsEveryPart(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p := demo(t, name, "")
		page := YardPage(t.Context(), p)
		want := map[string]int{}
		for _, s := range p.Panels {
			for i, it := range s.Job.Items {
				want[s.Letters[i]] += it.Qty
			}
		}
		for _, s := range page.Panels {
			for _, l := range s.Layouts {
				copies := p.Panels[slices.IndexFunc(p.Panels, func(q yard.Panel) bool { return q.Key == s.Key })].Result.Layouts[l.N-1].Copies
				for _, q := range l.Parts {
					want[q.Letter] -= q.Count * copies
				}
				if l.Share <= 0 || l.Share > 1 {
					t.Errorf("%s: a layout is %v of the longest", name, l.Share)
				}
			}
		}
		for letter, n := range want {
			if n != 0 {
				t.Errorf("%s: %d of %s lie on no layout", name, n, letter)
			}
		}
		sum := unit.Money(0)
		for _, l := range page.Buying {
			if l.Price != "" {
				m, err := unit.ParseMoney(l.Price)
				if err != nil {
					t.Fatal(err)
				}
				sum += m
			}
		}
		if !strings.Contains(page.Total, sum.Format()) {
			t.Errorf("%s: the lines add up to %s, the page says %q", name, sum.Format(), page.Total)
		}
		if !strings.HasPrefix(page.Answer, "Everything comes out of ") {
			t.Errorf("%s: %q", name, page.Answer)
		}
	}
}

// Boards typed in at the yard are laid out, and the page says which parts
// still have no place.
func TestYardTakesBoards(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	before := YardPage(t.Context(), p)
	form := before.Boards[1].Form
	text := document.Marshal(p.Shop, p.Shop.Units)
	text, err := document.Edit("", shop.Doc, &shop.Shop{}, text, []document.Change{{Path: form.Path, Do: "insert", Value: "{thickness: " + form.Thickness + ", width: 150, length: 1000}"}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode("", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	with := YardPage(t.Context(), withShop(t, p, s)).Boards[1]
	if len(with.Form.Typed) != 1 || len(with.Layouts) != 1 || len(with.Short) == 0 {
		t.Errorf("after a short board: %d typed, %d layouts, short %q", len(with.Form.Typed), len(with.Layouts), with.Short)
	}
	if !strings.Contains(with.Form.Path, "boards[1]") {
		t.Errorf("the next board would go to %s", with.Form.Path)
	}
	for i := range 6 {
		if text, err = document.Edit("", shop.Doc, &shop.Shop{}, text, []document.Change{{Path: "woods.white-oak.boards[" + strconv.Itoa(i+1) + "]", Do: "insert", Value: `{thickness: 27 mm, width: 6-1/2 in, length: "8 ft"}`}}); err != nil {
			t.Fatal(err)
		}
	}
	if s, err = shop.Decode("", bytes.NewReader(text)); err != nil {
		t.Fatal(err)
	}
	all := YardPage(t.Context(), withShop(t, p, s)).Boards[1]
	if len(all.Short) != 0 || !strings.HasPrefix(all.Says, "All rough parts come out of") {
		t.Errorf("after enough boards: %q, short %q", all.Says, all.Short)
	}
}

// A panel that a slightly narrower part would save is said, and where one
// field of the piece does it that field is offered, and saves the panel.
func TestYardOffersTheSavingField(t *testing.T) {
	mm := unit.Millimetre
	p := demo(t, "record-cabinet", "")
	// Two boards beside each other on a sheet of 1200 with a kerf between them
	// may be 598.9 wide at most, by a saw that takes 2.2.
	p.Shop.Panels["shelf"] = shop.Panel{Kind: "mdf", Name: "shelf board", Thickness: 19 * mm, Sheets: []shop.Sheet{{Length: 2400 * mm, Width: 1200 * mm}}}
	p.Piece.Loose = []piece.Loose{{Name: "board", Count: 2, Length: 2000 * mm, Width: unit.MM(599.5), Material: "shelf", Grain: "length"}}
	at := func() YardStuff {
		for _, s := range YardPage(t.Context(), replanned(t, p)).Panels {
			if s.Key == "shelf" {
				return s
			}
		}
		t.Fatal("no panels of shelf board")
		return YardStuff{}
	}
	s := at()
	if s.Saving == nil || len(s.Saving.Do) != 1 || s.Saving.Do[0].Path != "loose[0].width" || s.Saving.Do[0].Value != "598.9 mm" {
		t.Fatalf("saving %+v", s.Saving)
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for _, x := range YardPage(gone, replanned(t, p)).Panels {
		if x.Saving != nil && len(x.Saving.Do) > 0 {
			t.Error("a field is sought for a page that is gone")
		}
	}
	p.Piece.Loose[0].Width = unit.MM(598.9)
	if after := at(); len(after.Layouts) != 1 || s.Layouts[0].N == 0 || !strings.Contains(after.Says, "1 panel;") {
		t.Errorf("after: %s", after.Says)
	}
}

func withShop(t testing.TB, p plan.Plan, s shop.Shop) plan.Plan {
	t.Helper()
	p.Shop = s
	return replanned(t, p)
}

func replanned(t testing.TB, p plan.Plan) plan.Plan {
	t.Helper()
	out, err := plan.Make(context.Background(), p.Piece, p.Shop, p.Record, plan.Options{Cutting: cutting.Budget{Iterations: 300}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestPapersPageCountsThrough(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	set, err := papers.Set(p, papers.Options{Paper: "letter", Units: "in"})
	if err != nil {
		t.Fatal(err)
	}
	page := PapersPage(set, true, papers.Options{Paper: "letter", Units: "in"})
	n := 0
	for _, l := range page.Papers {
		for _, s := range l.Pages {
			if n++; s.Number != n {
				t.Errorf("page %d is numbered %d", n, s.Number)
			}
		}
	}
	if n != page.Pages || !strings.Contains(page.Answer, "of Letter for 7 places of work") {
		t.Errorf("%d pages, %q", n, page.Answer)
	}
	for _, f := range PaperFiles(p, []string{"papers.pdf", "drawings/section-a.svg", "outlines/part-a.dxf", "outlines/layout-oak-18-1.dxf", "plan.json"}) {
		if f.Says == "" || f.Says == f.Name {
			t.Errorf("%s is not said in words", f.Name)
		}
	}
}

// Every drawing for a screen is XML without style attributes or colours of its
// own, and names the parts and sizes that can be picked.
func TestDrawingsForScreens(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest"} {
		p := demo(t, name, "")
		for _, view := range Views {
			d := DrawingOf{View: view, Part: p.Model.Parts[0].Letter, Bend: -1, Stock: p.Panels[0].Key, Layout: 1, Wide: 700, High: 500}
			text, err := Drawing(p, d)
			if view == "kerfs" && len(p.Model.Parts[0].Kerfs) == 0 {
				if err == nil {
					t.Errorf("%s: kerfs of a part without kerfs were drawn", name)
				}
				continue
			}
			if err != nil {
				t.Errorf("%s %s: %v", name, view, err)
				continue
			}
			parts, sizes := readDrawing(t, name+" "+view, text)
			if view != "part" && view != "kerfs" && len(parts) == 0 {
				t.Errorf("%s %s: no part can be picked", name, view)
			}
			if view == "front" && name == "record-cabinet" && sizes["case.width"] != "1500 mm" {
				t.Errorf("%s %s: sizes %v", name, view, sizes)
			}
		}
		if _, err := Drawing(p, DrawingOf{View: "section-x", At: "half way"}); err == nil {
			t.Error("a section at no place was drawn")
		}
		if _, err := Drawing(p, DrawingOf{View: "inside out"}); err == nil {
			t.Error("a view that there is not was drawn")
		}
	}
}

// A room on the screen is kept, and a narrow one gets a drawing all the same.
func TestDrawingKeepsItsRoom(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	for _, room := range [][2]float64{{1200, 800}, {700, 500}, {350, 500}} {
		text, err := Drawing(p, DrawingOf{View: "front", Wide: room[0], High: room[1]})
		if err != nil {
			t.Fatal(err)
		}
		var svg struct {
			Width  float64 `xml:"width,attr"`
			Height float64 `xml:"height,attr"`
		}
		if err := xml.Unmarshal([]byte(text), &svg); err != nil {
			t.Fatal(err)
		}
		if svg.Width < 0.3*room[0] || room[0] > 600 && (svg.Width > room[0]+1 || svg.Height > room[1]+1) {
			t.Errorf("in %v it is %v by %v", room, svg.Width, svg.Height)
		}
	}
}

func readDrawing(t *testing.T, what, text string) (parts map[string]bool, sizes map[string]string) {
	t.Helper()
	parts, sizes = map[string]bool{}, map[string]string{}
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return parts, sizes
		}
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
			if a.Name.Local == "style" || strings.HasPrefix(a.Value, "#") {
				t.Errorf("%s: %s=%q", what, a.Name.Local, a.Value)
			}
		}
		if p := at["data-part"]; p != "" {
			parts[p] = true
		}
		if p := at["data-path"]; p != "" {
			sizes[p] = at["data-value"]
			if at["aria-label"] != "" && !strings.HasPrefix(at["aria-label"], drawing.Words(p)) || at["role"] != "button" || at["tabindex"] != "0" {
				t.Errorf("%s: %s is said as %q", what, p, at["aria-label"])
			}
		}
	}
}
