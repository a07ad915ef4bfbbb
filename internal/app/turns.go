package app

import (
	"context"
	"slices"
	"sync"
)

// turns lets so many work at one time and the others wait, first come first
// served. Plans worked out side by side on one core would all be late.
type turns struct {
	mu      sync.Mutex
	free    int
	waiting []chan struct{} // each is closed when its turn has come
	quiet   chan struct{}   // closed when a place is free and nobody waits; nil: nobody asks
}

// take waits for a turn, which ends with give.
func (t *turns) take(ctx context.Context) error {
	t.mu.Lock()
	if t.free > 0 {
		t.free--
		t.mu.Unlock()
		return nil
	}
	mine := make(chan struct{})
	t.waiting = append(t.waiting, mine)
	t.mu.Unlock()
	select {
	case <-mine:
		return nil
	case <-ctx.Done():
	}
	t.mu.Lock()
	i := slices.Index(t.waiting, mine)
	if i >= 0 {
		t.waiting = slices.Delete(t.waiting, i, i+1)
	}
	t.mu.Unlock()
	if i < 0 { // the turn came at the same moment
		t.give()
	}
	return ctx.Err()
}

// give ends a turn.
func (t *turns) give() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.waiting) > 0 {
		close(t.waiting[0])
		t.waiting = slices.Delete(t.waiting, 0, 1)
		return
	}
	t.free++
	if t.quiet != nil {
		close(t.quiet)
		t.quiet = nil
	}
}

// idle waits until there is a place that nobody waits for.
func (t *turns) idle(ctx context.Context) error {
	t.mu.Lock()
	if t.free > 0 {
		t.mu.Unlock()
		return ctx.Err()
	}
	if t.quiet == nil {
		t.quiet = make(chan struct{})
	}
	quiet := t.quiet
	t.mu.Unlock()
	select {
	case <-quiet:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
