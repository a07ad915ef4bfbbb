package server

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// A tick sent again counts once; the later one of a place counts, and the
// page of the saw has it counted down.
func TestTicksCountOnce(t *testing.T) {
	b, id := withPiece(t)
	type cuts struct {
		Answer string
		Runs   []struct {
			Settings []struct {
				Cuts []struct {
					Place       string
					Times, Done int
				}
			}
		}
	}
	path := "/api/pieces/" + id
	saw := view[cuts](t, b, ask{path: path + "/saw"})
	if len(saw.Runs) == 0 {
		t.Fatal("the piece has no settings")
	}
	cut := saw.Runs[0].Settings[0].Cuts[0]
	type said struct{ Ticks []TickBody }
	tick := func(id string, done bool, second int) string {
		return fmt.Sprintf(`{"id": %q, "place": %q, "done": %t, "at": "2027-03-01T08:00:%02dZ"}`, id, cut.Place, done, second)
	}
	send := func(ticks ...string) []TickBody {
		return view[said](t, b, ask{method: "POST", path: path + "/ticks", body: "[" + strings.Join(ticks, ",") + "]"}).Ticks
	}
	for range 2 { // the second time as after a lost answer
		if got := send(tick("tick-one", true, 1)); len(got) != 1 || !got[0].Done {
			t.Fatalf("%+v", got)
		}
	}
	if got := view[cuts](t, b, ask{path: path + "/saw"}).Runs[0].Settings[0].Cuts[0].Done; got != cut.Times {
		t.Errorf("%d of %d are done", got, cut.Times)
	}
	// An earlier one that comes in late does not count; a later one does.
	if got := send(tick("tick-two", false, 0)); !got[0].Done {
		t.Errorf("an earlier tick counts: %+v", got)
	}
	if got := send(tick("tick-three", false, 9), tick("tick-one", true, 1)); got[0].Done || got[0].ID != "tick-three" {
		t.Errorf("the later tick does not count: %+v", got)
	}
	if got := view[cuts](t, b, ask{path: path + "/saw"}); got.Runs[0].Settings[0].Cuts[0].Done != 0 || got.Answer != saw.Answer {
		t.Errorf("taken back, yet: %s", got.Answer)
	}
}

// Ticks of what is no piece are refused, and every place after the saw has a
// page.
func TestPlacesOfAPiece(t *testing.T) {
	b, id := withPiece(t)
	doc := view[Doc](t, b, ask{path: "/api/docs/" + id})
	for _, wrong := range []string{"nothere", doc.Record} {
		if w := b.do(ask{method: "POST", path: "/api/pieces/" + wrong + "/ticks", body: "[]"}); w.Code != http.StatusNotFound {
			t.Errorf("ticks of %s are answered %d", wrong, w.Code)
		}
	}
	for _, place := range []string{"bench", "glue-up", "finish", "delivery"} {
		got := view[struct{ Answer, Revision string }](t, b, ask{path: "/api/pieces/" + id + "/" + place})
		if got.Answer == "" || got.Revision == "" {
			t.Errorf("%s: %+v", place, got)
		}
	}
}
