package app

import (
	"context"
	"testing"
	"time"

	"casewright/internal/cutting"
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
