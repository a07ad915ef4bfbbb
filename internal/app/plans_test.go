package app

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/plan"
)

// working is a set of plans whose work is given.
func working(t *testing.T, work func(context.Context, inputs, cutting.Budget) (plan.Plan, error)) *plans {
	t.Helper()
	ps := &plans{work: work}
	ps.start()
	t.Cleanup(ps.stop)
	return ps
}

func soon[T any](t *testing.T, ch <-chan T, what string) T {
	t.Helper()
	select {
	case v := <-ch:
		return v
	case <-time.After(10 * time.Second):
		t.Fatal(what)
		panic("not reached")
	}
}

// An edit that is taken back while the full search runs: the search of the
// text that stands must be done in the end, for a page waits for its event.
func TestUndoDuringSearchSettles(t *testing.T) {
	began, hold := make(chan string), make(chan struct{})
	ps := working(t, func(ctx context.Context, in inputs, _ cutting.Budget) (plan.Plan, error) {
		began <- string(in.piece)
		select {
		case <-hold:
		case <-ctx.Done():
			hold <- struct{}{} // it ends, but not before it is let
		}
		return plan.Plan{}, nil
	})
	told := make(chan string, 8)
	settle := func(text string) {
		in := inputs{piece: []byte(text)}
		ps.settle("chest", keyOf(in.piece), in, func() { told <- text })
	}
	settle("before")
	if got := soon(t, began, "no search begins"); got != "before" {
		t.Fatalf("began with %q", got)
	}
	settle("after") // an edit puts an end to it
	settle("before")
	soon(t, hold, "the search of the older text is not told to end")
	for {
		select {
		case got := <-began:
			close(hold)
			if got != "before" {
				t.Errorf("went on with %q, which nobody wants any more", got)
			}
		case got := <-told:
			if got != "before" {
				t.Errorf("told of %q", got)
			}
			return
		case <-time.After(10 * time.Second):
			t.Fatal("the text that stands is never settled")
		}
	}
}

// The search that runs is the one wanted, whatever was wanted in between.
func TestSearchWantedAgainRunsOnce(t *testing.T) {
	ps := &plans{wanted: map[string]search{"chest": {key: keyOf([]byte("after"))}}}
	ps.now.piece, ps.now.key, ps.now.cancel = "chest", keyOf([]byte("before")), func() { t.Error("it was told to end") }
	ps.settle("chest", keyOf([]byte("before")), inputs{}, nil)
	if len(ps.wanted) > 0 {
		t.Error("a text that is out of date is still wanted")
	}
}

// A fault of the program in one plan ends neither the program nor the work on
// other pieces: the turn is given back, who waits is told, the stack logged.
func TestFaultInAPlan(t *testing.T) {
	ps := working(t, func(_ context.Context, in inputs, _ cutting.Budget) (plan.Plan, error) {
		if string(in.piece) == "bad" {
			panic("index out of range")
		}
		return plan.Plan{}, nil
	})
	faults := make(chan string, 99)
	ps.fault = func(what any, stack []byte) { faults <- fmt.Sprint(what, " ", string(stack)) }
	in := inputs{piece: []byte("bad")}
	for range runtime.GOMAXPROCS(0) + 1 { // one turn more than there are
		ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
		_, _, err := ps.get(ctx, in.key(), in, false)
		cancel()
		var probs document.Problems
		if !errors.As(err, &probs) || !strings.Contains(probs[0].Says, "this piece cannot be worked out") {
			t.Fatalf("it gives %v", err)
		}
		in.shop = append(in.shop, '.')
	}
	if f := soon(t, faults, "nothing is logged"); !strings.Contains(f, "index out of range") || !strings.Contains(f, "TestFaultInAPlan") {
		t.Errorf("logged %.200s", f)
	}
	told := make(chan string)
	ps.settle("bad", in.key(), in, func() { told <- "bad" })
	good := inputs{piece: []byte("good")}
	ps.settle("good", good.key(), good, func() { told <- "good" })
	if got := soon(t, told, "the search behind the pages has ended"); got != "good" {
		t.Errorf("told of %s", got)
	}
}

// The plan before the fault stays in view, and the page says why.
func TestFaultKeepsTheLastPlan(t *testing.T) {
	w, ctx := bench(t)
	d := demoPiece(t, w, "chest")
	good, err := w.Plan(ctx, d.ID)
	if err != nil {
		t.Fatal(err)
	}
	faulty := &Workbench{Store: w.Store, Now: w.Now}
	faulty.plans.work = func(ctx context.Context, in inputs, b cutting.Budget) (plan.Plan, error) {
		if strings.Contains(string(in.piece), "count: 7") {
			panic("seven")
		}
		return in.make(ctx, b)
	}
	faulty.plans.start()
	t.Cleanup(faulty.Close)
	d, err = w.Edit(ctx, d.ID, Change{Base: d.Version, Edit: "edit-seven", Changes: set("count", "7")})
	if err != nil {
		t.Fatal(err)
	}
	p, err := faulty.Plan(ctx, d.ID)
	if err != nil {
		t.Fatal(err)
	}
	if p.Plan.Revision != good.Plan.Revision || len(p.Problems) != 1 || !strings.Contains(p.Problems[0].Says, "cannot be worked out") {
		t.Errorf("plan %s, want %s; problems %+v", p.Plan.Revision, good.Plan.Revision, p.Problems)
	}
}
