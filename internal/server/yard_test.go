package server

import (
	"context"
	"errors"
	"testing"

	"casewright/internal/app"
	"casewright/internal/document"
	"casewright/internal/station"
)

// The page of a plan is worked out once for all who look at it; what one left
// undone, the next does.
func TestYardIsWorkedOutOnce(t *testing.T) {
	var v yardView
	made := 0
	work := func() station.Yard { made++; return station.Yard{Answer: "all"} }
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := v.page(gone, work); !errors.Is(err, context.Canceled) {
		t.Errorf("for somebody who is gone: %v", err)
	}
	for range 3 {
		if page, err := v.page(t.Context(), work); err != nil || page.Answer != "all" {
			t.Errorf("%+v, %v", page, err)
		}
	}
	if made != 2 {
		t.Errorf("worked out %d times, want twice", made)
	}
}

// The server keeps the page by its plan: looked at again it is not sought
// anew, and an edit makes another.
func TestYardIsKeptByPlan(t *testing.T) {
	b, id := withPiece(t)
	if _, err := b.bench.SettledPlan(t.Context(), id); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		view[YardReply](t, b, ask{path: "/api/pieces/" + id + "/yard"})
	}
	if n := b.yards.order.Len(); n != 1 {
		t.Errorf("%d pages are kept of one plan", n)
	}
	d, err := b.bench.Store.Doc(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.bench.Edit(t.Context(), id, app.Change{Base: d.Version, Edit: "edit-wider", Changes: []document.Change{{Path: "case.width", Do: "set", Value: "790"}}}); err != nil {
		t.Fatal(err)
	}
	view[YardReply](t, b, ask{path: "/api/pieces/" + id + "/yard"})
	if n := b.yards.order.Len(); n != 2 {
		t.Errorf("%d pages are kept of two plans", n)
	}
}
