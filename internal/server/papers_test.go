package server

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"casewright/internal/app"
	"casewright/internal/cutting"
	"casewright/internal/papers"
	"casewright/internal/piece"
	"casewright/internal/station"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// withPiece is a server with one small piece, and its id.
func withPiece(t *testing.T) (*bench, string) {
	t.Helper()
	b := newBench(t, false)
	text, err := piece.New("shelf", unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	d, err := b.bench.AddPiece(context.Background(), "Wall shelf", text, "", "begun")
	if err != nil {
		t.Fatal(err)
	}
	return b, d.ID
}

func TestPapersOfAPiece(t *testing.T) {
	b, id := withPiece(t)
	at := "/api/pieces/" + id
	list := view[PapersReply](t, b, ask{path: at + "/papers?paper=letter&units=in"})
	if list.Pages < 5 || list.Paper != "letter" || list.Units != "in" {
		t.Fatalf("%d pages, %s, %s", list.Pages, list.Paper, list.Units)
	}
	get := func(path string) (string, http.Header) {
		t.Helper()
		w := b.do(ask{path: at + path})
		if w.Code != http.StatusOK {
			t.Fatalf("%s answered %d: %s", path, w.Code, w.Body)
		}
		return w.Body.String(), w.Header()
	}
	svg, head := get("/papers/page/1.svg?paper=letter&units=in")
	if !strings.HasPrefix(svg, "<svg") || head.Get("Content-Type") != "image/svg+xml" {
		t.Errorf("page 1 is %.60q of %s", svg, head.Get("Content-Type"))
	}
	pdf, head := get("/files/papers.pdf?paper=letter&units=in")
	if n := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAllString(pdf, -1)); !strings.HasPrefix(pdf, "%PDF-") || n != list.Pages {
		t.Errorf("the PDF has %d pages, the list %d", n, list.Pages)
	}
	if d := head.Get("Content-Disposition"); d != "attachment; filename=wall-shelf-papers.pdf" {
		t.Errorf("kept as %s", d)
	}
	if _, head = get("/files/papers.pdf?place=saw&show=true"); !strings.HasPrefix(head.Get("Content-Disposition"), "inline") {
		t.Errorf("shown as %s", head.Get("Content-Disposition"))
	}
	// Every file that is listed is there, and all of them are in the zip.
	files := view[struct {
		Files []station.PaperFile `json:"files"`
	}](t, b, ask{path: at + "/files"})
	packed, _ := get("/files/all.zip")
	z, err := zip.NewReader(bytes.NewReader([]byte(packed)), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	if len(z.File) != len(files.Files) {
		t.Errorf("%d files in the zip, %d in the list", len(z.File), len(files.Files))
	}
	for i, f := range files.Files {
		if text, _ := get("/files/" + f.Name); text == "" || z.File[i].Name != f.Name || z.File[i].UncompressedSize64 != uint64(len(text)) {
			t.Errorf("%s differs between zip and list", f.Name)
		}
	}
}

func TestPapersThatAreNotThere(t *testing.T) {
	b, id := withPiece(t)
	yard := view[YardReply](t, b, ask{path: "/api/pieces/" + id + "/yard"})
	stuff := append(yard.Panels, yard.Boards...)[0]
	stock := url.QueryEscape(stuff.Key)
	// One more than are listed may have been there a moment ago.
	if w := b.do(ask{path: fmt.Sprintf("/api/pieces/%s/drawing/layout?stock=%s&n=%d", id, stock, len(stuff.Layouts)+1)}); w.Code != http.StatusOK {
		t.Errorf("a layout that is no more answers %d", w.Code)
	}
	for path, code := range map[string]int{
		"/papers/page/999.svg":                        http.StatusNotFound,
		"/papers/page/0.svg":                          http.StatusNotFound,
		"/papers/page/one.svg":                        http.StatusUnprocessableEntity,
		"/papers?paper=a3":                            http.StatusUnprocessableEntity,
		"/files/secrets.txt":                          http.StatusNotFound,
		"/files/drawings/x.svg":                       http.StatusNotFound,
		"/files/etc/passwd":                           http.StatusUnprocessableEntity,
		"/files/papers.pdf?place=at":                  http.StatusUnprocessableEntity,
		"/drawing/section-x?at=half":                  http.StatusUnprocessableEntity,
		"/drawing/inside-out":                         http.StatusUnprocessableEntity,
		"/drawing/part?letter=ZZ":                     http.StatusUnprocessableEntity,
		"/drawing/layout?stock=" + stock + "&n=-1":    http.StatusUnprocessableEntity,
		"/drawing/layout?stock=" + stock + "&n=0":     http.StatusUnprocessableEntity,
		"/drawing/layout?stock=" + stock + "&n=99999": http.StatusUnprocessableEntity,
		"/drawing/layout?stock=cheese&n=1":            http.StatusUnprocessableEntity,
		"/drawing/layout?n=-1":                        http.StatusUnprocessableEntity,
		"/drawing/layout?n=99999":                     http.StatusUnprocessableEntity,
	} {
		w := b.do(ask{path: "/api/pieces/" + id + path})
		if w.Code != code || !strings.Contains(w.Header().Get("Content-Type"), "problem+json") {
			t.Errorf("%s answered %d as %s: %.200s", path, w.Code, w.Header().Get("Content-Type"), w.Body)
		}
	}
	if w := b.do(ask{path: "/api/pieces/nothere/papers"}); w.Code != http.StatusNotFound {
		t.Errorf("the papers of no piece: %d", w.Code)
	}
}

func TestDrawingOfAPiece(t *testing.T) {
	b, id := withPiece(t)
	w := b.do(ask{path: "/api/pieces/" + id + "/drawing/front?w=500&h=400"})
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "image/svg+xml" || !strings.Contains(w.Body.String(), `data-path="case.width" data-value="800 mm"`) {
		t.Errorf("%d %s: %.400s", w.Code, w.Header().Get("Content-Type"), w.Body)
	}
	if w := b.do(ask{path: "/api/pieces/" + id + "/yard"}); w.Code != http.StatusOK || strings.Contains(w.Body.String(), ":null") {
		t.Errorf("yard: %d %.400s", w.Code, w.Body)
	}
}

// Sets are kept as long as they are in use, and never more than there is room
// for.
func TestSetsAreKept(t *testing.T) {
	var c recent[setKey, *paperSet]
	made := 0
	get := func(date string) *paperSet {
		return c.get(setKey{opt: papers.Options{Date: date}}, keptSets, func() *paperSet { made++; return &paperSet{} })
	}
	first := get("0")
	for i := range 3 * keptSets {
		get(string(rune('a' + i)))
		if get("0") != first {
			t.Fatal("a set in use was made anew")
		}
	}
	if made != 1+3*keptSets || c.order.Len() != keptSets || len(c.known) != keptSets {
		t.Errorf("made %d, kept %d, known %d", made, c.order.Len(), len(c.known))
	}
	get("a")
	if made != 2+3*keptSets {
		t.Error("a set long out of use was still there")
	}
}

// A fault while a set is composed is told each time: the set must not pass
// for one without pages.
func TestFaultySetIsNotEmpty(t *testing.T) {
	set := &paperSet{opt: papers.Options{Paper: "a4", Units: "mm"}}
	func() {
		defer func() {
			if recover() == nil {
				t.Fatal("a layout on a sheet that is not there can be composed; this needs another fault")
			}
		}()
		var p app.Planned
		p.Plan.Panels = []yard.Panel{{Result: cutting.Result{Layouts: []cutting.Layout{{Sheet: 9}}}}}
		_ = set.compose(p)
	}()
	if err := set.compose(app.Planned{}); err == nil || !strings.Contains(err.Error(), "could not be put together") {
		t.Errorf("the second time it gives %v and %d pages", err, len(set.sheets))
	}
}
