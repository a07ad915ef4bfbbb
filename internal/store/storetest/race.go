package storetest

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"casewright/internal/store"
)

// together runs f in n goroutines that start at one time.
func together(n int, f func(i int)) {
	var wg sync.WaitGroup
	start := make(chan struct{})
	for i := range n {
		wg.Go(func() {
			<-start
			f(i)
		})
	}
	close(start)
	wg.Wait()
}

// race has many change a document from the same version, round after round.
func race(t *testing.T, s store.Store) {
	const rounds, clients = 10, 12
	d := create(t, s, "p", "start")
	for round := range rounds {
		docs, errs := make([]store.Doc, clients), make([]error, clients)
		together(clients, func(i int) {
			docs[i], errs[i] = s.Put(ctx, "p", "Chest", d.Version, store.Revision{
				Text: fmt.Append(nil, round, "/", i), Edit: fmt.Sprint(round, "/", i),
			})
		})
		won := -1
		for i, err := range errs {
			var se *store.StaleError
			switch {
			case err == nil && won < 0:
				won = i
			case err == nil:
				t.Fatalf("in round %d both %d and %d won", round, won, i)
			case !errors.As(err, &se):
				t.Fatalf("in round %d: %v", round, err)
			}
		}
		if won < 0 {
			t.Fatalf("in round %d nobody won", round)
		}
		want := fmt.Sprint(round, "/", won)
		for i, err := range errs {
			var se *store.StaleError
			if errors.As(err, &se) && string(se.Now.Text) != want {
				t.Errorf("%d was shown %q, but %q won", i, se.Now.Text, want)
			}
		}
		d = must2(t)(s.Doc(ctx, "p"))
		same(t, "stands", d, docs[won])
		if string(d.Text) != want {
			t.Fatalf("in round %d %q stands, but %q won", round, d.Text, want)
		}
	}
	h, err := s.History(ctx, "p", 0, 1000)
	done(t, err)
	if len(h) != rounds+1 {
		t.Errorf("%d revisions after %d rounds", len(h), rounds)
	}
}

func raceOnOneEdit(t *testing.T, s store.Store) {
	d := create(t, s, "p", "start")
	errs := make([]error, 12)
	together(len(errs), func(i int) {
		_, errs[i] = s.Put(ctx, "p", "Chest", d.Version, store.Revision{Text: []byte("b"), Edit: "one"})
	})
	for _, err := range errs {
		done(t, err)
	}
	if d = must2(t)(s.Doc(ctx, "p")); d.Head != 2 || d.Version != 2 {
		t.Errorf("head %d, version %d after one edit", d.Head, d.Version)
	}
}

func raceOfTicks(t *testing.T, s store.Store) {
	const clients, each = 8, 5
	errs := make([]error, clients)
	together(clients, func(i int) {
		for j := range each {
			// All send all, as phones do that were out of reach together.
			place := fmt.Sprint("saw/", (i+j)%each)
			if err := s.Tick(ctx, store.Tick{ID: place, Piece: "p", Place: place, Done: true, At: at(j)}); err != nil {
				errs[i] = err
			}
			if _, err := s.Ticks(ctx, "p"); err != nil {
				errs[i] = err
			}
		}
	})
	for _, err := range errs {
		done(t, err)
	}
	got, err := s.Ticks(ctx, "p")
	done(t, err)
	if len(got) != each {
		t.Errorf("%d places ticked, want %d", len(got), each)
	}
}
