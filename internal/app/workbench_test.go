package app

import (
	"context"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/store"
	"casewright/internal/store/sqlite"
)

func bench(t *testing.T) (*Workbench, context.Context) {
	t.Helper()
	ctx := t.Context()
	clock := time.Date(2027, 3, 1, 8, 0, 0, 0, time.UTC)
	now := func() time.Time { clock = clock.Add(time.Second); return clock }
	s, err := sqlite.Open(ctx, t.TempDir(), now)
	if err != nil {
		t.Fatal(err)
	}
	w := NewWorkbench(s, now)
	t.Cleanup(func() { w.Close(); s.Close() })
	if err := w.PutDemos(ctx); err != nil {
		t.Fatal(err)
	}
	return w, ctx
}

func demoPiece(t *testing.T, w *Workbench, word string) store.Doc {
	t.Helper()
	ds, err := w.Store.Docs(t.Context(), store.Piece)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		if strings.Contains(d.Name, word) {
			return d
		}
	}
	t.Fatalf("no piece named %q", word)
	return store.Doc{}
}

func set(path, value string) []document.Change {
	return []document.Change{{Path: path, Do: "set", Value: value}}
}

func TestDemosArePutInOnce(t *testing.T) {
	w, ctx := bench(t)
	if err := w.PutDemos(ctx); err != nil {
		t.Fatal(err)
	}
	ds, err := w.Store.Docs(ctx, store.Piece)
	if err != nil || len(ds) != 3 {
		t.Fatalf("%d pieces after two starts, %v; want 3", len(ds), err)
	}
	for _, d := range ds {
		if p, err := w.Plan(ctx, d.ID); err != nil || len(p.Problems) > 0 {
			t.Errorf("%s: %v %v", d.Name, err, p.Problems)
		}
	}
}

// A text with problems is kept as typed; the plan is the last one that could
// be made, and says why.
func TestLastPlanStaysInView(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "record cabinet")
	good, err := w.Plan(ctx, d.ID)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct{ path, value, says string }{
		{"case.width", "wide", "case.width"}, // cannot be read
		{"case.width", "60", "do not fit"},   // can be read, but the corners do not fit
	} {
		d, err = w.Edit(ctx, d.ID, Change{Base: d.Version, Edit: "edit-000" + c.value, Changes: set(c.path, c.value)})
		if err != nil {
			t.Fatal(i, err)
		}
		if !strings.Contains(string(d.Text), "width: "+c.value) {
			t.Errorf("%q is not kept in the text", c.value)
		}
		p, err := w.Plan(ctx, d.ID)
		if err != nil {
			t.Fatal(err)
		}
		if p.Plan.Revision != good.Plan.Revision {
			t.Errorf("%q: the plan in view is %s, want the last good one %s", c.value, p.Plan.Revision, good.Plan.Revision)
		}
		if len(p.Problems) == 0 || !strings.Contains(p.Problems[0].Says, c.says) || p.Problems[0].Line == 0 {
			t.Errorf("%q: problems %+v", c.value, p.Problems)
		}
	}
	for range 2 {
		if d, err = w.Undo(ctx, d.ID, d.Version, ""); err != nil {
			t.Fatal(err)
		}
	}
	if p, err := w.Plan(ctx, d.ID); err != nil || len(p.Problems) > 0 || p.Plan.Revision != good.Plan.Revision {
		t.Errorf("after undo: %v %v", err, p.Problems)
	}
}

// A shop or a record that cannot be used must not close the history of a
// piece, whose other pages go on with the last one that could be.
func TestRevisionInAShopWithProblems(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "chest")
	for _, id := range []string{d.Shop, d.Record} {
		doc, err := w.Store.Doc(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		text := append([]byte("nonsense: 3\n"), doc.Text...)
		if _, err := w.Edit(ctx, id, Change{Base: doc.Version, Edit: "edit-" + id, Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	now, err := w.Plan(ctx, d.ID)
	if err != nil || len(now.Problems) != 2 {
		t.Fatalf("%v, %+v", err, now.Problems)
	}
	at, err := w.PlanAt(ctx, d.ID, d.Head)
	if err != nil {
		t.Fatal(err)
	}
	if at.Revision != now.Plan.Revision {
		t.Errorf("the revision that stands is planned as %s, on the other pages as %s", at.Revision, now.Plan.Revision)
	}
}

func TestStaleEditIsTold(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "chest")
	mine := Change{Base: d.Version, Edit: "edit-mine", Changes: set("count", "2")}
	now, err := w.Edit(ctx, d.ID, mine)
	if err != nil {
		t.Fatal(err)
	}
	again, err := w.Edit(ctx, d.ID, mine)
	if err != nil || again.Version != now.Version {
		t.Errorf("the same edit sent twice: version %d, %v; want %d", again.Version, err, now.Version)
	}
	var stale *store.StaleError
	if _, err = w.Edit(ctx, d.ID, Change{Base: d.Version, Edit: "edit-other", Changes: set("count", "3")}); !errors.As(err, &stale) {
		t.Fatalf("an edit of an older version gave %v", err)
	}
	if stale.Now.Version != now.Version {
		t.Errorf("told of version %d, want %d", stale.Now.Version, now.Version)
	}
}

// Many pages asking at once make a plan once; the full search is announced.
func TestPlansAreMadeOnceAndSettle(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "clinic")
	events, leave := w.Listen()
	defer leave()
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			if _, err := w.Plan(ctx, d.ID); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for {
		select {
		case e := <-events:
			if e.Kind != "plan" || e.Doc != d.ID {
				continue
			}
			if p, err := w.Plan(ctx, d.ID); err != nil || !p.Settled {
				t.Errorf("after the event the plan is settled: %v, %v", p.Settled, err)
			}
			return
		case <-time.After(time.Minute):
			t.Fatal("no event told that the plan is settled")
		}
	}
}

func TestCopyAndShop(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "record cabinet")
	c, err := w.Copy(ctx, d.ID, "")
	if err != nil {
		t.Fatal(err)
	}
	if c.Name != "Low record cabinet, copy" || c.Shop != d.Shop || c.Record == d.Record {
		t.Errorf("the copy is %q in shop %s with record %s", c.Name, c.Shop, c.Record)
	}
	if !strings.Contains(string(c.Text), "# three of 464") {
		t.Error("the copy has lost the maker's remarks")
	}
	n, err := w.AddPiece(ctx, "", d.Text, "", "brought in")
	if err != nil || n.Shop != d.Shop {
		t.Errorf("a piece brought in goes to shop %s, want the one that has its stock, %s (%v)", n.Shop, d.Shop, err)
	}
}

// Files on disk and documents in the workbench with the same text have papers
// of the same mark, with a record begun or with none.
func TestOneRevisionBehindBothDoors(t *testing.T) {
	w, ctx := bench(t)
	for word, file := range map[string]string{"record": "record-cabinet", "clinic": "clinic-cabinet", "chest": "chest"} {
		planned, err := w.Plan(ctx, demoPiece(t, w, word).ID)
		if err != nil {
			t.Fatal(err)
		}
		job, err := Load(Sources{Piece: "../../demo/" + file + ".yaml"})
		if err != nil {
			t.Fatal(err)
		}
		read, err := job.Plan(ctx, plan.Options{Cutting: cutting.Budget{Iterations: 1}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if planned.Plan.Revision != read.Revision {
			t.Errorf("%s: revision %s in the workbench, %s from files", file, planned.Plan.Revision, read.Revision)
		}
	}
}
