package server

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"casewright/internal/station"
)

type cardBody struct {
	Stand
	station.Card
}

type historyBody struct {
	Revisions []Revision
	More      bool
}

// A piece has a card and a picture; one whose text cannot be planned has a
// card that says so.
func TestCardAndPicture(t *testing.T) {
	b, id := withPiece(t)
	card := view[cardBody](t, b, ask{path: "/api/pieces/" + id + "/card"})
	if !card.Drawn || card.Size.Own == "" || card.Size.Other == "" || card.Count != 1 {
		t.Errorf("%+v", card)
	}
	pic := b.do(ask{path: "/api/pieces/" + id + "/picture.svg?w=200&h=150"})
	if pic.Code != http.StatusOK || !strings.HasPrefix(pic.Body.String(), "<svg") || pic.Header().Get("Content-Type") != "image/svg+xml" {
		t.Errorf("%d, %.40s", pic.Code, pic.Body)
	}
	broken := view[Doc](t, b, ask{method: "POST", path: "/api/bring", body: `{"text": "format: 1\nname: Bench\ncount: 4\nunits: mm\ncase: {kind: box}\n"}`})
	if broken.Kind != "piece" || len(broken.Problems) == 0 || broken.Problems[0].Line == 0 {
		t.Fatalf("%+v", broken)
	}
	card = view[cardBody](t, b, ask{path: "/api/pieces/" + broken.ID + "/card"})
	if card.Drawn || card.Name != "Bench" || card.Count != 4 || len(card.Stand.Problems) == 0 || !strings.Contains(card.Unsettled, "to mend") {
		t.Errorf("%+v", card)
	}
	if w := b.do(ask{method: "POST", path: "/api/bring", body: `{"text": "format: 1\nunits: mm\ncut: []\n"}`}); w.Code != http.StatusBadRequest {
		t.Errorf("a record of no piece is answered %d", w.Code)
	}
}

// Every edit is in the history, can be seen, compared and gone back to.
func TestHistoryAndChanges(t *testing.T) {
	b, id := withPiece(t)
	doc := "/api/docs/" + id
	edit := func(version int, width string) Doc {
		return view[Doc](t, b, ask{method: "PATCH", path: doc, body: fmt.Sprintf(`{"base": %d, "edit": "edit-%[2]s", "changes": [{"path": "case.width", "do": "set", "value": "%[2]s"}]}`, version, width)})
	}
	d := view[Doc](t, b, ask{path: doc})
	d = edit(int(d.Version), "810")
	d = edit(int(d.Version), "820")
	h := view[historyBody](t, b, ask{path: doc + "/history?most=2"})
	if len(h.Revisions) != 2 || !h.More || h.Revisions[0].Number != 3 || !h.Revisions[0].Stands || h.Revisions[0].Says != "case.width 810 → 820 mm" || h.Revisions[0].Device != "this computer" {
		t.Errorf("%+v", h)
	}
	first := view[Revision](t, b, ask{path: doc + "/revisions/1"})
	if first.Text == "" || first.Stands {
		t.Errorf("%+v", first)
	}
	between := view[struct{ Fields []ChangedField }](t, b, ask{path: doc + "/between?from=2&to=3"})
	if len(between.Fields) != 1 || between.Fields[0] != (ChangedField{"case.width", "case width", "810", "820"}) {
		t.Errorf("%+v", between)
	}
	changes := view[ChangesReply](t, b, ask{path: "/api/pieces/" + id + "/changes"})
	if changes.From.Number != 2 || changes.To.Number != 3 || changes.Numbers < 10 || len(changes.Papers) < 3 || len(changes.Places) < 2 || len(changes.Fields) != 1 {
		t.Errorf("from %d to %d: %s", changes.From.Number, changes.To.Number, changes.Answer)
	}
	brief := view[ChangesReply](t, b, ask{path: "/api/pieces/" + id + "/changes?brief=true"})
	if brief.Line != changes.Line || len(brief.Places) != 0 {
		t.Errorf("%+v", brief)
	}
	same := view[ChangesReply](t, b, ask{path: "/api/pieces/" + id + "/changes?from=3&to=3"})
	if same.Numbers != 0 || len(same.Papers) != 0 || len(same.Places) != 0 {
		t.Errorf("a revision and itself: %s", same.Answer)
	}
	d = view[Doc](t, b, ask{method: "POST", path: doc + "/back", body: fmt.Sprintf(`{"base": %d, "edit": "back-to-1", "to": 1}`, d.Version)})
	w := b.do(ask{path: doc + "/text"})
	if d.Head != 4 || w.Body.String() != first.Text {
		t.Errorf("%+v", d)
	}
	if tag := w.Header().Get("ETag"); tag != fmt.Sprintf("%q", fmt.Sprint(d.Version)) {
		t.Errorf("the text of version %d is tagged %s: an edit of it would not know on what it was made", d.Version, tag)
	}
	if w := b.do(ask{method: "POST", path: doc + "/back", body: `{"base": 1, "edit": "back-stale", "to": 2}`}); w.Code != http.StatusConflict {
		t.Errorf("going back on an old page is answered %d", w.Code)
	}
}
